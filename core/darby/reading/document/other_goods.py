"""Goods of other trades that take the place of ours: by their codes in a schedule (`ACT-1`), or by words in its cells.

What replaces which of our goods each vocabulary says of its own (`[replaced]`). A code that a legend gives to such goods replaces what
its words replace; another code of theirs is told apart from a mark that nobody defines, and replaces nothing.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Container, Iterable, Mapping, Sequence
from functools import cached_property

from attrs import field, frozen

from darby.reading.document.marks.mark_openings import NAMED
from darby.reading.document.marks.mark_spelling import CODE
from darby.reading.layout.clause import Clause
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.parsing.tagging.letters import capitals_of
from darby.reading.parsing.tagging.tag import SET, Tag, within
from darby.reading.parsing.vocabulary import strings
from darby.text.spans import View

REPLACED, OTHERS = "REPLACED", "OTHERS"
"""Tags of what takes the place of our goods, which its value names, and of a mark of other goods that replaces none."""
_ANY = re.compile(r"(?<![A-Za-z0-9'-])(?P<letters>[A-Z]{1,4})(?:[-. ]?[0-9]{1,3}[A-Za-z]?)?(?![A-Za-z0-9'-])")
_CLOSES = re.compile(
    r"(?::|\s[-–—]|\s(?:is|are|to be|to remain|remains?|left))?\s(?P<words>[A-Za-z]+(?:[ -][A-Za-z]+){0,3})(?=\s*(?:[.,;)]|$))"
)
_COUNTED = ("COAT", "LAYER")
"""What letters mean behind a number, though goods of others have them for a code: `1 ct`."""
_LONGEST_CELL = 60
"""Letters of a cell whose words may say what is there instead; what is longer is a remark."""


@frozen(eq=False, slots=False)
class OtherGoods:
    """The goods of others that one document names."""

    lexicon: Lexicon
    defined: Mapping[str, str] = field(factory=dict)
    """Marks of goods that are none of ours, and what defines each."""
    ours: frozenset[str] = frozenset()
    """Marks of our systems, whatever their letters."""
    cells: frozenset[int] = frozenset()
    """The views that are cells of a table, by their `id`."""

    def tagged(self, tags: Sequence[Tag], view: View) -> Sequence[Tag]:
        """The tags of a view with those of other goods in the place of bare codes."""
        text = capitals_of(view.text)
        found = [*self._codes(text, cell=id(view) in self.cells)]
        found = [f for f in found if not any(t.name in _COUNTED for t in within(tags, f.start, f.end))]
        if not found and id(view) in self.cells and len(text) <= _LONGEST_CELL:
            found = [*self._words(text)]
        found = found or [*self._behind_surfaces(tags, text)]
        if not found:
            return tags
        ends = [o.end for o in found]
        kept = [t for t in tags if not ((n := bisect_right(ends, t.start)) < len(found) and found[n].start < t.end)]
        return sorted([*kept, *found], key=lambda t: t.start)

    def _codes(self, text: str, *, cell: bool) -> Iterable[Tag]:
        for match in _ANY.finditer(text):
            code = match[0]
            if code in self.ours or (code not in self.defined and not cell):
                continue
            letters = match["letters"] if len(match["letters"]) > 1 else ""
            goods = self._replaced(letters, self.defined.get(code, ""))
            if goods or (code in self.defined and any(c.isdigit() for c in code)):
                name, value = (REPLACED, SET.join(goods)) if goods else (OTHERS, "a mark of other goods")
                yield Tag(match.start(), match.end(), name, value, also=(("replaced", code),))

    def _behind_surfaces(self, tags: Sequence[Tag], text: str) -> Iterable[Tag]:
        """`walls P1, ceiling exposed`: words that close what is said of a surface, right behind its name."""
        for tag in tags:
            said = _CLOSES.match(text, tag.end) if tag.name == "surface" else None
            goods = self._replaced("", said["words"]) if said is not None else ()
            if said is not None and goods and any(p.fullmatch(said["words"]) for p in self._patterns.values()):
                by = (("replaced", " ".join(said["words"].lower().split())),)
                yield Tag(said.start("words"), said.end("words"), REPLACED, SET.join(goods), also=by)

    def _words(self, text: str) -> Iterable[Tag]:
        goods = self._replaced("", text)
        if goods:
            yield Tag(0, len(text), REPLACED, SET.join(goods), also=(("replaced", " ".join(text.lower().split())),))

    def _replaced(self, letters: str, words: str) -> tuple[str, ...]:
        return tuple(
            subject
            for subject, (codes, _) in self._said.items()
            if letters in codes or (words and self._patterns[subject].search(words))
        )

    @cached_property
    def _said(self) -> dict[str, tuple[frozenset[str], tuple[str, ...]]]:
        """What takes the place of each of our goods: the letters of codes, and words."""
        tables = (v.tables.get("replaced", {}) for v in self.lexicon.vocabularies)
        said = {subject: said for table in tables for subject, said in table.items() if isinstance(said, dict)}
        return {s: (frozenset(strings(t.get("codes"))), tuple(strings(t.get("words")))) for s, t in said.items()}

    @cached_property
    def _patterns(self) -> dict[str, re.Pattern[str]]:
        return {
            subject: re.compile(rf"\b(?:{'|'.join(map(re.escape, words)) or '(?!)'})\b", re.IGNORECASE)
            for subject, (_, words) in self._said.items()
        }


_EXPLAINED = re.compile(
    r"(?P<code>[A-Z]{1,4}(?:[-.]?[0-9]{1,3}| [0-9]{1,2})[A-Za-z]?)\s*(?::|\s[-–—]\s|\s{2,})\s*(?=[A-Za-z])"
)
"""A code and what it is; three digits that stand apart from the letters are the number of a room."""


def others_of(clauses: Sequence[Clause], ours: Container[str]) -> dict[str, str]:
    """Codes that a legend explains and that are no systems of ours, each with its explanation."""
    found: dict[str, str] = {}
    for clause in clauses:
        cells = [c for c in clause.cells if not c.again]
        if len(cells) > 1:
            code, said = capitals_of(cells[0].view.text.strip().rstrip(":")), " ".join(c.view.text for c in cells[1:])
            if CODE.fullmatch(code) and not any(CODE.fullmatch(capitals_of(c.view.text.strip())) for c in cells[1:]):
                found.setdefault(code, said)
        elif opens := _EXPLAINED.match(capitals_of(clause.view.text)):
            found.setdefault(opens["code"], clause.view.text[opens.end() :])
    return {code: said for code, said in found.items() if code not in ours and not _called(code, ours)}


def _called(code: str, ours: Container[str]) -> bool:
    """Whether a code is one of some marks with the word that calls it one: `TYPE 2` of a mark `2`."""
    named = NAMED.fullmatch(code)
    return named is not None and named["code"] in ours
