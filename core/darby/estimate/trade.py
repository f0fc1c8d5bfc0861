"""What a trade is to the core: words, defaults, line items and cautions, in one frozen value."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping

from attrs import field, frozen

from darby.estimate.line_item import LineItem, dashed
from darby.job.model import Job
from darby.job.rows.declared import JobTable, Key
from darby.labor.task import Operation, Task
from darby.rules.consultation import Consultation
from darby.rules.scope_of_work import Work
from darby.text.spans import Source


@frozen
class Caution:
    """A danger of the work, said once in the estimate, with the published rule behind it."""

    topic: str
    """Two or three words, shown above it."""
    text: str
    """One or more whole sentences. The first says what to do: where there is little room, it stands alone."""
    cited: str = ""
    """The published rule, or that there is none: `29 CFR 1926.1153`, `common practice, no source`."""

    @property
    def short(self) -> str:
        """Its first sentence."""
        first, stop, _ = self.text.partition(". ")
        return first + stop.strip()

    @property
    def code(self) -> str:
        """Its topic as `darby why` takes it: `silica-dust`."""
        return dashed(self.topic)


WORK_AT_HEIGHT = Caution(
    "Work at height",
    "Work on ceilings and high walls from lifts, scaffolds and ladders made for it. Set them up and use them as local law "
    "and the competent person on site require.",
    "common practice, no source",
)
"""For whatever goes on ceilings and high walls."""


def silica_dust(work: str) -> Caution:
    """For work that raises silica dust; `work` says which, and begins the sentence: `Grinding floors`."""
    return Caution(
        "Silica dust",
        f"{work} can raise respirable silica: work wet or with a vacuum, and wear a respirator that fits. The limit is 50 "
        "micrograms per cubic metre over a shift, the action level 25; local rules may be stricter.",
        "29 CFR 1926.1153",
    )


@frozen
class RoomColumn:
    """A column of the table of rooms: what a trade asks the rules about the surfaces of a room, and shows under a head."""

    head: str
    """As it stands above the column: `Underlay`."""
    asks: tuple[tuple[str, str], ...]
    """Kinds and subjects, asked in this order; what nobody says of the later ones is left out."""
    surfaces: tuple[str, ...] = ("wall", "ceiling")
    """The kinds of surface that are asked about."""
    about: Mapping[str, str] = field(factory=dict)
    """What is asked about besides the place, as a trade asks it."""
    take: tuple[str, ...] = ()
    """Keys of a scope that describe the answer and are shown with it."""
    marks: tuple[str, ...] = ()
    """Keys of the job whose text is shown with it."""
    order: int = 50
    """Where it stands among the columns of all trades, the least first."""


@frozen
class Claim:
    """Surfaces that a trade takes for its goods: where a rule above the default lines gives a place some of them, the goods of others
    leave it, as ranked by that rule. What is said of a narrower place, or later, beats it, and the estimate says what was claimed."""

    asks: tuple[tuple[str, str], ...]
    """Kinds and subjects of the rules that claim: `(("layers", "underlay"),)`."""
    surfaces: tuple[str, ...] = ("ceiling",)
    """The kinds of surface that are claimed."""
    goods: tuple[str, ...] = ()
    """The goods that leave; without any, all of others that have `replaced` among their kinds."""


@frozen
class ShownColumn:
    """A column, with the trade that shows it and the default lines that are this trade's own."""

    trade: str
    column: RoomColumn
    own: Source | None = None


@frozen
class Trade:
    """A trade plugin's contribution.

    `line_items(job, book)` returns what to order; it must be pure: same job and rules, same items, nothing written.
    `defaults` maps `us` and `metric` to a source of plain spec lines, the lowest layer of the cascade, read strictly.
    `marks` maps a key that the job file may carry on a surface (`floor = "two layers, 30 mm"`) to the subject that its plain
    text is read under; what it says holds for that surface alone and beats every document. Under no subject (`""`) the text
    is kept as it is, for the trade to look up in `Surface.marks`.
    """

    name: str
    """One word, as `--without` takes it; it is the first part of the ids of its line items."""
    title: str
    """As a heading says it."""
    line_items: Callable[[Job, Consultation], Iterable[LineItem]]
    """What to order for a job under the rules."""
    defaults: Mapping[str, Source] = field(factory=dict)
    cautions: tuple[Caution, ...] = ()
    """Told where the trade orders anything."""
    marks: Mapping[str, str] = field(factory=dict)
    room_marks: Mapping[str, Collection[str]] = field(factory=dict)
    """Keys of `marks` that, given to a room, hold for some kinds of its surfaces only: `{"color": ("wall",)}`."""
    mark_words: Mapping[str, Mapping[str, str]] = field(factory=dict)
    """Of keys of `marks` whose text is kept as it is and is one of a closed list: the words that may stand in it, each with what it
    means (`{"laid": {"along": "along", "parallel": "along", "across": "across"}}`). A job whose text has none of them, or two
    that mean different things, is told so with the nearest word."""
    claims: tuple[Claim, ...] = ()
    """Surfaces that it takes for itself."""
    tables: tuple[JobTable, ...] = ()
    """Tables of the job file that it brings; their rows are `Job.entries`."""
    settings: tuple[Key, ...] = ()
    """Settings of its own, which a job says in `[settings.NAME]` and a house file or default line as `Name: side = 2 ft.`; rules of the
    kind `setting`, asked for by its name and the key (`lattice side`)."""
    columns: tuple[RoomColumn, ...] = ()
    """What it shows of each room in the table of rooms."""
    work: tuple[Work, ...] = ()
    """What is its work: it is called for a job where a document, the job, or a line of the firm's own names some of it. Without any it is
    always called."""
    only_named: tuple[str, ...] = ()
    """Those of its goods that it orders only where they are named themselves (`Consultation.wanted`), for telling what is left out."""
    operations: tuple[Operation, ...] = ()
    """What its people do, as production rates name it."""
    labor: Callable[[Job, Consultation], Iterable[Task]] | None = None
    """How much of each operation a job takes, as pure as `line_items`; asked only where a bid is made."""
    after: tuple[str, ...] = ()
    """Trades whose lines it goes by: where they work on the job it is called behind them, and finds their lines in
    `Consultation.orders`. Where these are missing its own are too, and a circle of trades costs all of them their lines."""
    replaces: str = ""
    """Name of the trade that this one takes the place of, or nothing."""
    about: str = ""
    """One sentence for `darby trades`."""


def defaults_of(package: str, systems: Iterable[str] = ("us", "metric")) -> dict[str, Source]:
    """The default lines that lie beside a trade's code as `defaults.us.txt` and `defaults.metric.txt`.

    Raises FileNotFoundError where one is missing, ModuleNotFoundError where the package is.
    """
    return {system: Source.shipped(package, f"defaults.{system}.txt") for system in systems}
