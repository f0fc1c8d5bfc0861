"""Labels that are of the whole and name no place: `Generally: ..`, `Whole house: ..`, `All other rooms: ..`, `Balance: ..`; and those that
only say what sort of number follows, of the thing that they stand under: `Sizes: ..`. And the words before a surface that say that all
the others are meant: `remaining walls`.

Which words these are is data, the lexicon's `[of_all]`. As labels only: elsewhere a `balance` or a `typical` one is something else.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from functools import lru_cache

from darby.reading.parsing.tagging.phrase_index import any_phrase
from darby.reading.parsing.tagging.tag import Tag, put
from darby.reading.parsing.vocabulary import Vocabulary, strings

HERE, JOB = "here", "job"
"""Of all that it stands under, and of the job whatever it stands under."""
OTHERS, OTHER_PLACES = "others", "other places"
"""All that was not spoken of before: of whatever sort, or places alone."""
OTHER_SURFACES = "other surfaces"
"""Of a surface, all that was not spoken of before."""
MEASURE = "measure"
"""Of the thing that it stands under, whichever that is."""
_TERMINALS = {
    HERE: "EVERYWHERE",
    JOB: "EVERYWHERE",
    OTHERS: "ELSEWHERE",
    OTHER_PLACES: "ELSEWHERE",
    MEASURE: "NEUTRAL",
}


@lru_cache(maxsize=8)
def of_all(vocabularies: tuple[Vocabulary, ...]) -> Mapping[str, str]:
    """Such labels in small letters, and of what each is."""
    tables = (v.tables.get("of_all", {}) for v in vocabularies)
    return {word: of for table in tables for of, said in table.items() for word in strings(said)}


@lru_cache(4)
def _pattern(words: tuple[str, ...]) -> re.Pattern[str]:
    return re.compile(
        rf"(?:\A|(?<=[.;(\n])|(?<=[.;]\s))[\s\-•*>]{{0,6}}(?:in\s|to\s|for\s|at\s)?(?:the\s)?(?P<label>{any_phrase(words)})(?=\s?:|\s[–—-]\s)",
        re.IGNORECASE,
    )


def with_whole_labels(tags: Sequence[Tag], text: str, labels: Mapping[str, str]) -> list[Tag]:
    """The tags with one for each label that is of the whole, in place of what its words mean elsewhere."""
    if not labels or (":" not in text and "–" not in text and "—" not in text and " - " not in text):
        return list(tags)
    new = []
    for match in _pattern(tuple(labels)).finditer(text):
        of = labels[" ".join(match["label"].lower().split())]
        if of in _TERMINALS:
            new.append(Tag(match.start("label"), match.end("label"), _TERMINALS[of], of))
    return put(new, tags) if new else list(tags)


def with_other_surfaces(tags: Sequence[Tag], text: str, labels: Mapping[str, str]) -> list[Tag]:
    """The tags with one for each word right before a surface that says that all its others are meant."""
    words = tuple(word for word, of in labels.items() if of == OTHER_SURFACES)
    new = []
    for tag in tags if words else ():
        if tag.name == "surface" and (match := _before(words).search(text[max(0, tag.start - _REACH) : tag.start])):
            start = tag.start - len(match[0])
            new.append(Tag(start, start + len(match[0].rstrip()), "ELSEWHERE", OTHER_SURFACES))
    return put(new, tags) if new else list(tags)


_REACH = 30
"""Letters before a surface in which such a word stands."""


@lru_cache(4)
def _before(words: tuple[str, ...]) -> re.Pattern[str]:
    return re.compile(rf"(?<![A-Za-z-])(?:{any_phrase(words)})\s\Z", re.IGNORECASE)
