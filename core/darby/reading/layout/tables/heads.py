"""Which lines on top of a table are its heads: words over numbers and codes, or words that heads are known by."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from typing import Protocol

from darby.reading.layout.tables.cells import TICK, Shape, most, shape

Means = Callable[[str], frozenset[str]]
"""What the words of a head or a cell are: `place`, `surface`, `sheen`, `product`, `unit`, `measure`, or, of a head that
names what its column holds, `places`, `numbers`, `marks`, `surfaces`, `products`, `sheens`, `colors`, `quantities`
(of a bill), `heights`, `actions` (who is to do something), `remarks`."""
HOLDS = frozenset("places numbers marks surfaces products sheens colors quantities heights actions remarks".split())
"""What a head can say that its column holds."""
PROPERTY = HOLDS | {"measure", "unit"}
"""What a head can be that names a property, and no thing."""
THING = frozenset({"place", "surface", "sheen", "product", "mark"})
DIFFER: tuple[Shape, ...] = ("number", "mark")
"""Shapes of cells that hold values, and no words."""
DWELLINGS = re.compile(
    r"\b(?:units?|apartments?|flats?|dwellings?|houses?|homes?|suites?|villas?|plots?|maisonettes?)\b", re.IGNORECASE
)
"""What kinds of are lettered or numbered, each with rooms of its own."""
HOLDERS = r"(?:level|floor|block|building|wing|phase|zone|unit|tower|stage)"
"""What holds places and is numbered itself."""
ONE_OF = re.compile(r"[A-Za-z]{2,12}\s(?:[A-Z]|[0-9]{1,3}[A-Z]?)(?![A-Za-z0-9])")
"""One of several alike: `Type A`, `Block 2`."""
COMPASS = re.compile(r"(?:north|east|south|west|[nesw])\.?", re.IGNORECASE)
"""A wall by where it faces: `N`, `South`."""
SIDED = re.compile(r"(?:side|face)\s(?:[A-D]|[1-4]|one|two)", re.IGNORECASE)
"""One side of a wall: `SIDE A`."""
_SIDES = 2


def is_unit_name(text: str) -> bool:
    """Whether a text names one kind of dwelling: `Type A`, `Apartment 2B`."""
    return ONE_OF.fullmatch(text) is not None and (text[:4].lower() == "type" or DWELLINGS.search(text) is not None)


HEADS_DEEP = 3
"""Lines that a head can take."""
_BRACKETED = re.compile(r"\([^()]{0,60}\)|\[[^\[\]]{0,60}\]")
_SENTENCE = 4
_FIGURE = re.compile(r"[0-9]")
_LONGEST_HEAD = 60


_THINGS = {
    "surface": "surface",
    "room": "place",
    "sheen": "sheen",
    "color": "color",
    "subject": "product",
    "type": "type",
    "layer": "part",
    "where": "part",
}
_UNITS = frozenset({"LENGTH_UNIT", "AREA_UNIT", "VOLUME_UNIT", "MASS_UNIT", "THIN_UNIT", "PERCENT"})
_MEASURES = frozenset(
    "COAT LAYER ON_CENTER SPACED THICK WIDE LONG LENGTHS WET DRY LEVEL SOLIDS WASTE hint".split(),
)
_END = " .,:;#*"
_PLURAL = re.compile(r"(?<=[a-z]{3})s(?![a-z])", re.IGNORECASE)


_ROOM = re.compile(r"[A-Za-z][A-Za-z'’&/. -]{1,30}\s(?:rooms?|rm\.?)(?:\s?[0-9A-Z]{1,4})?", re.IGNORECASE)


class Word(Protocol):
    """What has to be known of a word of the language: what it is, and what it says besides."""

    @property
    def name(self) -> str:
        """The terminal, or the scope key."""

    @property
    def also(self) -> tuple[tuple[str, str], ...]:
        """Further scope that the word carries."""


def head_words(words: Callable[[str], Sequence[Word]], heads: Mapping[str, str]) -> Means:
    """What short texts say, by the words of the language in them and by the heads that it knows; each is looked at once."""
    seen: dict[str, frozenset[str]] = {}

    def means(text: str) -> frozenset[str]:
        if text not in seen:
            whole = " ".join(text.lower().split())
            held = heads.get(whole) or heads.get(whole.strip(_END))
            said = {held} if held else _said(words(text)) | ({"unit"} if text.endswith("%") else set())
            if not held and _ROOM.fullmatch(text):
                said = {"place"}  # `COAT ROOM`, whatever its first word is elsewhere
            if not said & PROPERTY and (singular := _PLURAL.sub("", text)) != text:
                said |= _said(words(singular))
            seen[text] = frozenset(said)
        return seen[text]

    return means


def _said(words: Sequence[Word]) -> set[str]:
    names = {word.name for word in words}
    out = {_THINGS[name] for name in {*names, *(key for word in words for key, _ in word.also)} if name in _THINGS}
    if names & _UNITS:
        out.add("unit")
    if names & _MEASURES:
        out.add("measure")
    if "ROOM_HEAD" in names and "place" not in out:
        out.add("places")
    return out


def unheard(_: str) -> frozenset[str]:
    """What words are where nobody knows any."""
    return frozenset()


def head_lines(rows: Sequence[Mapping[int, str]], width: int, means: Means) -> int:
    """How many of some rows, the texts of their cells by column, are heads."""
    if len(rows) < 2 or len(rows[0]) < 2 or not is_head(rows[0], rows[1:], width, means):
        return 0
    count = 1
    while count < min(HEADS_DEEP, len(rows) - 1) and _goes_deeper(
        rows[count - 1], rows[count], rows[count + 1 :], means
    ):
        count += 1
    return count if count > 1 or 2 * len(rows[0]) >= width else 0


def is_head(first: Mapping[int, str], body: Sequence[Mapping[int, str]], width: int, means: Means) -> bool:
    """Whether the line on top of some rows is their head."""
    if any(len(t) > _LONGEST_HEAD or (t.endswith((".", ";")) and len(t.split()) > _SENTENCE) for t in first.values()):
        return False
    if _is_pairs([first, *body], width, means) or _opens_records(first, body) or _changes_below(first, body):
        return False
    if _are_coded(first, body):
        return True
    for_it = against = named = 0
    sides = [n for n, text in first.items() if COMPASS.fullmatch(text)]
    for n, text in first.items():
        if (n in sides and len(sides) > _SIDES) or SIDED.fullmatch(text):
            named += 1
            continue
        own, below = shape(_BRACKETED.sub("", text) or "words"), most(shape(row.get(n, "")) for row in body)
        if own == "number" and _NUMBERED_NAME.fullmatch(text) and not means(text) - {"place"}:
            own = "words"  # `101 Reception` is a name
        cells = [row[n] for row in body if shape(row.get(n, "")) != "none"]
        if cells and all(map(TICK.fullmatch, cells)):
            for_it += n > 0
        elif own in DIFFER or own == "counted":
            against += own == below and not _is_short_name(text, n, body)
            for_it += below not in (own, "words", "none")
        else:
            for_it += below in DIFFER or (below == "counted" and n > 0)
        known = means(text)
        named += bool(n and is_unit_name(text))
        named += bool(known & PROPERTY) or ("surface" in known and not _alike(known, n, body, means))
        named += known == {"product"} and _is_noun(text, n, body)
    if against:
        return False
    rest = " ".join(text for row in body[:_SENTENCE] for text in row.values())
    capitals = " ".join(first.values()).isupper() and not rest.isupper()
    if len(first) == 2 and width == 2:
        keyed = most(shape(row.get(0, "")) for row in body) == "mark"
        return named == 2 or _are_parts(first, body, means) or (for_it > 0 and (capitals or (keyed and named > 0)))
    return for_it > 0 or capitals or 2 * named > len(first) + 1 or named == len(first)


def _are_parts(first: Mapping[int, str], body: Sequence[Mapping[int, str]], means: Means) -> bool:
    """Whether parts alone stand side by side over values alone: `Edges | Field` over `8 in. | 12 in.`, which has no keys."""
    values = all(shape(text) in ("number", "none") for row in body for text in row.values())
    return values and all(means(text) == {"part"} for text in first.values())


def _changes_below(first: Mapping[int, str], body: Sequence[Mapping[int, str]]) -> bool:
    """Whether a label over a column, `Partitions: ..`, is followed further down by another one alone in its line, `Ceilings: ..`: it holds for a
    part of the rows only."""
    labels = [n for n, text in first.items() if n > 0 and _LABEL.match(text)]
    return any(list(row) == [n] and _LABEL.match(row[n]) for n in labels for row in body)


_LABEL = re.compile(r"[A-Z][A-Za-z ]{2,30}:\s")
_NUMBERED_NAME = re.compile(r"[0-9]{1,4}[A-Z]?\s[A-Z][A-Za-z'’-]+(?:\s[A-Za-z'’&/-]+){0,4}")


def _are_coded(first: Mapping[int, str], body: Sequence[Mapping[int, str]]) -> bool:
    """Whether the codes of a series, `PT-1 | PT-2 | PT-3`, stand over cells that are none: what is told of each."""
    codes = [text for n, text in first.items() if n > 0]
    stems = {match[1] if (match := _STEM.fullmatch(text)) else text.rpartition("-")[0] for text in codes}
    keyed = shape(first.get(0, "words")) in ("words", "counted")
    if len(codes) < _SERIES or len(stems) > 1 or not all(stems) or len(set(codes)) < len(codes) or not keyed:
        return False
    below = [shape(text) for row in body for n, text in row.items() if n > 0]
    return all(shape(text) == "mark" for text in codes) and "mark" not in below and bool(below)


_SERIES = 2
"""Codes that make a series."""


def _is_noun(text: str, column: int, body: Sequence[Mapping[int, str]]) -> bool:
    """Whether one word stands over cells that all say more, `Stain` over `oil stain`: it says what they are."""
    below = [row[column] for row in body[:_SENTENCE] if shape(row.get(column, "")) != "none"]
    return column > 0 and " " not in text and bool(below) and all(" " in cell for cell in below)


def _is_short_name(text: str, column: int, body: Sequence[Mapping[int, str]]) -> bool:
    """Whether a head only looks like a code: letters without a figure, `W/C`, over codes that have one."""
    return (
        column > 0
        and not _FIGURE.search(_BRACKETED.sub("", text))
        and all(_FIGURE.search(row.get(column, "0")) for row in body[:_SENTENCE])
    )


def _is_pairs(body: Sequence[Mapping[int, str]], width: int, means: Means) -> bool:
    """Whether rows are labels and their values by turns, so that the first one is no head but another such row."""
    if width < 4 or width % 2:
        return False
    labels = [[row[n] for row in body if n in row] for n in range(0, width, 2)]
    labelled = [
        [t.endswith(":") or (bool(means(t) & PROPERTY) and shape(t) != "number") for t in own] for own in labels
    ]
    return all(2 * sum(own) > len(own) for own in labelled)


def _opens_records(first: Mapping[int, str], body: Sequence[Mapping[int, str]]) -> bool:
    """Whether a row opens with a code as others further down do, and so heads its own record only."""
    stem = _STEM.fullmatch(first.get(0, ""))
    others = (_STEM.fullmatch(row.get(0, "")) for row in body)
    return stem is not None and any(other is not None and other[1] == stem[1] for other in others)


_STEM = re.compile(r"([A-Z]{1,4})[-. ]?[0-9]{1,3}[A-Za-z]?")


def _alike(known: frozenset[str], column: int, body: Sequence[Mapping[int, str]], means: Means) -> bool:
    """Whether the cells below a head are the same kind of thing: `Walls` over `Ceilings` is no head."""
    cells = [row[column] for row in body[:6] if column in row]
    return 2 * sum(bool(means(t) & known & THING) for t in cells) > len(cells)


def _goes_deeper(
    above: Mapping[int, str], line: Mapping[int, str], body: Sequence[Mapping[int, str]], means: Means
) -> bool:
    """Whether a line below a head is a part of it: units, the rest of its words, or heads under a wider one."""
    shapes = {n: shape(_BRACKETED.sub("", t) or "words") for n, t in line.items()}
    if any(s in DIFFER for s in shapes.values()) or any(text.endswith(",") for text in line.values()):
        return False  # values, and cells that go on
    over_values = any(most(shape(row.get(n, "")) for row in body) in DIFFER for n in shapes if n > 0)
    units = all(is_unit(t, means) or means(t) & PROPERTY for t in line.values())
    keyless = (0 in line) != (0 in above) and not (0 in line and all(ONE_OF.fullmatch(t) for t in above.values()))
    return over_values and (units or keyless)


def is_unit(text: str, means: Means) -> bool:
    """Whether a line below a head is the unit of what it names."""
    return _BRACKETED.fullmatch(text) is not None or means(text) == {"unit"}
