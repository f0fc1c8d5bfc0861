"""Drywall clips at inside corners, and screws over all layers of board."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from importlib.resources import files

from attrs import frozen

from darby.amounts import Amount, total
from darby.job import Corner, Job, Surface
from darby.line_items import LineItem
from darby.measuring import pooled
from darby.packing import pack, with_waste
from darby.rulebook import Answer, Consultation
from darby.rules import Rule
from darby.text import Source
from darby.trades import Caution, Trade
from darby.units import AREA, MASS, NUMBER_ONLY, Dimension

BOARD = "gypsum board"
CLIP = "drywall clip"
SCREW = "screw"
HELD = Amount.of(1, label="for the plates at top and bottom")
"""They take the board at both ends, so n spaces have n - 1 clips between them."""


def line_items(job: Job, book: Consultation) -> Iterator[LineItem]:
    """Clips where the job has inside corners, screws where it has board."""
    yield from _clips(job.corners, book)
    yield from _screws(job.surfaces, book, job.units)


def _clips(corners: Sequence[Corner], book: Consultation) -> Iterator[LineItem]:
    counts: list[Amount] = []
    rules: list[Rule] = []
    for corner in corners:
        if corner.kind != "inside" or not corner.count:
            continue
        about = {"room": corner.room, "where": "inside corner"}
        spacing = book.ask("spacing", CLIP, about, take=("surface",))
        if spacing is None or not spacing.amount:
            continue
        counts.append(_at(corner, spacing.amount))
        rules.append(spacing.rule)
    if not counts:
        return
    waste = book.peek("waste", CLIP)
    if waste is not None:
        rules.append(waste.rule)
    need = with_waste(total(counts), waste, "clips needed")
    packing = pack(need, CLIP, book)
    yield LineItem(
        CLIP, need, package=packing.package, rules=tuple(dict.fromkeys((*rules, *packing.rules))), notes=packing.notes
    )


def _at(corner: Corner, spacing: Amount) -> Amount:
    """Clips of some corners of one height. A part of a space is a space: this counts, it does not round what is bought."""
    spaces = (corner.height / spacing).round_up().named("spaces")
    if spaces <= HELD:
        return (Amount.of(0, label="clips") * corner.count).named(f"clips in {_told(corner)}")
    return ((spaces - HELD) * corner.count).named(f"clips in {_told(corner)}")


def _told(corner: Corner) -> str:
    where = f" of {corner.room}" if corner.room else ""
    return f"corners{where}, {corner.height.exact()} high"


@frozen(eq=False)
class _Share:
    """One surface's screws: through every layer of its board."""

    surface: Surface
    layers: Answer
    use: Answer
    deduct: Answer | None
    waste: Answer | None

    @property
    def alike(self) -> tuple[object, ...]:
        """Surfaces of one kind under the same rules are measured together."""
        return (self.surface.kind, *(id(a.rule) if a else None for a in self._answers))

    @property
    def rules(self) -> tuple[Rule, ...]:
        return tuple(a.rule for a in self._answers if a)

    @property
    def _answers(self) -> tuple[Answer | None, ...]:
        return (self.layers, self.use, self.deduct, self.waste)


def _screws(surfaces: Sequence[Surface], book: Consultation, units: str) -> Iterator[LineItem]:
    pools: dict[Dimension, list[_Share]] = {}
    notes: list[str] = []
    spaced: dict[str, None] = {}
    for surface in surfaces:
        about = {"name": surface.name, "surface": surface.kind, "room": surface.room}
        layers = book.ask("layers", BOARD, about | {"where": "each side"}, take=("type",))
        if layers is None or not layers.amount:
            continue
        use = book.ask("consumption", SCREW, about)
        if use is None:
            continue
        if not _by_area(use.rule):
            notes.append(f"The rate of {use.rule.says()} ({use.rule.span}) cannot be used over an area.")
            book.miss("consumption", SCREW, about)
            continue
        if (spacing := book.peek("spacing", SCREW, about)) is not None:
            spaced[f"{spacing.amount.exact()} on {surface.kind}s"] = None
        deduct = book.ask("deduct openings over", BOARD, about)
        share = _Share(surface, layers, use, deduct, book.peek("waste", SCREW, about))
        pools.setdefault(use.rule.amount.unit.dimension, []).append(share)
    if spaced:
        notes.append(
            f"Screws are counted by a rate over the area; the spacing stated ({', '.join(spaced)}) is not in the count."
        )
    for members in pools.values():
        alike: dict[tuple[object, ...], list[_Share]] = {}
        for share in members:
            alike.setdefault(share.alike, []).append(share)
        need = total((_subtotal(group, units) for group in alike.values()), "screws needed")
        packing = pack(need, SCREW, book)
        yield LineItem(
            SCREW, need, {"measure": need.unit.name} if len(pools) > 1 else {}, packing.package,
            rules=tuple(dict.fromkeys((*(rule for share in members for rule in share.rules), *packing.rules))),
            notes=tuple(dict.fromkeys((*notes, *packing.notes))),
        )  # fmt: skip


def _by_area(rule: Rule) -> bool:
    """By the piece or by weight, over an area."""
    told = rule.amount.unit.dimension in {NUMBER_ONLY, MASS}
    return told and rule.per is not None and rule.per.unit.dimension == AREA


def _subtotal(group: Sequence[_Share], units: str) -> Amount:
    first = group[0]
    kind = f"{first.surface.kind}s"
    area = pooled([share.surface for share in group], first.deduct, f"area of {kind}", units=units)
    need = (area * first.layers.amount * first.use.rate).to(first.use.rule.amount.unit)
    return with_waste(need, first.waste, f"screws on {kind}")


CAUTIONS = (
    Caution(
        "Fasteners in rated assemblies",
        "In a fire-rated wall or ceiling the listing fixes the kind, length and spacing of the fasteners, and in any other the "
        "local code does. The counts here are for ordering and prove no spacing.",
        "common practice, no source",
    ),
    Caution(
        "Work at height",
        "Ceilings and high walls are work at height: lifts, ladders and scaffolds are set up and used as local law and a "
        "competent person on site require.",
        "common practice, no source",
    ),
)


def _defaults(system: str) -> Source:
    name = f"defaults.{system}.txt"
    return Source(f"darby_fasteners/{name}", (files("darby_fasteners") / name).read_text(encoding="utf-8"))


TRADE = Trade(
    name="fasteners",
    title="Fasteners",
    line_items=line_items,
    defaults={system: _defaults(system) for system in ("us", "metric")},
    cautions=CAUTIONS,
    about="Clips at inside corners and screws over all layers of board.",
)
