"""The unit of bare numbers: the one that a document gives all its sizes once, `All dimensions in mm`, and then `rails @ 600`, `2 x 13`; and
the only one that a distance can have, `rails at 600 centres`, `at 16 o.c.`

It stands behind them only where a word beside them says that they measure something, or where a size has two numbers. In the cells of a
column that is headed by goods which come in few sizes, one of these has its unit too: `12.5 MR` under `LINING`.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import lru_cache

from attrs import evolve

from darby.quantities.units import LENGTH, UNITS, Unit
from darby.reading.layout.clause import Clause
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.parsing.tagging.tag import Tag, put
from darby.reading.parsing.whole_labels import MEASURE
from darby.text.spans import View

_REACH = 40
"""Letters between the word for sizes and the unit."""
_SHORT = 5
"""Words of a clause that says nothing else."""
_BEFORE = ("AT", "SPACED")
_BEHIND = ("ON_CENTER", "WIDE", "LONG", "THICK")
_WORD = re.compile(r"[A-Za-z]+")
_CELL = 2
"""Where the second number of a size stands that opens its cell."""
_LEAST_MM, _LEAST_IN, _MOST_IN = 100, 4, 48
"""Distances between centers: no fewer millimetres than that are written, and no more inches."""
_COUNT = 3
"""How many of a thing a size can begin with: `2 x 13`."""


def shared_unit(clauses: Iterable[Clause], lexicon: Lexicon, labels: Mapping[str, str]) -> Unit | None:
    """The unit of all sizes of a document, where it says one and no other; `labels` has the words for sizes."""
    said = _said(tuple(word for word, of in labels.items() if of == MEASURE))
    if said is None:
        return None
    found = {
        unit.name: unit
        for clause in clauses
        if said.search(clause.view.text) and _of_all(clause.view.text, lexicon)
        for match in said.finditer(clause.view.text)
        for word in _WORD.findall(match["behind"])
        if (unit := _unit(word, lexicon)) is not None
    }
    return next(iter(found.values())) if len(found) == 1 else None


@lru_cache(4)
def _said(words: tuple[str, ...]) -> re.Pattern[str] | None:
    """A pattern for a word for sizes, and what stands behind it."""
    either = "|".join(map(re.escape, words))
    return (
        re.compile(rf"(?<![A-Za-z])(?:{either})(?P<behind>[A-Za-z\s=(,]{{2,{_REACH}}})", re.IGNORECASE)
        if words
        else None
    )


def _of_all(text: str, lexicon: Lexicon) -> bool:
    """Whether what is said of sizes is said of all of them: by a word, or since nothing else is said."""
    return len(text.split()) <= _SHORT or any(t.name in ("ALL", "NEUTRAL") for t in lexicon.tags(text))


def _unit(word: str, lexicon: Lexicon) -> Unit | None:
    tag = next((t for t in lexicon.tags(f"1 {word}") if t.unit is not None), None) if word.lower() != "in" else None
    return tag.unit if tag is not None and tag.unit is not None and tag.unit.dimension == LENGTH else None


def headed_by_goods(clauses: Iterable[Clause], lexicon: Lexicon) -> dict[int, tuple[View, str]]:
    """The cells of columns whose head names goods that come so thick, and nothing that is counted or measured, by the `id` of their views;
    each with the goods."""
    found: dict[int, tuple[View, str]] = {}
    heads: dict[str, str] = {}
    for cell in (cell for clause in clauses for cell in clause.cells if cell.heads):
        head = cell.heads[-1].text
        if head not in heads:
            tags = lexicon.tags(head)
            goods = {t.value for t in tags if t.name == "subject" and "thickness" in lexicon.kinds.get(t.value, ())}
            plain = all(t.name in _SURFACED for t in tags) and len(goods) == 1
            heads[head] = goods.pop() if plain else ""
        if heads[head] and len(cell.view.text.split()) <= _SHORT:
            found[id(cell.view)] = cell.view, heads[head]
    return found


def measured(clauses: Iterable[Clause], lexicon: Lexicon) -> frozenset[int]:
    """The cells that are a number alone below a head that says that it measures a length (`LENGTH`, `FIELD`, `Spacing`), by the `id` of
    their views."""
    heads: dict[str, bool] = {}
    found = set[int]()
    for cell in (cell for clause in clauses for cell in clause.cells if cell.heads):
        if _ALONE.fullmatch(cell.view.text):
            said = " ".join(head.text for head in cell.heads)
            if said not in heads:
                tags = lexicon.tags(said)
                counts = any(t.unit is not None or t.name in _COUNTED for t in tags)
                heads[said] = not counts and any(
                    t.name in _MEASURING or (t.name == "where" and len(lexicon.only_for.get(t.value, ())) == 1)
                    for t in tags
                )
            if heads[said]:
                found.add(id(cell.view))
    return frozenset(found)


_ALONE = re.compile(r"\s*[0-9]{1,4}(?:[.,][0-9]{1,2}|[- ]?[0-9]{1,2}/[0-9]{1,2})?\s*")
_MEASURING = ("SPACED", "ON_CENTER", "LENGTHS", "LONG", "THICK", "WIDE")
_COUNTED = ("COAT", "LAYER", "LEVEL", "PERCENT", "SOLIDS", "WASTE")
_SURFACED = ("subject", "surface", "type", "AND", "PER", "SIGN", "room", "condition")


def with_goods(tags: Sequence[Tag], text: str, goods: str, lexicon: Lexicon) -> Sequence[Tag]:
    """The tags of a cell under goods, with the unit that its first number must have and the type that its words mean of these."""
    first = next((t for t in tags if t.name == "NUMBER"), None)
    behind = next((t for t in tags if first is not None and t.start >= first.end), None)
    bare = first is not None and (behind is None or behind.unit is None) and not text[: first.start].strip()
    unit = UNITS["mm"]
    new = []
    size = first.number if first is not None and bare else None
    if (
        first is not None
        and size is not None
        and size >= _LEAST_THICK
        and size * unit.factor in lexicon.sizes("thickness")
    ):
        new.append(Tag(first.end, first.end, "LENGTH_UNIT", unit.name, unit=unit))
    if not any(t.name == "type" for t in tags):
        said = lexicon.tags(f"{text.rstrip(' .')} {goods}")
        new += [t for t in said if t.name == "type" and t.end <= len(text)]
    return put(new, tags) if new else tags


_LEAST_THICK = 6
"""Millimetres; a smaller number may count."""


def with_shared_unit(
    tags: Sequence[Tag], text: str, unit: Unit | None, lexicon: Lexicon, *, measures: bool = False
) -> Sequence[Tag]:
    """The tags of a text with a unit behind every bare number that measures something, as all do with `measures`; what then closes a cell by itself
    (`2 x 13 fire rated`) is the type of what is laid so, whose name is left out."""
    out: list[Tag] = []
    for n, tag in enumerate(tags):
        out.append(tag)
        if unit is None:
            own = _of_centers(tags, n)
            out.extend([Tag(tag.end, tag.end, "LENGTH_UNIT", own.name, unit=own)] if own is not None else [])
        elif tag.name == "NUMBER" and (measures or _measures(tags, n) or _sizes(tags, n, unit, lexicon)):
            out.append(Tag(tag.end, tag.end, "LENGTH_UNIT", unit.name, unit=unit))
            if tag is tags[-1] and n == _CELL:
                out.extend(_types(text, tag.end, lexicon))
    return out


def _of_centers(tags: Sequence[Tag], at: int) -> Unit | None:
    """The unit of a bare number right before a word for centers, by its size."""
    number, behind = tags[at].number, tags[at + 1 : at + 2]
    if tags[at].name != "NUMBER" or number is None or not behind or behind[0].name != "ON_CENTER":
        return None
    if number >= _LEAST_MM:
        return UNITS["mm"]
    return UNITS["in"] if _LEAST_IN <= number <= _MOST_IN else None


def _sizes(tags: Sequence[Tag], at: int, unit: Unit, lexicon: Lexicon) -> bool:
    """Whether a number that is no whole one stands right before goods that come so thick, or a type of these: `12.5 panels`."""
    number, behind = tags[at].number, tags[at + 1 : at + 2]
    if number is None or number.denominator == 1 or not behind or behind[0].name not in ("subject", "type"):
        return False
    return behind[0].start - tags[at].end <= 1 and number * unit.factor in lexicon.sizes("thickness")


def _types(text: str, at: int, lexicon: Lexicon) -> Iterator[Tag]:
    goods = lexicon.implies.get("layers", "")
    behind = text[at:].rstrip()
    for tag in lexicon.tags(f"{behind} {goods}") if goods and len(behind.split()) <= _SHORT else ():
        if tag.name == "type" and tag.end <= len(behind):
            yield evolve(tag, start=tag.start + at, end=tag.end + at)


def _measures(tags: Sequence[Tag], at: int) -> bool:
    before, behind = tags[at - 1 : at], tags[at + 1 : at + 2]
    if behind and behind[0].unit is not None:
        return False
    if (before and before[0].name in _BEFORE) or (behind and behind[0].name in _BEHIND):
        return True
    crossed = at > 1 and before[0].name == "BY_X" and tags[at - 2].name == "NUMBER"
    count = tags[at - 2].number if crossed else None
    return count is not None and count <= _COUNT and count.denominator == 1
