"""Tables whose columns a paste closed up to single blanks: their heads, one after the other, say how many cells a row has.

All words between the cells of one word each are the name that the row is of. Rows that this leaves in doubt make no table.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from darby.reading.layout.tables.cells import Chunk, L, Line, Shape, shape
from darby.reading.layout.tables.heads import DIFFER, HOLDS, PROPERTY, Means

_FEWEST = 2
"""Rows that such a table has at the least."""
_MOST_WORDS = 3
"""Words in one head."""
_LONGEST = 120
_HEAD = re.compile(r"[A-Z][A-Za-z./#()]*(?: [A-Za-z][A-Za-z./#()]*){2,12}")
_NAMES = frozenset({"places", "surfaces", "products"})


def spaced(lines: Sequence[L], at: int, means: Means) -> list[list[Chunk]]:
    """The cells of a head and of the rows below it, line by line; none where no such table begins there."""
    head = lines[at]
    if not _HEAD.fullmatch(head.text) or len(head.text) > _LONGEST or not _row_like(lines, at + 1):
        return []
    heads = list(_heads(head, means))
    columns = [means(head.text[c.start - head.start : c.end - head.start]) for c in heads]
    names = [n for n, known in enumerate(columns) if known & _NAMES]
    names = names or [n for n, known in enumerate(columns) if "marks" in known]
    if len(heads) < 3 or len(names) != 1 or heads[-1].end != head.start + len(head.text):
        return []
    out = [heads]
    for number in range(at + 1, len(lines)):
        row = _row(lines[number], columns, names[0]) if _row_like(lines, number) else []
        if not row:
            break
        out.append(row)
    return out if len(out) > _FEWEST else []


def _row_like(lines: Sequence[Line], at: int) -> bool:
    """Whether a line could be such a row: a few words, a number or code among them, and no sentence."""
    if at >= len(lines):
        return False
    line = lines[at]
    words = line.text.split(" ")
    return (
        not line.style
        and not line.blank_before
        and 3 <= len(words) <= 12
        and len(line.text) <= _LONGEST
        and "  " not in line.text
        and not line.text.endswith((".", ";", ":", ","))
        and any(shape(word) in DIFFER for word in words[1:])
    )


def _words(line: Line) -> list[Chunk]:
    return [Chunk(line.start + m.start(), line.start + m.end(), 0) for m in re.finditer(r"\S+", line.text)]


def _heads(line: Line, means: Means) -> Iterator[Chunk]:
    """The heads of a line from the left; they end where a word is none. Two that say the same are one: `ROOM NAME`."""

    def known(low: int, high: int) -> frozenset[str]:
        return means(line.text[words[low].start - line.start : words[high - 1].end - line.start])

    words = _words(line)
    at, column, said = 0, 0, frozenset[str]()
    open_: Chunk | None = None
    while at < len(words):
        ends = range(at + 1, min(len(words), at + _MOST_WORDS) + 1)
        end = next((n for n in ends if known(at, n) & PROPERTY or (n == at + 1 and known(at, n) == {"surface"})), None)
        if end is None:
            return
        here = known(at, end)
        if open_ is not None and here == said and here <= HOLDS:
            open_ = Chunk(open_.start, words[end - 1].end, column)
        else:
            if open_ is not None:
                yield open_
                column += 1
            open_, said = Chunk(words[at].start, words[end - 1].end, column), here
        at = end
    if open_ is not None:
        yield open_


def _row(line: Line, columns: Sequence[frozenset[str]], names: int) -> list[Chunk]:
    """The cells of a row; none where its words do not fit the columns, or fit them in two ways. Remarks may be missing."""
    words = _words(line)
    kinds = [shape(line.text[w.start - line.start : w.end - line.start]) for w in words]
    right = columns[names + 1 :]
    fits: list[tuple[bool, int]] = []
    remarked = line.text.endswith((")", "*"))
    for held in (right, right[:-1]) if right and "remarks" in right[-1] and not remarked else (right,):
        first = len(words) - len(held)
        if first <= names or not all(kind == "number" for kind in kinds[:names]):
            continue
        wanted = [_wanted(known) for known in held]
        alike = [kind == want for kind, want in zip(kinds[first:], wanted, strict=True) if want != "none"]
        strays = any(kinds[n] in wanted and kinds[n] == "mark" for n in range(names, first))
        wrong = any(
            (want == "mark" and kind == "number")
            or (want == "number" and not (kind == "none" or any(c.isdigit() for c in said)))
            for kind, want, said in zip(kinds[first:], wanted, line.text.split(" ")[first:], strict=True)
        )
        if any(alike) and not strays and not wrong:
            fits.append((alike[0], first))
    if len(fits) == 2 and fits[0][0] != fits[1][0]:
        fits = [fit for fit in fits if fit[0]]
    if len(fits) != 1:
        return []
    first = fits[0][1]
    cells = [*words[:names], Chunk(words[names].start, words[first - 1].end, names), *words[first:]]
    return [Chunk(c.start, c.end, n) for n, c in enumerate(cells)]


def _wanted(known: frozenset[str]) -> Shape:
    """The shape of what stands under a head; "none" where it may have any."""
    if known & {"surface", "marks"}:
        return "mark"
    return "number" if known & {"measure", "unit"} else "none"
