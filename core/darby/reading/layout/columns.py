"""Lines that stand in columns to rows of cells: leaders, pipes and white space; heads over columns, keys before rows."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from attrs import frozen

from darby.reading.layout.clause import LEADER, Cell, Clause
from darby.text.spans import View

_GAP = re.compile(r"\s{2,}")
_SEPARATOR = re.compile(r"^[\s|:+=-]+$")
_HEAD_WORDS = 4
_SIZE_IN_HEAD = re.compile(r"[0-9]")


@frozen
class _Chunk:
    start: int
    end: int
    column: int


def rows(view: View, lines: Sequence[tuple[int, int, str, int]]) -> Iterator[Clause]:
    """Clauses of form row for lines given as (start, end, text, indent) in `view`."""
    ruled = len(lines) > 1 and _SEPARATOR.match(lines[1][2]) is not None
    split = [_chunks(text, start, indent) for start, _, text, indent in lines if not _SEPARATOR.match(text)]
    split = [chunks for chunks in split if chunks]
    if not split:
        return
    head = split[0] if ruled or _is_head(view, split) else None
    if head is not None:
        yield Clause(View.join([view.cut(c.start, c.end) for c in head], " | "), heading=True, cells=())
        split = split[1:]
    width = max([len(chunks) for chunks in split] + ([len(head)] if head else []), default=0)
    starts = [c.column for c in head] if head else _starts(split, width)
    below = [len(chunks) for chunks in split]
    if head is not None and below and all(n == len(head) + 1 for n in below) and split[0][0].column < head[0].column:
        # a head that leaves out the column of the keys
        head = [_Chunk(head[0].start, head[0].start, split[0][0].column), *head]
        starts = [c.column for c in head]
    key: Cell | None = None
    above: dict[int, Cell] = {}
    """The cells of the row above by column, for rows that leave their first cells empty."""
    for chunks in split:
        placed = _place(chunks, starts, by_order=len(chunks) == len(starts))
        cells: list[Cell] = []
        if head is None and len(chunks) == 1 and width == 2 and placed[0][0] == 0 and chunks[0].column < starts[-1]:
            placed = [(0, chunks[0])]
        carried = placed[0][0] > 0 and key is not None
        if carried and key is not None:
            cells.append(Cell(key.view, key.heads, again=True))
        row: dict[int, Cell] = {}
        for column, chunk in placed:
            named = head is not None and column < len(head) and head[column].end > head[column].start
            heads = (view.cut(head[column].start, head[column].end),) if head is not None and named else ()
            row[column] = Cell(view.cut(chunk.start, chunk.end), heads)
            cells.append(row[column])
        if carried and head is not None:
            cells.extend(Cell(c.view, c.heads, again=True) for n, c in above.items() if n not in row and n > 0)
        else:
            above = row
        if placed[0][0] == 0:
            key = cells[0]
        yield Clause(View.join([c.view for c in cells if not c.again], " | "), cells=tuple(cells))


def _chunks(text: str, start: int, indent: int) -> list[_Chunk]:
    if text.count("|") >= 2 or (text.count("|") == 1 and not LEADER.search(text)):
        parts = list(re.finditer(r"[^|]+", text))
        lead = 1 if text.startswith("|") else 0
        out = []
        for number, part in enumerate(parts):
            body = part[0].strip()
            if body or number + lead > 0:
                offset = part.start() + len(part[0]) - len(part[0].lstrip())
                if body:
                    out.append(_Chunk(start + offset, start + offset + len(body), number))
        return out
    leader = LEADER.search(text)
    if leader and leader.start() > 0:
        return [
            _Chunk(start, start + leader.start(), indent),
            *(
                [_Chunk(start + leader.end(), start + len(text), indent + leader.end())]
                if leader.end() < len(text)
                else []
            ),
        ]
    out, at = [], 0
    for gap in _GAP.finditer(text):
        out.append(_Chunk(start + at, start + gap.start(), indent + at))
        at = gap.end()
    out.append(_Chunk(start + at, start + len(text), indent + at))
    return out


def _is_head(view: View, split: Sequence[Sequence[_Chunk]]) -> bool:
    first = split[0]
    if len(split) < 2 or len(first) < 2:
        return False
    texts = [re.sub(r"\([^)]*\)", "", view.text[c.start : c.end]) for c in first]
    if any(_SIZE_IN_HEAD.search(t) and not re.search(r"\bper\b|/", t) for t in texts):
        return False
    if any(t.rstrip().endswith((".", ";")) and len(t.split()) > _HEAD_WORDS for t in texts):
        return False
    below = [len(chunks) for chunks in split[1:]]
    numbers = sum(bool(re.search(r"[0-9]", view.text[c.start : c.end])) for chunks in split[1:] for c in chunks)
    # two columns without a head are labels and values; a head has as many cells as the widest row and names no number
    if (
        len(first) == 2
        and not view.text[first[0].start : first[1].end].istitle()
        and not view.text[first[0].start : first[1].end].isupper()
    ):
        return False
    return (max(below) <= len(first) + 1 and numbers > 0 and len(first) >= max(3, max(below) - 1)) or (
        len(first) >= 2
        and all(n == len(first) for n in below)
        and len(below) > 1
        and numbers >= len(below)
        and len(first) > 2
    )


def _starts(split: Sequence[Sequence[_Chunk]], width: int) -> list[int]:
    widest = next(chunks for chunks in split if len(chunks) == width)
    return [c.column for c in widest]


def _place(chunks: Sequence[_Chunk], starts: Sequence[int], *, by_order: bool) -> list[tuple[int, _Chunk]]:
    """Each chunk with its column: by order where counts agree, else by the nearest start."""
    if by_order:
        return list(enumerate(chunks))
    placed, least = [], 0
    for chunk in chunks:
        column = min(range(least, len(starts)), key=lambda n: abs(starts[n] - chunk.column), default=len(starts) - 1)
        placed.append((column, chunk))
        least = min(column + 1, len(starts) - 1)
    return placed
