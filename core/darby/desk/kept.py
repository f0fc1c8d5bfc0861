"""An order that was kept to compare with, as it was bid: a saved estimate beside the job, which every command opens too."""

from __future__ import annotations

from typing import Protocol

from attrs import frozen

from darby.desk.bench import Move
from darby.documents import changes
from darby.documents.needs import needs
from darby.estimate.model import Estimate
from darby.saved.model import Line, Saved

NAME = "as-bid.json"
"""The file of the kept order, beside the job."""


@frozen
class Why:
    """A line that is not as it was kept: what was and is ordered, by how much it moved, and what did it."""

    name: str
    was: str
    now: str
    change: str
    causes: tuple[str, ...]


@frozen
class Since:
    """All that moved since an order was kept."""

    tally: str
    """How much, in one line."""
    moved: tuple[Why, ...] = ()


class Keeping(Protocol):
    """What the command gives to the desk, so that it can keep an order and say why it moved."""

    def data(self) -> bytes:
        """The job as it is now, as a saved estimate; nothing where it cannot be worked out or is too large to be kept."""

    def opened(self, data: bytes) -> Saved | None:
        """A saved estimate; None where it is none that can be read."""

    def since(self, before: Saved) -> Since | None:
        """What moved since, with its causes; None where the job cannot be worked out."""


def kept_moves(before: Saved | None, now: Estimate | None) -> dict[str, Move]:
    """The lines of an order that are not as they were kept, by their ids."""
    if before is None or now is None:
        return {}
    lines = {item.id: (Line.of(item), need.name) for need in needs(now) for item in need.items}
    found = {
        name: Move(name, called, changes.order(was) if was is not None else "none", changes.order(line))
        for name, (line, called) in lines.items()
        if (was := before.lines.get(name)) is None or was.order != line.order
    }
    gone = {name: line for name, line in before.lines.items() if name not in lines}
    return found | {name: Move(name, changes.name_of(line), changes.order(line), "none") for name, line in gone.items()}
