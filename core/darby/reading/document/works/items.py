"""The items of a schedule of works: what is numbered `B1` under the heading `B  Main hall` is said of the hall, and `as B1` takes it over.

Such a code looks like the mark of a system and is none: nothing gives it to a place, other items only refer to it. Found before
anything is bound, beside the marks; what a reference takes over is carried once all items are read (`carried`).
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping, Sequence
from functools import cached_property, lru_cache

from attrs import field, frozen

from darby.reading.layout.clause import Clause
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.parsing.tagging.tag import Tag, put
from darby.reading.parsing.vocabulary import strings

_CODE = re.compile(r"(?P<letters>[A-Z]{1,3})[-.]?[0-9]{1,3}[A-Za-z]?")
_OPENS = re.compile(r"(?P<code>[A-Z]{1,3}[-.]?[0-9]{1,3}[A-Za-z]?)(?:\s*[.:)–—-]\s+|\s+)(?=\S)")
_NUMBERED = re.compile(r"[0-9]{1,3}(?:\.[0-9]{1,3}){0,3}")
_LETTERS = re.compile(r"(?P<letters>[A-Z]{1,3})(?:[.:)]\s*|\s+|\s*[–—-]\s*)(?=[A-Z(])")
_REACH = 32
_FEWEST = 2
"""Items under one heading, or headings with an item, from which on their letters number them."""


@frozen(eq=False, slots=False)
class Items:
    """The items that one document numbers, and what refers to them."""

    clauses: Mapping[str, Clause] = field(factory=dict)
    """Each item by its number."""
    words: tuple[str, ...] = ()
    """What says that something is taken over: `as`, `same as`."""
    numbers: tuple[str, ...] = ()
    """What may stand before the number of an item: `item`, `clause`."""

    def tagged(self, tags: Sequence[Tag], text: str) -> Sequence[Tag]:
        """The tags of a text with a mark for each item that it refers to, and the words that say so before it."""
        if not self.clauses:
            return tags
        found: list[Tag] = []
        for match in self._pattern.finditer(text):
            found.append(Tag(match.start(), match.start("code"), "CARRIED", match[0]))
            found.append(Tag(match.start("code"), match.end("code"), "mark", match["code"], loose=True))
        return put(found, tags) if found else tags

    def number_of(self, clause: Clause) -> str:
        """The number of the item that a clause is, or nothing."""
        return self._numbers.get(id(clause), "")

    @cached_property
    def _numbers(self) -> dict[int, str]:
        return {id(clause): code for code, clause in self.clauses.items()}

    @cached_property
    def _pattern(self) -> re.Pattern[str]:
        codes = sorted(self.clauses, key=lambda c: (-len(c), c))
        plain = "|".join(re.escape(c) for c in codes if c.isdigit())  # `as 107` may be a room: only `as item 7` is one
        others = "|".join(re.escape(c) for c in codes if not c.isdigit())
        either = rf"(?P<code>{others or '(?!)'}|(?(number)(?:{plain or '(?!)'})|(?!)))"
        return re.compile(rf"{_before(self.words, self.numbers)}{either}(?![A-Za-z0-9]|[-./][A-Za-z0-9])")


def items_of(clauses: Sequence[Clause], marks: Collection[str], lexicon: Lexicon) -> Items:
    """The items that some clauses are, of the marks those that only number them, and of other numbered clauses those referred to."""
    tables = [v.tables.get("taken_over", {}) for v in lexicon.vocabularies]
    words, numbers = (tuple(w for t in tables for w in strings(t.get(which))) for which in ("words", "numbers"))
    led = re.compile(_before(words, numbers) + "$")
    own = {code: clause for clause in clauses if (code := _number(clause))}
    coded = {code: clause for code, clause in own.items() if code in marks or _CODE.fullmatch(code)}
    under = {code for code, clause in coded.items() if _heads(clause, code) or _listed(clause, numbers)}
    if len(under) < _FEWEST:
        under = set()
    given = _given(clauses, coded, led)
    kept = {code: clause for code, clause in coded.items() if code in under and code not in given}
    kept.update({code: clause for code, clause in own.items() if code not in coded})
    return Items(kept, words, numbers)


@lru_cache(4)
def _before(words: tuple[str, ...], numbers: tuple[str, ...]) -> str:
    """A pattern for the words that lead to the number of an item that is taken over."""
    takes, number = ("|".join(re.escape(w) for w in sorted(some, key=lambda w: -len(w))) for some in (words, numbers))
    return rf"(?i:(?<![A-Za-z])(?:{takes or '(?!)'})\s+(?P<number>(?:{number or '(?!)'})\s+)?)"


def _number(clause: Clause) -> str:
    """The number of an item, or nothing: the key of its row, the label of its line, the code that it opens with."""
    if clause.heading:
        return ""
    if len(clause.cells) > 1:
        key = clause.cells[0].view.text.strip(" .:)")
        opens = _OPENS.match(key)
        return key if _CODE.fullmatch(key) or _NUMBERED.fullmatch(key) else opens["code"] if opens is not None else ""
    label = clause.label.strip(" .:)(")
    if _NUMBERED.fullmatch(label) or _CODE.fullmatch(label):
        return label
    opens = _OPENS.match(clause.text)
    return opens["code"] if opens is not None else ""


def _heads(clause: Clause, code: str) -> bool:
    """Whether a heading over an item has its letters for its own number: `B  MAIN HALL` over `B1`."""
    found = _CODE.fullmatch(code)
    letters = found["letters"] if found is not None else ""
    for parent in clause.parents:
        opens = _LETTERS.match(parent.text)
        if parent.heading and letters in (parent.label.strip(" .:)("), opens["letters"] if opens else ""):
            return True
    return False


def _listed(clause: Clause, numbers: Collection[str]) -> bool:
    """Whether a row stands in a table whose first column is that of the items: `Item | Location | Work`."""
    heads = clause.cells[0].heads if clause.cells else ()
    return any(
        word.strip(" :|") in numbers for head in heads for word in (head.text.lower(), *head.text.lower().split())
    )


def _given(clauses: Sequence[Clause], coded: Mapping[str, Clause], led: re.Pattern[str]) -> set[str]:
    """Codes that stand somewhere else than before their own item and behind words that take it over."""
    if not coded:
        return set()
    either = "|".join(map(re.escape, sorted(coded, key=lambda c: (-len(c), c))))
    pattern = re.compile(rf"(?<![A-Za-z0-9'’-])(?P<code>{either})(?![A-Za-z0-9'’]|-[A-Za-z0-9])")
    return {
        match["code"]
        for clause in clauses
        for text, own in _texts(clause)
        for match in pattern.finditer(text)
        if not (own and not text[: match.start()].strip() and match["code"] == _number(clause))
        and not led.search(text, max(0, match.start() - _REACH), match.start())
    }


def _texts(clause: Clause) -> Iterator[tuple[str, bool]]:
    """The texts of a clause, and whether the number of an item may open each."""
    if not clause.cells:
        yield clause.text, True
    for number, cell in enumerate(clause.cells):
        if not cell.again:
            yield cell.view.text, number == 0
