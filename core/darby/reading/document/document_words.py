"""The words of one document: what its clauses hold, with the marks, places and colors that only this document makes known.

Each view is looked at once. Marks are found before places, and places by what their siblings are, so that a name in one line helps
to know one in another.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from attrs import define, field

from darby.reading.binding.choices import SYSTEM
from darby.reading.binding.site.finding import Above
from darby.reading.document.marks import Marks, marks_of, others_of
from darby.reading.document.other_goods import OtherGoods
from darby.reading.document.sibling_places import Siblings, siblings_of
from darby.reading.layout.clause import Clause
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.parsing.naming.colors import told_of_colors, whole_color, with_colors
from darby.reading.parsing.naming.open_places import with_places
from darby.reading.parsing.tagging.tag import Tag
from darby.rules.found_by import FoundBy, at
from darby.text.spans import View


@define(eq=False, slots=False)
class DocumentWords:
    """Finds the tags of a document's views."""

    lexicon: Lexicon
    strict: bool = False
    """Where all must be understood a word that nobody knows is an error, and no place."""
    marks: Marks = field(factory=lambda: Marks({}))
    siblings: Siblings = field(factory=lambda: Siblings({}, {}))
    systems: dict[str, str] = field(factory=dict)
    """Of what each mark is a system."""
    elsewhere: Mapping[str, str] = field(factory=dict)
    """Marks that other documents define, and of what each is a system; of nothing where it is of other goods, and why."""
    others: OtherGoods | None = None
    _colors: tuple[set[int], set[int]] = field(factory=lambda: (set(), set()))
    """Cells that are colors whole, and clauses under words that say that colors follow, by the `id` of their views."""
    _tagged: dict[int, tuple[View, Sequence[Tag]]] = field(factory=dict)

    def learn(self, clauses: Sequence[Clause]) -> None:
        """What the clauses of a document make known for all of them."""
        if self.strict:
            return
        self._colors = told_of_colors(clauses, lambda view: self.lexicon.tags(view.text))
        self.marks = marks_of(clauses, self.tags)
        self.systems = {**self.elsewhere, **self.marks.subjects(self.lexicon, SYSTEM)}
        self.marks = Marks({**dict.fromkeys(self.elsewhere, ()), **self.marks.defined})
        self.others = OtherGoods(
            self.lexicon,
            others_of(clauses, self.marks),
            frozenset(self.marks.defined),
            frozenset(id(cell.view) for clause in clauses for cell in clause.cells),
        )
        self._tagged.clear()
        self.siblings = siblings_of(clauses, self.tags, self.lexicon.names)
        self._tagged.clear()

    def opening(self, clause: Clause) -> tuple[Above, ...]:
        """The mark that a clause of several sentences defines, for those behind the first: `PT-1: latex, satin. Two coats.`"""
        tags = self.tags(clause.view)
        first = tags[0] if tags else None
        defines = first is not None and first.name == "mark" and not clause.view.text[: first.start].strip()
        if first is None or not defines or len(tags) < 2 or tags[1].name not in ("COLON", "DASH"):
            return ()
        several = any(t.name == "STOP" for t in tags[:-1])
        return (Above(at(FoundBy.LABEL, first.value), (first,), "lead-in"),) if several else ()

    def tags(self, view: View) -> Sequence[Tag]:
        """The tags of a view, found once."""
        if id(view) not in self._tagged:
            tags = self._colored(view)
            if not self.strict:  # where all must be understood, a word that nobody knows is an error
                tags = with_places(self.marks.tagged(tags, view.text), view.text, self.lexicon.names)
                tags = list(self.siblings.tagged(tags, view))
                tags = list(self.others.tagged(tags, view)) if self.others is not None else tags
            self._tagged[id(view)] = view, tags
        return self._tagged[id(view)][1]

    def _colored(self, view: View) -> list[Tag]:
        if id(view) in self._colors[0]:
            return whole_color(view.text)
        tags = self.lexicon.tags(view.text)
        told = id(view) in self._colors[1]
        return with_colors(tags, view.text, self.lexicon.hues, self.lexicon.says_nothing, told=told)
