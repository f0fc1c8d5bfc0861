"""An estimate as it is kept: all that went in, what came out, and what is needed to work it out again."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import cached_property
from typing import Any

from attrs import field, frozen

from darby.estimate.line_item import LineItem
from darby.reading.read import Reading
from darby.rules.rule import Layer, Rule
from darby.text.spans import Source

VERSION = 1
SCHEMA = f"darby.saved/{VERSION}"


@frozen
class Measure:
    """An exact number and the name of its unit."""

    value: Fraction
    unit: str


@frozen
class Line:
    """One line to order, as it is kept and compared: `need` before rounding, `count` packages that hold `package` each.

    `count` and `package` are None where the package is not known.
    """

    id: str
    trade: str
    product: str
    pool: tuple[tuple[str, str], ...]
    need: Measure
    count: int | None = None
    package: Measure | None = None
    container: str = ""
    rules: tuple[int, ...] = field(default=(), eq=False)
    """Which of the estimate's rules are behind it, counted from 0."""
    working: tuple[Mapping[str, Any], ...] = field(default=(), eq=False, repr=False)
    """Its longhand, line by line: `text`, `value`, `unit` and `from`, the places."""
    notes: tuple[str, ...] = field(default=(), eq=False)

    @classmethod
    def of(cls, item: LineItem) -> Line:
        """A line item without its longhand."""
        package = None
        if item.package is not None:
            over = item.package.unit.over_parts
            package = Measure(item.package.value, "·".join(u.name for u in over) if over else "each")
        return cls(
            item.id, item.trade, item.product, tuple(item.pool.items()), Measure(item.need.value, item.need.unit.name),
            item.count, package, item.container, notes=item.notes,
        )  # fmt: skip

    @property
    def order(self) -> tuple[int | None, Measure | None, str]:
        """What is bought: number, content and name of the packages."""
        return self.count, self.package, self.container


@frozen
class Open:
    """A question that was open, to whom it went, and the ids of the lines its answer can move."""

    text: str
    to: str
    items: tuple[str, ...] = ()


@frozen
class Choices:
    """What was chosen beside the job file: units, and plugins left out or used alone."""

    units: str = ""
    without: tuple[str, ...] = ()
    only: tuple[str, ...] | None = None


@frozen(eq=False)
class Paper:
    """A document or house file with its layer; `reading` is what was read in it by the language `Saved.language` names."""

    source: Source
    layer: Layer
    reading: Reading


@frozen(eq=False, slots=False)
class Saved:
    """A saved estimate. `rules` are in the order of the estimate; the source of each is the job or one of the texts."""

    name: str
    job: Source
    units: str
    choices: Choices
    plugins: tuple[tuple[str, str], ...]
    """Name and version of each plugin that was loaded."""
    trades: tuple[tuple[str, str, str], ...]
    """Name, plugin and version of each trade that took part."""
    language: str
    """Names everything that took part in reading: where it is the same today, the same text has the same rules."""
    papers: tuple[Paper, ...]
    defaults: tuple[tuple[str, Source], ...]
    """Trade name and the default lines it went by."""
    rules: tuple[Rule, ...]
    items: tuple[Line, ...]
    questions: tuple[Open, ...]
    missing: tuple[str, ...] = ()
    """Trades and plugins that failed when it was made; their lines are missing."""
    schedules: tuple[Source, ...] = ()
    """The tables of measured rows that the job file names."""
    own_units: tuple[tuple[str, tuple[str, ...]], ...] = ()
    """Units of plugins that rules and lines are measured in, each with what it is worth and then its spellings: by these it can be
    opened where the plugin is not there, or has others."""

    @cached_property
    def lines(self) -> dict[str, Line]:
        """The lines by id."""
        return {line.id: line for line in self.items}
