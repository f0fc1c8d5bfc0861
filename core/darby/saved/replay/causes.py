"""Why an order moved: each changed rule and measured row put in the other's place, alone and in groups, and the trades asked again.

Nothing is guessed from what looks alike. Only what has been read is used, so no text is read again.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import TypeVar

from attrs import define, evolve, field

from darby.job.loader import kept_beside, load
from darby.job.model import Job
from darby.plugin_host.model import Plugins
from darby.plugin_host.shared_goods import shared
from darby.plugin_host.trade_runner import call_all
from darby.rules.rule import Rule
from darby.saved.alignment import Slot
from darby.saved.comparison import Cause, Change, Comparison, Moved
from darby.saved.model import Line
from darby.saved.row_mixture import Mixture, rows_of
from darby.text.spans import Source, Span

T = TypeVar("T")

Chosen = frozenset[int]
"""Which changes are made, counted from 0; the others are as they were before."""

_MOST_RUNS = 256
_FEWEST_RUNS = 12
_WORK = 30_000
"""Rules and rows that may be gone through in all runs together."""


def causes(comparison: Comparison, plugins: Plugins) -> dict[str, tuple[Cause, ...]]:
    """The causes of every line that moved, by its id. The trades are today's."""
    if comparison.same:
        return {}
    trial = _Trial.of(comparison, plugins)
    found: dict[str, tuple[Cause, ...]] = {}
    waiting: list[Moved] = []
    none, every = frozenset[int](), frozenset(range(len(trial.changes)))
    first, last = trial.run(none), trial.run(every)
    for moved in comparison.items:
        why = trial.absent(moved)
        if not why and not (trial.is_job(none) and trial.is_job(every)):
            why = "the job cannot be read with the plugins there are today, so the cause is not known"
        if not why and not _watched(moved, first.get(moved.id), last.get(moved.id)):
            why = trial.otherwise(moved)
        if why:
            found[moved.id] = (Cause((), None, why),)
            continue
        if _watched(moved, first.get(moved.id), moved.before) or _watched(moved, last.get(moved.id), moved.after):
            found[moved.id] = (Cause((), None, trial.otherwise(moved)),)  # and what else moved it follows
        waiting.append(moved)
    forward = trial.search(waiting, first, lambda group: group)
    backward = trial.search(waiting, last, lambda group: every - group)
    for moved in waiting:
        named = trial.settle(moved, forward.get(moved.id, {}), backward.get(moved.id, {}), first, last)
        found[moved.id] = (*found.get(moved.id, ()), *named)
    return found


def _watched(moved: Moved, one: Line | None, other: Line | None) -> bool:
    """Whether two lines differ in what moved: the order, or where that did not move, the need."""
    if one is None or other is None:
        return one is not other
    return one.order != other.order if moved.ordered and moved.line.count is not None else one.need != other.need


def _stirred(one: Line | None, other: Line | None) -> bool:
    if one is None or other is None:
        return one is not other
    return one.order != other.order or one.need != other.need


Hits = dict[str, dict[tuple[int, ...], Line | None]]
"""By line, the groups of changes that stir it and could not be split further, and what the line then is."""


@define(eq=False)
class _Trial:
    """Both estimates taken apart, so that any mixture of the two can be worked out."""

    comparison: Comparison
    plugins: Plugins
    changes: tuple[Change, ...]
    budget: int
    wanted: frozenset[str] = frozenset()
    """The trades that have lines to explain."""
    jobs: dict[Chosen, Job | None] = field(factory=dict)
    results: dict[tuple[Chosen, frozenset[str]], dict[str, Line]] = field(factory=dict)
    broken: set[str] = field(factory=set)
    own: dict[str, Source] = field(factory=dict)
    slots: tuple[Slot[Rule], ...] = ()

    @classmethod
    def of(cls, comparison: Comparison, plugins: Plugins) -> _Trial:
        changes: list[Change] = [*comparison.rules, *comparison.rows]
        if comparison.units is not None:
            changes.append(comparison.units)
        rows = comparison.row_slots or rows_of(comparison.after.job, comparison.after.schedules)
        budget = max(_FEWEST_RUNS, min(_MOST_RUNS, _WORK // (len(comparison.slots) + len(rows) + 1)))
        wanted = frozenset(moved.line.trade for moved in comparison.items)
        own, slots = _default_lines(comparison)
        return cls(comparison, plugins, tuple(changes), budget, wanted, own=own, slots=slots)

    def absent(self, moved: Moved) -> str:
        """That the trade of a line took part in one of the two estimates only, or cannot be asked today; or nothing."""
        trade = moved.line.trade
        for side, word in ((self.comparison.before, "before"), (self.comparison.after, "now")):
            if trade not in {name for name, _, _ in side.trades}:
                return f"the trade {trade} took no part {word}"
        if trade in self.broken or trade not in {p.trade.name for p in self.plugins.trades}:
            return f"the trade {trade} cannot be asked today, so the cause is not known"
        return ""

    def otherwise(self, moved: Moved) -> str:
        """That the trade of a line gives something else for the same rules and measures."""
        trade = moved.line.trade
        versions = [
            v for side in (self.comparison.before, self.comparison.after) for n, _, v in side.trades if n == trade
        ]
        changed = f", {versions[0]} then and {versions[-1]} now" if len(set(versions)) > 1 else ""
        return f"the trade {trade}{changed} works it out otherwise than when it was saved, with the same rules and measures"

    def run(self, chosen: Chosen, trades: frozenset[str] | None = None) -> dict[str, Line]:
        """The lines that some trades give when these changes are made; none where the mixture is no job at all."""
        trades = self.wanted if trades is None else trades
        known = self.results.get((chosen, trades))
        if known is not None:
            return known
        found: dict[str, Line] = {}
        job = self._job(chosen)
        if job is not None:
            sides = (self.comparison.before, self.comparison.after)
            worked = {name for side in sides for name, _, _ in side.trades}
            # goods of another trade may stand in the same line; of Darby's own no two order the same
            together = worked | trades if any(not p.own for p in self.plugins.trades) else trades
            taken = [p for p in self.plugins.trades if p.trade.name in together]
            defaults = {p: self.own[p.trade.name] for p in taken if p.trade.name in self.own}
            runs = call_all(taken, job, self._rules(chosen), defaults)
            self.broken.update(name for run in runs if run.failure and (name := run.provided.trade.name) in trades)
            for one in shared([run for run in runs if not run.failure])[0]:
                if one.provided.trade.name in trades:
                    found.update((item.id, Line.of(item)) for item in one.items)
        self.results[chosen, trades] = found
        return found

    def _units(self, chosen: Chosen) -> str:
        units = self.comparison.units
        made = units is None or len(self.changes) - 1 in chosen
        return (self.comparison.after if made else self.comparison.before).units

    def is_job(self, chosen: Chosen) -> bool:
        """Whether a job comes of these changes: an opening in a wall that is not there, or not yet, makes none."""
        return self._job(chosen) is not None

    def _job(self, chosen: Chosen) -> Job | None:
        rules = len(self.comparison.rules)
        measured = frozenset(n for n in chosen if n >= rules)
        if measured not in self.jobs:
            job = self._measured(measured)
            self.jobs[measured] = job and evolve(job, units=self._units(measured))
        return self.jobs[measured]

    def _measured(self, chosen: Chosen) -> Job | None:
        """The job with these rows changed: that of one side, or a mixture of the rows of both."""
        before, after = self.comparison.before, self.comparison.after
        marks = self.plugins.marks
        first = len(self.comparison.rules)
        made = chosen & set(range(first, first + len(self.comparison.rows)))
        if made and len(made) < len(self.comparison.rows):
            rows = _mixed(self.comparison.row_slots, made, first)
            return Mixture.of(after.job, rows).job(after.name or "job", marks)
        side = after if len(made) == len(self.comparison.rows) else before
        return load(side.job, marks, kept_beside(side.schedules))[0]

    def _rules(self, chosen: Chosen) -> list[Rule]:
        """The rules of a mixture."""
        return _mixed(self.slots, chosen)

    def search(self, moved: Sequence[Moved], against: dict[str, Line], mixture: Callable[[Chosen], Chosen]) -> Hits:
        """The changes that stir a line when they are made (or left out), found by halving groups that do."""
        hits: Hits = {}
        rules = len(self.comparison.rules)
        groups = (tuple(range(rules)), tuple(range(rules, len(self.changes))))  # a rule first: it moves more than a row
        waiting: list[tuple[tuple[int, ...], tuple[Moved, ...]]] = [(group, tuple(moved)) for group in groups]
        while waiting:
            group, lines = waiting.pop(0)
            if not group or not lines:
                continue
            chosen, trades = mixture(frozenset(group)), frozenset(line.line.trade for line in lines)
            made = self.run(chosen, trades)
            is_job = self.is_job(chosen)
            if not is_job and len(group) == 1:
                continue  # it can only be made together with others, which tells nothing of what it does
            stirred = tuple(m for m in lines if not is_job or _stirred(made.get(m.id), against.get(m.id)))
            if len(group) == 1 or len(self.results) > self.budget:
                for one in stirred:
                    hits.setdefault(one.id, {})[group] = made.get(one.id)
                continue
            half = len(group) // 2
            waiting += [(group[:half], stirred), (group[half:], stirred)]
        return hits

    def settle(
        self, moved: Moved, forward: dict[tuple[int, ...], Line | None], backward: dict[tuple[int, ...], Line | None],
        first: dict[str, Line], last: dict[str, Line],
    ) -> tuple[Cause, ...]:  # fmt: skip
        """The causes of one line, which together make of it what it is now.

        First what it cannot do without; where that does not account for all of it, with what moves it by itself; and where
        that does not either, as few changes as can be found that do.
        """
        start, end = first.get(moved.id), last.get(moved.id)
        needed = [group for group, line in backward.items() if _watched(moved, line, end)]
        moving = [group for group, line in forward.items() if _watched(moved, line, start)]
        for groups in (needed, moving, list(dict.fromkeys((*needed, *moving)))):
            if groups and self._reaches(moved, groups, end):
                return tuple(self._cause(group, forward, start) for group in sorted(groups))
        return tuple(self._cause((n,), forward, start) for n in self._fewest(moved, end))

    def _reaches(self, moved: Moved, groups: Iterable[tuple[int, ...]], end: Line | None) -> bool:
        chosen = frozenset(n for group in groups for n in group)
        made = self.run(chosen, frozenset({moved.line.trade}))
        return self.is_job(chosen) and not _watched(moved, made.get(moved.id), end)

    def _cause(self, group: tuple[int, ...], forward: dict[tuple[int, ...], Line | None], start: Line | None) -> Cause:
        made = forward.get(group, start)
        alone = Moved(start, made) if start is not None or made is not None else None
        return Cause(tuple(self.changes[n] for n in group), alone)

    def _fewest(self, moved: Moved, end: Line | None) -> list[int]:
        """As few changes as can be found that make the line what it is now, by leaving out what it can do without."""
        kept = list(range(len(self.changes)))
        size = max(1, len(kept) // 2)
        while size:
            at = 0
            while at < len(kept) and len(self.results) <= 2 * self.budget:
                fewer = kept[:at] + kept[at + size :]
                if fewer and self._reaches(moved, [tuple(fewer)], end):
                    kept = fewer
                else:
                    at += size
            size //= 2
        return kept


def _mixed(slots: Iterable[Slot[T]], chosen: Chosen, first: int = 0) -> list[T]:
    """Each slot as it is now where its change, counted from `first`, is chosen, and where it has none; else as it was."""
    sides = ((s.before, s.after, s.change is None or s.change + first in chosen) for s in slots)
    return [one for a, b, made in sides if (one := b if made else a) is not None]


def _default_lines(comparison: Comparison) -> tuple[dict[str, Source], tuple[Slot[Rule], ...]]:
    """Each trade's default lines as one source, though the two sides may have two, and the rules placed in it.

    A trade's own default lines are told by their source; so those of the other side must seem to stand in it as well.
    """
    own = {**dict(comparison.before.defaults), **dict(comparison.after.defaults)}
    other = {id(s): own[name] for name, s in comparison.before.defaults if own[name] is not s}
    if not other:
        return own, comparison.slots

    def placed(rule: Rule | None) -> Rule | None:
        source = other.get(id(rule.span.source)) if rule is not None else None
        return evolve(rule, span=Span(source, rule.span.start, rule.span.end)) if rule and source else rule

    return own, tuple(evolve(slot, before=placed(slot.before)) for slot in comparison.slots)
