"""By which rule of binding a part of a rule was found: codes, which `documents` words. No decision hangs on the words."""

from __future__ import annotations

from enum import StrEnum


class FoundBy(StrEnum):
    """Where a subject, a surface, a kind or a unit was found. What follows a colon in `bound_by` is the text it stood in."""

    FACT = "fact"
    PHRASE = "phrase"
    BEHIND = "behind"
    AHEAD = "ahead"
    COLON = "colon"
    COLON_SHEEN = "colon-sheen"
    SHEEN = "sheen"
    LABEL = "label"
    LABEL_SHEEN = "label-sheen"
    TAIL = "tail"
    PHRASE_BEFORE = "phrase-before"
    LIST_LEAD = "list-lead"
    LIST_TAIL = "list-tail"
    LIST = "list"
    OPENING = "opening"
    OWN_NAME = "own-name"
    BOTH = "both"
    FACT_BEFORE = "fact-before"
    SENTENCE = "sentence"
    SENTENCE_BEFORE = "sentence-before"
    NEXT_SENTENCE = "next-sentence"
    EXCEPTION = "exception"
    CLAUSE_BEFORE = "clause-before"
    PLACE = "place"
    CHANGE = "change"
    UNDER = "under"
    COLUMN = "column"
    KEY = "key"
    ROW = "row"
    LINE = "line"
    LEAD_IN = "lead-in"
    QUESTION = "question"
    HEADING = "heading"
    CITED = "cited"
    DEFINITION = "definition"
    IMPLIED = "implied"
    ONLY_UNIT = "only-unit"
    NUMBER_BEFORE = "number-before"
    COLUMN_UNIT = "column-unit"
    RATE = "rate"


def at(found: FoundBy, text: str) -> str:
    """A code with the text that it stood in: `heading: VARNISH`."""
    return f"{found}: {text}"


def code_of(how: str) -> str:
    """The code alone."""
    return how.partition(": ")[0]
