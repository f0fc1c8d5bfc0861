"""A question of the estimator's own, kept in one line of the job: cited and quoted in the letter like the others."""

from __future__ import annotations

from typing import Any

import pytest
from attrs import evolve

import handed
from darby.documents.letters.asked import answered, asked, points
from darby.documents.letters.own_questions import OwnQuestion
from darby.documents.words import one_line
from darby.estimate.model import Estimate
from darby.job.model import Sending
from darby.text.spans import Source
from desk import estimated

JOB = """[[rooms]]
name = "Stove room"
length = "10 ft"
width = "8 ft"
height = "8 ft"
"""
SPEC = """SECTION 09 91 23
PART 3 EXECUTION
3.01 APPLICATION
A. Walls: one coat primer, two coats eggshell.
B. Frames stay as they
   come from the works.
C. Ceilings: two coats flat.
D. Frames stay as they come from the works.
"""
ASK = "Who washes the frames?"


def of(*questions: str, letter: str = "", specification: str = SPEC) -> Estimate:
    """An estimate whose job asks questions of its own."""
    said = ", ".join(f"'{one}'" for one in questions)
    return estimated(f"{JOB}\n[letter]\nquestions = [{said}]\n{letter}", specification)


def own(estimate: Estimate, text: str = ASK) -> Any:
    (point,) = [one for one in points(estimate) if one.text == text]
    return point


@pytest.mark.parametrize(
    ("line", "at", "words"),
    [
        (ASK, "", ""),
        (f"{ASK} [finishes.txt: “Frames stay”]", "finishes.txt", "Frames stay"),
        (f'{ASK} [finishes.txt, line 5: "Frames stay"]', "finishes.txt, line 5", "Frames stay"),
        (f"{ASK} [“Frames [all] stay”]", "", "Frames [all] stay"),
        (f"{ASK} [finishes.txt: “Frames stay as…”]", "finishes.txt", "Frames stay as"),
    ],
)
def test_a_line_holds_the_question_and_its_clause(line: str, at: str, words: str) -> None:
    assert OwnQuestion.of(line) == OwnQuestion(ASK, at, words)
    assert OwnQuestion.of(str(OwnQuestion.of(line))) == OwnQuestion.of(line)


def test_brackets_that_cite_nothing_stay_in_the_question() -> None:
    assert OwnQuestion.of("Which gloss [see A]?").text == "Which gloss [see A]?"
    assert OwnQuestion.of("[x: “y”]").text == "[x: “y”]"


def test_what_is_typed_comes_back_and_a_long_clause_is_kept_by_its_beginning() -> None:
    one = OwnQuestion.about(" Which\ngloss [of ours]? ", "a [1].txt, line 2", "word " * 200)
    assert one.text == "Which gloss of ours?"
    assert one.at == "a 1.txt, line 2"
    assert 230 < len(one.words) <= 240
    assert one.words.endswith("word")
    assert OwnQuestion.of(str(one)) == one


def test_the_clause_is_found_over_its_lines_and_at_the_place_that_is_told() -> None:
    sources = [Source("other.txt", SPEC), Source("finishes.txt", SPEC)]
    words = "Frames stay as they come from the works"
    for at, line in (("finishes.txt", 5), ("finishes.txt, line 8", 8), ("finishes.txt, line 4", 5)):
        span = OwnQuestion(ASK, at, words).place(sources)
        assert span is not None
        assert (span.source.name, span.line) == ("finishes.txt", line), at
    assert OwnQuestion(ASK, "house.txt", words).place(sources) is None
    assert OwnQuestion(ASK, "finishes.txt", "Frames stay white").place(sources) is None


def test_signs_that_cannot_be_shown_do_not_hide_a_clause() -> None:
    source = Source("finishes.txt", "A. Frames\u00ad stay\u200b as they come.")
    assert OwnQuestion.about(ASK, "", one_line(source.text)).place([source]) is not None


def test_the_letter_cites_and_quotes_its_clause_like_the_others() -> None:
    made = of(f"{ASK} [“Frames stay as they come”]")
    assert own(made).clauses[0].startswith("09 91 23, 3.01 B (")
    assert own(made).clauses[0].endswith(": “Frames stay as they come from the works”")
    letter = " ".join(handed.text("letter", made).split())
    assert f"{ASK} Clause: 09 91 23, 3.01 B" in letter
    assert "“Frames stay as they come from the works” Assumed: nothing." in letter
    assert ASK in handed.text("scope", made)
    assert ASK in handed.table("clarifications.csv", made).decode()


def test_what_was_read_in_its_clause_is_what_is_assumed() -> None:
    made = of("Is this true of the stairs? [“Ceilings: two coats flat”]")
    assert "2 coats" in own(made, "Is this true of the stairs?").assumed


def test_it_is_asked_beside_all_others_and_beside_those_that_are_marked() -> None:
    texts = [one.text for one in asked(of(ASK))]
    assert len(texts) > 1
    assert texts[-1] == ASK
    made = of(ASK, letter=f"ask = ['{texts[0]}']")
    assert [one.text for one in asked(made)] == [texts[0], ASK]


def test_once_asked_it_waits_and_once_answered_it_is_asked_no_more() -> None:
    sent = f"{ASK} [June 2]"
    made = of(ASK, letter=f"asked = ['{sent}']")
    assert [one.text for one in asked(made)] == [ASK]
    second = "Which store?"
    made = of(ASK, second, letter=f"asked = ['{sent}']")
    assert [one.text for one in asked(made)] == [second]
    made = evolve(made, job=evolve(made.job, sending=Sending(questions=(ASK,), asked=(answered(sent, "June 9", "Walls: two coats."),))))  # fmt: skip
    assert ASK not in [one.text for one in points(made)]


def test_a_clause_that_stands_nowhere_is_told_and_still_asked() -> None:
    made = of(f"{ASK} [finishes.txt: “Frames are white”]")
    (told,) = [one for one in made.diagnostics if one.code == "question-clause"]
    assert "Frames are white" in told.message
    assert told.help
    assert own(made).clauses == ("finishes.txt: “Frames are white”",)
    assert not [one for one in of(f"{ASK} [“Frames stay”]").diagnostics if one.code == "question-clause"]


def test_a_question_that_is_written_twice_is_asked_once() -> None:
    own(of(ASK, f"{ASK} [“Frames stay”]"))
