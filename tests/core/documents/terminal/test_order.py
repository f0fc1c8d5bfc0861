"""The order on a terminal: grouped by trade, with the notes that ask for something below it."""

from __future__ import annotations

import made
from darby.documents.terminal.order import show_order
from darby.documents.terminal.parts import plain, written
from darby.estimate.line_item import Aside, LineItem
from darby.quantities.amounts import Amount

WEIGHT = Aside("Weight", "six of them, 30 lb.")
ROPES = (
    LineItem("rope", Amount.of(6), {}, None, "rigging", notes=(WEIGHT, "Which ropes are tarred is not said.")),
    LineItem("net", Amount.of(2), {}, None, "rigging"),
    LineItem("buoy", Amount.of(1), {}, None, "float-work"),
)


def shown(*, notes: bool = False) -> str:
    console, stream = plain(100)
    show_order(made.estimate(items=ROPES), console, notes=notes)
    return written(stream)


def test_each_trade_is_named_once_above_its_lines() -> None:
    text = shown()
    assert text.count("Rigging") == 1
    assert (
        text.index("Rigging") < text.index("rope") < text.index("net") < text.index("Float work") < text.index("buoy")
    )


def test_a_note_that_asks_stands_in_full_and_one_that_explains_behind_its_word() -> None:
    text = shown()
    assert "1: Which ropes are tarred is not said." in text
    assert "30 lb" not in text
    assert "Notes (--notes shows them): 1 Weight." in text


def test_notes_are_shown_when_asked_for() -> None:
    text = shown(notes=True)
    assert "1: Weight: six of them, 30 lb." in text
    assert "--notes" not in text
