"""Ways of doing the work held beside a bid, each worked out by hand."""

from __future__ import annotations

from functools import cache

import pytest

from bids import bid_of, bidding, plugins
from darby.bid.compared.ways import cheapest_of, with_ways
from darby.bid.model import Bid, WayPrice
from darby.bid.papers import Papers
from darby.text.spans import Source

PRICES = """product,package,price
"1/2 in. drywall 4x8",sheet,12.50
"1/2 in. drywall 4x10",sheet,15.50
paint,1 gal can,34
"""
LABOR = """
Hang gypsum board: 1.5 hours per 100 sq ft.
Apply finish paint: 180 sq ft per hour by roller.
Apply finish paint: 400 sq ft per hour by spray.
"""
TERMS = """
prices = ["x"]
labor = ["y"]
methods = ["Apply finish paint by roller."]
markups = ["Overhead: 10 % of everything above."]
wages = [{ trade = "board", wage = 30 }, { trade = "coatings", wage = 30 }]
"""
LONG = """
[[bid.ways]]
name = "sheets 10 ft long"
lines = ["Gypsum board comes in 4 ft x 10 ft sheets."]
rates = ["Hang gypsum board: 1.3 hours per 100 sq ft. [our jobs]"]
"""
LAYOUT = """
[[bid.ways]]
name = "board by layout"
lines = ["Board by layout.", "Offcuts: not used again."]
"""
SPRAYED = """
[[bid.ways]]
name = "paint sprayed"
lines = ["Finish paint: 300 sq ft per gallon."]
methods = ["By spray"]
allowances = ["Masking: 40."]
"""
TWELVE = '\n[[bid.ways]]\nname = "sheets 12 ft long"\nlines = ["Gypsum board: 4 ft x 12 ft sheets."]\n'
SPEC = "SECTION 09 29 00 - GYPSUM BOARD\nA. Gypsum board: 1/2 in. thick, 4 ft x 8 ft sheets.\nSECTION 09 91 23 - PAINTING\nA. Walls: two coats finish paint.\n"
PAPERS = Papers((Source("harbor.csv", PRICES),), (Source("labor.txt", LABOR),))


@cache
def compared(ways: str, specification: str = "") -> Bid:
    made, told = with_ways(
        bid_of(TERMS + ways, prices=PRICES, labor=LABOR, specification=specification), plugins(), PAPERS
    )
    assert not told
    return made


def way(ways: str) -> WayPrice:
    (one,) = compared(ways).ways
    return one


def wrong(ways: str) -> list[tuple[str, str]]:
    made, told = bidding(TERMS + ways, prices=PRICES, labor=LABOR)
    if made is not None:
        _, told = with_ways(made, plugins(), PAPERS)
    return [(d.code, d.span.text if d.span is not None else "") for d in told]


def test_the_bid_itself_by_hand() -> None:
    """680 sq ft: 22 sheets of 32, 275; 4 gal at 400, 136; hanging 10.2 hours and rolling 1,360 / 180 hours at 30; 10 % on top."""
    made = compared("")
    assert {name: str(sum_) for name, sum_ in made.direct.items()}["labor"] == "532.67"
    assert str(made.total) == "1038.04"


def test_longer_sheets_hang_quicker() -> None:
    """17 sheets of 40 at 15.50 are 263.50 and not 275; 8.84 hours and not 10.2: (1,038.04 - 1.1 x (11.50 + 40.80)) = 980.51."""
    made = way(LONG)
    assert [(m.name, str(m.was), str(m.now)) for m in made.moved] == [
        ("gypsum board, 4 ft x 8 ft, 1/2 in", "22", "0"), ("gypsum board, 4 ft x 10 ft, 1/2 in", "0", "17"),
        ("hang gypsum board, wall, 1/2 in", "36/5", "156/25"), ("hang gypsum board, ceiling, 1/2 in", "3", "13/5"),
    ]  # fmt: skip
    assert str(made.bid.total) == "980.51"


def test_sprayed_paint_takes_more_paint_and_fewer_hours_and_masking() -> None:
    """1,360 / 300 = 4.5, 5 gal: 34 more. 3.4 hours instead of 7.56: 408 of labor. With 40 of masking 893.00, and 89.30 on top."""
    made = way(SPRAYED)
    assert {name: str(sum_) for name, sum_ in made.bid.direct.items()} == {
        "material": "445.00", "deliveries": "0.00", "labor": "408.00", "allowances": "40.00",
    }  # fmt: skip
    assert str(made.bid.total) == "982.30"


def test_board_by_layout_is_the_same_engine_as_a_line_of_ones_own() -> None:
    own = bid_of(TERMS, prices=PRICES, labor=LABOR, rules='"Board by layout.", "Offcuts: not used again."')
    made = way(LAYOUT).bid
    assert [line.goods.item.count for line in made.material] == [line.goods.item.count for line in own.material]
    assert made.total == own.total


def test_a_line_of_a_way_beats_a_line_of_ones_own() -> None:
    own = bid_of(TERMS + LONG, prices=PRICES, labor=LABOR, rules='"Gypsum board: 4 ft x 8 ft sheets."')
    made, _ = with_ways(own, plugins(), PAPERS)
    assert str(made.ways[0].bid.total) == "980.51"
    assert not made.ways[0].departs


def test_the_cheapest_is_named_with_its_reason() -> None:
    made = compared(LONG + SPRAYED)
    assert cheapest_of(made) == (
        "sheets 10 ft long",
        "1.79 less than “paint sprayed”, which comes next: Material 45.50 less, Allowances 40.00 less, Overhead 0.16 less, "
        "Labor 83.87 more.",
    )


def test_the_bid_itself_may_be_the_cheapest() -> None:
    """Hanging at 3 hours is 306 more, less 11.50 of board: 294.50, and 323.95 with what goes on top."""
    name, why = cheapest_of(compared(LONG.replace("1.3 hours", "3 hours")))
    assert name == "as bid"
    assert why.startswith("323.95 less than “sheets 10 ft long”")


def test_one_that_costs_the_same_does_not_win() -> None:
    same = '\n[[bid.ways]]\nname = "the same"\nlines = ["Gypsum board: 4 ft x 8 ft sheets."]\n'
    assert cheapest_of(compared(same))[0] == "as bid"


def test_what_the_documents_say_otherwise_is_told_and_is_never_the_cheapest() -> None:
    made = compared(LONG, SPEC)
    assert made.ways[0].bid.total < made.total
    assert len(made.ways[0].departs) == 1
    assert "4 ft x 8 ft" in made.ways[0].departs[0]
    assert cheapest_of(made)[0] == "as bid"


def test_what_has_no_price_makes_nothing_cheap() -> None:
    made = compared(TWELVE)
    assert made.ways[0].bid.total < made.total
    assert [text.partition(" has no price")[0] for text in made.ways[0].lacking] == [
        "gypsum board, 4 ft x 12 ft, 1/2 in"
    ]
    assert cheapest_of(made) == (
        "as bid", "It is the only one that keeps to the documents and leaves nothing out that others have in their price.",
    )  # fmt: skip


def test_their_order_changes_nothing() -> None:
    there, back = compared(LONG + SPRAYED + LAYOUT), compared(LAYOUT + SPRAYED + LONG)
    assert {w.name: w.bid.total for w in there.ways} == {w.name: w.bid.total for w in back.ways}
    assert cheapest_of(there) == cheapest_of(back)
    assert there.total == compared("").total


@pytest.mark.parametrize(
    ("ways", "code", "text"),
    [
        ('[[bid.ways]]\nname = "a"\nlines = ["Gypsum bord: 4 ft x 10 ft."]\n', "line-not-understood", ""),
        ('[[bid.ways]]\nname = "a"\nrates = ["Hang it: 3 hours each."]\n', "labor-line", "Hang it"),
        ('[[bid.ways]]\nname = "a"\nmethods = ["By hand"]\n', "bid-terms", "By hand"),
        ('[[bid.ways]]\nname = "a"\nmethods = ["Apply plaster by spray"]\n', "bid-terms", "Apply plaster by spray"),
        ('[[bid.ways]]\nname = "a"\nmethods = ["quickly"]\n', "bid-terms", "quickly"),
        ('[[bid.ways]]\nname = "a"\nsupplier = "Dunes"\n', "bid-terms", "Dunes"),
        ('[[bid.ways]]\nname = "a"\nallowances = ["Masking"]\n', "markup-line", "Masking"),
        ('[[bid.ways]]\nname = "a"\ntake = ["Alternate 9"]\n', "alternate-unknown", "Alternate 9"),
        ('[[bid.ways]]\nname = "a"\n', "bid-terms", "a"),
        ('[[bid.ways]]\nlines = ["Board by layout."]\n', "job-missing-key", ""),
        (LAYOUT + LAYOUT, "bid-terms", "board by layout"),
    ],
)
def test_a_mistake_in_one_is_told_at_its_place(ways: str, code: str, text: str) -> None:
    found = wrong(ways)
    assert {c for c, _ in found} == {code}
    assert text in found[0][1]
