"""Short documents of headings, paragraphs, lists and tables, and how they read as plain text and as Markdown."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterable, Iterator, Sequence

from attrs import field, frozen

from darby.documents.words import one_line

_WIDTH = 78
_MARKED = re.compile(
    r"[\\`*_\[\]<>|~&@^$]|(?<=:)(?=//)|(?<=\bwww)(?=\.)|^(?:[#+\-=]|(?<=^)[0-9]{1,9}(?=[.)]))", re.IGNORECASE
)
"""What Markdown could take for markup: some signs anywhere, others at the start, and what makes a link of an address."""
_GAP = "  "
_NARROWEST = 24
"""Characters of a column that is wrapped."""


@frozen
class Heading:
    """A heading of the second level."""

    text: str


@frozen
class Paragraph:
    """Running text; `label` stands before it, set apart (`Assumed meanwhile`)."""

    text: str
    label: str = ""


@frozen
class Listing:
    """Entries, numbered or not, each with further lines below it."""

    entries: tuple[tuple[Paragraph, ...], ...]
    numbered: bool = False


@frozen
class Table:
    """Rows under heads; the columns named in `right` stand flush right."""

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    right: frozenset[int] = frozenset()


@frozen
class Fields:
    """What stands at the head of a letter: labels, each with what is filled in."""

    rows: tuple[tuple[str, str], ...]


Block = Heading | Paragraph | Listing | Table | Fields


def _tuple(blocks: Iterable[Block]) -> tuple[Block, ...]:
    return tuple(blocks)


@frozen
class Prose:
    """A document: its title and its blocks from top to bottom. Text in it is plain text of any origin."""

    title: str
    blocks: tuple[Block, ...] = field(converter=_tuple)


def entries(rows: Iterable[str | Sequence[Paragraph]], *, numbered: bool = False) -> Listing:
    """A list of single lines, or of entries with further lines."""
    made = ((Paragraph(row),) if isinstance(row, str) else tuple(row) for row in rows)
    return Listing(tuple(made), numbered)


def as_text(prose: Prose) -> str:
    """Plain text, 78 columns wide."""
    title = one_line(prose.title)
    parts = [f"{title}\n{'=' * len(title)}"]
    for block in prose.blocks:
        match block:
            case Heading(text):
                parts.append(f"\n{one_line(text)}\n{'-' * len(one_line(text))}")
            case Paragraph():
                parts.append(_filled(_said(block)))
            case Listing():
                parts.append("\n".join(_text_entries(block)))
            case Table():
                parts.append("\n".join(_columns(block)))
            case Fields(rows):
                widest = max((len(label) for label, _ in rows), default=0) + 2
                parts.append("\n".join(_filled(_field(*row, widest), "", " " * widest) for row in rows))
    return "\n\n".join(parts) + "\n"


def _field(label: str, text: str, width: int) -> str:
    return f"{one_line(label)}:".ljust(width) + one_line(text)


def _said(paragraph: Paragraph) -> str:
    label = f"{one_line(paragraph.label)}: " if paragraph.label else ""
    return label + one_line(paragraph.text)


def _filled(text: str, first: str = "", rest: str = "") -> str:
    return textwrap.fill(
        text, _WIDTH, initial_indent=first, subsequent_indent=rest, break_long_words=False, break_on_hyphens=False
    )


def _text_entries(block: Listing) -> Iterator[str]:
    for number, (first, *more) in enumerate(block.entries, 1):
        mark = f"{number}. ".rjust(4) if block.numbered else "- "
        hang = " " * len(mark)
        yield _filled(_said(first), mark, hang)
        yield from (_filled(_said(line), hang, hang + "  ") for line in more)
        if more and number < len(block.entries):
            yield ""


def _columns(table: Table) -> Iterator[str]:
    """A table in columns, the last one wrapped where it has room for it; where not, each row becomes lines of its own."""
    rows = [tuple(map(one_line, row)) for row in (table.heads, *table.rows)]
    widths = [max(len(row[at]) for row in rows) for at in range(len(table.heads))]
    left = _WIDTH - sum(widths[:-1]) - len(_GAP) * (len(widths) - 1)
    if len(widths) - 1 not in table.right and _NARROWEST <= left < widths[-1]:
        widths[-1] = left
    if sum(widths) + len(_GAP) * (len(widths) - 1) > _WIDTH:
        for row in rows[1:]:
            told = [f"{head}: {cell}" if head else cell for head, cell in zip(rows[0], row, strict=True) if cell]
            yield _filled("; ".join(told), "- ", "  ")
        return
    for number, row in enumerate(rows):
        first, *more = textwrap.wrap(row[-1], widths[-1], break_on_hyphens=False) or [""]
        cells = (
            c.rjust(w) if at in table.right else c.ljust(w)
            for at, (c, w) in enumerate(zip((*row[:-1], first), widths, strict=True))
        )
        yield _GAP.join(cells).rstrip()
        yield from (" " * (sum(widths[:-1]) + len(_GAP) * (len(widths) - 1)) + line for line in more)
        if not number:
            yield _GAP.join("-" * w for w in widths)


def as_markdown(prose: Prose) -> str:
    """Markdown; what would be markup in the text stands as text."""
    parts = [f"# {marked(prose.title)}"]
    for block in prose.blocks:
        match block:
            case Heading(text):
                parts.append(f"## {marked(text)}")
            case Paragraph():
                parts.append(_marked_line(block))
            case Listing():
                parts.append("\n".join(_marked_entries(block)))
            case Table():
                parts.append("\n".join(_marked_rows(block)))
            case Fields(rows):
                parts.append("\\\n".join(f"**{marked(label)}:** {marked(text)}" for label, text in rows))
    return "\n\n".join(parts) + "\n"


def marked(text: str) -> str:
    """Text in which every sign that Markdown could take for markup is escaped."""
    return _MARKED.sub(lambda m: f"{m[0]}\\" if m[0].isdigit() else f"\\{m[0]}", one_line(text))


def _marked_line(paragraph: Paragraph) -> str:
    label = f"**{marked(paragraph.label)}:** " if paragraph.label else ""
    return label + marked(paragraph.text)


def _marked_entries(block: Listing) -> Iterator[str]:
    for number, (first, *more) in enumerate(block.entries, 1):
        mark = f"{number}. " if block.numbered else "- "
        yield mark + _marked_line(first)
        yield from (f"{' ' * len(mark)}- {_marked_line(line)}" for line in more)


def _marked_rows(table: Table) -> Iterator[str]:
    yield "| " + " | ".join(map(marked, table.heads)) + " |"
    yield "|" + "|".join("---:" if at in table.right else "---" for at in range(len(table.heads))) + "|"
    yield from ("| " + " | ".join(map(marked, row)) + " |" for row in table.rows)
