"""What hangs on what is open, in money."""

from __future__ import annotations

import pytest

from bids import bid_of
from darby.bid.hanging import CONFIRM, MISSING, PRICE, QUESTION

PRICES = "product,package,price,valid until\nprimer,1 gal can,20,2025-12-31\npaint,1 gal can,30,\n"


def hanging(what: str, terms: str = "date = 2026-03-02", **papers: str) -> list[tuple[str, str | None]]:
    made = bid_of(terms, **{"prices": PRICES, **papers})
    return [(one.text, str(one.sum) if one.sum is not None else None) for one in made.open if one.what == what]


def test_goods_without_a_price_and_work_without_a_rate_come_first_and_have_no_sum() -> None:
    made = bid_of("", prices=PRICES)
    kinds = [one.what for one in made.open]
    assert kinds == sorted(kinds, key=lambda what: what != MISSING)
    missing = [text for text, sum_ in hanging(MISSING) if sum_ is None]
    assert "gypsum board, 4 ft x 8 ft, 1/2 in has no price. No list has a price for gypsum board." in missing
    assert any(text.startswith("How many hours does it take: apply primer, wall (480 sq ft)?") for text in missing)


def test_hours_without_a_wage_are_asked_about_once_a_trade() -> None:
    found = hanging(MISSING, labor="Hang gypsum board: 1 hour per 100 sq ft.")
    assert ("What is an hour of board paid? 6.8 hours have no wage.", None) in found


def test_an_expired_price_is_asked_about_with_all_that_is_bought_at_it() -> None:
    """3 cans at 20."""
    assert ("primer at harbor: the price held until 2025-12-31. Does it still?", "60.00") in hanging(PRICE)


def test_deliveries_that_one_supplier_asks_differently_are_told_with_those_that_are_not_charged() -> None:
    prices = (
        "product,package,price,delivery\nprimer,1 gal can,20,45\npaint,1 gal can,30,60\njoint tape,250 ft roll,4,60\n"
    )
    assert hanging(PRICE, prices=prices)[0] == (
        "harbor asks different sums for a delivery, 60.00 (harbor.csv, line 3) and 45.00 (harbor.csv, line 2): 60.00 is charged, once. "
        "Is it one delivery?",
        "45.00",
    )


@pytest.mark.parametrize("other", ["45", "", "0"])
def test_one_delivery_for_all_is_not_asked_about(other: str) -> None:
    """A row without one, or with none, has no other."""
    prices = f"product,package,price,delivery\nprimer,1 gal can,20,45\npaint,1 gal can,30,{other}\n"
    assert not [text for text, _ in hanging(PRICE, prices=prices) if "delivery" in text]


def test_a_question_hangs_on_the_lines_that_it_moves() -> None:
    """How many coats of finish paint: 4 cans at 30."""
    assert [sum_ for text, sum_ in hanging(QUESTION) if text.startswith("How many coats of finish paint")] == ["120.00"]


def test_a_reading_to_confirm_hangs_on_what_it_moves() -> None:
    """Three coats on walls and two on the ceiling are 4.6 gal; without the reading no document paints walls: 1 gal, four cans at 30 less,
    and two of primer at 20."""
    ours = "SECTION 09 91 23 - INTERIOR PAINTING\nPART 3\nA. Ceilings: two coats finish paint.\n"
    text = f"{ours}SECTION 07 92 00 - JOINT SEALANTS\nPART 3\nA. Walls: three coats finish paint on gypsum board.\n"
    ((said, sum_),) = hanging(CONFIRM, specification=text)
    assert said.startswith("finish paint, wall: 3 coats, as we read 07 92 00, A (spec.txt, line 6): ")
    assert sum_ == "160.00"


def test_two_rates_of_equal_weight_are_asked_about() -> None:
    labor = "Apply primer: 1 hour per 100 sq ft by spray.\nApply primer: 2 hours per 100 sq ft by roller."
    found = hanging(PRICE, 'wages = [{ trade = "coatings", wage = 10 }]', labor=labor)
    assert [(text.partition(":")[0], sum_) for text, sum_ in found if "Which holds?" in text] == [
        ("apply primer, wall", "96.00"), ("apply primer, ceiling", "40.00"),
    ]  # fmt: skip
