"""What a clause stands under and beside: headings, lead-ins, questions, heads of columns, keys of rows, bare lines, rows that cite it."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import islice

from attrs import define, evolve, field

from darby.reading.binding.site.finding import Above
from darby.reading.binding.site.limiting_heads import parts_work
from darby.reading.document.after_places import AfterPlaces
from darby.reading.document.blocks.block_lines import says_where
from darby.reading.document.document_words import DocumentWords
from darby.reading.document.marks.mark_openings import opens, titled
from darby.reading.document.rows.around_cells import Rows
from darby.reading.layout.clause import Clause
from darby.reading.parsing.exceptions import left_out, unexcepted
from darby.reading.parsing.tagging.tag import NUMBERED, Tag
from darby.rules.found_by import FoundBy, at

_LINES_UP = 5
"""Clauses above one in which such a line is sought."""
_TITLED = 4
"""Clauses at the top of a document among which its title goes on."""
_SORTS = ("surface", "room", "ROOM_HEAD")
_BY = re.compile(r"\b(?:by|per)\s$", re.IGNORECASE)
"""What tells how a list is sorted, and not what it is of: `FINISHES BY WALL`."""
_CHAPTER = re.compile(r"(?:[A-Z]|[0-9]{1,2})[.:)]?")
"""The label of one of several chapters."""
_GOES_ON = re.compile(r"\s[A-Za-z]{3}")
_SHORT = 8
"""Words in a line that, standing bare under a heading, names what the lines below it are about."""


@define(eq=False)
class Surroundings:
    """Finds what stands around the clauses of a document."""

    words: DocumentWords
    parents: set[int]
    """Clauses that others stand under, by their `id`."""
    after: AfterPlaces = field(factory=AfterPlaces)
    """What stands behind the last of several places."""
    sheet: Above | None = None
    """What the whole document is the sheet of."""
    rows: Rows = field(init=False)
    """The cells of its tables."""

    def __attrs_post_init__(self) -> None:
        words = self.words
        self.rows = Rows(words.tags, words.lexicon, words.names, words.goods, words.siblings.keys)

    def above(self, clauses: Sequence[Clause], number: int) -> tuple[Above, ...]:
        """Everything that a clause stands under, the nearest first."""
        clause = clauses[number]
        lines, over = self._lines_near(clauses, number), clause.parents
        # of a section under a room's name that name may be the job's
        placed = all(self.words.places_in(parent) or self._parts_work(parent) for parent in over if parent.heading)
        if id(clause) in self.after.beyond:
            lines, over = [], tuple(one for one in over if not (one.heading and self.words.places_in(one)))
        parents: list[Above] = []
        for parent in over:
            parents += (self._parent(parent, placed=placed), *self._ended(parent), *self._located(parent))
        parents += _where(self.words.blocks.sheets.get(id(clause)))
        return (*self._cited(clause), *self._located(clause), *lines, *parents)

    def _located(self, clause: Clause) -> tuple[Above, ...]:
        """Where a clause holds by another line of its block; so does what stands below it."""
        return _where(self.words.blocks.located.get(id(clause)))

    def _ended(self, parent: Clause) -> tuple[Above, ...]:
        """The mark at the end of a heading, which holds for what stands below it even where it is the first of all."""
        mark = titled(parent, self.words.tags(parent.view))
        return (Above(at(FoundBy.HEADING, mark.value), [mark], "key"),) if mark is not None else ()

    def opened(self, clause: Clause) -> tuple[Above, ...]:
        """The mark that a clause opens with and defines, as the key of a row would be."""
        mark = opens(clause, self.words.tags(clause.view))
        return (Above(at(FoundBy.KEY, mark.value), [mark], "key"),) if mark is not None else ()

    def _lines_near(self, clauses: Sequence[Clause], number: int) -> list[Above]:
        """Bare lines that name what a clause is about: just above it under one heading, or just below a heading of a coat."""
        clause = clauses[number]
        if clause.cells:
            return []
        near: list[Above] = []
        if clause.heading and id(clause) in self.parents:
            below = clauses[number + 1 : number + 3]
            near = [self._line(c) for c in below if c.parents and c.parents[0] is clause and self._bare(c)][:1]
        else:
            above = clauses[max(0, number - _LINES_UP) : number]
            alike = (c for c in above[::-1] if c.parents == clause.parents and self._bare(c) and not _items(c, clause))
            if not (clause.parents and clause.parents[0].heading):
                # `Level 2 corridors` on a line of its own heads what stands below, though no capitals and no number tell it
                alike = (c for c in alike if self.words.names_places(c.view))
            titled = clauses[1:_TITLED] if clauses[0].heading else ()
            near = [self._line(c, titled=any(c is one for one in titled)) for c in islice(alike, 1)]
        return near

    def _bare(self, clause: Clause) -> bool:
        tags = self.words.tags(clause.view)
        plain = not any(t.name in NUMBERED or t.name == "ORDINAL" for t in tags)
        return (
            plain
            and not clause.heading
            and not clause.cells
            and not (clause.leads_in and id(clause) in self.parents)  # it holds for its own list
            and len(clause.text.split()) <= _SHORT
            and not clause.text.rstrip().endswith(".")
            and says_where(clause, self.words.lexicon.heads) is None  # its block has it
        )

    def _line(self, clause: Clause, *, titled: bool = False) -> Above:
        """A line and what it names. Right below the title of a document it may be whose work it is: `HARBOUR OFFICES, SUITE 12`."""
        tags = self.words.tags(clause.view)
        if titled and not self.words.names_places(clause.view):
            tags = [t for t in tags if t.name != "room"]
        return Above(at(FoundBy.LINE, clause.text), tags, "line")

    def _parent(self, clause: Clause, *, placed: bool) -> Above:
        role = "heading" if clause.heading else "question" if clause.asks else "lead-in"
        role = "key" if clause.heading and " | " in clause.text else role  # the name of a record, and no title
        heads = clause.heading or clause.leads_in or len(clause.text.split()) < _SHORT
        left = left_out(clause.view.text, self.words.lexicon.vocabularies) if heads else []
        tags = left or unexcepted(self.words.tags(clause.view))
        if role == "question":  # `No spacing on the drawings.` forbids nothing
            tags = [t for t in tags if t.name != "NO"]
        if clause.heading:
            tags = [t for t in tags if t.name not in _SORTS or not _BY.search(clause.view.text, 0, t.start)]
        text = clause.view.text  # `CLEAR FINISHING` is about what is finished, and not about what is clear
        tags = [evolve(t, loose=True) if t.name == "ASIDE" and _GOES_ON.match(text, t.end) else t for t in tags]
        chapter = _CHAPTER.fullmatch(clause.label) is not None or (clause.heading and placed)
        return Above(at(FoundBy(role), clause.text), tags, role, numbered=chapter)

    def _parts_work(self, heading: Clause) -> bool:
        return parts_work(heading.text, self.words.tags(heading.view), self.words.lexicon)

    def _cited(self, clause: Clause) -> tuple[Above, ...]:
        """The places of the rows that cite a footnote, and the surface of the cell that does."""
        tags: list[Tag] = []
        for citation in clause.cited_by:
            row = citation.row
            key = row.cells[self.rows.key_of(row)] if row.cells else None
            tags += [t for t in self.rows.named_tags(key) if t.name == "room"] if key is not None else []
        surfaces = [
            [t for h in c.cell.heads for t in self.words.tags(h) if t.name == "surface"]
            for c in clause.cited_by
            if c.cell is not None
        ]
        tags += surfaces[0][:1] if surfaces else []
        return (Above(FoundBy.CITED, tags, "lead-in"),) if tags else ()


def _items(one: Clause, other: Clause) -> bool:
    """Whether two clauses are items of one list by their letters or numbers, of which none heads another."""
    return all(any(c.isalnum() for c in clause.label) for clause in (one, other))


def _where(places: Sequence[Tag] | None) -> tuple[Above, ...]:
    return (Above(at(FoundBy.LINE, "where"), places, "line"),) if places else ()
