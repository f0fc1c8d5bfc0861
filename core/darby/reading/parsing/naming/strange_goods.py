"""Goods of others: a general noun with a word before or behind it that no list knows is the name of something else."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection

from darby.reading.parsing.tagging.tag import Tag

NO_NOUN = re.compile(r".*(?:ed|ing|ly|ward|wards|wise)\Z")
"""A word that ends as verbs, adverbs and directions do."""
NOUN_REACH = 34
"""Letters before a word in which a noun that belongs to it begins."""
_MODIFIES = re.compile(r"(?<![-‑] )(?<![-‑])\b([A-Za-z][A-Za-z'’]{2,30})[ \u00a0-]\Z")
_JOINED = re.compile(r"-([A-Za-z]{3,30})")
_OTHER = "a product that no trade here orders"
_STRANGE = "?goods that no list knows: whether they are ours is not said"


def with_strange_goods(
    tags: list[Tag], text: str, general: Collection[str], other: Collection[str], known: Callable[[str], bool]
) -> list[Tag]:
    """The tags, where a word that nobody knows right before a general noun makes it the name of other goods: `curing varnish`,
    `varnish-hardener`.

    So does a word of `other`: what such goods are made of, or used for. A capital letter on that word alone is a maker's name
    or a verb that opens a sentence, and the noun stays what it is.
    """
    for n, tag in enumerate(tags):
        if tag.name != "subject":
            continue
        joined = _JOINED.match(text, tag.end)
        if joined is not None and not known(joined[1].lower()) and not NO_NOUN.match(joined[1]):
            tags[n] = Tag(tag.start, joined.end(), "ASIDE", _STRANGE)
            continue
        if text[tag.start : tag.end].lower() not in general:
            continue
        word = _MODIFIES.search(text, max(0, tag.start - NOUN_REACH), tag.start)
        if word is not None and word[1].lower() in other:
            tags[n] = Tag(word.start(), tag.end, "ASIDE", _OTHER)
            continue
        if word is None or known(word[1].lower()) or (n and tags[n - 1].end > word.start()):
            continue
        if word[1].endswith("ing") or not (word[1][0].isupper() and text[tag.start].islower()):
            tags[n] = Tag(word.start(), tag.end, "ASIDE", _STRANGE)
    return tags
