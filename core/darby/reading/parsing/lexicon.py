"""The words the reader knows: the vocabularies of all plugins joined, and what each word and subject means."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from functools import cached_property, lru_cache

from attrs import field, frozen

from darby.quantities.numerals import value_of
from darby.quantities.units import NUMBER_ONLY, parse
from darby.reading.parsing.fact_parser import Quantity
from darby.reading.parsing.naming.layers import with_courses, with_layers, with_short_sorts, without_sorts_of_others
from darby.reading.parsing.naming.mere_sides import with_letters, with_sides, without_mere_sides
from darby.reading.parsing.naming.names import Names
from darby.reading.parsing.naming.strange_goods import with_strange_goods
from darby.reading.parsing.tagging.lexer import Tagger
from darby.reading.parsing.tagging.part_heights import Heights
from darby.reading.parsing.tagging.sentence_ends import with_stops
from darby.reading.parsing.tagging.tag import Tag
from darby.reading.parsing.vocabulary import Vocabulary, strings
from darby.reading.parsing.word_stock import Stock, stock_of
from darby.rules.name_matching import WIDE
from darby.rules.usual import Usual, ranges_of, unusual

_CHOSEN = frozenset({"type", "sheen", "color", "class", "system"})


@frozen(eq=False, slots=False)
class Lexicon:
    """Words of all vocabularies, ready to tag."""

    vocabularies: tuple[Vocabulary, ...]
    stock: Stock = field(repr=False)
    """Every phrase with what it means."""
    surfaces: dict[str, frozenset[str]] = field(repr=False)
    """Subject to the surfaces that a heading can put it on, where it is not all of them."""
    only_for: dict[str, frozenset[str]] = field(repr=False)
    """Scope value to the kinds it limits, where it is not all of them."""
    holds: dict[str, frozenset[str]] = field(repr=False)
    """Subject to the containers it comes in."""
    kinds: dict[str, frozenset[str]] = field(repr=False)
    """Subject to the kinds of fact it can have."""
    measures: dict[str, dict[str, str]] = field(repr=False)
    """Subject to the kind that a bare measure in a dimension (`length`) is."""
    implies: dict[str, str] = field(repr=False)
    """Kind to the subject it belongs to when the text names none."""
    implied_where: dict[str, str] = field(repr=False)
    """Place on the work to the subject that coats there are of, when the text names none."""
    known: dict[str, list[str]] = field(repr=False)
    """Kind to the amounts it can have, where it has only some."""
    bands: dict[str, tuple[Fraction, Fraction]] = field(repr=False)
    """Kind to the least and greatest size it can have, in base units (counts by number)."""
    plain: set[str] = field(repr=False)
    """Words that change nothing in a line that must be understood whole: articles, prepositions, verbs."""
    confirm: dict[str, str] = field(repr=False)
    """Scope value to why what it is said with should be looked at, though it is read: a custom with more than one meaning."""
    heads: dict[str, str] = field(factory=dict, repr=False)
    """Head of a table's column to what the column holds."""
    where_surface: dict[str, str] = field(factory=dict, repr=False)
    """The surface that a place on the work can only be on: both sides are a wall's."""
    _sizes: dict[str, frozenset[Fraction]] = field(factory=dict, init=False, repr=False)
    _words_of: dict[tuple[str, ...], frozenset[str]] = field(factory=dict, init=False, repr=False)

    @classmethod
    def of(cls, vocabularies: Iterable[Vocabulary]) -> Lexicon:
        """Join vocabularies; of two meanings for one phrase the first vocabulary's stays and the clash is recorded. The same of the same."""
        return _lexicon(tuple(vocabularies))

    def _learn(self, tables: Mapping[str, Mapping[str, object]]) -> None:
        """Take in what a vocabulary says of subjects and kinds."""
        sets = {"kinds": self.kinds, "holds": self.holds, "surfaces": self.surfaces, "only_for": self.only_for}
        for table, known in sets.items():
            for of, some in tables.get(table, {}).items():
                known[of] = known.get(of, frozenset()) | frozenset(strings(some))
        single = ("implied_where", "implies", "confirm", "where_surface")
        for table, told in ((name, getattr(self, name)) for name in single):
            for of, said in tables.get(table, {}).items():
                told.setdefault(of, str(said))
        for subject, measures in tables.get("measures", {}).items():
            if isinstance(measures, dict):
                self.measures.setdefault(subject, {}).update(measures)
        for kind, ends in tables.get("bands", {}).items():
            low, high = (_size(end) for end in strings(ends))
            self.bands.setdefault(kind, (low, high))
        for kind, amounts in tables.get("known", {}).items():
            self.known.setdefault(kind, []).extend(strings(amounts))
        for what, heads in tables.get("heads", {}).items():
            self.heads.update({head: what for head in strings(heads) if head not in self.heads})

    @cached_property
    def given_stems(self) -> frozenset[str]:
        """What marks of systems that are given outside the documents begin with: of W3 the letter, since W4 is then one too."""
        return frozenset(mark.rstrip("-.0123456789") for v in self.vocabularies for mark in v.words("marks"))

    def sizes(self, kind: str) -> frozenset[Fraction]:
        """The sizes that a kind can have, in base units; empty where it can have any."""
        if (found := self._sizes.get(kind)) is None:
            found = self._sizes[kind] = frozenset(_size(amount) for amount in self.known.get(kind, ()))
        return found

    def in_band(self, kind: str, size: Fraction) -> bool:
        """Whether a size is one that a kind can have; True where nothing is known."""
        low, high = self.bands.get(kind, (size, size))
        return low <= size <= high

    @cached_property
    def ranges(self) -> dict[tuple[str, str], tuple[Usual, ...]]:
        """What is usual, by kind and subject."""
        return ranges_of(v.tables.get("ranges", {}) for v in self.vocabularies)

    def unusual(self, kind: str, subject: str, amount: Quantity, per: Quantity | None = None, type_: str = "") -> str:
        """Why what a fact says of a subject is out of the ordinary, in a few words, or nothing."""
        rate = per is not None and kind != "package" and bool(per.size)
        size = amount.size / per.size if rate and per is not None else amount.size
        measure = (amount.unit.dimension, per.unit.dimension if rate and per is not None else NUMBER_ONLY)
        return unusual(self.ranges.get((kind, subject), ()), size, measure, type_)

    def _alike(self, one: str, other: str) -> bool:
        """Whether as much is said of one product as of another, what words choose of it aside."""
        first, second = (self.kinds.get(product, frozenset()) - _CHOSEN for product in (one, other))
        return first == second

    @cached_property
    def _tagger(self) -> Tagger:
        return Tagger(self.stock.index, self.stock.units, self._alike)

    def tags(self, text: str) -> list[Tag]:
        """Every known word, number and sign of a text, in order and without overlap."""
        tags = with_stops(self._tagger.tags(text), text)
        tags = with_strange_goods(tags, text, self.words_of("general"), self.words_of("other_goods"), self.knows)
        tags = with_letters(without_mere_sides(tags, text, self.words_of("which_one")), text, self.letters)
        tags = with_sides(tags, text, self.numbered_sides)
        tags = with_short_sorts(with_layers(tags, text, self.layer_words), text, self.short_sorts)
        return with_courses(without_sorts_of_others(tags, self.chosen), text)

    @cached_property
    def heights(self) -> Heights:
        """Words for parts of the height of a surface."""
        tables = [v.tables.get("part_of_height", {}) for v in self.vocabularies]
        keys = {key for table in tables for key in table}
        return Heights.of({key: [w for table in tables for w in strings(table.get(key))] for key in keys})

    @cached_property
    def choices(self) -> dict[tuple[str, str], str]:
        """Of what a word chooses, by its key and value: `("sheen", "satin")` is of a finish. A vocabulary's `[choices]` says so of the
        values that it lists itself; where `[by_label]` lists some of them, of those alone."""
        return {
            (key, value): str(subject)
            for vocabulary in self.vocabularies
            for key, subject in vocabulary.tables.get("choices", {}).items()
            for value in vocabulary.tables.get("by_label", {}).get(key) or vocabulary.tables.get(key, {})  # type: ignore[attr-defined]
        }

    def chosen(self, tag: Tag) -> str:
        """Of what a word chooses, or nothing. Colors are no list: any name of one chooses."""
        open_ = self._choosing.get(tag.name, "") if tag.name == "color" else ""
        return self.choices.get((tag.name, tag.value), open_)

    @cached_property
    def _choosing(self) -> dict[str, str]:
        return {key: str(of) for v in self.vocabularies for key, of in v.tables.get("choices", {}).items()}

    @cached_property
    def finished(self) -> frozenset[str]:
        """The surfaces that something of ours is said to go on; others in a schedule are of other trades."""
        return frozenset({"door", "trim", *WIDE, *(surface for some in self.surfaces.values() for surface in some)})

    @cached_property
    def layer_words(self) -> dict[str, str]:
        """The layer that a bare word names behind what it is of."""
        return self.meaning("layer_words")

    places_instead = cached_property(lambda self: self.meaning("instead"))
    """What a place on the work means for a kind, `joint / spacing`."""
    numbered_sides = cached_property(lambda self: self.meaning("numbered_sides"))
    """The side of a wall that a number or a letter tells."""
    short_sorts = cached_property(lambda self: self.meaning("short_sorts"))
    """The sort of goods that letters tell beside them."""
    letters = cached_property(lambda self: self.meaning("condition_letters"))
    """The condition that a letter in brackets tells."""

    @cached_property
    def hues(self) -> frozenset[str]:
        """Words of which the name of a color is made."""
        return self.words_of("hues")

    @cached_property
    def records(self) -> dict[str, str]:
        """What labels that name records say: behind `rooms` any name is a room's, behind `known` a known one is."""
        return self.meaning("records")

    def words_of(self, *tables: str) -> frozenset[str]:
        """All words of some tables."""
        if (found := self._words_of.get(tables)) is None:
            found = self._words_of[tables] = frozenset(word for v in self.vocabularies for word in v.words(*tables))
        return found

    @cached_property
    def names(self) -> Names:
        """What can name a place that no list knows."""
        return Names(
            self.plain,
            self.stock.parts,
            self.words_of("no_place", "common"),
            [word for v in self.vocabularies for word in v.words("numbered_place")],
            self.words_of("label_only"), self.words_of("sided"), self.words_of("no_side"),
            self._nouns("heads"), self._nouns("alone"), tuple(sorted(self._nouns("dwellings"))), self._nouns("counted"), self._nouns("buildings"), self._nouns("several"), self._nouns("dividing"), self._nouns("beside"),
            self.words_of("carrying"), self.meaning("short_rooms"), self._nouns("papers", "no_place"), self.words_of("sorts"),
        )  # fmt: skip

    def meaning(self, name: str) -> dict[str, str]:
        """The words of a table's lists, each with the key of its list."""
        tables = [v.tables.get(name, {}) for v in self.vocabularies]
        return {word: key for table in tables for key, said in table.items() for word in strings(said)}

    def _nouns(self, key: str, table: str = "place_nouns") -> frozenset[str]:
        return frozenset(w for v in self.vocabularies for w in strings(v.tables.get(table, {}).get(key)))

    def strangers(self, tags: Sequence[Tag], text: str) -> list[tuple[int, str]]:
        """The words of a text that stand in no list, and where: they tell how far a reading of it can be believed."""
        at, spans, out = 0, [(t.start, t.end) for t in tags], []
        for match in _WORD.finditer(text):
            while at < len(spans) and spans[at][1] <= match.start():
                at += 1
            low = match[0].lower()
            inside = at < len(spans) and spans[at][0] < match.end()
            if not inside and not self.knows(low):
                out.append((match.start(), match[0]))
        return out

    def in_coats(self, product: str) -> bool:
        """Whether a product is put on in coats."""
        return "coats" in self.kinds.get(product, ())

    def says_nothing(self, word: str) -> bool:
        """Whether a lower-case word is one of plain English or of papers, which names nothing."""
        return (word in self.plain or word in self._common) and word not in self.hues

    def knows(self, word: str) -> bool:
        """Whether a lower-case word stands in any list, as a phrase's word or as one that says nothing, or numbers a section of works."""
        listed = word in self.plain or word in self._common or word in self.stock.parts or self._does(word)
        return listed or word.upper() in self.words_of("sections")

    def _does(self, word: str) -> bool:
        """Whether a word is what is done by a known verb: `applying`, `hanging`, `fixing`."""
        stem = word[:-3] if word.endswith("ing") else ""
        return any(form in self.plain for form in (stem, stem + "e", stem[:-1])) if len(stem) > 2 else False

    def told(self, text: str) -> list[tuple[int, str]]:
        """The words of a text that explain what is usual instead of saying what is wanted, and where."""
        return [(m.start(), m[0]) for m in _WORD.finditer(text) if m[0].lower() in self._telling]

    _telling = cached_property(lambda self: self.words_of("telling"))
    _common = cached_property(lambda self: self.words_of("common", "telling", "no_place"))


_WORD = re.compile(r"[A-Za-z][A-Za-z'’-]+")


@lru_cache(8)
def _lexicon(vocabularies: tuple[Vocabulary, ...]) -> Lexicon:
    lexicon = Lexicon(vocabularies, stock_of(vocabularies), {}, {}, {}, {}, {}, {}, {}, {}, {}, set(), {})
    for vocabulary in vocabularies:
        lexicon._learn(vocabulary.tables)
        lexicon.plain.update(vocabulary.words("plain"))
    return lexicon


def _size(text: str) -> Fraction:
    """Size in base units of an amount, or a bare number."""
    number = value_of(text)
    if number is not None:
        return number
    value, unit = parse(text)
    return value * unit.factor
