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


def test_a_line_that_names_the_matter_stands_over_question_and_answer() -> None:
    clauses = [
        Clause(View.of(Source("s.txt", t)))
        for t in ("RFI 3 Vault", "Question: which board?", "Response: plain.", "RFI 4 Hall", "Query: paint?")
    ]
    answers_under_questions(clauses)
    topic, question, answer, other, last = clauses
    assert [topic.heading, other.heading] == [True, True]
    assert question.parents == (topic,)
    assert answer.parents == (question, topic)
    assert other.parents == ()
    assert last.parents == (other,)


def test_labels_are_taken_off_and_their_numbers_are_accounted_for() -> None:
    clauses = [Clause(View.of(Source("s.txt", t))) for t in ("Question 12: which board?", "Answer 12: plain.")]
    apart = answers_under_questions(clauses)
    assert [(c.label, c.text) for c in clauses] == [("Question 12:", "which board?"), ("Answer 12:", "plain.")]
    assert [(a.span.text, a.why) for a in apart] == [("12", "the number of a question")] * 2


def test_labels_may_stand_in_lines_of_their_own() -> None:
    assert answered("Question 1", "The sheen of the hall.", "Answer", "Satin.", "Question 2", "Primer.") == [
        "", "?", "", "The sheen of the hall.", "", "?",
    ]  # fmt: skip


def test_where_answers_are_marked_as_quotations_a_numbered_line_above_one_is_a_question() -> None:
    clauses = [
        Clause(View.of(Source("s.txt", text)), label)
        for text, label in (
            ("Which sheen?", "1."),
            (">>> Satin.", ""),
            ("The furred wall.", "2."),
            (">>> One coat.", ""),
        )
    ]
    answers_under_questions(clauses)
    assert [c.asks for c in clauses] == [True, False, True, False]
    assert clauses[3].parents == (clauses[2],)
    assert clauses[3].text == "One coat."


def test_a_question_and_its_answer_are_paired_whatever_sign_the_question_ends_in() -> None:
    assert answered("Q: PT-9 is in no legend.", "A: It is satin.") == ["?", "PT-9 is in no legend."]
