"""Whether what a table says of several things was told apart: rules of one table that differ in nothing but their value.

A head or a key that was not heard leaves several cells saying different things of the same; then none of them can be believed alone.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from attrs import evolve

from darby.quantities.amounts import Amount
from darby.rules.rule import Rule

_SEVERAL = ("package", "color", "sheen", "type")
"""What one thing may well have several of, or what a cell lists."""
_WHY = "the table says several things of the same here: what tells them apart was not read."


def weigh_tables(rules: list[Rule], tables: Iterable[Sequence[int]]) -> None:
    """Have rules confirmed that the same table contradicts. `tables` are the places of the rules of each table among them."""
    for places in tables:
        same: dict[object, list[int]] = {}
        for at in places:
            rule = rules[at]
            if rule.kind.name not in _SEVERAL:
                same.setdefault((rule.kind.name, rule.subject, rule.bound, frozenset(rule.scope.items())), []).append(
                    at
                )
        for alike in same.values():
            if len({_value(rules[at]) for at in alike}) > 1:
                for at in alike:
                    rules[at] = rules[at] if rules[at].confirm else evolve(rules[at], confirm=_WHY)


def _value(rule: Rule) -> tuple[object, ...]:
    def plain(amount: Amount | None) -> object:
        return None if amount is None else (amount.value, amount.unit.name)

    return (plain(rule.amount), plain(rule.upper), plain(rule.per), plain(rule.by), rule.choice)
