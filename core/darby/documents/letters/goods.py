"""Goods as a supplier wants to read them: each with every property that the documents and the firm's lines give it."""

from __future__ import annotations

import re
from collections.abc import Iterator

from darby.documents.needs import Need
from darby.documents.words import one_line
from darby.estimate.line_item import LineItem
from darby.estimate.packing import USE
from darby.quantities.plurals import plural
from darby.rules.rule import SPECIFICATION, Rule

_DESCRIBES = ("type", "class", "sheen", "color", "length")
"""Keys of a scope that describe the goods; the others say where they go."""
_CHOICES = ("type", "class", "sheen", "color")
"""Kinds of rules whose choice describes the goods."""
_RATE = "coverage"
"""A kind of rules that describes other goods as well: the nearest rate is taken where none is told for these."""
_STANDARD = re.compile(
    r"\b(?:ASTM|ANSI|ISO|EN|BS|AS/NZS|CSA|DIN)(?: EN)?[ -][A-Z]{0,2}[ -]?[0-9]{2,6}(?:[/-][A-Z0-9]{1,6})?\b"
)
_WHERE = "surface"


def description(need: Need, item: LineItem) -> str:
    """What tells the goods from others, what they are for beside the work, and the standards that the documents name."""
    use = item.pool.get(USE, "")
    return one_line(", ".join(filter(None, [described(need, item), use, *dict.fromkeys(_standards(item))])))


def described(need: Need, item: LineItem) -> str:
    """What tells the goods from others: their pool first, then what rules say of them; without the size of the package."""
    given = dict.fromkeys(
        item.pool.told(key) for key in item.pool if key != USE and not (need.mixed and key == "package")
    )
    if _WHERE in item.pool:
        given.pop(item.pool[_WHERE], None)
    said: dict[str, set[str]] = {}
    for key, value in _properties(item):
        said.setdefault(key, set()).add(value)
    known = {word.casefold() for value in given for word in value.split(", ")}
    for key, values in said.items():
        if len(values) == 1 and key not in item.pool:
            (value,) = values
            if value.casefold() not in known:
                given[value] = None
    where = [f"for {plural(item.pool[_WHERE])}"] if _WHERE in item.pool else []
    return one_line(", ".join([*given, *where]))


def _properties(item: LineItem) -> Iterator[tuple[str, str]]:
    """What the rules behind an item say of its goods."""
    for rule in item.rules:
        if rule.subject == item.product and rule.kind.name != _RATE:
            yield from ((key, rule.scope[key]) for key in _DESCRIBES if key in rule.scope)
            if rule.kind.name in _CHOICES and rule.choice:
                yield rule.kind.name, rule.choice


def _standards(item: LineItem) -> Iterator[str]:
    """The standards that the clauses of the documents behind it name beside it."""
    for rule in item.rules:
        if rule.subject == item.product and rule.layer.rank >= SPECIFICATION.rank:
            yield from (one_line(found[0]) for found in _STANDARD.finditer(_clause(rule)))


def _clause(rule: Rule) -> str:
    return rule.amount.step.origin.text or rule.span.text
