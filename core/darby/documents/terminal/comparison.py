"""A comparison for the eye: what moved and why, then every rule and measured row that is not the same."""

from __future__ import annotations

from collections.abc import Mapping

from rich import box
from rich.console import Console
from rich.table import Table
from rich.text import Text

from darby.documents import changes
from darby.documents.terminal.parts import heading, plain, safe, tell, written
from darby.saved.comparison import Cause, Comparison, Moved

_NARROW = 76


def show(
    comparison: Comparison, causes: Mapping[str, tuple[Cause, ...]], console: Console, *, rules: bool = True
) -> None:
    """Print what moved, each with its causes; with `rules` also all that differs in what went in."""
    if comparison.after.name:
        console.print(Text(safe(comparison.after.name), style="bold"))
    console.print(Text(tally(comparison)))
    if comparison.items:
        console.print()
        console.print(_table(comparison, console.width < _NARROW))
        for number, moved in enumerate(comparison.items, 1):
            for cause in causes.get(moved.id, ()):
                text = changes.cause(cause, moved)
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
    new = sum(m.before is None for m in comparison.items)
    gone = sum(m.after is None for m in comparison.items)
    ordered = sum(m.ordered for m in comparison.items) - new - gone
    need = len(comparison.items) - new - gone - ordered
    parts = ((ordered, "order moved", "orders moved"), (need, "need moved, not its order", "needs moved, not their orders"),
             (new, "line is new", "lines are new"), (gone, "line is gone", "lines are gone"))  # fmt: skip
    return ", ".join(f"{n} {one if n == 1 else many}" for n, one, many in parts if n) + "."


def _table(comparison: Comparison, narrow: bool) -> Table:
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False, show_edge=False, header_style="dim")
    table.add_column("", justify="right", style="dim")
    table.add_column("Product")
    table.add_column("Was")
    table.add_column("Is")
    table.add_column("Change", style="bold")
    if not narrow:
        table.add_column("Need", justify="right")
    for number, moved in enumerate(comparison.items, 1):
        cells = [changes.name_of(moved.line), changes.order(moved.before), changes.order(moved.after)]
        cells += [changes.change_of(moved)] + ([] if narrow else [changes.percent(moved.share)])
        table.add_row(
            str(number), *(Text(safe(cell), style=_style(moved) if n == 3 else "") for n, cell in enumerate(cells))
        )
    return table


def _style(moved: Moved) -> str:
    return "yellow" if moved.ordered else "dim"


def _inputs(comparison: Comparison, console: Console) -> None:
    if comparison.rules:
        heading(console, "Rules that are not the same")
        for rule in comparison.rules:
            tell(console, changes.told(rule), 2, hang=2)
            for word, side in (("was", rule.before), ("is", rule.after)):
                if side is not None:
                    tell(console, Text(f"{word} {changes.clause(side)}", style="dim"), 4, hang=4)
    if comparison.rows or comparison.units:
        heading(console, "Measures that are not the same")
        for change in (*comparison.rows, *((comparison.units,) if comparison.units else ())):
            tell(console, changes.told(change), 2, hang=2)
    sentences = list(changes.plugins(comparison))
    if sentences:
        heading(console, "Plugins")
        for sentence in sentences:
            tell(console, sentence, 2, hang=2)
