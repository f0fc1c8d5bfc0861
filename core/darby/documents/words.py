"""Words that several documents share: text made harmless, an order as one would ring it up, a place as one looks it up."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterable
from functools import lru_cache
from math import ceil
from typing import NamedTuple

from darby.estimate.line_item import LineItem
from darby.estimate.model import Estimate
from darby.estimate.working import told
from darby.quantities.amounts import Amount
from darby.quantities.plurals import plural
from darby.quantities.units import EACH, NUMBER_ONLY
from darby.rules.found_by import FoundBy
from darby.rules.rule import SPECIFICATION, Rule
from darby.text.spans import Source, Span

_UNSEEN = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f\u00ad\u061c\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb\ufffe\uffff\ud800-\udfff]"
)
_LONG_NUMBER = re.compile(r"(?<![0-9.,/])[1-9][0-9]{3,}(?![0-9.,/])")
_SECTION = re.compile(r"\s*SECTION\s+([0-9]{2}[ -]?[0-9]{2}[ -]?[0-9]{2}|[0-9]{5})\b", re.IGNORECASE)
_PART = re.compile(r"\s*PART\s+[1-3]\b")
_ARTICLE = re.compile(r"\s*([1-3]\.[0-9]{1,2}\b|[1-9][0-9]?\.[0-9]{1,2}(?=(?: {2,}|\t)[A-Z]| [A-Z]{3}))")
"""An article by its number: of Parts 1 to 3 by that alone, of others where a title stands behind it."""
_PARAGRAPH = re.compile(r"\s*([A-Z])\.\s")
_DOTTED = re.compile(r"\s*(\.[0-9]{1,2})(?:[ ]{2,}|\t)\s*\S")
"""A paragraph that is counted on from its article: `.1` under 2.03 is 2.03.1."""
_ITEM = re.compile(r"\s*([0-9]{1,2})\.\s")


def harmless(text: str) -> str:
    """Text from outside on one line, its control characters and direction marks a replacement sign each."""
    return text if text.isprintable() else _UNSEEN.sub("\ufffd", text.replace("\t", " ").replace("\n", " "))


def one_line(text: str) -> str:
    """Harmless text with single spaces."""
    return " ".join(harmless(text.replace("\r", "\n")).split())


def sentence(text: str) -> str:
    """Some words as a sentence: a capital to open it, a stop to end it."""
    text = one_line(text)
    return f"{text[:1].upper()}{text[1:].rstrip('.')}." if text else ""


def kind_of(item: LineItem) -> str:
    """What tells the item from others of its product."""
    return one_line(str(item.pool))


def name_of(item: LineItem) -> str:
    """Product and what tells it from others: `varnish, satin`."""
    kind = kind_of(item)
    return one_line(item.product) + (f", {kind}" if kind else "")


def content_of(item: LineItem) -> Amount | None:
    """What one package holds: of 64 lb/pail, 64 lb. None where the package is unknown or goods are counted singly."""
    if item.package is None or not item.container:
        return None
    over = item.package.unit.over_parts
    return Amount.of(item.package.value, over[0] if over else "each")


def packages(item: LineItem, count: int) -> str:
    """So many packages of the item: `12 pails`, `1 pail`; goods that are counted singly are a number."""
    if not item.container or item.package is None:
        return f"{count:,} each"
    return str(Amount.of(count, item.package.unit.under[0]))


def heading_of(trade: str) -> str:
    """A trade's name as a heading."""
    return one_line(trade.replace("-", " ")).capitalize()


def so_many(item: LineItem, count: int) -> str:
    """So many packages and what is in them: `3 boxes of hooks`, `2 cans of varnish`; of goods without a package, `431 hooks`."""
    goods = one_line(item.product)
    if item.need.unit is EACH:
        goods = plural(goods)
    if not item.container or item.package is None:
        return f"{count:,} {goods if count != 1 else one_line(item.product)}"
    return f"{packages(item, count)} of {goods}"


def order_of(item: LineItem) -> str:
    """`12 pails of 64 lb`; what is missing where the package is unknown."""
    if item.count is None:
        return "package not known"
    content = content_of(item)
    return one_line(packages(item, item.count) + (f" of {told(content)}" if content is not None else ""))


def shown(need: Amount, system: str) -> str:
    """A need in the usual unit of `us` or `metric`, rounded for the eye; what is counted as whole pieces."""
    return f"{ceil(need.value):,}" if need.unit is EACH else str(need.in_system(system))


def grouped_digits(text: str) -> str:
    """A text whose whole numbers of four digits and more are written with commas: `1,000 per 1,000 sq ft`."""
    return _LONG_NUMBER.sub(lambda match: f"{int(match[0]):,}", text)


def place(span: Span | None) -> str:
    """File and line, or nothing: `section.txt, line 12`."""
    return f"{one_line(span.source.name)}, {span.where}" if span else ""


def places(spans: Iterable[Span | None]) -> str:
    """Where several numbers stand, each file named once: `job.toml, lines 5, 6 and 7`."""
    found: dict[str, dict[str, Span]] = {}
    for span in spans:
        if span is not None:
            found.setdefault(span.source.name, {}).setdefault(span.where, span)
    told = []
    for name, wheres in found.items():
        lines = sorted(s.line for s in wheres.values() if s.source.unit == "line")
        several = len(lines) == len(wheres) > 1
        told.append(f"{one_line(name)}, {f'lines {listed(map(str, lines))}' if several else listed(wheres)}")
    return "; ".join(told)


def clause_number(span: Span) -> str:
    """Section, article and paragraph as the document itself counts them, as far as it does: `09 91 23, 3.03 C`."""
    section, article, paragraph = _outline(span.source).at(span.line)
    if not article:
        paragraph = _item(span) or paragraph
    inner = (f"{article}{paragraph}" if paragraph.startswith(".") else f"{article} {paragraph}").strip()
    return ", ".join(filter(None, (section, inner)))


class _Outline(NamedTuple):
    """The lines at which a document counts on, and what stands from there on: section, article and paragraph."""

    lines: list[int]
    heads: list[tuple[str, str, str]]

    def at(self, line: int) -> tuple[str, str, str]:
        after = bisect_right(self.lines, line)
        return self.heads[after - 1] if after else ("", "", "")


@lru_cache(64)
def _outline(source: Source) -> _Outline:
    lines: list[int] = []
    heads: list[tuple[str, str, str]] = []
    section = article = ""
    for number in range(1, len(source.line_starts) + 1):
        line = source.line_text(number)[:200]
        if found := _SECTION.match(line):
            section, article = found[1], ""
            head = (section, "", "")
        elif _PART.match(line):
            article = ""
            head = (section, "", "")
        elif found := _ARTICLE.match(line):
            article = found[1]
            head = (section, article, "")
        elif (found := _PARAGRAPH.match(line)) or (article and (found := _DOTTED.match(line))):
            head = (section, article, found[1])
        else:
            continue
        lines.append(number)
        heads.append(head)
    return _Outline(lines, heads)


def _item(span: Span) -> str:
    for number in range(span.line, max(0, span.line - 20), -1):
        match = _ITEM.match(span.source.line_text(number))
        if match:
            return f"item {match[1]}"
    return ""


def whereabouts(span: Span) -> str:
    """A place as an architect looks it up, with the file and line as we have it: `09 91 23, 3.03 C (section.txt, line 55)`."""
    number = clause_number(span)
    return f"{number} ({place(span)})" if number else place(span)


def quote(span: Span) -> str:
    """The words of a stretch, on one line and no longer than one, in quotation marks."""
    text = one_line(span.text)
    return f"“{text if len(text) <= 160 else text[:159].rstrip() + '…'}”"


def says(rule: Rule) -> str:
    """What a rule says: `250 sq ft per gal`, `at least 2`; a bare count with its kind, `2 coats`."""
    said = grouped_digits(one_line(rule.says().replace(" per 1 ", " per ")))
    if rule.kind.amount != {NUMBER_ONLY} or rule.per is not None or rule.amount.unit is not EACH:
        return said
    one = rule.amount.value == 1 and rule.upper is None
    kind = rule.kind.name.removesuffix("s") if one else rule.kind.name
    return f"{said} {kind}" if rule.kind.name.endswith("s") else said


def rule_name(rule: Rule) -> str:
    """What a rule is about: `varnish coverage, ceiling`."""
    scope = f", {rule.scope}" if rule.scope else ""
    return one_line(f"{rule.subject} {rule.kind.name}{scope}")


def told_rule(rule: Rule) -> str:
    """What a rule is about and what it says: `varnish coverage: 250 sq ft per gal`, `varnish, wall: 2 coats`."""
    said = says(rule)
    if said.endswith((rule.kind.name, rule.kind.name.removesuffix("s"))):
        return one_line(f"{rule.subject}{f', {rule.scope}' if rule.scope else ''}") + f": {said}"
    return f"{rule_name(rule)}: {said}"


def clause(rule: Rule) -> str:
    """The clause that holds a rule, as it was read, in quotation marks, without the bracketed source at its end."""
    text = rule.amount.step.origin.text or rule.span.text
    if rule.cited:
        text = text.removesuffix(f"[{rule.cited}]")
    text = one_line(text)
    return f"“{text if len(text) <= 200 else text[:199].rstrip() + '…'}”"


_HANDS = {"default": "trade default", "house": "house line", "override": "own line for this job"}


def layer_of(rule: Rule) -> str:
    """Whose word a rule is: `addendum 1`, `house line, our last jobs`."""
    return one_line(_HANDS.get(rule.layer.name, rule.layer.name) + (f", {rule.cited}" if rule.cited else ""))


def documents_used(estimate: Estimate) -> tuple[str, ...]:
    """The specification and its addenda by file name, in the order they were taken."""
    return tuple(one_line(s.name) for s, layer in estimate.papers if layer.rank >= SPECIFICATION.rank)


def listed(parts: Iterable[str]) -> str:
    """`a`, `a and b`, `a, b and c`."""
    *most, last = list(parts) or [""]
    return f"{', '.join(most)} and {last}" if most else last


FOUND_BY: dict[FoundBy, tuple[str, str]] = {
    FoundBy.FACT: ("the fact's own words", "a unit or noun inside the fact that only one product has"),
    FoundBy.PHRASE: ("the words of the phrase", "the surface beside the number"),
    FoundBy.BEHIND: ("the words behind the number", "`two coats of ..`: counts look behind them first"),
    FoundBy.AHEAD: ("the words before the number", "`pins 12 in. on center`: all else looks before"),
    FoundBy.COLON: ("the words behind the colon", "a count as a label: `Second coat: ..`"),
    FoundBy.COLON_SHEEN: ("the sheen behind the colon", "`Second coat: satin`"),
    FoundBy.SHEEN: ("its sheen", "a sheen stands for the finish"),
    FoundBy.LABEL: ("the label", "the words before a colon"),
    FoundBy.LABEL_SHEEN: ("the sheen in the label", "`Flat: two coats`"),
    FoundBy.TAIL: ("the words at the end", "what closes the part of the sentence"),
    FoundBy.PHRASE_BEFORE: ("the phrase before", "`12 in. on ceilings, 16 in. on walls`"),
    FoundBy.LIST_LEAD: ("the words before the list", "`On walls one coat .., two coats ..`"),
    FoundBy.LIST_TAIL: ("the words at the end of the list", "`one coat .. and two coats .. to walls`"),
    FoundBy.LIST: ("the whole list before", "`1/2 in. on walls, 5/8 in. on ceilings, in 4 ft sheets`"),
    FoundBy.OPENING: ("the words that open the sentence", "`On ceilings, run them across; ..`"),
    FoundBy.OWN_NAME: ("the product's own name", "a surface inside a name: `ceiling pins`"),
    FoundBy.BOTH: ("`both`", "the surfaces spoken of before"),
    FoundBy.FACT_BEFORE: ("the fact before", "what was spoken of last"),
    FoundBy.SENTENCE: ("the sentence", "what the sentence speaks of"),
    FoundBy.SENTENCE_BEFORE: ("the sentence before", "what the sentence before it speaks of"),
    FoundBy.NEXT_SENTENCE: ("the next sentence", "`Provide at toilet walls.`"),
    FoundBy.EXCEPTION: ("the exception", "`except in baths, where .. is used`"),
    FoundBy.CLAUSE_BEFORE: ("the clause before", "spacings go on about their fastener"),
    FoundBy.PLACE: ("the place it is said of", "coats on a joint are of one product, both sides are a wall's"),
    FoundBy.CHANGE: ("the change", "the words of an order to change a number"),
    FoundBy.UNDER: ("what the line is read under", "a mark on a surface of the job"),
    FoundBy.COLUMN: ("the head of the column", "cells of a table"),
    FoundBy.KEY: ("the key of the row", "cells of a table"),
    FoundBy.ROW: ("the row", "cells of a table"),
    FoundBy.LINE: ("the line", "a bare line just above"),
    FoundBy.LEAD_IN: ("the lead-in", "what ends in a colon over a list"),
    FoundBy.QUESTION: ("the question", "an answer is said of what its question speaks of"),
    FoundBy.HEADING: ("the heading", "what the clause stands under, the nearest first"),
    FoundBy.CITED: ("the rows that cite it", "a footnote is said of these rows"),
    FoundBy.DEFINITION: ("its own definition", "a system goes where its definition says"),
    FoundBy.IMPLIED: ("every one of its kind is of it", "a kind that is said of one product only"),
    FoundBy.ONLY_UNIT: ("the only one it can have", "a unit that is not written"),
    FoundBy.NUMBER_BEFORE: ("the number before it", "a unit that is not written"),
    FoundBy.COLUMN_UNIT: ("the head of the column", "a unit that stands in the head alone"),
    FoundBy.RATE: ("its product with the spreading rate", "wet or dry film"),
}
"""How each rule of binding is told, and an example of it; the guide's table is made of this."""


def found_words(how: str) -> str:
    """A code of `bound_by` in words, with the text that it stood in: `the heading “VARNISH”`. What is no code stays as it is."""
    code, _, text = how.partition(": ")
    if code not in FoundBy.__members__.values():
        return how
    said = FOUND_BY[FoundBy(code)][0]
    return f"{said} “{text}”" if text and FoundBy(code) is not FoundBy.IMPLIED else said
