"""What a clause stands under and beside: headings, lead-ins, questions, heads of columns, keys of rows, bare lines, rows that cite it."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import islice

from attrs import define, evolve, field

from darby.reading.binding.site.finding import Above
from darby.reading.document.after_places import AfterPlaces
from darby.reading.document.blocks.block_lines import says_where
from darby.reading.document.blocks.listed_places import all_beside, listed_places
from darby.reading.document.document_words import DocumentWords
from darby.reading.document.marks.mark_openings import opens, titled
from darby.reading.document.silent_columns import head_of_supports, holds_nothing, says_nothing
from darby.reading.layout.clause import Cell, Clause
from darby.reading.layout.tables.heads import COMPASS, is_unit_name
from darby.reading.parsing.exceptions import left_out, unexcepted
from darby.reading.parsing.tagging.tag import NUMBERED, Tag
from darby.rules.found_by import FoundBy, at
from darby.text.spans import View

_LINES_UP = 5
"""Clauses above one in which such a line is sought."""
_TITLED = 4
"""Clauses at the top of a document among which its title goes on."""
_SORTS = ("surface", "room", "ROOM_HEAD")
_BY = re.compile(r"\b(?:by|per)\s$", re.IGNORECASE)
"""What tells how a list is sorted, and not what it is of: `FINISHES BY WALL`."""
_SIDE = re.compile(r"(?:side|face)\s(?:[A-D]|[1-4]|one|two)", re.IGNORECASE)
"""One side of a wall, as the head of a column: `SIDE A`."""
_SIDES = 2
"""Walls by the compass that are no whole room."""
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

    def above(self, clauses: Sequence[Clause], number: int) -> tuple[Above, ...]:
        """Everything that a clause stands under, the nearest first."""
        clause = clauses[number]
        lines, over = self._lines_near(clauses, number), clause.parents
        # of a section under a room's name that name may be the job's
        placed = all(self.words.places_in(parent) for parent in over if parent.heading)
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

    def key_of(self, row: Clause) -> int:
        """Which cell of a row is its key."""
        return self.words.siblings.keys.get(id(row), 0)

    def opened(self, clause: Clause) -> tuple[Above, ...]:
        """The mark that a clause opens with and defines, as the key of a row would be."""
        mark = opens(clause, self.words.tags(clause.view))
        return (Above(at(FoundBy.KEY, mark.value), [mark], "key"),) if mark is not None else ()

    def no_part(self, row: Clause, number: int, cell: Cell) -> str:
        """Why a cell says nothing of goods, if it does not."""
        return "the number of a room" if number < self.key_of(row) else says_nothing(row, cell, self.words.tags)

    def heads(self, clause: Clause, number: int, cell: Cell) -> tuple[Above, ...]:
        """What a cell stands under: its column's head, its row's key, then the cells of the row that describe what it says."""
        cells, first = clause.cells, self.key_of(clause)
        heads = [Above(at(FoundBy.COLUMN, h.text), self._head_tags(h, cell), "column") for h in cell.heads]
        if (carrying := head_of_supports(clause, cell, self.words.tags)) is not None:
            heads.insert(0, Above(at(FoundBy.COLUMN, carrying.text), self.words.tags(carrying), "column"))
        if any(_faces(t) for above in heads for t in above.tags) and self._all_alike(clause):
            heads = [evolve(a, tags=[evolve(t, also=()) if _faces(t) else t for t in a.tags]) for a in heads]
        if number > first:
            labelled = cells[number - 1].view.text.rstrip().endswith(":")  # a second label and value in one row
            key = self._named_tags(cells[number - 1 if labelled else first])
            numbered = any(t.name in NUMBERED or t.name == "ORDINAL" for t in key)
            role = "row" if numbered and not _names_places(cells[first]) else "key"
            key = [*self._over_marks(cells[first]), *key]
            heads.append(Above(at(FoundBy.KEY, cells[first].view.text), key, role))
            heads = _in_units(heads, cells[first], cell)
        others = (*cells[first + 1 : number][::-1], *cells[number + 1 :]) if number > first else cells[first + 1 :]
        beside = set(map(id, clause.beside(cell)))
        others = tuple(c for c in others if id(c) in beside and not holds_nothing(c))
        return (*heads, *(Above(at(FoundBy.ROW, c.view.text), self._described(c), "row") for c in others))

    def _described(self, cell: Cell) -> Sequence[Tag]:
        """What a cell says of others of its row. A remark that says something of one wall by itself limits none of them to it."""
        tags = self._named_tags(cell)
        remarks = cell.column is not None and cell.column.role == "remarks"
        if not remarks or not any(_faces(t) for t in tags):
            return tags
        told = any(t.name in _SAYS_MORE for t in tags) or self.words.lexicon.strangers(tags, cell.view.text)
        return [t for t in tags if not _faces(t)] if told else tags

    def _all_alike(self, row: Clause) -> bool:
        """Whether the walls of a row all have the same, so that it is said of each of them, wherever they face."""
        walls = [
            c.view.text.strip()
            for c in row.cells
            if c.heads and any(_faces(t) for t in self._head_tags(c.heads[-1], c))
        ]
        return len(walls) > _SIDES and len(set(walls)) == 1

    def _over_marks(self, key: Cell) -> list[Tag]:
        """The surface that the head over marks names: what stands under `WALL TYPE` is of walls."""
        coded = key.column is not None and key.column.role == "marks" and key.heads
        return [t for t in self.words.tags(key.heads[-1]) if t.name == "surface"] if coded else []

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

    def _head_tags(self, head: View, cell: Cell) -> Sequence[Tag]:
        """The words over a column; where they name a place, whatever they are, that place."""
        tags = self.words.tags(head)
        faced = cell.column is not None and cell.column.said_of == "surface" and head is cell.heads[-1]
        if faced and COMPASS.fullmatch(head.text.strip()):  # `NORTH` over the walls that face there
            side = self.words.lexicon.tags(f"{head.text.strip(' .')} wall")
            return [evolve(t, start=0, end=len(head.text)) for t in side if t.name == "surface"] or tags
        if _SIDE.fullmatch(head.text):
            return [Tag(0, len(head.text), "where", " ".join(head.text.lower().split()))]
        placed = cell.column is not None and cell.column.said_of == "place" and head is cell.heads[-1]
        if not placed or any(t.name in ("room", "surface") for t in tags):
            return tags
        return [Tag(0, len(head.text), "room", " ".join(head.text.lower().split()))]

    def _named_tags(self, cell: Cell) -> Sequence[Tag]:
        """A cell's tags; in a column of places its words are the name of one, whatever they are."""
        tags = self.words.tags(cell.view)
        names = _names_places(cell) or any(
            t.name == "ROOM_HEAD" or (t.name == "room" and t.value == "room")
            for h in cell.heads
            for t in self.words.tags(h)
        )
        told = any(t.name == "room" for t in tags) or (
            len(tags) == 1 and tags[0].name == "surface" and _whole(tags[0], cell)
        )
        part = told and names and _names_more(tags, cell)
        if not names or (told and not part) or any(t.name in ("ELSEWHERE", "EVERYWHERE") for t in tags):
            return tags
        if tags and all_beside(tags, cell.view.text):
            return tags  # `All columns and exterior walls`
        listed = listed_places(tags, cell.view.text, len(cell.view.text), self.words.names, sure=True)
        if not part and sum(t.name == "room" for t in listed) > 1:
            return listed
        kept = [] if part else tags
        return [*kept, Tag(0, len(cell.view.text), "room", " ".join(cell.view.text.lower().split()))]

    def _cited(self, clause: Clause) -> tuple[Above, ...]:
        """The places of the rows that cite a footnote, and the surface of the cell that does."""
        tags: list[Tag] = []
        for citation in clause.cited_by:
            row = citation.row
            key = row.cells[self.key_of(row)] if row.cells else None
            tags += [t for t in self._named_tags(key) if t.name == "room"] if key is not None else []
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


def _in_units(heads: list[Above], key: Cell, cell: Cell) -> list[Above]:
    """Heads and key of a cell where one of the two is a kind of dwelling and the other may name a room in it: `S` and `bath ceiling`."""
    *columns, last = heads
    kind = is_unit_name(key.view.text.strip())
    if key.column is not None and (key.column.role == "units" or (key.column.role == "places" and kind)):
        unit, rooms = " ".join(key.view.text.lower().split()), columns
        whole = evolve(last, tags=[Tag(0, len(key.view.text), "room", unit)], role="key")
    elif cell.column is not None and cell.column.said_of == "place" and columns and is_unit_name(cell.heads[-1].text):
        unit, rooms = " ".join(cell.heads[-1].text.lower().split()), [last]
        whole = evolve(columns[-1], tags=[Tag(0, len(cell.heads[-1].text), "room", unit)])
    else:
        return heads
    inside = [
        evolve(above, tags=[evolve(t, value=f"{unit} {t.value}") if t.name == "room" else t for t in above.tags])
        for above in rooms
    ]
    return [*inside, whole]


_SAYS_MORE = (
    *("HOLDS", "ASIDE", "CONDITION", "SHALL_BE", "condition"),
    *("NUMBER", "A_COAT", "A_LAYER", "LEVEL", "COAT", "subject", "sheen", "type", "color", "mark"),
)
"""Words with which a remark says something itself."""


def _faces(tag: Tag) -> bool:
    return any(key == "facing" for key, _ in tag.also)


def _names_places(cell: Cell) -> bool:
    """Whether the cells of a column are the names of places: `101 Lobby`."""
    return cell.column is not None and cell.column.role == "places"


def _names_more(tags: Sequence[Tag], cell: Cell) -> bool:
    """Whether a known room is only a part of what a cell names: `Nurse base`, where a word beside it is of nobody's list or of
    another."""
    text = cell.view.text
    if not re.fullmatch(r"[A-Za-z'’. -]+[0-9A-Z]{0,3}", text) or any(t.name not in ("room", "ROOM_HEAD") for t in tags):
        return False
    rooms = [t for t in tags if t.name == "room"]
    if len(rooms) != 1:
        return False
    return re.search(r"[A-Za-z]{2}", text[: rooms[0].start] + " " + text[rooms[0].end :]) is not None


def _whole(tag: Tag, cell: Cell) -> bool:
    """Whether a tag is all that a cell says: `Ceilings` under `Location` is no room."""
    return not (cell.view.text[: tag.start] + cell.view.text[tag.end :]).strip()
