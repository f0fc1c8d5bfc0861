"""The job: what was measured and where. Surfaces, openings, corners and rooms, each with the line that gave it."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property

from attrs import field, frozen

from darby.quantities.amounts import Amount
from darby.rules.room_names import RoomNames, place_in
from darby.text.diagnostics import Diagnostic
from darby.text.spans import Source, Span


@frozen
class Opening:
    """A door, window or other hole in a surface; `count` of them, each `width` by `height`."""

    name: str
    """As the job calls it; `opening 3` where it has no name."""
    surface: str
    """Name of the surface it lies in."""
    width: Amount
    height: Amount
    count: Amount
    span: Span
    """Its row in the job."""
    reveal: Amount | None = None
    """Depth of the finished faces inside the opening; None where nothing is finished there."""
    sill: bool = False
    """Whether the reveal goes all around, as at a window, or leaves the foot out, as at a door."""

    @property
    def each(self) -> Amount:
        """Area of one."""
        return self.width * self.height

    @property
    def edges(self) -> Amount | None:
        """Length around one along which its reveals are finished; None where they are not."""
        if self.reveal is None:
            return None
        across = self.width * 2 if self.sill else self.width
        return self.height * 2 + across


@frozen
class Surface:
    """A measured surface of one kind. `area` is of one face, openings left in."""

    name: str
    """As the job calls it; it appears once in the job."""
    kind: str
    """`wall`, `ceiling`, `door` or `trim`: the undersides of soffits are ceilings, their faces and columns walls."""
    area: Amount
    faces: Amount
    """How many faces of it are finished, as a count."""
    span: Span
    """Its row in the job."""
    room: str = ""
    """The room it is in, or nothing."""
    length: Amount | None = None
    """None where only the area was given."""
    height: Amount | None = None
    """Height of a wall, width of a ceiling (labelled `width`); None where only the area was given, as with `length`.
    Of a wall with a raking top the greatest height."""
    openings: tuple[Opening, ...] = ()
    """Those that lie in it, each through all of its faces."""
    marks: Mapping[str, str] = field(factory=dict)
    """What the job says of this surface alone in words a trade asked for (`Trade.marks`), as plain spec text."""
    mark_places: Mapping[str, Span] = field(factory=dict)
    """Where each mark stands."""
    side: int = 1
    """2 for the other face of a wall whose faces are finished differently; its openings are those of face 1."""
    faced: bool = False
    """Whether the other face of the wall is a surface of its own."""
    runs: int = 1
    """Straight runs that its length is made of: more than one where it goes around corners."""
    part: str = ""
    """What it is part of beside its kind: `soffit` or `column`; rules may speak of these alone."""
    systems: tuple[tuple[str, ...], ...] = ()
    """The marks of systems that the job gives it: those given to the surface itself, then those given to its room."""
    system_places: Mapping[str, Span] = field(factory=dict)
    """Where each of these marks stands."""
    measures: tuple[Amount, ...] = ()
    """What else it may be counted by than its area: doors by the piece, trim by its length."""
    level: bool = True
    """False where its length and height do not enclose its area: a gable, a slope, a wall with a raking top."""
    copy: int = 1
    """Which of several rooms that are alike it is in, counted from 1."""
    peaked: bool = False
    """Whether its top climbs from both ends to a peak in the middle; one that is not level and has its sides rakes otherwise."""

    @cached_property
    def place(self) -> str:
        """Where documents may say that it is: its room; of a wall or ceiling in none its own name (`loft party wall`)."""
        return self.room or (place_in(self.name) if self.kind in ("wall", "ceiling") else "")

    @cached_property
    def gross(self) -> Amount:
        """Area of all faces, openings left in."""
        return (self.area * self.faces).named(self.name)


@frozen
class Corner:
    """Corners of one kind, `count` of them, each `height` tall."""

    kind: str
    """`inside` or `outside`."""
    count: Amount
    height: Amount
    span: Span
    """The row in the job that gives them."""
    room: str = ""
    """The room they are in, or nothing."""


@frozen
class Entry:
    """A row of a table that a trade brought (`Trade.tables`), or what a room has of one."""

    table: str
    """Name of the table: `floors`."""
    name: str
    """As the job calls it; it appears once in the job."""
    span: Span
    """Its row in the job."""
    room: str = ""
    """The room it is in, or nothing."""
    surface: Surface | None = None
    """What it measures, where its table has a shape; only the trade that asks for it is shown it."""
    values: Mapping[str, str | bool | Amount] = field(factory=dict)
    """What stands under the keys that the trade declared."""
    value_places: Mapping[str, Span] = field(factory=dict)
    """Where each of them stands."""

    def text(self, key: str) -> str:
        """The words under a key; nothing where there are none."""
        said = self.values.get(key)
        return said if isinstance(said, str) else ""

    def amount(self, key: str) -> Amount | None:
        """The measure or count under a key, or None."""
        said = self.values.get(key)
        return said if isinstance(said, Amount) else None

    def flag(self, key: str, *, default: bool = False) -> bool:
        """Whether a key says true; the default where it is not there."""
        said = self.values.get(key)
        return said if isinstance(said, bool) else default


@frozen
class Room:
    """A room, or several that are alike, and where it is."""

    called: RoomNames
    """Its name, its number, and what else documents may call it or the places it lies in."""
    span: Span
    """Its row in the job."""
    count: int = 1
    """How many there are; each has surfaces of its own."""

    @property
    def name(self) -> str:
        """As the job calls it, and as its surfaces say that they are in it."""
        return self.called.name


@frozen
class Type:
    """A system that the job defines by plain lines, as a type of partition."""

    mark: str
    """What it goes by: `W3`."""
    lines: tuple[tuple[str, Span], ...]
    """Plain spec lines, each with its place."""
    span: Span
    """Its row in the job."""


@frozen
class Price:
    """What one package of a product costs, in whatever money: only for choosing between sizes, never printed."""

    product: str
    """As the order calls it."""
    package: Amount
    """What the package holds."""
    price: Amount
    """A bare number above zero."""
    span: Span
    """Its row in the job."""


@frozen
class Documents:
    """The files a job names, as written there, each with its place."""

    specification: tuple[tuple[str, Span], ...] = ()
    addenda: tuple[tuple[str, Span], ...] = ()
    house: tuple[tuple[str, Span], ...] = ()
    answers: tuple[tuple[str, Span], ...] = ()
    """Clarification logs: tables of questions with the answers that came."""


@frozen
class Sending:
    """What the papers that leave the house say besides the estimate, as the job has it: dates, senders, recipients."""

    letter: Mapping[str, str] = field(factory=dict)
    """`date`, `number`, `from`, `to`, `reply by`."""
    order: Mapping[str, str] = field(factory=dict)
    """`date`, `number`, `from`, `to`, `deliver to`, `needed by`, `contact`."""
    scope: Mapping[str, str] = field(factory=dict)
    """`date`, `number`, `from`, `to`, `valid until`."""
    excluded: tuple[str, ...] = ()
    """What the estimator leaves out of her bid, a line each."""
    ask: tuple[str, ...] = ()
    """The points that the letter is to ask, each in the words of its question."""
    asked: tuple[str, ...] = ()
    """The points that were asked already, each with its date in brackets behind it."""
    questions: tuple[str, ...] = ()
    """Questions of the estimator's own, each with the clause it is about in brackets behind it."""


Setting = tuple[str, str, str | bool | Amount, Span]
"""Of a trade a key, what stands there, and where."""


@frozen
class Job:
    """Everything the job file says."""

    name: str
    """As documents show it above the order."""
    units: str
    """`us` or `metric`: how to print, and whose defaults hold."""
    surfaces: tuple[Surface, ...]
    """All that was measured, in the order of the job file and then of its schedules."""
    corners: tuple[Corner, ...] = ()
    """Those of rooms and those that are typed, in the same order."""
    rules: tuple[tuple[str, Span], ...] = ()
    """The estimator's own lines, the top layer of the cascade."""
    documents: Documents = Documents()
    """The files that it names."""
    source: Source = field(factory=lambda: Source("job", ""))
    """The job file itself."""
    plugin_files: tuple[tuple[str, Span], ...] = ()
    """Files with plugins of the job's own, each with the place where it is named; run only where that was allowed."""
    prices: tuple[Price, ...] = ()
    """What packages cost, for choosing between sizes."""
    schedules: tuple[Source, ...] = ()
    """The schedules that were read beside the job file, in the order named."""
    rooms: tuple[Room, ...] = ()
    """The rooms that rows of the job describe; a surface may name another, of which nothing else is known."""
    types: tuple[Type, ...] = ()
    """The systems that the job defines."""
    checked: tuple[tuple[str, Span], ...] = ()
    """Names whose measures somebody has looked at and found right, though they are out of the ordinary, each with its place."""
    doubts: tuple[Diagnostic, ...] = ()
    """What was noticed while its rows were read, and should be looked at."""
    trades: tuple[tuple[str, Span], ...] | None = None
    """The trades that are to work, each with its place; None where the job lists none and documents decide."""
    take: tuple[tuple[str, Span], ...] = ()
    """The alternates of the documents that are taken, each with the place where that is said."""
    tried: tuple[tuple[str, Span], ...] = ()
    """Lines that beat the estimator's own: what a way of doing the work changes, which is held beside her bid."""
    sending: Sending = Sending()
    """What its papers say besides the estimate."""
    settings: tuple[Setting, ...] = ()
    """What it says of how trades work."""
    own: tuple[Entry, ...] = ()
    """The rows of tables that trades brought, in the order of the job file."""

    @cached_property
    def places(self) -> tuple[RoomNames, ...]:
        """Every room that something measured is in, by all its names, in the order of the job."""
        described = {room.name: room.called for room in self.rooms}
        named = dict.fromkeys(
            [*(s.room for s in self.surfaces), *(c.room for c in self.corners), *(e.room for e in self.own)]
        )
        return (*described.values(), *(RoomNames(name) for name in named if name and name not in described))

    @cached_property
    def measured(self) -> tuple[Surface, ...]:
        """Every surface: those that all trades are shown, and those of tables that trades brought."""
        return (*self.surfaces, *(entry.surface for entry in self.own if entry.surface is not None))

    def entries(self, table: str) -> tuple[Entry, ...]:
        """The rows of a table that a trade brought, in the order of the job."""
        return tuple(entry for entry in self.own if entry.table == table)

    def of_kind(self, kind: str) -> tuple[Surface, ...]:
        """The surfaces of one kind, in the order of the job."""
        return tuple(s for s in self.surfaces if s.kind == kind)
