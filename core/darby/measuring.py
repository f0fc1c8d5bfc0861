"""From measured surfaces to areas: all faces, less the openings that a rule takes out."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from darby.amounts import Amount, total
from darby.job import Surface
from darby.rulebook import Answer
from darby.units import NUMBER_ONLY

Deduct = Answer | None
"""What the rule book says of `deduct openings over`; None where nothing is said and nothing comes out."""


def net_area(surface: Surface, deduct: Deduct) -> Amount:
    """Area of all faces of a surface, less the openings that come out; never below zero.

    An area in `deduct` means that each opening larger than it, taken singly, comes out in full, through all faces. A
    share (0 % is "do not deduct openings") means that this share of every opening comes out.
    """
    out = openings_out(surface, deduct)
    if out is None:
        return (surface.area * surface.faces).named(surface.name)
    gross = (surface.area * surface.faces).named(f"{surface.name} with its openings")
    if out > gross:
        out = gross.named("its openings, which take up all of it")
    return (gross - out).named(surface.name)


def openings_out(surface: Surface, deduct: Deduct) -> Amount | None:
    """Area of the openings that come out, over all faces; None where none does."""
    if deduct is None:
        return None
    limit = deduct.amount
    by_share = limit.unit.dimension == NUMBER_ONLY
    taken = [o for o in surface.openings if (limit.value > 0 if by_share else o.each > limit)]
    if not taken:
        return None
    holes = (
        (o.width * o.height * o.count * surface.faces).to(surface.area.unit).named(f"{o.name} in {surface.name}")
        for o in taken
    )
    if by_share:
        return (total(holes, f"openings in {surface.name}") * limit).named(f"openings in {surface.name} that come out")
    return total(holes, f"openings {f'over {limit.exact()}' if limit else 'of any size'} in {surface.name}")


def pooled(
    surfaces: Iterable[Surface],
    deduct: Deduct | Callable[[Surface], Deduct] = None,
    label: str = "",
    *,
    units: str = "",
) -> Amount:
    """Net area of one or more surfaces together, in the usual area of `units` (`us` or `metric`).

    Where `units` is left out the first surface's own unit is used; surfaces measured otherwise are converted, each as a
    step of the working. `deduct` may be a function of the surface, since walls and ceilings may be ruled differently.
    Raises UnitError where there is no surface.
    """
    areas = (net_area(s, deduct(s) if callable(deduct) else deduct) for s in surfaces)
    return total((a.in_system(units) if units else a for a in areas), label)
