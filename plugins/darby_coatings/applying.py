"""The work of putting on paint, as production rates name it and as it is measured."""

from __future__ import annotations

from collections.abc import Iterator

from darby.api import (
    AREA,
    LENGTH,
    NUMBER_ONLY,
    Amount,
    Consultation,
    Deduct,
    Job,
    Operation,
    Place,
    Surface,
    Work,
    net_area,
    places,
    unsaid_of,
)

FINISH = "finish paint"
PRODUCTS = ("primer", FINISH)
APPLY = {
    product: Operation(
        f"apply {product}",
        ("surface", "method", "height", "sheen", "class", "condition"),
        (AREA, NUMBER_ONLY, LENGTH),
        "Putting on, every coat counted: over the net area, or for doors each and for trim along it.",
    )
    for product in PRODUCTS
}
_ASKED = ("coats", "coverage", "consumption", "film", "sheen", "color", "class", "system", "package")
WORK = Work(PRODUCTS, _ASKED, ("coats",), ("wall", "ceiling"))


def painted(job: Job, book: Consultation) -> Iterator[Place]:
    """Where paint goes: no walls where documents speak of paint on ceilings alone, and no ceilings where of walls alone."""
    found = [(place, (place.kind, place.about.get("part", ""))) for place in places(job.surfaces, book)]
    alone = unsaid_of((WORK,), book.book.rules, (where for _, where in found))
    return (place for place, where in found if where not in alone)


def coated(surface: Surface, deduct: Deduct, coats: Amount) -> tuple[Amount, ...]:
    """The coats of a surface by its area, and by what else it is measured in."""
    area = (net_area(surface, deduct) * coats).named(f"coats on {surface.name}")
    return (area, *((other * coats).named(f"coats on {surface.name}") for other in surface.measures))
