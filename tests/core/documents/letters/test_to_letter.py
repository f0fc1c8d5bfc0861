"""The order list, the letter and the scope note: complete, in three forms that say the same, with true differences."""

from __future__ import annotations

from pathlib import Path

import pytest

import handed
import made
from darby.cli.shared.jobs import Wanted, demo_folder, estimate_of
from darby.documents.differences import differences, rework
from darby.documents.words import clause_number, whereabouts
from darby.estimate.model import Estimate
from darby.text.spans import Source


def test_an_incomplete_estimate_says_so_in_each() -> None:
    for name in ("order", "scope"):
        assert "Incomplete: The lines of coatings are missing" in handed.text(
            name, made.estimate(missing=("coatings",))
        )


def test_the_letter_asks_what_the_architect_can_answer() -> None:
    text = " ".join(handed.text("letter").split())
    for question in handed.demo_json()["questions"]:
        sentence = question["text"].partition(". The documents ")[0]
        assert (sentence in text) == (question["to"] == "specifier" or "say both" in question["text"]), sentence


def test_each_question_has_its_place_what_was_assumed_and_the_difference() -> None:
    text = " ".join(handed.text("letter").split())
    assert "“350 square feet per gallon” in 09 91 23, 3.02 D (09-91-23-interior-painting.txt, line 55)" in text
    assert "“400 sq ft per gallon” in 09 91 23, 2.02 B" in text
    assert "Assumed meanwhile: 350 sq ft per gal." in text
    assert "9 cans of finish paint (sea green, satin, wall) instead of 10, 1 fewer" in text
    assert "With 3 coats: 8 cans of finish paint (fog white, flat, ceiling) instead of 5, 3 more." in text


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
        assert one.order is not None
        assert rework(one.order, lambda _: None) == one.order


@pytest.mark.parametrize(
    ("text", "at", "number"),
    [
        ("SECTION 09 91 23\n\n3.02 APPLICATION\n    A. One.\n    D. Spread it.\n", "Spread", "09 91 23, 3.02 D"),
        ("3.02 APPLICATION\n  Spread it.\n", "Spread", "3.02"),
        ("A. Old.\n3.02 NEW\nSpread it.\n", "Spread", "3.02"),
        ("ADDENDUM\n\n1.  Section 2 now reads:\n   Spread it.\n", "Spread", "item 1"),
        ("Spread it.\n", "Spread", ""),
    ],
)
def test_a_place_is_told_as_the_document_counts_it(text: str, at: str, number: str) -> None:
    source = Source("s.txt", text)
    span = source.span(text.index(at), text.index(at) + len(at))
    assert clause_number(span) == number
    assert f"line {span.line}" in whereabouts(span)
