"""The order of a job kept as it is, and held against what the job orders later: what a page beside it asks for."""

from __future__ import annotations

from attrs import frozen

from darby.cli.shared.jobs import Wanted, estimate_of
from darby.cli.shared.options import chosen
from darby.desk.kept import NAME, Since, Why
from darby.documents.terminal.comparison import tally
from darby.documents.terminal.moved_needs import moved_needs
from darby.documents.words import one_line
from darby.estimate.model import Estimate
from darby.plugin_host.model import Plugins
from darby.quantities.gc_pause import in_bulk
from darby.reading.cache import Memory
from darby.saved.comparison import compare
from darby.saved.model import Choices, Saved
from darby.saved.reader import decoded, reopen
from darby.saved.replay.causes import causes
from darby.saved.replay.one import Office
from darby.saved.writer import text_of, with_longhand
from darby.text.bounded_json import MOST_BYTES


@frozen
class Kept:
    """Keeps the order of one job, with the choices that its command was started with."""

    wanted: Wanted
    plugins: Plugins

    @in_bulk()
    def data(self) -> bytes:
        """The job as it is now, as a saved estimate; nothing where it cannot be worked out or is too large to be kept."""
        now = self._now()
        data = text_of(with_longhand(now[0], now[1])).encode("utf-8", "replace") if now is not None else b""
        return data if len(data) <= MOST_BYTES else b""

    def opened(self, data: bytes) -> Saved | None:
        """A saved estimate; None where it is none that can be read."""
        source, _ = decoded(data, NAME)
        kinds = {kind.name: kind for reader in self.plugins.readers for kind in reader.kinds}
        return reopen(source, kinds)[0] if source is not None else None

    @in_bulk()
    def since(self, before: Saved) -> Since | None:
        """What moved since, with its causes; None where the job cannot be worked out."""
        now = self._now()
        if now is None:
            return None
        comparison = compare(before, now[0])
        found = causes(comparison, now[2])
        moved = [
            Why(need.name, need.was, need.now, need.change(), tuple(map(one_line, need.causes(found))))
            for need in moved_needs(comparison)
        ]
        return Since(tally(comparison), tuple(moved))

    def _now(self) -> tuple[Saved, Estimate, Plugins] | None:
        memory, wanted = Memory(), self.wanted
        outcome = estimate_of(
            Wanted(wanted.job, wanted.without, wanted.only, wanted.units, wanted.run_plugins, memory=memory)
        )
        if outcome.estimate is None:
            return None
        choices = Choices(wanted.units or "", wanted.without, chosen(wanted.only))
        return Office.of(outcome.plugins).kept(outcome.estimate, memory, choices), outcome.estimate, outcome.plugins
