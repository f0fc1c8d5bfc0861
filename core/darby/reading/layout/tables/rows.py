"""A grid to rows: wrapped cells joined, keys carried down, groups and their members told apart."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from itertools import pairwise
from typing import Literal

from attrs import define, field

from darby.reading.layout.tables.cells import Chunk, most, shape
from darby.reading.layout.tables.columns import EXACT, Entry, Grid
from darby.reading.layout.tables.heads import THING, Means
from darby.text.spans import View

_DANGLES = re.compile(r"(?:[,&/+(-]|\s(?:and|or|of|with|in|on|to|over|for|per|the|(?-i:a)|by|at|plus))$", re.IGNORECASE)
"""How a cell ends that goes on; a capital A is a letter, `TYPE A`."""
_LABELLED = re.compile(r"[A-Za-z][A-Za-z /-]{2,30}:\s")
_ONE_BY_NUMBER = re.compile(r"[A-Z][A-Za-z]{1,11}\.?\s(?=[A-Z0-9./-]{0,10}[0-9])[A-Z0-9][A-Z0-9./-]{0,10}")
_SOME = 8
"""Keys looked at to say what those of a table are."""
_LINES = 20
"""Lines that one row can take."""
_SLACK = 12
"""Letters by which a line has to be too short to be full."""
_LOOSE = 3
"""Lines below keys that tell how such lines go on."""
_ABOUT = frozenset({"surface", "product", "measure"})
_DEEPER = 2
"""Letters by which the members of a group stand further in than its name."""

Part = Literal["row", "group", "child", "head"]


@define(eq=False)
class Row:
    """A row of a table: its cells by column, and those that it takes over from the row above."""

    cells: dict[int, View]
    carried: dict[int, View] = field(factory=dict)
    part: Part = "row"
    """`group`: the name of the rows below it; `child`: a statement that goes on below a key; `head`: the heads again."""
    indent: int = 0
    lines: int = 1

    @property
    def all(self) -> Mapping[int, View]:
        """Its own cells and the carried ones."""
        return {**self.carried, **self.cells}


def rows_of(grid: Grid, known: Callable[[str], bool], means: Means) -> list[Row]:
    """The rows of a grid, in order."""
    reader = _Rows(grid, known, means)
    for number, entry in enumerate(grid.entries):
        reader.add(number, entry)
    _open_records(reader.done, means)
    return reader.done


def _open_records(rows: Sequence[Row], means: Means) -> None:
    """Make groups of rows that open a record: `RDS 07 | PHARMACY | Room 1.14` over rows that begin further in, each with what
    it is about. Where the row of a key is about such a thing itself, its key only was not said again."""
    coded = [row for row in rows if row.part == "row" and 0 in row.cells and _numbers_a_record(row.cells[0].text)]
    others = [row for row in rows if row.part == "row" and row not in coded]
    alone = (
        len(coded) == 1 and coded[0] is rows[0] and len(coded[0].cells) == 2 and all(0 in row.cells for row in others)
    )
    # a row that has cells of its own where the others begin only has its keys before them
    filled = others and all(max(row.cells) >= min(min(other.cells) for other in others) > 0 for row in coded)
    if (
        (len(coded) > 1 or alone)
        and others
        and not filled
        and min(row.indent for row in others) >= max(row.indent for row in coded) + _DEEPER
    ):
        for row in coded:  # codes over labels and values that stand further in
            row.part = "group"
        return
    openers = [row for row in rows if row.part == "row" and 0 in row.cells]
    within = [row for row in rows if row.part == "row" and 0 not in row.cells and len(row.cells) > 1]
    if not openers or len(within) < 2 * len(openers) or any(len(row.cells) < 2 for row in openers):
        return

    def about(row: Row) -> bool:
        said = means(row.cells[1].text) if 1 in row.cells else frozenset[str]()
        return bool(said & _ABOUT)

    named = all(len(row.cells) == 2 and 1 in row.cells for row in openers) and sum(
        2 in row.cells for row in within
    ) > len(openers)
    if (any(map(about, openers)) and not named) or 2 * sum(map(about, within)) < len(within):
        return
    for row in openers:
        row.part = "group"
    for row in within:
        row.carried = {}


def _numbers_a_record(text: str) -> bool:
    """Whether a key is a code, or a word and its number: `1.14A`, `Sheet GF-07`, `Room 12`."""
    return shape(text) == "mark" or _ONE_BY_NUMBER.fullmatch(text) is not None


@define(eq=False)
class _Rows:
    grid: Grid
    known: Callable[[str], bool]
    means: Means
    done: list[Row] = field(factory=list)
    above: dict[int, str] = field(factory=dict)
    """The last line of each cell of the row above."""
    numbers: frozenset[int] = frozenset()
    """Columns of numbers and codes."""
    small: frozenset[int] = frozenset()
    """Columns whose cells begin with a small letter anyway."""
    widths: dict[int, int] = field(factory=dict)
    keys: tuple[str, ...] = ()
    heads: frozenset[str] = frozenset()
    one_each: bool = False
    """Whether lines below a key say one thing each: they mostly end before the next word had to."""
    shouts: bool = False
    """Whether the cells behind the keys are written in capitals anyway."""

    def __attrs_post_init__(self) -> None:
        grid = self.grid
        keyed = [e.texts(grid.view) for e in grid.entries if 0 in e.cells]
        columns = range(len(grid.bands))
        held = {n: [row[n] for row in keyed if n in row] for n in columns}
        self.numbers = frozenset(n for n in columns if most(map(shape, held[n])) in ("number", "mark"))
        self.small = frozenset(n for n in columns if 2 * sum(t[0].islower() for t in held[n]) > len(held[n]))
        self.widths = {n: max(map(len, held[n]), default=0) for n in columns}
        self.keys = tuple(row[0] for row in keyed if len(row) > 1)
        self.heads = frozenset(grid.text(c) for c in grid.told)
        self.one_each = len(grid.bands) == 2 and grid.parted not in EXACT and self._says_one_each()
        self.shouts = any(text.isupper() and shape(text) == "words" for text in held.get(1, [])[:_SOME])

    def _says_one_each(self) -> bool:
        lines = [e.texts(self.grid.view) for e in self.grid.entries]
        below = [
            (a[1], b[1]) for a, b in pairwise(lines) if 1 in a and 1 in b and 0 not in b and not _DANGLES.search(a[1])
        ]
        full = max((len(text) for line in lines for n, text in line.items() if n == 1), default=0)
        early = [len(above) + len(text.partition(" ")[0]) + _SLACK < full for above, text in below]
        return len(below) >= _LOOSE and 3 * sum(early) >= 2 * len(early)

    def add(self, number: int, entry: Entry) -> None:
        texts = entry.texts(self.grid.view)
        if self.heads and len(texts) > 1 and all(text in self.heads for text in texts.values()):
            self.done.append(Row(self._cut(entry.cells), part="head", indent=entry.indent))
            return
        last = next((row for row in reversed(self.done) if row.part != "head"), None)
        opens = self._opens_group(number, entry, texts)
        if last is not None and not (opens and 0 not in texts) and self._wraps(entry, texts, last):
            for n, chunk in entry.cells.items():
                last.cells[n] = (
                    joined(last.cells[n], self._view(chunk), self.known) if n in last.cells else self._view(chunk)
                )
            self.above.update(texts)
            last.lines += 1
            return
        row = Row(self._cut(entry.cells), indent=entry.indent)
        if opens:
            row.part, row.cells = "group", {0: next(iter(row.cells.values()))}
        elif last is not None:
            self._carry(row, last)
        if not opens and len(self.grid.bands) == 2 and 0 in row.carried and self.grid.parted not in EXACT:
            row.part = "child"
        self.above = texts if row.part != "child" else {**self.above, **texts}
        self.done.append(row)

    def _view(self, chunk: Chunk) -> View:
        return self.grid.view.cut(chunk.start, chunk.end)

    def _cut(self, cells: Mapping[int, Chunk]) -> dict[int, View]:
        return {n: self._view(chunk) for n, chunk in cells.items()}

    def _wraps(self, entry: Entry, texts: Mapping[int, str], last: Row) -> bool:
        """Whether a line only goes on with cells of the row above it."""
        if entry.boxed:
            return not entry.ruled and last.lines < _LINES
        if last.part == "group" or last.lines >= _LINES or any(n not in self.above for n in texts):
            return False
        anew = {n: self._begins_anew(n, text) for n, text in texts.items()}
        if anew.get(0) or (self.grid.parted in EXACT and anew[min(anew)]):
            return False
        if any(self._names_another(n, text) for n, text in texts.items()):
            return False
        values = [n for n, text in texts.items() if n in self.numbers and shape(text) in ("number", "mark")]
        if values:
            return any(self._dangles(n) for n in values)
        if not all(anew.values()):
            return True
        if self.one_each:
            return False
        if self.grid.parted in EXACT or any(self._ended(n, text) for n, text in texts.items()):
            return False
        # a cell that goes on did so because the next word had no room
        return all(len(self.above[n]) + 1 + len(t.partition(" ")[0]) > self.widths[n] for n, t in texts.items())

    def _begins_anew(self, column: int, text: str) -> bool:
        """Whether a cell does not go on with the one above it, as far as its own letters and the end of that one show."""
        if self._dangles(column) or (self.above[column].count("(") > self.above[column].count(")")):
            return False
        small = text[:1].islower() and column not in self.small and not (self.one_each and column)
        return not small or self._ended(column, text)

    def _names_another(self, column: int, text: str) -> bool:
        """Whether a cell names a surface, and the one above it names another: `Ceiling` below `Walls`."""
        return not self._dangles(column) and all("surface" in self.means(said) for said in (text, self.above[column]))

    def _dangles(self, column: int) -> bool:
        return _DANGLES.search(self.above[column]) is not None

    def _ended(self, column: int, text: str) -> bool:
        """Whether a cell is a sentence that is finished, or the next line opens with a label."""
        above = self.above.get(column, "")
        return above.endswith((".", ";", ":", "!", "?")) or _LABELLED.match(text) is not None

    def _carry(self, row: Row, last: Row) -> None:
        """Keys that a row leaves out, because they are those of the row above: the cells before its first own one."""
        first = min(row.cells)
        above = last.all
        if first == 0 or 0 not in above:
            return
        row.carried = {n: above[n] for n in range(first) if n in above}

    def _opens_group(self, number: int, entry: Entry, texts: Mapping[int, str]) -> bool:
        """Whether a line of one cell names the rows below it: a colon, capitals, a place or surface, or members set in."""
        after = self.grid.entries[number + 1] if number + 1 < len(self.grid.entries) else None
        if len(texts) != 1 or after is None or 0 not in after.cells or len(after.cells) < 2:
            return False
        if 0 not in texts:  # capitals over the words of numbered rows
            ((column, text),) = texts.items()
            return column == 1 and 0 in self.numbers and text.isupper() and not self.shouts
        text, keys = texts[0], self.keys[:_SOME]
        what = self.means(text) & THING
        return (
            text.endswith(":")
            or after.indent >= entry.indent + _DEEPER
            or (text.isupper() and not any(key.isupper() for key in keys))
            or (bool(what) and not any(self.means(key) & what for key in keys))
        )


def joined(view: View, more: View, known: Callable[[str], bool]) -> View:
    """A cell and the line that it goes on with; a hyphen between them goes where the word is known without it."""
    if view.text.endswith("-") and more.text[:1].islower():
        word = re.split(r"[^A-Za-z]", view.text[:-1])[-1] + re.split(r"[^a-z]", more.text)[0]
        return View.join([view.cut(0, len(view.text) - 1) if known(word.lower()) else view, more], "")
    return View.join([view, more], " ")


def members(rows: Sequence[Row]) -> list[Row | None]:
    """Of each row the group that it stands in; a group whose members are set in ends where a row is not."""
    out: list[Row | None] = []
    group: Row | None = None
    deep = False
    for n, row in enumerate(rows):
        if row.part == "group":
            group, deep = row, n + 1 < len(rows) and rows[n + 1].indent >= row.indent + _DEEPER
            out.append(None)
            continue
        if group is not None and deep and 0 in row.cells and row.indent < group.indent + _DEEPER:
            group = None
        out.append(group)
    return out
