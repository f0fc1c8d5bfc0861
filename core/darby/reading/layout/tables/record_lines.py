"""Lines that open the sheet of a room: its number, its name and how large it is, `G01  WAITING   Area 38 m2   Height 3000`; and those that
open the record of a mark.

A document has several of them, with the same things behind the name of each, and each stands over lines of its own.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import pairwise

from darby.reading.layout.tables.cells import Line
from darby.reading.layout.tables.heads import Means

_APART = r"(?:\s{2,}|\t\s*|\s?[|,;(]\s{0,4}|\s[–—-]\s)"
_MEASURE = (
    r"(?:[A-Za-z][A-Za-z.]{0,12}(?: [A-Za-z.]{1,12}){0,2}\s?[:=]?\s{0,6})?"
    r"[0-9]{1,5}(?:[.,'][0-9]{1,3})?[\"']?(?:\s?[xX×]\s?[0-9]{1,5}(?:[.,'][0-9]{1,3})?[\"']?){0,2}"
    r"\s?(?:m2|m²|sq\.? ?(?:m|ft)\.?|sqm|sf|mm|cm|m|ft|in)?\)?"
)
_RECORD = re.compile(
    rf"(?P<code>[A-Z]{{0,3}}[-.]?[0-9]{{1,3}}(?:[.-][0-9]{{1,3}})?[A-Za-z]?)(?:\s{{2,}}|\t|\s[–—-]\s|:\s+)"
    rf"(?P<name>[A-Z][^\s:;|]*(?: [^\s:;|]+){{0,5}}?)(?P<size>(?:{_APART}{_MEASURE}){{1,4}})$"
)
_LONGEST = 140
_FEWEST = 2


def record_lines(lines: Sequence[Line]) -> Iterator[tuple[int, re.Match[str]]]:
    """Such lines by their numbers, each as its code, its name and its size."""
    found = [
        (n, match, _shape(match["size"]))
        for n, (line, below) in enumerate(pairwise(lines))
        if len(line.text) < _LONGEST and not line.style and (match := _RECORD.match(line.text)) is not None
        and below.indent > line.indent
    ]  # fmt: skip
    often = Counter(shape for _, _, shape in found)
    for n, match, shape in found:
        if often[shape] >= _FEWEST:
            yield n, match


_CODED = re.compile(r"(?P<label>[A-Za-z][A-Za-z ]{2,18}?)\s?:\s{1,8}(?P<code>[A-Z]{1,4}[-.]?[0-9]{1,3}[A-Za-z]?|[A-Z])")
_LABELLED = re.compile(r"[A-Za-z][A-Za-z /]{1,24}:\s")


def coded_lines(lines: Sequence[Line], means: Means) -> Iterator[int]:
    """Lines that open the record of a mark, `Type: G1`, over lines with labels of their own, where there are several of them."""
    found = [
        (n, match["label"].lower(), match["code"])
        for n, (line, below) in enumerate(pairwise(lines))
        if (match := _CODED.fullmatch(line.text)) is not None and not line.style
        and _LABELLED.match(below.text) and not below.blank_before and "marks" in means(match["label"])
    ]  # fmt: skip
    codes: dict[str, set[str]] = {}
    for _, label, code in found:
        codes.setdefault(label, set()).add(code)
    for n, label, _ in found:
        if len(codes[label]) >= _FEWEST:
            yield n


def _shape(size: str) -> str:
    """What stands behind a name, whatever it measures."""
    return " ".join(re.sub(r"[0-9][0-9.,']*", "#", size.lower()).split())
