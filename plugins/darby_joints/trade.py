"""Joint compound and joint tape over all finished board, walls and ceilings together."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from importlib.resources import files

from attrs import frozen

from darby.amounts import Amount, total
from darby.job import Job, Surface
from darby.line_items import LineItem
from darby.measuring import pooled
from darby.packing import pack, with_waste
from darby.rulebook import Answer, Consultation
from darby.rules import Rule
from darby.text import Source
from darby.trades import Caution, Trade
from darby.units import AREA, LENGTH, MASS, VOLUME, Dimension

BOARD = "gypsum board"
MEASURES: dict[str, frozenset[Dimension]] = {
    "joint compound": frozenset({MASS, VOLUME}),
    "joint tape": frozenset({LENGTH}),
}
"""What each product's use over an area may be told in."""


@frozen(eq=False)
class _Face:
    """A boarded surface that gets its joints finished, once however many layers lie below."""

    surface: Surface
    about: dict[str, str]
    deduct: Answer | None
    rules: tuple[Rule, ...]
    notes: tuple[str, ...]


@frozen(eq=False)
class _Share:
    """One face's share of a product."""

    face: _Face
    use: Answer
    waste: Answer | None

    @property
    def pool(self) -> tuple[str, Dimension]:
        """Two types are never mixed; one type told by weight here and by volume there cannot be added up."""
        return "-".join(self.use["type"].casefold().split()), self.use.rule.amount.unit.dimension

    @property
    def alike(self) -> tuple[object, ...]:
        """Surfaces of one kind under the same rules are measured together."""
        answers = (self.use, self.face.deduct, self.waste)
        return (self.face.surface.kind, *(id(a.rule) if a else None for a in answers))

    @property
    def rules(self) -> tuple[Rule, ...]:
        return (self.use.rule, *self.face.rules, *((self.waste.rule,) if self.waste else ()))


def line_items(job: Job, book: Consultation) -> Iterator[LineItem]:
    """Joint compound, then joint tape, one item for each type of it."""
    faces = [face for surface in job.surfaces if (face := _face(surface, book))]
    for product in MEASURES:
        yield from _items(product, faces, book, job.units)


def _face(surface: Surface, book: Consultation) -> _Face | None:
    about = {"name": surface.name, "surface": surface.kind, "room": surface.room}
    layers = book.ask("layers", BOARD, about | {"where": "each side"}, take=("type",))
    if layers is None or not layers.amount:
        return None
    # Joints are finished for paint; a level for what is hidden or patched speaks of other board.
    level = book.peek("finish level", BOARD, about | {"where": "to be painted"})
    if level is not None and not level.amount:
        return None
    notes: tuple[str, ...] = ()
    if level is not None and level.amount.value == 5:
        notes = ("Level 5 adds a skim coat over the whole face: see that the rate of joint compound has it in.",)
    deduct = book.ask("deduct openings over", BOARD, about)
    return _Face(surface, about, deduct, tuple(a.rule for a in (layers, level, deduct) if a), notes)


def _items(product: str, faces: Sequence[_Face], book: Consultation, units: str) -> Iterator[LineItem]:
    shares: list[_Share] = []
    unusable: list[str] = []
    for face in faces:
        use = book.ask("consumption", product, face.about, take=("type", "basis"))
        if use is None:
            continue
        if _by_area(product, use.rule):
            shares.append(_Share(face, use, book.peek("waste", product, face.about)))
        else:
            unusable.append(f"The rate of {use.rule.says()} ({use.rule.span}) cannot be used over an area.")
            book.miss("consumption", product, face.about)
    pools: dict[tuple[str, Dimension], list[_Share]] = {}
    for share in shares:
        pools.setdefault(share.pool, []).append(share)
    types = [kind for kind, _ in pools]
    for (kind, _), members in pools.items():
        pool = {"type": members[0].use["type"]} if kind else {}
        need = _need(product, members, units)
        packing = pack(need, product, book, pool)
        if types.count(kind) > 1:
            pool["measure"] = need.unit.name
        rules = (*(rule for share in members for rule in share.rules), *packing.rules)
        notes = (*(note for share in members for note in share.face.notes if product == "joint compound"), *unusable)
        yield LineItem(
            product, need, pool, packing.package,
            rules=tuple(dict.fromkeys(rules)), notes=tuple(dict.fromkeys((*notes, *packing.notes))),
        )  # fmt: skip


def _by_area(product: str, rule: Rule) -> bool:
    return rule.amount.unit.dimension in MEASURES[product] and rule.per is not None and rule.per.unit.dimension == AREA


def _need(product: str, members: Sequence[_Share], units: str) -> Amount:
    alike: dict[tuple[object, ...], list[_Share]] = {}
    for share in members:
        alike.setdefault(share.alike, []).append(share)
    if len({key[1:] for key in alike}) > 1:
        return total((_subtotal(group, units) for group in alike.values()), f"{product} needed")
    # One rule over everything: the finished board is added up first, since that is the figure one checks.
    areas = [_area(group, units) for group in alike.values()]
    return _times(total(areas, "finished board"), members[0], f"{product} needed")


def _subtotal(group: Sequence[_Share], units: str) -> Amount:
    return _times(_area(group, units), group[0], f"{group[0].face.surface.kind}s")


def _area(group: Sequence[_Share], units: str) -> Amount:
    face = group[0].face
    label = f"finished {face.surface.kind}s"
    return pooled([share.face.surface for share in group], face.deduct, label, units=units)


def _times(area: Amount, share: _Share, label: str) -> Amount:
    return with_waste((area * share.use.rate).to(share.use.rule.amount.unit), share.waste, label)


CAUTIONS = (
    Caution(
        "Silica dust",
        "Cutting board and sanding joints can raise respirable silica. The limit is 50 micrograms per cubic metre over a shift, "
        "with action from 25; wet or vacuum sanding keeps it down. Local rules may be stricter.",
        "29 CFR 1926.1153",
    ),
    Caution(
        "Asbestos in old joints",
        "Old joint compound and wallboard may hold asbestos and are tested together, as one wall. Have them sampled by a "
        "licensed inspector before they are sanded, cut or torn out.",
        "40 CFR 61.141; 59 FR 542",
    ),
)


def _defaults(system: str) -> Source:
    name = f"defaults.{system}.txt"
    return Source(f"darby_joints/{name}", (files("darby_joints") / name).read_text(encoding="utf-8"))


TRADE = Trade(
    name="joints",
    title="Joints",
    line_items=line_items,
    defaults={system: _defaults(system) for system in ("us", "metric")},
    cautions=CAUTIONS,
    about="Joint compound and joint tape over all finished board, walls and ceilings together.",
)
