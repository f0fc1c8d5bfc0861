"""Legends whose rows run on in one line: `PT-1 Matte, Reed. PT-2 Satin, Slate.` is two rows, each of its own code."""

from __future__ import annotations

import re

_CODE = re.compile(r"(?P<stem>(?:[A-Z]{1,4}[-.])?[A-Z]{1,4}[-.]?)[0-9]{1,3}[A-Za-z]?")
_PARTED = r"\s?[:=]\s|\s[-–—]\s"
"""What parts a code from what is said of it."""
_TOLD = r"\s(?=[A-Z\"“'‘0-9]|[a-z-]{4})"
"""The same where nothing does: a word behind it that is no `on`, `and` or `is`."""
_SENTENCES = re.compile(r"(?<=[.;])\s+(?=[A-Z0-9\"“(])")
_LEAST = 2


def rows_of(text: str) -> list[tuple[int, int]]:
    """Where each row stands, and what is said of all of them behind the last; nothing where the text is no such legend."""
    first = _CODE.match(text)
    if first is None:
        return []
    code = rf"{re.escape(first['stem'])}[0-9]{{1,3}}[A-Za-z]?"
    parted = re.match(rf"{code}(?:{_PARTED})", text) is not None
    opens = _PARTED if parted else _TOLD
    if not re.match(rf"{code}(?:{opens})", text):
        return []
    before = r"(?:(?<=[.;,])|(?<=[A-Za-z)\"”]))\s+" if parted else r"(?<=[.;])\s+"
    cuts = [m.end() for m in re.finditer(rf"{before}(?={code}(?:{opens}))", text)]
    starts = [0, *cuts]
    if len(starts) < _LEAST:
        return []
    rows = list(zip(starts, [*cuts, len(text)], strict=True))
    more = [_SENTENCES.search(text, start, end) for start, end in rows]
    tail = more[-1]
    if tail is not None and not any(more[:-1]):
        rows[-1:] = [(rows[-1][0], tail.start()), (tail.end(), len(text))]
    return rows
