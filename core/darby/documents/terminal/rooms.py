"""The table of rooms for the eye: a line a room, and below it the clauses that the cells rest on, each once."""

from __future__ import annotations

from collections.abc import Iterator

from rich import box
from rich.console import Console
from rich.table import Table
from rich.text import Text

from darby.documents.room_table import Cell, Held
from darby.documents.rooms import Told, before, name_of, places_behind, short, strangers
from darby.documents.terminal.open_points import remarks, to_check
from darby.documents.terminal.parts import heading, plain, safe, tell, written
from darby.documents.words import layer_of, quote, told_rule
from darby.estimate.document_format import Document
from darby.estimate.model import Estimate
from darby.rules.rule import Rule
from darby.text.diagnostics import Diagnostic, Severity

_NARROW = 96


def show(estimate: Estimate, console: Console) -> None:
    """Print the table, the clauses, and what is to be looked at."""
    if estimate.job.name:
        console.print(Text(safe(estimate.job.name), style="bold"))
    to_check(estimate, console)
    told, notes = Told(estimate), _Notes()
    lines = told.table.lines
    if not lines or not told.table.used:
        console.print("\nNothing to show: the job has no rooms, or no trade at work shows anything of them.")
        remarks(of_the_job(estimate), console)
        return
    heads = told.heads()
    rows = [
        (name_of(line), _where(before(line)), [notes.cell(told, cell) for cell in told.cells(line)]) for line in lines
    ]
    console.print()
    if console.width < _NARROW:
        _blocks(heads, rows, console)
    else:
        _table(heads, rows, console)
    heading(console, "What it rests on")
    for number, (text, doubt) in enumerate(notes.found.values(), 1):
        tell(console, Text.assemble((f"{number:>3}  ", "dim"), text), 0, hang=5)
        if doubt:
            tell(console, Text.assemble(("? ", "bold cyan"), doubt), 5, hang=2)
    for line in strangers(estimate):
        console.print()
        tell(console, line)
    console.print()
    tell(console, "~ assumed, since no document says; ? to be looked at. A number is that of the clause below.")
    remarks(of_the_job(estimate), console)


def of_the_job(estimate: Estimate) -> Iterator[Diagnostic]:
    """What is to be said of the job and of plugins, for whoever looks at its rooms alone; what clauses leave open is in the table."""
    return (d for d in estimate.diagnostics if d.severity is Severity.WARNING)


def make(estimate: Estimate) -> str:
    """The same as plain text, 120 columns wide."""
    console, stream = plain(120)
    show(estimate, console)
    return written(stream)


DOCUMENT = Document("rooms", "the rooms and what holds in each, for the eye", make)


class _Notes:
    """The clauses behind cells, numbered as they come."""

    def __init__(self) -> None:
        self.found: dict[tuple[str, str], tuple[str, str]] = {}
        self._at: dict[tuple[str, str], int] = {}

    def cell(self, told: Told, cell: Cell) -> str:
        """What a cell says, each value with the numbers of its clauses."""
        parts = []
        for held in cell:
            numbers = sorted({self._number(rule, held, told) for rule in held.rules})
            behind = f" [{', '.join(map(str, numbers))}]" if numbers else ""
            one = told.text((held,)) if len(cell) == 1 else f"{'/'.join(held.kinds)}: {told.held(held)}"
            parts.append(f"{told.sign(held)}{one}{behind}")
        return "\n".join(parts)

    def _number(self, rule: Rule, held: Held, told: Told) -> int:
        spans = [span for one, span in places_behind(held) if one is rule]
        key = (told_rule(rule), short(spans[0]))
        if key not in self.found:
            given = f", given in {short(spans[1])}" if len(spans) > 1 else ""
            self.found[key] = f"{key[0]}: {quote(rule.span)}  {key[1]}{given}, {layer_of(rule)}", told.doubt_of(rule)
            self._at[key] = len(self.found)
        return self._at[key]


def _where(parts: tuple[str, ...]) -> str:
    number, floor, phase, count = parts
    told = (
        f"no. {number}" if number else "",
        _called("floor", floor),
        _called("phase", phase),
        f"{count} alike" if count else "",
    )
    return ", ".join(p for p in told if p)


def _called(what: str, name: str) -> str:
    """A floor or a phase, with its kind where the name is a bare number."""
    return f"{what} {name}" if name.isdigit() else name


def _table(heads: list[str], rows: list[tuple[str, str, list[str]]], console: Console) -> None:
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False, show_edge=False, padding=(0, 1, 0, 0), header_style="dim")
    for head in ("Room", *heads):
        table.add_column(head, overflow="fold")
    for name, where, cells in rows:
        table.add_row(Text(safe(name) + (f"\n{safe(where)}" if where else "")), *(_lines(cell) for cell in cells))
    console.print(table)


def _lines(cell: str) -> Text:
    return Text("\n".join(map(safe, cell.split("\n"))))


def _blocks(heads: list[str], rows: list[tuple[str, str, list[str]]], console: Console) -> None:
    for name, where, cells in rows:
        tell(console, Text(name + (f" ({where})" if where else ""), style="bold"))
        for head, cell in zip(heads, cells, strict=True):
            if cell:
                tell(console, f"{head}: {'; '.join(cell.split(chr(10)))}", 2, hang=2)
