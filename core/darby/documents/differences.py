"""What difference an answer makes in packages: the working done again with other numbers in it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from fractions import Fraction
from functools import partial

from attrs import frozen

from darby.documents.words import kind_of, says, so_many
from darby.estimate.line_item import LineItem
from darby.estimate.model import Estimate, Question
from darby.estimate.open_points import told_apart
from darby.quantities.amounts import HERE, Amount, total, walk
from darby.quantities.units import NUMBER_ONLY, UnitError
from darby.rules.answer import Conflict
from darby.rules.rule import Rule

Changes = Callable[[LineItem], Mapping[int, Amount]]
"""Gives what is to stand in place of steps of an item's working, by the `id` of the step."""


@frozen(eq=False)
class Difference:
    """What one possible answer does to one line: the packages now, and under that answer."""

    item: LineItem
    answer: str
    """The answer in a few words: `400 sq ft per gal`, `three coats`."""
    now: int
    then: int

    def __str__(self) -> str:
        kind = kind_of(self.item)
        what = so_many(self.item, self.then) + (f" ({kind})" if kind else "")
        more = self.then - self.now
        if not more:
            return f"{what} as now"
        return f"{what} instead of {self.now:,}, {abs(more):,} {'more' if more > 0 else 'fewer'}"


def differences(question: Question, estimate: Estimate) -> tuple[Difference, ...]:
    """What the possible answers to a question do to the order, line by line.

    A contradiction is worked out with what each other clause says; a count that was assumed with one more and one fewer;
    openings that were left in with all of them taken out. Empty where
    the working does not show what the answer would change.
    """
    items = [item for item in estimate.items if item.id in question.items and item.count is not None]
    conflict = next((c for c in estimate.conflicts if c.used.span == question.place), None)
    found: list[Difference] = []
    for answer, changes in _answers(question, conflict, estimate):
        for item in items:
            then = _count(item, changes)
            if then is not None:
                found.append(Difference(item, answer, item.count or 0, then))
    return tuple(found)


def rework(amount: Amount, changed: Mapping[int, Amount]) -> Amount:
    """The working done again with other amounts in place of some steps, by their `id`. Raises UnitError where it no longer fits."""
    made: dict[int, Amount] = {}
    for node in walk(amount):  # most of a large job is as it was
        step = node.step
        new = changed.get(id(step))
        if new is None and any(id(part.step) in made for part in step.of):
            new = _again(node, [made.get(id(part.step), part) for part in step.of])
        if new is not None:
            made[id(step)] = new
    return made.get(id(amount.step), amount)


def same_number(one: Amount, other: Amount) -> bool:
    """Whether two leaves are one number that somebody said, even where a trade has given it another name."""
    if one.step is other.step:
        return True
    if one.step.op != "given" or other.step.op != "given" or one.step.origin is HERE:
        return False
    return one.step.origin == other.step.origin and one.value == other.value and one.unit is other.unit


def _again(node: Amount, parts: list[Amount]) -> Amount:
    match node.step.op:
        case "+":
            return parts[0] + parts[1]
        case "-":
            return parts[0] - parts[1]
        case "*":
            return parts[0] * parts[1]
        case "/":
            return parts[0] / parts[1]
        case "to":
            return parts[0].to(node.unit)
        case "sum":
            return total(parts)
        case "round up":
            return parts[0].to(node.unit).round_up()
    return node


def _count(item: LineItem, changes: Changes) -> int | None:
    """Packages under some changes; None where these touch nothing in the working, or leave nothing to count."""
    order = item.order
    changed = changes(item) if order is not None else {}
    if order is None or not changed:
        return None
    try:
        again = rework(order, changed)
    except UnitError:
        return None
    touched = again.step is not order.step
    return int(again.value) if touched and again.unit.dimension == order.unit.dimension else None


def _answers(question: Question, conflict: Conflict | None, estimate: Estimate) -> Iterable[tuple[str, Changes]]:
    """Possible answers, each in words and as what it changes."""
    if conflict is not None:
        if told_apart((conflict.used, *conflict.others)):  # as much of other goods
            return
        for other in conflict.others:
            yield says(other), _instead(conflict.used, other)
        return
    rules = [a.answer.rule for a in estimate.assumptions if a.answer.rule.span == question.place]
    if not rules:
        return
    rule = rules[0]
    if not rule.amount:
        if rule.kind.name == "deduct openings over":
            yield "all openings taken out", _without_openings(estimate)
    elif rule.kind.amount == {NUMBER_ONLY} and rule.per is None and rule.amount.value.denominator == 1:
        for step in (-1, 1):
            if rule.amount.value + step > 0:
                count = rule.amount.value + step
                yield (
                    f"{count} {rule.kind.name.removesuffix('s') if count == 1 else rule.kind.name}",
                    _scaled(rules, count),
                )


def _instead(used: Rule, other: Rule) -> Changes:
    """What another rule says in place of the one that was used."""
    pairs = [(used.amount, other.amount), (used.per, other.per), (used.upper, other.upper), (used.by, other.by)]
    if used.upper is not None and other.upper is None:
        pairs[2] = (used.upper, other.amount)
    swaps = [(old, new) for old, new in pairs if old is not None and new is not None]

    return partial(_swapped, swaps)


def _scaled(rules: Iterable[Rule], value: Fraction) -> Changes:
    """Another value in place of the one a rule gives."""
    return partial(_swapped, [(number, Amount.of(value, number.unit)) for number in (rule.governing for rule in rules)])


def _swapped(swaps: Sequence[tuple[Amount, Amount]], item: LineItem) -> dict[int, Amount]:
    """The numbers behind an item that are one of some, each with what takes its place."""
    found = {id(old.step): new for old, new in swaps if old.step.of}  # a rule may say what is reckoned from two numbers
    for number in item.numbers:
        new = next((new for old, new in swaps if same_number(number, old)), None)
        if new is not None:
            found[id(number.step)] = new
    return found


def _without_openings(estimate: Estimate) -> Changes:
    """Each surface's area of one face, less all of its openings."""
    areas: dict[int, Amount] = {}
    for surface in estimate.job.measured:
        if surface.openings:
            out = total((o.each * o.count).to(surface.area.unit) for o in surface.openings)
            areas[id(surface.area.step)] = surface.area - min(out, surface.area)

    return lambda _: areas
