"""Two estimates held side by side: what is ordered otherwise, which rules and measured rows are not the same."""

from __future__ import annotations

from collections.abc import Hashable
from fractions import Fraction

from attrs import field, frozen

from darby.rules.rule import Rule
from darby.saved.alignment import Slot, aligned
from darby.saved.model import Line, Saved
from darby.saved.row_mixture import Row, held, rows_of


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
    slots: tuple[Slot[Rule], ...] = field(default=(), repr=False)
    """All rules of both sides in one order; the number of a change is its place in `rules`."""
    row_slots: tuple[Slot[Row], ...] = field(default=(), repr=False)
    """All measured rows of both sides in one order; empty where the texts that hold them are the same."""

    @property
    def same(self) -> bool:
        """Whether both order the same."""
        return not self.items


def compare(before: Saved, after: Saved) -> Comparison:
    """What differs between two estimates of one job, or of two. Takes time in proportion to their size."""
    slots = aligned(before.rules, after.rules, (_same, _about, _place), lambda a, b: _same(a) == _same(b))
    rules = tuple(RuleChange(s.before, s.after) for s in slots if s.change is not None)
    row_slots = () if _measured(before) == _measured(after) else held(_rows(before), _rows(after))
    rows = tuple(RowChange(s.before, s.after) for s in row_slots if s.change is not None)
    units = UnitsChange(before.units, after.units) if before.units != after.units else None
    old, new = dict(before.plugins), dict(after.plugins)
    plugins = [PluginChange(n, old.get(n), new.get(n)) for n in sorted({*old, *new}) if old.get(n) != new.get(n)]
    return Comparison(before, after, moved(before, after), rules, rows, units, tuple(plugins), slots, row_slots)


def moved(before: Saved, after: Saved) -> tuple[Moved, ...]:
    """The lines that are not the same, the largest change first: all that a replay of many files wants to know."""
    ids = dict.fromkeys((*before.lines, *after.lines))
    pairs = [Moved(before.lines.get(i), after.lines.get(i)) for i in ids]
    found = [p for p in pairs if p.before is None or p.after is None or _differ(p.before, p.after)]
    return tuple(sorted(found, key=lambda m: (-m.size[0], -m.size[1], m.id)))


def _differ(one: Line, other: Line) -> bool:
    return one.need != other.need or one.order != other.order


def _measured(saved: Saved) -> list[str]:
    return [saved.job.text, *(source.text for source in saved.schedules)]


def _rows(saved: Saved) -> tuple[Row, ...]:
    return rows_of(saved.job, saved.schedules)


def _same(rule: Rule) -> Hashable:
    """What a rule says of what in which layer: that makes it the same, wherever it stands."""
    return (rule.kind.name, rule.subject, rule.scope, rule.layer, rule.answer, rule.bound)


def _about(rule: Rule) -> Hashable:
    """What it speaks of: a rule that says something else of the same has changed."""
    return (rule.kind.name, rule.subject, rule.scope, rule.layer)


def _place(rule: Rule) -> Hashable:
    """Its line, which may now speak otherwise of its subject."""
    span = rule.span
    return (rule.kind.name, rule.subject, rule.scope.get("surface"), rule.layer, span.source.name, span.line)
