"""What is open, each point once: a doubt about a number that is shown as not read is not told again."""

from __future__ import annotations

from attrs import evolve

import made
from darby.documents.open_points import OpenPoints
from darby.documents.terminal import open_points
from darby.documents.terminal.parts import plain, written
from darby.estimate.model import Estimate, Question
from darby.rules.rule import HOUSE
from darby.text.diagnostics import Severity, problem
from darby.text.spans import Source


def doubt(start: int, end: int, code: str = "unclear") -> object:
    return problem(code, "nobody knows", made.SPEC.span(start, end), severity=Severity.QUESTION)


def test_a_doubt_about_an_unread_number_is_told_once() -> None:
    at = made.SPEC.text.index("840")
    found = OpenPoints(
        made.estimate(diagnostics=(doubt(at - 2, at + 3), doubt(0, 4), doubt(at, at + 3, "amend-nothing")))
    )
    assert [d.code for d in found.looks] == ["unclear", "amend-nothing"]
    assert found.looks[0].span == made.SPEC.span(0, 4)


def test_a_question_that_a_default_stands_in_for_is_asked_only_where_the_documents_could_answer() -> None:
    given = made.estimate()
    place = given.assumptions[0].answer.rule.span
    asked = (
        Question("How wide?", "supplier", place),
        Question("How many?", "specifier", place),
        Question("What?", "supplier"),
    )
    found = OpenPoints(evolve(given, questions=asked))
    assert [q.text for q in found.questions] == ["How many?", "What?"]


def test_a_conflict_asks_for_itself() -> None:
    found = OpenPoints(made.estimate())
    assert [q.to for q in found.questions] == ["supplier"]
    assert "1 conflict" in found.counts()


def test_house_lines_and_defaults_are_counted_apart() -> None:
    given = made.estimate()
    (one,) = given.assumptions
    own = evolve(one, answer=evolve(one.answer, rule=evolve(one.answer.rule, layer=HOUSE)))
    found = OpenPoints(evolve(given, assumptions=(one, own)))
    assert (len(found.defaults), len(found.house)) == (1, 1)
    assert "2 figures are supplied: 1 by your house lines and 1 by Darby's defaults." in shown_supplied(found)


def shown_supplied(points: OpenPoints) -> str:
    console, stream = plain(100)
    open_points.supplied(points, console, listed=False)
    return written(stream)


def unread(lines: int) -> Estimate:
    source = Source("long.txt", "Lay 12 of it.\n" * lines)
    return made.estimate(unread=tuple((source.span(14 * n + 4, 14 * n + 6), "of what?") for n in range(lines)))


def test_the_file_of_unread_numbers_is_named_once_and_very_many_are_counted() -> None:
    for lines, rest in ((3, ""), (45, "and 5 more lines in long.txt")):
        console, stream = plain(100)
        open_points.not_read(unread(lines), console)
        text = written(stream)
        assert text.count("  long.txt\n") == 1
        assert text.count("^^  of what?") == min(lines, 40)
        assert rest in text
