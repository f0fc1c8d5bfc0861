"""The cells of one line: what pipes, tabs, commas, leader dots or wide gaps part, and the shape of each."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache
from typing import Literal, Protocol, TypeVar

from attrs import frozen

from darby.quantities.numerals import VULGAR, WORDS

Parted = Literal["", "gaps", "pipes", "tabs", "commas", "semicolons", "marks", "lines", "words"]
"""What parts the cells of a line; "" where the line is no row."""
Shape = Literal["number", "mark", "counted", "words", "none"]
"""What a cell looks like: a number with or without a unit, a code, words with digits, words alone, or nothing said."""

LEADER = re.compile(r"\s?\.{3,}\s?|\s?(?:\. ){3,}")
"""Dots that lead from a label to its value."""
GAP = re.compile(r"\s{2,}|\t")
_WORD = 5
_TYPED = re.compile(r"[A-Za-z]{4}\.  (?=[A-Z])")
"""Two blanks behind a full stop, as typists put them: they part sentences, and no cells."""
_SEPARATOR = re.compile(r"[\s|:+=_.-]{3,}")
_ONE_MARK = (
    r"(?:(?:[A-Z]{1,4}[-.]){0,2}[A-Z]{1,4}[-.]?[0-9]{1,3}|[A-Z]{1,2} [0-9]{1,3})[A-Za-z]?(?:[.-][0-9]{1,2})?"
    r"|[A-Z]{1,3}-[A-Z](?![A-Z])|[A-Z]"
)
_MARK = re.compile(rf"(?:{_ONE_MARK})(?:\s?(?:/|,|\+|&|\bor\b|\bOR\b|\band\b|\bAND\b)\s?(?:{_ONE_MARK})){{0,5}}")
LEADING_MARK = re.compile(r"(?P<mark>[A-Z]{1,3}-?[0-9]{1,3}[A-Za-z]?)\s(?=\S)")
"""A code with a digit that opens a line: `W1 3-5/8 in. ...`."""
_BEHIND_MARK = 4
"""Where at the least a line goes on that opens with no code."""
_NOTHING = re.compile(r"[-–—.·/]{0,4}|n/?a\.?|nil|none", re.IGNORECASE)
_CITING = re.compile(r"\s?(?:\([a-z0-9]{1,2}\)|\*{1,3}|[†‡¹²³⁴⁵⁶⁷⁸⁹])$")
DITTO = re.compile(r"\"|''|,,|〃|(?:-\s?)?(?:ditto|do\.?)(?:\s?-)?", re.IGNORECASE)
"""A sign that stands for the cell above."""
TICK = re.compile(r"\s*(?:[xX✓✔☑☒•●■*]|\([xX]\)|[yY](?:es)?)\s*")
"""A sign that what stands over a column holds for a row."""
_NUMBER = re.compile(rf"[<>~±+-]?\s?(?:[0-9]|\.[0-9]|[{''.join(VULGAR)}])")
_ORDINAL = re.compile(r"[0-9]{1,2}\s?(?:st|nd|rd|th)\b", re.IGNORECASE)
_FIRST_WORD = re.compile(r"[a-z]+(?:-[a-z]+)?")
_COUNTS = frozenset(w for w, n in WORDS.items() if " " not in w and n.denominator == 1)


class Line(Protocol):
    """What has to be known of a line to tell whether it is a row."""

    start: int
    end: int
    text: str
    shape: str
    indent: int
    kind: str
    label: str
    style: str
    blank_before: bool
    before: str
    """The blank before it."""


L = TypeVar("L", bound=Line)


def narrow(line: Line, low: int, high: int) -> None:
    """Leave of a line what stands between two places of its text."""
    line.start, line.end = line.start + low, line.start + high
    line.text, line.shape = line.text[low:high], line.shape[low:high]


@frozen
class Chunk:
    """One cell of a line: where its text stands in the view, and where it begins in its line."""

    start: int
    end: int
    at: int
    """Letters before it, or, where signs part the cells, how many cells."""

    @property
    def far(self) -> int:
        """Where it ends in its line, counted in letters."""
        return self.at + self.end - self.start


def spread_out(text: str) -> bool:
    """Whether a line is running text whose words a scanner or a justified column set apart: mostly gaps of two blanks."""
    gaps = GAP.findall(text)
    return len(gaps) > 4 and all(len(gap) == 2 for gap in gaps) and len(gaps) > len(text.split()) - len(gaps)


def is_rule(text: str) -> bool:
    """Whether a line only draws: `|---|---|`, `------  -----`, `+=====+`."""
    return _SEPARATOR.fullmatch(text) is not None


_SIGN: Mapping[Parted, str] = {"pipes": "|", "tabs": "\t"}
"""What parts cells, and stands in the blank before a line once for each empty cell that opens it."""


def parting(text: str) -> Parted:
    """What parts a line that is a row by itself; a single pipe and commas want more lines like it."""
    if text.count("|") >= 2:
        return "pipes"
    if "\t" in text:
        return "tabs"
    return "gaps" if LEADER.search(text) or GAP.search(text) else ""


def chunks(text: str, start: int, indent: int, parted: Parted, before: str = "") -> list[Chunk]:
    """The cells of a line that begins at `start` of its view. `before` is the blank that stands before it, with a sign for each empty cell."""
    if parted in ("pipes", "tabs", "commas", "semicolons"):
        cells = _fields(text, parted) if parted in ("commas", "semicolons") else _parted(text, parted)
        lead = before.count(_SIGN[parted]) if parted in _SIGN else 0
        return [
            Chunk(start + low, start + high, number + lead) for number, (low, high) in enumerate(cells) if high > low
        ]
    if parted == "marks":
        found = LEADING_MARK.match(text)
        cuts = [(found.end("mark"), found.end())] if found else []
        indent = indent if found else max(indent, _BEHIND_MARK)
    else:
        cuts = list(_gaps(text))
    out, at = [], 0
    for low, high in (*cuts, (len(text), len(text))):
        if low > at:
            out.append(Chunk(start + at, start + low, indent + at))
        at = high
    return out


def _gaps(text: str) -> Iterator[tuple[int, int]]:
    """Where wide gaps and leader dots stand, in order and without overlap."""
    leaders = [m.span() for m in LEADER.finditer(text)]
    at = 0
    for low, high in sorted(
        [*leaders, *(m.span() for m in GAP.finditer(text) if not _TYPED.match(text, m.start() - _WORD))]
    ):
        if low >= at:
            yield low, high
            at = high
        elif high > at:
            yield at, high
            at = high


def _parted(text: str, parted: Parted) -> list[tuple[int, int]]:
    """Cells between pipes or tabs, blanks around them taken off, empty ones kept; pipes at the ends part nothing."""
    sign = _SIGN[parted]
    low, high = 0, len(text)
    if parted == "pipes":
        low, high = int(text.startswith("|")), high - int(text.endswith("|") and high > 1)
    out = []
    for part in text[low:high].split(sign):
        lead = len(part) - len(part.lstrip())
        out.append((low + lead, low + max(lead, len(part.rstrip()))))
        low += len(part) + 1
    return out


def _fields(text: str, parted: Parted) -> list[tuple[int, int]]:
    """The fields of a line of comma-separated values; quotes around a field are no part of it."""
    sign = "," if parted == "commas" else ";"
    out, low = [], 0
    while low <= len(text):
        quoted = text.startswith('"', low)
        high = _closing(text, low + 1, sign) if quoted else -1
        if high < 0:
            high = text.find(sign, low)
            high = len(text) if high < 0 else high
            quoted = False
        body = text[low : high + quoted]
        lead = len(body) - len(body.lstrip())
        cell = (low + 1, high) if quoted else (low + lead, low + max(lead, len(body.rstrip())))
        out.append(cell)
        low = high + quoted + 1
    return out


def _closing(text: str, low: int, sign: str) -> int:
    """Where the quote ends that a field began with; -1 where it never does before a field could end."""
    high = text.find('"' + sign, low)
    if high < 0 and text.endswith('"') and len(text) > low:
        return len(text) - 1
    return high


def listed(text: str) -> Parted:
    """Whether a line could be comma-separated values: two signs or more, none with a blank behind it outside quotes."""
    for parted, sign in (("commas", ","), ("semicolons", ";")):
        if text.count(sign) >= 2:
            bare = re.sub(r'"[^"]{0,200}"', '""', text)
            if bare.count(sign) >= 2 and sign + " " not in bare and not bare.endswith("."):
                return "commas" if parted == "commas" else "semicolons"
    return ""


@lru_cache(maxsize=4096)
def shape(text: str) -> Shape:
    """What a cell looks like."""
    text = _CITING.sub("", text.strip())
    if not text or _NOTHING.fullmatch(text):
        return "none"
    if _MARK.fullmatch(text):
        return "mark"
    if _NUMBER.match(text):
        return "counted" if _ORDINAL.match(text) else "number"
    first = _FIRST_WORD.match(text.lower())
    if first and (first[0] in _COUNTS or first[0].split("-")[0] in _COUNTS):
        return "number"
    return "counted" if any(c.isdigit() for c in text) else "words"


def most(shapes: Iterable[Shape]) -> Shape:
    """The shape of at least half of the cells that say something; "none" where there is none."""
    found = [s for s in shapes if s != "none"]
    if not found:
        return "none"
    kind, often = Counter(found).most_common(1)[0]
    return kind if 2 * often >= len(found) else "words"
