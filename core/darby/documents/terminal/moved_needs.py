"""What moved between two estimates, a line for each need: one that is bought in a mix of package sizes moved as a whole."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from attrs import frozen

from darby.documents import changes
from darby.documents.words import one_line
from darby.saved.comparison import Cause, Comparison, Moved
from darby.saved.model import Line, Measure

_SIZE = "package"
_Key = tuple[str, str, tuple[tuple[str, str], ...]]


@frozen(eq=False)
class MovedNeed:
    """A need that moved: its lines on either side, the largest package first, and those of them that moved."""

    before: tuple[Line, ...]
    after: tuple[Line, ...]
    moved: tuple[Moved, ...]

    @property
    def name(self) -> str:
        """Product, and what tells it from others of its name."""
        line = (*self.after, *self.before)[0]
        return one_line(", ".join((line.product, *(v for k, v in line.pool if k != _SIZE or not self.mixed))))

    @property
    def mixed(self) -> bool:
        """Whether it is bought in several sizes on either side."""
        return len(self.before) > 1 or len(self.after) > 1

    @property
    def ordered(self) -> bool:
        """Whether the order itself moved."""
        return any(one.ordered for one in self.moved)

    @property
    def was(self) -> str:
        """What was ordered."""
        return " + ".join(map(changes.order, self.before)) or "nothing"

    @property
    def now(self) -> str:
        """What is ordered."""
        return " + ".join(map(changes.order, self.after)) or "nothing"

    @property
    def share(self) -> Fraction | None:
        """The change of the whole need as a part of what it was."""
        if not self.mixed:
            return self.moved[0].share
        old, new = _sum(self.before), _sum(self.after)
        if old is None or new is None or old.unit != new.unit or not old.value:
            return None
        return (new.value - old.value) / old.value

    def change(self) -> str:
        """By how much it moved: `+1 pail, -2 cans`; new, gone, or the need alone."""
        if not self.mixed:
            return changes.change_of(self.moved[0])
        if not self.before or not self.after:
            return "new" if self.after else "gone"
        if self.ordered:
            told = (changes.more(m.packages, m.line.container) for m in self.moved if m.ordered)
            return ", ".join(filter(None, told)) or "other packages"
        return next((changes.change_of(m) for m in self.moved), "")

    def causes(self, found: Mapping[str, tuple[Cause, ...]]) -> tuple[str, ...]:
        """What moved it, a sentence each and each once."""
        return tuple(dict.fromkeys(changes.cause(c, m) for m in self.moved for c in found.get(m.id, ())))


def moved_needs(comparison: Comparison) -> tuple[MovedNeed, ...]:
    """Every need that moved, the largest change first."""
    sides = [_by_need(side.items) for side in (comparison.before, comparison.after)]
    found: dict[_Key, list[Moved]] = {}
    for one in comparison.items:
        found.setdefault(_key(one.line, sides), []).append(one)
    made = []
    for key, some in found.items():
        whole = _is_mix(key, sides)
        was, now = sides[0].get(key, ()), sides[1].get(key, ())
        before, after = (was, now) if whole else (_only(some[0].before), _only(some[0].after))
        made.append(MovedNeed(tuple(before), tuple(after), tuple(some)))
    return tuple(made)


def _only(line: Line | None) -> tuple[Line, ...]:
    return () if line is None else (line,)


def _bare(line: Line) -> _Key:
    return line.trade, line.product, tuple((k, v) for k, v in line.pool if k != _SIZE)


def _key(line: Line, sides: list[dict[_Key, list[Line]]]) -> _Key:
    """What the lines of a mix share; the line's own pool where it is in none."""
    bare = _bare(line)
    return bare if _is_mix(bare, sides) else (line.trade, line.product, line.pool)


def _is_mix(key: _Key, sides: list[dict[_Key, list[Line]]]) -> bool:
    return any(_SIZE in dict(line.pool) for side in sides for line in side.get(key, ()))


def _by_need(lines: tuple[Line, ...]) -> dict[_Key, list[Line]]:
    found: dict[_Key, list[Line]] = {}
    for line in lines:
        found.setdefault(_bare(line), []).append(line)
    for some in found.values():
        some.sort(key=lambda line: -line.package.value if line.package is not None else 0)
    return found


def _sum(lines: tuple[Line, ...]) -> Measure | None:
    if not lines or len({line.need.unit for line in lines}) > 1:
        return None
    return Measure(sum((line.need.value for line in lines), Fraction(0)), lines[0].need.unit)
