"""Primer and finish paint: area times coats over spread, pooled by what is bought, rounded once at the package."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from attrs import frozen

from darby.api import (
    DEFAULT,
    HOUSE,
    WORK_AT_HEIGHT,
    Amount,
    Answer,
    Caution,
    Consultation,
    Deduct,
    Job,
    LineItem,
    Place,
    RoomColumn,
    Rule,
    Trade,
    alike,
    area_of,
    dashed,
    deduction,
    defaults_of,
    grouped,
    ordered,
    places,
    reveals_left,
    ruled_by,
    rules_of,
    total,
    with_waste,
)
from darby_coatings.spreading import THEORETICAL, Spread, spread

BOARD, FINISH = "gypsum board", "finish paint"
PRODUCTS = ("primer", FINISH)
LOOK = ("sheen", "color")
"""What keeps two paints of one name apart: a can left over from one is never poured into another."""

Look = tuple[tuple[str, str], ...]


@frozen(eq=False)
class _Share:
    """One place's share of a product: the answers that shape it."""

    place: Place
    look: Look
    coats: Answer
    spread: Spread
    deduct: Deduct
    waste: Answer | None
    chosen: tuple[Answer, ...]
    """Looks that are chosen apart from the coats."""
    factor: Answer | None
    """What more a rough or porous surface drinks, besides waste."""

    @property
    def alike(self) -> tuple[object, ...]:
        """Places of one kind under the same rules are measured together."""
        return (self.place.kind, *map(id, self.rules))

    @property
    def rules(self) -> tuple[Rule, ...]:
        return (
            *rules_of(self.coats, *self.chosen, *ruled_by(self.deduct), self.waste, self.factor),
            *self.spread.rules,
        )

    @property
    def notes(self) -> tuple[str, ...]:
        """What whoever checks it should know."""
        notes = list(self.spread.notes)
        if self.waste is None and self.spread.basis == THEORETICAL:
            notes.append("The rate is theoretical and no loss is stated: none is added.")
        if reveals_left(self.place.surfaces, self.deduct):
            notes.append("Openings that stay in stand for their reveals, which are not added.")
        return tuple(notes)


def line_items(job: Job, book: Consultation) -> Iterator[LineItem]:
    """Primer, then finish paint, one item for each look of it."""
    asked = [(place, color) for place in places(job.surfaces, book) for place, color in _by_color(place)]
    for product in PRODUCTS:
        yield from _items(
            product, [s for place, color in asked for s in _shares(product, place, color, book)], book, job
        )


def _by_color(place: Place) -> Iterator[tuple[Place, str]]:
    """The place, and the color that the job gives its surfaces. Surfaces with marks of their own are places of their own."""
    yield place, place.first.marks.get("color", "")


def _shares(product: str, place: Place, color: str, book: Consultation) -> Iterator[_Share]:
    about = dict(place.about)
    condition = place.first.marks.get("condition", "")
    deduct: Deduct = None
    ruled = False
    stated = _coats(product, about, book)
    finished = any(coats[key] for coats in stated for key in LOOK)
    for coats in stated:
        if not coats.amount:
            continue
        chosen = {key: answer for key in LOOK if not coats[key] and (answer := _chosen(key, product, about, book))}
        look = {key: coats[key] or chosen[key].rule.choice for key in LOOK if coats[key] or key in chosen}
        if color and product == FINISH:
            look["color"] = color
        known = about | look | {"coat": coats["coat"]}
        if coats["coat"] == "intermediate" and finished and not any(key in look for key in LOOK):
            look["coat"] = coats["coat"]  # the finish has a look and this none: nobody says that it is the same paint
        rate = spread(product, known | {"where": condition}, book)
        if rate is None:
            continue
        if not ruled:
            deduct, ruled = deduction(book, (product, FINISH, BOARD), about), True
        waste = _waste(product, known | {"basis": rate.basis}, book)
        factor = _factor(product, known | {"basis": rate.basis, "where": condition}, book) if condition else None
        yield _Share(place, tuple(look.items()), coats, rate, deduct, waste, tuple(chosen.values()), factor)


def _chosen(key: str, product: str, about: Mapping[str, str], book: Consultation) -> Answer | None:
    """A look that documents choose for a place without a number of coats: `eggshell in offices`."""
    return book.peek(key, product, about, take=LOOK)


def _waste(product: str, known: Mapping[str, str], book: Consultation) -> Answer | None:
    """What is lost: a silence is fine where losses are in the rate, and a question where they are not."""
    return book.ask("waste", product, known) if known["basis"] == THEORETICAL else book.peek("waste", product, known)


def _factor(product: str, known: Mapping[str, str], book: Consultation) -> Answer | None:
    """The strongest rule that speaks of the condition of the surface: it comes on top of what is lost anywhere."""
    answer = book.book.ask("waste", product, known)
    rule = next((r for r in answer.heard if "where" in r.scope), None) if answer else None
    return book.use(Answer(answer.asked, rule)) if answer and rule else None


def _coats(product: str, about: Mapping[str, str], book: Consultation) -> list[Answer]:
    """How many coats, in one answer; or one answer a coat where documents give them one by one and state no number.

    A number stated in documents holds beside its parts: "two coats; second coat gloss" is two coats, not three. An
    intermediate coat is no part of the finish coats: it comes on top of them.
    """
    take = (*LOOK, "method")
    whole = book.book.ask("coats", product, about, take=take)
    said = [r for a in book.book.all("coats", product, about, take=(*take, "coat")) for r in a.heard]
    names = dict.fromkeys(r.scope["coat"] for r in said if "coat" in r.scope)
    found = [book.book.ask("coats", product, {**about, "coat": name}, take=take) for name in names]
    single = [a for a in found if a and a["coat"]]
    if whole is None or whole.layer in (DEFAULT, HOUSE):
        parts = [a for a in single if whole is None or a.layer > whole.layer]
        if any(a["coat"] != "intermediate" for a in parts):
            return [book.use(answer) for answer in parts]
    between = [book.use(a) for a in single if a["coat"] == "intermediate" and (whole is None or a.layer >= whole.layer)]
    answer = book.ask("coats", product, about, take=take)
    return [*([answer] if answer else []), *between]


def _items(product: str, shares: Sequence[_Share], book: Consultation, job: Job) -> Iterator[LineItem]:
    pools = grouped(shares, lambda share: tuple((key, dashed(said)) for key, said in share.look))
    for members in pools.values():
        kinds = {share.place.kind for share in members}
        named = {"surface": members[0].place.kind} if len(pools) > 1 and len(kinds) == 1 else {}
        pool = {**dict(members[0].look), **named}
        yield from ordered(
            product, _need(product, members, job.units), book, pool,
            rules=(rule for share in members for rule in share.rules),
            notes=dict.fromkeys([*(note for share in members for note in share.notes), *_colors(product, pool, members)]),
            prices=job.prices,
        )  # fmt: skip


_COLOR = re.compile(r"\bcolou?rs?\b", re.IGNORECASE)


def _colors(product: str, pool: Mapping[str, str], members: Sequence[_Share]) -> Iterator[str]:
    """A warning where clauses that each name a color, which is not read, would share their cans."""
    if "color" in pool or product != FINISH:
        return
    clauses: dict[str, Rule] = {}
    for share in members:
        rule = share.coats.rule
        origin = rule.amount.step.origin
        if origin is not None and _COLOR.search(origin.text):
            clauses.setdefault(origin.text, rule)
    if len(clauses) > 1:
        places = " and ".join(str(rule.span) for rule in clauses.values())
        yield (
            f"{places} speak of colors, which are not read: all of it is ordered as one color. Where there are several, give "
            'each wall or room of the job its own, as color = "Fog".'
        )


def _need(product: str, members: Sequence[_Share], units: str) -> Amount:
    needs = [_subtotal(product, group, units) for group in alike(members)]
    return total((n.in_system(units) if len(needs) > 1 else n for n in needs), f"{product} needed")


def _subtotal(product: str, group: Sequence[_Share], units: str) -> Amount:
    first = group[0]
    kind = f"{first.place.kind}s" if first.place.kind != "trim" else "trim"
    area = area_of(group, f"area of {kind}", units)
    volume = first.spread.volume(area * first.coats.amount, units)
    label = f"{product} on {kind}"
    if first.factor is not None:
        volume = with_waste(volume, first.factor, label, f"extra for {first.factor['where']} surfaces")
    if first.waste is not None and first.waste["basis"] == THEORETICAL:
        return _after_loss(volume, first.waste, label)
    return with_waste(volume, first.waste, label)


def _after_loss(volume: Amount, loss: Answer, label: str) -> Amount:
    """What has to be bought so that the volume is left when a share of what was bought is lost.

    A loss is a share of the paint that leaves the can, as in practical rate = theoretical rate x (1 - loss).
    """
    left = (Amount.of(1, label="all of it") - loss.amount).named("share that stays on the surface")
    if not loss.amount or left.value <= 0:
        return volume.named(label)
    return (volume.named(f"{label}, before loss") / left).named(label)


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
    WORK_AT_HEIGHT,
)


_FINISH = (("coats", FINISH), ("sheen", FINISH), ("color", FINISH))
_HEADS = (("Wall finish", "wall"), ("Ceiling finish", "ceiling"), ("Trim", "trim"), ("Doors", "door"))

TRADE = Trade(
    name="coatings",
    title="Coatings",
    line_items=line_items,
    defaults=defaults_of("darby_coatings"),
    cautions=CAUTIONS,
    marks={"paint": FINISH, "color": "", "condition": ""},
    room_marks={"color": ("wall",)},
    columns=(
        RoomColumn("Primer", (("coats", "primer"),), ("wall", "ceiling"), order=40),
        *(RoomColumn(head, _FINISH, (kind,), take=LOOK, marks=("color",)) for head, kind in _HEADS),
    ),
    about="Primer and finish paint for walls, ceilings, doors and trim, pooled by product, sheen and color.",
)
