"""The order list, the letter and the scope note: complete, in three forms that say the same, with true differences."""

from __future__ import annotations

from pathlib import Path

import pytest
from attrs import evolve

import handed
import made
from darby.cli.shared.jobs import Wanted, demo_folder, estimate_of
from darby.documents.catalogue import document_named
from darby.documents.differences import differences, rework
from darby.documents.letters.asked import cited, points
from darby.documents.tables import read_csv
from darby.documents.words import clause_number, whereabouts
from darby.estimate.model import Estimate
from darby.job.model import Sending
from darby.rules.rule import SPECIFICATION
from darby.text.diagnostics import Severity, problem
from darby.text.spans import Source
from desk import estimated
from kit import rule


def test_an_incomplete_estimate_says_so_in_each() -> None:
    for name in ("order", "scope"):
        assert "Incomplete: The lines of coatings are missing" in handed.text(
            name, made.estimate(missing=("coatings",))
        )


def test_the_letter_asks_what_the_architect_can_answer() -> None:
    text = " ".join(handed.text("letter").split())
    for question in handed.demo_json()["questions"]:
        sentence = question["text"].partition(" The documents ")[0]
        assert (sentence in text) == (question["to"] == "specifier"), sentence


def test_each_question_has_its_place_what_was_assumed_and_the_difference() -> None:
    text = " ".join(handed.text("letter").split())
    assert "line 55): “Spread finish paint at 350 square feet per gallon”" in text
    assert (
        "Clause: 09 91 23, 2.02 B (09-91-23-interior-painting.txt, line 42): “Finish paint: 400 sq ft per gallon”"
        in text
    )
    assert "Assumed: 350 sq ft per gal." in text
    assert "9 cans of finish paint (sea green, satin, wall) instead of 10, 1 fewer" in text
    assert "If 3 coats: 8 cans of finish paint (fog white, flat, ceiling) instead of 5, 3 more." in text


ROOMS = """[[rooms]]
name = "{}"
length = "10 ft"
width = "10 ft"
height = "8 ft"
"""
SCHEDULE = """3.1   PAINT SYSTEMS
      .1   PT-1: one coat latex primer, two coats latex eggshell.
      .2   PT-3: one coat latex primer, one coat latex flat.

3.2   FINISH SCHEDULE

      No.    Room         Walls         Ceiling
      101    Lobby        PT-1          PT-3
      102    Office       PT-1          PT-3
      103    Boiler Room   primer only   primer only
"""


def test_a_question_about_one_room_names_it_and_quotes_its_row() -> None:
    rooms = "".join(map(ROOMS.format, ("Lobby", "Office", "Boiler Room")))
    told = " ".join(handed.text("letter", estimated(rooms, SCHEDULE)).split())
    assert "How many coats of primer on the walls and ceilings in Boiler Room?" in told
    assert "Clause: 3.2 (spec.txt, line 10): “103, Boiler Room, primer only, primer only”" in told


def test_clauses_with_one_sentence_are_quoted_once() -> None:
    source = Source("spec.txt", "Per coat: primer 300 sq ft per gallon,\nundercoat 250 sq ft per gallon.\n")
    rules = [evolve(rule("coverage", "primer", "300 sq ft", "1 gal"), span=source.span(at, at + 3)) for at in (17, 49)]
    assert cited(rules) == (
        "spec.txt, lines 1 and 2: “Per coat: primer 300 sq ft per gallon, undercoat 250 sq ft per gallon”",
    )


def reworked(tmp_path: Path, file: str, old: str, new: str) -> Estimate:
    """The demo with other words in one of its files."""
    with demo_folder() as folder:
        for one in folder.iterdir():
            if one.is_file():
                (tmp_path / one.name).write_bytes(one.read_bytes())
    text = (tmp_path / file).read_text(encoding="utf-8")
    assert old in text
    (tmp_path / file).write_text(text.replace(old, new), encoding="utf-8")
    outcome = estimate_of(Wanted(str(tmp_path / "job.toml")))
    assert outcome.estimate is not None, outcome.problems
    return outcome.estimate


@pytest.mark.parametrize(
    ("answer", "file", "old", "new"),
    [
        ("400 sq ft per gal", "09-91-23-interior-painting.txt", "350 square feet per gallon", "400 square feet per gallon"),
        ("3 coats", "job.toml", "rules = [", 'rules = [ "Ceilings: three coats finish paint.",'),
        ("1 coat", "job.toml", "rules = [", 'rules = [ "Ceilings: one coat finish paint.",'),
        ("all openings taken out", "job.toml", "rules = [", 'rules = [ "Deduct all openings.",'),
    ],
)  # fmt: skip
def test_the_difference_told_is_what_darby_gives_under_that_answer(
    tmp_path: Path, answer: str, file: str, old: str, new: str
) -> None:
    demo = handed.demo()
    told = [d for q in demo.questions for d in differences(q, demo) if d.answer == answer]
    again = reworked(tmp_path, file, old, new)
    counts = {i.id: i.count for i in again.items}
    assert told
    assert {d.item.id: d.then for d in told} == {d.item.id: counts[d.item.id] for d in told}
    moved = {i.id for i in demo.items if counts[i.id] != i.count}
    assert moved <= {d.item.id for d in told}


def test_rework_without_changes_gives_the_same_order() -> None:
    for one in handed.demo().items:
        order = one.order
        assert order is not None
        assert rework(order, {}) is order


@pytest.mark.parametrize(
    ("text", "at", "number"),
    [
        ("SECTION 09 91 23\n\n3.02 APPLICATION\n    A. One.\n    D. Spread it.\n", "Spread", "09 91 23, 3.02 D"),
        ("3.02 APPLICATION\n  Spread it.\n", "Spread", "3.02"),
        ("A. Old.\n3.02 NEW\nSpread it.\n", "Spread", "3.02"),
        ("ADDENDUM\n\n1.  Section 2 now reads:\n   Spread it.\n", "Spread", "item 1"),
        ("SECTION 09 91 23\n2.01 GOODS\nA. Old.\nPART 3 - EXECUTION\nB. Spread it.\n", "Spread", "09 91 23, B"),
        ("2.01 GOODS\nA. Old.\nPART 3 - EXECUTION\nSpread it.\n", "Spread", ""),
        ("Spread it.\n", "Spread", ""),
    ],
)
def test_a_place_is_told_as_the_document_counts_it(text: str, at: str, number: str) -> None:
    source = Source("s.txt", text)
    span = source.span(text.index(at), text.index(at) + len(at))
    assert clause_number(span) == number
    assert f"line {span.line}" in whereabouts(span)


def test_an_exception_is_asked_about_with_what_it_takes_out_and_what_was_assumed() -> None:
    room = '[[rooms]]\nname = "Loft"\nlength = "10 ft"\nwidth = "8 ft"\nheight = "8 ft"\n'
    made_ = estimated(room, "PAINTING\nA. Walls: two coats eggshell, unless old paint is sound.\nB. Ceilings: two coats flat, except where beams are exposed.\n")  # fmt: skip
    found = [point for point in points(made_) if "exception" in point.text]
    assert [point.text for point in found] == [
        "Where does this exception apply, and what holds there: “unless old paint is sound”?",
        "Where does this exception apply, and what holds there: “except where beams are exposed”?",
    ]
    assert {point.assumed for point in found} == {"the exception applies nowhere"}
    assert "Walls: two coats eggshell, unless old paint is sound" in found[0].clauses[0]


def test_a_mock_up_is_no_clause_that_raises_a_question_about_the_work() -> None:
    room = '[[rooms]]\nname = "Loft"\nlength = "10 ft"\nwidth = "8 ft"\nheight = "8 ft"\n'
    made_ = estimated(room, "GYPSUM BOARD\nA. Build one mock-up of at least 100 sq ft of gypsum board.\n\nB. Gypsum board: 4 ft by 12 ft sheets.\n")  # fmt: skip
    assert any(rule.kind.name == "spare" for rule in made_.rules)
    cited = [clause for point in points(made_) for clause in point.clauses]
    assert any("4 ft by 12 ft" in clause for clause in cited)
    assert not any("mock-up" in clause for clause in cited)


def test_what_hangs_on_a_question_is_told_in_packages_or_pieces() -> None:
    room = '[[rooms]]\nname = "Loft"\nlength = "10 ft"\nwidth = "8 ft"\nheight = "8 ft"\n'
    made_ = estimated(room, "GYPSUM BOARD\nA. Gypsum board: 1/2 in. thick. Screws at 12 in. on center.\n")
    told = " ".join(handed_text for point in points(made_) for _, handed_text in point.changes)
    assert " screws (" in told
    assert "each now" not in told


def test_a_figure_that_is_not_counted_has_no_invented_answers() -> None:
    demo = handed.demo()
    assert not [d for q in demo.questions for d in differences(q, demo) if "tenth" in d.answer]


def test_the_log_holds_the_questions_of_the_letter_and_room_for_answers() -> None:
    document = document_named("clarifications.csv")
    assert document is not None
    made_ = document.make(handed.demo())
    assert isinstance(made_, bytes)
    rows = read_csv(made_)
    letter = " ".join(handed.text("letter").split())
    assert [row["no."] for row in rows] == ["1", "2"]
    for row in rows:
        assert row["question"] in letter
        assert [row[key] for key in ("answered", "by", "answer")] == ["", "", ""]


def test_the_letter_says_what_the_job_says_of_it() -> None:
    sent = Sending(letter={"to": "Osier Architects", "reply by": "June 2", "number": "L-7"})
    text = handed.text("letter", made.estimate(job=evolve(made.estimate().job, sending=sent)))
    assert "To:       Osier Architects" in text.splitlines()
    assert "Please answer these questions by June 2." in " ".join(text.split())


def test_what_only_the_estimator_can_settle_is_not_sent() -> None:
    spec = made.SPEC
    ours = problem(
        "unclear", "“840”: goods that no list knows: is it yours?", spec.span(0, 4), severity=Severity.QUESTION
    )
    hers = problem("unclear", "“one coat”: the text leaves it open", spec.span(0, 4), severity=Severity.QUESTION)
    papers = ((spec, SPECIFICATION),)
    asked = [list(points(made.estimate(diagnostics=(d,), papers=papers))) for d in (ours, hers)]
    assert [len(found) for found in asked] == [1, 2]
    assert asked[1][-1].text.endswith("the text leaves it open.")


def test_an_exception_that_is_asked_about_is_named_by_its_word() -> None:
    room = '[[rooms]]\nname = "Loft"\nlength = "10 ft"\nwidth = "10 ft"\nheight = "8 ft"\n'
    text = " ".join(handed.text("letter", estimated(room, "Walls: two coats satin, except the mast room.\n")).split())
    assert "Where does this exception apply, and what holds there: “except the mast room”? Clause:" in text
