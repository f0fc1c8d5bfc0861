"""Whether what a table says of several things was told apart: rules of one table that differ in nothing but their value.

A head or a key that was not heard leaves several cells saying different things of the same; then none of them can be believed alone.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence

from attrs import evolve

from darby.quantities.amounts import Amount
from darby.reading.binding.site.finding import Above, Finding
from darby.reading.document.after_places import AfterPlaces
from darby.reading.parsing.lexicon import Lexicon
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


_STRANGE = "the head of its column may say where it holds, or of what, and is not understood"


def weigh_heads(findings: Sequence[Finding], heads: Sequence[Above], lexicon: Lexicon) -> None:
    """Have confirmed what a cell states of no surface where no word over its column is known: `Vegger`."""
    over = [(above.tags, above.name.partition(": ")[2]) for above in heads if above.role == "column"]
    if not over or any(tags for tags, _ in over):
        return
    words = [word for _, text in over for word in _WORD.findall(text)]
    if not words or any(lexicon.knows(word.lower()) for word in words):
        return
    for finding in findings:
        if finding.stands and not finding.confirm and not any(surface for _, surface in finding.places):
            finding.confirm = f"{_STRANGE} ({words[0]})"


_WORD = re.compile(r"[^\W\d_]{3,}")
_OF_ALL = "it stands behind the last of several places, and is taken to hold everywhere"
_OF_LAST = "it stands under the last of several places, and none before has its like: it may be of all of them"


def weigh_after_places(rules: list[Rule], made: Mapping[int, Sequence[int]], after: AfterPlaces) -> None:
    """Have rules confirmed that stand behind the last of several places, and those under it that may be of all of them. `made` has the
    places of the rules of each clause among them, by its `id`."""
    for at in (at for clause in after.doubtful for at in made[clause]):
        rules[at] = rules[at] if rules[at].confirm else evolve(rules[at], confirm=_OF_ALL)
    said: dict[tuple[str, str], set[str]] = {}
    for rule in rules:
        said.setdefault((rule.kind.name, rule.subject), set()).add(rule.scope.get("room", ""))
    for at in (at for clause in after.unsure for at in made[clause]):
        rule = rules[at]
        alone = said[rule.kind.name, rule.subject] == {rule.scope.get("room", "")} != {""}
        if alone and not rule.confirm:
            rules[at] = evolve(rule, confirm=_OF_LAST)


def _value(rule: Rule) -> tuple[object, ...]:
    def plain(amount: Amount | None) -> object:
        return None if amount is None else (amount.value, amount.unit.name)

    return (plain(rule.amount), plain(rule.upper), plain(rule.per), plain(rule.by), rule.choice)
