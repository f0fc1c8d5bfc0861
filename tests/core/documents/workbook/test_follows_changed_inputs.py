"""Any number of a workbook changed in its cell: what a real spreadsheet orders then is what Darby orders, or the workbook says that it
does not follow. Numbers are drawn by seed from all named cells of whole jobs: sides, counts, rates, spacings, limits, packages.

`DARBY_CHANGES=60` draws so many for each of ten jobs, the whole check; else a few for each of three, as one of the slow tests.
"""

from __future__ import annotations

import os
import random
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from attrs import define, evolve, field, frozen

from core.documents.workbook.test_follows import says
from core.documents.workbook.test_to_xlsx import changed, order_sheets, orders, wanted
from darby.cli.shared.jobs import Wanted, estimate_of
from darby.documents.workbook import formulas
from darby.documents.workbook.formulas import Input
from darby.estimate.model import Estimate
from darby.job.loader import load
from darby.pipeline import estimate
from darby.plugin_host.model import Plugins
from darby.quantities.amounts import Amount
from darby.quantities.units import EACH, UnitError
from darby.reading.cache import read_once
from darby.reading.read import Language, Reading
from darby.rules.rule import Rule
from darby.text.spans import Source
from workbooks import book

JOBS = Path(__file__).parents[4] / "fixtures" / "jobs" / "whole"
NAMES = (
    "sallow-hall", "spruce-office", "dock-office", "curlew-house", "banksia-ward", "neem-court", "elm-school", "rook-attic",
    "wren-clinic", "heron-motel",
)  # fmt: skip
_MANY = int(os.environ.get("DARBY_CHANGES", "0"))
"""Changes for each job in the whole check; 0 for the small one."""
_FEW = 5
_PARTS = ("amount", "per", "upper", "by")
_FACTORS = tuple(Fraction(n, 20) for n in (5, 10, 14, 16, 18, 19, 21, 22, 25, 30, 40, 60))


@frozen(eq=False)
class Cell:
    """A cell that may be changed: the number as it was said, and the one that is tried."""

    input: Input
    leaf: Amount
    value: Fraction
    """In the unit of the cell."""

    @property
    def amount(self) -> Amount:
        """The new number as the old one was said."""
        said = Amount.of(self.value, self.input.unit).to(self.leaf.unit)
        return Amount.of(said.value, self.leaf.unit, self.leaf.step.origin, self.leaf.label)


@define(eq=False)
class Told:
    """A reader that reads another number in place of one, and how often it did."""

    cell: Cell
    met: int = field(default=0, init=False)

    def __call__(self, *args: Any, **how: Any) -> Reading:
        """A reading with the other number in it."""
        reading = read_once(*args, **how)
        return evolve(reading, rules=tuple(map(self._other, reading.rules)))

    def _other(self, rule: Rule) -> Rule:
        leaf = self.cell.leaf
        parts = {name: getattr(rule, name) for name in _PARTS}
        same = [
            name
            for name, part in parts.items()
            if part is not None and part.step.origin == leaf.step.origin and (part.value, part.unit) == (leaf.value, leaf.unit)
        ]  # fmt: skip
        self.met += len(same)
        return evolve(rule, **dict.fromkeys(same, self.cell.amount))


@frozen(eq=False)
class Desk:
    """One job as it is, and how to work it out again."""

    base: Estimate
    plugins: Plugins
    language: Language

    @classmethod
    def of(cls, job: Path) -> Desk:
        """The job of a file; its rows stand in it and in no schedule."""
        done = estimate_of(Wanted(str(job)))
        assert done.estimate is not None, done.problems
        return cls(done.estimate, done.plugins, Language.of(done.plugins.readers, done.plugins.vocabularies))

    def with_rule(self, cell: Cell) -> Estimate | None:
        """The estimate of another number in place of one that a clause says; None where no clause that is read says it so."""
        told = Told(cell)
        made = estimate(self.base.job, self.base.papers, self.plugins, self.language, reader=told, asking=False)
        return made if told.met else None

    def with_measure(self, cell: Cell) -> Estimate | None:
        """The estimate of the job in whose file another number stands in place of one; None where the job is none then."""
        place = cell.leaf.step.origin.place
        assert place is not None
        said = f'"{cell.value} {cell.input.unit.name}"' if place.text.startswith(('"', "'")) else str(cell.value)
        text = f"{place.source.text[: place.start]}{said}{place.source.text[place.end :]}"
        job, _ = load(Source(place.source.name, text), self.plugins.marks)
        if job is None:
            return None
        return estimate(job, self.base.papers, self.plugins, self.language, reader=read_once, asking=False)


def is_measured(leaf: Amount, text: str) -> bool:
    """Whether a number stands in the job file as a length, an area or a count."""
    place = leaf.step.origin.place
    if place is None or place.source.text != text:
        return False
    try:
        return Amount.read(place.text.strip("\"'")).to(leaf.unit) == leaf
    except UnitError:
        return place.text.isdigit() and leaf.unit is EACH and int(place.text) == leaf.value


def drawn(chance: random.Random, known: list[tuple[Input, Amount]], many: int) -> Iterator[Cell]:
    """Cells drawn at random, each with another number."""
    for _ in range(many):
        one, leaf = chance.choice(known)
        now = leaf.to(one.unit).value
        if leaf.unit is EACH and now.denominator == 1:
            value = max(Fraction(1), now + chance.choice((-1, 1, 2)))
        else:
            value = Fraction(round(now * chance.choice(_FACTORS) * 1000), 1000)
        if value not in (now, 0):
            yield Cell(one, leaf, value)


def tried(name: str, many: int, monkeypatch: pytest.MonkeyPatch) -> list[tuple[Cell, Estimate, bytes]]:
    """Changes of one job: the cell, what Darby makes of the other number, and the workbook with it."""
    desk = Desk.of(JOBS / name / "job.toml")
    base, text = desk.base, desk.base.job.source.text
    inputs: list[tuple[Input, Amount]] = []
    add = formulas.Inputs.add

    def noted(self: formulas.Inputs, leaf: Amount, *args: Any) -> Input:
        made = add(self, leaf, *args)
        inputs.append((made, leaf))
        return made

    with monkeypatch.context() as patch:
        patch.setattr(formulas.Inputs, "add", noted)
        start = book(base)
    known = [(one, leaf) for one, leaf in inputs if leaf.value]
    sides = [pair for pair in known if is_measured(pair[1], text)]
    rules = [pair for pair in known if pair not in sides]
    chance = random.Random(name)
    found: list[tuple[Cell, Estimate, bytes]] = []
    for cell in (c for pair in zip(drawn(chance, sides, 9 * many), drawn(chance, rules, 9 * many)) for c in pair):  # noqa: B905
        made = (desk.with_measure if is_measured(cell.leaf, text) else desk.with_rule)(cell)
        if made is not None:
            found.append((cell, made, changed(start, **{cell.input.name: cell.value})))
        if len(found) == many:
            break
    return found


@pytest.mark.slow
@pytest.mark.parametrize("name", NAMES if _MANY else NAMES[:3])
def test_a_changed_number_is_followed_or_the_workbook_says_that_it_is_not(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    changes = tried(name, _MANY or _FEW, monkeypatch)
    sheets: list[Any] = []
    for at in range(0, len(changes), 20):
        (tmp_path / str(at)).mkdir()
        sheets += order_sheets([data for _, _, data in changes[at : at + 20]], tmp_path / str(at))
    wrong, warned, needless = [], 0, 0
    for (cell, made, _), sheet in zip(changes, sheets, strict=True):
        same = sorted(orders(sheet)) == sorted(wanted(made))
        warned += says(sheet)
        needless += says(sheet) and same
        if not same and not says(sheet):
            off = sorted(set(orders(sheet)) ^ set(wanted(made)))
            wrong.append(f"{cell.input.name}: {cell.leaf.to(cell.input.unit).value} to {cell.value}: {off}")
    print(
        f"{name}: {len(changes)} changes, {len(changes) - warned} followed, {warned} told, {needless} of them in vain"
    )
    assert len(changes) >= (_MANY or _FEW)
    assert not wrong, "\n".join(wrong)
