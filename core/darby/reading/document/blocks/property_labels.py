"""Labels of a list of properties: `Core: ..` beside `Thickness: ..` and `Location: ..` is one more of them, and no place.

A list is decided as a whole. Where a label is one that heads of columns are known by, or tells a coat or a measure, and none is a place or
a surface, words that nobody knows before a colon name no place there.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

from darby.reading.layout.clause import Clause
from darby.reading.parsing.tagging.tag import Tag
from darby.text.spans import View

Tags = Sequence[Tag]
_HEAD = frozenset({"head"})
_MEASURES = _HEAD | frozenset("COAT LAYER ORDINAL THICK WIDE LONG LENGTHS SOLIDS WASTE ON_CENTER hint".split())
_PLACES = frozenset(("room", "surface", "ROOM_HEAD", "where"))
_LONGEST = 4
"""Words in a label."""


def property_labels(
    clauses: Sequence[Clause], known: Callable[[str], Tags], heads: Mapping[str, str]
) -> Mapping[int, tuple[View, int]]:
    """The views whose label is a property, by their `id`, and where it ends. `known` finds the words of the language alone; `heads` are
    the words that heads of columns are known by."""
    groups: dict[tuple[int, ...], list[tuple[View, int]]] = {}
    for clause in clauses:
        if not clause.heading and clause.parents:
            groups.setdefault(tuple(map(id, clause.parents)), []).extend(_labelled(clause))
    found: dict[int, tuple[View, int]] = {}
    for group in groups.values():
        labels = [view.text[:end].strip() for view, end in group]
        said = [
            _HEAD if " ".join(label.lower().split()) in heads else {t.name for t in known(label)} for label in labels
        ]
        if any(names & _MEASURES for names in said) and not any(names & _PLACES for names in said):
            found.update((id(view), (view, end)) for (view, end), names in zip(group, said, strict=True) if not names)
    return found


def without_places(tags: Tags, end: int) -> list[Tag]:
    """Tags without the places that stand in a label which ends there."""
    return [t for t in tags if t.name != "room" or t.start >= end]


def _labelled(clause: Clause) -> Iterator[tuple[View, int]]:
    """The view of a line that opens with a label of a few words, and where that ends."""
    text = clause.view.text
    end = text.find(":")
    if not clause.cells and 0 < end < len(text) - 1 and len(text[:end].split()) <= _LONGEST:
        yield clause.view, end
