"""What a cell of a row stands under: the head of its column, the key of its row, and the cells that describe what it says."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence

from attrs import evolve, frozen

from darby.reading.binding.site.finding import Above
from darby.reading.document.blocks.listed_places import all_beside, listed_places
from darby.reading.document.rows.silent_columns import head_of_supports, holds_nothing, says_nothing
from darby.reading.layout.clause import Cell, Clause
from darby.reading.layout.tables.heads import COMPASS, SIDED, is_unit_name
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.parsing.naming.names import Names
from darby.reading.parsing.tagging.tag import NUMBERED, Tag
from darby.rules.found_by import FoundBy, at
from darby.rules.name_matching import SORT
from darby.text.spans import View

_SIDES = 2
"""Walls by the compass that are no whole room."""


@frozen(eq=False)
class Rows:
    """Finds what stands around the cells of the tables of a document."""

    tags: Callable[[View], Sequence[Tag]]
    lexicon: Lexicon
    names: Names
    goods: Mapping[int, tuple[View, str]]
    """Cells under the name of goods that come in few sizes, by the `id` of their views, each with the goods."""
    keys: Mapping[int, int]
    """Which cell of a row is its key where it is not the first, by the `id` of the clause."""

    def key_of(self, row: Clause) -> int:
        """Which cell of a row is its key."""
        return self.keys.get(id(row), 0)

    def no_part(self, row: Clause, number: int, cell: Cell) -> str:
        """Why a cell says nothing of goods, if it does not."""
        given = any(t.name == "mark" for t in self.tags(cell.view)[:1])  # `PT-1 | Lobby | Walls` gives it there
        stated = given or self._states(cell) or self._levels(row, cell) or _names_surfaces(cell)
        numbers = number < self.key_of(row) and not stated
        return "the number of a room" if numbers else says_nothing(row, cell, self.tags)

    def gives(self, row: Clause, number: int) -> bool:
        """Whether a row gives the system whose mark is its key to places: `PT-1 | Walls | Lobby, Office 2`."""
        beside = [t for n, cell in enumerate(row.cells) if n != number for t in self.named_tags(cell)]
        key = [t.name for t in self.tags(row.cells[number].view)]
        placed = any(t.name == "room" for t in beside) and all(t.name in _WHERE for t in beside)
        return placed and "mark" in key and all(name in ("mark", "AND", "COMMA") for name in key)

    def _states(self, cell: Cell) -> bool:
        """Whether a cell before the name of a place, or its head, says something of goods: it is no number of the place."""
        return any(t.name in _STATES for view in (cell.view, *cell.heads) for t in self.tags(view))

    def _levels(self, row: Clause, cell: Cell) -> bool:
        """Whether a cell before the name of a place is a level that goods are left at, and no storey: its head, or the heading over the table
        below that, says so in more than the one word.
        """
        over = [t for head in cell.heads for t in self.tags(head) if t.name == "LEVEL"]
        titles = (t for parent in row.parents if parent.heading for t in self.tags(parent.view))
        return bool(over) and any(t.end - t.start > _ONE_WORD for t in (*over, *titles) if t.name == "LEVEL")

    def heads(self, clause: Clause, number: int, cell: Cell) -> tuple[Above, ...]:
        """What a cell stands under: its column's head, its row's key, then the cells of the row that describe what it says."""
        cells, first = clause.cells, self.key_of(clause)
        heads = [Above(at(FoundBy.COLUMN, h.text), self._head_tags(h, cell), "column") for h in cell.heads]
        if (carrying := head_of_supports(clause, cell, self.tags)) is not None:
            heads.insert(0, Above(at(FoundBy.COLUMN, carrying.text), self.tags(carrying), "column"))
        if any(_faces(t) for above in heads for t in above.tags) and self._all_alike(clause):
            heads = [evolve(a, tags=[evolve(t, also=()) if _faces(t) else t for t in a.tags]) for a in heads]
        if number != first:
            # a second label and value in one row
            labelled = number > first and cells[number - 1].view.text.rstrip().endswith(":")
            key = self.named_tags(cells[number - 1 if labelled else first])
            numbered = any(t.name in NUMBERED or t.name == "ORDINAL" for t in key)
            role = "row" if numbered and not _names_places(cells[first]) else "key"
            key = [*self._over_marks(cells[first]), *key]
            heads.append(Above(at(FoundBy.KEY, cells[first].view.text), key, role))
            before = filter(_names_surfaces, cells[:first])
            heads += [Above(at(FoundBy.KEY, c.view.text), self.tags(c.view), "key") for c in before]
            heads = _in_units(heads, cells[first], cell)
        others = (*cells[first + 1 : number][::-1], *cells[max(number, first) + 1 :])
        if number < first:
            others = (*cells[number + 1 : first], *(c for c in cells[:number] if self._states(c)), *others)
        beside = set(map(id, clause.beside(cell)))
        others = tuple(c for c in others if id(c) in beside and not holds_nothing(c) and self._of_same(clause, c, cell))
        return (
            *heads,
            *self._sort(others),
            *(Above(at(FoundBy.ROW, c.view.text), self._described(c), "row") for c in others),
        )

    def _sort(self, others: Sequence[Cell]) -> Iterator[Above]:
        """What sort of goods a row has, where one of its cells says so under their name: `PANELS | LAYERS`, `Type X | 2`."""
        sorts = [(c, types) for c in others if id(c.view) not in self.goods and (types := self._sorts_in(c))]
        for cell, types in sorts if len(sorts) == 1 else ():
            text = cell.view.text
            yield Above(
                at(FoundBy.ROW, text), [*types, Tag(0, len(text), "subject", self.lexicon.chosen(types[0]))], "sort"
            )
        said = [c for c in others if id(c.view) in self.goods and self.tags(c.view)]
        if len(said) == 1:
            view, goods = self.goods[id(said[0].view)]
            types = [t for t in self.tags(view) if t.name == SORT]
            yield Above(at(FoundBy.ROW, view.text), [*types, Tag(0, len(view.text), "subject", goods)], "sort")

    def _sorts_in(self, cell: Cell) -> list[Tag]:
        """The sorts that a cell under `TYPE` is made of, and nothing else, by their words or their letters: no mark of a system."""
        if cell.column is None or cell.column.role != "marks" or not cell.heads:
            return []
        text, tags = cell.view.text.strip(), self.tags(cell.view)
        lettered = self.lexicon.tags(f"type {text}") if len(text) == 1 else ()  # `X` under `TYPE`
        sort = self.lexicon.short_sorts.get(text) or next((t.value for t in lettered if t.name == SORT), "")
        if sort:
            return [Tag(0, len(cell.view.text), SORT, sort)]
        types = [t for t in tags if t.name == SORT]
        return types if all(t.name in (*_JOINING, SORT) for t in tags) else []

    def _of_same(self, row: Clause, other: Cell, cell: Cell) -> bool:
        """Whether another cell of a row can be of the surface that one is of: not where their heads name different ones, nor, in a table with
        such heads, a remark that names one."""
        remarks = other.column is not None and other.column.role == "remarks"
        of = self._surfaces_over(cell)
        said = _surfaces(self.tags(other.view)) if remarks else self._surfaces_over(other)
        if of and said:
            return not of.isdisjoint(said)
        return not (remarks and said) or not any(self._surfaces_over(c) for c in row.cells[1:])

    def _surfaces_over(self, cell: Cell) -> set[str]:
        return {surface for head in cell.heads for surface in _surfaces(self.tags(head))}

    def _described(self, cell: Cell) -> Sequence[Tag]:
        """What a cell says of others of its row. A remark that says something of one wall by itself limits none of them to it."""
        tags = self.named_tags(cell)
        remarks = cell.column is not None and cell.column.role == "remarks"
        if not remarks or not any(_faces(t) for t in tags):
            return tags
        told = any(t.name in _SAYS_MORE for t in tags) or self.lexicon.strangers(tags, cell.view.text)
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
        return [t for t in self.tags(key.heads[-1]) if t.name == "surface"] if coded else []

    def _head_tags(self, head: View, cell: Cell) -> Sequence[Tag]:
        """The words over a column; where they name a place, whatever they are, that place."""
        tags = self.tags(head)
        faced = cell.column is not None and cell.column.said_of == "surface" and head is cell.heads[-1]
        if faced and COMPASS.fullmatch(head.text.strip()):  # `NORTH` over the walls that face there
            side = self.lexicon.tags(f"{head.text.strip(' .')} wall")
            return [evolve(t, start=0, end=len(head.text)) for t in side if t.name == "surface"] or tags
        if SIDED.fullmatch(head.text):
            name = " ".join(head.text.lower().split())
            return [Tag(0, len(head.text), "where", self.lexicon.numbered_sides.get(name, name))]
        placed = cell.column is not None and cell.column.said_of == "place" and head is cell.heads[-1]
        if not placed or any(t.name in ("room", "surface") for t in tags):
            return tags
        return [Tag(0, len(head.text), "room", " ".join(head.text.lower().split()))]

    def named_tags(self, cell: Cell) -> Sequence[Tag]:
        """A cell's tags; in a column of places its words are the name of one, whatever they are."""
        tags = self.tags(cell.view)
        names = _names_places(cell) or any(
            t.name == "ROOM_HEAD" or (t.name == "room" and t.value == "room") for h in cell.heads for t in self.tags(h)
        )
        told = any(t.name == "room" for t in tags) or (
            len(tags) == 1 and tags[0].name == "surface" and _whole(tags[0], cell)
        )
        part = told and names and _names_more(tags, cell)
        if not names or (told and not part) or any(t.name in ("ELSEWHERE", "EVERYWHERE") for t in tags):
            return tags
        if tags and (all_beside(tags, cell.view.text) or self._on_the_work(tags, cell.view.text)):
            return tags  # `All columns and exterior walls`
        listed = listed_places(tags, cell.view.text, len(cell.view.text), self.names, sure=True)
        if not part and sum(t.name == "room" for t in listed) > 1:
            return listed
        kept = [] if part else tags
        return [*kept, Tag(0, len(cell.view.text), "room", " ".join(cell.view.text.lower().split()))]

    def _on_the_work(self, tags: Sequence[Tag], text: str) -> bool:
        """Whether a cell says where on the work, and of what, and is no room's name: `Panels, field`, `Inside corners`."""
        names = {t.name for t in tags}
        placed = not names.isdisjoint(_PARTS) and names <= _ON_THE_WORK
        return placed and not self.lexicon.strangers(tags, text)


_PARTS = ("where", "layer", "A_LAYER")
_ON_THE_WORK = {*_PARTS, "surface", "subject", "note", "hint", "COMMA", "AND", "DASH", "COLON", "ALL", "ON_CENTER"}


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


_WHERE = ("room", "surface", "AND", "COMMA", "COLON", "ALL", "BOTH", "OF", "ITS", "SIGN", "facing", "ROOM_HEAD")
"""Words that only say where."""
_SAYS_MORE = (
    *("HOLDS", "ASIDE", "CONDITION", "SHALL_BE", "condition"),
    *("NUMBER", "A_COAT", "A_LAYER", "LEVEL", "COAT", "subject", "sheen", "type", "color", "mark"),
)
"""Words with which a remark says something itself."""


_ONE_WORD = len("levels")
_JOINING = ("COMMA", "AND", "PER", "SIGN")
_STATES = ("subject", SORT, "sheen", "COAT", "LAYER", "A_LAYER", "THICK")
"""Words of goods and of what is counted of them."""


def _surfaces(tags: Sequence[Tag]) -> set[str]:
    """The surfaces that words name, by themselves or in the name of goods."""
    return {v for t in tags for v in ([t.value] if t.name == "surface" else [x for k, x in t.also if k == "surface"])}


def _faces(tag: Tag) -> bool:
    return any(key == "facing" for key, _ in tag.also)


def _names_places(cell: Cell) -> bool:
    """Whether the cells of a column are the names of places: `101 Lobby`."""
    return cell.column is not None and cell.column.role == "places"


def _names_surfaces(cell: Cell) -> bool:
    """Whether the cells of a column are surfaces: `Walls`."""
    return cell.column is not None and cell.column.role == "surfaces"


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
