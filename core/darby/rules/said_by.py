"""Which rule said a number that stands in a working."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from darby.quantities.amounts import HERE, Amount, Origin
from darby.rules.rule import Rule


def by_origin(rules: Iterable[Rule]) -> dict[Origin, list[Rule]]:
    """The rules by the numbers they say."""
    found: dict[Origin, list[Rule]] = {}
    for rule in rules:
        for part in (rule.amount, rule.per, rule.upper, rule.by):
            if part is not None and part.step.origin is not HERE:
                known = found.setdefault(part.step.origin, [])
                known += [] if rule in known else [rule]
    return found


def rule_of(number: Amount, known: Mapping[Origin, list[Rule]]) -> Rule | None:
    """The rule that says a number; of several in one clause, the one that says this number."""
    rules = known.get(number.step.origin, ())
    exact = (r for r in rules if any(p is not None and p == number for p in (r.amount, r.upper, r.by, r.per)))
    return next(exact, None) or next(iter(rules), None)
