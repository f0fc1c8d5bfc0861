"""A rule said again as a plain line: what an estimator writes in the job file to confirm a reading, or to correct it.

Nothing is guessed: a line is offered only where, read strictly as her own, it makes the very rule.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from darby.quantities.plurals import plural
from darby.rules.rule import Rule

_MOST = 4
"""Rules of one reading that are said again; one said of more places is better worded by hand."""
_WHERE = ("room", "surface")


def own_lines(rules: Sequence[Rule], read: Callable[[str], Sequence[Rule]]) -> tuple[str, ...]:
    """A plain line for each rule of a reading; none where one of them cannot be said, or there are many.

    `read` gives the rules that a line of the estimator's own makes, none where it is not understood.
    """
    distinct: dict[tuple[object, ...], Rule] = {}
    for rule in rules:
        distinct.setdefault((rule.kind.name, rule.subject, rule.scope), rule)
    if len(distinct) > _MOST:
        return ()
    said = [next((line for line in _wordings(rule) if _says(rule, read(line))), "") for rule in distinct.values()]
    return tuple(said) if all(said) else ()


def _says(rule: Rule, made: Sequence[Rule]) -> bool:
    """Whether what a line makes is one rule, and that is the rule."""
    if len(made) != 1:
        return False
    one = made[0]
    alike = (one.kind.name, one.subject, one.scope) == (rule.kind.name, rule.subject, rule.scope)
    return alike and one.answer == rule.answer and one.bound == rule.bound


def _wordings(rule: Rule) -> Iterator[str]:
    """Ways to say a rule, the plainest first; which of them is understood shows when it is read."""
    room, surface = (rule.scope.get(key, "") for key in _WHERE)
    where = " ".join(filter(None, (room, plural(surface))))
    looks = " ".join(said for key, said in rule.scope.items() if key not in _WHERE)
    kind, said = rule.kind.name, rule.choice or rule.says().replace(" per 1 ", " per ")
    if rule.upper is not None:  # `250 to 300 sq ft`, as a range is written
        said = said.replace(f" {rule.amount.unit.name} to ", " to ", 1)
    placed = f"{rule.subject} on {where}" if where else rule.subject
    if rule.choice or (rule.per is None and rule.amount.unit.name == "each"):  # `Walls: 2 coats varnish`
        one = rule.amount.value == 1 and rule.upper is None
        for amount in _counted(rule.choice, said, kind.removesuffix("s") if one else kind):
            if where:
                yield _line(where, f"{amount} {looks} {rule.subject}")
                yield _line(where, f"{amount} {rule.subject}, {looks}")
            yield _line(placed, f"{amount} {looks}")
    else:  # `Varnish on walls: 250 sq ft per gal`
        yield _line(placed, f"{said} {looks}")
        yield _line(f"{rule.subject} {kind} on {where}" if where else f"{rule.subject} {kind}", f"{said} {looks}")
        yield _line(where, f"{rule.subject} {kind} {said} {looks}")
        yield _line(where, f"{said} {looks} {rule.subject}")
    yield _line(f"{where} {rule.subject}", f"{said} {looks}")


def _counted(choice: str, said: str, noun: str) -> Iterator[str]:
    """`2 coats`, `finish level 4`; a choice stands for itself."""
    if choice:
        yield choice
    elif noun.endswith("s") or said == "1":
        yield from (f"{said} {noun}", f"{noun} {said}")
    else:
        yield from (f"{noun} {said}", f"{said} {noun}")


def _line(label: str, what: str) -> str:
    text = " ".join(f"{label}: {what}".split()) if label.strip() else " ".join(what.split())
    text = text.rstrip(" ,").replace(" ,", ",")
    return f"{text[:1].upper()}{text[1:]}."
