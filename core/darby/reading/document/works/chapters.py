"""Chapters of a schedule of works that are named after a place, whatever it is called: `C  VESTRY` over `C1  Walls: ..`.

What stands in such a chapter holds there alone. A place nobody knows is one all the same where the items below it open with a surface;
taken for none, its items would hold for the whole job.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence

from darby.reading.layout.clause import Clause
from darby.reading.parsing.naming.names import Names
from darby.reading.parsing.tagging.room_names import singular
from darby.reading.parsing.tagging.tag import Tag
from darby.text.spans import View

_WORDS = re.compile(r"[^\W\d_][\w'’.-]*")
_PIECE = re.compile(
    r"(?:^|,|&|\band\b|\s)\s*(?P<name>(?:(?!and\b)[A-Za-z][A-Za-z0-9'’.-]*(?: (?!and\b|&)|(?=\s*(?:,|&|$)|\sand\b)))+)",
    re.IGNORECASE,
)
_LONGEST = 4
_BESIDE = ("room", "COMMA", "AND", "SIGN", "ROOM_HEAD", "PER")


def named_chapters(
    items: Mapping[str, Clause], tags: Callable[[View], Sequence[Tag]], names: Names
) -> Iterator[tuple[View, tuple[Tag, ...]]]:
    """The headings over items of which most open with a surface, each with the places that its words name and that no list knows."""
    under: dict[int, tuple[Clause, list[bool]]] = {}
    for item in items.values():
        heading = next((p for p in item.parents if p.heading), None)
        if heading is not None and heading.label:
            under.setdefault(id(heading), (heading, []))[1].append(_opens_with_surface(item, tags))
    for heading, surfaced in under.values():
        if 2 * sum(surfaced) < len(surfaced):
            continue  # one of them may as well tell what is built
        own = tags(heading.view)
        if not all(t.name in _BESIDE for t in own):
            continue
        found = tuple(_places(heading.view.text, own, names))
        if found:
            yield heading.view, found


def _opens_with_surface(item: Clause, tags: Callable[[View], Sequence[Tag]]) -> bool:
    """Whether an item says first of which surface it is: `Walls: ..`"""
    view = item.cells[1].view if len(item.cells) > 1 else item.view
    said = [t for t in tags(view) if t.name not in ("CODE", "mark", "CELL")]
    return bool(said) and said[0].name == "surface"


def _places(text: str, own: Sequence[Tag], names: Names) -> Iterator[Tag]:
    for match in _PIECE.finditer(text):
        start, end = match.span("name")
        words = [w.lower() for w in _WORDS.findall(match["name"])]
        known = any(t.name == "room" and t.start < end and t.end > start for t in own)
        if known or not 0 < len(words) <= _LONGEST or any(w in names.labels for w in words):
            continue
        if all(names.can_name(w, titled=True) or w in ("of", "the") for w in words):
            yield Tag(start, end, "room", singular(" ".join(match["name"].lower().split())))


_DECIMAL = re.compile(r"[0-9]{1,2}\.[0-9]{1,2}\.?(?:[0-9]{1,2}\.?)?")


def has_chapters(clauses: Sequence[Clause]) -> bool:
    """Whether others than the first line of a document head what stands below them, as numbers or capitals tell."""
    above = {id(parent) for clause in clauses for parent in clause.parents}
    heads = (c for c in clauses[1:] if id(c) in above and not c.cells and (c.heading or c.label))
    titled = any(
        not c.text.rstrip().endswith((".", ":")) and (clauses[0] in c.parents or (c.label and not clauses[0].label))
        for c in heads
    )
    numbered = {c.label.partition(".")[0] for c in clauses if _DECIMAL.fullmatch(c.label)}
    return bool(clauses) and clauses[0].heading and (titled or len(numbered) > 1)
