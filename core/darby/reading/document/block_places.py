"""Places that one line of a block gives to its others: `Location: Change Room, Laundry` over `Thickness: 13 mm`.

Under a heading that ends in a mark (`INNER LINING  PT/A`) such a line gives the system to the places, and the others define it.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence

from attrs import evolve, field, frozen

from darby.reading.document.listed_places import listed_places
from darby.reading.document.marks.mark_openings import titled
from darby.reading.layout.clause import Clause
from darby.reading.parsing.naming.names import Names
from darby.reading.parsing.tagging.tag import Tag
from darby.text.spans import View

Tags = Sequence[Tag]
_LABEL = re.compile(r"\s*(?P<label>[A-Za-z][A-Za-z ]{1,23}?)\s*(?::|\s[–—-]\s)\s*(?=\S)")


@frozen(eq=False)
class Blocks:
    """The lines of a document that say where the others of their block hold."""

    located: Mapping[int, Tags] = field(factory=dict)
    """What such a line names, by the `id` of the clauses that it holds for."""
    assigned: Mapping[int, tuple[View, int, str]] = field(factory=dict)
    """The lines that give a system to places, by the `id` of their views: where their label ends, and the mark."""

    def tagged(self, tags: Tags, view: View, names: Names) -> Tags:
        """The tags of a view; where it gives a system to places, the mark stands for its label."""
        found = self.assigned.get(id(view))
        if found is None:
            return tags
        _, end, mark = found
        own = [
            evolve(t, name="COMMA") if t.name == "SEMICOLON" else t
            for t in _named(tags, view.text, end, names)
            if t.start >= end and t.name not in ("mark", "CONDITION")
        ]
        return [Tag(0, max(1, len(view.text[:end].rstrip(" :–—-"))), "mark", mark, loose=True), *own]


def blocks_of(
    clauses: Sequence[Clause], tags: Callable[[View], Tags], names: Names, heads: Mapping[str, str]
) -> Blocks:  # fmt: skip
    """Find the lines that say where a block holds. `heads` are the words that heads of columns and such labels are known by."""
    groups: dict[tuple[int, ...], list[Clause]] = {}
    for clause in clauses:
        if clause.parents and clause.parents[0].heading and not clause.heading:
            groups.setdefault(tuple(map(id, clause.parents)), []).append(clause)
    located: dict[int, Tags] = {}
    assigned: dict[int, tuple[View, int, str]] = {}
    for group in groups.values():
        lines = [(clause, *found) for clause in group if (found := _line(clause, heads)) is not None]
        if len(lines) != 1:
            continue
        clause, view, start = lines[0]
        head = clause.parents[0]
        mark = titled(head, tags(head.view))
        if mark is not None:
            if not clause.cells:
                assigned[id(view)] = view, start, mark.value
            continue
        said = tags(view)
        if any(t.name in ("EXCEPT", "ELSEWHERE", "EVERYWHERE", "NO") for t in said):
            continue  # `All rooms other than the studio`
        places = [t for t in _named(said, view.text, start, names) if t.start >= start]
        if any(t.name == "room" for t in places):
            located.update((id(other), places) for other in _after(group, clause))
    return Blocks(located, assigned)


def _after(group: Sequence[Clause], line: Clause) -> Iterator[Clause]:
    """The clauses of a block that its line holds for: all of them, where they are lines with labels themselves."""
    for clause in group:
        if clause is not line and (clause.cells or _LABEL.match(clause.view.text)):
            yield clause


def _named(tags: Tags, text: str, start: int, names: Names) -> Tags:
    end = next((t.start for t in tags if t.start > start and t.name in ("STOP", "EXCEPT")), len(text))
    return listed_places(tags, text, end, names, sure=True, start=start)


def _line(clause: Clause, heads: Mapping[str, str]) -> tuple[View, int] | None:
    """The view of a line that says where, and where its label ends."""
    if clause.cells:
        first, *rest = clause.cells
        plain = len(rest) == 1 and not any(c.heads for c in clause.cells)
        return (rest[0].view, 0) if plain and _says_where(first.view.text, heads) else None
    found = _LABEL.match(clause.view.text)
    return (clause.view, found.end()) if found is not None and _says_where(found["label"], heads) else None


def _says_where(label: str, heads: Mapping[str, str]) -> bool:
    return heads.get(" ".join(label.lower().split()).strip(" .:")) == "places"
