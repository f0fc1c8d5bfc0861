"""Lines that stand in columns to a grid: where each column lies, which lines are its heads, which cell is whose."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from attrs import define, field

from darby.reading.layout.tables.blocks import NEAR, Block, aligned, cut
from darby.reading.layout.tables.cells import Chunk, L, Parted, is_rule, most, shape
from darby.reading.layout.tables.heads import DIFFER, HEADS_DEEP, Means, head_lines, is_head, is_unit
from darby.text.spans import View

_MOST_CAPTIONS = 2
_BOXED = 4
"""Drawn lines from which on each row stands in a box of its own."""
_CODED = re.compile(r"(?=[A-Z/-]{0,6}[0-9])[A-Z][A-Z0-9/-]{0,9}")
"""A code that fills a cell: `P3/CT`."""
EXACT: tuple[Parted, ...] = ("pipes", "tabs", "commas", "semicolons", "words")
"""Signs that leave no doubt which column a cell stands in."""


@define
class Band:
    """Where a column lies: from where to where its cells reach."""

    start: int
    end: int


@define(eq=False)
class Entry:
    """A line of a grid: its cells by column, and where its first one begins."""

    cells: dict[int, Chunk]
    indent: int
    boxed: bool = False
    """Whether drawn lines part the rows of its table."""
    ruled: bool = False
    """Whether one parts it from the entry above."""

    def texts(self, view: View) -> dict[int, str]:
        """The texts of its cells."""
        return {n: view.text[c.start : c.end] for n, c in self.cells.items()}


@define(eq=False)
class Grid:
    """A table as it lay on the page."""

    view: View
    parted: Parted
    bands: Sequence[Band]
    heads: Sequence[tuple[Chunk, ...]]
    """Of each column, from the outermost to the nearest."""
    entries: list[Entry]
    headed: int = 0
    """Lines that are heads."""
    again: bool = False
    """Whether it goes on with the columns of a table before it."""
    told: tuple[Chunk, ...] = field(factory=tuple)
    """The chunks of its own head lines, in order of place."""

    def text(self, chunk: Chunk) -> str:
        """The text of a cell."""
        return self.view.text[chunk.start : chunk.end]

    def holds(self, view: View, split: Sequence[Sequence[Chunk]]) -> bool:
        """Whether rows hold in its columns what its own rows do: numbers below numbers, codes below codes."""
        told = {
            n: most(shape(self.text(e.cells[n])) for e in self.entries if n in e.cells) for n in range(len(self.bands))
        }
        alike = unlike = 0
        for chunks in split:
            for n, chunk in _placed(chunks, self.bands, self.parted in EXACT).items():
                own = shape(view.text[chunk.start : chunk.end])
                if own != "none" and told[n] in DIFFER:
                    alike, unlike = alike + (own == told[n]), unlike + (own != told[n])
                elif own in DIFFER and told[n] == "words":
                    unlike += 1
        return alike > 2 * unlike

    @property
    def is_legend(self) -> bool:
        """Whether it says in two columns without a head what codes mean."""
        first = next((e.cells[0] for e in self.entries if 0 in e.cells), None)
        return not self.headed and len(self.bands) == 2 and first is not None and shape(self.text(first)) == "mark"


def grid(view: View, block: Block[L], before: Grid | None, means: Means) -> Grid | None:
    """The grid of a block of lines, which may go on with the columns of the table before it."""
    rows = block.cells or [cut(line, block.parted) for line in block.lines if not is_rule(line.text)]
    split = [chunks for chunks in rows if chunks]
    if not split:
        return None
    exact = block.parted in EXACT
    texts = [{n: view.text[c.start : c.end] for n, c in enumerate(chunks)} for chunks in split]
    if before is not None and _goes_on(view, before, block.parted, split, texts, means):
        entries = _entries(view, block, split, before.bands)
        return Grid(view, block.parted, before.bands, before.heads, entries, before.headed, again=True)
    bands = _exact(split) if exact else _bands(split)
    entries = _entries(view, block, split, bands)
    told_texts = [e.texts(view) for e in entries]
    headed = 1 if block.cells else _ruled(block) or head_lines(told_texts, len(bands), means)
    caption = 0 if headed else _captions(told_texts, len(bands), means)
    if caption:
        headed = caption + head_lines(told_texts[caption:], len(bands), means)
    heads: list[tuple[Chunk, ...]] = [() for _ in bands]
    told: list[Chunk] = []
    if headed:
        if not exact:
            bands = _bands(split[headed:], split[:headed])
            entries = _entries(view, block, split, bands)
            heads = [() for _ in bands]  # a column without a cell has only its head to show for it
        below = [t for entry in entries[1 + caption : headed] for t in entry.texts(view).values()]
        spans = not any(is_unit(text, means) for text in below)
        for chunks in split[:caption]:
            told.extend(chunks)
        for entry, chunks in zip(entries[caption:headed], split[caption:], strict=False):
            over = _over(chunks, bands, spans=spans) if not exact else entry.cells
            if exact and entry is not entries[headed - 1]:
                over = _spread(over, entries[headed - 1].texts(view), means)
            heads = [(*held, over[n]) if n in over else held for n, held in enumerate(heads)]
            told.extend(chunks)
    return Grid(view, block.parted, bands, heads, entries[headed:], headed, told=tuple(told))


def _captions(rows: Sequence[Mapping[int, str]], width: int, means: Means) -> int:
    """How many rows on top of a table only name it, as a sheet's export does: few cells, above a row that is a head."""
    for count in range(1, _MOST_CAPTIONS + 1):
        if len(rows) < count + 2 or 2 * len(rows[count - 1]) > width:
            return 0
        if head_lines(rows[count:], width, means):
            return count
    return 0


def _entries(view: View, block: Block[L], split: Sequence[Sequence[Chunk]], bands: Sequence[Band]) -> list[Entry]:
    exact = block.parted in EXACT
    if not exact:
        split = [_torn(view, chunks, bands) if len(chunks) < len(bands) else chunks for chunks in split]
    out = [Entry(_placed(chunks, bands, exact), chunks[0].at) for chunks in split]
    drawn = [is_rule(line.text) for line in block.lines]
    if sum(drawn) >= _BOXED:
        behind = [drawn[n - 1] for n, rule in enumerate(drawn) if n and not rule and block.lines[n].text.strip("| ")]
        for entry, ruled in zip(out[-len(behind) :], behind[-len(out) :], strict=True):
            entry.boxed, entry.ruled = True, ruled
    return out


def _goes_on(
    view: View,
    before: Grid,
    parted: Parted,
    split: Sequence[Sequence[Chunk]],
    texts: Sequence[Mapping[int, str]],
    means: Means,
) -> bool:
    """Whether rows stand in the columns of the table before them, and bring no head of their own."""
    if before.parted != parted:
        return False
    if not before.headed:
        return before.is_legend and len(split[0]) == 2 and shape(texts[0][0]) == "mark"
    wide = [chunks for chunks in split if 2 * len(chunks) > len(before.bands)]
    if parted in EXACT:
        fits = max(len(chunks) for chunks in split) <= len(before.bands)
    else:
        starts = {band.start for band in before.bands}
        fits = all(aligned(chunks, starts) for chunks in split if len(chunks) > 1)
    own_head = len(texts) > 1 and is_head(texts[0], texts[1:], len(before.bands), means)
    own_head = own_head or _captions(texts, max(map(len, texts)), means) > 0
    return fits and not own_head and 2 * len(wide) >= len(split) and before.holds(view, wide)


def _ruled(block: Block[L]) -> int:
    """How many rows stand above the line drawn below a head, 0 where none is drawn."""
    drawn = [is_rule(line.text) for line in block.lines]
    first = drawn.index(False)
    count = next((n for n, d in enumerate(drawn[first:]) if d), 0)
    if sum(drawn) >= _BOXED and not any("=" in line.text for line in block.lines if is_rule(line.text)):
        return 0
    return count if count <= HEADS_DEEP and first + count + 1 < len(drawn) else 0


def _exact(split: Sequence[Sequence[Chunk]]) -> list[Band]:
    return [Band(n, n) for n in range(max(chunks[-1].at for chunks in split) + 1)]


def _bands(split: Sequence[Sequence[Chunk]], heads: Sequence[Sequence[Chunk]] = ()) -> list[Band]:
    """Where the columns lie: as the widest rows that have their like show it, or their head where it is wider."""
    if not split:
        split = heads
    counts = Counter(len(chunks) for chunks in split)
    width = max((n for n, often in counts.items() if often > 1 or len(split) <= 3), default=max(counts))
    whole = [chunks for chunks in split if len(chunks) == width]
    widest = max(heads, key=len, default=())
    if len(widest) > width:
        whole, width = [widest], len(widest)
    elif len(widest) == width:
        whole.append(widest)
    out = []
    for n in range(width):
        starts = Counter(chunks[n].at for chunks in whole)
        out.append(Band(starts.most_common(1)[0][0], max(chunks[n].far for chunks in whole)))
    for left, right in pairwise(out):
        left.end = max(left.start + 1, min(left.end, right.start - 1))
    return out


def _codes_apart(view: View, chunk: Chunk, starts: set[int]) -> Iterator[Chunk]:
    """Codes that each fill their column, so that a single blank parts them: `P3/CT P3/CT`."""
    low = 0
    text = view.text[chunk.start : chunk.end]
    words = text.split(" ")
    if len(words) > 1 and all(_CODED.fullmatch(word) for word in words):
        for blank in (n for n, letter in enumerate(text) if letter == " "):
            if chunk.at + blank + 1 in starts:
                yield Chunk(chunk.start + low, chunk.start + blank, chunk.at + low)
                low = blank + 1
    yield Chunk(chunk.start + low, chunk.end, chunk.at + low)


def _torn(view: View, chunks: Sequence[Chunk], bands: Sequence[Band]) -> list[Chunk]:
    """Cells of which one fills its column so far that a single blank parts it from the number or code of the next."""
    starts = {band.start for band in bands[1:]}
    out: list[Chunk] = []
    for chunk in (part for whole in chunks for part in _codes_apart(view, whole, starts)):
        text = view.text[chunk.start : chunk.end]
        blank = text.rfind(" ")
        value = text[blank + 1 :]
        if blank > 0 and chunk.at + blank + 1 in starts and shape(value) in DIFFER and shape(text) not in DIFFER:
            out.append(Chunk(chunk.start, chunk.start + blank, chunk.at))
            out.append(Chunk(chunk.start + blank + 1, chunk.end, chunk.at + blank + 1))
        else:
            out.append(chunk)
    return out


def _placed(chunks: Sequence[Chunk], bands: Sequence[Band], exact: bool) -> dict[int, Chunk]:
    """Each cell with its column: by its number, by order where counts agree, else where it lies nearest."""
    if exact:
        return {c.at: c for c in chunks if c.at < len(bands)}
    if len(chunks) == len(bands):
        return dict(enumerate(chunks))
    placed: dict[int, Chunk] = {}
    least = 0
    for n, chunk in enumerate(chunks):
        most = max(least + 1, len(bands) - (len(chunks) - n - 1)) if len(chunks) <= len(bands) else len(bands)
        column = min(range(least, most), key=lambda c: _distance(chunk, bands[c]), default=len(bands) - 1)
        first = placed.get(column, chunk)  # where two fall into one column, a wide gap stands inside its cell
        placed[column] = Chunk(first.start, chunk.end, first.at)
        least = min(column + (len(chunks) <= len(bands)), len(bands) - 1)
    return placed


def _distance(chunk: Chunk, band: Band) -> tuple[int, int]:
    """How far a cell lies from a column: whether they part, then by how much their starts, ends or middles differ."""
    apart = max(0, band.start - chunk.far, chunk.at - band.end)
    by_start, by_end = abs(chunk.at - band.start), abs(chunk.far - band.end)
    return apart, min(by_start, by_end, abs(chunk.at + chunk.far - band.start - band.end) // 2)


def _over(heads: Sequence[Chunk], bands: Sequence[Band], *, spans: bool) -> dict[int, Chunk]:
    """The head over each column: the one that reaches it, else, where heads can span several, the last one to its left."""
    if len(heads) == len(bands):
        return dict(enumerate(heads))
    if len(heads) == len(bands) - 1 and heads[0].at > bands[0].start + NEAR:
        return dict(enumerate(heads, 1))  # the column of the keys has none
    over: dict[int, Chunk] = {}
    flush = len(heads) > 1 and {h.at for h in heads} <= {band.start for band in bands}
    for n, band in enumerate(bands):
        shared = {h: min(h.far, band.end) - max(h.at, band.start) for h in heads}
        most = max(heads, key=lambda h: shared[h])
        left = [h for h in heads if h.at <= band.start]
        right = [h for h in heads if h.at > band.start]
        if shared[most] > 0:
            over[n] = most
        elif not spans:
            continue
        elif left and flush:
            over[n] = left[-1]  # each begins where its first column does
        elif left and not (n > 0 and right and len(left) == 1 and right[0].at - band.end < band.start - left[0].far):
            over[n] = left[-1]
        elif left and right:
            over[n] = right[0]
    return over


def _spread(over: Mapping[int, Chunk], below: Mapping[int, str], means: Means) -> dict[int, Chunk]:
    """The wider heads over each column where signs part the cells: one stands over the columns behind it that have no other, but for what
    is a thing of its own by the head below."""
    out = dict(over)
    for n, text in sorted(below.items()):
        if n not in out and n - 1 in out and n - 1 in below and not means(text) & {"surface", "place", "places"}:
            out[n] = out[n - 1]
    return out
