"""The work of putting on paint, as production rates name it and as it is measured."""

from __future__ import annotations

from darby.api import AREA, LENGTH, NUMBER_ONLY, Amount, Deduct, Operation, Surface, net_area

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


def coated(surface: Surface, deduct: Deduct, coats: Amount) -> tuple[Amount, ...]:
    """The coats of a surface by its area, and by what else it is measured in."""
    area = (net_area(surface, deduct) * coats).named(f"coats on {surface.name}")
    return (area, *((other * coats).named(f"coats on {surface.name}") for other in surface.measures))
