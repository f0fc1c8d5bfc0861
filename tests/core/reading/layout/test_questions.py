"""Questions over their answers."""

from __future__ import annotations

from darby.reading.layout.clause import Clause
from darby.reading.layout.questions import answers_under_questions
from darby.text.spans import Source, View


def answered(*texts: str, heading: str = "") -> list[str]:
    """Under which question each text stands; `?` for a question."""
    clauses = [Clause(View.of(Source("s.txt", text)), heading=text == heading) for text in texts]
    answers_under_questions(clauses)
    return ["?" if c.asks else c.parents[0].text if c.parents else "" for c in clauses]


def test_the_one_clause_below_a_question_is_its_answer() -> None:
    assert answered("Which sheen?", "Satin.", "Two coats.") == ["?", "Which sheen?", ""]


def test_below_a_quoted_question_answers_go_on_to_the_next() -> None:
    one, two = "> 4) Which sheen?", "> 5) Primer?"
    assert answered(one, "Satin.", "Two coats.", two, "One coat.") == ["?", one, one, "?", two]


def test_a_numbered_quotation_is_a_question_without_its_mark_and_a_plain_one_ends_the_answers() -> None:
    assert answered("> 4. Sheen of the walls", "Satin.") == ["?", "> 4. Sheen of the walls"]
    assert answered("> 4) Which sheen?", "> thank you", "Satin.") == ["?", "", ""]


def test_a_heading_ends_the_answers() -> None:
    assert answered("> 4) Which sheen?", "WALLS", "Satin.", heading="WALLS") == ["?", "", ""]
