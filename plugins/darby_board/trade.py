"""Gypsum board in sheets: area times layers, pooled by thickness, type and sheet size."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from importlib.resources import files

from attrs import field, frozen

from darby.amounts import Amount, total
from darby.job import Job, Surface
from darby.line_items import LineItem
from darby.measuring import pooled
from darby.packing import with_waste
from darby.rulebook import Answer, Consultation
from darby.rules import Rule
from darby.text import Source
from darby.trades import Caution, Trade

BOARD = "gypsum board"


@frozen(eq=False)
class _Share:
    """One surface's share: the answers that say which board it gets, and how many layers of it."""

    surface: Surface
    thickness: Answer
    type: str
    layers: Answer
    sheet: Answer | None
    deduct: Answer | None
    waste: Answer | None

    @property
    def bought(self) -> tuple[object, ...]:
        """What must agree for two surfaces to be cut from one stack."""
        sheet = self.sheet.rule if self.sheet else None
        kind = "-".join(self.type.casefold().split())
        return (self.thickness.amount, kind, sheet.amount if sheet else None, sheet.by if sheet else None)

    @property
    def alike(self) -> tuple[object, ...]:
        """Surfaces of one kind under the same rules are measured together."""
        return (self.surface.kind, *(id(a.rule) if a else None for a in (self.layers, self.deduct, self.waste)))

    @property
    def rules(self) -> tuple[Rule, ...]:
        answers = (self.thickness, self.layers, self.sheet, self.deduct, self.waste)
        return tuple(a.rule for a in answers if a)


@frozen(eq=False)
class _Pool:
    """Surfaces whose board is bought together."""

    members: list[_Share] = field(factory=list)

    @property
    def key(self) -> dict[str, str]:
        """The pool as shown, in the words of its first surface."""
        first = self.members[0]
        shown = {"thickness": first.thickness.amount.exact(), "type": first.type, "sheet": _size(first.sheet)}
        return {key: value for key, value in shown.items() if value}

    @property
    def package(self) -> Amount | None:
        """Area of one sheet; None where no size, or only a width, is known."""
        sheet = self.members[0].sheet
        if sheet is None or sheet.rule.by is None:
            return None
        return (sheet.rule.amount * sheet.rule.by).named("area of a sheet") / Amount.of(1, "sheet")


def line_items(job: Job, book: Consultation) -> Iterator[LineItem]:
    """One item for each thickness, type and sheet size, whatever surfaces it goes on."""
    pools: dict[tuple[object, ...], _Pool] = {}
    for surface in job.surfaces:
        if (share := _share(surface, book)) is not None:
            pools.setdefault(share.bought, _Pool()).members.append(share)
    for pool in pools.values():
        package = pool.package
        notes = () if package else ("No full sheet size is known, so the sheets are not counted.",)
        rules = tuple(dict.fromkeys(rule for share in pool.members for rule in share.rules))
        yield LineItem(BOARD, _need(pool.members, job.units), pool.key, package, rules=rules, notes=notes)


def _share(surface: Surface, book: Consultation) -> _Share | None:
    about = {"name": surface.name, "surface": surface.kind, "room": surface.room}
    layers = book.ask("layers", BOARD, about | {"where": "each side"}, take=("type",))
    if layers is None or not layers.amount:
        return None
    thickness = book.ask("thickness", BOARD, about, take=("type",))
    if thickness is None:
        return None
    kind = thickness["type"] or layers["type"]
    known = about | {"type": kind}
    sheet = book.ask("sheet", BOARD, known)
    if sheet is not None and sheet.rule.by is None:
        book.miss("sheet", BOARD, known)
    return _Share(
        surface,
        thickness,
        kind,
        layers,
        sheet,
        book.ask("deduct openings over", BOARD, about),
        book.ask("waste", BOARD, known),
    )


def _need(members: Sequence[_Share], units: str) -> Amount:
    alike: dict[tuple[object, ...], list[_Share]] = {}
    for share in members:
        alike.setdefault(share.alike, []).append(share)
    return total((_subtotal(group, units) for group in alike.values()), f"{BOARD} needed")


def _subtotal(group: Sequence[_Share], units: str) -> Amount:
    first = group[0]
    kind = f"{first.surface.kind}s"
    need = (
        pooled([share.surface for share in group], first.deduct, f"area of {kind}", units=units) * first.layers.amount
    )
    return with_waste(need, first.waste, kind)


def _size(sheet: Answer | None) -> str:
    if sheet is None:
        return ""
    width, long = sheet.rule.amount, sheet.rule.by
    return f"{width.exact()} x {long.exact()}" if long is not None else f"{width.exact()} wide"


CAUTIONS = (
    Caution(
        "Rated assemblies",
        "A fire- or sound-rated wall or ceiling is built exactly as its listing says: board, layers, framing and fasteners. "
        "Change nothing on the strength of this estimate; ask the licensed designer and the local building official.",
        "common practice, no source",
    ),
    Caution(
        "Stacked board",
        "Stacks of board that lean can tip and crush. Lay them flat on risers; a lift of half-inch sheets can weigh a ton or "
        "more, so have a licensed engineer check the floor first.",
        "CPWR; GA-801",
    ),
    Caution(
        "Silica dust",
        "Cutting board and sanding joints can raise respirable silica. The limit is 50 micrograms per cubic metre over a shift, "
        "with action from 25; wet or vacuum sanding keeps it down. Local rules may be stricter.",
        "29 CFR 1926.1153",
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
    return Source(f"darby_board/{name}", (files("darby_board") / name).read_text(encoding="utf-8"))


TRADE = Trade(
    name="board",
    title="Board",
    line_items=line_items,
    defaults={system: _defaults(system) for system in ("us", "metric")},
    cautions=CAUTIONS,
    marks={"board": BOARD},
    about="Gypsum board for walls and ceilings, in sheets, pooled by thickness, type and sheet size.",
)
