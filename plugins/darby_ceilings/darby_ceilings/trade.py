"""Suspended ceilings: whole panels row by row, runners by their spacing, wire by its hangers; clouds of the job's own table beside them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from attrs import frozen

from darby.api import (
    WORK_AT_HEIGHT,
    Amount,
    Answer,
    Claim,
    Consultation,
    Entry,
    Job,
    JobTable,
    Key,
    LineItem,
    Operation,
    Piece,
    Rule,
    Surface,
    Task,
    Trade,
    bought_in,
    defaults_of,
    pack,
    places,
    tasks_on,
    total,
    with_waste,
)
from darby_ceilings.reader import HUNG, PANEL

MAIN, TEE, WIRE = "main runner", "cross tee", "hanger wire"
NAME = "ceilings"
HANG = Operation("hang ceilings", ("surface",), about="Laying out the grid, hanging it and laying in the panels.")

SETTINGS = (
    Key("panel_width", "length", "how far cross tees are apart", least="6 in", most="5 ft"),
    Key("panel_length", "length", least="6 in", most="10 ft"),
    Key("wire_spacing", "length", "of main runners, and of wires along them", least="1 ft", most="6 ft"),
    Key("wire_length", "length", "of a hanger, what is twisted included", least="6 in", most="30 ft"),
)
CLOUDS = JobTable(
    "clouds", "cloud", "flat", about="panels hung free, with open edges",
    keys=(
        Key("hangers", "count", "as drawn, where the spacing does not say how many", least="4"),
        Key("drop", "length", "length of a hanger", least="2 in", most="30 ft"),
    ),
)  # fmt: skip


@frozen(eq=False)
class _Hung:
    """Something that is hung, with the rules that say so."""

    surface: Surface
    rules: tuple[Rule, ...] = ()
    cloud: Entry | None = None


@frozen(eq=False)
class _Grid:
    """How the firm or the job builds the grid."""

    width: Answer
    length: Answer
    spacing: Answer
    wire: Answer

    @property
    def rules(self) -> tuple[Rule, ...]:
        """What says so."""
        return tuple(answer.rule for answer in (self.width, self.length, self.spacing, self.wire))


def line_items(job: Job, book: Consultation) -> Iterator[LineItem]:
    """Four lines for the whole job; none where nothing is hung."""
    hung = [*_ceilings(job, book), *(_Hung(e.surface, (), e) for e in job.entries("clouds") if e.surface is not None)]
    grid = _grid(book) if hung else None
    if grid is None:
        return
    rules = tuple(dict.fromkeys(rule for one in hung for rule in (*one.rules, *grid.rules)))
    waste = book.ask("waste", PANEL)
    panels = with_waste(_sum(hung, lambda one: _panels(one.surface, grid)), waste, "panels")
    mains = _sum(hung, lambda one: _run(one.surface, grid.spacing, job.units))
    tees = _sum(hung, lambda one: _run(one.surface, grid.width, job.units))
    wire = _sum(hung, lambda one: _wire(one, grid, job.units))
    size = {"panel": f"{grid.width.amount.exact()} x {grid.length.amount.exact()}"}
    yield _line(PANEL, panels, book, (*rules, *((waste.rule,) if waste is not None else ())), size)
    for product, need in ((MAIN, mains), (TEE, tees), (WIRE, wire)):
        yield _line(product, need.named(f"{product} needed"), book, rules, {})


def labor(job: Job, book: Consultation) -> Iterator[Task]:
    """Area of what is hung."""
    pieces = [
        Piece(one.surface, (one.surface.area,), {"surface": "ceiling"}, one.rules) for one in _ceilings(job, book)
    ]
    yield from tasks_on(HANG.name, pieces, job)


def _ceilings(job: Job, book: Consultation) -> Iterator[_Hung]:
    for place in places(job.surfaces, book, ("ceiling",)):
        said = book.peek(HUNG.name, PANEL, place.about)
        if said is not None:
            yield from (_Hung(surface, (said.rule,)) for surface in place.surfaces)


def _grid(book: Consultation) -> _Grid | None:
    width, length, spacing, wire = (book.ask("setting", f"{NAME} {key.name.replace('_', ' ')}") for key in SETTINGS)
    if width is None or length is None or spacing is None or wire is None:
        return None
    return _Grid(width, length, spacing, wire)


def _panels(surface: Surface, grid: _Grid) -> Amount:
    """Whole panels in each row and whole rows, cut ones included; by area where the sides are not known."""
    if surface.length is None or surface.height is None:
        return (surface.area / (grid.width.amount * grid.length.amount)).round_up().named(f"panels of {surface.name}")
    across, along = (
        (side / answer.amount).round_up().named(f"{label} of {surface.name}")
        for side, answer, label in (
            (surface.height, grid.width, "rows"),
            (surface.length, grid.length, "panels in a row"),
        )
    )
    return (across * along).named(f"panels of {surface.name}")


def _run(surface: Surface, apart: Answer, units: str) -> Amount:
    """Length of what runs over all of a surface, so far apart."""
    return (surface.area.in_system(units) / apart.amount.in_system(units)).in_system(units).named(surface.name)


def _wire(one: _Hung, grid: _Grid, units: str) -> Amount:
    """Length of the hangers: one for each square of the spacing, or as many as a cloud has."""
    counted = one.cloud.amount("hangers") if one.cloud is not None else None
    drop = one.cloud.amount("drop") if one.cloud is not None else None
    hangers = counted or (one.surface.area / (grid.spacing.amount * grid.spacing.amount)).round_up()
    each = drop if drop is not None else grid.wire.amount
    each = each.in_system(units)
    return (hangers.named(f"hangers of {one.surface.name}") * each.to(bought_in(each.unit))).named(one.surface.name)


def _sum(hung: Sequence[_Hung], of: Callable[[_Hung], Amount]) -> Amount:
    return total([of(one) for one in hung])


def _line(product: str, need: Amount, book: Consultation, rules: tuple[Rule, ...], pool: dict[str, str]) -> LineItem:
    packing = pack(need, product, book)
    return LineItem(
        product, need, pool, packing.package, rules=tuple(dict.fromkeys((*rules, *packing.rules))), notes=packing.notes
    )


TRADE = Trade(
    name=NAME,
    title="Suspended ceilings",
    line_items=line_items,
    defaults=defaults_of("darby_ceilings"),
    cautions=(WORK_AT_HEIGHT,),
    claims=(Claim(((HUNG.name, PANEL),)),),
    settings=SETTINGS,
    tables=(CLOUDS,),
    operations=(HANG,),
    labor=labor,
    marks={"hung_as": PANEL},
    about="Panels, runners, tees and wire of suspended ceilings and clouds, by whole panels.",
)
