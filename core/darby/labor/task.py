"""Work: what a trade's people do on a job, measured, before anybody says how long it takes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from attrs import field, frozen

from darby.job.model import Job, Surface
from darby.quantities.amounts import Amount, total
from darby.quantities.plurals import plural
from darby.quantities.units import AREA, Dimension
from darby.rules.rule import Rule, Scope


def _scope(value: Mapping[str, str]) -> Scope:
    return value if isinstance(value, Scope) else Scope(value)


@frozen
class Operation:
    """One kind of work of a trade, as production rates name it: `hang underlay`.

    A rate may be limited by the keys in `by` (`surface`, `thickness`, `layer`, `height`, `level`, `method` ...) and is told over
    one of the dimensions in `per`.
    """

    name: str
    """A verb and what it is done to: `lay underlay`."""
    by: tuple[str, ...] = ("surface",)
    per: tuple[Dimension, ...] = (AREA,)
    about: str = ""
    """What is in it, in a sentence, for `darby trades`."""


@frozen(eq=False)
class Task:
    """So much of one operation under the same conditions.

    `amounts` measure the same work in several ways (an area, and a count of pieces); a rate is taken over the one it is told in.
    `height` is how high it reaches; with `rising` the work lies evenly from the floor up to there, as on a wall, else all of it up
    there, as on a ceiling. None where nobody knows.
    """

    operation: str
    """The name of one of the trade's operations."""
    amounts: tuple[Amount, ...]
    about: Scope = field(factory=Scope, converter=_scope)
    """What rates may tell it apart by: `surface`, `thickness` and so on, as the operation names them."""
    height: Amount | None = None
    rising: bool = False
    rules: tuple[Rule, ...] = ()
    """The rules that shaped it."""
    trade: str = ""
    """Filled in by the core."""

    def measured_in(self, dimension: Dimension) -> Amount | None:
        """The work in a measure of some dimension, or None where it was not measured so."""
        return next((amount for amount in self.amounts if amount.unit.dimension == dimension), None)


@frozen(eq=False)
class Piece:
    """One surface's part of an operation: the surface, how much there is of it, and what the work is there."""

    surface: Surface
    """Where it is done; its height goes into the work."""
    amounts: tuple[Amount, ...]
    """How much of it there is, by its area first."""
    about: Mapping[str, str]
    """As `Task.about`."""
    rules: tuple[Rule, ...] = ()
    """The rules that shaped it."""


def tasks_on(operation: str, pieces: Iterable[Piece], job: Job) -> tuple[Task, ...]:
    """Pieces of one operation put together where conditions and height are the same, in the order of the job."""
    found: dict[tuple[object, ...], list[Piece]] = {}
    heights = _heights(job)
    for piece in pieces:
        height, _ = height_of(piece.surface, heights)
        measures = tuple(amount.unit.dimension for amount in piece.amounts)
        key = (Scope(piece.about), height.size if height is not None else None, piece.surface.kind, measures)
        found.setdefault(key, []).append(piece)
    return tuple(_together(operation, alike, heights, job.units) for alike in found.values())


def _together(operation: str, alike: list[Piece], heights: Mapping[str, Amount], units: str) -> Task:
    first = alike[0]
    height, rising = height_of(first.surface, heights)
    label = " ".join(filter(None, (operation, f"on {plural(first.surface.kind)}")))
    amounts = tuple(
        total((piece.amounts[n].in_system(units) for piece in alike), f"{label}, measured")
        for n in range(len(first.amounts))
    )
    rules = tuple(dict.fromkeys(rule for piece in alike for rule in piece.rules))
    return Task(operation, amounts, first.about, height, rising, rules)


def height_of(surface: Surface, heights: Mapping[str, Amount]) -> tuple[Amount | None, bool]:
    """How high a surface reaches, and whether it rises from the floor up to there. A ceiling is as high as the walls of its room."""
    if surface.kind == "wall":
        return surface.height, True
    if surface.kind == "ceiling":
        return heights.get(surface.room), False
    return None, False


def _heights(job: Job) -> dict[str, Amount]:
    """The height of each room: that of its highest wall."""
    found: dict[str, Amount] = {}
    for surface in job.of_kind("wall"):
        if surface.room and surface.height is not None:
            known = found.get(surface.room)
            found[surface.room] = surface.height if known is None or surface.height > known else known
    return found
