"""Doubts that the documents raise by themselves: each with its clause and what is assumed, in words for whoever wrote them."""

from __future__ import annotations

from attrs import evolve

import made
from darby.documents.letters.asked import points
from darby.documents.letters.raised import raised, saying
from darby.rules.rule import SPECIFICATION, addendum
from darby.text.diagnostics import Label, Severity, problem
from darby.text.spans import Source
from desk import estimated

ROOM = '[[rooms]]\nname = "{}"\nlength = "10 ft"\nwidth = "10 ft"\nheight = "8 ft"\n'
LEGEND = """PT-1: One coat primer, two coats eggshell.
PT-2: One coat primer, two coats satin.

Cooperage walls: PT-1.
Cooperage walls: PT-2.
"""


def test_a_change_of_an_addendum_that_could_not_be_carried_out_is_asked_about() -> None:
    paper = Source("addendum-2.txt", "1. In 2.02 B change five coats to six.\n")
    told = problem(
        "amend-nothing",
        "addendum 2 changes five to six in 2.02 B, which could not be followed; what stood there was kept.",
        paper.span(3, 37),
        severity=Severity.QUESTION,
    )
    done = made.estimate(diagnostics=(told, evolve(told, severity=Severity.NOTE)), papers=((paper, addendum(2)),))
    (one,) = raised(done)
    assert one.text == "Addendum 2 changes five to six in 2.02 B, which could not be followed. How does it read with this change?"  # fmt: skip
    assert one.clauses == ("item 1 (addendum-2.txt, line 1): “In 2.02 B change five coats to six”",)
    assert one.assumed == "what stood there was kept"


def test_a_mark_that_nothing_defines_is_asked_for_and_one_of_the_job_is_the_estimators_own() -> None:
    for paper, many in ((Source("spec.txt", "Cooperage walls: PT-7.\n"), 1), (Source("job.toml", "PT-7"), 0)):
        told = problem("system-undefined", "PT-7 is given to a wall, and no document says what PT-7 is.", paper.span(0, 4), severity=Severity.QUESTION)  # fmt: skip
        papers = ((Source("spec.txt", paper.text), SPECIFICATION),) if not many else ((paper, SPECIFICATION),)
        assert len(list(raised(made.estimate(diagnostics=(told,), papers=papers)))) == many


def test_a_place_that_is_given_two_systems_is_asked_about_once_by_what_they_differ_in() -> None:
    done = estimated(ROOM.format("Cooperage"), LEGEND)
    found = [one for one in points(done) if "PT-2" in " ".join((one.text, *one.clauses))]
    assert [one.text for one in found] == ["Which sheen of finish paint on the walls?"]
    assert found[0].assumed == "eggshell"
    assert [clause.partition(": ")[2] for clause in found[0].clauses] == [
        "“Cooperage walls: PT-1”", "“PT-1: One coat primer, two coats eggshell”", "“Cooperage walls: PT-2”",
        "“PT-2: One coat primer, two coats satin”",
    ]  # fmt: skip


def test_systems_that_differ_in_nothing_that_is_ordered_are_asked_about_as_marks() -> None:
    paper = Source("spec.txt", LEGEND)
    first, second = (paper.span(at := LEGEND.index(f"walls: {mark}") + 7, at + 4) for mark in ("PT-1", "PT-2"))
    told = problem(
        "system-given-twice", "Cooperage wall is given PT-1 and also PT-2.", first,
        severity=Severity.QUESTION, more=[Label(second)],
    )  # fmt: skip
    (one,) = points(made.estimate(diagnostics=(told,), papers=((paper, SPECIFICATION),)))[-1:]
    assert one.text == "Cooperage wall is given PT-1 and also PT-2. Which holds?"
    assert one.clauses == ("spec.txt, line 4: “Cooperage walls: PT-1”", "spec.txt, line 5: “Cooperage walls: PT-2”")


def test_a_clause_is_quoted_with_its_label_and_a_row_by_its_cells() -> None:
    source = Source("s.txt", "A. Vat house: Two coats.\nCooper's yard    PT-1    PT-3\n")
    assert saying(source.span(14, 23)) == "“Vat house: Two coats”"
    assert saying(source.span(42, 46)) == "“Cooper's yard, PT-1, PT-3”"


def test_what_is_left_as_it_is_is_excluded_and_not_asked_about() -> None:
    done = estimated(ROOM.format("Cooperage"), "Walls: two coats satin.\nExisting doors are not painted.\n")
    assert not [one for one in points(done) if "not painted" in one.text]
    assert [one for one in done.diagnostics if "not painted" in one.message]
