"""Tables that a paste broke into one cell a line: heads and values told apart, and counted.

Each head may stand over its own values, or all heads first and the values behind them, row by row or column by column. Where the
counts do not agree, or two ways of counting do, nothing is decided.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from typing import Generic

from attrs import define, frozen

from darby.reading.layout.tables.cells import GAP, L, Line, Shape, most, shape
from darby.reading.layout.tables.heads import DIFFER, HOLDS, PROPERTY, Means

_LONGEST = 45
"""Letters in a line that may be one cell."""
_FEWEST = 5
"""Lines of the smallest table: two heads, and two values for one of them at the least."""
_FARTHEST = 400
_MOST_HEADS = 12
_DANGLES = re.compile(r"(?:[,&/-]|\s(?:and|or|to|of|with|for|per))$", re.IGNORECASE)
_WORDS = frozenset({"places", "products", "surfaces", "colors", "sheens"})

Cells = tuple[tuple[L, ...], ...]
"""The cells of a column, each of one line or a few."""


@frozen(eq=False)
class Pasted(Generic[L]):
    """A table of which every cell stands in a line of its own: its heads, and the cells of each of its columns."""

    heads: tuple[L, ...]
    columns: tuple[Cells[L], ...]

    @property
    def lines(self) -> Sequence[L]:
        """All its lines."""
        return [*self.heads, *(line for column in self.columns for cell in column for line in cell)]


@define(eq=False)
class _Group(Generic[L]):
    """Heads that follow each other, and the lines below them."""

    heads: list[L]
    values: list[L]
    opens: bool = False
    """Whether a table begins with it: its head names places."""
    captioned: bool = False
    """Whether its last line may name the table that comes behind it."""

    def counts(self) -> set[int]:
        """How many cells its lines may be."""
        return {len(cells) for cells in _readings(self.values)} | {
            len(cells) for cells in _readings(self.values[:-1]) if self.captioned
        }

    def cells(self, count: int) -> tuple[Cells[L], list[L]] | None:
        """Its lines as so many cells, and the one that is none of them; None where they are not so many."""
        for rest in (0, 1) if self.captioned else (0,):
            lines = self.values[: len(self.values) - rest]
            found = next((cells for cells in _readings(lines) if len(cells) == count), None)
            if found is not None:
                return found, self.values[len(lines) :]
        return None


def _readings(lines: Sequence[L]) -> Iterator[Cells[L]]:
    """The cells that lines may be: as they stand, or with those joined that break off, or also with those that begin small."""
    yield tuple((line,) for line in lines)
    yield _joined(lines, lambda above, _: _DANGLES.search(above.text) is not None)
    yield _joined(lines, lambda above, line: _DANGLES.search(above.text) is not None or _begins_small(above, line))


def _joined(lines: Sequence[L], goes_on: Callable[[L, L], bool]) -> Cells[L]:
    out: list[list[L]] = []
    for line in lines:
        if out and goes_on(out[-1][-1], line):
            out[-1].append(line)
        else:
            out.append([line])
    return tuple(map(tuple, out))


def _begins_small(above: Line, line: Line) -> bool:
    return line.text[:1].islower() and shape(line.text) == "words" and shape(above.text) == "words"


def pasted(lines: Sequence[L], at: int, means: Means) -> tuple[list[Pasted[L] | L], int]:
    """The tables and the lines between them from a line on, none where there is no table, and where the run of short lines
    ends."""
    if not _is_head(lines[at], means):
        return [], at
    end = at
    while end < len(lines) and end - at < _FARTHEST and _alone(lines[end]):
        end += 1
    if end - at < _FEWEST:
        return [], end
    out = list(_tables(_groups(lines[at:end], means), means))
    return (out, end) if any(isinstance(part, Pasted) for part in out) else ([], end)


def _alone(line: Line) -> bool:
    """Whether a line can be one cell: short, no list item, no sentence, no row."""
    text = line.text
    return (
        not line.style
        and line.kind != "title"
        and len(text) <= _LONGEST
        and not text.endswith((".", ";", ":"))
        and "|" not in text
        and not GAP.search(text)
    )


def _is_head(line: Line, means: Means, *, surfaces: bool = False) -> bool:
    """Whether a line names a property, or, in a table of places, a surface."""
    if shape(line.text) not in ("words", "counted") or not _alone(line):
        return False
    known = means(line.text)
    if any(c.isdigit() for c in line.text) and "unit" not in known:
        return False
    return bool(known & PROPERTY) or (surfaces and known == {"surface"})


def _is_goods(line: Line, means: Means) -> bool:
    """Whether a line is one word for goods, which may head what they are."""
    return " " not in line.text and means(line.text) == {"product"}


def _stands_among_heads(lines: Sequence[Line], means: Means) -> bool:
    """Whether a line is one word for goods, and no cell parts it from the next head."""
    after = next((line for line in lines if not _is_goods(line, means)), None)
    return _is_goods(lines[0], means) and after is not None and _is_head(after, means)


_AMONG = 5
"""Lines within which the next head stands."""


def _groups(lines: Sequence[L], means: Means) -> list[_Group[L]]:
    """Heads with what stands below them; a head that only ends the values of the column before is a value."""
    out: list[_Group[L]] = []
    places = broken = False
    for number, line in enumerate(lines):
        among = bool(out) and not out[-1].values and not any("products" in means(h.text) for h in out[-1].heads)
        among = among and _stands_among_heads(lines[number : number + _AMONG], means)
        if not broken and (_is_head(line, means, surfaces=places) or among):
            places = places or "places" in means(line.text)
            if not out or out[-1].values:
                out.append(_Group([], [], opens="places" in means(line.text)))
            out[-1].heads.append(line)
        else:
            out[-1].values.append(line)
        broken = _DANGLES.search(line.text) is not None
    _take_back(out)
    for before, group in pairwise(out):
        extra = len(group.heads) - 1
        if extra and len(before.heads) == 1 and len(before.values) + extra == len(group.values):
            before.values += group.heads[:extra]
            group.heads = group.heads[extra:]
        again = group.heads[0].text.lower() == lines[0].text.lower()
        named = len(before.values) > 1 and shape(before.values[-1].text) in ("words", "counted")
        before.captioned = named and (again or before.values[-1].blank_before)
    return out


def _take_back(groups: list[_Group[L]]) -> None:
    """Make a value of a head that stands in the middle of a column of names, as the columns beside it show: `Coat check`."""
    at = 0
    while at + 2 < len(groups):
        above, group, after = groups[at : at + 3]
        lone = len(above.heads) == len(group.heads) == len(after.heads) == 1
        names = all(shape(line.text) not in DIFFER for line in (*above.values, *group.values))
        count = len(above.values) + 1 + len(group.values)
        columns = len(group.values) == len(above.values) > 1
        if lone and names and not columns and count in after.counts():
            above.values += [*group.heads, *group.values]
            del groups[at + 1]
        else:
            at += 1


def _tables(groups: Sequence[_Group[L]], means: Means) -> Iterator[Pasted[L] | L]:
    at = 0
    while at < len(groups):
        group = groups[at]
        if len(group.heads) > 1:
            table = _heads_first(group, means)
            if table is None:
                yield from (*group.heads, *group.values)
            else:
                yield table
            at += 1
            continue
        count, end = _even(groups, at)
        own = groups[at:end]
        found = [(g, g.cells(count)) for g in own]
        if count < 2 or not any(most(shape(v.text) for v in g.values) in DIFFER for g, f in found if f is not None):
            yield from (*group.heads, *group.values)
            at += 1
            continue
        yield Pasted(
            tuple(g.heads[0] for g, f in found if f is not None), tuple(f[0] for _, f in found if f is not None)
        )
        for g, f in found:
            yield from (*g.heads, *g.values) if f is None else f[1]
        at = end


def _even(groups: Sequence[_Group[L]], at: int) -> tuple[int, int]:
    """How many rows the columns from one on agree in, and where they end; one may disagree between two that do not."""
    best, end = 0, at + 1
    for count in groups[at].counts() - {0, 1}:
        n, last = at + 1, at + 1
        while n < min(len(groups), at + _MOST_HEADS) and n <= last + 1 and not groups[n].opens:
            if len(groups[n].heads) > 1:
                break
            n += 1
            last = n if groups[n - 1].cells(count) is not None else last
            if groups[n - 1].captioned:
                break
        if last > end:
            best, end = count, last
    return best, end


def _heads_first(group: _Group[L], means: Means) -> Pasted[L] | None:
    """All heads, then all values: row by row, or column by column, whichever alone fits what the heads name."""
    goods = next((n for n, line in enumerate(group.values) if not _is_goods(line, means)), 0)
    named = any("products" in means(line.text) for line in group.heads)
    for more in range(1 if named else min(goods, _AMONG) + 1):  # the last heads may be words for goods
        heads = (*group.heads, *group.values[:more])
        if table := _under(heads, group.values[more:], means):
            return table
    return None


def _under(heads: tuple[L, ...], values: Sequence[L], means: Means) -> Pasted[L] | None:
    for cells in _readings(values):
        rows, rest = divmod(len(cells), len(heads))
        if rest or not rows or len(heads) > _MOST_HEADS:
            continue
        by_row = tuple(cells[n :: len(heads)] for n in range(len(heads)))
        by_column = tuple(cells[n * rows : (n + 1) * rows] for n in range(len(heads)))
        fit = [columns for columns in (by_row, by_column) if _fits(heads, columns, means)]
        if len(fit) == 1 or (fit and rows == 1):
            return Pasted(heads, fit[0])
    return None


def _fits(heads: Sequence[Line], columns: Sequence[Cells[L]], means: Means) -> bool:
    """Whether every column holds what its head names, and one of them numbers or codes."""
    kinds = [[shape(cell[0].text) for cell in column] for column in columns]
    return any(most(kind) in DIFFER for kind in kinds) and all(
        _holds(means(head.text), kind) for head, kind in zip(heads, kinds, strict=True)
    )


def _holds(known: frozenset[str], kinds: Sequence[Shape]) -> bool:
    said = [kind for kind in kinds if kind != "none"]
    if known & _WORDS:
        return all(kind in ("words", "counted") for kind in said)
    if known & {"measure", "unit"}:
        return all(kind == "number" for kind in said)
    return not known & HOLDS or len({*said}) < 2
