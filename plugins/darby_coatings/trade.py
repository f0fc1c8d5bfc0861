"""Primer and finish paint: area times coats over spread, pooled by what is bought, rounded once at the package."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from importlib.resources import files

from attrs import evolve, frozen

from darby.amounts import Amount, total
from darby.job import Job, Surface
from darby.line_items import LineItem
from darby.measuring import pooled
from darby.packing import pack, with_waste
from darby.rulebook import Answer, Consultation
from darby.rules import DEFAULT, HOUSE, Rule
from darby.text import Source
from darby.trades import Caution, Trade
from darby.units import AREA, VOLUME

PRODUCTS = ("primer", "finish paint")
LOOK = ("sheen", "color")
"""What keeps two paints of one name apart."""

Look = tuple[tuple[str, str], ...]


@frozen(eq=False)
class _Share:
    """One surface's share of a product: the answers that shape it."""

    surface: Surface
    look: Look
    coats: Answer
    spread: Answer
    """A coverage or a consumption, whichever holds."""
    deduct: Answer | None
    waste: Answer | None
    notes: tuple[str, ...]

    @property
    def alike(self) -> tuple[object, ...]:
        """Surfaces of one kind under the same rules are measured together."""
        answers = (self.coats, self.spread, self.deduct, self.waste)
        return (self.surface.kind, *(id(a.rule) if a else None for a in answers))

    @property
    def rules(self) -> tuple[Rule, ...]:
        return tuple(a.rule for a in (self.coats, self.spread, self.deduct, self.waste) if a)


def line_items(job: Job, book: Consultation) -> Iterator[LineItem]:
    """Primer, then finish paint, one item for each look of it."""
    for product in PRODUCTS:
        shares = [share for surface in job.surfaces for share in _shares(product, surface, book)]
        yield from _items(product, shares, book, job.units)


def _shares(product: str, surface: Surface, book: Consultation) -> Iterator[_Share]:
    about = {"name": surface.name, "surface": surface.kind, "room": surface.room}
    for coats in _coats(product, about, book):
        if not coats.amount:
            continue
        look = tuple((key, coats[key]) for key in LOOK if coats[key])
        known = about | dict(look) | {"coat": coats["coat"]}
        spread, notes = _spread(product, known, book)
        if spread is not None:
            waste = book.peek("waste", product, known)
            yield _Share(surface, look, coats, spread, _deduct(product, about, book), waste, notes)


def _coats(product: str, about: dict[str, str], book: Consultation) -> list[Answer]:
    """How many coats, in one answer; or one answer a coat where documents give them one by one and state no number.

    A number stated in documents holds beside its parts: "two coats; second coat gloss" is two coats, not three.
    """
    take = (*LOOK, "method")
    whole = book.book.ask("coats", product, about, take=take)
    if whole is None or whole.layer in (DEFAULT, HOUSE):
        said = [r for a in book.book.all("coats", product, about, take=(*take, "coat")) for r in a.heard]
        names = dict.fromkeys(r.scope["coat"] for r in said if "coat" in r.scope)
        found = [book.book.ask("coats", product, about | {"coat": name}, take=take) for name in names]
        single = [a for a in found if a and a["coat"] and (whole is None or a.layer > whole.layer)]
        if single:
            return [book.use(answer) for answer in single]
    answer = book.ask("coats", product, about, take=take)
    return [answer] if answer else []


def _deduct(product: str, about: dict[str, str], book: Consultation) -> Answer | None:
    """What comes out of a painted surface: as said of the paint, or with more weight of the board below it."""
    kind = "deduct openings over"
    subjects = (product, "finish paint", "gypsum board")
    found = [a for a in (book.book.ask(kind, subject, about) for subject in subjects) if a]
    return book.use(max(found, key=lambda a: a.layer)) if found else book.ask(kind, "gypsum board", about)


def _spread(product: str, about: dict[str, str], book: Consultation) -> tuple[Answer | None, tuple[str, ...]]:
    """The coverage, or the consumption where that is said with more weight; of equals, the one that buys more."""
    take = ("basis", "method")
    coverage = book.book.ask("coverage", product, about, take=take)
    usage = book.book.ask("consumption", product, about, take=take)
    if usage is None:
        return book.ask("coverage", product, about, take=take), ()
    if not _by_volume(usage.rule):
        note = f"The {_called(usage)} gives no volume for an area and could not be used."
        return book.ask("coverage", product, about, take=take), (note,)
    if coverage is None:
        return book.ask("consumption", product, about, take=take), ()
    if usage.layer == coverage.layer:
        by_usage = usage.rate > Amount.of(1) / coverage.rate
    else:
        by_usage = usage.layer > coverage.layer
    used, left = (usage, coverage) if by_usage else (coverage, usage)
    why = "buys more" if usage.layer == coverage.layer else "is said with more weight"
    note = f"The {_called(used)} is followed: it {why} than the {_called(left)}."
    return book.use(evolve(used, beaten=(left.rule, *used.beaten))), (note,)


def _called(answer: Answer) -> str:
    return f"{answer.rule.kind.name} of {answer.rule.says()}"


def _by_volume(rule: Rule) -> bool:
    return rule.amount.unit.dimension == VOLUME and rule.per is not None and rule.per.unit.dimension == AREA


def _items(product: str, shares: Sequence[_Share], book: Consultation, units: str) -> Iterator[LineItem]:
    pools: dict[Look, list[_Share]] = {}
    for share in shares:
        pools.setdefault(tuple((key, "-".join(said.casefold().split())) for key, said in share.look), []).append(share)
    for members in pools.values():
        look = members[0].look
        kinds = {share.surface.kind for share in members}
        named = {"surface": members[0].surface.kind} if len(pools) > 1 and len(kinds) == 1 else {}
        need = _need(product, members, units)
        packing = pack(need, product, book, dict(look) | named)
        rules = [rule for share in members for rule in share.rules]
        notes = [note for share in members for note in share.notes]
        yield LineItem(
            product, need, dict(look) | named, packing.package,
            rules=tuple(dict.fromkeys((*rules, *packing.rules))),
            notes=tuple(dict.fromkeys((*notes, *packing.notes))),
        )  # fmt: skip


def _need(product: str, members: Sequence[_Share], units: str) -> Amount:
    """The paint for all surfaces of one pool, a named subtotal for each kind of surface."""
    alike: dict[tuple[object, ...], list[_Share]] = {}
    for share in members:
        alike.setdefault(share.alike, []).append(share)
    return total((_subtotal(product, group, units) for group in alike.values()), f"{product} needed")


def _subtotal(product: str, group: Sequence[_Share], units: str) -> Amount:
    first = group[0]
    kind = f"{first.surface.kind}s"
    area = pooled([share.surface for share in group], first.deduct, f"area of {kind}", units=units)
    coated = area * first.coats.amount
    rule = first.spread.rule
    if rule.kind.name == "coverage" and rule.per is not None:
        need = (coated / first.spread.rate).to(rule.per.unit)
    else:
        need = (coated * first.spread.rate).to(rule.amount.unit)
    return with_waste(need, first.waste, f"{product} on {kind}")


CAUTIONS = (
    Caution(
        "Lead in old paint",
        "In a building from before 1978, have painted surfaces tested before they are sanded, scraped or cut. Work on more "
        "than 6 sq ft in a room, or 20 sq ft outside, needs a certified firm and lead-safe methods; local rules may ask more.",
        "40 CFR 745.83",
    ),
    Caution(
        "Ventilation",
        "Keep fresh air moving while coatings are put on and while they dry, keep flames and sparks away, and follow the "
        "safety data sheet of the product and the local fire code.",
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
    return Source(f"darby_coatings/{name}", (files("darby_coatings") / name).read_text(encoding="utf-8"))


TRADE = Trade(
    name="coatings",
    title="Coatings",
    line_items=line_items,
    defaults={system: _defaults(system) for system in ("us", "metric")},
    cautions=CAUTIONS,
    marks={"paint": "finish paint"},
    about="Primer and finish paint for walls and ceilings, pooled by product, sheen and color.",
)
