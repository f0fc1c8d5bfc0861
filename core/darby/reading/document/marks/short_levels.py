"""Levels by their letter, `walls L4, ceilings L5`: a code that stands for a level where words beside it, over it or heading it speak of these.

Storeys are called so too, and so may be the marks of a document: a code that nothing says is a level stays a code.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction

from attrs import field, frozen

from darby.reading.layout.clause import Clause
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.parsing.tagging.letters import capitals_of
from darby.reading.parsing.tagging.tag import Tag, left_over, put
from darby.text.spans import View

_CODE = re.compile(r"(?<![A-Za-z0-9./-])(?P<letter>[A-Z])-?(?P<number>[0-9]{1,3})(?![A-Za-z0-9-]|[./][0-9])")
_WRITTEN_OUT = re.compile(r"\blevels?\s[0-9]", re.IGNORECASE)
_ON = ("surface", "AND", "COMMA", "COLON", "SEMICOLON", "STOP", "DASH", "ALL", "CODE", "condition")
_SILENT = frozenset("on at in to the all and for".split())
_JOINT = re.compile(r"[\s:=–-]+$")
_WORD = re.compile(r"[^\W\d_]+")
_FINISHED = re.compile(r"\s(?:finish|finishes|standard)\b", re.IGNORECASE)
"""Right behind a code it says that this is how something is left."""


@frozen(eq=False)
class ShortLevels:
    """Where codes are levels."""

    views: Mapping[int, View] = field(factory=dict)
    """The texts in which they are, by their `id`."""
    codes: frozenset[str] = frozenset()
    """These codes, which are no marks of the document."""


def short_levels(clauses: Sequence[Clause], lexicon: Lexicon) -> ShortLevels:
    """The texts of a document in which codes of a level's letter are levels."""
    letters = lexicon.meaning("short_levels")
    most = max((int(word) for word, key in letters.items() if key == "most"), default=-1)
    own = {word.upper() for word, key in letters.items() if key == "letters"}
    spoken, work, goods = ([w for w, key in letters.items() if key == of] for of in ("spoken", "work", "goods"))
    found: dict[int, View] = {}
    said: set[str] = set()
    opening = {m[0] for clause in clauses if (m := _opens(clause)) and not _alone(clause.view.text, lexicon)}
    for clause in clauses:
        for view, beside in _views(clause):
            codes = [m for m in _CODE.finditer(capitals_of(view.text)) if m["letter"] in own]
            if any(int(m["number"]) > most for m in codes):
                return ShortLevels()  # there are more of them than there are levels
            if not codes or _WRITTEN_OUT.search(view.text):
                continue
            over = [*beside, *(parent.view.text for parent in clause.parents if parent.heading or parent.leads_in)]
            storeys = _before_a_place(view.text, codes, lexicon)
            if (
                _speaks((view.text, *over), spoken)
                or any(_FINISHED.match(view.text, m.end()) for m in codes)
                or (_alone(view.text, lexicon) and opening.isdisjoint(m[0] for m in codes))
                or (not storeys and (_speaks((view.text, *over), work) or _right_behind(view.text, codes, goods)))
            ):
                found[id(view)] = view
                said.update(m[0] for m in codes)
    return ShortLevels(found, frozenset(said))


def with_short_levels(tags: Sequence[Tag], text: str, letters: Mapping[str, str]) -> list[Tag]:
    """The tags, with a level for each code of its letter."""
    new: list[Tag] = []
    for match in _CODE.finditer(text):
        if letters.get(match["letter"].lower()) == "letters":
            new.append(Tag(match.start("letter"), match.end("letter"), "LEVEL", ""))
            new.append(Tag(*match.span("number"), "NUMBER", match["number"], Fraction(int(match["number"]))))
    return put(new, tags) if new else list(tags)


def _opens(clause: Clause) -> re.Match[str] | None:
    """The code that a clause opens with, which it may explain."""
    return _CODE.match(capitals_of((clause.cells[0].view if clause.cells else clause.view).text))


def _views(clause: Clause) -> Iterable[tuple[View, Sequence[str]]]:
    """The texts of a clause, each with the heads over it and the key of its row."""
    if not clause.cells:
        return [(clause.view, ())]
    key = clause.cells[0].view.text
    first = clause.table.rows[0].cells if clause.table is not None and clause.table.rows else ()
    tops = [cell.view.text for cell in first] if not any(cell.heads for cell in clause.cells) else []
    return [
        (cell.view, [*(head.text for head in cell.heads), *tops[n : n + 1], *([key] if n else [])])
        for n, cell in enumerate(clause.cells)
    ]


def _speaks(texts: Iterable[str], words: Sequence[str]) -> bool:
    """Whether one of some texts has one of some words, whole."""
    said = [f" {' '.join(_WORD.findall(text.lower()))} " for text in texts]
    return any(f" {word} " in text for text in said for word in words)


def _right_behind(text: str, codes: Iterable[re.Match[str]], words: Sequence[str]) -> bool:
    """Whether one of some words stands right before each of some codes: `All panels L4`, and not `Panels on L4`."""
    before = (_JOINT.sub("", text[: m.start()].lower()) for m in codes)
    return all(any(one.endswith(word) for word in words) for one in before)


def _alone(text: str, lexicon: Lexicon) -> bool:
    """Whether a text gives surfaces such codes, and says nothing else: `Walls L4, ceilings L5.`"""
    tags = lexicon.tags(text)
    if not any(t.name == "surface" for t in tags) or any(t.name not in _ON for t in tags):
        return False
    return all(word.lower() in _SILENT for said in left_over(tags, text) for word in _WORD.findall(said))


def _before_a_place(text: str, codes: Iterable[re.Match[str]], lexicon: Lexicon) -> bool:
    """Whether such a code stands right before the name of a place, as that of a storey does: `L4 corridor`."""
    starts = {t.start for t in lexicon.tags(text) if t.name == "room"}
    return any(m.end() + 1 in starts for m in codes)
