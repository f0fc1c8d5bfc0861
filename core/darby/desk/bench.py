"""What the desk shows at any moment: the job worked out from its files as they lie there, once for each state of them."""

from __future__ import annotations

import contextlib
import threading
from collections.abc import Callable, Iterable
from typing import Protocol

from attrs import define, field, frozen

from darby.desk.files.folder import Folder, RefusedError, Stamp
from darby.desk.files.job_text import JobText
from darby.desk.panes.bid import Bidding
from darby.desk.panes.lists import Known
from darby.desk.panes.money import Prices
from darby.desk.panes.otherwise import Otherwise
from darby.documents.needs import key_of, needs
from darby.estimate.model import Estimate
from darby.quantities.gc_pause import in_bulk
from darby.text.diagnostics import Diagnostic

ROLES = ("specification", "addenda", "house")
"""What a document is to a job, as the job file calls it."""


class Worked(Protocol):
    """What working a job out gives: the estimate, or None and what is wrong."""

    @property
    def estimate(self) -> Estimate | None:
        """The estimate, or None where the input is wrong."""

    @property
    def problems(self) -> tuple[Diagnostic, ...]:
        """What is wrong, where there is no estimate."""


@frozen(eq=False)
class Shown:
    """One state of the job, whole: never a new total beside old lines."""

    version: int
    stamp: Stamp
    estimate: Estimate | None
    """None until the job could be worked out for the first time."""
    problems: tuple[Diagnostic, ...] = ()
    """What keeps the job from being worked out now; the estimate is then the last there was."""
    before: Estimate | None = None
    """The estimate that was shown last."""
    prices: Prices | None = None
    """What its goods cost, where the job says so."""

    @property
    def stale(self) -> bool:
        """Whether the estimate is older than the files."""
        return bool(self.problems)


@define(eq=False)
class Bench:
    """Works the job out anew when a file of it has changed, and remembers the state before."""

    folder: Folder
    work_out: Callable[[], Worked]
    priced: Callable[[Estimate], Prices | None] | None = None
    """Says what the goods of an estimate cost."""
    bid: Bidding | None = None
    """Makes the bid of an estimate."""
    otherwise: Otherwise | None = None
    """Makes the bid of an estimate with its alternates and ways."""
    marks: Known | None = None
    """Gives the keys that trades let a row of measures carry."""
    words: Callable[[], tuple[str, ...]] = tuple
    """Gives the words by which a line of her own is completed while she types it."""
    bid_paper: Callable[[Estimate, str], str | bytes | None] | None = None
    """Writes the bid of an estimate out in a form."""
    _shown: Shown | None = field(default=None, init=False)
    _lock: threading.Lock = field(factory=threading.Lock, init=False)

    @property
    def version(self) -> int:
        """How many states of the job were worked out."""
        return self._shown.version if self._shown is not None else 0

    def files(self) -> list[tuple[str, str]]:
        """The documents the job names, each with its role, in the job's order."""
        try:
            job = JobText.of(self.folder.text(self.folder.job))
        except RefusedError:
            return []
        return [(name, role) for role in ROLES for name in job.items("documents", role)]

    def stamp(self) -> Stamp:
        """One stamp for the job file and all that it names."""
        names = [self.folder.job]
        with contextlib.suppress(RefusedError):
            job = JobText.of(self.folder.text(self.folder.job))
            for way in (
                *(("documents", role) for role in (*ROLES, "answers")),
                ("schedules",),
                ("plugins", "files"),
                ("bid", "prices"),
                ("bid", "labor"),
            ):
                names += job.items(*way)
        return self.folder.stamps(names)

    @in_bulk()
    def look(self) -> Shown:
        """The job as its files say now."""
        with self._lock:
            stamp = self.stamp()
            shown = self._shown
            if shown is not None and shown.stamp == stamp:
                return shown
            worked = self.work_out()
            last = shown.estimate if shown is not None else None
            version = shown.version + 1 if shown is not None else 1
            if worked.estimate is None:
                before, prices = (shown.before, shown.prices) if shown is not None else (None, None)
                self._shown = Shown(version, stamp, last, worked.problems, before, prices)
            else:
                prices = self.priced(worked.estimate) if self.priced is not None else None
                self._shown = Shown(version, stamp, worked.estimate, (), last, prices)
            return self._shown

    def ahead(self) -> None:
        """The job worked out before a browser asks for it, which takes a while to open; what goes wrong is told to who asks."""
        with contextlib.suppress(Exception):
            self.look()


@frozen
class Move:
    """A line to order that is not as it was: its id, what it is, how many packages before and now."""

    id: str
    name: str
    was: str
    now: str


def moves(before: Estimate | None, now: Estimate | None) -> dict[str, Move]:
    """The lines of an order that moved, by their ids. Nothing where there is no estimate to compare."""
    if before is None or now is None or before is now:
        return {}
    old, new = ({key_of(need.first): need for need in needs(one)} for one in (before, now))
    found: dict[str, Move] = {}
    for key in dict.fromkeys((*new, *old)):
        was, is_now = (side[key].order() if key in side else "none" for side in (old, new))
        if was != is_now:
            need = new.get(key) or old[key]
            found[need.first.id] = Move(need.first.id, need.name, was, is_now)
    return found


def gone(found: Iterable[Move], now: Estimate) -> list[Move]:
    """The moves of lines that are no longer ordered."""
    there = {item.id for item in now.items}
    return [move for move in found if move.id not in there]
