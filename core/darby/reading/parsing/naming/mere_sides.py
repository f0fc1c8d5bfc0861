"""Words that only tell one surface from another: `perimeter walls`, `end walls`, `accent wall`, `perimeter channels`.

What is said of them holds on no other wall. Which of the walls they are a job may not say, so that the limit is kept as written.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping, Sequence

from attrs import evolve

from darby.reading.parsing.tagging.tag import Tag, first_behind, put, within

_TELLING = ("edge", "end", "field")
"""Places on a sheet; right before the name of a surface or a support they are none."""
_WORD = re.compile(r"(?<![A-Za-z-])([A-Za-z]{3,12}(?:-[a-z]{3,8}){0,2})\s{1,8}\Z", re.IGNORECASE)
_VAGUE = ("ABOUT",)
"""What such a word means before a number: `some 20 sheets`, and `some walls`."""
_REACH = 24
_BLANKS = 8
"""Between two words, as justified text has them."""


def without_mere_sides(tags: Sequence[Tag], text: str, which: Collection[str] = ()) -> list[Tag]:
    """The tags, where such a word before a surface says which of its kind, as written; before a support it says nothing.

    `which` holds words that do so and mean nothing else here.
    """
    out: list[Tag] = []
    for n, tag in enumerate(tags):
        behind = tags[n + 1] if n + 1 < len(tags) else None
        beside = behind is not None and behind.start - tag.end <= _BLANKS and not text[tag.end : behind.start].strip()
        word = _WORD.search(text, max(0, tag.start - _REACH), tag.start) if tag.name == "surface" else None
        held = within(tags, word.start(1), word.end(1)) if word is not None else ()
        if word is not None and word[1].lower() in which and all(t.name in _VAGUE for t in held):
            while out and out[-1].end > word.start(1):
                out.pop()
            out.append(
                Tag(word.start(1), word.end(1), "where", " ".join(text[word.start(1) : tag.end].lower().split()))
            )
        if tag.name != "where" or tag.value not in _TELLING or behind is None or not beside:
            out.append(tag)
        elif behind.name in ("surface", "room"):
            out.append(evolve(tag, value=" ".join(text[tag.start : behind.end].lower().split())))
        elif behind.name not in ("hint", "ASIDE") or behind.value == "fastening":
            out.append(tag)
    return out


_LETTER = re.compile(r"\((?P<letter>[A-Z])\)(?=\s?[A-Za-z])")
_OF = ("surface", "subject", "type", "room", "condition")
"""What such a letter stands right before."""


def with_letters(tags: Sequence[Tag], text: str, letters: Mapping[str, str]) -> list[Tag]:
    """The tags with the condition that drawings tell by a letter in brackets before what is in it: `(E) walls`, `(N) panels`."""
    new = []
    for match in _LETTER.finditer(text) if "(" in text and letters else ():
        after = first_behind(tags, match.end()) if match["letter"] in letters else None
        if after is not None and after.name in _OF and not text[match.end() : after.start].strip():
            new.append(Tag(match.start(), match.end(), "condition", letters[match["letter"]]))
    return put(new, tags) if new else list(tags)


_SIDE = re.compile(
    r"(?<![A-Za-z])(?i:side|face)\s(?:[12]|(?i:one|two))(?=\s?(?::|[–—-]\s|\()|\s?[,;.]?(?:\s{0,8}\||\t|\s{2}|\Z))"
)
"""Before a label's end, a gap or the end of what is said."""


def with_sides(tags: Sequence[Tag], text: str, sides: Mapping[str, str]) -> list[Tag]:
    """The tags with the side of a wall that a label tells by its number: `Side 1: two coats`. `sides` has what each is called elsewhere."""
    said = ((at, " ".join(at[0].lower().split())) for at in _SIDE.finditer(text))
    new = [Tag(at.start(), at.end(), "where", sides[side]) for at, side in said if side in sides]
    return put(new, tags) if new else list(tags)
