"""Unit prices that documents ask for: `Unit Price No. 1: Additional Level 5 finish on walls, per 100 sq ft.`

None of it is ordered: a clause that asks for a price makes no rules. What is asked, and for how much of it, is told here, to be priced.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from attrs import frozen

from darby.quantities.amounts import Amount, Origin
from darby.reading.layout.normalize import mend
from darby.reading.layout.segmenter import clauses
from darby.reading.parsing.tagging.tag import Tag
from darby.reading.read import Language
from darby.text.spans import Source, Span, View

_ASKS = re.compile(
    r"\bunit\s{1,3}(?:price|rate)s?\b|\bprices?\s{1,3}(?:per|for\s{1,3}each)\b|\bprice\s{1,3}of\s{1,3}the\s{1,3}following\b",
    re.IGNORECASE,
)
_OPENS = re.compile(
    r"(?:[^:.]{0,40}?\b)?(?:unit\s{1,3}(?:price|rate)|price)s?\b\s{0,3}(?:(?:no\.?|number|#|item)\s{0,3})?(?P<number>[0-9]{1,3}[a-z]?|[a-z](?=\s{0,2}[:.)-]))?"
    r"\s{0,3}(?:[:.)\-\u2013\u2014]\s{0,3}|(?:for|of)\b\s{0,3})?",
    re.IGNORECASE,
)
_MARK = re.compile(
    r"\s{0,3}(?:UP|U\.P\.)\s{0,2}-?\s{0,2}(?P<number>[0-9]{1,3}[A-Za-z]?)\s{0,3}[:.)\-\u2013\u2014]\s{0,3}"
)
_MEASURES = frozenset("LENGTH_UNIT AREA_UNIT VOLUME_UNIT MASS_UNIT CONTAINER".split())


@frozen(eq=False)
class PriceRequest:
    """One unit price that a document asks for."""

    number: str
    """As it is told apart: `1`, `2A`; nothing where it has none."""
    per: Amount | None
    """For how much; None where that is not in a measure that is known."""
    said: str
    """How much, as it is written: `per 100 sq ft`."""
    what: str
    """What is asked for, in the words of the document, without its number and its measure."""
    span: Span


def price_requests(source: Source, language: Language) -> tuple[PriceRequest, ...]:
    """The unit prices that a document asks for, in its order."""
    if "price" not in (low := source.text.casefold()) and "unit rate" not in low:
        return ()
    layout = clauses(mend(source, language.known), language.known, language.means)
    found = []
    for clause in layout.clauses:
        own, asked = clause.text, _ASKS.search(clause.text) is not None
        under = any(_ASKS.search(parent.text) for parent in clause.parents)
        if (asked or under) and (one := _request(clause.view, own, language, headed=under and not asked)) is not None:
            found.append(one)
    return tuple(found)


def _request(view: View, text: str, language: Language, *, headed: bool) -> PriceRequest | None:
    tags = language.lexicon.tags(text)
    per = _per(tags, text)
    if per is None:
        return None
    start, end, amount = per
    number, begin = "", 0
    if (mark := _MARK.match(text)) is not None:
        number, begin = mark["number"], mark.end()
    while not headed and (opened := _OPENS.match(text, begin)) is not None and begin < opened.end() <= start + 1:
        number, begin = opened["number"] or number, opened.end()  # `Unit prices: state a price` opens twice
    before, after = text[min(begin, start) : start], text[end:]
    what = " ".join(f"{before} {after}".split()).strip(" ,;:.-\u2013\u2014").removeprefix("for ").removeprefix("of ")
    return (
        PriceRequest(number.upper(), amount, " ".join(text[start:end].split()).strip(" .,;"), what, view.whole)
        if what
        else None
    )


def _per(tags: Sequence[Tag], text: str) -> tuple[int, int, Amount | None] | None:
    """Where a clause says for how much, and how much that is."""
    for at, tag in enumerate(tags):
        if tag.name != "PER" or at + 1 >= len(tags):
            continue
        rest = list(tags[at + 1 : at + 3])
        count = rest.pop(0) if rest and rest[0].name == "NUMBER" else None
        if not rest or (rest[0].name not in _MEASURES and rest[0].name not in ("EACH", "surface")):
            continue
        unit, end = rest[0].unit, rest[0].end
        number = count.number if count is not None else 1
        if unit is None or number is None or number <= 0:
            return tag.start, end, None
        return tag.start, end, Amount.of(number, unit, Origin("unit price", text[tag.start : end]))
    return None


def named(one: PriceRequest) -> str:
    """What it goes by: `Unit price 1`."""
    return f"Unit price {one.number}" if one.number else "Unit price"
