"""Lists that answer each other: `Panels on walls and ceilings: 8 in. and 7 in. respectively`, of which each value is of the member in its place."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from attrs import evolve

from darby.reading.binding.site.finding import Finding, Word
from darby.reading.parsing.sentence import Sentence
from darby.reading.parsing.tagging.tag import Tag
from darby.rules.found_by import FoundBy
from darby.rules.name_matching import SORT

_JOINTS = ("AND", "COMMA", "PER", "SIGN", "FOR", "ALL")
_MEMBERS = ("room", "where", "layer", "surface", "subject", SORT)
_UNPAIRED = "each is of one of several in their order, and which these are was not understood"


def in_order(findings: Sequence[Finding], sentence: Sentence, instead: Mapping[str, str]) -> None:
    """Give each value of a sentence that says `respectively` to the member in its place; without such a list none of them is believed.
    What a place on the work means for a kind is in `instead`.
    """
    if not any(t.name == "IN_ORDER" for t in sentence.tags):
        return
    kinds = [f.kind for f in findings if f.kind and not f.aside]
    kind = max(kinds, key=kinds.count, default="")
    values = [f for f in findings if f.kind == kind and not f.aside]
    first = next((f for f in values if f.stands), None)
    if first is None or len(values) < 2:
        return
    spans = [(f.fact.place, f.fact.over) for f in findings]
    lists = [some for some in _lists(sentence.tags, spans) if len({t.value for t in some}) == len(values) == len(some)]
    if len(lists) != 1:
        for finding in values:
            finding.doubt = finding.doubt or _UNPAIRED
        return
    for finding, member in zip(values, lists[0], strict=True):
        if not finding.stands:
            finding.unread, finding.subjects, finding.scope = "", first.subjects, dict(first.scope)
            finding.surfaces, finding.places = first.surfaces, first.places
        _give(finding, evolve(member, value=instead.get(f"{member.value} / {kind}", member.value)))


def _give(finding: Finding, member: Tag) -> None:
    """Have a value said of a member of a list."""
    if member.name == "subject":
        finding.subjects = [Word(member.value, FoundBy.LIST)]
    elif member.name == "surface":
        finding.surfaces = [Word(member.value, FoundBy.LIST)]
        rooms = dict.fromkeys(room for room, _ in finding.places or [("", None)])
        finding.places = [(room, on) for room in rooms for on in finding.surfaces]
    elif member.name == "room":
        surfaces: list[Word | None] = [*finding.surfaces] or [None]
        finding.places = [(member.value, on) for on in surfaces]
    else:
        finding.scope[member.name] = member.value


def _lists(tags: Sequence[Tag], spans: Sequence[tuple[int, int]]) -> Iterator[list[Tag]]:
    """The lists of a sentence: words of one sort that only joints stand between."""
    found: list[Tag] = []
    joined = False
    for tag in tags:
        member = tag.name in _MEMBERS and not any(begin <= tag.start < end for begin, end in spans)
        if member and joined and found and found[-1].name == tag.name:
            found.append(tag)
        elif member or tag.name not in _JOINTS:
            if found:
                yield found
            found = [tag] if member else []
        joined = tag.name in _JOINTS
    if found:
        yield found
