"""A fault of Darby's own in one clause costs that clause, which is told; every other clause keeps its rules."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import pytest

from commands import darby
from darby.plugin_host.guarded_reader import Careful
from darby.reading.parsing.chunker import sentences as sound_sentences
from darby.reading.parsing.exceptions import with_exceptions as sound_exceptions
from darby.reading.parsing.fact_parser import Reader
from darby.reading.read import Language
from darby.reading.rule_maker import RuleMaker
from darby.rules.rule import HOUSE
from darby.testing.cases import rule_said
from darby.text.diagnostics import Severity
from reads import language
from reads import read_anew as read_text

TEXT = "Walls: two coats satin.\n\nTrim: three coats gloss, film of 40 um.\n\nPrimer covers 300 sq ft per gal.\n"


@pytest.fixture
def breaks(monkeypatch: pytest.MonkeyPatch) -> Callable[[str], None]:
    """Lets reading break at every clause that holds a word, where its sentences are found."""

    def at(word: str, error: type[Exception] = ZeroDivisionError) -> None:
        def sentences(tags: Sequence[Any], facts: Sequence[Any], text: str) -> Any:
            if word in text:
                raise error("not of the text's making")
            return sound_sentences(tags, facts, text)

        monkeypatch.setattr("darby.reading.clause_reader.sentences", sentences)

    return at


def test_a_clause_that_breaks_is_told_and_the_others_keep_their_rules(breaks: Callable[[str], None]) -> None:
    before = [rule_said(r) for r in read_text(TEXT).rules]
    breaks("Trim")
    reading = read_text(TEXT)
    assert [rule_said(r) for r in reading.rules] == [said for said in before if "trim" not in said]
    assert any("trim" in said for said in before)
    assert len(reading.rules) > 1
    (told,) = [d for d in reading.diagnostics if d.code == "clause-failed"]
    assert told.severity is Severity.WARNING
    assert "Trim: three coats gloss" in told.message
    assert told.span is not None
    assert told.span.line == 3
    assert "rules in the job file" in told.help
    assert "DARBY_DEBUG=1" in told.help


def test_numbers_of_a_clause_that_breaks_stand_as_unread(breaks: Callable[[str], None]) -> None:
    breaks("Trim")
    became = {n.span.text: n.became for n in read_text(TEXT).numbers}
    assert became["40"] == "unread"
    assert became["300"] == "read"


def test_nothing_half_made_is_left_behind(monkeypatch: pytest.MonkeyPatch) -> None:
    """It breaks behind the first rule of a clause of three."""
    sound, made = RuleMaker.rules, list[Any]()

    def rules(self: Any, *given: Any) -> Any:
        made.append(given)
        if len(made) == 2:
            raise KeyError("second")
        return sound(self, *given)

    monkeypatch.setattr(RuleMaker, "rules", rules)
    reading = read_text("Walls: one coat primer, two coats satin, 300 sq ft per gal.\n\nCeilings: one coat flat.\n")
    assert {r.scope.get("surface") for r in reading.rules} == {"ceiling"}
    assert [d.code for d in reading.diagnostics if d.severity is Severity.WARNING] == ["clause-failed"]


def test_what_stands_below_a_heading_that_breaks_waits_to_be_confirmed(breaks: Callable[[str], None]) -> None:
    text = "Walls over 12 ft high:\n1. Two coats satin.\n2. One coat primer.\n\nCeilings: one coat flat.\n"
    breaks("over 12 ft")
    reading = read_text(text)
    below = [r for r in reading.rules if r.span.line in (2, 3)]
    assert below
    assert all(r.confirm for r in below)
    assert not any(r.confirm for r in reading.rules if r.span.line == 5)


def test_a_row_that_breaks_costs_its_table_no_other_row(breaks: Callable[[str], None]) -> None:
    breaks("three coats")
    reading = read_text("Room | Walls\nKitchen | two coats satin\nHall | three coats satin\nBath | one coat satin\n")
    assert {r.scope["room"] for r in reading.rules if r.kind.name == "coats"} == {"kitchen", "bath"}


def test_in_a_text_that_must_be_understood_whole_it_is_an_error(breaks: Callable[[str], None]) -> None:
    breaks("Trim")
    reading = read_text("Walls: two coats satin.\nTrim: three coats gloss.\n", HOUSE, strict=True)
    assert [d.severity for d in reading.diagnostics if d.code == "clause-failed"] == [Severity.ERROR]
    assert {r.scope["surface"] for r in reading.rules} == {"wall"}


def test_a_view_whose_words_cannot_be_found_costs_its_own_clause(monkeypatch: pytest.MonkeyPatch) -> None:
    """Words are looked for before any clause is read, and by every clause that stands beside or below."""

    def with_exceptions(tags: Any, text: str, vocabularies: Any) -> Any:
        if "over 12 ft" in text:
            raise IndexError("no such word")
        return sound_exceptions(tags, text, vocabularies)

    monkeypatch.setattr("darby.reading.document.document_words.with_exceptions", with_exceptions)
    reading = read_text("Walls over 12 ft high:\n1. Two coats satin.\n\nCeilings: one coat flat.\n")
    assert [d.span.line for d in reading.diagnostics if d.code == "clause-failed" and d.span] == [1]
    assert [(r.span.line, bool(r.confirm)) for r in reading.rules if r.kind.name == "coats"] == [(2, True), (4, False)]


def test_memory_that_ends_is_no_clause_s_fault(breaks: Callable[..., None]) -> None:
    breaks("Trim", MemoryError)
    with pytest.raises(MemoryError):
        read_text(TEXT)


def test_debugging_shows_the_traceback(
    breaks: Callable[[str], None], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    breaks("Trim")
    monkeypatch.delenv("DARBY_DEBUG", raising=False)
    read_text(TEXT)
    assert capsys.readouterr().err == ""
    monkeypatch.setenv("DARBY_DEBUG", "1")
    read_text(TEXT)
    shown = capsys.readouterr().err
    assert "Traceback" in shown
    assert "ZeroDivisionError: not of the text's making" in shown


class Breaks(Reader):
    """A reader whose facts cannot be told."""

    begins = frozenset({"NUMBER"})

    def facts(self, tags: Sequence[Any], text: str) -> Any:
        raise ArithmeticError


def test_a_plugin_s_reader_that_breaks_is_the_plugin_s_failure() -> None:
    own = language()
    theirs = Language.of((*own.readers, Breaks("m", (), outside=True)), own.vocabularies)
    careful = Careful(theirs)
    reading = careful(read_text(TEXT).source, HOUSE)
    assert careful.missing == ["m (reader)"]
    assert [d.code for d in reading.diagnostics if d.code == "clause-failed"] == []
    assert reading.rules


def test_the_commands_go_on_and_say_it(breaks: Callable[[str], None], tmp_path: Path) -> None:
    breaks("Trim")
    (tmp_path / "s.txt").write_text(TEXT)
    done = darby("read", str(tmp_path / "s.txt"))
    assert done.returncode == 0
    assert "could not be read, by a fault of Darby's" in done.stdout + done.stderr
    assert "300" in done.stdout
