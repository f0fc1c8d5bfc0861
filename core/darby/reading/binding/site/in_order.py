"""Lists that answer each other: `Panels in the field and at edges: 12 in. and 8 in. respectively`, of which each value is of the member in its
place.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from attrs import evolve

from darby.reading.binding.site.finding import Finding, Word
from darby.reading.parsing.sentence import Sentence
from darby.reading.parsing.tagging.tag import Tag
from darby.rules.found_by import FoundBy
from darby.rules.name_matching import SORT

_JOINTS = ("AND", "COMMA", "PER", "SIGN", "FOR", "ALL")
ON_THE_WORK = ("where", "layer", "subject", SORT)
IN_PLACES = ("room", "surface")


def in_order(
    findings: Sequence[Finding], sentence: Sentence, instead: Mapping[str, str], of: Sequence[str] = ON_THE_WORK
) -> bool:
    """Give each value of a sentence that says `respectively` to the member in its place of a list of words `of` some sorts; whether there is
    one such list. What a place on the work means for a kind is in `instead`.
    """
    if not any(t.name == "RESPECTIVELY" for t in sentence.tags):
        return False
    kinds = [f.kind for f in findings if f.kind and not f.aside]
    kind = max(kinds, key=kinds.count, default="")
    values = [f for f in findings if f.kind == kind and not f.aside]
    first = next((f for f in values if f.stands), None)
    if first is None or len(values) < 2:
        return False
    spans = [(f.fact.place, f.fact.over) for f in findings]
    lists = [
        some for some in _lists(sentence.tags, spans, of) if len({t.value for t in some}) == len(values) == len(some)
    ]
    if len(lists) != 1:
        return False
    for finding, member in zip(values, lists[0], strict=True):
        if not finding.stands:
            finding.unread, finding.subjects, finding.scope = "", first.subjects, dict(first.scope)
            finding.surfaces, finding.places = first.surfaces, first.places
        _give(finding, evolve(member, value=instead.get(f"{member.value} / {kind}", member.value)))
    return True


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


def _lists(tags: Sequence[Tag], spans: Sequence[tuple[int, int]], of: Sequence[str]) -> Iterator[list[Tag]]:
    """The lists of a sentence: words of one sort that only joints stand between."""
    found: list[Tag] = []
    joined = False
    for tag in tags:
        member = tag.name in of and not any(begin <= tag.start < end for begin, end in spans)
        if member and joined and found and found[-1].name == tag.name:
            found.append(tag)
        elif member or tag.name not in _JOINTS:
            if found:
                yield found
            found = [tag] if member else []
        joined = tag.name in _JOINTS
    if found:
        yield found
