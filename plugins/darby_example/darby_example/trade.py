"""Batt insulation: the net area of one face, the width by the spacing of the supports, rounded once, at the bag."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import frozen

from darby.api import (
    Amount,
    Answer,
    Caution,
    Consultation,
    Job,
    LineItem,
    Operation,
    Piece,
    Rule,
    Surface,
    Task,
    Trade,
    defaults_of,
    grouped,
    openings_out,
    pack,
    rules_of,
    tasks_on,
    total,
    with_waste,
)
from darby_example.reader import BATT

FIT = Operation(
    "fit batt insulation", ("surface", "thickness", "type"), about="Cutting and fitting batts, over one face."
)


@frozen(eq=False)
class _Share:
    """What one surface gets, and the answers that say so."""

    surface: Surface
    area: Amount
    pool: tuple[tuple[str, str], ...]
    rules: tuple[Rule, ...]
    notes: tuple[str, ...]


def line_items(job: Job, book: Consultation) -> Iterator[LineItem]:
    """One item for each width, thickness and facing. Only surfaces that somebody said are insulated have any."""
    for key, shares in grouped(_shares(job, book), lambda share: share.pool).items():
        pool = dict(key)
        waste = book.ask("waste", BATT, pool)
        need = with_waste(total([share.area for share in shares]), waste, f"{BATT} needed")
        packing = pack(need, BATT, book, pool)
        rules = (*(rule for share in shares for rule in share.rules), *packing.rules, *rules_of(waste))
        notes = (*(note for share in shares for note in share.notes), *packing.notes)
        yield LineItem(
            BATT, need, pool, packing.package, rules=tuple(dict.fromkeys(rules)), notes=tuple(dict.fromkeys(notes))
        )


def labor(job: Job, book: Consultation) -> Iterator[Task]:
    """Batts to be fitted, told apart as production rates may tell them."""
    pieces = [
        Piece(s.surface, (s.area,), {"surface": s.surface.kind, **{k: v for k, v in s.pool if k != "width"}}, s.rules)
        for s in _shares(job, book)
    ]
    yield from tasks_on(FIT.name, pieces, job)


def _shares(job: Job, book: Consultation) -> list[_Share]:
    return [share for surface in job.surfaces if (share := _share(surface, job.units, book))]


def _share(surface: Surface, units: str, book: Consultation) -> _Share | None:
    about = {"name": surface.name, "surface": surface.kind, "room": surface.room}
    layers = book.peek("layers", BATT, about, take=("type",))
    if layers is None or not layers.amount:
        return None
    thickness = book.ask("batt thickness", BATT, about, take=("type",))
    spacing = book.ask("framing", BATT, about)
    width = _width(spacing, about, book)
    deduct = book.peek("deduct openings over", BATT, about)
    pool = {
        "type": layers["type"] or (thickness["type"] if thickness else ""),
        "thickness": thickness.amount.exact() if thickness else "",
        "width": width.amount.exact() if width else "",
    }
    notes: tuple[str, ...] = ()
    if spacing is not None and width is None:
        notes = (f"No width of batt is known for supports at {spacing.amount.exact()}.",)
    return _Share(
        surface,
        _area(surface, deduct, units) * layers.amount,
        tuple((key, value) for key, value in pool.items() if value),
        rules_of(layers, thickness, spacing, width, deduct),
        notes,
    )


def _area(surface: Surface, deduct: Answer | None, units: str) -> Amount:
    """One face of a surface, whatever its other face gets: between two faces there is one row of supports."""
    faces = surface.faces
    area = surface.area.in_system(units).named(surface.name)
    out = openings_out(surface, deduct)
    return area if out is None else (area - (out / faces).in_system(units)).named(f"{surface.name} without openings")


def _width(spacing: Answer | None, about: dict[str, str], book: Consultation) -> Answer | None:
    """Of the widths on offer the one made for these supports; a question where there is none."""
    if spacing is None:
        return None
    for width in book.book.all("batt width", BATT, about):
        if width.rule.by == spacing.amount:
            return book.use(width)
    book.miss("batt width", BATT, {**about, "supports": spacing.amount.exact()})
    return None


CAUTIONS = (
    Caution(
        "Fibres",
        "Cutting batts frees fibres that irritate skin, eyes and lungs: long sleeves, gloves, goggles and a dust mask. Follow "
        "the label and local rules.",
        "common practice, no source",
    ),
    Caution(
        "Kraft facing burns",
        "Kraft facing must not be left exposed, and kept away from flues and other sources of heat as the local code requires.",
        "common practice, no source",
    ),
)


TRADE = Trade(
    name="insulation",
    title="Insulation",
    line_items=line_items,
    defaults=defaults_of("darby_example"),
    cautions=CAUTIONS,
    operations=(FIT,),
    labor=labor,
    marks={"insulation": BATT},
    about="Batt insulation between supports, in bags, pooled by width, thickness and facing.",
)
