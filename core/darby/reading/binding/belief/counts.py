"""Several counts of one sentence that are not all orders: parts of one another, or each for what it goes over."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations, pairwise, takewhile

from attrs import evolve

from darby.reading.binding.site.finding import Finding
from darby.reading.parsing.sentence import Sentence

_MOST = 8
"""Counts of one sentence that are held against each other."""


def held(finding: Finding) -> tuple[tuple[str, str], ...]:
    """The places and surfaces that a finding is said of."""
    return tuple((room, surface.value if surface is not None else "") for room, surface in finding.places)


def part_of_count(sentence: Sentence, findings: Sequence[Finding]) -> None:
    """`Three coats, one of which is varnish` are two and one; `the first being varnish` names no number, and is asked about."""
    for first, second in pairwise(findings):
        whole, part = first.amount, second.amount
        behind = next((t for t in sentence.tags if t.start >= second.fact.place + 1 and t.name == "OF_WHICH"), None)
        of_it = behind is not None and not any(second.fact.over < t.start < behind.start for t in sentence.tags)
        if first.kind != "coats" or second.kind != "coats" or not of_it or whole is None or part is None:
            continue
        if part.low < whole.low and {w.value for w in first.subjects}.isdisjoint(w.value for w in second.subjects):
            first.amount, first.summed = evolve(whole, low=whole.low - part.low), True
            second.surfaces, second.places = list(first.surfaces), list(first.places)
        else:
            first.doubt = first.doubt or _SOME_OF_THEM
    for finding in findings:
        behind_it = [t for t in sentence.tags if t.start >= finding.fact.over]
        names = [t.name for t in behind_it[:5]]
        told = "ORDINAL" in names and any(n in names for n in ("HOLDS", "BEING"))
        if finding.kind == "coats" and finding.stands and told and names[0] == "COMMA":
            finding.doubt = finding.doubt or _SOME_OF_THEM


_SOME_OF_THEM = "some of these coats are of another product: how many of each is not said"


def over_different(sentence: Sentence, findings: Sequence[Finding]) -> None:
    """`one coat over wax; two coats over bare wood`: two counts of one thing for one place, told apart by what they go over alone."""
    coats = [f for f in findings if f.kind == "coats" and f.stands and not f.doubt]
    for first, second in combinations(coats[:_MOST], 2):
        same = first.subjects and {w.value for w in first.subjects} == {w.value for w in second.subjects}
        alike = held(first) == held(second) and first.scope == second.scope and first.marks == second.marks
        if (
            same
            and alike
            and first.amount != second.amount
            and _goes_over(sentence, first)
            and _goes_over(sentence, second)
        ):
            for finding in (first, second):
                finding.doubt = "each number is for what it goes over: which of these there is is not said"


def _goes_over(sentence: Sentence, finding: Finding) -> bool:
    """Whether it is said what coats go over, before the next number."""
    behind = (t for t in sentence.tags if t.start >= finding.fact.over)
    return any(t.name == "LARGER_THAN" for t in takewhile(lambda t: t.name not in ("NUMBER", "SEMICOLON"), behind))
