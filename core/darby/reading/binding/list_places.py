"""Surfaces and places that the facts of a list share: `one coat A, two coats B to corridor walls`, `5/8 in. panels to corridor walls,
two layers`.

Where a fact takes its surface from another one of its list, it takes the place that stands beside it too; else it would hold everywhere.
"""

from __future__ import annotations

from collections.abc import Sequence

from darby.reading.binding.site.conditions import GOODS
from darby.reading.binding.site.finding import Finding, Site, Word
from darby.reading.parsing.sentence import Sentence
from darby.rules.found_by import FoundBy

WHICH = ("condition", "facing", "where")
"""What tells some surfaces from others of their kind."""
Bound = Sequence[tuple[Finding, Site]]
_WHERE = ("room", "surface", "where", "condition", "layer", "ELSEWHERE", "EVERYWHERE", "EXCEPT")
"""What says by itself where a fact holds."""
EVERYWHERE = ("ALL_OVER", "ELSEWHERE", "EVERYWHERE")
_BEFORE = (FoundBy.PHRASE_BEFORE, FoundBy.FACT_BEFORE, FoundBy.LIST)
OF_GOODS = (*GOODS, "waste", "deduct openings over")
"""What is said of goods wherever they go, and of how they are counted."""


def spread(findings: list[Finding], sentence: Sentence) -> None:
    """A surface at the end of a list holds for the facts before it: `one coat A and two coats B to walls`."""
    for n, finding in reversed(list(enumerate(findings))):
        if finding.surfaces or finding.aside or finding.unread or on_something(finding, sentence):
            continue
        later = next((f for f in findings[n + 1 :] if f.kind == finding.kind and f.stands), None)
        if later is None or not later.surfaces or later.surfaces[0].how not in (FoundBy.PHRASE, FoundBy.LIST_TAIL):
            continue
        if any(t.name == "SEMICOLON" and finding.fact.place < t.start < later.fact.place for t in sentence.tags):
            continue
        other = not same_coat(finding, later)
        if later.surfaces[0].how == FoundBy.LIST_TAIL and not other:
            continue
        where = later.scope.get("where")
        if other or (where != finding.scope.get("where") and where != "behind something"):
            finding.surfaces = [Word(w.value, FoundBy.LIST_TAIL) for w in later.surfaces]
            _share_which(finding, later, sentence)


def _share_which(finding: Finding, later: Finding, sentence: Sentence) -> None:
    """Which of the surfaces are meant is said with them, behind the last of a list: `one coat A and two coats B to new doors`."""
    behind = [t for t in sentence.tags if t.start >= later.fact.over]
    said = {(key, value) for t in behind for key, value in ((t.name, t.value), *t.also) if key in WHICH}
    for key in WHICH:
        if key in later.scope and key not in finding.scope and (key, later.scope[key]) in said:
            finding.scope[key] = later.scope[key]


def same_coat(finding: Finding, other: Finding) -> bool:
    """Whether two facts are of one product and of one coat of it."""
    return [w.value for w in finding.subjects] == [w.value for w in other.subjects] and finding.scope.get(
        "coat"
    ) == other.scope.get("coat")


def on_something(finding: Finding, sentence: Sentence) -> bool:
    """Whether a phrase says what its fact goes on: `one coat A to all new panels`."""
    phrase = next((p for p in sentence.phrases if finding.fact in p.facts), None)
    if phrase is not None and any(t.name in EVERYWHERE for t in phrase.tags):
        return True  # `Level 4 elsewhere, Level 5 on that wall`
    own = {w.value for w in finding.subjects}
    behind = [t for t in phrase.tags if t.start > finding.fact.over] if phrase is not None else []
    return any(t.name == "subject" and t.value not in own for t in behind)


def share_places(bound: Bound) -> None:
    """Give the facts of a sentence the places of its list that they lack. What is said of goods is of all of them."""
    stand = [(finding, site) for finding, site in bound if finding.stands and finding.kind not in OF_GOODS]
    for n, (finding, site) in reversed(list(enumerate(stand))):
        if _names_place(site) or any(t.name == "ELSEWHERE" for t in (*site.phrase.tags, *site.part.tail)):
            continue
        how = finding.surfaces[0].how if finding.surfaces else ""
        if how in _BEFORE:
            of = next((f for f, s in reversed(stand[:n]) if _beside(f, finding) and _names_place(s)), None)
        else:
            of = _behind(finding, site, stand[n + 1 :])
        if of is None:
            continue
        if how in _BEFORE or how == FoundBy.LIST_TAIL:
            finding.places = [(room, Word(surface.value, how) if surface else None) for room, surface in of.places]
        else:
            surfaces: list[Word | None] = [*finding.surfaces] or [None]
            rooms = dict.fromkeys(room for room, _ in of.places)
            finding.places = [(room, surface) for room in rooms for surface in surfaces]


def hold_excepted(bound: Bound) -> None:
    """What goes on behind an exception holds where that does: `400 sq ft/gal, except in baths two coats satin, 300 sq ft/gal`."""
    for n, (finding, site) in enumerate(bound):
        if not finding.stands or any(t.name in _WHERE for t in (*site.phrase.tags, *site.part.tail)):
            continue
        opens = next((t for t in reversed(site.words_before(finding.fact)) if t.name in ("EXCEPT", "SEMICOLON")), None)
        if opens is None or opens.name != "EXCEPT":
            continue
        of = next((f for f, _ in reversed(bound[:n]) if f.stands and f.fact.place > opens.start), None)
        if of is None or not any(room for room, _ in of.places):
            continue
        if {w.value for w in of.subjects}.isdisjoint(w.value for w in finding.subjects):
            finding.confirm = (
                finding.confirm or "an exception stands before it: whether it holds there alone is not sure"
            )
        else:
            finding.scope = {**of.scope, **finding.scope}
            finding.places = [*of.places]


def _beside(other: Finding, finding: Finding) -> bool:
    return {w.value for w in other.surfaces} == {w.value for w in finding.surfaces}


def _behind(finding: Finding, site: Site, later: Bound) -> Finding | None:
    """The next of its kind, of another product, where that names the place of both behind its own number."""
    of, its = next(((f, s) for f, s in later if f.kind == finding.kind), (None, None))
    if of is None or its is None or its.part is not site.part:
        return None
    own = [t for t in (*site.phrase.tags, *site.part.tail) if t.name in _WHERE]
    if own or same_coat(finding, of):
        return None
    rooms = [t for t in its.phrase.tags if t.name == "room" and not t.loose]
    if not rooms:
        return _behind(of, its, later[[f for f, _ in later].index(of) + 1 :])
    return of if all(t.start > of.fact.place for t in rooms) else None


def _names_place(site: Site) -> bool:
    """Whether the words around a fact in its sentence name a place."""
    opening = site.earlier[0].lead if site.earlier else []
    return any(t.name == "room" for t in (*site.phrase.tags, *site.part.tail, *site.label, *opening))
