"""`2 No. varnish`, `1 nr oil`: a number of goods that are put on in coats is so many coats of them, and no count of pieces; `1V + 2W`: letters
that stand for such goods where two of them are added up."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction

from attrs import evolve

from darby.reading.parsing.tagging.tag import Tag, put

_PIECES = ("FOREIGN", "a number of pieces")
_DESCRIBES = re.compile(r"\.?\s(?:[A-Za-z][A-Za-z-]{1,15}\s){0,3}")
"""What may stand between the number and the goods: `2 No. quick drying varnish`."""


def with_coats_by_number(tags: Sequence[Tag], text: str, coated: Callable[[Tag], bool]) -> list[Tag]:
    """The tags, with a coat for each word of a number of pieces that goods follow which are put on in coats."""
    out: list[Tag] = []
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
