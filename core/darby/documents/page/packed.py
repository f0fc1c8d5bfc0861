"""What a page of a large job holds as data: deflated JSON in base 64, which its script lays out where somebody looks.

A page laid out in full takes nine kilobytes a room, and a browser minutes to show three thousand rooms of which nobody opens most.
"""

from __future__ import annotations

import json
import zlib
from base64 import b64encode
from typing import Any

from darby.documents.page.marked_text import Mark, Marked, Piece, Shelf
from darby.documents.words import clause, harmless, layer_of, one_line
from darby.estimate.working import Line

_LINES = 600
"""Lines of a document beyond which it is data, unless more of it is words than measures."""


def packed(value: object) -> str:
    """A value of lists and texts as letters and digits that need no escape anywhere."""
    text = json.dumps(value, ensure_ascii=False, separators=(",", ":"))
    return b64encode(zlib.compress(text.encode("utf-8", "surrogatepass"), 6)).decode("ascii")


def is_long(document: Marked) -> bool:
    """Whether a document is a long list of measures, which is read where a number leads to it and not from the top."""
    measured = sum(mark.kind == "measured" for mark in document.marks)
    return len(document.lines) > _LINES and measured > len(document.lines) // 2


def row_of(line: Line, books: Shelf, used_by: str) -> list[Any]:
    """A line of longhand: its label, how it was made, and for each place of its numbers the mark, the file and the line."""
    at: dict[str, list[str]] = {}
    for origin in line.origins:
        mark = books.mark_at(origin.place)
        if mark is not None and origin.place is not None and mark.name not in at:
            at[mark.name] = [
                mark.name,
                one_line(origin.place.source.name),
                origin.place.source.line_name(origin.place.line),
            ]
            mark.used_by[:] = mark.used_by or [used_by]
    rule = line.rule
    said = [] if rule is None else [clause(rule), layer_of(rule)]
    return [one_line(line.label), one_line(line.made), list(at.values()), *said]


def document_of(document: Marked) -> str:
    """The lines of a document, each its name and its pieces: a text, or what a mark of it takes."""
    return packed(
        [
            [document.source.line_name(number), [_piece(piece) for piece in line]]
            for number, line in enumerate(document.lines, 1)
        ]
    )


def _piece(piece: Piece) -> object:
    text = harmless(piece.text)
    mark: Mark | None = piece.mark
    if mark is None:
        return text
    return [text, mark.name, mark.kind, "\n".join(mark.said), piece.first, mark.used_by[0] if mark.used_by else ""]
