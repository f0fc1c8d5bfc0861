"""A rule said again as a plain line: what an estimator writes in the job file to confirm a reading, or to correct it.

Nothing is guessed: a line is offered only where, read strictly as her own, it makes the very rule.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from darby.reading.read import Reading
from darby.rules.rule import Rule
from darby.text.diagnostics import is_error

_MOST = 4
"""Rules of one reading that are said again; one said of more places is better worded by hand."""
_WHERE = ("room", "surface")


def own_lines(rules: Sequence[Rule], read: Callable[[str], Reading]) -> tuple[str, ...]:
    """A plain line for each rule of a reading; none where one of them cannot be said, or there are many."""
    distinct: dict[tuple[object, ...], Rule] = {}
    for rule in rules:
        distinct.setdefault((rule.kind.name, rule.subject, rule.scope), rule)
    if len(distinct) > _MOST:
        return ()
    said = [next((line for line in _wordings(rule) if _says(rule, read(line))), "") for rule in distinct.values()]
    return tuple(said) if all(said) else ()


def _says(rule: Rule, reading: Reading) -> bool:
    """Whether a line makes one rule, and that is the rule."""
    if is_error(reading.diagnostics) or len(reading.rules) != 1:
        return False
    made = reading.rules[0]
    alike = (made.kind.name, made.subject, made.scope) == (rule.kind.name, rule.subject, rule.scope)
    return alike and made.answer == rule.answer and made.bound == rule.bound


def _wordings(rule: Rule) -> Iterator[str]:
    """Ways to say a rule, the plainest first; which of them is understood shows when it is read."""
    room, surface = (rule.scope.get(key, "") for key in _WHERE)
    where = " ".join(filter(None, (room, f"{surface}s" if surface else "")))
    looks = " ".join(said for key, said in rule.scope.items() if key not in _WHERE)
    said = rule.choice or rule.says().replace(" per 1 ", " per ")
    counted = rule.per is None and rule.amount.unit.name == "each" and not rule.choice
    kind = rule.kind.name
    one = rule.amount.value == 1 and rule.upper is None
    amounts = [f"{said} {kind.removesuffix('s') if one else kind}", f"{kind} {said}"] if counted else [said]
    for amount in amounts:
        for what in dict.fromkeys((f"{amount} {looks} {rule.subject}", f"{amount} {rule.subject}, {looks}")):
            yield _line(where, what)
            yield _line("", f"{what} on {where}" if where else what)
        yield _line(f"{rule.subject} on {where}" if where else rule.subject, f"{amount} {looks}")
        yield _line(f"{where} {rule.subject}", f"{amount} {looks}")
        yield _line(f"{rule.subject} {kind} on {where}" if where else f"{rule.subject} {kind}", f"{amount} {looks}")


def _line(label: str, what: str) -> str:
    text = " ".join(f"{label}: {what}".split()) if label.strip() else " ".join(what.split())
    text = text.rstrip(" ,").replace(" ,", ",")
    return f"{text[:1].upper()}{text[1:]}."
