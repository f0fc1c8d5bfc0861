"""Doors, trim and the like that are entered without a room, where documents say something of such surfaces in one: it cannot reach them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from darby.job.checks.check import Check, check
from darby.job.model import Job, Surface
from darby.job.rows.sheet import shown
from darby.rules.name_matching import meets
from darby.rules.rule import HOUSE, Rule
from darby.text.diagnostics import Label

_OF_ROOMS = frozenset({"wall", "ceiling"})
"""Kinds of surface that rooms bring themselves; of those that do not, it is easy to leave the room out."""
_SHOWN = 3


def out_of_reach(job: Job, rules: Iterable[Rule]) -> Iterator[Check]:
    """Surfaces in no room, one check for each kind of them that a rule of the documents or the job speaks of in some room."""
    roomless: dict[str, list[Surface]] = {}
    for surface in job.surfaces:
        if not surface.room and surface.kind not in _OF_ROOMS:
            roomless.setdefault(surface.kind, []).append(surface)
    if not roomless:
        return
    said: dict[str, list[Rule]] = {}
    for rule in rules:
        of = rule.scope.get("surface", "")
        if of and "room" in rule.scope and rule.layer.rank > HOUSE.rank:
            for kind in (kind for kind in roomless if meets("surface", of, kind)):
                said.setdefault(kind, []).append(rule)
    for kind, some in said.items():
        first, surfaces = some[0], roomless[kind]
        room, more = first.scope["room"], len({rule.span for rule in some}) - 1
        names = [f"“{shown(s.name)}”" for s in surfaces[:_SHOWN]]
        names += [f"{len(surfaces) - _SHOWN:,} more"] if len(surfaces) > _SHOWN else []
        yield check(
            "surface-roomless", [s.name for s in surfaces],
            f"“{shown(first.span.text)}” is for the {first.scope['surface']} in the {room}"
            + (f", with {more:,} more such {'clauses' if more > 1 else 'clause'}" if more else "")
            + f"; the job has {_and(names)} without a room, so the clause does not apply there",
            surfaces[0].span, "Write the room in each row, as the documents call it, and split a row that covers several rooms.",
            [Label(first.span, "said here")],
        )  # fmt: skip


def _and(names: list[str]) -> str:
    return " and ".join(filter(None, (", ".join(names[:-1]), names[-1])))
