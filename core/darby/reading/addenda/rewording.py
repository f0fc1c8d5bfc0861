"""Words of the specification changed: the document read again as it then stands, and what it says otherwise than before.

A number has a place of its own in a rule, and is changed there (`addenda`). Words have none: they choose, name a place or a color, limit
what stands beside them. So the clause is read with the new words in it, and keeps the heading, the table and the mark it stands under.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import cached_property

from attrs import define, field, frozen

from darby.reading.addenda.instructions import Instruction
from darby.reading.addenda.wording.paragraph_names import Path, Stand, begins_with, is_item
from darby.reading.layout.normalize import mend
from darby.reading.read import Language, Reading
from darby.rules.name_matching import stems
from darby.rules.rule import Rule
from darby.text.spans import Span, View

Again = Callable[[Reading, View], Reading]
"""Reads a document again, as it stands in a view of it."""

_MOST = 200
"""Places at which some words are looked for."""
_WORD = re.compile(r"\w+|[^\w\s]")


@frozen(eq=False)
class Place:
    """Where some words stand in a document as it is now."""

    text: Text
    start: int
    end: int

    @property
    def span(self) -> Span:
        """The stretch of the document itself."""
        return self.text.view.span(self.start, self.end)

    @property
    def words(self) -> str:
        """The words as they stand there."""
        return self.text.view.text[self.start : self.end]


@define(eq=False, slots=False)
class Text:
    """One document of a specification, as the addenda so far leave it."""

    reading: Reading
    stands: Sequence[Stand]
    view: View
    behind: bool = False
    """Whether the reading is older than the view."""

    def holding(self, words: str, one: Instruction) -> list[Place]:
        """Where some words stand in the paragraph that an instruction names; in the whole of it, or its section, where it names none."""
        parts = [re.escape(part) for part in _plain(words).split()]
        if not parts:
            return []
        words = r"\s+".join(parts)
        pattern = re.compile(rf"(?<!\w){words}(?!\w)", re.IGNORECASE)
        found: list[Place] = []
        for match in pattern.finditer(_plain_signs(self.view.text)):
            place = Place(self, match.start(), match.end())
            if len(found) < _MOST and self._is_in(place, one.section, one.path):
                found.append(place)
        return found

    def stand_at(self, place: Place) -> Stand | None:
        """The clause in which some words stand."""
        at = bisect_right(self._starts, place.span.start)
        return self.stands[at - 1] if at else None

    def clause_around(self, place: Place) -> str:
        """The clause in which some words stand, with the headings it stands under."""
        stand = self.stand_at(place)
        if stand is None:
            return ""
        return " ".join([*(f"{p.label} {p.text}" for p in stand.clause.parents), stand.clause.label, stand.clause.text])

    def item_at(self, place: Place, item: str) -> bool:
        """Whether some words stand in the item of that number or letter, or below it."""
        stand = self.stand_at(place)
        return stand is not None and any(begins_with(c, item) for c in (stand.clause, *stand.clause.parents))

    def behind_item(self, place: Place, item: str) -> bool:
        """Whether the last item of its sort before some words is that one, though they stand in no list below it."""
        before = reversed(self.stands[: bisect_right(self._starts, place.span.start)])
        last = next((stand for stand in before if is_item(stand.clause, lettered=item[:1].isalpha())), None)
        return last is not None and begins_with(last.clause, item)

    def counts_like(self, item: str) -> bool:
        """Whether items of the document go by numbers of that sort: of `C1` those with a letter, of `5` those that are called items."""
        return any(is_item(stand.clause, lettered=item[:1].isalpha()) for stand in self.stands)

    @cached_property
    def _starts(self) -> list[int]:
        return [stand.start for stand in self.stands]

    def _is_in(self, place: Place, section: str, path: Path) -> bool:
        stand = self.stand_at(place)
        if stand is None or (section and stand.section not in (section, "")):
            return False
        return stand.path[: len(path)] == path


@frozen(eq=False)
class Turned:
    """What a change of words would do: the rules that no longer hold, and those that hold in their place."""

    gone: tuple[Rule, ...]
    made: tuple[Rule, ...]
    unread: bool
    """Whether the new words hold a number that could not be read."""
    touched: Span
    """The words that change, where they stand."""
    speaks: bool
    """Whether anything was read in the clause in which they stand."""
    _text: Text
    _after: tuple[Reading, View]

    def put(self) -> None:
        """Let the new words hold for what comes after."""
        self._text.reading, self._text.view = self._after


@define(eq=False)
class Texts:
    """The documents of a specification, in which words can be changed one after another."""

    language: Language
    again: Again
    texts: list[Text] = field(factory=list)

    def put_down(self, reading: Reading, stands: Sequence[Stand]) -> None:
        """Lay out a document."""
        self.texts.append(Text(reading, stands, reading.within or mend(reading.source, self.language.known)))

    def holding(self, one: Instruction) -> list[Place]:
        """Where the old words of an instruction stand; of several places those that its other words speak of."""
        assert one.old is not None
        found = self.standing(one.old.text, one)
        if one.item:
            found = self._in_item(found, one.item)
        if len(found) < 2:
            return found
        words = one.span.text.replace(one.old.text, " ").replace(one.new.text if one.new is not None else "", " ")
        said = _names(words)
        spoken = [(len(said & _names(f". {p.text.clause_around(p)}")), p) for p in found]
        best = max(count for count, _ in spoken)
        return [p for count, p in spoken if count == best]

    def standing(self, words: str, one: Instruction) -> list[Place]:
        """Everywhere some words stand in the paragraph or the section that an instruction names."""
        return [place for text in self.texts for place in text.holding(words, one)]

    def speaks_of(self, span: Span, names: set[str]) -> bool:
        """Whether the clause of a place, or what it stands under, has all of some words."""
        if not names:
            return True
        for text in self.texts:
            if text.reading.source is span.source:
                at = bisect_right([stand.start for stand in text.stands], span.start)
                clause = text.stands[at - 1].clause if at else None
                around = " ".join([*(p.text for p in clause.parents), clause.label, clause.text]) if clause else ""
                return set(stems(" ".join(names))) <= set(stems(around))
        return False

    def _in_item(self, found: list[Place], item: str) -> list[Place]:
        """The places of an item, or below it; all, where an addendum only counts its own changes by such numbers."""
        own = [place for place in found if place.text.item_at(place, item)]
        if own or not any(text.counts_like(item) for text in self.texts):
            return own or found
        return [place for place in found if place.text.behind_item(place, item)]

    def note(self, one: Instruction, old: Span, new: str) -> None:
        """A number that was changed in its rule: the text says it too, for what changes words beside it later."""
        assert one.old is not None
        found = self.holding(one)
        if len(found) == 1:
            text, start = found[0].text, found[0].start
            said = text.view.text[start : found[0].end]
            at = said.find(old.text)
            if at >= 0:
                start += at
                text.view, text.behind = text.view.replace([(start, start + len(old.text), new)]), True

    def turned(self, place: Place, words: str) -> Turned:
        """What the document says with other words in a place, and what it says no more."""
        start, end, said = _least(place, " ".join(words.split()))
        text = place.text
        if text.behind:
            text.reading, text.behind = self.again(text.reading, text.view), False
        view = text.view.replace([(start, end, said)])
        touched = text.view.span(start, end)
        before, after = text.reading, self.again(text.reading, view)
        old, new = _by_key(before.rules, touched), _by_key(after.rules, touched)
        gone = tuple(rule for key, rules in old.items() for rule in rules[len(new.get(key, ())) :])
        made = tuple(rule for key, rules in new.items() for rule in rules[len(old.get(key, ())) :])
        unread = {n.span.start for n in before.numbers if n.became == "unread"}
        fresh = [n for n in after.numbers if n.became == "unread" and n.span.start not in unread]
        stand = text.stand_at(place)
        speaks = stand is not None and any(touches(rule.span, stand.clause.view.whole) for rule in before.rules)
        unread_now = any(touches(n.span, touched) for n in fresh)
        return Turned(gone, made, unread_now, touched, speaks, text, (after, view))


def _by_key(rules: Iterable[Rule], touched: Span) -> Mapping[tuple[object, ...], list[Rule]]:
    """Rules by what they say and where they stand; of those in the words that change, which move within them, by what they say."""
    found: dict[tuple[object, ...], list[Rule]] = {}
    for rule in rules:
        at = () if touches(rule.span, touched) else (rule.span.start, rule.span.end)
        key = (rule.kind.name, rule.subject, rule.scope, rule.answer, rule.bound, rule.confirm, at)
        found.setdefault(key, []).append(rule)
    return found


def touches(span: Span, other: Span) -> bool:
    """Whether two stretches share text or meet."""
    return span.source is other.source and span.start <= other.end and other.start <= span.end


def _least(place: Place, words: str) -> tuple[int, int, str]:
    """What has to be put in, and where, so that the new words stand there: what both have at their ends stays as it is."""
    was = place.text.view.text[place.start : place.end]
    old, new = (list(_WORD.finditer(some)) for some in (was, words))
    old_words, new_words = ([m[0].lower() for m in some] for some in (old, new))
    head = _alike(old_words, new_words)
    tail = _alike(old_words[head:][::-1], new_words[head:][::-1])
    low = old[head - 1].end() if head else 0
    high = old[len(old) - tail].start() if tail else len(was)
    first = new[head - 1].end() if head else 0
    last = new[len(new) - tail].start() if tail else len(words)
    return place.start + low, place.start + max(low, high), words[first : max(first, last)]


def _alike(some: Sequence[str], others: Sequence[str]) -> int:
    """How many words both begin with."""
    return next((n for n, (a, b) in enumerate(zip(some, others, strict=False)) if a != b), min(len(some), len(others)))


def _names(text: str) -> set[str]:
    """The words of an instruction that name something: those with a capital or a digit, but the one that opens a sentence."""
    words = re.findall(r"[\w.-]*\w", text)
    names = [w for n, w in enumerate(words) if any(map(str.isdigit, w)) or (n and w[0].isupper())]
    return {w.lower() for w in names} - _COMMON


_COMMON = frozenset("paragraph section item article clause code delete insert change read for the and".split())


def _plain(text: str) -> str:
    return " ".join(_plain_signs(text).split()).strip("\"'.,; ")


def _plain_signs(text: str) -> str:
    """Quotation marks as typewriters have them, each sign in its place."""
    return text.translate({0x201C: '"', 0x201D: '"', 0x2018: "'", 0x2019: "'", 0x00A0: " "})
