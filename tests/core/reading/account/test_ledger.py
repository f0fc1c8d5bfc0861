"""Every number of a document stands in the ledger once."""

from __future__ import annotations

from pathlib import Path

import pytest

import darby
import darby_grammars
from darby.reading.account.ledger import MAY_BE_ORDERED, Ledger, Number
from darby.text.spans import Source
from reads import read_text

TEXT = "12 in., 5/8 in., m2 and 007 <a href=5> 9x"


def closed(ledger: Ledger, text: str = TEXT) -> list[tuple[str, str, str]]:
    return [(n.span.text, n.became, n.why) for n in ledger.closed(Source("s", text))]


def span_of(source: Source, text: str) -> tuple[int, int]:
    start = source.text.index(text)
    return start, start + len(text)


def entered(*entries: tuple[str, str]) -> tuple[Ledger, Source]:
    ledger, source = Ledger(), Source("s", TEXT)
    for text, why in entries:
        ledger.enter(source.span(*span_of(source, text)), "read", why)
    return ledger, source


@pytest.mark.parametrize(
    ("text", "number", "why"),
    [
        ("Send 3 samples of each.", "3", "a count of something else"),
        ("Acoustical panels 24 inches wide.", "24", "a product that no trade here orders"),
    ],
)
def test_what_may_be_to_order_is_told_apart_by_why_it_was_set_aside(text: str, number: str, why: str) -> None:
    (found,) = [n for n in read_text(text).numbers if n.span.text == number]
    assert (found.became, found.why) == ("set aside", why)
    assert why in MAY_BE_ORDERED


def test_every_reason_under_which_a_number_may_be_to_order_is_one_that_is_given() -> None:
    core = Path(darby.__file__).parent / "reading"
    words = Path(darby_grammars.__file__).parent
    given = "\n".join(
        file.read_text("utf-8") for file in (*core.rglob("*.py"), *words.glob("*.toml")) if file.name != "ledger.py"
    )
    given += (core / "account" / "ledger.py").read_text("utf-8").partition("def mark(")[2]
    assert [why for why in sorted(MAY_BE_ORDERED) if f'"{why}"' not in given and f'= "{why}"' not in given] == []


def test_digits_that_nobody_accounted_for_are_unread() -> None:
    assert closed(Ledger(), "12 walls") == [("12", "unread", "grown together with other signs")]


def test_digits_inside_markup_are_set_aside() -> None:
    assert closed(Ledger(), "<a href=5>")[0][1:] == ("set aside", "markup")
    assert closed(Ledger(), "&#160;")[0][1:] == ("set aside", "markup")


def test_of_two_entries_for_one_place_the_longer_stays() -> None:
    ledger, source = entered(("5", "short"), ("5/8", "long"))
    ledger.enter(source.span(*span_of(source, "8")), "unread", "inside")
    kept = [n for n in ledger.closed(source) if n.became == "read"]
    assert [(n.span.text, n.why) for n in kept] == [("5/8", "long")]


def test_entries_come_back_in_order_of_place() -> None:
    ledger, source = entered(("5/8", "second"), ("12", "first"))
    assert [n.span.text for n in ledger.closed(source)][:2] == ["12", "5/8"]


def test_a_word_with_a_digit_in_it_is_no_number() -> None:
    ledger, source = entered()
    ledger.pass_over(source.span(*span_of(source, "m2")))
    assert "2" not in [n.span.text for n in ledger.closed(source)]


def test_a_stretch_that_says_nothing_sets_aside_each_run_of_digits_in_it() -> None:
    source, ledger = Source("s", "page 12 of 34, 5"), Ledger()
    ledger.set_aside(source.span(0, 13), "a page header or footer")
    assert [(n.span.text, n.became) for n in ledger.closed(source)] == [
        ("12", "set aside"),
        ("34", "set aside"),
        ("5", "unread"),
    ]


def test_only_what_lies_within_is_looked_for() -> None:
    source = Source("s", "1 2 3")
    assert [n.span.text for n in Ledger().closed(source, source.span(2, 3))] == ["2"]


def test_a_number_knows_what_became_of_it() -> None:
    number = Number(Source("s", "7").span(0, 1), "unread", "a number without a unit")
    assert (number.span.text, number.became) == ("7", "unread")


@pytest.mark.parametrize("sign", ["²", "⑫", "Ⅳ", "٣", "½", "㉑"])
def test_a_sign_that_is_no_plain_digit_is_in_the_account(sign: str) -> None:
    assert closed(Ledger(), f"walls{sign} and {sign}") == [(sign, "unread", "no plain digit")] * 2
    held = [n.span.text for n in read_text(f"Walls: two coats of paint {sign} on each face.").numbers]
    assert sign in held


def test_the_raised_sign_of_a_unit_is_part_of_its_word() -> None:
    assert closed(Ledger(), "m², ft³, area in mm²") == []
    assert closed(Ledger(), "beam²") == [("²", "unread", "no plain digit")]
