"""Places that one line of a block gives to its others: `Location: Change Room, Laundry` over `Thickness: 13 mm`.

Under a heading that ends in a mark (`INNER LINING  PT/A`) such a line gives the system to the places, and the others define it. Where
several such lines follow each other (`Room: Vestry`, `Room: Porch`), or one opens lines that stand under nothing, each is the name of a
record and holds for the lines right below it.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import cached_property

from attrs import define, evolve, field, frozen

from darby.reading.document.listed_places import listed_places
from darby.reading.document.marks.mark_openings import titled
from darby.reading.layout.clause import Clause
from darby.reading.parsing.naming.larger_places import called
from darby.reading.parsing.naming.names import Names
from darby.reading.parsing.tagging.tag import Tag
from darby.text.spans import View

Tags = Sequence[Tag]
_LABEL = re.compile(r"\s*(?P<label>[A-Za-z][A-Za-z ]{1,23}?)\s*(?::|\s[–—-]\s)\s*(?=\S)")
_LONGEST = 120
"""Letters in the name of a record, its label among them."""


@frozen(eq=False)
class Blocks:
    """The lines of a document that say where the others of their block hold."""

    located: Mapping[int, Tags] = field(factory=dict)
    """What such a line names, by the `id` of the clauses that it holds for."""
    assigned: Mapping[int, tuple[View, int, str]] = field(factory=dict)
    """The lines that give a system to places, by the `id` of their views: where their label ends, and the mark."""
    records: Mapping[int, tuple[View, Tags]] = field(factory=dict)
    """The headings that are names of records, by the `id` of their views, and the places they name."""

    def tagged(self, tags: Tags, view: View, names: Names) -> Tags:
        """The tags of a view; where it gives a system to places, the mark stands for its label."""
        if id(view) in self.records:
            return self.records[id(view)][1]
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
    clauses: Sequence[Clause],
    tags: Callable[[View], Tags],
    names: Names,
    heads: Mapping[str, str],
    labels: Mapping[str, str],
) -> Blocks:
    """Find the lines that say where a block holds. `heads` are the words that heads of columns and such labels are known by, `labels`
    those that name records, each with what stands behind it.
    """
    groups: dict[tuple[int, ...], list[Clause]] = {}
    for clause in clauses:
        if not clause.heading and (not clause.parents or clause.parents[0].heading):
            groups.setdefault(tuple(map(id, clause.parents)), []).append(clause)
    located: dict[int, Tags] = {}
    assigned: dict[int, tuple[View, int, str]] = {}
    records = _Records(clauses, tags, names, heads, labels)
    for group in groups.values():
        lines = [(clause, *found) for clause in group if (found := _line(clause, heads)) is not None]
        if len(lines) != 1 or not group[0].parents or records.named(group[0].parents[0]):
            located.update((id(clause), places) for clause, places in _recorded(group, records))
            continue
        clause, view, start = lines[0]
        mark = titled(clause.parents[0], tags(clause.parents[0].view))
        if mark is not None:
            if not clause.cells:
                assigned[id(view)] = view, start, mark.value
        elif places := _places(tags(view), view, start, names):
            located.update((id(other), places) for other in _after(group, clause))
    for group in groups.values():
        for clause, surfaces in _surfaced(group, tags, heads) if group[0].parents else ():
            located[id(clause)] = [*located.get(id(clause), ()), *surfaces]
    over = {id(parent) for clause in clauses for parent in clause.parents[:1]}
    heading = (clause for clause in clauses if clause.heading and id(clause) in over and not clause.cells)
    named = {id(clause.view): (clause.view, places) for clause in heading if (places := records.named(clause))}
    return Blocks(located, assigned, named)


@define(eq=False, slots=False)
class _Records:
    """The lines that are names of records: `Room: Vestry`."""

    clauses: Sequence[Clause]
    tags: Callable[[View], Tags]
    names: Names
    heads: Mapping[str, str]
    labels: Mapping[str, str]

    def named(self, clause: Clause) -> Tags:
        """The places that a line names, or nothing. Words that no list knows are one behind a label that is of rooms alone, and where
        several lines with one label name different places: `Location: Riverside` by itself may be the town.
        """
        found = self._found(clause)
        if found is None:
            return ()
        label, view, start = found
        said = self.tags(view)
        if self.labels.get(label) == "holding":
            one = called(label, view.text[start:].strip(" ."))
            return (Tag(0, len(view.text), "room", one),) if one else ()
        several = len(self._called[label]) > 1 and self.labels.get(label) != "known"
        if self.labels.get(label) != "rooms" and not several and not any(t.name == "room" for t in said):
            return ()
        return _places(said, view, start, self.names)

    def _found(self, clause: Clause) -> tuple[str, View, int] | None:
        """The label of a line that may name a record, in small letters, its view and where the label ends."""
        if clause.cells:
            found = _line(clause, self.heads)
            return (_plain(clause.cells[0].view.text), *found) if found is not None else None
        own = _LABEL.match(clause.view.text) if len(clause.view.text) < _LONGEST and not clause.asks else None
        label = _plain(own["label"]) if own is not None else ""
        named = label in self.labels or self.heads.get(label) == "places"
        return (label, clause.view, own.end()) if own is not None and named else None

    @cached_property
    def _called(self) -> Mapping[str, set[str]]:
        """What stands behind each label that says where."""
        out: defaultdict[str, set[str]] = defaultdict(set)
        for found in filter(None, map(self._found, self.clauses)):
            label, view, start = found
            out[label].add(_plain(view.text[start:]))
        return out


def _places(said: Tags, view: View, start: int, names: Names) -> Tags:
    """The places behind a label; none where it speaks of what is left out: `All rooms other than the studio`."""
    if any(t.name in ("EXCEPT", "ELSEWHERE", "EVERYWHERE", "NO") for t in said):
        return ()
    found = [t for t in _named(said, view.text, start, names) if t.start >= start]
    return found if any(t.name == "room" for t in found) else ()


def _surfaced(
    group: Sequence[Clause], tags: Callable[[View], Tags], heads: Mapping[str, str]
) -> Iterator[tuple[Clause, Tags]]:  # fmt: skip
    """The lines of a block, each with the surfaces that one line of it names for all: `Surfaces: all new walls`."""
    lines = [
        (clause, found.end())
        for clause in group
        if not clause.cells
        and (found := _LABEL.match(clause.view.text)) is not None
        and heads.get(_plain(found["label"])) == "surfaces"
    ]
    if len(lines) != 1:
        return
    line, start = lines[0]
    said = [t for t in tags(line.view) if t.start >= start]
    end = next((t.start for t in said if t.name == "STOP"), len(line.view.text))
    said = [t for t in said if t.start < end]
    if any(t.name == "surface" for t in said) and all(t.name in _ON for t in said):
        yield from ((clause, said) for clause in _after(group, line))


_ON = ("surface", "condition", "ALL", "BOTH", "AND", "COMMA", "PER", "SIGN")
"""What a line says that names surfaces and nothing else."""


def _recorded(group: Sequence[Clause], records: _Records) -> Iterator[tuple[Clause, Tags]]:
    """The lines of records, each with the places of its record. A blank line ends one, unless one stands between all of its lines."""
    places: Tags = ()
    before, close = None, False
    for clause in group:
        if own := records.named(clause):
            places, close = own, False
        elif places and before is not None:
            one, other = before.view.whole, clause.view.whole
            apart = one.source.text.count("\n", one.end, other.start) > 1
            labelled = bool(clause.cells) or _LABEL.match(clause.view.text) is not None
            places = () if apart and (close or not labelled) else places
            close = close or not apart
            if places:
                yield clause, places
        before = clause


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
    return heads.get(_plain(label)) == "places"


def _plain(label: str) -> str:
    return " ".join(label.lower().split()).strip(" .:–—-")
