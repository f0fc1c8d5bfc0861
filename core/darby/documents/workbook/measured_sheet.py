"""The sheet Measured: surfaces, openings and corners as cells that may be changed, and what else somebody gave as a number."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from attrs import define, field

from darby.documents.words import place
from darby.documents.workbook.follows import HEAD, NOT_BELOW_ZERO, Fixed, crossed, mark
from darby.documents.workbook.formulas import Input, Inputs, Writer
from darby.documents.workbook.sheets import Page
from darby.estimate.model import Estimate
from darby.job.model import Job
from darby.job.own_tables import said
from darby.quantities.amounts import HERE, SETTLED, Amount
from darby.quantities.units import AREA, LENGTH, UNITS, Unit
from darby.text.spans import Span


def measured_heads(job: Job) -> tuple[str, ...]:
    """The heads of the sheet, with the units of the job."""
    length, area = ("ft", "sq ft") if job.units == "us" else ("m", "m2")
    sides = (f"Length or width ({length})", f"Height or second side ({length})", f"Area of one ({area})")
    return ("What", "Name", "Room", "In", *sides, "Faces or count", "Place", HEAD)


@define(eq=False)
class Rows:
    """What the sheet holds, row by row."""

    follows: str = ""
    """The cells that say what does not follow."""
    _row_of: dict[int, int] = field(factory=dict)
    """The row in which an input stands first."""
    _values: dict[int, list[Fraction]] = field(factory=dict)

    def put(self, made: Input | None, row: int, value: Fraction) -> None:
        """Note a number and the input that it is, if it is one."""
        self._values.setdefault(row, []).append(value)
        if made is not None:
            self._row_of.setdefault(id(made), row)

    def around(self, used: Iterable[Input]) -> tuple[tuple[str, Fraction], ...]:
        """The sum of all that stands from the first to the last of the rows that some inputs are of, and that of the squares, each with its value.

        A sum alone stays what it is where one length takes what another loses, and these are cut otherwise.
        """
        rows = [self._row_of[id(one)] for one in used if id(one) in self._row_of]
        if not rows:
            return ()
        first, last = min(rows), max(rows)
        values = [value for row in range(first, last + 1) for value in self._values.get(row, ())]
        cells = f"Measured!$E${first + 1}:$H${last + 1}"
        squares = sum((value * value for value in values), Fraction(0))
        return (f"SUM({cells})", sum(values, Fraction(0))), (f"SUMSQ({cells})", squares)


def write_measured(page: Page, estimate: Estimate, inputs: Inputs) -> Rows:
    """Surfaces, openings and corners, and what tables of trades say; each number once as an input, wherever else it stands a reference to it.

    Gives what stands where.
    """
    job = estimate.job
    length, area = (UNITS[n] for n in (("ft", "sq ft") if job.units == "us" else ("m", "m2")))
    heads = measured_heads(job)
    page.start(
        "Measured",
        "What was measured, one face of each surface, openings left in. Filled cells may be changed.",
        heads,
        us=estimate.job.units == "us",
        right=(4, 5, 6, 7),
        names=2,
    )

    held = Rows()

    def cell(column: int, amount: Amount | None, called: str, unit: Unit) -> str:
        if amount is None:
            return page.number(column, None)
        value = amount.to(unit).value
        held.put(None, page.row, value)
        if amount.step.op != "given":
            return page.formula(
                column, Writer(inputs, lambda text, _: text[1:]).formula(amount.to(unit)), value, "linked"
            )
        known = inputs.find(amount)
        if known is not None and known.unit is unit:
            held.put(known, page.row, Fraction(0))
            return page.formula(column, f"={known.name}", value, "linked")
        made = inputs.add(amount, amount.step.origin.key or called, unit)
        held.put(made, page.row, Fraction(0))
        page.named(column, made.name)
        return page.number(column, value, "input" if unit is UNITS["each"] else "input length")

    def row(
        what: str,
        name: str,
        room: str,
        within: str,
        sides: Iterable[tuple[int, Amount | None, str]],
        area_of: Amount | None,
        count: Amount,
        counted: str,
        span: Span,
    ) -> None:
        for column, text in enumerate((what, name, room, within)):
            page.text(column, text)
        called = name or what
        for column, side, key in sides:
            cell(column, side, f"{called} {key}", length)
        each = cell(6, area_of, f"{called} area", area)
        cell(7, count, f"{called} {counted}", UNITS["each"])
        page.text(8, place(span), "soft")
        if what == "opening" and area_of is not None and limits:
            crossed(page, 9, each, area_of.to(area).value, limits)
        page.row += 1

    def stated(what: str, name: str, room: str, within: str, span: Span, amount: Amount | None = None) -> None:
        """What a table of a trade says under a key, or a row of one that measures no surface."""
        for column, text in enumerate((what, name, room, within)):
            page.text(column, text)
        if amount is not None:
            column, unit = {LENGTH: (4, length), AREA: (6, area)}.get(amount.unit.dimension, (7, UNITS["each"]))
            cell(column, amount, f"{within} {what}", unit)
        page.text(8, place(span), "soft")
        page.row += 1

    limits = [(limit.to(area).value, str(limit)) for limit in Fixed(estimate).limits()]
    first = page.row
    for s in job.measured:
        second = "width" if s.kind != "wall" else "height"
        row(
            s.kind,
            s.name,
            s.room,
            "",
            ((4, s.length, "length"), (5, s.height, second)),
            s.area,
            s.faces,
            "faces",
            s.span,
        )
    for s in job.measured:
        for o in s.openings:
            row(
                "opening",
                o.name,
                s.room,
                s.name,
                ((4, o.width, "width"), (5, o.height, "height")),
                o.each,
                o.count,
                "count",
                o.span,
            )
    for c in job.corners:
        row(
            f"{c.kind} corner", "", c.room, "", ((4, None, ""), (5, c.height, "height")), None, c.count, "count", c.span
        )
    for e in job.own:
        if e.surface is None:
            stated(e.table, e.name, e.room, "", e.span)
        for key, words, amount, span in said(e):
            stated(key, words, e.room, e.name, span, amount)
    page.sheet.data_validation(first, 4, max(first, page.row - 1), 7, NOT_BELOW_ZERO)
    held.follows = mark(page, first, 9)
    return held


def write_others(page: Page, inputs: Inputs, said: Iterable[Amount]) -> None:
    """Numbers that somebody said and that are neither measured nor a rule's, as a trade of a plugin may bring."""
    for leaf in said:
        if leaf.step.origin in (HERE, SETTLED) or inputs.find(leaf) is not None:
            continue
        called = leaf.label or leaf.step.origin.key or "number"
        for column, text in enumerate(("other", called, "", f"in {leaf.unit.name}")):
            page.text(column, text)
        page.named(7, inputs.add(leaf, called).name)
        page.number(7, leaf.value, "input")
        page.text(8, place(leaf.step.origin.place) or leaf.step.origin.note, "soft")
        page.row += 1
