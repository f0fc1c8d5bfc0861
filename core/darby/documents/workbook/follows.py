"""What formulas cannot follow: where a changed number would make Darby decide otherwise, the workbook says so beside it, in red.

A formula repeats the steps of the longhand. What was decided on the way there stays as it was: which openings are deducted, which
package size is bought, how a length is cut, what a line is called. Each such place has a cell that stays empty while nothing is changed.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping
from fractions import Fraction
from functools import cached_property

from attrs import frozen

from darby.documents.words import one_line
from darby.documents.workbook.sheets import Page, near
from darby.estimate.line_item import LineItem
from darby.estimate.model import Estimate
from darby.quantities.amounts import HERE, SETTLED, Amount, Origin
from darby.quantities.units import UNITS
from darby.rules.rule import Rule

AGAIN = "Run Darby again: "
"""How each of these cells begins, and by what they are counted and colored."""
HEAD = "Follows"
_ALERT = "Run Darby again: not all follows this change. The red cells say what."
_LIMIT = "deduct openings over"
_NEAR = "1E-9"
"""Beyond what binary floats lose of any number here."""

NOT_BELOW_ZERO = {
    "validate": "decimal", "criteria": ">=", "value": 0, "ignore_blank": False, "error_title": "Not a quantity",
    "error_message": "Write a number that is not below zero. To leave something out, write 0.",
}  # fmt: skip
"""What a cell that may be changed takes."""


@frozen(eq=False, slots=False)
class Fixed:
    """What of an estimate the formulas of its workbook hold fixed."""

    estimate: Estimate

    @cached_property
    def _said(self) -> Mapping[int, frozenset[Origin]]:
        """Where the numbers of each item were said, or settled."""
        return {id(item): frozenset(_origins(item)) for item in self.estimate.items}

    def of_line(self, item: LineItem) -> tuple[str, bool]:
        """What a change of a line may decide otherwise, in a few words, nothing where all follows; and whether its need may, too.

        A line that is named for a size is another line with another package, however much is needed.
        """
        said = self._said[id(item)]
        if SETTLED in said:
            return "cutting and packing", True
        package = [r for r in self.estimate.rules if r.kind.name == "package" and r.subject == item.product]
        used = [r for r in package if r.key in {rule.key for rule in item.rules} or _holds(said, r)]
        sizes = {r.amount.size for r in package for u in used if r.layer == u.layer and _alike(r, u)}
        if len(sizes) > 1:
            return "package size", True
        named = {rule.kind.name for rule in self.estimate.rules if rule.kind.name in item.pool and _holds(said, rule)}
        return (f"its kind names the {min(named)}" if named else ""), False

    def of_rules(self) -> Mapping[str, str]:
        """The same for the numbers of rules, by their keys."""
        beside: dict[str, dict[int, None]] = {}
        for number, item in enumerate(self.estimate.items, 1):
            said = self._said[id(item)]
            for rule in item.rules:
                if not _holds(said, rule):
                    beside.setdefault(rule.key, {})[number] = None
        found = {key: f"also behind {_lines([*numbers])}" for key, numbers in beside.items()}
        return found | {conflict.used.key: "another clause says otherwise" for conflict in self.estimate.conflicts}

    def limits(self) -> tuple[Amount, ...]:
        """The areas above which openings are deducted."""
        rules = (rule for item in self.estimate.items for rule in item.rules if rule.kind.name == _LIMIT)
        areas = (rule.amount for rule in rules if rule.amount.unit.dimension == UNITS["sq ft"].dimension)
        return tuple({area.size: area for area in areas}.values())


def changed(page: Page, column: int, cells: Iterable[tuple[str, Fraction]], why: str) -> None:
    """A cell that says why to run Darby again once one of some cells holds another number than it was estimated with."""
    why = one_line(why).replace('"', "'")
    tests = [f"ABS({cell}-{near(value):f})>{_NEAR}*(1+ABS({near(value):f}))" for cell, value in cells]
    page.formula(column, f'=IF(OR({",".join(tests)}),"{AGAIN}{why}","")' if tests and why else '=""', "", "text")


def crossed(page: Page, column: int, cell: str, area: Fraction, limits: Iterable[tuple[Fraction, str]]) -> None:
    """The same once an opening has come over or under an area above which openings are deducted, each with its name."""
    text = '""'
    for limit, name in limits:
        was = f"{cell}>{near(limit):f}+{_NEAR}"
        text = f'IF({was if area <= limit else f"NOT({was})"},"{AGAIN}deducted above {name}",{text})'
    page.formula(column, f"={text}", "", "text")


def mark(page: Page, first: int, column: int) -> str:
    """Color the cells of a column that say so; gives their range as formulas of any sheet name it."""
    last = max(first, page.row - 1)
    page.sheet.conditional_format(
        first, column, last, column,
        {"type": "text", "criteria": "begins with", "value": AGAIN.strip(), "format": page.looks["again"]},
    )  # fmt: skip
    page.widths[column] = max(page.widths.get(column, 0), 26)
    letter = chr(ord("A") + column)
    return f"{page.name}!${letter}${first + 1}:${letter}${last + 1}"


def alert(page: Page, row: int, ranges: Iterable[str]) -> None:
    """One cell at the top of the first sheet that says so where any of them does."""
    counts = "+".join(f'COUNTIF({cells},"{AGAIN.strip()}*")' for cells in ranges)
    page.sheet.write_formula(row, 0, f'=IF({counts}>0,"{_ALERT}","")', page.looks["alert"], "")


def _origins(item: LineItem) -> Iterator[Origin]:
    return (number.step.origin for number in item.numbers if number.step.origin is not HERE)


def _holds(said: Container[Origin], rule: Rule) -> bool:
    """Whether a number of the rule was said there."""
    parts = (part for part in (rule.amount, rule.per, rule.upper, rule.by) if part is not None)
    return any(part.step.origin is not HERE and part.step.origin in said for part in parts)


def _alike(one: Rule, other: Rule) -> bool:
    return one.scope == other.scope and one.amount.unit.dimension == other.amount.unit.dimension


def _lines(numbers: list[int]) -> str:
    return f"line {numbers[0]}" if len(numbers) == 1 else f"lines {', '.join(map(str, numbers))}"
