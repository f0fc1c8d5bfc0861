"""Readings on weak evidence that an order rests on: which lines hang on each, and what the order is where it does not hold."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import TypeVar

from attrs import define, evolve, field

from darby.estimate.line_item import LineItem
from darby.estimate.model import Confirmation, Shift
from darby.estimate.open_points import Asking, Heard
from darby.rules.answer import Answer
from darby.rules.rule import OVERRIDE, Rule
from darby.text.spans import Span

_MOST = 20
"""Readings that an estimate is worked out without, one at a time."""
_WORK = 30_000
"""Rules and surfaces that may be gone through for all of them together."""

R = TypeVar("R", bound=Heard)
Again = Callable[[Sequence[Rule], Sequence[R]], Sequence[R] | None]
"""Some trades asked again with other rules; None where one of them failed."""


@define(eq=False)
class _Doubt:
    """One doubtful reading: its clause, why, and what became of it."""

    place: Span
    why: str
    rules: dict[int, Rule] = field(factory=dict)
    items: dict[str, None] = field(factory=dict)

    def holds(self, rule: Rule) -> bool:
        """Whether a rule is of this reading, used or not."""
        return bool(rule.confirm) and self.place in (rule.span, rule.assigned)


def confirmations(
    rules: Sequence[Rule],
    answers: Iterable[tuple[Answer, Asking]],
    runs: Sequence[R],
    again: Again[R],
    *,
    surfaces: int = 0,
    lines: Callable[[Sequence[Rule]], tuple[str, ...]] = lambda _: (),
    together: Callable[[Sequence[R]], Sequence[R]] = lambda some: some,
) -> tuple[Confirmation, ...]:
    """Every reading to confirm that a trade used, once for each clause, in the order of the rules.

    `again` works out what the trades that used it give without it, as long as the job is not too large. `lines` words a
    reading as plain lines of the estimator's own; they are offered where with them the order is the same. `together` adds the
    trades without which some give other lines.
    """
    left = min(_MOST, _WORK // (len(rules) + surfaces + 1))
    found: list[Confirmation] = []
    for doubt in _doubts(rules, answers):
        used = tuple(doubt.rules.values())
        asked = together([run for run in runs if any(id(a.rule) in doubt.rules for a in run.consultation.answers)])
        shifts = _shifts(asked, again([r for r in rules if not doubt.holds(r)], asked)) if len(found) < left else None
        hanging = (*doubt.items, *(s.now.id for s in shifts or () if s.now is not None))
        own = lines(used) if shifts is not None else ()
        if own:  # an own line beats what is said of narrower places too
            settled = [evolve(r, layer=OVERRIDE, confirm="") if doubt.holds(r) else r for r in rules]
            own = own if _shifts(asked, again(settled, asked)) == () else ()
        found.append(Confirmation(doubt.why, doubt.place, used, tuple(dict.fromkeys(hanging)), shifts, own))
    return tuple(found)


def _doubts(rules: Sequence[Rule], answers: Iterable[tuple[Answer, Asking]]) -> list[_Doubt]:
    """The doubtful clauses behind the rules that were used: where a system was given to a place, either clause may be it."""
    said: dict[Span, _Doubt] = {}
    for rule in rules:
        if rule.confirm and rule.assigned is None:
            said.setdefault(rule.span, _Doubt(rule.span, rule.confirm))
    for answer, asking in answers:
        rule = answer.rule
        if rule.confirm:
            for doubt in _behind(rule, said):
                doubt.rules[id(rule)] = rule
                doubt.items |= asking.items
    return [doubt for doubt in said.values() if doubt.rules]


def _behind(rule: Rule, said: dict[Span, _Doubt]) -> Iterator[_Doubt]:
    for span in (rule.span, rule.assigned):
        if span is not None and span in said:
            yield said[span]


def _shifts(runs: Sequence[R], others: Sequence[R] | None) -> tuple[Shift, ...] | None:
    """The lines that some trades order otherwise when they are asked again; None where one of them failed."""
    if others is None:
        return None
    now, then = ({i.id: i for run in some for i in run.items} for some in (runs, others))
    shifts = (Shift(now.get(name), then.get(name)) for name in dict.fromkeys((*now, *then)))
    return tuple(shift for shift in shifts if _moved(shift.now, shift.then))


def _moved(now: LineItem | None, then: LineItem | None) -> bool:
    """Whether two lines are not one order: another number of packages, other packages, or another need where these are unknown."""
    if now is None or then is None:
        return now is not then
    if now.order is None or then.order is None:
        return now.order is not then.order or now.need != then.need
    return (now.count, now.container) != (then.count, then.container) or now.package != then.package
