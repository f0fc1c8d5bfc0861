"""Primer and finish paint: area times coats over spread, pooled by what is bought, rounded once at the package."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from attrs import evolve, frozen

from darby.api import (
    HOUSE,
    REVEALS,
    Amount,
    Answer,
    Consultation,
    Deduct,
    Job,
    LineItem,
    Piece,
    Place,
    RoomColumn,
    Rule,
    Surface,
    Task,
    Trade,
    alike,
    area_of,
    area_over,
    chosen,
    dashed,
    deduction,
    defaults_of,
    grouped,
    in_place_of,
    ordered,
    reveals_left,
    ruled_by,
    rules_of,
    spare_lines,
    takes_new,
    tasks_on,
    total,
    with_waste,
)
from darby_coatings.applying import APPLY, FINISH, PRODUCTS, WORK, coated, painted
from darby_coatings.cautions import CAUTIONS
from darby_coatings.coats import (
    BETWEEN,
    GROUNDS,
    LOOK,
    UNDERCOAT,
    bought_as,
    coats_of,
    colors_unread,
    described,
    ground,
    look_of,
)
from darby_coatings.spreading import THEORETICAL, Spread, spread

BOARD = "gypsum board"
SYSTEM = "system"
"""The mark of the system that a rule of a place comes from: two marks that look alike may be two colors that nobody has named."""

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
    unnamed: bool = False
    """Whether it is bought by the mark of its system, since nobody has named its color."""

    def without(self, key: str) -> Look:
        """Its look but for one thing."""
        return tuple(pair for pair in self.look if pair[0] != key)

    def said_of(self, surface: Surface) -> dict[str, str]:
        """What it is to put it on, as production rates tell it apart."""
        said = {
            "surface": surface.kind,
            "method": self.coats["method"],
            "condition": self.place.about.get("condition", ""),
        }
        said |= {key: value for key, value in self.look if key in ("sheen", "class")}
        return {key: value for key, value in said.items() if value}

    @property
    def alike(self) -> tuple[object, ...]:
        """Places of one kind under the same rules are measured together."""
        return (self.place.kind, *map(id, self.rules))

    @property
    def rules(self) -> tuple[Rule, ...]:
        own = rules_of(self.coats, *self.chosen, *ruled_by(self.deduct), self.waste, self.factor)
        return (*own, *self.spread.rules)

    @property
    def notes(self) -> tuple[str, ...]:
        """What whoever checks it should know."""
        notes = list(self.spread.notes)
        if self.waste is None and self.spread.basis == THEORETICAL:
            notes.append("The rate is theoretical and no loss is stated: none is added.")
        if reveals_left(self.place.surfaces, self.deduct):
            notes.append(REVEALS)
        return tuple(notes)


def line_items(job: Job, book: Consultation) -> Iterator[LineItem]:
    """Primer, then finish paint, one item for each look of it."""
    for product in PRODUCTS:
        yield from _with_spares(product, dict(_items(product, _all_shares(product, job, book), book, job)), book, job)


def _with_spares(
    product: str, shares: Mapping[LineItem, Sequence[_Share]], book: Consultation, job: Job
) -> Iterator[LineItem]:
    yield from shares
    yield from spare_lines(
        product, [*shares], book, lambda item: {share.place.kind for share in shares[item]},
        over=lambda some: area_over(some, shares, job.units),
    )  # fmt: skip


def labor(job: Job, book: Consultation) -> Iterator[Task]:
    """Primer and finish paint to be put on, every coat of every surface."""
    for product in PRODUCTS:
        pieces = [
            Piece(surface, coated(surface, share.deduct, share.coats.amount), share.said_of(surface), share.rules)
            for share in _all_shares(product, job, book)
            for surface in share.place.surfaces
        ]
        yield from tasks_on(APPLY[product].name, pieces, job)


def _all_shares(product: str, job: Job, book: Consultation) -> list[_Share]:
    return [share for place in painted(job, book) for share in _shares(product, place, book)]


def _shares(product: str, place: Place, book: Consultation) -> Iterator[_Share]:
    about = dict(place.about)
    color = place.first.marks.get("color", "")  # surfaces with marks of their own are places of their own
    condition = place.first.marks.get("condition", "")
    deduct: Deduct = None
    ruled = False
    stated = coats_of(product, about, book)
    if in_place_of(product, place, next(iter(stated), None), book, under=BOARD):
        return
    if product != FINISH and (unsaid := [a for a in stated if a.amount and not takes_new(place, a)]):
        if any(a.layer > HOUSE for a in unsaid):  # said of such work in general: whether of old work too is to be asked
            book.miss("coats", product, about)
        return
    finished = any(coats[key] for coats in stated for key in LOOK)
    looks: list[dict[str, str]] = []
    for coats in stated:
        if not coats.amount:
            continue
        book.use(coats)
        found = {key: chosen(key, product, (coats, described(coats)), about, book, LOOK) for key in LOOK}
        look = {key: said for key, (said, _) in found.items() if said}
        if color and product == FINISH:
            look["color"] = color
        look = look_of(coats["coat"], look, looks)
        looks.append(look)
        known = about | look | {"coat": coats["coat"]}
        if coats["coat"] == UNDERCOAT or (coats["coat"] in BETWEEN and finished and not look):
            look["coat"] = coats["coat"]  # the finish has a look and this none: nobody says that it is the same paint
        rate = spread(product, known | {"where": condition}, book)
        if rate is None:
            continue
        if not ruled:
            deduct, ruled = deduction(book, (product, FINISH, BOARD), about), True
        waste = _waste(product, known | {"basis": rate.basis}, book)
        factor = _factor(product, known | {"basis": rate.basis, "where": condition}, book) if condition else None
        choices = tuple(choice for _, choice in found.values() if choice is not None)
        yield _Share(place, tuple(look.items()), coats, rate, deduct, waste, choices, factor)


def _waste(product: str, known: Mapping[str, str], book: Consultation) -> Answer | None:
    """What is lost: a silence is fine where losses are in the rate, and a question where they are not."""
    return book.ask("waste", product, known) if known["basis"] == THEORETICAL else book.peek("waste", product, known)


def _factor(product: str, known: Mapping[str, str], book: Consultation) -> Answer | None:
    """The strongest rule that speaks of the condition of the surface: it comes on top of what is lost anywhere."""
    answer = book.book.ask("waste", product, known)
    rule = next((r for r in answer.heard if "where" in r.scope), None) if answer else None
    return book.use(Answer(answer.asked, rule)) if answer and rule else None


def _items(
    product: str, shares: Sequence[_Share], book: Consultation, job: Job
) -> Iterator[tuple[LineItem, Sequence[_Share]]]:
    pools = grouped(_told_apart(shares, product), lambda share: tuple((key, dashed(said)) for key, said in share.look))
    for members in pools.values():
        kinds = {share.place.kind for share in members}
        named = {"surface": members[0].place.kind} if len(pools) > 1 and len(kinds) == 1 else {}
        pool = {**dict(members[0].look), **named}
        if members[0].unnamed:
            book.miss("color", product, members[0].place.about)
        lines = ordered(
            product, _need(product, members, job.units), book, pool, about=bought_as(pool, kinds),
            rules=(rule for share in members for rule in share.rules),
            notes=dict.fromkeys([*(note for share in members for note in share.notes), *colors_unread(product, pool, [share.coats.rule for share in members])]),
            prices=job.prices,
        )  # fmt: skip
        yield from ((line, members) for line in lines)


def _told_apart(shares: Sequence[_Share], product: str) -> Iterator[_Share]:
    """Shares with the looks that they are bought by.

    A share of which no class is said is of the one class that is said of paint of its look, on what is of the same ground first: the
    primer of the doors says nothing of that of the walls, if other walls have one. Shares of two marks that look alike, and
    have no color, are in two colors that nobody has named: each is bought by its mark.
    """
    classes: dict[tuple[Look, str], set[str]] = {}
    marks: dict[Look, set[str]] = {}
    for share in shares:
        said = {said for key, said in share.look if key == "class" and said not in GROUNDS}
        for on in ("", ground(share.place.kind)):
            classes.setdefault((share.without("class"), on), set()).update(said)
        marks.setdefault(share.look, set()).add(share.coats[SYSTEM])
    for share in shares:
        look = dict(share.look)
        one = classes[share.without("class"), ground(share.place.kind)] or classes[share.without("class"), ""]
        if "class" not in look and len(one) == 1:
            look["class"] = next(iter(one))
        mark = share.coats[SYSTEM]
        unnamed = product == FINISH and "color" not in look and bool(mark) and len(marks[share.look] - {""}) > 1
        if unnamed:
            look["color"] = mark
        yield evolve(share, look=tuple((key, look[key]) for key in (*LOOK, "coat") if key in look), unnamed=unnamed)


def _need(product: str, members: Sequence[_Share], units: str) -> Amount:
    needs = [_subtotal(product, group, units) for group in alike(members)]
    return total((n.in_system(units) for n in needs), f"{product} needed")


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


_FINISH = (("coats", FINISH), ("sheen", FINISH), ("color", FINISH))
_HEADS = (("Wall finish", "wall"), ("Ceiling finish", "ceiling"), ("Trim", "trim"), ("Doors", "door"))

TRADE = Trade(
    name="coatings",
    title="Coatings",
    line_items=line_items,
    defaults=defaults_of("darby_coatings"),
    cautions=CAUTIONS,
    operations=tuple(APPLY.values()),
    labor=labor,
    marks={"paint": FINISH, "color": "", "condition": ""},
    room_marks={"color": ("wall",)},
    mark_words={"condition": {word: word for word in ("smooth", "rough", "corrugated", "flush", "panelled")}},
    columns=(
        RoomColumn("Primer", (("coats", "primer"),), ("wall", "ceiling"), order=40),
        *(RoomColumn(head, _FINISH, (kind,), take=LOOK, marks=("color",)) for head, kind in _HEADS),
    ),
    work=(WORK,),
    about="Primer and finish paint for walls, ceilings, doors and trim, pooled by product, sheen and color.",
)
