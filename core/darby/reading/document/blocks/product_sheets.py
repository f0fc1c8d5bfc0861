"""The sheet of one product: a document whose first lines name it, and whose labels say what it has, by whatever headings they stand.

`Brightwall Indoor Flat` over `SOLIDS`, `WEIGHT` and `RATE` is such a sheet: a rate below its third heading is of what the first line names.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from itertools import takewhile

from darby.reading.binding.site.conditions import GOODS
from darby.reading.binding.site.finding import Above, hint_of
from darby.reading.layout.clause import Clause
from darby.reading.parsing.tagging.tag import Tag
from darby.rules.found_by import FoundBy, at
from darby.text.spans import View

_PROPERTIES = ("PROPERTY", "WEIGHT_SHARE")
_FEWEST = 2
"""Such words that make a document a sheet."""
_TITLES = 5
"""Lines at the top among which the product is named."""
_LONGEST = 12
"""Words in a line of a title."""
_NAMES = ("subject", "sheen", "COAT")


def sheet_of(
    clauses: Sequence[Clause], tags: Callable[[View], Sequence[Tag]], heads: Mapping[str, str]
) -> Above | None:
    """The name of the product that a whole document is the sheet of, with the words in it that say what it is; None where it is no such sheet.
    `heads` are the words that heads of columns are known by."""
    said = [said for clause in clauses if not clause.cells for said in {_property(t) for t in tags(clause.view)} - {""}]
    if len(said) < _FEWEST:
        return None
    for clause in takewhile(_is_title, clauses[:_TITLES]):
        kinds = [t for t in tags(clause.view) if t.name in _NAMES]
        if kinds and " ".join(clause.text.lower().split()) not in heads:
            return Above(at(FoundBy.HEADING, clause.text), kinds)
    return None


def _property(tag: Tag) -> str:
    """The property that a word tells, or nothing."""
    return tag.name if tag.name in _PROPERTIES else hint_of(tag) if hint_of(tag) in GOODS else ""


def _is_title(clause: Clause) -> bool:
    text = clause.text.rstrip()
    plain = not clause.cells and not clause.label and ":" not in text and not text.endswith(".")
    return plain and len(text.split()) <= _LONGEST
