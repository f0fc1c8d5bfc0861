"""`2 No. varnish`, `1 nr oil`: a number of goods that are put on in coats is so many coats of them, and no count of pieces; `1V + 2W`: letters
that stand for such goods where two of them are added up; `oil 1, varnish 2`: bare numbers behind several such goods; `Coat 2: varnish`."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction

from attrs import evolve

from darby.quantities.numerals import ORDINALS
from darby.reading.parsing.tagging.tag import Tag, put

_PIECES = ("FOREIGN", "a number of pieces")
_DESCRIBES = re.compile(r"\.?\s(?:[A-Za-z][A-Za-z-]{1,15}\s){0,3}")
"""What may stand between the number and the goods: `2 No. quick drying varnish`."""


def with_coats_by_number(tags: Sequence[Tag], text: str, coated: Callable[[Tag], bool]) -> list[Tag]:
    """The tags, with a coat for each word of a number of pieces that goods follow which are put on in coats, and coats by their number."""
    out: list[Tag] = []
    tags = _in_order(tags, text)
    for n, tag in enumerate(tags):
        if (
            out
            and tag.name == "STOP"
            and out[-1].name == "COAT"
            and out[-1].end == tag.start
            and tags[n - 1].name == "FOREIGN"
        ):
            continue  # `nr.`
        behind = next((t for t in tags[n + 1 : n + 3] if t.name != "STOP"), None)
        counts = (tag.name, tag.value) == _PIECES and n > 0 and tags[n - 1].name == "NUMBER" and behind is not None
        if counts and behind is not None and (behind.name == "sheen" or (behind.name == "subject" and coated(behind))):
            described = _DESCRIBES.fullmatch(text, tag.end, behind.start)
            out.append(evolve(tag, name="COAT", value="") if described else tag)
        else:
            out.append(tag)
    return out


_ENDS = ("COLON", "CELL", "DASH")


def _in_order(tags: Sequence[Tag], text: str) -> list[Tag]:
    """The tags, with `Coat 2` as the second coat where that is all of a label or a cell: it counts none."""
    out = list(tags)
    for n in range(len(tags) - 1):
        coat, number = tags[n], tags[n + 1]
        ends = tags[n + 2].name in _ENDS if n + 2 < len(tags) else not text[number.end :].strip(" .-–—")
        opens = n == 0 or tags[n - 1].name in (*_ENDS, "STOP")
        which = number.number if number.name == "NUMBER" and text[number.start : number.end].isdigit() else None
        named = coat.name == "COAT" and text[coat.start : coat.end].lower() == "coat"
        if named and which in range(1, _MOST + 1) and opens and ends and not text[coat.end : number.start].strip(" #"):
            out[n : n + 2] = [
                Tag(coat.start, coat.end, "ORDINAL", ORDINALS[int(which or 1) - 1]),
                evolve(coat, start=number.start, end=number.end),
            ]
    return out


_MOST = 4
"""Coats of one thing at the most."""
_SEVERAL = 2
_PLACED = frozenset({"surface", "room", "subject", "COAT"})
"""What a label is of that says where the coats go, what they are of, or that coats are counted."""
_CLOSES = ("COMMA", "SEMICOLON", "STOP", "CLOSE", "AND")


def with_coats_behind(tags: Sequence[Tag], text: str, coated: Callable[[Tag], bool]) -> list[Tag]:
    """The tags, with a coat behind each bare number right behind goods that are put on in coats, where several of a list are counted so: one
    alone may be a sort of these."""
    counts = {n for n in range(1, len(tags)) if _counts_before(tags, n, text, coated) and not _labelled(tags, n, text)}
    named = (tags[n - 1 - (tags[n - 1].name in ("OPEN", "BY_X"))] for n in counts)
    goods = {text[t.start : t.end].lower() for t in named}
    if len(goods) < _SEVERAL and not any(tags[n - 1].name == "BY_X" for n in counts):
        return list(tags)
    out: list[Tag] = []
    for n, tag in enumerate(tags):
        if tag.name == "BY_X" and n + 1 in counts:
            continue  # `stain x2`
        out.extend((tag, Tag(tag.end, tag.end, "COAT", "")) if n in counts else (tag,))
    return out


def _counts_before(tags: Sequence[Tag], at: int, text: str, coated: Callable[[Tag], bool]) -> bool:
    """Whether a number closes what it stands in, and says nothing but how often what stands right before it is put on."""
    number, behind = tags[at].number, tags[at + 1 : at + 2]
    if tags[at].name != "NUMBER" or number is None or number.denominator != 1 or not 0 < number <= _MOST:
        return False
    times = tags[at - 1].name == "BY_X" and at > 1
    if behind and not times and (behind[0].name not in _CLOSES or text[tags[at].end : behind[0].start].strip()):
        return False
    opened = tags[at - 1].name == "OPEN" and at > 1 and bool(behind) and behind[0].name == "CLOSE"
    goods = tags[at - 2] if opened or times else tags[at - 1]
    between = text[goods.end : tags[at].start]
    return between.strip(" (xX×") == "" and (goods.name == "sheen" or (goods.name == "subject" and coated(goods)))


def _labelled(tags: Sequence[Tag], at: int, text: str) -> bool:
    """Whether a label in the sentence of a number says what it counts: one of known words, none of which is a place or goods or speaks of coats.
    What a label of other words says is asked where the coats are bound."""
    first = max((n + 1 for n in range(at) if tags[n].name == "STOP"), default=0)
    colon = next((n for n in range(at - 1, first - 1, -1) if tags[n].name == "COLON"), first)
    known = {tag.name for tag in tags[first:colon]}
    marked = colon > first and any(c.isdigit() for c in text[tags[first].start : tags[colon].start])
    return bool(known) and not known & _PLACED and not marked


_ADDED = re.compile(
    r"(?<![A-Za-z0-9.-])(?P<n>[1-4])\s?(?P<a>[A-Za-z])(?P<join>\s?(?:\+|&|/|,|\band\b|\bplus\b)\s?)(?P<m>[1-4])\s?(?P<b>[A-Za-z])(?![A-Za-z0-9])",
    re.IGNORECASE,
)


def with_coats_by_letter(tags: Sequence[Tag], text: str, meaning: Callable[[str], Mapping[str, str]]) -> list[Tag]:
    """The tags, with a count of coats for each of two letters that stand for goods (`[coat_letters]`) and are added up: alone a letter
    may be anything."""
    new: list[Tag] = []
    found = list(_ADDED.finditer(text))
    letters = meaning("coat_letters") if found else {}
    for match in found:
        first, second = letters.get(match["a"].lower()), letters.get(match["b"].lower())
        if first is None or second is None or first == second:
            continue
        for number, letter, of in (("n", "a", first), ("m", "b", second)):
            new.append(
                Tag(match.start(number), match.end(number), "NUMBER", match[number], Fraction(int(match[number])))
            )
            new.append(Tag(match.start(letter), match.end(letter), "COAT", of))
        new.append(Tag(match.start("join"), match.end("join"), "PLUS", "+"))
    return put(new, tags) if new else list(tags)
