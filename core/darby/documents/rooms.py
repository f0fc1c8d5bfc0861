"""The table of rooms in words: what a cell says, where it is said, what is in doubt; and the places that meet no room."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from functools import cached_property

from attrs import frozen

from darby.documents.room_table import Cell, Held, RoomLine, RoomTable
from darby.documents.words import listed, one_line, says
from darby.estimate.model import Estimate
from darby.rules.room_names import Rooms, SaidPlaces
from darby.rules.rule import DEFAULT, HOUSE, Rule
from darby.text.spans import Span

_NAMED = 5
"""Places that are told by name; of more, how many more."""
_BEHIND = {"wall": "walls", "ceiling": "ceiling"}

ROOM_HEADS = ("Room", "Number", "Floor", "Phase", "Count")
"""What stands before the columns of the trades."""


@frozen(eq=False)
class Told:
    """The cells of one estimate in words."""

    estimate: Estimate

    @cached_property
    def table(self) -> RoomTable:
        """The table."""
        return RoomTable(self.estimate.job, self.estimate.rules, self.estimate.columns)

    @cached_property
    def _asked(self) -> dict[tuple[int, int, int], str]:
        """The questions of the estimate by their place."""
        placed = [(q.place, q.text) for q in self.estimate.questions if q.place is not None]
        return {(id(span.source), span.start, span.end): text for span, text in reversed(placed)}

    def heads(self) -> list[str]:
        """The heads of the columns in which something stands."""
        return [one_line(self.estimate.columns[n].column.head) for n in self.table.used]

    def cells(self, line: RoomLine) -> list[Cell]:
        """The cells of a line, those of columns in which nothing ever stands left out."""
        return [line.cells[n] for n in self.table.used]

    def text(self, cell: Cell) -> str:
        """What holds: `1/2 in`; `1/2 in (walls); 5/8 in (ceiling)` where surfaces differ."""
        parts = [self.held(one) for one in cell]
        if len(cell) > 1:
            parts = [f"{text} ({_kinds(one)})" for text, one in zip(parts, cell, strict=True)]
        return "; ".join(parts)

    def held(self, held: Held) -> str:
        """What holds on some surfaces, in a few words."""
        if not held.answers:
            return "not said"
        words = list(dict.fromkeys(says(a.rule) for a in held.answers))
        return one_line(", ".join([*words, *(w for w in held.described if w not in words)]))

    def doubt(self, held: Held) -> str:
        """Why it waits to be confirmed, or the questions it raises; nothing where it is plain."""
        if not held.answers:
            return "Nobody says, and nothing is assumed."
        return " ".join(dict.fromkeys(found for rule in held.rules if (found := self.doubt_of(rule))))

    def doubt_of(self, rule: Rule) -> str:
        """Why a rule waits to be confirmed, or the question that its place raises."""
        return one_line(rule.confirm or self._asked.get((id(rule.span.source), rule.span.start, rule.span.end), ""))

    def sign(self, held: Held) -> str:
        """A question mark where something has to be looked at, a tilde where it is assumed."""
        if not held.answers or any(a.rule.confirm or a.conflict for a in held.answers):
            return "?"
        return "~" if any(r.layer == DEFAULT for r in held.rules) else ""


def name_of(line: RoomLine) -> str:
    """The room; of walls that differ from its others, which they are."""
    if not line.surfaces:
        return one_line(line.name or "no room")
    tails = [s.removeprefix(line.name).strip() or s for s in line.surfaces]
    shown = tails if len(tails) <= _NAMED else [*tails[: _NAMED - 1], f"{len(tails) - _NAMED + 1} more"]
    return one_line(f"{line.name}: {listed(shown)}")


def before(line: RoomLine) -> tuple[str, ...]:
    """Number, floor, phase and how many, as the job says them."""
    called, count = line.called, line.room.count if line.room else 1
    if line.surfaces:
        return ("",) * 4
    return (called.number, called.floor, called.phase, str(count) if count > 1 else "")


def places_behind(held: Held) -> Iterator[tuple[Rule, Span]]:
    """The rules that hold, each with its clause; behind them what gives a system to the place."""
    for rule in held.rules:
        yield rule, rule.span
        if rule.assigned is not None:
            given = dict(held.given)
            yield rule, given.get(rule.scope.get("given", ""), rule.assigned)


def short(span: Span) -> str:
    """File and line: `spec.txt:12`."""
    return one_line(
        f"{span.source.name}:{span.line}" if span.source.unit == "line" else f"{span.source.name}, {span.where}"
    )


def unmet_places(estimate: Estimate) -> list[str]:
    """The places that documents speak of and the job does not have, as the rules call them, in the order in which they are met."""
    said = _said(estimate)
    known = {place for places in _met(estimate, said).values() for place in places}
    return [place for place in said if place not in known]


def _said(estimate: Estimate) -> dict[str, Span]:
    """The places of which documents say something, each with where it is said first."""
    said: dict[str, Span] = {}
    for rule in estimate.rules:
        if "room" in rule.scope and rule.layer not in (DEFAULT, HOUSE):
            said.setdefault(rule.scope["room"], rule.assigned or rule.span)
    return said


def _met(estimate: Estimate, said: Collection[str], *more: str) -> dict[str, list[str]]:
    """The rooms of the job and what else goes by a name, each with the places of documents that are it."""
    met = SaidPlaces.of(Rooms.of(estimate.job.places), (r.scope["room"] for r in estimate.rules if "room" in r.scope))
    names = (*(room.name for room in estimate.job.places), *more)
    return {name: [place for place in met.met_by(name) if place in said] for name in names}


def strangers(estimate: Estimate) -> list[str]:
    """A line on places that documents speak of and the job does not have, and one on rooms that no document speaks of."""
    said = _said(estimate)
    called = _met(estimate, said)
    alone = _met(estimate, said, *(s.place for s in estimate.job.surfaces if not s.room))
    known = {place for places in alone.values() for place in places}
    unmet = [(place, span) for place, span in said.items() if place not in known]
    lines = []
    if unmet:
        told = _some([f"{place} ({short(span)})" for place, span in unmet])
        lines.append(f"The documents speak of {_places(len(unmet))} that this job does not have: {told}.")
    given = {s.room for s in estimate.job.surfaces if s.systems}
    silent = [name for name, places in called.items() if not places and name not in given]
    if known and 0 < len(silent) * 2 <= len(
        called
    ):  # where most rooms are spoken of one by one, the others look forgotten
        many = "1 room" if len(silent) == 1 else f"{len(silent):,} rooms"
        lines.append(f"No document speaks of {many} of this job by name, number or floor: {_some(silent)}.")
    return [one_line(line) for line in lines]


def _places(many: int) -> str:
    return "a place" if many == 1 else f"{many:,} places"


def _some(names: list[str]) -> str:
    return listed(names if len(names) <= _NAMED else [*names[: _NAMED - 1], f"{len(names) - _NAMED + 1:,} more"])


def _kinds(held: Held) -> str:
    return listed(_BEHIND.get(kind, kind) for kind in held.kinds)
