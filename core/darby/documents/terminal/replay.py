"""What a replay found, for the eye: what moved, largest first, totals by product, what could not be worked out."""

from __future__ import annotations

from rich import box
from rich.console import Console
from rich.table import Table
from rich.text import Text

from darby.documents import changes
from darby.documents.terminal.parts import heading, safe, tell
from darby.saved.replay_outcome import Summary

MOST = 60
"""Lines that are shown where not all are asked for."""

_NARROW = 76


def show(summary: Summary, console: Console, *, most: int | None = MOST) -> None:
    """Print the summary; no more than `most` lines that moved, all of them where it is None."""
    moves = [(file, moved) for file, moved in summary.moves if file.became == "moved"]
    if moves:
        table = Table(box=box.SIMPLE_HEAD, pad_edge=False, show_edge=False, header_style="dim")
        narrow = console.width < _NARROW
        for name in ("Estimate", "Product", "Was", "Is"):
            table.add_column(name)
        table.add_column("Change", style="bold")
        if not narrow:
            table.add_column("Need", justify="right")
        for file, moved in moves[:most]:
            cells = [file.file, changes.name_of(moved.line), changes.order(moved.before), changes.order(moved.after)]
            cells += [changes.change_of(moved)] + ([] if narrow else [changes.percent(moved.share)])
            table.add_row(*(Text(safe(cell)) for cell in cells))
        console.print(table)
        if most is not None and len(moves) > most:
            tell(console, Text(f"and {len(moves) - most} more lines that moved less; --all shows them", style="dim"), 2)
    totals = [t for t in summary.totals if t.packages]
    if totals:
        heading(console, "All together")
        for total in totals:
            size = "" if total.package is None or not total.container else f" of {changes.measure(total.package)}"
            more = changes.more(total.packages, total.container)
            jobs = f"{total.jobs} {'estimate' if total.jobs == 1 else 'estimates'}"
            tell(console, f"{total.product}: {more}{size}, in {jobs}", 2, hang=2)
    if summary.unsound:
        heading(console, "Not worked out")
        for file in summary.unsound:
            said = file.problem if file.problem.startswith(file.file) else f"{file.file}: {file.problem}"
            tell(console, said, 2, hang=2)
    if moves or summary.unsound:
        console.print()
    console.print(Text(safe(tally(summary))))


def tally(summary: Summary) -> str:
    """One line: how many files came to what."""
    counts = summary.counts
    words = (("moved", "moved"), ("same", "the same"), ("incomplete", "incomplete"), ("failed", "failed"))
    parts = [f"{counts[key]} {word}" for key, word in words if counts.get(key)]
    files = f"{len(summary.files):,} {'estimate' if len(summary.files) == 1 else 'estimates'}"
    if parts:
        return f"{files} worked out again: {', '.join(parts)}."
    if summary.stopped:
        return "Nothing is worked out yet."
    return "There is no saved estimate to work out: no file in there ends in .json."
