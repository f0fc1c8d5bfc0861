"""What the terminal shows: in this order, at any width, harmless whatever the text holds."""

from __future__ import annotations

import pytest

import made
from darby.documents.needs import needs
from darby.documents.terminal import estimate as to_terminal
from darby.documents.terminal import longhand as longhand_terminal
from darby.documents.terminal.parts import plain, written
from darby.estimate.line_item import LineItem
from darby.estimate.trade import Caution
from darby.quantities.amounts import Amount

WIDTHS = (60, 80, 120)


def shown(width: int = 100, **changes) -> str:
    console, stream = plain(width)
    to_terminal.show(made.estimate(**changes), console)
    return written(stream)


def test_what_is_open_comes_before_the_order_and_cautions_last():
    text = shown()
    parts = [
        "Open:",
        "To look at\n",
        "Not read",
        "To order",
        "Conflicts",
        "Questions for the supplier",
        "Not in the documents",
        "Take care",
        "3 lines to order",
    ]
    assert sorted(parts, key=text.index) == parts


def test_an_order_is_told_as_one_would_ring_it_up():
    assert "2 cans of 1 gal" in shown()
    assert "package not known" in shown()


@pytest.mark.parametrize("width", WIDTHS)
def test_no_line_is_wider_than_the_terminal(width):
    assert max(map(len, shown(width).splitlines())) <= width
    for need in needs(made.estimate()):
        console, stream = plain(width)
        longhand_terminal.show(need, made.estimate(), console)
        assert max(map(len, written(stream).splitlines())) <= width


@pytest.mark.parametrize("width", WIDTHS)
def test_nothing_of_the_order_list_is_lost_on_a_narrow_terminal(width):
    words = " ".join(shown(width).split())
    for part in ("joint compound", "54.88 lb", "1 pail of 64 lb", "1.96 gal", "2 cans of 1 gal"):
        assert part in words


def test_a_need_is_told_in_the_units_of_the_job():
    metric = LineItem("tape", Amount.read("30.48 m"), {}, None, "joints")
    assert "100 ft" in shown(items=(metric,))


def test_a_conflict_quotes_both_places():
    text = shown()
    assert "used 200 sq ft per gal  [addendum-1.txt:1, addendum 1]" in text
    assert "also 300 sq ft per gal  [addendum-1.txt:2, addendum 1]" in text


def test_an_incomplete_estimate_says_so_before_anything_else():
    assert shown(missing=("coatings",)).splitlines()[1].startswith("Incomplete: the lines of coatings are missing")


def test_a_job_with_nothing_to_do_says_so():
    assert "Nothing to order" in shown(items=())


def test_the_first_and_the_last_line_count_all_that_is_open():
    lines = shown().splitlines()
    assert lines[1] == "Open: 1 point to look at, 1 number not read, 1 conflict, 1 question."
    assert lines[-1] == (
        "3 lines to order, 1 point to look at, 1 number not read, 1 conflict, 1 question, 1 default used."
    )
    nothing = shown(questions=(), conflicts=(), unread=(), diagnostics=(), assumptions=())
    assert nothing.splitlines()[1] == "Nothing is open."
    assert nothing.splitlines()[-1] == "3 lines to order, nothing open."


def test_defaults_are_one_line_until_they_are_asked_for():
    assert "14 lb of joint compound" not in shown()
    console, stream = plain(100)
    to_terminal.show(made.estimate(), console, defaults=True)
    assert "14 lb of joint compound per 100 sq ft" in written(stream)


def test_a_danger_is_told_in_its_first_sentence_and_the_page_is_named():
    caution = Caution("Rope burn", "Wear gloves. Ropes run fast, and take the skin off.", "our practice")
    text = shown(cautions=(caution,))
    assert "  Rope burn: Wear gloves.\n" in text
    assert "In full: darby why rope-burn" in text
    assert "take the skin off" not in text
