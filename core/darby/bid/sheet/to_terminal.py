"""The bid sheet for the eye: headings, tables as wide as they need to be, lists."""

from __future__ import annotations

from rich import box
from rich.console import Console
from rich.table import Table as Grid
from rich.text import Text

from darby.documents.letters.prose import Fields, Heading, Listing, Paragraph, Prose, Table
from darby.documents.terminal.parts import console_for, heading, plain, safe, tell, written


def shown(prose: Prose) -> str:
    """The document as text, as wide as the terminal, or as a pipe is taken to be."""
    console, text = plain(console_for().width)
    show(prose, console)
    return written(text)


def show(prose: Prose, console: Console) -> None:
    """Print the document."""
    console.print(Text(safe(prose.title), style="bold"))
    console.print()
    for block in prose.blocks:
        match block:
            case Heading(text):
                heading(console, safe(text))
            case Paragraph():
                tell(console, _said(block))
            case Fields(rows):
                widest = max((len(label) for label, _ in rows), default=0) + 2
                for label, text in rows:
                    tell(console, f"{label}:".ljust(widest) + text, hang=widest)
            case Listing():
                _list(block, console)
            case Table():
                _table(block, console)


def _said(paragraph: Paragraph) -> str:
    return f"{paragraph.label}: {paragraph.text}" if paragraph.label else paragraph.text


def _list(block: Listing, console: Console) -> None:
    for number, (first, *more) in enumerate(block.entries, 1):
        mark = f"{number:>2}. " if block.numbered else "- "
        tell(console, mark + _said(first), hang=len(mark))
        for line in more:
            tell(console, _said(line), len(mark), hang=2)


def _table(block: Table, console: Console) -> None:
    grid = Grid(box=box.SIMPLE_HEAD, pad_edge=False, show_edge=False, padding=(0, 2, 0, 0), header_style="dim")
    for at, head in enumerate(block.heads):
        right = at in block.right
        grid.add_column(head, justify="right" if right else "left", no_wrap=right)
    for row in block.rows:
        grid.add_row(*(Text(safe(cell)) for cell in row))
    console.print(grid)
