"""The order for the eye: a line for each need, trade by trade, and the notes on them."""

from __future__ import annotations

from collections.abc import Sequence

from rich import box
from rich.console import Console
from rich.table import Table
from rich.text import Text

from darby.documents.needs import Need, needs
from darby.documents.terminal.parts import safe, tell
from darby.documents.words import heading_of
from darby.estimate.line_item import Aside
from darby.estimate.model import Estimate

_NARROW = 76


def show_order(estimate: Estimate, console: Console, *, notes: bool = False) -> None:
    """Print the order; with `notes` every note in full."""
    lines = needs(estimate)
    console.print()
    if not lines:
        console.print("Nothing to order: no trade found anything to do in this job.")
        return
    console.print(_table(lines, estimate.job.units, console.width < _NARROW))
    _notes(lines, console, in_full=notes)


def _table(lines: Sequence[Need], units: str, narrow: bool) -> Table:
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False, show_edge=False, padding=(0, 1, 0, 0), header_style="dim")
    table.add_column("", justify="right", style="dim")
    table.add_column("Product")
    if not narrow:
        table.add_column("Kind")
    table.add_column("Needed", justify="right", no_wrap=not narrow)
    table.add_column("To order", style="bold")
    trade = ""
    for line in lines:
        if line.first.trade != trade:
            trade = line.first.trade
            table.add_row("", Text(heading_of(trade), style="italic"))
        product = Text(safe(line.first.product))
        if narrow and line.kind:
            product.append(f"\n{line.kind}", style="dim")
        middle = [] if narrow else [Text(line.kind)]
        unknown = "" if line.first.package is not None else "yellow"
        order = Text("\n".join(safe(line.order()).split(" + ")), style=unknown)
        table.add_row(str(line.number), product, *middle, Text(line.needed(units)), order)
    return table


def _notes(lines: Sequence[Need], console: Console, *, in_full: bool) -> None:
    """What asks for something in full; of what only explains a line the word."""
    behind: list[str] = []
    for line in lines:
        words = dict.fromkeys(note.word for note in line.notes if isinstance(note, Aside))
        if words and not in_full:
            behind.append(f"{line.number} {', '.join(words)}")
        for note in line.notes:
            if in_full or not isinstance(note, Aside):
                tell(console, f"{line.number}: {note}", 2, hang=len(str(line.number)) + 2)
    if behind:
        tell(console, Text(f"Notes (--notes shows them): {'; '.join(behind)}.", style="dim"), 2, hang=2)
