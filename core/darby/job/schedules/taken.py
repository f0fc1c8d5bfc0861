"""What a schedule was taken for, in words: which column is which key, what orders nothing, and what may be a slip."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import define, field

from darby.job.rows.sheet import shown
from darby.job.schedules.heads import Head
from darby.job.schedules.wall_lists import WallList
from darby.text.diagnostics import Diagnostic, Label, Severity, problem
from darby.text.spans import Source, Span

_SHOWN = 4
"""Places that are told of many."""


@define(eq=False)
class Taken:
    """What a schedule was taken for: rows of which kind, and what order nothing."""

    source: Source
    heads: tuple[tuple[Head, Span], ...] = ()
    titles: tuple[Span, ...] = ()
    kinds: dict[str, int] = field(factory=dict)
    skipped: list[Span] = field(factory=list)
    guessed: list[tuple[str, Span]] = field(factory=list)
    """Rows without a height that were taken for ceilings, by name."""
    walls: WallList | None = None
    """Where it is a list of walls alone."""
    commas: int = 0
    """Rows in which a comma was taken for the point of a number."""

    def told(self) -> Iterator[Diagnostic]:
        """What was taken for what, where it is not plain, as a note."""
        parts = [
            f"“{shown(h.said)}” is {h.means}" + (f" in {h.unit}" if h.unit else "")
            for h, _ in self.heads
            if not (h.aside or h.is_plain or h.key == "")
        ]
        idle = [f"“{shown(h.said)}”" for h, _ in self.heads if h.aside]
        said = []
        if parts:
            said.append(", ".join(parts))
        if idle:
            said.append(f"not used: {', '.join(idle)}")
        if self.commas:
            said.append("a comma in a number is its point, since semicolons part the cells")
        if self.walls is not None and self.walls.example:
            said.append(f"walls are called by where they are, as “{shown(self.walls.example)}”")
        if self.walls is not None and (many := self.walls.outside):
            said.append(f"{many:,} wall{'s have' if many > 1 else ' has'} one face, the other being in no room")
        left = [*self.titles, *self.skipped]
        if left:
            lines = ", ".join(str(span.line) for span in left[:_SHOWN]) + (", ..." if len(left) > _SHOWN else "")
            said.append(f"line{'s' * (len(left) > 1)} {lines} left out as titles and totals")
        if said:
            rows = ", ".join(f"{n:,} {kind}{'s' * (n != 1)}" for kind, n in self.kinds.items())
            message = f"{self.source.name} was read as {rows or 'no rows'}: {'; '.join(said)}"
            place = self.heads[0][1] if self.heads else None
            yield problem("schedule-read", message, place, severity=Severity.NOTE)

    def doubts(self) -> Iterator[Diagnostic]:
        """Rows that may well be rooms whose height is missing."""
        if not self.guessed or not self.kinds.get("room"):
            return
        name, span = self.guessed[0]
        more = (
            f", and so {'has' if len(self.guessed) == 2 else 'have'} {len(self.guessed) - 1:,} more"
            if len(self.guessed) > 1
            else ""
        )
        yield problem(
            "schedule-no-height", f"{name} in {self.source.name} has no height{more}: without walls, each was taken for a ceiling",
            span, severity=Severity.WARNING, help="Fill in the height; or say that it is a ceiling in a column what.",
            more=[Label(place) for _, place in self.guessed[1:_SHOWN]],
        )  # fmt: skip
