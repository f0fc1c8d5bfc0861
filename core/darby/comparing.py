"""Two estimates held side by side: what is ordered otherwise, which rules and measured rows are not the same."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable
from fractions import Fraction

from attrs import field, frozen

from darby.job_rows import Row, rows_of
from darby.rules import Rule
from darby.saved import Line, Saved


@frozen
class Moved:
    """A line to order that is not the same: `before` is None where it was added, `after` where it is gone."""

    before: Line | None
    after: Line | None

    @property
    def line(self) -> Line:
        """The line as it is now, or was last."""
        line = self.after or self.before
        assert line is not None
        return line

    @property
    def id(self) -> str:
        """The id of the line."""
        return self.line.id

    @property
    def ordered(self) -> bool:
        """Whether the order itself moved, and not the need alone."""
        return self.before is None or self.after is None or self.before.order != self.after.order

    @property
    def packages(self) -> int | None:
        """How many packages more are ordered; None where that cannot be said, since the packages differ or are unknown."""
        counts = [0 if line is None else line.count for line in (self.before, self.after)]
        sizes = {(line.package, line.container) for line in (self.before, self.after) if line is not None}
        if counts[0] is None or counts[1] is None or len(sizes) > 1:
            return None
        return counts[1] - counts[0]

    @property
    def share(self) -> Fraction | None:
        """The change of the need as a part of what it was; None where there was none, or it was in another unit."""
        if self.before is None or self.after is None or self.before.need.unit != self.after.need.unit:
            return None
        if not self.before.need.value:
            return None
        return (self.after.need.value - self.before.need.value) / self.before.need.value

    @property
    def size(self) -> tuple[int, Fraction]:
        """For sorting: a line that came or went first, then by how far the order and the need moved."""
        if self.before is None or self.after is None:
            return (2, Fraction(0))
        return (int(self.ordered), abs(self.share) if self.share is not None else Fraction(10**9))


@frozen(eq=False)
class RuleChange:
    """A rule that is not the same, with its clause on both sides; None where there is none."""

    before: Rule | None
    after: Rule | None


@frozen
class RowChange:
    """A measured row that is not the same; None where there is none."""

    before: Row | None
    after: Row | None


@frozen
class UnitsChange:
    """The units of the job, which decide whose default lines hold."""

    before: str
    after: str


@frozen
class PluginChange:
    """A plugin of another version, or one that came or went; None where there is none."""

    name: str
    before: str | None
    after: str | None


Change = RuleChange | RowChange | UnitsChange


@frozen(eq=False)
class Cause:
    """What moved a line: one change, or several that were not told apart or move it only together.

    `alone` is what the change makes of the line by itself; None where it was not tried alone. With `why` no rule and no row
    moved the line but the trade itself, and that is said there.
    """

    changes: tuple[Change, ...]
    alone: Moved | None = None
    why: str = ""


@frozen(eq=False)
class Slot:
    """A place in the order of all rules of both sides; `change` counts from 0, and is None where both say the same."""

    before: Rule | None
    after: Rule | None
    change: int | None = None


@frozen(eq=False)
class Comparison:
    """All that is not the same in two estimates."""

    before: Saved
    after: Saved
    items: tuple[Moved, ...]
    """Largest change first."""
    rules: tuple[RuleChange, ...]
    rows: tuple[RowChange, ...]
    units: UnitsChange | None
    plugins: tuple[PluginChange, ...]
    slots: tuple[Slot, ...] = field(default=(), repr=False)

    @property
    def same(self) -> bool:
        """Whether both order the same."""
        return not self.items


def compare(before: Saved, after: Saved) -> Comparison:
    """What differs between two estimates of one job, or of two. Takes time in proportion to their size."""
    slots, rules = _rules(before.rules, after.rules)
    rows = () if before.job.text == after.job.text else _rows(before, after)
    units = UnitsChange(before.units, after.units) if before.units != after.units else None
    old, new = dict(before.plugins), dict(after.plugins)
    plugins = [PluginChange(n, old.get(n), new.get(n)) for n in sorted({*old, *new}) if old.get(n) != new.get(n)]
    return Comparison(before, after, moved(before, after), rules, rows, units, tuple(plugins), slots)


def moved(before: Saved, after: Saved) -> tuple[Moved, ...]:
    """The lines that are not the same, the largest change first: all that a replay of many files wants to know."""
    ids = dict.fromkeys((*before.lines, *after.lines))
    pairs = [Moved(before.lines.get(i), after.lines.get(i)) for i in ids]
    found = [p for p in pairs if p.before is None or p.after is None or _differ(p.before, p.after)]
    return tuple(sorted(found, key=lambda m: (-m.size[0], -m.size[1], m.id)))


def _differ(one: Line, other: Line) -> bool:
    return one.need != other.need or one.order != other.order


def _rows(before: Saved, after: Saved) -> tuple[RowChange, ...]:
    old, new = rows_of(before.job), rows_of(after.job)
    keys = dict.fromkeys((*old, *new))
    pairs = [(old.get(key), new.get(key)) for key in keys]
    return tuple(RowChange(a, b) for a, b in pairs if a is None or b is None or dict(a.data) != dict(b.data))


def _same(rule: Rule) -> Hashable:
    return (rule.kind.name, rule.subject, rule.scope, rule.layer, rule.answer, rule.bound)


def _about(rule: Rule) -> Hashable:
    return (rule.kind.name, rule.subject, rule.scope, rule.layer)


def _place(rule: Rule) -> Hashable:
    span = rule.span
    return (rule.kind.name, rule.subject, rule.scope.get("surface"), rule.layer, span.source.name, span.line)


def _rules(before: Iterable[Rule], after: Iterable[Rule]) -> tuple[tuple[Slot, ...], tuple[RuleChange, ...]]:
    """Both lists as one, and the changes among them.

    A rule is the same when it says the same of the same in the same layer, wherever it stands; it changed when it says
    something else of the same, or when its line now speaks otherwise of its subject.
    """
    old, new = list(before), list(after)
    partner: dict[int, int] = {}
    taken: set[int] = set()
    for key in (_same, _about, _place):
        _pair(old, new, key, partner, taken)
    of_old: dict[int, int] = {n: o for o, n in partner.items()}
    behind: dict[int | None, list[int]] = {}
    last: int | None = None
    for number in range(len(old)):
        if number in partner:
            last = partner[number]
        else:
            behind.setdefault(last, []).append(number)
    slots: list[Slot] = []
    changes: list[RuleChange] = []

    def add(one: Rule | None, other: Rule | None) -> None:
        if one is not None and other is not None and _same(one) == _same(other):
            slots.append(Slot(one, other))
        else:
            slots.append(Slot(one, other, len(changes)))
            changes.append(RuleChange(one, other))

    for gone in behind.get(None, ()):
        add(old[gone], None)
    for number, rule in enumerate(new):
        add(old[of_old[number]] if number in of_old else None, rule)
        for gone in behind.get(number, ()):
            add(old[gone], None)
    return tuple(slots), tuple(changes)


def _pair(
    old: list[Rule], new: list[Rule], key: Callable[[Rule], Hashable], partner: dict[int, int], taken: set[int]
) -> None:
    """Pair what has one key, in order, of what has no partner yet."""
    waiting: dict[Hashable, list[int]] = {}
    for number in reversed(range(len(new))):
        if number not in taken:
            waiting.setdefault(key(new[number]), []).append(number)
    if not waiting:
        return
    for number, rule in enumerate(old):
        if number not in partner and (found := waiting.get(key(rule))):
            partner[number] = found.pop()
            taken.add(partner[number])
