"""Lists of places below what holds there: `Two coats at the following:` over `Archive`, `Lobby walls`. What such a line says is said of
these, and of nothing else.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence

from attrs import evolve

from darby.reading.binding.places import chains, pairs
from darby.reading.binding.site.finding import Finding, Word
from darby.reading.layout.clause import Clause
from darby.reading.parsing.tagging.tag import Tag
from darby.rules.found_by import FoundBy
from darby.text.spans import View

Tags = Sequence[Tag]
_ON = frozenset(
    "room surface where facing condition layer AND COMMA PER SIGN ALL BOTH OF ITS STOP SEMICOLON ONLY".split()
)
_PLACES = frozenset(("room", "surface", "where", "layer"))
_LIMITS = ("where", "facing", "condition", "layer")
_NO_LIST = ("EXCEPT", "NO", "ELSEWHERE", "EVERYWHERE", "EXCEPTED")
_LONGEST = 10
"""Words in a line that only names places."""
_STRANGE = "a line of the list below it was not read as a place"


def lists_below(clauses: Iterable[Clause]) -> Mapping[int, Sequence[Clause]]:
    """The lines of each list right below the clause that leads to it, by the `id` of that clause."""
    found: dict[int, list[Clause]] = {}
    for clause in clauses:
        if clause.parents and clause.parents[0].leads_in and not (clause.parents[0].heading or clause.heading):
            found.setdefault(id(clause.parents[0]), []).append(clause)
    return found


def hold_below(findings: Sequence[Finding], lead: Tags, below: Sequence[Clause], tags: Callable[[View], Tags]) -> None:
    """Have what a clause states hold in the places that are listed below it, where most of the list names places and states nothing. What is
    said with an exception or of everything is said of no such list.
    """
    lines = [tags(clause.view) if _short(clause) else () for clause in below]
    named = [line for line in lines if _names_places(line)]
    if not named or any(t.name in _NO_LIST for t in lead):
        return
    for finding in findings:
        if not finding.stands or finding.doubt or any(room for room, _ in finding.places) or "where" in finding.scope:
            continue
        if 2 * len(named) <= len(lines):
            finding.confirm = finding.confirm or _STRANGE
            continue
        first, *others = [_there(finding, line) for line in named]
        finding.places, finding.scope, finding.also = first.places, first.scope, others
        if len(named) < len(lines):
            finding.confirm = finding.confirm or _STRANGE


def _there(finding: Finding, line: Tags) -> Finding:
    """What a finding says in the places that a line names."""
    own: list[Word | None] = [*finding.surfaces] or [None]
    found = dict.fromkeys(pair for chain in chains(line) for pair in pairs(chain))
    places = [(room, on) for room, surface in found for on in ([Word(surface, FoundBy.LIST)] if surface else own)]
    limits = {t.name: t.value for t in line if t.name in _LIMITS}
    limits |= {key: value for t in line for key, value in t.also if key in _LIMITS and t.name in _PLACES}
    return evolve(finding, places=places or finding.places, scope={**finding.scope, **limits}, also=[])


def _short(clause: Clause) -> bool:
    return not clause.cells and len(clause.text.split()) <= _LONGEST


def _names_places(line: Tags) -> bool:
    names = {t.name for t in line}
    return not names.isdisjoint(_PLACES) and names <= _ON
