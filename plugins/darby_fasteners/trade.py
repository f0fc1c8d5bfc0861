"""Screws or nails through all layers of board, adhesive along the supports, clips at inside corners."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import partial

from attrs import evolve, frozen

from darby.api import (
    DEFAULT,
    MASS,
    NUMBER_ONLY,
    Amount,
    Answer,
    Aside,
    Consultation,
    Deduct,
    Dimension,
    Job,
    Layer,
    LineItem,
    Place,
    Rule,
    Side,
    Task,
    Trade,
    Work,
    alike,
    area_of,
    area_over,
    bought_in,
    by_area,
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
)
from darby_fasteners.cautions import CAUTIONS
from darby_fasteners.clips import CLIP, clips
from darby_fasteners.counting import ADHESIVE, BOARD, NAIL, Count, bed, count
from darby_fasteners.gluing import adhesive
from darby_fasteners.layered import Layered, board_of, course_of, layers_of
from darby_fasteners.reach import Reach, reach, thickness_of
from darby_fasteners.support import support, usual

SCREW = "screw"
SURFACES = ("wall", "ceiling")
MEASURES = frozenset({NUMBER_ONLY, MASS})
"""What a use over an area may be told in: by the piece or by weight."""
_NOBODY = Layer(-1)


@frozen(eq=False)
class _Share:
    """One place's fasteners: by a rate over the area, by their spacing, or both, of which one is followed."""

    product: str
    side: Side
    layers: Amount
    """The layer that they hold, as a factor."""
    rate: Answer | None
    spaced: Count | None
    by_spacing: bool
    deduct: Deduct
    waste: Answer | None
    reach: Reach

    @property
    def place(self) -> Place:
        """Where they go."""
        return self.side.place

    @property
    def alike(self) -> tuple[object, ...]:
        """Places of one kind under the same rules are measured together."""
        return (self.place.kind, self.by_spacing, self.layers.value, *map(id, self.rules))

    @property
    def rules(self) -> tuple[Rule, ...]:
        followed = self.spaced.rules if self.by_spacing and self.spaced else (self.rate.rule,) if self.rate else ()
        return (*rules_of(self.side.layers, *ruled_by(self.deduct), self.waste), *self.reach.rules, *followed)

    @property
    def pool(self) -> tuple[str, Dimension, str, str, str]:
        """Screws are no nails, a count is no weight, a length is bought as long as it is, and a thread for one support holds in no other."""
        dimension = NUMBER_ONLY if self.by_spacing or self.rate is None else self.rate.rule.amount.unit.dimension
        return self.product, dimension, self.reach.said, self.reach.support.thread, self.reach.support.kind


def line_items(job: Job, book: Consultation) -> Iterator[LineItem]:
    """Clips at inside corners where somebody names clips, screws or nails where it has board, adhesive where somebody asks for it."""
    if book.wanted(CLIP):
        yield from clips(job.corners, book, job.prices)
    found = places(job.surfaces, book, SURFACES)
    shares = dict(_fasteners(found, book, job))
    yield from shares
    for product in (SCREW, NAIL):  # a mock-up of board is hung with what most of it is
        over = partial(area_over, shares=shares, units=job.units)
        yield from spare_lines(product, shares, book, over=over, along=BOARD)
    yield from adhesive(found, book, job)


def _fasteners(found: Sequence[Place], book: Consultation, job: Job) -> Iterator[tuple[LineItem, Sequence[_Share]]]:
    notes: list[str] = []
    sides = [side for place in found for side in sides_on(place, BOARD, book)]
    guess = usual((side.place for side in sides), book)
    shares = [share for side in sides for share in _shares(side, book, notes, guess)]
    pools = grouped(shares, lambda share: share.pool)
    supports = {share.reach.support.kind for share in shares}
    for (product, dimension, length, thread, into), members in pools.items():
        groups = alike(members)
        parts = [_subtotal(group, job.units) for group in groups]
        need = total(parts, f"{product}s needed")
        told = len(supports) > 1 or not all(share.reach.support.guess for share in members)
        twins = [key for key in pools if (key[0], *key[2:4]) == (product, length, thread) and key[4] != into]
        shown = {"length": length, "type": thread, "into": into if told and (twins or not thread) else ""}
        pool = {key: said for key, said in shown.items() if said}
        if any(key[0] == product and key[1] != dimension and key[2:] == (length, thread, into) for key in pools):
            pool["measure"] = need.unit.name
        compared = [_comparison(group, part, job.units) for group, part in zip(groups, parts, strict=True)]
        lengths = [note for share in members for note in share.reach.notes]
        lines = ordered(
            product, need, book, pool, about={"type": thread},
            rules=(rule for share in members for rule in share.rules),
            notes=dict.fromkeys((*notes, *filter(None, compared), *lengths)), prices=job.prices,
        )  # fmt: skip
        yield from ((line, members) for line in lines)


def _shares(side: Side, book: Consultation, notes: list[str], guess: str) -> Iterator[_Share]:
    """The fasteners of a side, layer by layer from the innermost out: each goes through its own and those below it."""
    about = dict(side.place.about)
    product = _product(about, book)
    many = total([course.many for course in side.courses], "layers") if len(side.courses) > 1 else side.layers.amount
    for layer in layers_of(many):
        if (share := _share(side, product, layer, book, notes, guess)) is not None:
            yield share


def _share(
    side: Side,
    product: str,
    layer: Layered,
    book: Consultation,
    notes: list[str],
    guess: str,
) -> _Share | None:
    place, about = side.place, {**side.place.about, **layer.about}
    into = support(product, place, about, book, guess)
    about["note"] = into.material  # `12 in. into steel, 16 in. into wood`
    rate = book.book.ask("consumption", product, about)
    if rate is not None and not by_area(rate.rule, MEASURES):
        notes.append(no_use_over_area(rate.rule))
        rate = None
    under = bed({**about, "type": board_of(course_of(side, layer), book)[0]}, book)
    spaced = count(product, about | thickness_of(side, layer, book), under, book) if under else None
    if rate is None and spaced is None:
        book.miss("consumption", product, about)
        return None
    if spaced is None:
        said = book.book.ask("spacing", product, {**about, "where": "field"}, take=("method",))
        if said is not None and said.layer > DEFAULT:
            book.use(said)
            notes.append(
                f"The spacing of {said.amount.exact()} on {place.kind}s is not in the count: the sheet size or the framing spacing is not known."
            )
    by_spacing = spaced is not None and (rate is None or _outranks(spaced, rate, layer.one))
    if by_spacing and spaced is not None:
        field, *others = spaced.answers
        for answer in (
            evolve(field, beaten=(*rules_of(rate), *field.beaten)),
            *others,
            spaced.bed.sheet,
            spaced.bed.framing,
        ):
            book.use(answer)
    elif rate is not None:
        beside = tuple(a.rule for a in spaced.answers if a.layer > DEFAULT) if spaced else ()
        book.use(evolve(rate, beaten=(*beside, *rate.beaten)))
    deduct = deduction(book, (BOARD,), about)
    how = reach(product, side, layer, book, into)
    return _Share(product, side, layer.one, rate, spaced, by_spacing, deduct, book.peek("waste", product, about), how)


def _product(about: Mapping[str, str], book: Consultation) -> str:
    """Nails where somebody asks for nails and nobody with as much weight for screws."""

    def said(product: str) -> Layer:
        asked = {**about, "where": "field"}
        found = [
            book.book.ask("spacing", product, asked, take=("method", "note")),
            book.book.ask("consumption", product, about),
        ]
        return max((a.layer for a in found if a is not None), default=_NOBODY)

    nails = said(NAIL)
    return NAIL if nails > DEFAULT and nails > said(SCREW) else SCREW


def _outranks(spaced: Count, rate: Answer, layers: Amount) -> bool:
    """Whether the spacing is followed: said with more weight than a default rate; else with no less, and it buys more.

    A rate that somebody stated is what she orders by; a spacing in a document is how far apart they may stand at most.
    """
    field = spaced.answers[0]
    if rate.layer == DEFAULT or field.layer < rate.layer or rate.rule.amount.unit.dimension != NUMBER_ONLY:
        return rate.layer == DEFAULT and field.layer > DEFAULT
    if spaced.bed.framing.layer == DEFAULT:  # how many supports there are is a guess, and the rate is none
        return False
    return spaced.over(spaced.bed.area) > spaced.bed.area * layers * rate.rate


def _area(group: Sequence[_Share], units: str) -> Amount:
    return area_of(group, f"area of {group[0].place.kind}s", units)


def _subtotal(group: Sequence[_Share], units: str) -> Amount:
    first = group[0]
    area = _area(group, units)
    if first.by_spacing and first.spaced is not None:
        need = first.spaced.over(area)
    else:
        assert first.rate is not None
        need = (area * first.layers * first.rate.rate).to(bought_in(first.rate.rule.amount.unit))
    return with_waste(need, first.waste, f"{first.product}s on {first.place.kind}s")


def _comparison(group: Sequence[_Share], need: Amount, units: str) -> str:
    """What the other way of counting would give, in a sentence; nothing where there is none to compare with."""
    first = group[0]
    if first.spaced is None or need.unit.dimension != NUMBER_ONLY:
        return ""
    where, area = f"{first.place.kind}s", _area(group, units)
    by_spacing = first.spaced.over(area)
    if first.rate is None or first.rate.rule.amount.unit.dimension != NUMBER_ONLY:
        return Aside(
            "Count", f"{first.product.capitalize()}s on {where} are counted from their spacing: {first.spaced.told()}."
        )
    by_rate = area * first.layers * first.rate.rate
    used, other = (by_spacing, by_rate) if first.by_spacing else (by_rate, by_spacing)
    how = f"the rate of {_said(first.rate)}", f"the spacing ({first.spaced.told()})"
    one, two = reversed(how) if first.by_spacing else how
    return Aside(
        "Count",
        f"{_whole(used)} {first.product}s on {where} by {one}; {two} would give {_whole(other)}, {_more(other, used)}.",
    )


def _said(rate: Answer) -> str:
    return rate.rule.says().replace("1000", "1,000")


def _whole(amount: Amount) -> str:
    return f"{round(amount.value):,}"


def _more(one: Amount, than: Amount) -> str:
    """How one amount compares with another: `9 % more`."""
    share = round((one.size / than.size - 1) * 100)
    return "as many" if not share else f"{abs(share)} % {'more' if share > 0 else 'fewer'}"


def labor(_job: Job, _book: Consultation) -> Iterator[Task]:
    """None of its own: driving fasteners is part of hanging the board."""
    yield from ()


TRADE = Trade(
    name="fasteners",
    title="Fasteners",
    line_items=line_items,
    defaults=defaults_of("darby_fasteners"),
    cautions=CAUTIONS,
    labor=labor,
    marks={"supports": ""},
    mark_words={"supports": {"wood": "wood", "timber": "wood", "lumber": "wood", "steel": "steel", "metal": "steel"}},
    work=(
        Work((SCREW, NAIL, CLIP, ADHESIVE), house=("spacing",)),
        Work((BOARD,), ("thickness", "sheet", "layers", "type", "system"), ("layers",)),
    ),
    only_named=(CLIP,),
    about="Clips at inside corners; screws or nails over all layers of board, by rate and by spacing; adhesive in tubes.",
)
