"""What is asked of a clause, with its place."""

from __future__ import annotations

from darby.reading.account.asking import Questions
from darby.reading.layout.clause import Clause
from darby.text.diagnostics import Diagnostic, Severity
from darby.text.spans import Source, View
from reads import language

VIEW = View.of(Source("s.txt", "Walls: two cots paint."))


def asked(*, strict: bool, doubtful: bool) -> list[Diagnostic]:
    """What is made of a question about the first words of a text."""
    found: list[Diagnostic] = []
    Questions(language().lexicon, found, strict).ask(VIEW.span(0, 5), "see there", Clause(VIEW), doubtful=doubtful)
    return found


def test_a_doubt_is_a_question_that_quotes_its_clause() -> None:
    (one,) = asked(strict=False, doubtful=True)
    assert (one.code, one.severity, one.message) == ("unclear", Severity.QUESTION, "“Walls”: see there")
    assert one.help == "It says: Walls: two cots paint."


def test_what_is_no_doubt_is_asked_only_where_all_must_be_understood() -> None:
    assert asked(strict=False, doubtful=False) == []
    (one,) = asked(strict=True, doubtful=False)
    assert (one.code, one.severity) == ("line-not-understood", Severity.ERROR)


def test_a_word_that_nobody_knows_is_told_with_what_is_near() -> None:
    found: list[Diagnostic] = []
    Questions(language().lexicon, found, strict=True).unknown_words(language().lexicon.tags(VIEW.text), VIEW)
    assert [one.message for one in found] == ["“cots” is no word that is known here"]
    assert "coats" in str(found[0].help)
