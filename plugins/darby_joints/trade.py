"""Joint compound and joint tape over all finished board, walls and ceilings together; bead over outside corners."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from attrs import frozen

from darby.api import (
    DEFAULT,
    LENGTH,
    MASS,
    VOLUME,
    Amount,
    Answer,
    Aside,
    Consultation,
    Corner,
    Deduct,
    Dimension,
    Job,
    LineItem,
    Place,
    RoomColumn,
    Rule,
    Side,
    Surface,
    Task,
    Trade,
    Work,
    alike,
    area_of,
    area_over,
    bought_in,
    by_area,
    dashed,
    deduction,
    defaults_of,
    grouped,
    no_use_over_area,
    ordered,
    places,
    ruled_by,
    rules_of,
    sides_on,
    spare_lines,
    total,
    with_waste,
)  # fmt: skip
from darby_joints.bead import BEAD, bead, edges
from darby_joints.cautions import CAUTIONS
from darby_joints.finishing import BEADS, JOINTS, beading, finishing
from darby_joints.levels import BOARD, COMPOUND, Finish, finish
from darby_joints.seams import seams

TAPE, TEXTURE = "joint tape", "texture"
SURFACES = ("wall", "ceiling")
MEASURES: dict[str, frozenset[Dimension]] = {
    COMPOUND: frozenset({MASS, VOLUME}),
    TAPE: frozenset({LENGTH}),
    TEXTURE: frozenset({MASS, VOLUME}),
}
"""What each product's use over an area may be told in."""


@frozen(eq=False)
class _Face:
    """Boarded surfaces that get their joints finished, once however many layers lie below."""

    place: Place
    deduct: Deduct
    finish: Finish
    sheet: Answer | None
    rules: tuple[Rule, ...]


@frozen(eq=False)
class _Use:
    """The rate of a product, and of which sort it is: as documents say (`told`), else as defaults have it."""

    rate: Answer
    sort: str
    told: bool


@frozen(eq=False)
class _Share:
    """One face's share of a product."""

    face: _Face
    used: _Use
    part: Amount | None
    """What part of the rate the finish takes; None where it is all of it."""
    skim: Answer | None
    waste: Answer | None

    @property
    def use(self) -> Answer:
        """The rate."""
        return self.used.rate

    @property
    def place(self) -> Place:
        return self.face.place

    @property
    def deduct(self) -> Deduct:
        return self.face.deduct

    @property
    def pool(self) -> tuple[str, bool, Dimension]:
        """Two types are never mixed; one type told by weight here and by volume there cannot be added up."""
        return dashed(self.used.sort), self.used.told, self.use.rule.amount.unit.dimension

    @property
    def alike(self) -> tuple[object, ...]:
        """Places of one kind under the same rules are measured together."""
        part = self.part.value if self.part else None
        rules = rules_of(self.use, *ruled_by(self.deduct), self.skim, self.waste)
        return (self.place.kind, part, *map(id, rules))

    @property
    def rules(self) -> tuple[Rule, ...]:
        return (self.use.rule, *self.face.rules, *rules_of(self.skim, self.waste))


def line_items(job: Job, book: Consultation) -> Iterator[LineItem]:
    """Joint compound, joint tape and texture, one item for each type of it; then corner bead."""
    faces = _faces(job, book)
    boarded = [surface for face in faces for surface in face.place.surfaces]
    corners = _finished(job, boarded)
    shares = dict(pair for product in MEASURES for pair in _items(product, faces, corners, book, job))
    items = [*shares]
    if faces:
        items += bead(corners, boarded, book, job.units, job.prices)
    yield from items
    for product in (*MEASURES, BEAD):
        along = COMPOUND if product == TAPE else ""
        yield from spare_lines(product, items, book, over=lambda some: area_over(some, shares, job.units), along=along)


def labor(job: Job, book: Consultation) -> Iterator[Task]:
    """Joints to be finished, over the faces, and bead to be set."""
    faces = _faces(job, book)
    boarded = [surface for face in faces for surface in face.place.surfaces]
    yield from finishing(faces, job)
    yield from beading(edges(_finished(job, boarded), boarded) if faces else [], job.units)


def _faces(job: Job, book: Consultation) -> list[_Face]:
    sides = [side for place in places(job.surfaces, book, SURFACES) for side in sides_on(place, BOARD, book)]
    return [face for side in sides if (face := _face(side, book))]


def _finished(job: Job, boarded: Sequence[Surface]) -> list[Corner]:
    """The corners, but for those of rooms whose walls stay as they are."""
    bare = {s.room for s in job.of_kind("wall")} - {s.room for s in boarded if s.kind == "wall"}
    return [corner for corner in job.corners if not corner.room or corner.room not in bare]


def _face(side: Side, book: Consultation) -> _Face | None:
    about = dict(side.place.about)
    how = finish(about, book)
    if how.none:
        return None
    deduct = deduction(book, (BOARD,), about)
    sheet = book.book.ask("sheet", BOARD, about, take=("type",))
    return _Face(side.place, deduct, how, sheet, rules_of(side.layers, *how.answers, *ruled_by(deduct)))


def _items(
    product: str, faces: Sequence[_Face], corners: Sequence[Corner], book: Consultation, job: Job
) -> Iterator[tuple[LineItem, Sequence[_Share]]]:
    shares: list[_Share] = []
    unusable = []
    for face in faces:
        about = face.place.about
        used = _use(product, about, book)
        if used is None:
            continue
        use = used.rate
        if not by_area(use.rule, MEASURES[product]):
            unusable.append(no_use_over_area(use.rule))
            book.miss("consumption", product, about)
            continue
        part = face.finish.share(use) if product == COMPOUND else None
        skim = _skim(face, used, book) if product == COMPOUND and face.finish.skim else None
        shares.append(_Share(face, used, part, skim, book.peek("waste", product, about)))
    pools = grouped(shares, lambda share: share.pool)
    for (kind, told, _), members in pools.items():
        sort = {"type": members[0].used.sort} if kind else {}
        need = _need(product, members, job.units)
        notes = [*unusable, *_notes(product, members, corners, need, job.units)]
        named = {"measure": need.unit.name} if [sort for sort, *_ in pools].count(kind) > 1 else {}
        lines = ordered(
            product, need, book, {**(sort if told else {}), **named}, about=sort,
            rules=(rule for share in members for rule in share.rules), notes=dict.fromkeys(notes), prices=job.prices,
        )  # fmt: skip
        yield from ((line, members) for line in lines)


def _use(product: str, about: Mapping[str, str], book: Consultation) -> _Use | None:
    """The rate that holds: of the sort that documents choose with a word, else as it is stated, else of the usual sort.

    A rate of one sort, as of a powder, is for that sort alone: what is ready mixed weighs its water too. A volume is never one of powder.
    """
    ask = book.peek if product == TEXTURE else book.ask
    chosen = book.book.ask("type", product, about) if product == COMPOUND else None
    sort = chosen.rule.choice if chosen is not None else ""
    of_sort = {**about, "type": sort}
    known = book.book.ask("consumption", product, of_sort, take=("basis",)) is not None
    said = book.book.ask("consumption", product, about, take=("type", "basis"))
    stated = said is not None and said.layer > DEFAULT
    if chosen is not None and chosen.layer > DEFAULT and known:
        rate = ask("consumption", product, of_sort, take=("basis",))
        book.use(chosen)
        return _Use(rate, sort, told=True) if rate is not None else None
    if stated:
        rate = ask("consumption", product, about, take=("type", "basis"))
        usual = "" if rate is None or rate.rule.amount.unit.dimension == VOLUME else sort
        return _Use(rate, rate["type"] or usual, told=bool(rate["type"])) if rate is not None else None
    rate = ask("consumption", product, of_sort if sort else about, take=("basis",))
    return _Use(rate, sort, told=False) if rate is not None else None


def _skim(face: _Face, used: _Use, book: Consultation) -> Answer | None:
    """What a skim coat takes: the strongest rule that speaks of it in the measure of the rate; a silence is asked about."""
    about = {**face.place.about, "coat": "skim", "type": used.sort}
    answer = book.book.ask("consumption", COMPOUND, about, take=("basis",))
    said = (
        [r for r in answer.heard if r.scope.get("coat") == "skim" and by_area(r, MEASURES[COMPOUND])] if answer else []
    )
    rule = next((r for r in said if r.amount.unit.dimension == used.rate.rule.amount.unit.dimension), None)
    if rule is None or answer is None:
        book.miss("consumption", COMPOUND, about)
        return None
    return book.use(Answer(answer.asked, rule))


def _notes(
    product: str, members: Sequence[_Share], corners: Sequence[Corner], need: Amount, units: str
) -> Iterator[str]:
    """What whoever checks the item should know."""
    if product == COMPOUND:
        yield from (Aside("Coats", share.face.finish.told()) for share in members if share.face.finish.answers)
        if any(share.part for share in members):
            told = (
                "The default rate is for Level 4, three coats over joints; fewer or more coats take it in proportion."
            )
            yield Aside("Rate", told)
        for share in members:
            if share.face.finish.skim and share.skim is None:
                yield "Level 5 adds a skim coat over the whole face. No rate is given for it, and none is ordered."
    if product == TAPE and len({share.pool for share in members}) == 1:
        boarded = [(surface, share.face.sheet) for share in members for surface in share.face.place.surfaces]
        counted = seams(boarded, corners)
        if counted is not None and counted.all:
            yield Aside("Count", counted.told(units, need))


def _need(product: str, members: Sequence[_Share], units: str) -> Amount:
    groups = alike(members)
    if len({group[0].alike[1:] for group in groups}) > 1 or any(share.skim for share in members):
        parts = (_times(_area(group, units), group[0], f"{group[0].place.kind}s") for group in groups)
        return total(parts, f"{product} needed")
    # One rule over everything: the finished board is added up first, since that is the figure one checks.
    areas = [_area(group, units) for group in groups]
    return _times(total(areas, "finished board"), members[0], f"{product} needed")


def _area(group: Sequence[_Share], units: str) -> Amount:
    return area_of(group, f"finished {group[0].place.kind}s", units)


def _times(area: Amount, share: _Share, label: str) -> Amount:
    unit = bought_in(share.use.rule.amount.unit)
    need = (area * share.use.rate).to(unit)
    if share.part is not None:
        need = need * share.part
    if share.skim is not None:
        skim = (area * share.skim.rate).to(unit).named(f"level 5 skim coat on {label}")
        need = need.named(f"joints, angles and heads on {label}") + skim
    return with_waste(need, share.waste, label)


TRADE = Trade(
    name="joints",
    title="Joints",
    line_items=line_items,
    defaults=defaults_of("darby_joints"),
    cautions=CAUTIONS,
    operations=(JOINTS, BEADS),
    labor=labor,
    columns=(RoomColumn("Level", (("finish level", BOARD),), order=30),),
    work=(
        Work((COMPOUND, TAPE, BEAD, TEXTURE), house=("coats",)),
        Work((BOARD,), ("thickness", "sheet", "layers", "type", "system", "finish level"), ("layers", "finish level")),
    ),
    about="Joint compound and joint tape over all finished board, by level of finish; corner bead in sticks.",
)
