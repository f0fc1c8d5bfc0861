"""A pasted list as a file keeps it, whatever it was copied from: a spreadsheet, a table of a document, or lines as people write them."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator, Sequence

from darby.desk.files.folder import RefusedError

_RULED = re.compile(r"[\s|:+=-]+")
"""A line that only rules off the heads of a table."""
_APART = re.compile(r"\s{2,}|\t")
_NUMBER = r"(?:\d+[ -]\d+/\d+|\d+/\d+|\d+(?:\.\d+)?[ ]?[½¼¾⅛⅜⅝⅞]?)"
_INCHES = rf"{_NUMBER}[ ]?(?:inches|inch|in\b\.?|[\"″”])"
_SIDE = (
    rf"(?:{_NUMBER}[ ]?(?:feet|foot|ft\b\.?|['′’])(?:[ -]{{0,3}}(?:{_INCHES}|{_NUMBER}(?![\w'′’])))?|{_INCHES}|"
    rf"{_NUMBER}(?:[ ]?(?:mm|cm|metres|meters|m)\b)?)"
)
"""One side of a room: `12'-6"`, `12 ft 6 in`, `10 ft`, `3.81 m`, `12`; a number that stands before it is another one."""
_BY = r"\s*(?:[x×X*]|\bby\b)\s*"
_SIZED = re.compile(
    rf"(?P<name>\S.{{0,80}}?)[\s:,–—-]+(?P<sides>{_SIDE}(?:{_BY}{_SIDE}){{1,2}})\s*(?:high|h)?\.?", re.IGNORECASE
)
"""A room on a line of its own with its sides behind it: `Kiln room  12'-6" x 10 ft x 9 ft`."""
_SIDES = re.compile(rf"{_SIDE}(?:{_BY}{_SIDE}){{1,2}}", re.IGNORECASE)
_SPLIT = re.compile(_BY)
_LONGEST = 160
"""Letters of a line that may be a room with its sides."""
_KEYS = ("length", "width", "height")


def as_list(text: str) -> str:
    """A pasted list as comma-separated values: cells parted by tabs, bars or wide blanks, or rooms with their sides behind the name.

    What is comma-separated stays as it is. `RefusedError` says what is lacking.
    """
    text = text.replace("\r\n", "\n").strip("\n")
    lines = [line for line in text.split("\n") if line.strip()]
    sized = [_SIZED.fullmatch(line.strip()) if len(line) <= _LONGEST else None for line in lines]
    if lines and "\t" not in text and all(sized):
        return _written([["name", *_KEYS], *([m["name"].strip(), *_sides(m["sides"])] for m in sized if m is not None)])
    if len(lines) < 2:
        raise RefusedError(
            "Paste the line of headings and at least one row, or a room on each line: Office 12'-6\" x 10 ft x 9 ft."
        )
    if "\t" in text:
        return _written(_whole(list(csv.reader(io.StringIO(text), delimiter="\t"))))
    if all(line.count("|") for line in lines):
        rows = [
            [cell.strip() for cell in line.strip().strip("|").split("|")]
            for line in lines
            if not _RULED.fullmatch(line)
        ]
        return _written(_whole(rows))
    apart = [_APART.split(line.strip()) for line in lines]
    if "," not in lines[0] and ";" not in lines[0] and len(apart[0]) > 1:
        return _written(_whole(apart))
    return f"{text}\n"


def _whole(rows: Sequence[Sequence[str]]) -> list[list[str]]:
    """The rows with each column whose cells hold two or three sides (`12 ft x 10 ft`) taken apart into columns of their own."""
    made = [list(row) for row in rows]
    heads = next((row for row in made if sum(map(bool, row)) > 1), [])
    there = {head.strip().casefold() for head in heads}
    for at in reversed(range(len(heads))):
        cells = [row[at].strip() for row in made if row is not heads and at < len(row) and row[at].strip()]
        if cells and all(_SIDES.fullmatch(cell) for cell in cells) and not there & {"length", "width"}:
            many = max(len(_SPLIT.split(cell)) for cell in cells)
            for row in made:
                if at < len(row):
                    said = _KEYS[:many] if row is heads else _sides(row[at])
                    row[at : at + 1] = [*said, *[""] * (many - len(said))]
    return made


def _sides(said: str) -> list[str]:
    """The sides of `12 x 10 ft`: each with the unit of the last where it has none of its own."""
    sides = [side.strip(" .,") for side in _SPLIT.split(said.strip()) if side.strip()]
    unit = re.search(r"(?:ft|feet|mm|cm|m|metres|meters)$|'$", sides[-1], re.IGNORECASE) if sides else None
    return list(_with_unit(sides, unit[0] if unit else ""))


def _with_unit(sides: Sequence[str], unit: str) -> Iterator[str]:
    for side in sides:
        bare = re.fullmatch(r"\d+(?:\.\d+)?", side)
        yield (side + unit if unit == "'" else f"{side} {unit}") if bare and unit else side


def _written(rows: Sequence[Sequence[str]]) -> str:
    made = io.StringIO()
    csv.writer(made, lineterminator="\n").writerows(rows)
    return made.getvalue()
