"""Goods, and what is said of them, as somebody outside the firm reads it: each with every property that the documents and the firm's
lines give it.
"""

from __future__ import annotations

import re
from collections.abc import Container, Iterable, Iterator

from darby.documents.needs import Need
from darby.documents.words import one_line, says
from darby.estimate.line_item import LineItem
from darby.estimate.packing import USE
from darby.estimate.trade import ShownColumn
from darby.quantities.plurals import plural
from darby.rules.rule import SPECIFICATION, Rule, Scope

_DESCRIBES = ("type", "class", "sheen", "color", "length")
"""Keys of a scope that describe the goods; the others say where they go."""
_CHOICES = ("type", "class", "sheen", "color")
"""Kinds of rules whose choice describes the goods."""
_LOOKS = ("sheen", "color")
"""Of these the ones without which goods cannot be had: without a type or a class they are the ordinary ones."""
_RATE = "coverage"
"""A kind of rules that describes other goods as well: the nearest rate is taken where none is told for these."""
_STANDARD = re.compile(
    r"\b(?:ASTM|ANSI|ISO|EN|BS|AS/NZS|CSA|DIN)(?: EN)?[ -][A-Z]{0,2}[ -]?[0-9]{2,6}(?:[/-][A-Z0-9]{1,6})?\b"
)
_WHERE = "surface"
_BLANK = "_" * 10


def description(need: Need, item: LineItem, *, apart: Container[str] = (), unsaid: Iterable[str] = ()) -> str:
    """What tells the goods from others, what they are for beside the work, and the standards that the documents name; a blank to fill for
    each property that is `unsaid`. What of the pool is told `apart` from it is left out.
    """
    use = "" if USE in apart else item.pool.get(USE, "")
    blanks = (f"{one}: {_BLANK}" for one in unsaid)
    told = [described(need, item, apart=apart), use, *dict.fromkeys(_standards(item)), *blanks]
    return one_line(", ".join(filter(None, told)))


def unsaid(item: LineItem, columns: Iterable[ShownColumn]) -> tuple[str, ...]:
    """What a supplier has to be told of the goods and nobody has said: what their trade shows of each room beside how much of them,
    `sheen` and `color`. A pool that goes by a mark (`PT-3`) is told by it.
    """
    asked = dict.fromkeys(kind for one in columns for kind, subject in one.column.asks if subject == item.product)
    known = {*item.pool, *(key for key, _ in _properties(item))}
    return tuple(kind for kind in asked if kind in _LOOKS and kind not in known)


def described(need: Need, item: LineItem, *, apart: Container[str] = ()) -> str:
    """What tells the goods from others: their pool first, then what rules say of them; without the size of the package."""
    left_out = [USE, *(["package"] if need.mixed else [])]
    given = dict.fromkeys(item.pool.told(key) for key in item.pool if key not in left_out and key not in apart)
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


_OF = (*_DESCRIBES, "coat", "film", "layer")
"""Keys of a scope that are said before the goods: `2 coats of clear varnish`."""
_PLACES = (("surface", "on the"), ("room", "in"))
_APART = (*_OF, "surface", "room", "system", "mark", "note")


def spoken(rule: Rule, place: str = "") -> str:
    """What a rule says, in a sentence without a verb: `2 coats of satin varnish on the walls in loft (PT-2)`. `place` is told instead of
    the rule's own, in the same form.
    """
    scope, kind = rule.scope, rule.kind.name
    goods = " ".join([*(scope[key] for key in _OF if key in scope and scope[key] != rule.choice), rule.subject])
    where = place or "".join(_where(scope))
    also = [scope[key] for key in scope if key not in _APART]
    tail = ", ".join(filter(None, [where.strip(), *also]))
    tail = (f" {tail}" if where else f", {tail}" if tail else "") + (
        f" ({scope['system']})" if "system" in scope else ""
    )
    said = says(rule)
    if rule.choice:
        return one_line(f"{kind} of {goods}{tail}: {said}")
    if said.endswith((kind, kind.removesuffix("s"))):
        return one_line(f"{said} of {goods}{tail}")
    return one_line(f"{goods}, {kind} {said}{tail}" if said.isdigit() else f"{kind} of {goods}{tail}: {said}")


def _where(scope: Scope) -> Iterator[str]:
    for key, word in _PLACES:
        if key in scope:
            yield f" {word} {plural(scope[key]) if key == _WHERE else scope[key]}"
