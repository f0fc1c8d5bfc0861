"""Places that one line of a block gives to its others: `Location: Change Room, Laundry` over `Thickness: 13 mm`.

Under a heading that ends in a mark (`INNER LINING  PT/A`) such a line gives the system to the places, and the others define it. Where
several such lines follow each other (`Room: Vestry`, `Room: Porch`), or one opens lines that stand under nothing, each is the name of a
record and holds for the lines right below it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import pairwise

from attrs import evolve, field, frozen

from darby.reading.document.blocks.block_lines import LABEL, apart_from, named_places, places_behind, says_where
from darby.reading.document.blocks.records import Records
from darby.reading.document.blocks.stated_looks import StatedLooks, stated_looks
from darby.reading.document.marks.mark_openings import defined_by
from darby.reading.layout.clause import Clause
from darby.reading.parsing.exceptions import unexcepted
from darby.reading.parsing.naming.names import Names
from darby.reading.parsing.tagging.tag import Tag
from darby.text.spans import View

Tags = Sequence[Tag]


@frozen(eq=False)
class Blocks:
    """The lines of a document that say where the others of their block hold."""

    located: Mapping[int, Tags] = field(factory=dict)
    """What such a line names, by the `id` of the clauses that it holds for."""
    assigned: Mapping[int, tuple[View, int, str]] = field(factory=dict)
    """The lines that give a system to places, by the `id` of their views: where their label ends, and the mark."""
    records: Mapping[int, tuple[View, Tags]] = field(factory=dict)
    """The headings that are names of records, by the `id` of their views, and the places they name."""
    sheets: Mapping[int, Tags] = field(factory=dict)
    """The place whose sheet a clause stands in, by the `id` of the clause."""
    surfaced: Mapping[int, View] = field(factory=dict)
    """The line that names surfaces for a clause, by the `id` of the clause."""
    looks: StatedLooks = field(factory=StatedLooks)

    def tagged(self, tags: Tags, view: View, names: Names) -> Tags:
        """The tags of a view; where it gives a system to places, the mark stands for its label."""
        if id(view) in self.records:
            return self.records[id(view)][1]
        found = self.assigned.get(id(view))
        if found is None:
            return self.looks.tagged(tags, view)
        _, end, mark = found
        own = [
            evolve(t, name="COMMA") if t.name == "SEMICOLON" else t
            for t in named_places(tags, view.text, end, names)
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
        if not clause.heading:
            groups.setdefault(tuple(map(id, clause.parents)), []).append(clause)
    located: dict[int, Tags] = {}
    assigned: dict[int, tuple[View, int, str]] = {}
    records = Records(clauses, tags, names, heads, labels)
    for group in groups.values():
        over = group[0].parents[0] if group[0].parents else None
        lines = [(clause, *found) for clause in group if (found := says_where(clause, heads)) is not None]
        if len(lines) != 1 or over is None or records.named(over):
            if over is None or over.heading:
                located.update((id(clause), places) for clause, places in records.below(group))
            continue
        clause, view, start = lines[0]
        mark = defined_by(over, tags(over.view))
        if mark is not None:
            if not clause.cells:
                assigned[id(view)] = view, start, mark.value
        elif places := places_behind(tags(view), view, start, names):
            located.update((id(other), places) for other in _after(group, clause))
            if not over.heading:
                located[id(over)] = places  # what an item says before its list holds where a line of the list says
    lines_on: dict[int, View] = {}
    for group in groups.values():
        for clause, line, surfaces in _surfaced(group, tags, heads) if group[0].parents else ():
            located[id(clause)] = [*located.get(id(clause), ()), *surfaces]
            lines_on[id(clause)] = line
    parents = {id(parent) for clause in clauses for parent in clause.parents[:1]}
    heading = (clause for clause in clauses if clause.heading and id(clause) in parents and not clause.cells)
    named = {id(clause.view): (clause.view, places) for clause in heading if (places := records.named(clause))}
    sheets = {id(clause): places for clause, places in records.sheets()}
    return Blocks(located, assigned, named, sheets, lines_on, stated_looks(clauses, heads))


def _surfaced(
    group: Sequence[Clause], tags: Callable[[View], Tags], heads: Mapping[str, str]
) -> Iterator[tuple[Clause, View, Tags]]:  # fmt: skip
    """The lines of a block, each with the line that names surfaces for all of them, and these: `Surfaces: walls to the hall`."""
    lines = [
        (clause, *found)
        for clause in group
        if (found := says_where(clause, heads, "surfaces")) is not None
        and any(t.name == "surface" and t.start >= found[1] for t in tags(found[0]))  # `Substrate: plaster` says none
    ]
    if len(lines) != 1:
        return
    line, view, start = lines[0]
    said = [t for t in tags(view) if t.start >= start]
    end = next((t.start for t in said if t.name in ("STOP", "SEMICOLON")), len(view.text))
    said = unexcepted([t for t in said if t.start < end])
    if not any(t.name in _COUNTS for t in said):
        where = [t for t in said if t.name in _ON]
        yield from ((clause, line.view, where) for clause in _after(group, line))


_ON = ("surface", "room", "condition", "where", "ALL", "BOTH", "AND", "COMMA", "PER", "SIGN")
"""What a line says of where something goes; what the surfaces are made of is no part of that."""
_COUNTS = ("COAT", "LAYER", "LENGTH_UNIT", "COLON")
"""What a line says that tells more than surfaces."""


def _after(group: Sequence[Clause], line: Clause) -> Iterator[Clause]:
    """The clauses of a block that its line holds for: all of them, where they are lines with labels themselves. What stands behind it and a
    blank line is no part of a block whose lines stand close."""
    at = next(n for n, clause in enumerate(group) if clause is line)
    close = any(not apart_from(*two) for two in pairwise(group[: at + 1]))
    behind = (n for n, two in enumerate(pairwise(group)) if n >= at and apart_from(*two))
    end = next(behind, len(group)) + 1 if close else len(group)
    for clause in group[:end]:
        if clause is not line and (clause.cells or LABEL.match(clause.view.text)):
            yield clause
