"""The sheet Measured: surfaces, openings and corners as cells that may be changed, and what else somebody gave as a number."""

from __future__ import annotations

from collections.abc import Iterable

from darby.documents.words import place
from darby.documents.workbook.formulas import Inputs, Writer
from darby.documents.workbook.sheets import Page
from darby.estimate.model import Estimate
from darby.job.model import Job
from darby.quantities.amounts import HERE, Amount
from darby.quantities.units import UNITS, Unit
from darby.text.spans import Span


def measured_heads(job: Job) -> tuple[str, ...]:
    """The heads of the sheet, with the units of the job."""
    length, area = ("ft", "sq ft") if job.units == "us" else ("m", "m2")
    sides = (f"Length or width ({length})", f"Height or second side ({length})", f"Area of one ({area})")
    return ("What", "Name", "Room", "In", *sides, "Faces or count", "Place")


def write_measured(page: Page, estimate: Estimate, inputs: Inputs) -> None:
    """Surfaces, openings and corners; each number once as an input, wherever else it stands a reference to it."""
    job = estimate.job
    length, area = (UNITS[n] for n in (("ft", "sq ft") if job.units == "us" else ("m", "m2")))
    heads = measured_heads(job)
    page.start(
        "Measured",
        "What was measured, one face of each surface, openings left in. Filled cells may be changed.",
        heads,
        us=estimate.job.units == "us",
        right=(4, 5, 6, 7),
    )

    def cell(column: int, amount: Amount | None, called: str, unit: Unit) -> str:
        if amount is None:
            return page.number(column, None)
        value = amount.to(unit).value
        if amount.step.op != "given":
            return page.formula(
                column, Writer(inputs, lambda text, _: text[1:]).formula(amount.to(unit)), value, "linked"
            )
        known = inputs.find(amount)
        if known is not None and known.unit is unit:
            return page.formula(column, f"={known.name}", value, "linked")
        made = inputs.add(amount, amount.step.origin.key or called, unit)
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
        cell(6, area_of, f"{called} area", area)
        cell(7, count, f"{called} {counted}", UNITS["each"])
        page.text(8, place(span), "soft")
        page.row += 1

    for s in job.surfaces:
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
    for s in job.surfaces:
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


def write_others(page: Page, inputs: Inputs, said: Iterable[Amount]) -> None:
    """Numbers that somebody said and that are neither measured nor a rule's, as a trade of a plugin may bring."""
    for leaf in said:
        if leaf.step.origin is HERE or inputs.find(leaf) is not None:
            continue
        called = leaf.label or leaf.step.origin.key or "number"
        for column, text in enumerate(("other", called, "", f"in {leaf.unit.name}")):
            page.text(column, text)
        page.named(7, inputs.add(leaf, called).name)
        page.number(7, leaf.value, "input")
        page.text(8, place(leaf.step.origin.place) or leaf.step.origin.note, "soft")
        page.row += 1
