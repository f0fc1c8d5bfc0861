"""How the marks of systems are written, and how to find them in a text however they are spelled."""

from __future__ import annotations

import re
from collections.abc import Iterable

from darby.reading.parsing.tagging.letters import capitals_of

PARTED = r"(?:[A-Z]{1,4}[-.]){1,2}[A-Z]{1,4}[-.][0-9]{1,3}[A-Za-z]?"
"""A code of several parts: `INT-GB-2`."""
CODE = re.compile(
    rf"{PARTED}|"
    r"[A-Z]{1,4}[-. ]?[0-9]{1,3}[A-Za-z]?|[A-Z]{1,4}/[A-Z0-9]{1,2}|[0-9]{1,2}[A-Z]|[A-Z]{1,3}-[A-Z]{1,3}|[A-Z]{1,3}"
)
"""A code as a legend or a schedule has it, alone in its cell."""
_NUMBERED = r"(?:(?:no\.?|nr\.?|number)\s)?"
CALLED = re.compile(
    rf"\b(?:systems?|types?|formula|finish|code|mark)\s{_NUMBERED}(?:[0-9]{{1,3}}[A-Z]?(?:,\s|\sand\s|\s&\s)){{0,6}}$",
    re.IGNORECASE,
)
"""What calls a bare number a mark."""
CALLED_ALONE = re.compile(
    rf"\b(?:(?:systems?|formula|finish|code|mark)\s{_NUMBERED}|types?\s(?![CGSWX]\Z))[A-Z0-9]?\Z", re.IGNORECASE
)
"""What calls a letter a mark; `type X` is a sort of goods."""
_SPELLED = re.compile(r"(?P<letters>[A-Z]{1,4})(?P<sign>[-. ]?)(?P<number>[0-9]{1,3}[A-Za-z]?)")


def names_any(text: str, marks: Iterable[str]) -> bool:
    """Whether a text names one of some marks; no text names one of none."""
    marks = list(marks)
    return bool(marks) and any_of(marks).search(capitals_of(text)) is not None


def any_of(marks: Iterable[str]) -> re.Pattern[str]:
    """A pattern for any of some marks, the longest first."""
    either = "|".join(map(_loosely, sorted(marks, key=lambda m: (-len(m), m))))
    return re.compile(rf"(?<![A-Za-z0-9'’-])(?:{either})(?![A-Za-z0-9'’]|-[A-Za-z0-9])")


def bare(mark: str) -> str:
    """A mark by its letters and digits alone."""
    return "".join(filter(str.isalnum, mark))


def _loosely(mark: str) -> str:
    """A pattern for a mark as documents spell it, one this way and the next one that way: `PT-1`, `PT1`, `PT 1`."""
    found = _SPELLED.fullmatch(mark)
    if found is None:
        return re.escape(mark)
    # behind one letter only the sign that it is defined with: `B.2` may be a paragraph where `B2` is a mark
    between = "[-. ]?" if len(found["letters"]) > 1 else f"[{found['sign'].strip('-')}-]?"
    return f"{found['letters']}{between}{re.escape(found['number'])}"
