"""Adhesive: a bead along every support under the board, in tubes, where somebody asks for it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from attrs import frozen

from darby.api import (
    AREA,
    LENGTH,
    Amount,
    Answer,
    Consultation,
    Job,
    LineItem,
    Place,
    Rule,
    deduction,
    grouped,
    ordered,
    pooled,
    ruled_by,
    rules_of,
    total,
    with_waste,
)
from darby_fasteners.counting import ADHESIVE, BOARD, Bed, bed, glued


@frozen(eq=False)
class _Share:
    """What one place takes: a length of bead, or a weight or volume by the area."""

    need: Amount
    reaches: Answer
    """A consumption: a tube for a length of bead, or so much over an area."""
    rules: tuple[Rule, ...]


def adhesive(found: Sequence[Place], book: Consultation, job: Job) -> Iterator[LineItem]:
    """One item for each measure in which the use is told: tubes of so much bead, or weight and volume by the area."""
    shares = [share for place in found if glued(place.about, book) if (share := _share(place, book, job.units))]
    by_length = [s for s in shares if s.need.unit.dimension == LENGTH]
    pools = grouped(by_length, lambda share: share.reaches.rule)
    waste = book.peek("waste", ADHESIVE) if shares else None
    for number, (rule, members) in enumerate(pools.items()):
        assert rule.per is not None
        need = with_waste(total((s.need for s in members), "length of bead"), waste, "bead needed")
        yield LineItem(
            ADHESIVE, need, {"rate": rule.says()} if number else {}, rule.per / rule.amount,
            rules=tuple(dict.fromkeys((*(r for s in members for r in s.rules), *rules_of(waste)))),
        )  # fmt: skip
    rest = grouped((s for s in shares if s.need.unit.dimension != LENGTH), lambda s: s.need.unit.dimension)
    for members in rest.values():
        need = with_waste(total((s.need for s in members), ADHESIVE), waste, "adhesive needed")
        pool = {"measure": need.unit.name} if pools or len(rest) > 1 else {}
        yield from ordered(
            ADHESIVE, need, book, pool, about={}, rules=(r for s in members for r in s.rules), prices=job.prices
        )


def _share(place: Place, book: Consultation, units: str) -> _Share | None:
    about = dict(place.about)
    use = book.ask("consumption", ADHESIVE, about, take=("method", "where"))
    if use is None or use.rule.per is None:
        return None
    deduct = deduction(book, (BOARD,), about)
    area = pooled(place.surfaces, deduct, f"area of {place.kind}s", units=units)
    rules = rules_of(use, *ruled_by(deduct))
    if use.rule.per.unit.dimension == AREA:
        return _Share((area * use.rate).to(use.rule.amount.unit), use, rules)
    if not (use.rule.per.unit.dimension == LENGTH and len(use.rule.amount.unit.dimension) == 1):
        book.miss("consumption", ADHESIVE, about)
        return None
    under = bed(about, book)
    apart = book.peek("spacing", ADHESIVE, about, take=("method", "where", "note"))
    if under is None:
        book.miss("framing", BOARD, about)
        return None
    if apart is not None and apart.amount:
        under = Bed(under.sheet, apart)
    else:
        book.use(under.framing)
    book.use(under.sheet)
    # One bead on each support, and one for either sheet where two meet over a support.
    bead = (under.supports * under.width).named("bead for a sheet")
    return _Share((area / under.area * bead).in_system(units), use, (*rules, under.sheet.rule, under.framing.rule))
