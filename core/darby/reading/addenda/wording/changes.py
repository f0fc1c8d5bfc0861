"""The changes that a sentence tells: which words stood there, and which stand there now.

Each pattern is one way in which people say it, and names the stretches `old` and `new`. Where words stand in no quotation marks a stretch
may hold more than the words themselves (`two coats on the lobby walls`): what of it stands in the specification is found there.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Literal

from darby.reading.addenda.wording.paragraph_names import DELETING

_QUOTE = r"(?:\"[^\"]{1,200}\"|“[^“”]{1,200}”)"
VALUE = rf"(?:{_QUOTE}|'[^']{{1,120}}'|[^\";:]{{1,80}}?)"
_END = r"(?=[.;]{0,2}\s*$|[.;]\s|,?\s+and\s+(?:in\s|change\b|revise\b|replace\b|delete\b|insert\b|add\b|[\"“])|\s+(?:in|of|under)\s{4,})"
"""Where words that stand in no quotation marks end: with the sentence, before another change, before the paragraph that is named (blank)."""
_NEW = rf"(?P<new>{_QUOTE}|{VALUE}{_END})"
_OLD = rf"(?P<old>{_QUOTE}|{VALUE}{_END})"
_AMOUNT = rf"(?:{_QUOTE}|(?<![0-9./])(?:[0-9]|\b(?:one|two|three|four|five)\b)[^\";:]{{0,60}}?)"
_WORDS = r"(?:the\s+)?(?:words?\s+|phrase\s+)?"
_GIVE = r"(?:provide|use|substitute|read|furnish|apply|install|supply|allow(?:\s+for)?)"
_GIVES = r"\b(?:provide|use|substitute|apply|furnish|install|supply|allow(?:\s+for)?|be|have|receive|get|call(?:s|ing)?\s+for|is|are|now|with|give)\s+"
_GIVEN = rf"(?:^\W{{0,9}}|[:.]\s+|\s{{4,}}|{_GIVES})(?:[^\";:]{{0,80}}{_GIVES})?(?:the\s+)?(?=[\w\"“'(])"
"""What stands before the words that are given, where these come first."""
_LIEU = r"(?:in\s+lieu\s+of|instead\s+of|in\s+place\s+of|rather\s+than)\s+(?:the\s+)?"
_WAS = r"(?:previously|formerly|originally|was|were)\s+"
_PAPERS = r"(?:specifications?|specs?|drawings?|schedules?|documents?)"
_CHANGES = tuple(
    re.compile(pattern, re.IGNORECASE)
    for pattern in (
        r"~~(?P<old>[^~]{1,120})~~\s*" + _NEW,
        rf"\b(?:change|revise|amend|upgrade|increase|reduce|decrease|alter|(?:go|goes|going)\s+(?:up|down)|raise|lower)[sd]?(?:ed)?\b[^\";]{{0,60}}?\bfrom\s+(?P<old>{VALUE})\s+(?:to\s+read|to|into)\s+{_NEW}",
        rf"\b(?:change|revise|amend|correct|modify)\b(?:[^\";:]{{0,60}}?\bfrom)?\s+(?P<old>{VALUE})\s+(?:to\s+read|to|into)\s+{_NEW}",
        rf"\breplace\s+(?P<old>{VALUE})\s+(?:with|by)\s+{_NEW}",
        rf"\bsubstitute\s+(?P<new>{VALUE})\s+for\s+{_OLD}",
        rf"\b(?:in\s+lieu\s+of|instead\s+of|in\s+place\s+of)\s+(?P<old>{VALUE}),?\s+{_GIVE}\s+{_NEW}",
        rf"\bwhere\s+(?:the\s+)?{_PAPERS}\s+(?:calls?\s+for|says?|reads?|shows?|requires?)\s+(?P<old>{VALUE}),?\s+{_GIVE}\s+{_NEW}",
        rf"\bfor\s+(?P<old>{VALUE})\s+read\s+{_NEW}",
        rf"\bwhere(?:ver)?\s+(?:the\s+words?\s+)?(?P<old>{_QUOTE})\s+(?:appears?|occurs?|stands?|is\s+(?:used|shown|named))[^\";:.]{{0,40}}?,?\s+{_GIVE}\s+{_NEW}",
        rf"\bread\s+(?P<old>{VALUE})\s+as\s+{_NEW}",
        rf"\b(?:{DELETING}|deleting|omitting|removing|striking)\s+(?P<old>{VALUE})(?:\s+(?:from|in)\s+[^\";:,.]{{1,40}}?)?[,;]?\s+(?:and\s+)?(?:insert|substitute|write|provide|use|add|replace\s+with|inserting|substituting|writing|adding)\s+{_NEW}",
        rf"(?P<old>{_AMOUNT})\s+(?:becomes|is\s+changed\s+to|is\s+revised\s+to|changes\s+to)\s+{_NEW}",
        rf"(?P<old>{_QUOTE})\s+(?:(?:is|are|shall\s+be|to\s+be)\s+(?:hereby\s+)?(?:replaced|changed|revised|amended|corrected)\s+(?:with|by|to(?:\s+read)?)|(?:shall|should|to|will)\s+(?:now\s+)?read|now\s+reads?)\s+(?P<new>{_QUOTE})",
        rf"(?:^\W{{0,9}}|[:,]\s+|\s{{4,}}|\bthe\s+)(?=[\w\"“'(])(?P<old>{VALUE})\s+(?:becomes?|(?:(?:is|are|to\s+be|shall\s+be)\s+)?(?:superseded|replaced)\s+(?:by|with))\s+{_NEW}",
        rf"(?:[:,]\s+|\s{{4,}}|\bthe\s+)(?=[\w\"“'(])(?!(?:is|are|to|shall)\b)(?P<old>{VALUE})\s+(?:(?:is|are|to\s+be|shall\s+be)\s+)?(?:changed|revised|amended)\s+(?:to\s+read|to|into)\s+{_NEW}",
        rf"\bwas\s+(?P<old>{VALUE})[,;]\s+(?:is\s+)?now\s+{_NEW}",
        rf"\bnow\s+(?P<new>{VALUE})\s*[(,]\s*{_WAS}(?P<old>[^()\";:]{{1,80}})\)",
        rf"{_GIVEN}(?P<new>{VALUE})\s*\({_WAS}(?P<old>[^()\";:]{{1,80}})\)",
        rf"{_GIVEN}(?P<new>{VALUE}),?\s+{_LIEU}(?!{VALUE},?\s+{_GIVE}\s){_OLD}",
        rf"{_GIVEN}(?P<new>{VALUE}),?\s+(?:and\s+)?not\s+(?:the\s+)?{_OLD}",
        rf"(?:^\W{{0,9}}|[:,]\s+|\s{{4,}})(?=[\w\"“'(])(?P<old>{VALUE})\s*(?:->|=>|→|⇒)\s*{_NEW}",
    )
)
_AGAIN = re.compile(
    rf"(?:\band|,)\s+(?P<old>{_QUOTE})\s+(?:to\s+read|to|into|with|by)\s+(?P<new>{_QUOTE})", re.IGNORECASE
)
"""A further change under the verb of the one before it: `.. and "this" to "that"`."""
_SIDE = r"(?:immediately\s+|directly\s+)?(?P<side>after|following|behind|before|ahead\s+of)"
INSERTS = tuple(
    re.compile(pattern, re.IGNORECASE)
    for pattern in (
        rf"\b(?:insert|add)(?:ed)?\s+{_WORDS}(?P<new>{_QUOTE})\s+{_SIDE}\s+{_WORDS}(?P<old>{_QUOTE})",
        rf"\b{_SIDE}\s+{_WORDS}(?P<old>{_QUOTE}),?\s+(?:insert|add)\s+{_WORDS}(?P<new>{_QUOTE})",
    )
)
"""Words put beside others, which stay."""
MAY = re.compile(
    r"~~|->|=>|→|⇒|\b(?:to|with|insert|substitute|existing|new|old|add|was|were|now|previously|formerly|originally|from|not|as|for|of|than|by|replac\w+|becom\w+)\b",
    re.IGNORECASE,
)
"""What every way has in it that `TELLS` does not list: a cheap look."""
WAS = re.compile(
    r"(?:was|were|from|old|existing|original(?:ly)?|previous(?:ly)?|delete|omit|for|change\s+from|as\s+(?:specified|issued|tendered))(?:\s+(?:text|wording|value|reading|requirement|specification))?",
    re.IGNORECASE,
)
IS_NOW = re.compile(
    r"(?:now|is|to|new|revised?|amended|proposed|replace(?:d)?(?:\s+(?:with|by))?|insert|add|read|change\s+to|as\s+(?:revised|amended))(?:\s+(?:text|wording|value|reading|requirement|specification|to))?",
    re.IGNORECASE,
)
"""Heads of two columns of which one has what stood there and the other what stands there now."""
_LONGEST = 2_000
"""Characters of a sentence that are looked at: beyond them it is none."""
_MOST = 20
"""Changes in one sentence."""


def changes_in(sentence: str) -> list[re.Match[str]]:
    """Every change that a sentence tells, in order: each begins behind the one before it."""
    found: list[re.Match[str]] = []
    sentence = sentence[:_LONGEST]
    patterns: Sequence[re.Pattern[str]] = (*INSERTS, *_CHANGES)
    while len(found) < _MOST:
        at = found[-1].end() if found else 0
        matches = [m for m in (p.search(sentence, at) for p in patterns) if m is not None]
        if not matches:
            break
        found.append(min(matches, key=lambda m: m.start()))
        patterns = (*INSERTS, *_CHANGES, _AGAIN)
    return found


def beside(change: re.Match[str]) -> Literal["", "before", "behind"]:
    """On which side of the old words a change puts the new ones; nothing where it puts them in their place."""
    side = change.groupdict().get("side")
    return "" if side is None else "before" if side.lower().startswith(("before", "ahead")) else "behind"
