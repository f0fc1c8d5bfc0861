"""Doors, trim and the like that are entered without a room, where documents say something of such surfaces in one: what is said alike
in most rooms is taken for all of them and waits to be confirmed, anything else cannot reach them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from attrs import evolve

from darby.job.checks.check import Check, check
from darby.job.model import Job, Surface
from darby.job.rows.sheet import shown
from darby.rules.name_matching import meets
from darby.rules.room_names import Rooms
from darby.rules.rule import HOUSE, Rule
from darby.text.diagnostics import Label

_OF_ROOMS = frozenset({"wall", "ceiling"})
"""Kinds of surface that rooms bring themselves; of those that do not, it is easy to leave the room out."""
_SHOWN = 3


def said_alike(job: Job, rules: Sequence[Rule]) -> tuple[list[Rule], list[Rule]]:
    """What documents say of a kind of surface in most rooms of the job and alike in all that they name, said of all such surfaces, where
    the job has every one of them without a room. Each is to be confirmed. Gives these, and the rules that they are made of.
    """
    made: list[Rule] = []
    alike: list[Rule] = []
    kinds = dict.fromkeys(s.kind for s in job.surfaces if s.kind not in _OF_ROOMS)
    apart = [kind for kind in kinds if not any(s.room for s in job.surfaces if s.kind == kind)]
    spoken = [rule for rule in rules if rule.layer.rank > HOUSE.rank and "surface" in rule.scope] if apart else []
    rooms = Rooms.of(job.places)
    for kind in apart:
        of_kind = [rule for rule in spoken if meets("surface", rule.scope["surface"], kind)]
        goods = dict.fromkeys(rule.subject for rule in of_kind if _in_room(rule))
        for some in ([rule for rule in of_kind if rule.subject == subject] for subject in goods):
            if not all(map(_in_room, some)) or len({(r.kind.name, r.answer, _but_where(r)) for r in some}) > 1:
                continue
            said = dict.fromkeys(rule.scope["room"] for rule in some)
            reached = sum(any(rooms.meant(one, place.name) for one in said) for place in job.places)
            if reached > 1 and 2 * reached > len(job.places):
                scope = dict(_but_where(some[0])) | {"surface": kind}
                made.append(evolve(some[0], scope=scope, confirm=_ALIKE.format(kind=kind)))
                alike += some
    return made, alike


_ALIKE = "the job has {kind} without a room, and this is what the documents say of each room that they name"


def _in_room(rule: Rule) -> bool:
    return "room" in rule.scope


def _but_where(rule: Rule) -> tuple[tuple[str, str], ...]:
    """What a rule is said of beside room and kind of surface."""
    return tuple((key, value) for key, value in rule.scope.items() if key not in ("room", "surface"))


def out_of_reach(job: Job, rules: Iterable[Rule]) -> Iterator[Check]:
    """Surfaces in no room, one check for each kind of them that a rule of the documents or the job speaks of in some room."""
    roomless: dict[str, list[Surface]] = {}
    for surface in job.surfaces:
        if not surface.room and surface.kind not in _OF_ROOMS:
            roomless.setdefault(surface.kind, []).append(surface)
    if not roomless:
        return
    said: dict[str, list[Rule]] = {}
    spoken = [rule for rule in rules if "surface" in rule.scope and rule.layer.rank > HOUSE.rank]
    alike = {(r.kind.name, r.subject, r.answer, r.scope["surface"]) for r in spoken if not _in_room(r)}
    for rule in filter(_in_room, spoken):
        for kind in (kind for kind in roomless if meets("surface", rule.scope["surface"], kind)):
            if (rule.kind.name, rule.subject, rule.answer, kind) not in alike:  # else it says nothing else of this room
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
