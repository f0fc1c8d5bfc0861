"""A change order as a document."""

from __future__ import annotations

import pytest

from bids import PRICES, TERMS, bid_of, made
from darby.bid.compared.change_order import ChangeOrder
from darby.bid.sheet.change_sheet import make
from darby.bid.terms import Change

JOB = '[[rooms]]\nname = "Hall"\nlength = "20 ft"\nwidth = "10 ft"\nheight = "8 ft"\n'
"""The rooms of the sample bid without its loft."""


def change() -> ChangeOrder:
    labor = "Hang gypsum board: 1.5 hours per 100 sq ft. [our jobs]\n"
    return ChangeOrder(
        made(), bid_of(TERMS, JOB, prices=PRICES, labor=labor), Change("3", cause="Loft *left out*"), "may.json"
    )


@pytest.mark.parametrize(
    "said",
    [
        "Change order 3: test", "Deduct: ", "Date: 2026-03-02", "Cause: Loft *left out*", "Against: the estimate kept as may.json",
        # 1,100 sq ft are 35 sheets, 680 are 22; 16.5 hours, 10.2
        "35 sheets 22 sheets -13", "Not in the sum", "List what is bought before you sign",
    ],
)  # fmt: skip
def test_what_it_says(said: str) -> None:
    assert said in " ".join(make(change()).split())


def test_every_form_says_the_sum() -> None:
    sum_ = f"{abs(change().sum):,.2f}"
    for form in ("terminal", "md", "html"):
        assert sum_ in make(change(), form)
    assert "\\*left out\\*" in make(change(), "md")
