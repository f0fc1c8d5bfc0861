"""The rooms of a job in one table: what holds in each, by the columns that the trades show, with the rule behind every cell."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cached_property

from attrs import frozen

from darby.estimate.areas import Place, places
from darby.estimate.trade import RoomColumn, ShownColumn
from darby.job.model import Job, Room, Surface
from darby.rules.answer import Answer
from darby.rules.cascade import RuleBook
from darby.rules.consultation import Consultation
from darby.rules.room_names import RoomNames
from darby.rules.rule import Rule
from darby.text.spans import Span


@frozen(eq=False)
class Held:
    """What holds on the surfaces of some kinds in a room: the answers of one column, and what the job itself says there."""

    kinds: tuple[str, ...]
    answers: tuple[Answer, ...]
    described: tuple[str, ...]
    """Words of the answers' scopes and of the job that describe what holds."""
    given: tuple[tuple[str, Span], ...] = ()
    """Systems that the job gives to these surfaces and whose rules these are, with their places."""

    @property
    def rules(self) -> tuple[Rule, ...]:
        """The rules that hold, each once."""
        return tuple({id(a.rule): a.rule for a in self.answers}.values())

    @property
    def same(self) -> tuple[object, ...]:
        """What agrees between surfaces that are shown as one."""
        return (tuple(id(a.rule) for a in self.answers), self.described, self.given)


Cell = tuple[Held, ...]
"""What holds under one head in one room: one value, or one for each kind of surface where they differ; none where there is no surface."""


@frozen(eq=False)
class RoomLine:
    """One line of the table: a room, or the walls of one that differ from its others."""

    room: Room | None
    """None for what is in a room that no row describes, or in none."""
    name: str
    """The room, or the name of the surface that is in none."""
    surfaces: tuple[str, ...]
    """Names of the surfaces that differ from the rest of their room; none where the line is all of it."""
    cells: tuple[Cell, ...]

    @property
    def called(self) -> RoomNames:
        """The names of the room."""
        return self.room.called if self.room is not None else RoomNames(self.name)


@frozen(eq=False)
class RoomTable:
    """The table of an estimate, worked out when it is first looked at."""

    job: Job
    rules: tuple[Rule, ...]
    columns: tuple[ShownColumn, ...]

    @cached_property
    def lines(self) -> tuple[RoomLine, ...]:
        """The lines, in the order of the job."""
        whole = RuleBook(self.rules, rooms=self.job.places)
        books = [whole.owned(shown.own) for shown in self.columns]
        held: dict[tuple[int, int], Held] = {}
        of_room: dict[tuple[str, str], list[tuple[Surface, int]]] = {}
        every = places(self.job.surfaces, Consultation(whole))
        at = {id(surface): number for number, place in enumerate(every) for surface in place.surfaces}
        for surface in self.job.surfaces:
            key = (surface.room, "" if surface.room else surface.name)
            of_room.setdefault(key, []).append((surface, at[id(surface)]))
        described = {room.name: room for room in self.job.rooms}
        lines: list[RoomLine] = []
        for (room, alone), members in of_room.items():
            parts = _apart(members)
            whole_room: tuple[Cell, ...] = ()
            for first, kinds in enumerate(parts):
                cells = tuple(
                    _cell(column, shown.column, book, kinds, every, held)
                    for column, (shown, book) in enumerate(zip(self.columns, books, strict=True))
                )
                names = tuple(s.name for some in kinds.values() for s, _ in some) if first else ()
                if not first:
                    whole_room = cells
                elif _same(cells, whole_room):
                    continue
                lines.append(RoomLine(described.get(room), room or alone, names, cells))
        return tuple(lines)

    @cached_property
    def used(self) -> tuple[int, ...]:
        """The columns in which something stands."""
        return tuple(n for n in range(len(self.columns)) if any(line.cells[n] for line in self.lines))


Members = list[tuple[Surface, int]]


def _apart(members: Members) -> list[dict[str, Members]]:
    """The surfaces of a room by kind, those that most are like first; others of a kind, which the rules tell from these, apart."""
    kinds: dict[str, dict[int, Members]] = {}
    for surface, number in members:
        kinds.setdefault(surface.kind, {}).setdefault(number, []).append((surface, number))
    ranked = {kind: sorted(groups.values(), key=len, reverse=True) for kind, groups in kinds.items()}
    whole = {kind: groups[0] for kind, groups in ranked.items()}
    return [whole, *({kind: group} for kind, groups in ranked.items() for group in groups[1:])]


def _cell(
    number: int, column: RoomColumn, book: RuleBook, kinds: Mapping[str, Members], every: tuple[Place, ...],
    known: dict[tuple[int, int], Held],
) -> Cell:  # fmt: skip
    found: list[Held] = []
    for kind in column.surfaces:
        for _, place in kinds.get(kind, [])[:1]:
            if (number, place) not in known:
                known[number, place] = _held(column, book, every[place])
            one = known[number, place]
            twin = next((n for n, other in enumerate(found) if other.same == one.same), None)
            if twin is None:
                found.append(one)
            else:
                found[twin] = Held((*found[twin].kinds, kind), one.answers, one.described, one.given)
    return tuple(found)


def _held(column: RoomColumn, book: RuleBook, place: Place) -> Held:
    about = {**place.about, **column.about}
    found = [(kind, book.ask(kind, subject, about, take=column.take)) for kind, subject in column.asks]
    answers = tuple(a for _, a in found if a is not None)
    other = next((o for _, s in column.asks if (o := book.ask("replaced", s, place.about)) is not None), None)
    if other is not None and all(book.outranks(other.rule, a.rule, place.about) for a in answers):
        return Held((place.kind,), (other,), ())  # goods of another trade take the place of these
    said = [a.rule.choice for a in answers if a.rule.choice]
    words = [a[key] for a in answers for key in column.take if a[key] and a[key] not in said]
    words += [text for key in column.marks if (text := place.first.marks.get(key, ""))]
    surface = place.first
    theirs = {a["given"] for a in answers}
    given = tuple((mark, span) for mark, span in surface.system_places.items() if mark in theirs)
    return Held((place.kind,), answers, tuple(dict.fromkeys(words)), given)


def _same(some: Iterable[Cell], others: Iterable[Cell]) -> bool:
    """Whether what differs from the rest of a room differs in no column that is shown."""
    return all(
        any(one.same == other.same for other in others_here)
        for here, others_here in zip(some, others, strict=True)
        for one in here
    )
