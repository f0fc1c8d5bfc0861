"""The words of one document: what its clauses hold, with the marks, places and colors that only this document makes known.

Each view is looked at once. Marks are found before places, and places by what their siblings are, so that a name in one line helps
to know one in another.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from functools import cached_property
from operator import is_

from attrs import Factory, define, evolve, field

from darby.quantities.units import Unit
from darby.reading.binding.belief.unmade import SYSTEM
from darby.reading.binding.choices import Systems
from darby.reading.document.blocks.block_places import Blocks, blocks_of
from darby.reading.document.blocks.color_cells import told_of_colors, whole_color
from darby.reading.document.blocks.listed_places import label_end, listed_places
from darby.reading.document.blocks.property_labels import property_labels, without_places
from darby.reading.document.learned_places import Learned, learned
from darby.reading.document.marks.definitions import subject_of
from darby.reading.document.marks.dwellings import (
    has_dwellings,
    lettered,
    of_dwellings,
    says_vacant,
    with_flats,
    without_letters,
)
from darby.reading.document.marks.mark_openings import told_apart
from darby.reading.document.marks.marks import Marks, marks_of
from darby.reading.document.marks.short_levels import ShortLevels, short_levels, with_short_levels
from darby.reading.document.other_goods import OtherGoods, others_of
from darby.reading.document.place_headings import inside_bracket, of_places
from darby.reading.document.rows.ticks import ticked
from darby.reading.document.shared_unit import headed_by_goods, measured, shared_unit, with_goods, with_shared_unit
from darby.reading.document.sibling_places import Siblings, siblings_of
from darby.reading.document.undone_places import with_undone
from darby.reading.document.works.chapters import has_chapters, named_chapters
from darby.reading.document.works.items import Items, items_of
from darby.reading.layout.clause import Clause
from darby.reading.parsing.exceptions import with_exceptions, with_not_there, with_parties
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.parsing.limits import stops_of, with_limits
from darby.reading.parsing.naming.colors import with_colors
from darby.reading.parsing.naming.larger_places import with_floors, within_larger
from darby.reading.parsing.naming.names import Names
from darby.reading.parsing.naming.open_places import with_places
from darby.reading.parsing.tagging.coats_by_number import with_coats_behind, with_coats_by_letter, with_coats_by_number
from darby.reading.parsing.tagging.part_heights import with_part_heights
from darby.reading.parsing.tagging.tag import Tag
from darby.reading.parsing.whole_labels import of_all, with_other_surfaces, with_whole_labels
from darby.text.spans import View


@define(eq=False, slots=False)
class DocumentWords:
    """Finds the tags of a document's views."""

    lexicon: Lexicon
    strict: bool = False
    """Where all must be understood a word that nobody knows is an error, and no place."""
    marks: Marks = field(factory=lambda: Marks({}))
    items: Items = field(factory=Items)
    siblings: Siblings = field(factory=lambda: Siblings({}, {}))
    systems: Systems = field(factory=Systems)
    elsewhere: Mapping[str, str] = field(factory=dict)
    """Marks that other documents define, and of what each is a system."""
    others: OtherGoods | None = None
    names: Names = field(default=Factory(lambda words: words.lexicon.names, takes_self=True))
    torn: dict[int, Exception] = field(factory=dict)
    """What went wrong where the words of a view could not be found, by the `id` of the view."""
    _learned: Learned = field(factory=Learned)
    _flats: bool = False
    """Whether a `flat` is a dwelling in the document, and not only a look."""
    _unit: Unit | None = None
    """The unit of all its sizes, where it says one."""
    _measured: frozenset[int] = frozenset()
    """Cells that are numbers of that unit alone, by the `id` of their views."""
    goods: Mapping[int, tuple[View, str]] = field(factory=dict)
    """Cells under the name of goods that come in few sizes."""
    _lettered: bool = False
    """Whether the document tells kinds of a thing apart by letters, as `Type A`, `Type B`."""
    _colors: tuple[set[int], set[int], set[int]] = field(factory=lambda: (set(), set(), set()))
    """Cells that are colors whole, clauses under words that say that colors follow, and cells behind a code, by the `id` of their views."""
    _ticked: Mapping[int, tuple[View, Tag]] = field(factory=dict)
    """Ticks under the mark of a system, by the `id` of their views."""
    _levels: ShortLevels = field(factory=ShortLevels)
    blocks: Blocks = field(factory=Blocks)
    _properties: Mapping[int, tuple[View, int]] = field(factory=dict)
    """Views whose label is a property and names no place, by their `id`, and where it ends."""
    _whole: Mapping[int, View] = field(factory=dict)
    """Headings and keys of rows, which are names whole, by the `id` of their views."""
    _headings: Sequence[View] = ()
    _title: View | None = None
    """The first heading, unless it stands beside others and over none of them."""
    _chaptered: bool = False
    """Whether a document opens with a title and has chapters by what they are about."""
    _places: dict[int, bool] = field(factory=dict)
    """Whether texts name places and nothing else, by the `id` of their views: every clause below a heading asks."""
    _said: _Shelf = field(factory=dict)
    """What views hold before any mark or place of the document is known."""
    _placed: _Shelf = field(factory=dict)
    """What they hold with its marks, and the places that their own words tell."""
    _tagged: _Shelf = field(factory=dict)
    _found: dict[int, tuple[Sequence[Tag], Sequence[Tag]]] = field(factory=dict)
    """Words of views with their marks, by the `id` of the view, and with the places found among them last: few lines change."""

    def learn(self, clauses: Sequence[Clause]) -> None:
        """What the clauses of a document make known for all of them."""
        if self.strict:
            self.marks, self.systems = Marks(dict.fromkeys(self.elsewhere, ())), Systems(self.elsewhere)
            return
        self._lettered, self._levels = lettered(clauses), short_levels(clauses, self.lexicon)
        self._flats = any(has_dwellings(clause.view.text) for clause in clauses)
        self._unit = shared_unit(clauses, self.lexicon, of_all(self.lexicon.vocabularies))
        self._measured = measured(clauses, self.lexicon) if self._unit is not None else frozenset()
        self.goods = headed_by_goods(clauses, self.lexicon)
        self._colors = told_of_colors(clauses, lambda view: self.lexicon.tags(view.text))
        named = [c.cells[0].view if c.cells else c.view for c in clauses if c.cells or c.heading]
        self._whole = {id(view): view for view in named}
        heads = [c for c in clauses if c.heading and not c.cells]
        self._headings = [c.view for c in heads]
        beside = heads[1:] and not any(heads[0] in c.parents for c in heads[1:])
        self._title = self._headings[0] if heads and not beside else None
        self._chaptered = has_chapters(clauses)
        self.names = evolve(self.lexicon.names, kinds=self._lettered and of_dwellings(clauses))
        given, labels = self.lexicon.given_stems, self.names.labels
        titles, sections = self.lexicon.words_of("defining"), self.lexicon.words_of("sections")
        self.marks = marks_of(
            clauses, self.tags, kinds=self.names.kinds, given=given, labels=labels, titles=titles,
            sections=sections, speaks=lambda said: subject_of(said, self.lexicon, SYSTEM),
        )  # fmt: skip
        self.items = items_of(clauses, self.marks.defined, self.lexicon)
        notes, self.marks = self.marks.numbers, self.marks.without({*self.items.clauses, *self._levels.codes})
        subjects = {**self.elsewhere, **self.marks.subjects(self.lexicon, SYSTEM)}
        any_of = next((s for s, kinds in self.lexicon.kinds.items() if SYSTEM in kinds), "")
        subjects |= {
            code: subject_of(self.tags(clause.view), self.lexicon, SYSTEM) or any_of
            for code, clause in self.items.clauses.items()
        }
        items = frozenset(self.items.clauses)
        self.systems = Systems(subjects, self.marks.alone(), self.marks.surfaces(self.lexicon), items)
        self.marks = Marks({**dict.fromkeys(self.elsewhere, ()), **self.marks.defined})
        ours = frozenset((*self.marks.defined, *self.items.clauses, *notes, *self._levels.codes))
        cells = frozenset(id(cell.view) for clause in clauses for cell in clause.cells)
        self.others = OtherGoods(self.lexicon, others_of(clauses, ours), ours, cells)
        self._properties = property_labels(clauses, self.lexicon.tags, self.lexicon.heads)
        self._placed.clear()
        self._tagged.clear()
        self._ticked = ticked(clauses, self.tags)
        self.siblings = siblings_of(clauses, self.tags, self.names)
        chapters = {
            id(view): (view, found) for view, found in named_chapters(self.items.clauses, self.tags, self.names)
        }
        self.siblings = Siblings({**chapters, **self.siblings.named}, self.siblings.keys)
        self._learned = learned(clauses, self.siblings, self.names)
        self.blocks = blocks_of(clauses, self.tags, self.names, self.lexicon.heads, self.lexicon.records)
        self._tagged.clear()

    def tags(self, view: View) -> Sequence[Tag]:
        """The tags of a view, found once; none where finding them went wrong, which stands in `torn`."""
        return _once(self._tagged, view, self._tags_or_none)

    def _tags_or_none(self, view: View) -> Sequence[Tag]:
        self.torn.pop(id(view), None)
        try:
            return self._tags(view)
        except MemoryError:
            raise
        except Exception as error:  # a fault of Darby's in one view: every clause of the document asks for its words
            self.torn[id(view)] = error
            return ()

    def _tags(self, view: View) -> Sequence[Tag]:
        if id(view) in self._ticked:
            return (self._ticked[id(view)][1],)
        if self.strict:  # where all must be understood, a word that nobody knows is an error
            tags = list(self.marks.tagged(_once(self._said, view, self._colored), view.text))
        else:
            placed = _once(self._placed, view, self._with_places)
            tags = list(self._learned.tagged(self.siblings.tagged(placed, view), view.text))
            tags = list(self.others.tagged(tags, view)) if self.others is not None else tags
            tags = list(self.blocks.tagged(tags, view, self.names))
        tags = within_larger(tags, view.text, self.names.numbered)
        tags = with_exceptions(with_parties(tags, view.text, words := self.lexicon.vocabularies), view.text, words)
        cell = self.others is None or id(view) in self.others.cells
        return tags if cell or id(view) in self._whole else with_undone(tags, view.text, words)

    def _with_places(self, view: View) -> Sequence[Tag]:
        marked = self._with_marks(_once(self._said, view, self._colored), view.text)
        before, tags = self._found.get(id(view), ((), ()))
        if len(before) != len(marked) or not marked or not all(map(is_, before, marked)):
            tags = with_places(marked, view.text, self.names)
            tags = with_not_there(within_larger(tags, view.text, self.names.numbered))
            self._found[id(view)] = marked, tags
        end = label_end(tags) or (len(view.text) if id(view) in self._whole else 0)
        if id(view) in self._properties:
            return without_places(tags, self._properties[id(view)][1])
        return list(listed_places(tags, view.text, end, self.names))

    def names_places(self, view: View) -> bool:
        """Whether a text is nothing but places of a building that the language knows: `CORRIDORS`, `LEVEL 2 OFFICES`, and no project's name."""
        if id(view) not in self._places:
            self._places[id(view)] = id(view) in self.blocks.records or self._of_places(view)
        return self._places[id(view)]

    def _of_places(self, view: View, *part: int) -> bool:
        return of_places(view.text, self.tags(view), self.lexicon, self.names, *part)

    def places_in(self, heading: Clause) -> bool:
        """Whether a heading is of places, or of what its bracket says are some, `TRIM (Kitchen)`; one that may as well be a whole building
        (`CLINIC`), or the title over chapters that are of no places, only beside others that are."""
        if id(heading.view) in self.blocks.records:
            return True
        bracket = inside_bracket(heading.view.text)
        inside = bracket is not None and self._of_places(heading.view, *bracket)
        rooms, over = [t for t in self.tags(heading.view) if t.name == "room"], len(heading.view.text)
        called = id(heading.view) in self.siblings.named or any(t.end - t.start == over for t in rooms)
        counted = called and _NUMBERED.fullmatch(heading.label) is not None
        if not heading.heading or not (inside or counted or self._is_place(heading.view)):
            return False
        whole = heading.view is self._headings[0] and all(t.value in self.names.buildings for t in rooms)
        titles = self._chaptered and heading.view is self._headings[0]
        return not (whole or titles) or self._among_places

    def rooms_over(self, clause: Clause) -> list[str]:
        """The rooms of the nearest heading that a clause stands under, where it names these and nothing else."""
        heading = next((one for one in clause.parents if self.names_places(one.view) or self.places_in(one)), None)
        said = self.tags(heading.view) if heading is not None else ()
        return [t.value for t in said if t.name == "room"] if all(t.name in _ROOMS for t in said) else []

    def above(self, clause: Clause) -> list[tuple[Sequence[Tag], str]]:
        """The words of what a clause stands under, but for a title over the whole document."""
        title = self._headings[0] if self._headings else None
        over = [one.view for one in clause.parents if one.leads_in or one.view is not title]
        on = [self.blocks.surfaced.get(id(one)) for one in (clause, *clause.parents)]
        return [(self.tags(view), view.text) for view in (*over, *on) if view is not None]

    @cached_property
    def _among_places(self) -> bool:
        return sum(map(self._is_place, self._headings)) > 1  # several headings are of places

    def _is_place(self, view: View) -> bool:
        """Whether a heading names places, by itself or, below a title, by its siblings."""
        return (id(view) in self.siblings.named and view is not self._title) or self.names_places(view)

    def _with_marks(self, tags: Sequence[Tag], text: str) -> Sequence[Tag]:
        return told_apart(self.items.tagged(self.marks.tagged(tags, text), text), text)

    def _coated(self, tag: Tag) -> bool:
        return self.lexicon.in_coats(tag.value)

    def _colored(self, view: View) -> list[Tag]:
        if id(view) in self._colors[0] and (color := whole_color(view.text)):
            return with_floors(color, view.text)
        tags = [t for t in self.lexicon.tags(view.text) if not says_vacant(t, view.text)]
        tags = with_coats_by_number(tags, view.text, self._coated)
        tags = tags if self.strict else with_coats_behind(tags, view.text, self._coated)
        tags = with_coats_by_letter(tags, view.text, self.lexicon.meaning)
        tags = list(with_shared_unit(tags, view.text, self._unit, self.lexicon, measures=id(view) in self._measured))
        if goods := self.goods.get(id(view)):
            tags = list(with_goods(tags, view.text, goods[1], self.lexicon))
        tags = tags if self.strict else with_part_heights(tags, view.text, self.lexicon.heights)
        if id(view) in self._levels.views:
            tags = with_short_levels(tags, view.text, self.lexicon.meaning("short_levels"))
        tags = without_letters(tags, view.text) if self._lettered else tags
        tags = with_flats(tags, view.text) if self._flats else tags
        if not self.strict:
            whole = of_all(self.lexicon.vocabularies)
            tags = with_other_surfaces(with_whole_labels(tags, view.text, whole), view.text, whole)
        tags = with_limits(tags, view.text, stops_of(self.lexicon.vocabularies))
        told, legend = (id(view) in found for found in self._colors[1:])
        tags = with_colors(tags, view.text, self.lexicon.hues, self.lexicon.says_nothing, told=told, legend=legend)
        return with_floors(tags, view.text)


_Shelf = dict[int, tuple[View, Sequence[Tag]]]
"""Tags by the `id` of their view, which is kept with them so that no other view takes its number."""


def _once(shelf: _Shelf, view: View, make: Callable[[View], Sequence[Tag]]) -> Sequence[Tag]:
    """What is made of a view, made once."""
    if id(view) not in shelf:
        shelf[id(view)] = view, make(view)
    return shelf[id(view)][1]


_ROOMS = ("room", "AND", "COMMA", "SIGN", "ROOM_HEAD", "COLON")
_NUMBERED = re.compile(
    r"[A-Z]{1,3}[-.]?[0-9]{1,3}[A-Za-z]?|[0-9]{3}[A-Za-z]?|[0-9]{1,2}\.[0-9]{2,3}|[0-9]{3}(?:\s?[-–,&/]\s?[0-9]{3}){1,4}"
)
"""The number of a room, and of no paragraph."""
