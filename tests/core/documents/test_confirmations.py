"""Every form of the estimate shows a reading to confirm with its place, its reason, what hangs on it and the way out."""

from __future__ import annotations

import pytest
from attrs import evolve

import made
from darby.documents.catalogue import document_named
from darby.documents.confirmations import hangs_on, otherwise, own_words, read_as, without
from darby.documents.page.marked_text import shelf
from darby.documents.terminal.estimate import tally
from darby.estimate.line_item import LineItem
from darby.estimate.model import Confirmation, Estimate, Shift
from darby.quantities.amounts import Amount
from darby.rules.rule import SPECIFICATION

WHY = "what it is said of stands far from it"


def cans(gallons: str, sheen: str = "", of: str = "1 gal") -> LineItem:
    """Paint in cans."""
    return LineItem(
        "varnish", Amount.read(gallons), {"sheen": sheen} if sheen else {}, Amount.read(of) / Amount.read("1 can")
    )


def confirmed(**changes: object) -> Estimate:
    done = made.estimate(papers=((made.SPEC, SPECIFICATION),))
    coats = next(rule for rule in done.rules if rule.kind.name == "coats")
    doubted = evolve(coats, confirm=WHY)
    primer = done.items[1]
    given = {
        "why": WHY, "place": coats.span, "rules": (doubted,), "items": (primer.id,),
        "without": (Shift(primer, evolve(primer, need=primer.need * Amount.of(3))),), "lines": ("Walls: 1 coat primer.",),
    }  # fmt: skip
    one = Confirmation(**(given | changes))  # type: ignore[arg-type]
    return evolve(done, rules=tuple(doubted if r is coats else r for r in done.rules), confirmations=(one,))


def test_a_reading_is_told_with_what_hangs_on_it() -> None:
    done = confirmed()
    (one,) = done.confirmations
    assert read_as(one) == "primer, wall: 1 coat"
    assert hangs_on(one, done) == "It affects line 2."
    # 392 sq ft at 200 sq ft a gallon are 1.96 gal, 2 cans; three times that are 5.88 gal, 6 cans
    assert without(one, done) == "Without it: 6 cans of primer (wall) instead of 2, 4 more."
    assert own_words(one) == "If it is right, write: Walls: 1 coat primer."


@pytest.mark.parametrize(
    ("now", "then", "said"),
    [
        (cans("5 gal"), cans("2 gal"), "2 cans of varnish instead of 5, 3 fewer"),
        (cans("5 gal", "satin"), None, "no varnish (satin) (now 5 cans)"),
        (None, cans("2 gal", "flat"), "2 cans of varnish (flat) (now none)"),
        (cans("9 gal"), cans("9 gal", of="5 gal"), "varnish: 2 cans of 5 gal instead of 9 cans of 1 gal"),
        (cans("9 gal"), evolve(cans("6 gal"), package=None), "varnish: 6 gal instead of 9 cans of 1 gal"),
    ],
)
def test_a_line_that_moves_is_told_in_packages(now: LineItem | None, then: LineItem | None, said: str) -> None:
    done = confirmed(without=(Shift(now, then),))
    assert otherwise(done.confirmations[0], done) == said


def test_an_order_that_stays_or_was_not_worked_out_is_said_to() -> None:
    for shifts, said in (
        ((), "Without it: the order is the same."),
        (None, "The order without it was not worked out."),
    ):
        done = confirmed(without=shifts)
        assert without(done.confirmations[0], done) == said


@pytest.mark.parametrize(
    ("form", "said"),
    [
        ("terminal", "Readings to confirm"),
        ("html", "Readings to confirm"),
        ("open.csv", "to confirm,specification,"),
        ("letter", "Please confirm"),
        ("letter.md", "Please confirm"),
        ("scope", "to be confirmed"),
    ],
)
def test_every_form_shows_it(form: str, said: str) -> None:
    document = document_named(form)
    assert document is not None
    text, plain = (" ".join(str(document.make(done)).split()) for done in (confirmed(), made.estimate()))
    assert said in text
    assert said not in plain
    if form != "scope":
        assert "6 cans of primer (wall) instead of 2, 4 more" in text.replace("\\", "")


def test_the_terminal_lists_it_above_the_order_and_counts_it() -> None:
    document = document_named("terminal")
    assert document is not None
    text = str(document.make(confirmed()))
    assert text.index("Readings to confirm") < text.index("To order") < text.index("Questions for the supplier")
    block = text.partition("Readings to confirm")[2].partition("To order")[0]
    assert "  ? primer, wall: 1 coat  [section.txt:5, specification]" in block.splitlines()
    assert "What it is said of stands far from it." in block
    assert "under rules in the job file" in " ".join(block.split())
    assert "3 lines to order, 1 point to look at, 1 reading to confirm, 1 number not read" in " ".join(
        text.splitlines()[-2:]
    )
    assert "confirm" not in tally(made.estimate())


def test_the_page_marks_it_apart_from_what_is_read_and_what_is_asked() -> None:
    (mark,) = (m for d in shelf(confirmed()).documents for m in d.marks if m.kind == "confirm")
    assert mark.span.text == "Walls: one coat primer"
    assert f"To confirm: {WHY.capitalize()}." in mark.said
    assert not [m for d in shelf(made.estimate()).documents for m in d.marks if m.kind == "confirm"]


def test_the_letter_asks_the_architect_only_about_her_own_words() -> None:
    letter = document_named("letter")
    assert letter is not None
    done = confirmed()
    assert "Please confirm" in str(letter.make(done))
    (one,) = done.confirmations
    house = evolve(one, rules=tuple(evolve(r, layer=made.DEFAULT) for r in one.rules))
    assert "Please confirm" not in str(letter.make(evolve(done, confirmations=(house,))))
