"""From the steps of an amount to the formula of a spreadsheet: the same steps, over cells that somebody may change.

A spreadsheet counts in binary floating point, so a quotient that is a whole number may come out a hair above it, and
rounding that up would order one package too many. Every rounding up therefore first rounds to nine decimals: far finer
than any quantity that is measured, far coarser than the error of some hundred steps (about 1E-13 of the value).
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterable
from fractions import Fraction

from attrs import define, field, frozen

from darby.estimate.model import Estimate
from darby.quantities.amounts import HERE, Amount, Origin
from darby.quantities.units import Unit

_SUM, _PRODUCT, _ATOM = 1, 2, 3
"""How tightly the outermost sign of a formula binds."""

_LONGEST = 2_000
"""Characters of a formula from which on a part of it gets a cell of its own; a spreadsheet takes some 8,000."""
_TERMS = 40
_CELL = re.compile(r"\$[A-Z]\$[0-9]+")

Text = tuple[str, int]


@frozen(eq=False)
class Input:
    """A number that somebody said, as a named cell. `unit` is the unit the cell is in, which its sheet shows."""

    name: str
    unit: Unit


@define(eq=False)
class Inputs:
    """The named cells, found by the number they hold."""

    _by_step: dict[int, Input] = field(factory=dict)
    _by_number: dict[tuple[Origin, Fraction, str], Input] = field(factory=dict)
    _names: set[str] = field(factory=set)

    def add(self, leaf: Amount, called: str, unit: Unit | None = None) -> Input:
        """A new named cell for a number."""
        made = Input(self._name(called), unit or leaf.unit)
        self._by_step[id(leaf.step)] = made
        if leaf.step.origin is not HERE:
            self._by_number.setdefault((leaf.step.origin, leaf.value, leaf.unit.name), made)
        return made

    def find(self, leaf: Amount) -> Input | None:
        """The cell of a number, also where a trade has given the number a name of its own."""
        found = self._by_step.get(id(leaf.step))
        if found is None and leaf.step.origin is not HERE:
            found = self._by_number.get((leaf.step.origin, leaf.value, leaf.unit.name))
        return found

    def _name(self, called: str) -> str:
        """A name a spreadsheet takes: letters, digits and underscores, like no cell, and given once."""
        plain = unicodedata.normalize("NFKD", called).encode("ascii", "ignore").decode().lower()
        stem = re.sub(r"[^a-z0-9]+", "_", plain).strip("_")[:80] or "number"
        if not stem[0].isalpha() or "_" not in stem:
            stem = f"in_{stem}"
        name, number = stem, 1
        while name in self._names:
            number += 1
            name = f"{stem}_{number}"
        self._names.add(name)
        return name


def numbers_said(estimate: Estimate) -> list[Amount]:
    """Every number said behind the order, each once."""
    return list({id(number.step): number for item in estimate.items for number in item.numbers}.values())


@define(eq=False)
class Writer:
    """Writes the formulas of one working. `cells` says where a step has a cell of its own; `spill` makes a cell for a part
    of a formula that would grow too long, and gives its address.
    """

    inputs: Inputs
    spill: Callable[[str, Amount], str]
    cells: dict[int, str] = field(factory=dict)

    def formula(self, node: Amount) -> str:
        """The formula of a step, with its equals sign."""
        return f"={self._step(node)[0]}"

    def _part(self, node: Amount) -> Text:
        """A step as part of another's formula."""
        cell = self.cells.get(id(node.step))
        if cell is not None:
            return cell, _ATOM
        text = self._step(node)
        if len(text[0]) > _LONGEST:
            self.cells[id(node.step)] = self.spill(f"={text[0]}", node)
            return self.cells[id(node.step)], _ATOM
        return text

    def _step(self, node: Amount) -> Text:
        match node.step.op, node.step.of:
            case "given", _:
                return self._leaf(node)
            case "+", (left, right):
                return f"{_held(self._part(left), _SUM)}+{_held(self._part(right), _SUM)}", _SUM
            case "-", (left, right):
                return f"{_held(self._part(left), _SUM)}-{_held(self._part(right), _PRODUCT)}", _SUM
            case "sum", parts:
                return self._sum(parts, node)
            case "*" | "/", (left, right) if self._is_one(right):
                return _times(
                    _held(self._part(left), _PRODUCT),
                    left.unit.factor * right.unit.factor ** (1 if node.step.op == "*" else -1) / node.unit.factor,
                )
            case "*", (left, right):
                text = f"{_held(self._part(left), _PRODUCT)}*{_held(self._part(right), _PRODUCT)}"
                return _times(text, left.unit.factor * right.unit.factor / node.unit.factor)
            case "/", (left, right):
                text = f"{_held(self._part(left), _PRODUCT)}/{_held(self._part(right), _ATOM)}"
                return _times(text, left.unit.factor / right.unit.factor / node.unit.factor)
            case "to", (inner,):
                return _times(_held(self._part(inner), _PRODUCT), inner.unit.factor / node.unit.factor)
            case "round up", (inner,):
                return f"ROUNDUP(ROUND({self._part(inner)[0]},9),0)", _ATOM
        return _constant(node.value)  # a step of a kind that is not ours keeps its value

    def _is_one(self, node: Amount) -> bool:
        """A bare 1 that nobody said, as in 48 sq ft for 1 sheet."""
        return node.step.op == "given" and node.value == 1 and self.inputs.find(node) is None

    def _leaf(self, node: Amount) -> Text:
        cell = self.inputs.find(node)
        if cell is None:
            return _constant(node.value)
        if cell.unit is node.unit:
            return cell.name, _ATOM
        return _times(cell.name, cell.unit.factor / node.unit.factor)

    def _sum(self, parts: Iterable[Amount], node: Amount) -> Text:
        terms = stretches([self._part(part)[0] for part in parts])
        while len(terms) > _TERMS:
            groups = [terms[at : at + _TERMS] for at in range(0, len(terms), _TERMS)]
            terms = [self.spill(f"=SUM({','.join(group)})", node) for group in groups]
        return f"SUM({','.join(terms)})", _ATOM


def row_of(cell: str) -> int:
    """The row of a cell of the same sheet, `$C$7`."""
    return int(cell.rpartition("$")[2])


def stretches(terms: list[str]) -> list[str]:
    """Terms of a sum, those that are cells below one another as a stretch of them: `$C$7:$C$12`."""
    made: list[str] = []
    start = end = ""
    for term in [*terms, ""]:
        if end and term == _below(end):
            end = term
            continue
        if end:
            made.append(start if start == end else f"{start}{',' if _below(start) == end else ':'}{end}")
        start = end = term if _CELL.fullmatch(term) else ""
        if term and not end:
            made.append(term)
    return made


def _below(cell: str) -> str:
    column, _, row = cell.rpartition("$")
    return f"{column}${int(row) + 1}"


def _held(text: Text, needed: int) -> str:
    return text[0] if text[1] >= needed else f"({text[0]})"


def _times(text: str, ratio: Fraction) -> Text:
    """A formula times an exact ratio of units, written as a multiplication and a division."""
    if ratio != 1:
        text += (f"*{ratio.numerator}" if ratio.numerator != 1 else "") + (
            f"/{ratio.denominator}" if ratio.denominator != 1 else ""
        )
    return text, _PRODUCT


def _constant(value: Fraction) -> Text:
    text = str(value)
    return (f"({text})", _ATOM) if value < 0 else (text, _PRODUCT if value.denominator != 1 else _ATOM)
