"""Small jobs and single trades, for tests that need neither files nor an engine."""

from __future__ import annotations

from collections.abc import Iterable

from darby.estimate.line_item import LineItem
from darby.estimate.trade import Trade
from darby.job.model import Corner, Job, Opening, Surface
from darby.quantities.amounts import Amount, Origin
from darby.rules.cascade import RuleBook
from darby.rules.consultation import Consultation
from darby.rules.rule import Rule
from darby.text.spans import Source, Span


def _row(text: str) -> Span:
    return Source("job.toml", text).span(0, len(text))


def measured(text: str) -> Amount:
    """A measured length or area, or a bare count."""
    origin = Origin("job.toml", text, _row(text), "measured")
    return Amount.of(int(text), "each", origin) if text.isdigit() else Amount.read(text, origin)


def opening(width: str, height: str, count: int = 1, name: str = "door") -> Opening:
    """An opening; the wall or ceiling it is given to becomes its surface."""
    return Opening(name, "", measured(width), measured(height), measured(str(count)), _row(name))


def _surface(
    kind: str, sides: tuple[str, ...], *, faces: int = 1, name: str, room: str, holes: Iterable[Opening]
) -> Surface:
    lengths = [measured(s) for s in sides]
    area = lengths[0] if len(lengths) == 1 else lengths[0] * lengths[1]
    return Surface(
        name, kind, area, measured(str(faces)), _row(name), room,
        length=lengths[0] if len(lengths) == 2 else None, height=lengths[1] if len(lengths) == 2 else None,
        openings=tuple(Opening(o.name, name, o.width, o.height, o.count, o.span) for o in holes),
    )  # fmt: skip


def wall(*sides: str, faces: int = 1, name: str = "wall", room: str = "", openings: Iterable[Opening] = ()) -> Surface:
    """A wall by length and height, or by its area."""
    return _surface("wall", sides, faces=faces, name=name, room=room, holes=openings)


def ceiling(*sides: str, name: str = "ceiling", room: str = "", openings: Iterable[Opening] = ()) -> Surface:
    """A ceiling by length and width, or by its area."""
    return _surface("ceiling", sides, name=name, room=room, holes=openings)


def room(
    length: str, width: str, height: str, *, name: str = "Room", openings: Iterable[Opening] = ()
) -> list[Surface]:
    """The four walls and the ceiling of a room; the openings lie in the first wall."""
    return [
        wall(length, height, name=f"{name} wall 1", room=name, openings=openings),
        wall(width, height, name=f"{name} wall 2", room=name),
        wall(length, height, name=f"{name} wall 3", room=name),
        wall(width, height, name=f"{name} wall 4", room=name),
        ceiling(length, width, name=f"{name} ceiling", room=name),
    ]


def corner(count: int, height: str, kind: str = "inside", room: str = "") -> Corner:
    return Corner(kind, measured(str(count)), measured(height), _row(f"{count} corners"), room)


def job(*surfaces: Surface, corners: Iterable[Corner] = (), units: str = "us") -> Job:
    return Job("test", units, surfaces, tuple(corners))


def run(trade: Trade, work: Job, rules: Iterable[Rule]) -> tuple[list[LineItem], Consultation]:
    """A trade's line items under some rules, and what it asked."""
    asked = Consultation(RuleBook(rules))
    return list(trade.line_items(work, asked)), asked


def only(trade: Trade, work: Job, rules: Iterable[Rule], product: str = "") -> LineItem:
    """The one line item of a product."""
    items = [i for i in run(trade, work, rules)[0] if not product or i.product == product]
    assert len(items) == 1, items
    return items[0]
