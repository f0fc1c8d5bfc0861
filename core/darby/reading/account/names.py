"""Which goods a document names as work, though it gives no number for them: in headings, in labels, at the beginning of a clause, and
after a verb of giving.

A heading is held against the words that a vocabulary lists as those of its work (`[sections] work`), and against the names of goods. Goods that
other work goes on (`[sections] grounds`) are named by headings alone. Under a heading of work that covers others' (`[sections] covers`) only its
own goods are named: under `VARNISHING` a floor is what is varnished.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import lru_cache
from typing import Protocol

from attrs import frozen

from darby.reading.layout.clause import Clause
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.parsing.tagging.tag import Tag
from darby.reading.parsing.vocabulary import Vocabulary, strings
from darby.text.spans import Span, View

_GIVES = re.compile(
    r"\s*(?:[a-z]{1,12} ){0,2}?(?:provide|furnish|supply|install|fit|use|include)s?\b[^.:;]{0,40}$", re.IGNORECASE
)
"""What stands before goods that are to be brought."""
_BEFORE = re.compile(
    r"\b(?:for|before|after|of|to|by|prior to|receive|related|existing|not|no|see|other|under)\b[^.]{0,30}$",
    re.IGNORECASE,
)
"""Words by which what follows in a heading is not what the heading is about."""
_LABEL = re.compile(r"[^:.;]{0,60}:")
"""A label: what stands before a colon at the beginning of a clause."""
_TITLE = 80
"""Letters of a heading; what is longer is a sentence."""


@frozen(eq=False)
class Works:
    """What vocabularies say of headings: by which words their work is named, of which goods it is, and which of these others work on."""

    by_word: tuple[tuple[re.Pattern[str], tuple[str, ...]], ...]
    grounds: frozenset[str]
    vague: frozenset[str]
    """Names of goods that mean other things too where they stand alone."""
    covering: frozenset[str]
    """Goods that go over those of others, which under their headings are only what is covered."""

    @classmethod
    def of(cls, vocabularies: Iterable[Vocabulary]) -> Works:
        """Join the `[sections]` tables of vocabularies."""
        found = []
        grounds: set[str] = set()
        vague: set[str] = set()
        covering: set[str] = set()
        for tables in (vocabulary.tables for vocabulary in vocabularies):
            own = tables.get("sections", {})
            grounds.update(strings(own.get("grounds", [])))
            if own.get("covers"):
                covering.update(tables.get("kinds", {}))
            vague.update(word.lower() for word in strings(own.get("vague", [])))
            words = sorted((word.lower() for word in strings(own.get("work", []))), key=len, reverse=True)
            if words:
                pattern = re.compile(rf"(?<![a-z])(?:{'|'.join(map(re.escape, words))})(?![a-z])")
                found.append((pattern, tuple(tables.get("kinds", {}))))
        return cls(tuple(found), frozenset(grounds), frozenset(vague), frozenset(covering))

    def in_heading(self, text: str) -> tuple[str, ...]:
        """The goods whose work a heading names."""
        low = text.lower()
        return tuple(
            goods
            for pattern, of in self.by_word
            if (match := pattern.search(low)) is not None and not _BEFORE.search(low, 0, match.start())
            for goods in of
        )


@lru_cache(maxsize=8)
def works_of(vocabularies: tuple[Vocabulary, ...]) -> Works:
    """What some vocabularies say of headings, made once."""
    return Works.of(vocabularies)


class Words(Protocol):
    """Finds the tags of a document's views."""

    def tags(self, view: View) -> Sequence[Tag]:
        """The known words of a view."""
        ...


def names_of(clauses: Sequence[Clause], words: Words, lexicon: Lexicon, works: Works) -> Mapping[str, Span]:
    """The goods that some clauses name as work, each with the first place that does. Linear in the clauses."""
    found: dict[str, Span] = {}
    under: dict[int, tuple[str, ...]] = {}
    for clause in clauses:
        above = next((under[id(p)] for p in clause.parents if id(p) in under), ())
        if clause.section is not None and not above:
            above = works.in_heading(clause.section.title[:_TITLE])
        tags = words.tags(clause.view)
        own = works.in_heading(clause.text[:_TITLE]) if _is_heading(clause) and not _aside(tags) else ()
        under[id(clause)] = own or above
        if _aside(tags) or any(_aside(words.tags(parent.view), above=True) for parent in clause.parents[:3]):
            continue
        for goods in (*own, *_goods(clause, tags, lexicon, works, own or above)):
            found.setdefault(goods, clause.view.whole)
    return found


def _is_heading(clause: Clause) -> bool:
    """Whether a clause is a heading, or the title of its section."""
    title = clause.section.title if clause.section is not None else ""
    return len(clause.text) <= _TITLE and (clause.heading or (bool(title) and clause.text.strip() == title))


def _aside(tags: Sequence[Tag], *, above: bool = False) -> bool:
    """Whether words set a clause aside whole: a sample, the work of others, a reference (which the number of a section `above` is not)."""
    first = next((tag.name for tag in tags if tag.name not in ("STOP", "COMMA")), "")
    return (
        first == "NO"
        or (first == "REFERENCE" and not above)
        or any(tag.name in ("ASIDE_ALL", "NOT_PERMITTED", "LEFT_OUT") for tag in tags)
    )


def _goods(
    clause: Clause, tags: Sequence[Tag], lexicon: Lexicon, works: Works, above: tuple[str, ...]
) -> Iterator[str]:
    """The goods of a heading that is not of a surface; of a label; of a clause that begins with a verb of giving."""
    text = clause.text
    label = _LABEL.match(text)
    for at, tag in enumerate(tags):
        if tag.name != "subject" or tag.value not in lexicon.kinds or text[tag.start : tag.end].lower() in works.vague:
            continue
        behind = tags[at + 1] if at + 1 < len(tags) else None
        if behind is not None and behind.name in ("surface", "room") and behind.start - tag.end < _NEAR:
            continue
        ground = tag.value in works.grounds
        if _is_heading(clause) and not _BEFORE.search(text[: tag.start]):
            if not ground or not above or tag.value in above:
                yield tag.value
        elif not ground and not clause.cells and (tag.value in above or works.covering.isdisjoint(above)):
            before = text[: tag.start]
            if not before.strip() or (label is not None and tag.end < label.end()) or _GIVES.fullmatch(before):
                yield tag.value


_NEAR = 3
"""Letters between goods and the surface that they are the name of: `tile walls`, `tile and walls` not."""
