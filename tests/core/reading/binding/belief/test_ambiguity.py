"""What is read and cannot be believed: it is left open with a reason, and what stands beside it is read all the same."""

from __future__ import annotations

import pytest

from reads import asked, left, said

OPEN = {
    "Walls: min. 2 coats finish paint, max. 3 coats.": {"3": "an upper bound: how many is not said"},
    "Apply 2 to 3 coats finish paint to walls.": dict.fromkeys("23", "how many coats: the text leaves it open"),
    "Walls: two or three coats of finish paint.": dict.fromkeys(("two", "three"), "a choice that nobody has made"),
    "Primer: 1 coat on walls or 2 coats on walls.": dict.fromkeys("12", "a choice that nobody has made"),
    "Gypsum board: 1/2 in. or 5/8 in. thick on walls.":
        dict.fromkeys(("1/2", "5/8"), "several sizes of one thing: where each goes is not said"),
    "Two coats of finish paint on walls?": {"Two": "a question: look for its answer"},
    "Walls: one more coat of finish paint than ceilings.": {"one": "more than what is said elsewhere: the total is open"},
    "Walls: two coats, or as required, of finish paint.": {"two": "the text leaves it open"},
    "Finish paint: 40 m2 per gallon.": {"40": "square metres to a gallon: which gallon is meant?"},
    "Gypsum board: 2 x 5/8 in. on walls.":
        dict.fromkeys(("2", "5/8"), "layers of a thickness, or a size? Say “2 layers of 5/8 in.”"),
    "Gypsum board waste: -5 %.": {"5": "less than nothing"},
    "Gypsum board waste -5%.": {"5": "less than nothing"},
    "Primer: -250 sq ft per gallon.": {"250": "less than nothing"},
    "Joint compound: 0 sq ft per gallon.": {"0": "a rate per nothing"},
    "Corner bead in 8 ft and 10 ft sticks.":
        {"8": "a length, and nothing says what it measures", "10": "sizes on offer: none is chosen"},
}  # fmt: skip


@pytest.mark.parametrize("text", OPEN)
def test_an_open_quantity_is_left_open_with_its_reason(text: str) -> None:
    assert left(text) == OPEN[text]


def test_the_bound_that_is_clear_is_read_beside_the_one_that_is_not() -> None:
    assert said("Walls: min. 2 coats finish paint, max. 3 coats.") == [
        "coats of finish paint (surface wall): at least 2"
    ]


def test_a_dash_that_parts_words_from_a_number_is_no_minus() -> None:
    assert said("Joint compound - 14 lb per 100 sq ft.") == ["consumption of joint compound: 14 lb per 100 sq ft"]
    assert said("Gypsum board waste - 5 %.") == ["waste of gypsum board: 5 %"]
    assert said("Gypsum board waste: 5-10 %.") == ["waste of gypsum board: 5 % to 10 %"]


def test_a_choice_between_places_is_none() -> None:
    assert said("Primer: 1 coat on walls or 2 coats on ceilings.") == [
        "coats of primer (surface wall): 1",
        "coats of primer (surface ceiling): 2",
    ]


IMPOSSIBLE = {
    "Screws on walls: 900 in. o.c.": {"900": "outside what spacing can be"},
    "Gypsum board: 40 in. thick.": {"40": "not a size that it comes in"},
    "Walls: 20 coats of finish paint.": {"20": "outside what coats can be"},
    "Walls: 1 1/2 coats of finish paint.": {"1 1/2": "coats are counted in whole numbers"},
    "Finish paint: 12 sq ft per gallon.": {"12": "outside what a coverage can be"},
    "Gypsum board: 4 ft by 5 ft sheets.": dict.fromkeys("45", "a size, and not of a sheet"),
}  # fmt: skip


@pytest.mark.parametrize("text", IMPOSSIBLE)
def test_a_number_that_its_kind_cannot_have_makes_no_rule(text: str) -> None:
    assert said(text) == []
    assert left(text) == IMPOSSIBLE[text]


def test_the_longer_side_of_a_sheet_is_its_length_whichever_is_said_first() -> None:
    both = [said(f"Gypsum board: {size} mm.") for size in ("2400 x 1200", "1200 x 2400")]
    assert both == [["sheet of gypsum board: 1200 mm by 2400 mm"]] * 2


def test_two_bounds_of_one_thing_are_a_range_said_with_both() -> None:
    text = "Screws: not less than 8 in. and not more than 12 in. on center on walls."
    assert said(text) == ["spacing of screw (surface wall): 8 in to 12 in"]
    assert left(text) == {"8": "the other end of a range"}


def test_two_bounds_that_exclude_each_other_are_asked_about() -> None:
    text = "Screws on walls: not more than 8 in. and not less than 12 in. o.c."
    assert said(text) == []
    assert left(text)["12"] == "the two bounds exclude each other"
    assert len(asked(text)) == 1


def test_one_rate_behind_two_products_is_nobodys() -> None:
    text = "Walls: one coat primer, two coats finish paint, 400 sq ft per gallon."
    assert said(text) == ["coats of primer (surface wall): 1", "coats of finish paint (surface wall): 2"]
    assert left(text) == {"400": "one rate behind two products: whose it is is not said"}


@pytest.mark.parametrize(
    ("rate", "mils", "fits"),
    # a gallon is 231 cu in: 231 / 144 sq in / 0.001 in = 1604 sq ft at one mil; a twentieth more is let pass
    [(800, 4, False), (802, 2, True), (840, 2, True), (850, 2, False), (400, 4, True)],
)
def test_a_rate_cannot_be_more_than_the_volume_holds_at_its_film(rate: int, mils: int, fits: bool) -> None:
    text = f"Primer: {rate} sq ft per gallon at {mils} mils dry film."
    assert f"film of primer (film dry): {mils} mil" in said(text)
    assert (f"coverage of primer: {rate} sq ft per 1 gal" in said(text)) is fits
    assert left(text) == ({} if fits else {str(rate): "more than a volume can cover at that film"})


def test_among_spacings_a_thickness_says_where() -> None:
    text = "Fasten with screws: 12 in. o.c. on ceilings; 5/8 in. panels, 16 in."
    assert said(text) == ["spacing of screw (surface ceiling): 12 in"]
    assert left(text)["5/8"] == "says where something else holds"
