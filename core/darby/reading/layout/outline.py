"""The outline of a document: which headings, paragraphs and lists a line stands under, and which it leaves."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Sequence
from itertools import pairwise

from attrs import define, field

from darby.quantities.units import unit_named
from darby.reading.layout.clause import Clause
from darby.reading.layout.lines import COUNTED, LABELLED, NAME, SENTENCE_END, STATES, Line, goes_over
from darby.reading.layout.openings import COUNTS, tell_systems
from darby.reading.layout.tables.cells import narrow

TITLE = 60  # letters of the longest title
_LABELLED = re.compile(r"[^:.;]{1,40}:\s+\S")
"""A line that says one thing of one name: several of them below a lead-in are its list, though nothing numbers them."""
_NOUGHT = re.compile(r"(?:\.0+)+\Z")
"""What a chapter that is counted from nought ends in: `2.0 HALL` stands over `2.1`."""
_ROMAN = re.compile(r"[ivx]{1,4}")
_ITEMS = ("whole", "upper", "lower", "roman upper", "roman lower")
"""How the items of lists are counted."""
_RECENT = 8
_DEEPEST = 12
"""Headings and lists that a clause can stand under: real documents have half as many."""


_SAYS = re.compile(
    r"(?:(?::|\s[–—-])\s[^:0-9]{0,16}?|\s(?=[0-9.,/]+ ?(?:%|[A-Z. ]+/[A-Z. ]+)\Z))\(?"
    r"(?:(?P<number>[0-9][0-9.,/ –-]{0,12})\)?\s?(?P<unit>%|(?:SQ\.? )?[A-Z]+)|(?:ONE|TWO|THREE|FOUR)\s[A-Z]+)"
)


def states_amount(text: str) -> bool:
    """Whether capitals say how much of something, and head nothing: `RATE: 250 SF/GAL`, `HALLS: TWO COATS`, where `ROOM: 101 OFFICE` does."""
    found = _SAYS.search(text)
    if found is None or found["number"] is None:
        return found is not None
    unit, few = found["unit"], len(found["number"].strip()) == 1
    return unit == "%" or unit_named(unit) is not None or (few and unit.endswith("S"))


_FIRST = frozenset(("1", "a", "i", "01"))
_BEHIND = re.compile(r"\s[0-9]{1,3}[A-Za-z]?(?=\s?[]:–—-]?$)")
"""The number behind a name, `Office 2:`, which counts nothing."""
_SET_OFF = re.compile(r"\[?(?P<name>[^][:]+?)(?:\]|\s?:|\s[–—-])")
"""A name in brackets, before a colon or before a dash."""
_A_MARK = re.compile(
    r"(?:[A-Z]{1,4}[-.]?[0-9]{1,3}[A-Za-z]?|[A-Z]{1,3}-[A-Z]{1,2}|(?:[A-Z][a-z]{2,11} )?(?i:type|system) (?:[A-Z]|[0-9]{1,2}[A-Z]?)):?"
)
"""The mark of a system alone on its line, over the lines that say what it is."""
_NAMED = 6  # words of the name of a chapter


def _tell_product(lines: Sequence[Line], means: Callable[[str], frozenset[str]]) -> None:
    """The name of goods behind a label for it, first of all or by itself, or below a title that is one: what stands below is of them."""
    for number, (line, below) in enumerate(pairwise(lines)):
        label, _, name = line.text.partition(": ")
        if number == 0 and "products" in means(line.text) and _names_goods(below, means):
            line.kind = below.kind = "title"
        graded = number == 0 and line.kind == "text" and not line.style and _GRADE.fullmatch(line.text) is not None
        if graded and "product" in means(line.text) and (below.blank_before or _LABELLED.match(below.text)):
            line.kind = "title"
        alone = not line.style and (number == 0 or (line.blank_before and below.blank_before))
        if alone and name and "products" in means(label) and "product" in means(name) and not COUNTS.search(name):
            line.kind, line.blank_before = "title" if number == 0 else "heading", True


def _names_goods(line: Line, means: Callable[[str], frozenset[str]]) -> bool:
    """Whether a line is the name of some goods: by a word for them, or by where and how they look: `Ceiling Matt`."""
    said = means(line.text)
    name = len(line.text) < TITLE and not line.style and not line.text.endswith(SENTENCE_END) and ":" not in line.text
    return (
        name and ("product" in said or (len(said) > 1 and NAME.fullmatch(line.text) is not None)) and not said & _VALUES
    )


_VALUES = {"measure", "unit"}
_GRADE = re.compile(r"(?:[A-Z][A-Za-z'’®™-]{2,20} ){1,5}[0-9]{1,4}[A-Za-z]?")
"""A name whose only figure is the last of it: `Setting Powder 90`."""


def tell_heads(lines: Sequence[Line], means: Callable[[str], frozenset[str]]) -> None:
    """Lines of a few words that say nothing by themselves and head what stands right below: items with the first item of another list
    below them, `B. Archive`, whose words are no goods and no surfaces; where two of a document are written so, marks alone and such names
    before a colon or in brackets."""
    for line in lines:
        if line.kind == "heading" and not line.style and (states := STATES.search(line.text)) is not None:
            line.kind = "text" if means(line.text[: states.start()]) & _VALUES else line.kind
    _tell_names(lines)
    tell_systems(lines)
    _tell_product(lines, means)
    names: list[Line] = []
    marks, sure = list[Line](), False
    for above, line, below in zip((None, *lines), lines, lines[1:], strict=False):
        plain = line.kind == below.kind == "text" and not (line.style or below.blank_before)
        opens = line.blank_before or above is None or above.kind != "text"
        if plain and opens and _A_MARK.fullmatch(line.text):
            marks.append(line)
        set_off = _SET_OFF.fullmatch(line.text)
        words = (set_off["name"] if set_off else line.text).split()
        short = 0 < len(words) <= _NAMED and len(line.text) < TITLE and words[0][0].isupper()
        closed = line.text.endswith((".", ";", "!", "?", ","))
        if not short or line.kind != "text" or COUNTS.search(_BEHIND.sub("", line.text)) or closed:
            continue
        if line.style in (*_ITEMS, "bullet", "point") and below.kind == "text":
            deeper = below.style != line.style or below.indent > line.indent or below.label[:1] != line.label[:1]
            first = below.style == "bullet" or below.label.strip("().").lower() in _FIRST
            named = not means(" ".join(words)) - {"place"}  # `A. Walls:` leads in what is said of walls
            if below.style and deeper and first and named:
                line.kind = "heading"
        elif (
            (opens or (not goes_over(above, line) and line.text.endswith(":")))
            and not (line.style or below.blank_before)
            and set_off
            and NAME.fullmatch(" ".join(words))
            and not means(" ".join(words)) - {"place"}
        ):
            names.append(line)
            sure |= opens or "place" in means(" ".join(words))
    for line in (*(marks if len(marks) > 1 else ()), *(names if len(names) > 1 and sure else ())):
        line.kind, line.blank_before = "heading", True
        set_off = _SET_OFF.fullmatch(line.text)
        if set_off and not line.text.endswith(":"):
            narrow(line, *set_off.span("name"))


def _tell_names(lines: Sequence[Line]) -> None:
    """Names over blocks of lines that have no blank line between them, or one on either side of the name, as of rooms with `Walls - ..`, `Ceiling - ..` or `Two coats ..`
    below each, with a colon behind the name or without one: they are headings, as behind a blank line, where two of them stand over the
    same label, or over lines that say how many."""
    names: list[tuple[Line, str]] = []
    for above, line, below in zip((None, *lines), lines, lines[1:], strict=False):
        label = LABELLED.match(below.shape) or COUNTED.match(below.text)
        apart = below.blank_before and not (line.blank_before and label is not None and label.re is LABELLED)
        plain = below.kind == "text" and not (line.style or below.style or apart)
        plain = plain and line.kind in ("text", "heading") and not goes_over(above, line)
        if plain and label is not None and NAME.fullmatch(line.text.removesuffix(":")):
            names.append((line, label[0].lower() if label.re is LABELLED else "counted"))
    if any(often > 1 for often in Counter(label for _, label in names).values()):
        for line, _ in names:
            line.kind, line.blank_before = "heading", True


@define(eq=False)
class Outline:
    """The stack of what the next clause stands under; `done` is the list of the clauses before it, as it grows."""

    done: list[Clause]
    stack: list[tuple[str, int, Clause]] = field(factory=list)
    """Style, rank and clause, the furthest first."""
    bodies: dict[int, int] = field(factory=dict)
    """How far in the lines stand below a heading, the least of them, by the `id` of its clause."""
    led: tuple[Clause, str, int] | None = None
    """A lead-in that stands in no list itself, and the style and indent of the list below it."""

    def place(self, clause: Clause, line: Line) -> None:
        """Put a clause that opens with a line under what it stands under."""
        style = self._style(line)
        if line.blank_before and not style and line.kind != "title":
            self.leave_finished()
        if not style and line.kind == "text":
            self.dedent(line.indent, apart=line.blank_before)
            if line.blank_before:
                self.leave_set_in(line.indent)
            self.stand_below(line.indent)
            clause.parents = self.path(line)
            return
        rank = line.indent
        if style == "bullet":
            self._pop(lambda s, r: s == "bullet" and r >= rank)
        elif style == "decimal":
            rank = _NOUGHT.sub("", line.label.strip(".")).count(".")
            self._pop(
                lambda s, r: s not in ("part", "hash", "title") and not (s == "decimal" and r < rank), everything=True
            )
            self._leave_other_chapters(line.label)
        elif style in ("part", "clause"):
            self._pop(lambda s, _: s not in ("title", *(("part",) if style == "clause" else ())), everything=True)
        elif style == "hash":
            rank = len(line.label)
            self._pop(lambda s, r: s != "title" and not (s == "hash" and r < rank), everything=True)
        elif style:
            if style == "whole" and line.shape.isupper() and not any(s == "upper" for s, _, _ in self.stack):
                self._pop(lambda s, _: s not in ("part", "title", "major"), everything=True)
            self._pop(lambda s, r: s == style or (s in ("indent", "bullet") and r >= rank))
        elif line.kind == "title":
            style = "title"
        elif line.blank_before:
            style = "major"
            if all(r > rank for s, r, _ in self.stack if s in ("upper", "whole")):
                self._pop(lambda s, r: s == "major" and r == rank)  # with the lists below the heading before it
            self._pop(
                lambda s, _: s not in ("title", "part", "decimal", "clause", "hash", "whole", "upper"), everything=True
            )
        else:
            style = "indent" if rank or not line.shape.partition(" (")[0].isupper() else "minor"
            again = any(s == style and r >= rank for s, r, _ in self.stack)
            self._pop(lambda s, r: s == style and r >= rank)
            if style == "minor" and not again and self.done and not self.done[-1].heading:
                self._pop(lambda s, _: s == "major")
        clause.parents = self.path(line)
        if len(self.stack) >= _DEEPEST:
            del self.stack[1]  # hostile nesting; the title stays
        self.stack.append((style, rank, clause))

    def _style(self, line: Line) -> str:
        """How a line is counted: `i`, `v` and `x` are letters where the letter before them stands above, else numerals of their own list."""
        letters = line.label.strip("().")
        if line.style not in ("upper", "lower") or not _ROMAN.fullmatch(letters.lower()):
            return line.style
        before = next((c.label.strip("().") for s, _, c in reversed(self.stack) if s == line.style), "")
        follows = len(letters) == len(before) == 1 and ord(letters) == ord(before) + 1
        return line.style if follows else f"roman {line.style}"

    def dedent(self, indent: int, *, apart: bool) -> None:
        """Leave what a line that stands further left cannot belong to: indented headings, lists, finished paragraphs. A line that is not
        set apart from lines that stand as far left as their numbered title still stands below it."""
        while self.stack:
            style, rank, clause = self.stack[-1]
            done = style == "bullet" or (style in _ITEMS and clause.text.rstrip().endswith("."))
            titled = clause.heading or (len(clause.text) < TITLE and not clause.text.rstrip().endswith(SENTENCE_END))
            done = done or (indent < rank - 1 and style in ("bullet", *_ITEMS))
            flush = not apart and self.bodies.get(id(clause), 0) <= rank
            body = style in _ITEMS and titled and self._has_body(clause) and not flush
            if indent <= rank and (style == "indent" or done or body):
                self.stack.pop()
            else:
                return

    def leave_finished(self) -> None:
        """Leave numbered sentences that are finished: what comes behind a blank line without a number is none of theirs."""
        while self.stack:
            style, _, clause = self.stack[-1]
            finished = not clause.heading and clause.text.rstrip().endswith(".")
            if style not in ("decimal", "clause", *_ITEMS) or not finished:
                return
            self.stack.pop()

    def stand_below(self, indent: int) -> None:
        """Note how far in a line stands below its heading."""
        if self.stack:
            key = id(self.stack[-1][2])
            self.bodies[key] = min(indent, self.bodies.get(key, indent))

    def leave_set_in(self, indent: int) -> None:
        """Leave headings whose lines all stand further in than they do: what begins as far left as these, behind a blank line, is
        none of theirs."""
        while self.stack:
            style, rank, clause = self.stack[-1]
            if style not in ("minor", "major", "indent") or indent > rank or self.bodies.get(id(clause), 0) <= rank:
                return
            self.stack.pop()

    def _has_body(self, clause: Clause) -> bool:
        return any(clause in c.parents for c in self.done[-_RECENT:])

    def _pop(self, drop: Callable[[str, int], bool], *, everything: bool = False) -> None:
        """Drop the first entry that matches and all above it; with `everything`, all that match from the top down."""
        if everything:
            while self.stack and drop(self.stack[-1][0], self.stack[-1][1]):
                self.stack.pop()
            return
        for at, (style, rank, _) in enumerate(self.stack):
            if drop(style, rank):
                del self.stack[at:]
                return

    def _leave_other_chapters(self, label: str) -> None:
        """Leave what is numbered under another chapter: `2.1.1` stands below no `1.4`."""
        chapter = label.partition(".")[0]
        for at, (style, _, clause) in enumerate(self.stack):
            own, dot, _ = clause.label.partition(".")
            if style == "decimal" and dot and own.isdigit() and chapter.isdigit() and own != chapter:
                del self.stack[at:]
                return

    def path(self, line: Line | None = None) -> tuple[Clause, ...]:
        """What a clause stands under that opens with a line, or a table, nearest first."""
        path = tuple(c for _, _, c in reversed(self.stack))
        last = self.done[-1] if self.done else None
        item = (line.style, line.indent) if line is not None else ("", 0)
        if last is not None and last.leads_in and last not in path and not last.heading and last.parents == path:
            self.led = last, *item
            return (last, *path)
        lead = self.led[0] if self.led is not None else None
        labels = line is not None and last is not None and not line.blank_before
        labels = labels and all(_LABELLED.match(one.text) for one in (line, last) if one is not None)
        if (
            last is not None
            and lead is not None
            and (item[0] or labels)
            and self.led == (lead, *item)
            and last.parents == (lead, *path)
        ):
            return (lead, *path)  # the next item of the list that it leads in
        return path
