"""A comparison for the eye: what moved and why, then every rule and measured row that is not the same."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from rich import box
from rich.console import Console
from rich.table import Table
from rich.text import Text

from darby.documents import changes
from darby.documents.open_points import counted
from darby.documents.terminal.moved_needs import MovedNeed, moved_needs
from darby.documents.terminal.parts import heading, plain, safe, tell, written
from darby.saved.comparison import Cause, Comparison

_NARROW = 76


def show(
    comparison: Comparison, causes: Mapping[str, tuple[Cause, ...]], console: Console, *, rules: bool = True
) -> None:
    """Print what moved, each with its causes; with `rules` also all that differs in what went in."""
    if comparison.after.name:
        console.print(Text(safe(comparison.after.name), style="bold"))
    console.print(Text(tally(comparison)))
    moved = moved_needs(comparison)
    if moved:
        console.print()
        console.print(_table(moved, console.width < _NARROW))
        for number, need in enumerate(moved, 1):
            for text in need.causes(causes):
                tell(console, Text.assemble((f"{number}: ", "dim"), text), 2, hang=len(str(number)) + 2)
    if rules:
        _inputs(comparison, console)


def make(comparison: Comparison, causes: Mapping[str, tuple[Cause, ...]], *, rules: bool = True) -> str:
    """The same as plain text, 100 columns wide."""
    console, stream = plain()
    show(comparison, causes, console, rules=rules)
    return written(stream)


def tally(comparison: Comparison) -> str:
    """One line that says how much differs."""
    if comparison.same:
        return "Nothing moved: every line orders the same."
    moved = moved_needs(comparison)
    new, gone = sum(not m.before for m in moved), sum(not m.after for m in moved)
    ordered = sum(m.ordered for m in moved) - new - gone
    need = len(moved) - new - gone - ordered
    parts = ((ordered, "order changed", "orders changed"), (need, "need changed within the same order", "needs changed within the same order"),
             (new, "new line", "new lines"), (gone, "line dropped", "lines dropped"))  # fmt: skip
    return ", ".join(counted(n, one, many) for n, one, many in parts if n) + "."


def _table(moved: Sequence[MovedNeed], narrow: bool) -> Table:
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False, show_edge=False, header_style="dim")
    table.add_column("", justify="right", style="dim")
    table.add_column("Product")
    table.add_column("Was")
    table.add_column("Is")
    table.add_column("Change", style="bold")
    if not narrow:
        table.add_column("Need", justify="right")
    for number, need in enumerate(moved, 1):
        cells = [need.name, need.was, need.now, need.change()] + ([] if narrow else [changes.percent(need.share)])
        style = "yellow" if need.ordered else "dim"
        table.add_row(str(number), *(Text(safe(cell), style=style if n == 3 else "") for n, cell in enumerate(cells)))
    return table


def _inputs(comparison: Comparison, console: Console) -> None:
    if comparison.rules:
        heading(console, "Rules that changed")
        for rule in comparison.rules:
            tell(console, changes.told(rule), 2, hang=2)
            for word, side in (("was", rule.before), ("is", rule.after)):
                if side is not None:
                    tell(console, Text(f"{word} {changes.clause(side)}", style="dim"), 4, hang=4)
    if comparison.rows or comparison.units:
        heading(console, "Measures that changed")
        for change in (*comparison.rows, *((comparison.units,) if comparison.units else ())):
            tell(console, changes.told(change), 2, hang=2)
    sentences = list(changes.plugins(comparison))
    if sentences:
        heading(console, "Plugins")
        for sentence in sentences:
            tell(console, sentence, 2, hang=2)
