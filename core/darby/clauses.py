"""A document to clauses: articles, paragraphs, lists, tables, wrapped lines; each clause knows what it stands under."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator, Sequence

from attrs import define, field, frozen

from darby.text import Span, View

_LABEL = re.compile(
    r"(?P<part>PART\s+[0-9]{1,2}|SECTION\s+[0-9][0-9O .]{0,12}[0-9O])(?:\s*[-–:]\s*|\s+|$)"
    r"|(?P<clause>[0-9]{3}|[0-9]{2}\s[0-9]{2}\s[0-9]{2})\s{2,}(?=[A-Z])"
    r"|(?P<decimal>[0-9]{1,3}(?:\.[0-9]{1,3}){1,5}\.?)\s+(?=[A-Z(\"'*])"
    r"|(?P<whole>[0-9]{1,3}[.)])\s+"
    r"|(?P<point>\.[0-9]{1,2})\s+"
    r"|(?P<upper>[A-Z][.)])\s+"
    r"|(?P<lower>[a-z][.)]|\([a-z0-9]{1,2}\)(?=\s+[A-Z]))\s+"
    r"|(?P<hash>#{1,6})\s+"
    r"|(?P<bullet>[-–—•*▪◦·o])\s+(?=\S)"
)
_RANK = {"part": 0, "hash": 1, "clause": 1, "decimal": 2}
_RULE = re.compile(r"\s*([*_=~-])\1{9,}\s*$")
_PAGE = re.compile(
    r"\bpage\s+[0-9IlOo][0-9A-Z-]{0,8}(?:\s+(?:of|0f)\s+[0-9IlOo]{1,5})?\s*$|^\s*-?\s*[0-9]{1,4}\s*-?\s*$|\bp\.\s*[0-9]{1,4}\s*$",
    re.IGNORECASE,
)
_RUNNING_TITLE = re.compile(
    r"\b(?:page|section|record|project|issue|volume|bid set|revision|draft|rev)\b.{0,60}[0-9]|[0-9].{0,60}\b(?:page|section|record|project|issue|volume|bid set|revision|draft)\b",
    re.IGNORECASE,
)
LEADER = re.compile(r"\s?\.{3,}\s?|\s?(?:\. ){3,}")
_GAP = re.compile(r"\s{2,}")
_HEADING_LABELS = ("part", "hash", "clause")
_SENTENCE_END = (".", ";", ":", "!", "?")


@frozen(eq=False)
class Cell:
    """One cell of a table row and the heads of its column, the nearest last."""

    view: View
    heads: tuple[View, ...] = ()
    again: bool = False
    """Whether it is carried down from a row above, and its numbers were counted there."""


@define(eq=False)
class Clause:
    """A stretch of text that says one thing or a few, and what it stands under, nearest first."""

    view: View
    label: str = ""
    parents: tuple[Clause, ...] = ()
    cells: tuple[Cell, ...] = ()
    """Of a table row: its cells; the first one is the row's key."""
    heading: bool = False
    leads_in: bool = False
    """Whether it ends in a colon, so that what follows hangs on it."""

    @property
    def text(self) -> str:
        """The clause's mended text, without its label."""
        return self.view.text


@frozen
class Apart:
    """A stretch of the document that is no part of what it says, and why."""

    span: Span
    why: str


@frozen(eq=False)
class Layout:
    """A document taken apart."""

    clauses: tuple[Clause, ...]
    apart: tuple[Apart, ...]


@define(eq=False)
class _Line:
    start: int
    end: int
    text: str
    indent: int
    kind: str = "text"
    label: str = ""
    style: str = ""
    blank_before: bool = False
    why: str = ""


def clauses(view: View, known: Callable[[str], bool]) -> Layout:
    """Take a mended document apart. `known` tells whether a lower-case word is one of the language's."""
    lines = list(_lines(view.text))
    apart = list(_set_apart(lines, view))
    lines = [line for line in lines if line.kind != "apart"]
    _label_lines(lines, view, apart)
    builder = _Builder(view, known)
    for block in _blocks(lines):
        builder.add(block)
    builder.flush()
    return Layout(tuple(builder.done), tuple(apart))


def _lines(text: str) -> Iterator[_Line]:
    at, blank = 0, True
    for raw in text.split("\n"):
        stripped = raw.strip()
        if stripped:
            indent = len(raw) - len(raw.lstrip())
            yield _Line(at + indent, at + indent + len(stripped), stripped, indent, blank_before=blank)
            blank = False
        else:
            blank = True
        at += len(raw) + 1


def _set_apart(lines: list[_Line], view: View) -> Iterator[Apart]:
    """Page furniture and notes to the writer of the specification; their lines become `apart`."""
    shapes = Counter(re.sub(r"[0-9]+", "#", line.text.lower()) for line in lines)
    note = False
    for number, line in enumerate(lines):
        if _RULE.match(line.text):
            if line.text[0] == "*":
                note = not note and any(_RULE.match(after.text) for after in lines[number + 1 : number + 60])
            line.kind, line.why = "apart", "a rule between paragraphs"
        elif note:
            line.kind, line.why = "apart", "a note to the writer of the specification"
        elif _furniture(lines, number, shapes):
            line.kind, line.why = "apart", "a page header or footer"
        if line.kind == "apart":
            yield Apart(view.span(line.start, line.end), line.why)


def _furniture(lines: list[_Line], number: int, shapes: Counter[str]) -> bool:
    """Whether a line is a page's header or footer: a page number alone, or a line that comes back and names the book."""
    line = lines[number]
    if len(line.text) > 120:
        return False
    after = lines[number + 1] if number + 1 < len(lines) else None
    page = _PAGE.search(line.text)
    if page:
        if line.text.strip(" -").isdigit():
            return line.blank_before or after is None or after.blank_before
        alone = page.start() == 0 or line.text[: page.start()].endswith("  ")
        return alone and not re.search(r"[.;:]\s", line.text[: page.start()])
    repeated = shapes[re.sub(r"[0-9]+", "#", line.text.lower())] > 1
    return repeated and bool(_RUNNING_TITLE.search(line.text)) and not line.text.endswith(_SENTENCE_END)


def _label_lines(lines: list[_Line], view: View, apart: list[Apart]) -> None:
    capitals = sum(line.text.isupper() for line in lines) > 0.6 * len(lines)
    for number, line in enumerate(lines):
        match = _LABEL.match(line.text + " ")
        if match and len(_GAP.findall(line.text[match.end() :])) > 1:
            match = None  # a row of a table whose key is a number
        if match and not (match.lastgroup == "whole" and _is_quantity(line, match.end(), number, lines)):
            line.style = match.lastgroup or ""
            line.label = match[line.style].strip()
            apart.append(Apart(view.span(line.start, line.start + len(match[0].rstrip())), "the number of a paragraph"))
            skip = min(match.end(), len(line.text))
            line.start += skip
            line.text = line.text[skip:].strip()
            line.kind = "heading" if line.style in _HEADING_LABELS or _labelled_heading(line, capitals) else "text"
        elif number == 0 and _is_title(line):
            line.kind = "title"
        elif _is_heading(lines, number, capitals):
            line.kind = "heading"


def _labelled_heading(line: _Line, capitals: bool) -> bool:
    return (
        line.text.isupper()
        and not capitals
        and not line.text.endswith(_SENTENCE_END)
        and len(line.text) < 60
        and line.style != "bullet"
    )


def _is_title(line: _Line) -> bool:
    """Whether the first line names the document: no sentence, no label and value."""
    left = _GAP.split(line.text)[0]
    return (
        len(left) < 90
        and ":" not in left
        and not left.endswith((".", ";", "]"))
        and (left.isupper() or not re.search(r"[0-9]", left))
    )


def _is_quantity(line: _Line, end: int, number: int, lines: list[_Line]) -> bool:
    """Whether `12.` at the start of a line ends a wrapped sentence instead of opening a paragraph."""
    before = lines[number - 1].text if number and not line.blank_before else ""
    return bool(before) and not before.endswith(_SENTENCE_END) and line.text[end : end + 1].islower()


def _is_heading(lines: list[_Line], number: int, capitals: bool) -> bool:
    line = lines[number]
    text = line.text
    if (
        len(text) > 80
        or text.endswith((".", ",", ";", ":", "-"))
        or re.search(r"\s{3,}|\|", text)
        or not re.search(r"[A-Za-z]{3}", text)
    ):
        return False
    before = lines[number - 1] if number else None
    after = lines[number + 1] if number + 1 < len(lines) else None
    if before is not None and before.text.endswith("-"):
        return False
    if text.isupper() and not capitals:
        return (
            before is None
            or line.blank_before
            or before.kind != "text"
            or len(before.text) < 50
            or before.text.endswith(_SENTENCE_END)
        )
    if (
        len(text.split()) > 5
        or re.search(r"[0-9\"]", text)
        or not text[0].isupper()
        or after is None
        or after.kind == "heading"
    ):
        return False
    if after.indent > line.indent:
        return line.blank_before or before is None or before.indent > line.indent or before.text.endswith(_SENTENCE_END)
    return line.blank_before and not after.blank_before and after.text[:1].isupper()


def _blocks(lines: Sequence[_Line]) -> Iterator[list[_Line]]:
    """Runs of lines that stand together as a table, and all other lines singly."""
    at = 0
    while at < len(lines):
        end = at
        while (
            end < len(lines)
            and _columns(lines[end]) >= 2
            and not (end > at and lines[end].blank_before and not _pipes(lines[end]))
        ):
            end += 1
        # a cell that goes on below its label belongs to the table
        if end - at >= 1:
            while (
                end < len(lines)
                and not lines[end].blank_before
                and lines[end].indent >= _second(lines[at]) > 0
                and not lines[end].style
            ):
                end += 1
                while end < len(lines) and _columns(lines[end]) >= 2 and not lines[end].blank_before:
                    end += 1
        if end - at >= 2 or (end - at == 1 and LEADER.search(lines[at].text)):
            yield list(lines[at:end])
            at = end
        else:
            yield [lines[at]]
            at += 1


def _pipes(line: _Line) -> bool:
    return line.text.count("|") >= 2


def _columns(line: _Line) -> int:
    if line.style or len(line.text) > 400:
        return 0
    if _pipes(line):
        return 2
    if LEADER.search(line.text):
        return 2
    return 1 + len(_GAP.findall(line.text))


def _second(line: _Line) -> int:
    """Where the second column of a line begins, counted like an indent; 0 where there is none."""
    gap = _GAP.search(line.text)
    return line.indent + gap.end() if gap else 0


@define(eq=False)
class _Builder:
    """Joins lines to clauses and keeps the stack of what they stand under."""

    view: View
    known: Callable[[str], bool]
    done: list[Clause] = field(factory=list)
    stack: list[tuple[str, int, Clause]] = field(factory=list)
    open: list[_Line] = field(factory=list)
    clause: Clause | None = None

    def add(self, block: list[_Line]) -> None:
        if len(block) > 1 or (len(block) == 1 and LEADER.search(block[0].text)):
            self.flush()
            self._table(block)
            return
        line = block[0]
        if self._goes_on(line):
            self.open.append(line)
            return
        self.flush()
        self.clause = Clause(self.view.cut(line.start, line.end), line.label, heading=line.kind != "text")
        self.open = [line]
        self._place(line)

    def _goes_on(self, line: _Line) -> bool:
        """Whether a line continues the open clause."""
        if not self.open or line.style or line.kind != "text":
            return False
        last, first = self.open[-1], self.open[0]
        if line.blank_before:
            return False
        if last.text.endswith("-"):
            return True
        if self.clause is not None and self.clause.heading:
            return False
        if first.style and line.indent > first.indent:
            return not last.text.endswith(":")
        if last.text.endswith(_SENTENCE_END):
            return line.text[:1].islower()
        return (
            line.text[:1].islower()
            or line.text[:1] in "(\"'"
            or line.text[:1].isdigit()
            or len(last.text) > 45
            or last.text.endswith((",", "&"))
        )

    def _place(self, line: _Line) -> None:
        """Put the open clause under what it stands under."""
        assert self.clause is not None
        style = line.style
        if not style and line.kind == "text":
            self._dedent(line.indent)
            self.clause.parents = self._path()
            return
        rank = line.indent
        if style == "bullet":
            self._pop(lambda s, r: s == "bullet" and r >= rank)
        elif style == "decimal":
            rank = line.label.strip(".").count(".")
            self._pop(
                lambda s, r: s not in ("part", "hash", "title") and not (s == "decimal" and r < rank), everything=True
            )
        elif style in ("part", "clause"):
            self._pop(lambda s, _: s not in ("title", *(("part",) if style == "clause" else ())), everything=True)
        elif style == "hash":
            rank = len(line.label)
            self._pop(lambda s, r: not (s == "hash" and r < rank), everything=True)
        elif style:
            if style == "whole" and line.text.isupper() and not any(s == "upper" for s, _, _ in self.stack):
                self._pop(lambda s, _: s not in ("part", "title", "major"), everything=True)
            self._pop(lambda s, r: s == style or (s in ("indent", "bullet") and r >= rank))
        elif line.kind == "title":
            style = "title"
        elif line.blank_before:
            style = "major"
            self._pop(
                lambda s, _: s not in ("title", "part", "decimal", "clause", "hash", "whole", "upper"), everything=True
            )
        else:
            style = "indent" if rank or not line.text.isupper() else "minor"
            again = any(s == style and r >= rank for s, r, _ in self.stack)
            self._pop(lambda s, r: s == style and r >= rank)
            if style == "minor" and not again and self.done and not self.done[-1].heading:
                self._pop(lambda s, _: s == "major")
        self.clause.parents = self._path()
        self.stack.append((style, rank, self.clause))

    def _dedent(self, indent: int) -> None:
        """Leave what a line that stands further left cannot belong to: indented headings, lists, finished paragraphs."""
        while self.stack:
            style, rank, clause = self.stack[-1]
            done = style == "bullet" or (style in ("whole", "upper", "lower") and clause.text.rstrip().endswith("."))
            if indent <= rank and (style == "indent" or done):
                self.stack.pop()
            else:
                return

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

    def _path(self) -> tuple[Clause, ...]:
        path = tuple(c for _, _, c in reversed(self.stack))
        last = self.done[-1] if self.done else None
        if last is not None and last.leads_in and last not in path and not last.heading and last.parents == path:
            return (last, *path)
        return path

    def flush(self) -> None:
        """Close the open clause."""
        if self.clause is None:
            return
        self.clause.view = self._joined(self.open)
        text = self.clause.view.text.rstrip()
        self.clause.leads_in = text.endswith(":")
        self.done.append(self.clause)
        self.clause, self.open = None, []

    def _joined(self, lines: Sequence[_Line]) -> View:
        view = self.view.cut(lines[0].start, lines[0].end)
        for line in lines[1:]:
            more = self.view.cut(line.start, line.end)
            text = view.text
            if text.endswith("-") and len(text) > 1:
                head, tail = re.search(r"[A-Za-z]*-$", text), re.match(r"[a-z]+", more.text)
                if head and len(head[0]) > 1 and tail:
                    whole, kept = (head[0][:-1] + tail[0]).lower(), (head[0] + tail[0]).lower()
                    if self.known(whole) or not self.known(kept):
                        view = view.cut(0, len(text) - 1)
                view = View.join((view, more), "")
            else:
                view = View.join((view, more), " ")
        return view

    def _table(self, lines: list[_Line]) -> None:
        from darby.tables import rows  # noqa: PLC0415 - tables are rare

        parents = self._path()
        if not lines[0].style:
            self._dedent(lines[0].indent)
            parents = self._path()
        caption = self.done[-1] if self.done and not lines[0].blank_before else None
        if (
            caption is not None
            and not caption.cells
            and not caption.text.endswith(_SENTENCE_END)
            and caption not in parents
        ):
            parents = (caption, *parents)
        for clause in rows(self.view, [(line.start, line.end, line.text, line.indent) for line in lines]):
            clause.parents = parents
            self.done.append(clause)
