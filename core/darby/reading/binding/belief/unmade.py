"""Choices that nobody has made: one look or another, choices in brackets."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from darby.reading.binding.site.finding import Finding, named
from darby.reading.parsing.sentence import Sentence
from darby.reading.parsing.tagging.tag import Tag

_OPEN = ("EITHER", "PER")
_ONE_AT_A_TIME = ("sheen", "color", "system", "class")
SYSTEM = "system"
NOWHERE = "says what something is, and of no place"


def hold_open(sentence: Sentence, tags: Sequence[Tag], found: Sequence[Finding]) -> None:
    """`flat or eggshell`, `PT-1/PT-5`: a choice that nobody has made."""
    for finding in found if sentence.asks else ():
        finding.aside, finding.choice = "a question: look for its answer", ""
    for first, second in pairwise(found):
        between = [t.name for t in tags[first.fact.end : second.fact.start]]
        undecided = not between or (len(between) == 1 and between[0] in _OPEN)
        listed = bool(between) and set(between) <= {"AND", "COMMA"}
        both = first.kind in _ONE_AT_A_TIME and listed and first.places == second.places
        alike = (
            first.kind == second.kind and first.fact.subject == second.fact.subject
        )  # else one may go over the other
        if alike and first.choice != second.choice and (undecided or both):
            first.doubt = second.doubt = "a choice that nobody has made"
    for finding in (f for f in found if f.kind == SYSTEM):
        if [t.name for t in tags[finding.fact.end : finding.fact.end + 1]] == ["EITHER"]:  # `P4 or stain`
            finding.doubt = finding.doubt or "a choice that nobody has made"
    for first, second in pairwise(found):
        # `blue, red and green for corridors`: only the last one stands beside the place
        names = {t.name for t in tags[first.fact.end : second.fact.start]}
        alike = first.kind == second.kind and first.kind in _ONE_AT_A_TIME and first.aside == NOWHERE
        if alike and second.choice and names and names <= {"COMMA", "AND"}:
            second.doubt = second.doubt or "a choice that nobody has made"
    for finding in found:
        if finding.fact.start and tags[finding.fact.start - 1].name == "CHOICE":
            finding.doubt = "a choice in brackets that nobody has made"
    if named(sentence.tags, "OPEN_ENDED"):
        for finding in found:
            finding.doubt = finding.doubt or "the text leaves it open"
