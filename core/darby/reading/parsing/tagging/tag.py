"""A tag: a stretch of a text that means something, with its terminal, value, number and unit."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Container, Iterable, Sequence
from fractions import Fraction

from attrs import frozen

from darby.quantities.numerals import WORDS
from darby.quantities.units import UNITS, Unit
from darby.rules import name_matching

Meaning = tuple[str, str]
"""Terminal and value."""

ENDS = ("STOP", "SEMICOLON")
"""Signs that part what is said from what is said before."""

OPENS_DEFINITION = ("opens", "definition")
"""What else a mark says that opens its own definition: it gives the system to no place."""

NUMBERED = ("NUMBER", "CODE", "DAMAGED", "FEET_INCHES", "BLANK")
"""Tags that hold a number of the text, or stand where one is wanted."""


@frozen(eq=False)
class Tag:
    """A stretch of a clause's text that means something: a word, a sign or a number."""

    start: int
    end: int
    name: str
    """The terminal, or the scope key."""
    value: str = ""
    number: Fraction | None = None
    unit: Unit | None = None
    also: tuple[tuple[str, str], ...] = ()
    """Further scope that the word carries: a word for a product on walls is the product, and on walls."""
    loose: bool = False
    """Of a room: no word before it says that anything is in it. Of a reason in a heading: a word stands right behind it that it only
    describes. Of a look: the word for it stands before it, so that it names no goods."""

    def __repr__(self) -> str:
        return f"{self.name}({self.value or self.number or ''})"


SET = name_matching.SET
"""Between values of one tag or key that hold together: properties of a thing, goods that are left out."""

EXTENT = (("extent", "part"),)
"""What else a tag says of where something holds that is a part of a surface, however large: `lower half`, and no `edge`."""


def is_extent(tag: Tag) -> bool:
    """Whether a tag names a part of a surface, for which no whole surface stands."""
    return any(pair in EXTENT for pair in tag.also)


def comes_so(tag: Tag) -> bool:
    """Whether a tag says how a thing is when it comes, which only describes it: `shop oiled benches`."""
    return tag.name == "REPLACED" and any(key == "elsewhere" for key, _ in tag.also)


def ended_by(tags: Sequence[Tag], at: int) -> int:
    """How many of the tags in order end at or before a place of the text."""
    return bisect_right(tags, at, key=lambda t: t.end)


def begun_by(tags: Sequence[Tag], at: int) -> int:
    """How many of the tags in order begin before a place of the text: the index of the first at or behind it."""
    return bisect_left(tags, at, key=lambda t: t.start)


def within(tags: Sequence[Tag], low: int, high: int) -> Sequence[Tag]:
    """Of tags in order those that touch a stretch of the text."""
    first = ended_by(tags, low)
    return tags[first : bisect_left(tags, high, lo=first, key=lambda t: t.start)]


def sentence_bounds(tags: Sequence[Tag], at: int, over: int, ends: Container[str] = ("STOP",)) -> tuple[int, int]:
    """Where the sentence around a place of the text begins, the place of the stop before it or -1, and where it ends: at the next stop, or at
    `over`. `ends` are the names of what stops it."""
    stops = [t.start for t in tags if t.name in ends]
    return max((s for s in stops if s < at), default=-1), min((s for s in stops if s > at), default=over)


def refers(tags: Sequence[Tag], at: int) -> str:
    """What a number is the number of: `Table 2`, also behind another such, `Tables 2 and 3`; or nothing."""
    if tags[at].name != "NUMBER":
        return ""
    while at > 1 and tags[at - 1].name in ("AND", "COMMA") and tags[at - 2].name == "NUMBER":
        at -= 2
    return tags[at - 1].value if at and tags[at - 1].name == "REFERENCE" else ""


def first_behind(tags: Sequence[Tag], at: int) -> Tag | None:
    """Of tags in order the first that stands at or behind a place of the text; None where there is none."""
    n = begun_by(tags, at)
    return tags[n] if n < len(tags) else None


def left_over(tags: Iterable[Tag], text: str) -> list[str]:
    """The stretches of a text between its tags."""
    at, out = 0, []
    for tag in tags:
        out.append(text[at : tag.start])
        at = max(at, tag.end)
    return [*out, text[at:]]


def tells_one(tags: Iterable[Tag]) -> bool:
    """Whether some words tell one of several surfaces from the others: by where it is, or where it faces."""
    return any(t.name in _WHICH or any(key in _WHICH for key, _ in t.also) for t in tags)


_WHICH = ("where", "facing")


def put(new: Sequence[Tag], tags: Sequence[Tag]) -> list[Tag]:
    """Tags in order with others in the place of those that these overlap; of two new ones that overlap the first stays."""
    apart: list[Tag] = []
    for tag in sorted(new, key=lambda t: (t.start, -t.end)):
        if not apart or tag.start >= apart[-1].end:
            apart.append(tag)
    kept = [t for t in tags if not within(apart, t.start, t.end)]
    return sorted([*kept, *apart], key=lambda t: t.start)


def word_tag(start: int, end: int, name: str, value: str) -> Tag:
    """A word's tag; a table with two keys in its name gives words that carry both."""
    if " " in name:
        (name, *more), (value, *values) = name.split(), value.split(" / ")
        return Tag(start, end, name, value, also=tuple(zip(more, values, strict=True)))
    if name == "room":
        return Tag(start, end, name, value)
    if name == "NUMBER":
        return Tag(start, end, name, value, WORDS[value])
    return Tag(start, end, name, value, unit=UNITS.get(value))
