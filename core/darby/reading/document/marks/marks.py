"""The marks of systems that a document defines (`PT-1`, `W3`, `System B`), found before anything is bound.

A mark is defined where a row's key, a label or a heading is nothing but a code and what stands beside or below it names goods or
their properties. A single letter is a mark only where it is defined like that; a paragraph number never is.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections import Counter
from collections.abc import Callable, Collection, Container, Iterator, Mapping, Sequence
from functools import cached_property
from itertools import takewhile

from attrs import evolve, frozen

from darby.reading.document.marks.definitions import of_other_goods, of_sides, subject_of
from darby.reading.document.marks.mark_openings import (
    ARE,
    AT_END,
    LABEL,
    LED,
    NAMED,
    OPENS,
    OPENS_PART,
    RUN_ON,
    SINGLE_BEFORE,
    SINGLE_BEHIND,
    SORTED,
    TITLED,
    bracketed,
    brought,
    common,
    going_on,
    labelled,
    lettered_heads,
    named_by,
    names_goods,
    over_labels,
    spoken_of,
    titled_so,
    typed,
)
from darby.reading.document.marks.mark_spelling import CALLED, CALLED_ALONE, CODE, any_of, bare
from darby.reading.document.marks.no_marks import (
    itemised,
    numbers_of_clauses,
    numbers_of_notes,
    numbers_of_sections,
    of_a_sheet,
    used,
)
from darby.reading.layout.clause import Clause
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.parsing.tagging.letters import capitals_of
from darby.reading.parsing.tagging.tag import OPENS_DEFINITION, Tag, within
from darby.text.spans import View

Tags = Sequence[Tag]

_MEASURED = ("WET", "DRY", "SOLIDS", "PROPERTY", "WASTE")
_SERIES = 2
"""Marks of one sort that a document defines, from which on a line that opens with their like defines it too."""
_SPEAKS = tuple("subject sheen type color COAT LAYER hint THICK THIN_UNIT coat layer ON_CENTER".split())
_REACH = 60


@frozen(eq=False, slots=False)
class Marks:
    """The marks that one document defines; `tagged` finds them in a text."""

    defined: Mapping[str, Sequence[Tag]]
    """Each mark, and the words of its definition."""
    numbers: frozenset[str] = frozenset()
    """Codes that look like marks and number notes."""

    def without(self, items: Container[str]) -> Marks:
        """These marks without what only numbers items."""
        return Marks({mark: said for mark, said in self.defined.items() if mark not in items})

    def subjects(self, lexicon: Lexicon, kind: str) -> dict[str, str]:
        """Of what each system is: what its definition speaks of first that can be one."""
        return {mark: subject for mark, said in self.defined.items() if (subject := subject_of(said, lexicon, kind))}

    def surfaces(self, lexicon: Lexicon) -> dict[str, tuple[str, ...]]:
        """Where each system goes by its definition: the surfaces that it names, or the only one that its sides can be of."""
        on = {
            mark: dict.fromkeys([
                *(t.value for t in said if t.name == "surface"),
                *(value for t in said for key, value in t.also if key == "surface"),
                *(lexicon.where_surface[t.value] for t in said if t.name == "where" and t.value in lexicon.where_surface),
            ])
            for mark, said in self.defined.items()
        }  # fmt: skip
        return {mark: tuple(surfaces) for mark, surfaces in on.items() if len(surfaces) == 1}

    def alone(self) -> frozenset[str]:
        """Marks that are the only one to be defined for a surface: `PT-1 walls: ..` gives PT-1 to the walls, but where PT-2 is
        for walls too, each only says what it is for."""
        claims = {
            mark: {t.value for t in takewhile(lambda t: t.name not in ("COLON", "NUMBER", "STOP"), said) if t.name == "surface"}
            for mark, said in self.defined.items()
        }  # fmt: skip
        often = Counter(surface for surfaces in claims.values() for surface in surfaces)
        return frozenset(mark for mark, surfaces in claims.items() if all(often[s] == 1 for s in surfaces))

    def tagged(self, tags: Tags, text: str) -> Tags:
        """The tags of a text with a `mark` tag for each mark in it."""
        if not self.defined:
            return tags
        text = capitals_of(text)
        new = brought(text)
        found = [t for m in self._pattern.finditer(text) if (t := self._tag(m, text, new)) is not None]
        if not found:
            return tags
        ends = [m.end for m in found]
        kept = [t for t in tags if not ((n := bisect_right(ends, t.start)) < len(found) and found[n].start < t.end)]
        # `as W1`: the words before the mark say how it is meant, though a letter of it stands in their phrase
        carried = [t for t in tags if t.name == "CARRIED"]
        led = [evolve(t, end=m.start) for t in carried for m in within(found, t.start, t.end)[:1] if m.start > t.start]
        return sorted([*kept, *led, *found], key=lambda t: t.start)

    @cached_property
    def _pattern(self) -> re.Pattern[str]:
        return any_of(self.defined)

    def _tag(self, match: re.Match[str], text: str, new: Container[int]) -> Tag | None:
        if match[0].isdigit() and not CALLED.search(text, max(0, match.start() - _REACH), match.start()):
            return None  # a bare number is a mark only where it is called one
        if text[max(0, match.start() - 2) : match.start()] == "N/":
            return None  # `N/A`
        if len(match[0]) == 1 and not CALLED_ALONE.search(text, max(0, match.start() - _REACH), match.end()):
            behind = SINGLE_BEHIND.match(text, match.end())
            before = SINGLE_BEFORE.search(text, max(0, match.start() - 16), match.start())
            if behind is None or (before is None and match.start()):
                return None
        opens = OPENS_PART.search(text, max(0, match.start() - _REACH), match.start()) is not None
        first = ARE.match(text)
        led = (
            opens
            or SORTED.search(text, 0, match.start()) is not None
            or match.start() in new
            or (first is not None and match.start() < first.end())
            or LED.search(text, max(0, match.start() - _REACH), match.start()) is not None
        )
        said = match[0] if match[0] in self.defined else self._spelled.get(bare(match[0]), match[0])
        also = (OPENS_DEFINITION,) if match.start() in new else ()
        return Tag(match.start(), match.end(), "mark", said, also=also, loose=not led)

    @cached_property
    def _spelled(self) -> dict[str, str]:
        """Each mark as it is defined, by its letters and digits alone."""
        return {bare(mark): mark for mark in reversed(list(self.defined))}


def marks_of(
    clauses: Sequence[Clause], tags: Callable[[View], Tags], *, kinds: bool = False, given: Collection[str] = (),
    labels: Container[str] = (), titles: Collection[str] = (), sections: Collection[str] = (), speaks: Callable[[Tags], object] | None = None,
) -> Marks:  # fmt: skip
    """The marks that some clauses define; `given` are the letters of marks that are used outside of them, `labels` words that
    number what is no mark, `titles` words by which a title tells that marks stand below it, `sections` numbers of sections of works; `speaks` tells whether words speak of what a
    system is of. With `kinds`, `Type A` is a kind of dwelling."""
    speaks = speaks or _speaks
    below: dict[int, list[Clause]] = {}
    for clause in clauses:
        for parent in clause.parents[:2]:
            below.setdefault(id(parent), []).append(clause)
    for keyed, more in going_on(clauses):
        below.setdefault(id(keyed), []).append(more)
    found: dict[str, Sequence[Tag]] = {}
    keys, told = set[str](), set[str]()
    for clause in clauses:
        under = bool(titles) and titled_so(clause, titles)
        for code, said in _defined(clause, below.get(id(clause), []), tags, titled=under):
            if (kinds and (len(code) == 1 or code.isdigit())) or code.rstrip(_ENDING).lower() in labels:
                continue
            found[code] = max(found.get(code, said), said, key=names_goods)  # a list of colors says not yet of what
            keys |= {code} if len(clause.cells) > 1 else set()
            told |= {code} if under else set()
    for clause, code in lettered_heads(clauses):
        found.setdefault(code, [*tags(clause.view), *_of(below.get(id(clause), []), tags)])
    for code, said in (one for one in labelled(clauses, tags) if one[0] in found):
        found[code] = max(found[code], said, key=names_goods)
    sure = {
        code
        for code in found
        if (len(code) > _SHORT and not code.isalpha())
        or code.rstrip(_DIGITS) in given
        or (code[1:] and {code} < keys)
        or code in told
        or used(code, clauses)
    }
    sure |= of_sides(found) | {c for clause in clauses for c in brought(capitals_of(clause.view.text)).values()}
    sure |= over_labels(clauses, below) & found.keys()
    notes = numbers_of_notes(clauses, lambda v: bool(speaks(tags(v))), below)
    none = {*of_other_goods(clauses, tags), *(notes - told)}
    none |= numbers_of_clauses(found, clauses) | {code for code in found if of_a_sheet(code, clauses)}
    found = {c: said for c, said in found.items() if c not in none}
    sure -= none
    sorts = {code.rstrip(_DIGITS) for code in sure if not code.isalpha()}  # of `E2` in a schedule: `E1: ..` is one too
    found = {c: said for c, said in found.items() if c in sure or (not c.isalpha() and c.rstrip(_DIGITS) in sorts)}
    stems = Counter(m["stem"] for code in found if (m := OPENS.match(code + " ")))
    for clause in clauses:
        opened = OPENS.match(capitals_of(clause.view.text)) if not clause.cells else None
        if opened is None or stems[opened["stem"]] < _SERIES:
            continue
        if opened["code"] not in found and _speaks(said := [t for t in tags(clause.view) if t.start >= opened.end()]):
            found[opened["code"]] = said
    numbers = numbers_of_sections(clauses, below, sections)
    marks = {c: said for c, said in found.items() if c not in numbers and not itemised(c, clauses, tags)}
    return Marks(marks, frozenset(notes))


_SHORT, _DIGITS = 2, "-.0123456789"
"""A mark of one letter, or of a letter and a digit, may be the number of a paragraph or an answer: it has to be used elsewhere. So
has one of letters alone, which may be any abbreviation."""
_ENDING = " -.0123456789abcdefghijklmnopqrstuvwxyz"


def _defined(
    clause: Clause, below: Sequence[Clause], tags: Callable[[View], Tags], *, titled: bool
) -> Iterator[tuple[str, Tags]]:  # fmt: skip
    cells = [c for c in clause.cells if not c.again]
    if len(cells) > 1:
        if cells[0].column is not None and cells[0].column.role in ("numbers", "units"):
            return  # the lines of a list, whatever letters count them; kinds of dwellings
        if any(t.name in _MEASURED for t in tags(cells[0].view)):
            return  # `DFT`, over another such label
        key = capitals_of(cells[0].view.text.strip().rstrip(":"))
        coded = cells[0].column is not None and cells[0].column.role == "marks"
        named = NAMED.fullmatch(key) or (TITLED.fullmatch(key) if coded else None)
        # what a system goes on is not what it is of
        behind = sorted(cells[1:], key=lambda c: c.column is not None and c.column.role == "surfaces")
        rest = [t for c in behind for t in (*tags(c.view), *(h for head in c.heads for h in tags(head)))]
        codes = sum(CODE.fullmatch(capitals_of(c.view.text.strip())) is not None for c in cells[1:])
        said = [*rest, *_of(below, tags)]
        # under a head of marks a row of bare numbers is of a system too; one of words may be of goods of others
        headed = coded and bool(cells[0].heads)
        headed = headed and any(c.view.text.lstrip()[:1].isdigit() for c in cells[1:])
        if (named or CODE.fullmatch(key)) and codes < len(cells) - 1 and (_speaks(said) or headed):
            yield (named["code"] if named else key), said
        return
    text = capitals_of(clause.view.text)
    named = named_by(clause, text) or (typed(text, tags(clause.view)) if titled else None)
    if named is not None:
        said = [*tags(clause.view), *_of(below, tags)]
        if _speaks(said):
            yield named["code"], said
        return
    if (clause.heading or clause.leads_in) and CODE.fullmatch(code := text.strip().rstrip(":")) and len(code) > 1:
        named_place = any(t.name in ("room", "ROOM_HEAD") for t in tags(clause.view))  # `ROOM 103`
        if not named_place and _speaks(said := _of(below, tags)):
            yield code, said
        return
    own = tags(clause.view)
    ends = AT_END.search(text.upper()) if clause.heading else None
    if ends is not None and any(t.name == "surface" for t in own):
        said = [*own, *_of(below, tags)]
        if _speaks(said):
            yield ends["code"], said
        return
    yield from common(text, own)
    yield from spoken_of(text, own)
    for at, code in brought(text).items():
        if _speaks(said := [t for t in own if t.start >= at + len(code)]):
            yield code, said
    if of := bracketed(text, own):
        said = [t for t in own if t.start >= of.end()]
        if _speaks(said):
            yield of["code"], said
        return
    starts = [0, *(m.end() for part in (_PART, _ADDED, RUN_ON) for m in part.finditer(text))]
    for label in filter(None, (LABEL.match(text, at) for at in starts[:_MOST_PARTS])):
        # `.. per ASTM D523: flat ..`
        standard = any(t.name == "CODE" and t.start < label.start("code") < t.end for t in own)
        if standard or (len(label["code"]) == 1 and not label[0].rstrip().endswith(":")):
            continue
        said = [t for t in own if t.start >= label.end()]
        said += _of(below, tags) if clause.heading or clause.leads_in else []
        if _speaks(said):
            yield label["code"], said


_ADDED = re.compile(r"\A[^:]{0,60}:\s+(?=[A-Z]{1,4}[-.]?[0-9]{1,3}[A-Za-z]?:)")
"""What leads to a system that a change brings: `Add to 1.2: C-3: ..`."""
_PART = re.compile(r"[;.]\s+")
_MOST_PARTS = 12
"""Parts of one clause that may each define a mark."""


def _of(clauses: Sequence[Clause], tags: Callable[[View], Tags]) -> list[Tag]:
    return [t for c in clauses[:6] for t in tags(c.view)]


def _speaks(tags: Sequence[Tag]) -> bool:
    return any(t.name in _SPEAKS for t in tags)
