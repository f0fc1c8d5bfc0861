"""Text that keeps its place: a source, a span in it, and a view that was mended but still points at the source."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterable
from functools import cached_property

from attrs import field, frozen

_LINE_END = re.compile(r"\r\n|\r|\n")
_LINE_OR_PAGE_END = re.compile(r"\r\n|\r|\n|\f")
_LETTER = re.compile(r"\w")


@frozen(slots=False, eq=False)
class Source:
    """One document exactly as the user gave it. `name` is what is shown as its file name."""

    name: str
    text: str = field(repr=False)
    """All of it, with its own line ends."""
    unit: str = "line"
    """What places are told in: `line`; `paragraph`, where each line of `text` with a letter or digit in it is one; `page`,
    where form feeds part the pages."""

    @classmethod
    def shipped(cls, package: str, name: str) -> Source:
        """A text file that lies beside a package's code. Raises FileNotFoundError, ModuleNotFoundError."""
        from importlib.resources import files  # noqa: PLC0415

        return cls(f"{package}/{name}", (files(package) / name).read_text(encoding="utf-8"))

    @cached_property
    def line_starts(self) -> list[int]:
        """Offsets at which lines begin; the first is 0."""
        end = _LINE_OR_PAGE_END if self.unit == "page" else _LINE_END
        return [0, *(m.end() for m in end.finditer(self.text))]

    @cached_property
    def part_starts(self) -> list[int]:
        """Offsets at which pages, or paragraphs, begin; of a document that has lines only, its lines."""
        if self.unit == "page":
            return [0, *(m.end() for m in re.finditer("\f", self.text))]
        if self.unit == "paragraph":
            starts = self.line_starts
            filled = [
                s for s, e in zip(starts, [*starts[1:], len(self.text)], strict=True) if _LETTER.search(self.text, s, e)
            ]
            return [0, *filled[1:]]
        return self.line_starts

    def part(self, offset: int) -> int:
        """The page, or the paragraph, of an offset, counted from 1; of a document that has lines only, the line."""
        return bisect_right(self.part_starts, offset)

    def where(self, offset: int) -> str:
        """A place as one looks it up: `line 12`, `page 3, line 12`, `paragraph 17`."""
        part, _, line = self.line_name(self.place(offset)[0]).partition(":")
        return f"{self.unit} {part}, line {line}" if line else f"{self.unit} {part}"

    def place(self, offset: int) -> tuple[int, int]:
        """Line and column of an offset, both counted from 1."""
        line = bisect_right(self.line_starts, offset)
        return line, offset - self.line_starts[line - 1] + 1

    def line_text(self, line: int) -> str:
        """One line, counted from 1, without its line end."""
        starts = self.line_starts
        end = starts[line] if line < len(starts) else len(self.text)
        return self.text[starts[line - 1] : end].rstrip("\r\n\f" if self.unit == "page" else "\r\n")

    def line_name(self, line: int) -> str:
        """What a line, counted from 1, is called beside its text: its number; with pages `3:12`; with paragraphs theirs."""
        start = self.line_starts[line - 1]
        if self.unit == "page":
            first = bisect_right(self.line_starts, self.part_starts[self.part(start) - 1])
            return f"{self.part(start)}:{line - first + 1}"
        return str(self.part(start))

    def span(self, start: int, end: int) -> Span:
        """The stretch from `start` up to, not including, `end`."""
        return Span(self, start, end)


@frozen(order=False)
class Span:
    """A stretch of a source. Line and column are worked out when asked for."""

    source: Source
    start: int
    end: int

    @property
    def text(self) -> str:
        """The text of the stretch, as the user gave it."""
        return self.source.text[self.start : self.end]

    @property
    def line(self) -> int:
        """Line of the first character, counted from 1."""
        return self.source.place(self.start)[0]

    @property
    def column(self) -> int:
        """Column of the first character, counted from 1."""
        return self.source.place(self.start)[1]

    @property
    def last(self) -> tuple[int, int]:
        """Line and column of the last character."""
        return self.source.place(max(self.start, self.end - 1))

    def join(self, other: Span) -> Span:
        """The shortest stretch that holds both. Both must lie in one source."""
        if other.source is not self.source:
            raise ValueError("spans of two sources cannot be joined")
        return Span(self.source, min(self.start, other.start), max(self.end, other.end))

    @property
    def where(self) -> str:
        """The place of the first character as one looks it up: `line 12`, `page 3, line 12`, `paragraph 17`."""
        return self.source.where(self.start)

    def __str__(self) -> str:
        if self.source.unit != "line":
            return f"{self.source.name}, {self.where}, column {self.column}"
        return f"{self.source.name}:{self.line}:{self.column}"


def excerpt(span: Span, width: int = 100) -> list[str]:
    """The line of a span and a line of carets below it, cut to `width` around the span."""
    line = span.source.line_text(span.line).replace("\t", " ")
    begin = span.column - 1
    length = max(1, min(span.end - span.start, len(line) - begin))
    cut = max(0, begin - max(0, width - length) // 2) if len(line) > width else 0
    shown = line[cut : cut + width]
    marks = " " * (begin - cut) + "^" * min(length, max(1, width - (begin - cut)))
    return [shown, marks]


@frozen
class _Piece:
    """A run of a view's text and where it came from; `even` when character for character."""

    at: int
    text: str
    start: int
    end: int

    @property
    def even(self) -> bool:
        return len(self.text) == self.end - self.start


@frozen(slots=False, eq=False)
class View:
    """Mended text (markup gone, wrapped lines joined) in which every character still knows its place in the source.

    A view is made only by slicing, joining and replacing other views, so that a span taken from it always points at
    what the user wrote.
    """

    source: Source
    pieces: tuple[_Piece, ...] = field(repr=False)

    @classmethod
    def of(cls, source: Source) -> View:
        """The whole source, unmended."""
        return cls(source, (_Piece(0, source.text, 0, len(source.text)),))

    @cached_property
    def text(self) -> str:
        """The mended text."""
        return "".join(p.text for p in self.pieces)

    @cached_property
    def _starts(self) -> list[int]:
        return [p.at for p in self.pieces]

    def __len__(self) -> int:
        return len(self.text)

    def offset(self, at: int, *, end: bool = False) -> int:
        """Source offset of a character of the view; with `end`, the offset just behind the character before `at`."""
        if end:
            at -= 1
        if not self.pieces:
            return 0
        piece = self.pieces[max(0, bisect_right(self._starts, at) - 1)]
        if piece.even:
            return min(piece.start + (at - piece.at) + end, max(piece.end, piece.start))
        return piece.end if end else piece.start

    def span(self, start: int, end: int) -> Span:
        """The stretch of the source behind view characters `start` up to `end`."""
        first = self.offset(start)
        return Span(self.source, first, max(first, self.offset(end, end=True)) if end > start else first)

    @cached_property
    def whole(self) -> Span:
        """The stretch of the source behind the whole view."""
        return self.span(0, len(self.text))

    def cut(self, start: int, end: int) -> View:
        """The part of the view from `start` up to `end`."""
        return View(self.source, _renumber(self._cut(start, end)))

    def _cut(self, start: int, end: int) -> Iterable[_Piece]:
        if end <= start:
            return
        for n in range(max(0, bisect_right(self._starts, start) - 1), len(self.pieces)):
            piece = self.pieces[n]
            if piece.at >= end:
                return
            low, high = max(start - piece.at, 0), min(end - piece.at, len(piece.text))
            if low >= high:
                continue
            if piece.even:
                yield _Piece(0, piece.text[low:high], piece.start + low, piece.start + high)
            else:
                yield _Piece(0, piece.text[low:high], piece.start, piece.end)

    def replace(self, edits: Iterable[tuple[int, int, str]]) -> View:
        """A view in which each (start, end, text), in order and without overlap, has taken the place of what was there."""
        pieces: list[_Piece] = []
        done = 0
        for start, end, text in edits:
            pieces.extend(self._cut(done, start))
            if text:
                where = self.span(start, end)
                pieces.append(_Piece(0, text, where.start, where.end))
            done = end
        if not done and not pieces:
            return self
        pieces.extend(self._cut(done, len(self.text)))
        return View(self.source, _renumber(pieces))

    @staticmethod
    def join(views: Iterable[View], glue: str = " ") -> View:
        """Views one behind the other; the glue stands for what lay between them in the source."""
        views = list(views)
        pieces: list[_Piece] = []
        for view in views:
            if pieces and glue:
                last = pieces[-1].end
                pieces.append(_Piece(0, glue, last, last))
            pieces.extend(view.pieces)
        return View(views[0].source, _renumber(pieces))


def _renumber(pieces: Iterable[_Piece]) -> tuple[_Piece, ...]:
    out: list[_Piece] = []
    at = 0
    for piece in pieces:
        out.append(_Piece(at, piece.text, piece.start, piece.end))
        at += len(piece.text)
    return tuple(out)
