"""The sheets Order and Working: what to order as live formulas, and behind each line the same steps as the longhand."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from darby.documents import checks
from darby.documents.page.dates import inputs as dated
from darby.documents.words import clause, content_of, kind_of, name_of, one_line, places
from darby.documents.workbook.follows import HEAD, Fixed, changed, mark
from darby.documents.workbook.formulas import Inputs, Writer, row_of
from darby.documents.workbook.measured_sheet import Rows
from darby.documents.workbook.sheets import Fonts, Page
from darby.estimate.line_item import LineItem
from darby.estimate.model import Estimate
from darby.estimate.working import Line, Worked
from darby.quantities.amounts import Amount, Step, leaves
from darby.quantities.units import EACH

_SAYS = (
    "Change a cell with a filled background on the sheets Measured and Rules, and the order follows. Which rule holds, which "
    "openings are deducted and which package size is bought stays as estimated: where a change may alter that, a cell turns red. "
    "Run Darby again then."
)
ORDER = (
    "No.",
    "Product",
    "Kind",
    "Needed",
    "Unit",
    "Package holds",
    "Unit",
    "Order",
    "Package",
    "As estimated",
    "Changed",
    HEAD,
)
"""The heads of the sheet Order."""
WORKING = ("Step", "Working, as estimated", "Value", "Unit", "From", "Clause")
"""The heads of the sheet Working."""


def write_order(
    page: Page, steps: Page, estimate: Estimate, inputs: Inputs, worked: Worked, measured: Rows, looks: Fonts
) -> str:
    """The order and, on a sheet of its own, the working behind each line; gives the cells that say what does not follow."""
    fixed = Fixed(estimate)
    says_it = _SAYS
    if estimate.checks:
        found = " ".join(f"{said} ({where})" if where else said for said, _, where in checks.lines(estimate))
        says_it = f"{checks.HEAD.upper()}: {found}\n{_SAYS}"
    if not estimate.complete:
        says_it = f"INCOMPLETE: the lines of {', '.join(map(one_line, estimate.missing))} are missing. {says_it}"
    title = one_line(estimate.job.name) or "Unnamed job"
    page.start(title, says_it, ORDER, us=estimate.job.units == "us", right=(3, 5, 7, 9), names=2)
    steps.start(
        "Working",
        "The same steps as the longhand; values are formulas over Measured and Rules.",
        WORKING,
        us=estimate.job.units == "us",
        right=(2,),
    )
    first = page.row
    above: dict[int, str] = {}
    for number, item in enumerate(estimate.items, 1):
        link = f"internal:Working!A{steps.row + 1}"
        need, count = _steps(steps, f"{number}  {name_of(item)}", item, worked[id(item)], inputs, above)
        page.sheet.write_url(page.row, 0, link, looks["text"], str(number))
        page.text(1, item.product)
        page.text(2, kind_of(item))
        shown = item.need.in_system(estimate.job.units)
        ratio = item.need.unit.factor / shown.unit.factor
        needed = page.formula(
            3,
            f"=Working!{need}" if ratio == 1 else f"=Working!{need}*{ratio.numerator}/{ratio.denominator}",
            shown.value,
            "number" if shown.unit is not EACH else "pieces",
        )
        page.text(4, shown.unit.name)
        content = content_of(item)
        why, by_need = fixed.of_line(item)
        tested = [(needed, shown.value)] if by_need else []
        if by_need:
            tested += measured.around(filter(None, map(inputs.find, leaves(item.need))))
        if content is not None and item.package is not None:
            writer = Writer(inputs, lambda text, _: text[1:])
            held = page.formula(5, writer.formula(item.package), content.value, "plain")
            tested.append((held, content.value))
        else:
            page.number(5, None)
        page.text(6, content.unit.name if content is not None else "")
        if item.count is None:
            for column, text in enumerate(("package not known", "", "", ""), 7):
                page.text(column, text)
        else:
            ordered = page.formula(7, f"=Working!{count}", item.count, "count")
            _container(page, item, ordered)
            was = page.number(9, item.count, "was")
            page.formula(10, f'=IF({ordered}={was},"","was "&{was})', "", "text")
        changed(page, 11, tested, why)
        page.row += 1
    page.filter(len(ORDER))
    told = mark(page, first, 11)
    if page.row > first:
        page.sheet.conditional_format(
            first, 7, page.row - 1, 7,
            {"type": "formula", "criteria": f"=$H{first + 1}<>$J{first + 1}", "format": looks["moved"]},
        )  # fmt: skip
    for number, item in enumerate(estimate.items, 1):
        for note in item.notes:
            page.sheet.write_string(page.row, 1, one_line(f"{number}: {note}"), looks["note"])
            page.row += 1
    page.row += 1
    for one in dated(estimate):
        said = ", ".join(filter(None, (one["role"], one["said"], f"checksum {one['checksum']}")))
        page.sheet.write_string(page.row, 1, f"Made from {one['name']}: {said}", looks["note"])
        page.row += 1
    return told


def _container(page: Page, item: LineItem, ordered: str) -> None:
    """What the packages are called: `sheet` of one, `sheets` of more, whatever the cell comes to."""
    if item.package is None or not item.container:
        page.text(8, "each")
        return
    one, many = (str(Amount.of(n, item.package.unit.under[0])).partition(" ")[2] for n in (1, 2))
    if not f"{one}{many}".replace(" ", "").isalpha():  # a unit of a plugin: no text from outside stands in a formula
        page.text(8, item.container)
        return
    page.formula(8, f'=IF({ordered}=1,"{one}","{many}")', one if item.count == 1 else many, "text")


def _steps(
    page: Page, title: str, item: LineItem, lines: Sequence[Line], inputs: Inputs, above: dict[int, str]
) -> tuple[str, str]:
    """The working of one line; gives the cells of the need and of the packages.

    `above` has the cells of what was measured for the lines before: of a large job that is most of the sheet, and stands in it once.
    """
    page.row += 1
    page.text(0, title, "part")
    page.row += 1

    def spill(formula: str, node: Amount) -> str:
        page.text(0, "part of the next", "soft")
        page.text(1, "", "soft")
        cell = page.formula(2, formula, node.value, "linked")
        page.inner.append(page.row)
        page.row += 1
        return cell

    known = {key: above[key] for line in lines if (key := id(line.amount.step)) in above}
    writer = Writer(inputs, spill, dict(known))
    for line in lines:
        step = line.amount.step
        if id(step) in known:
            continue
        formula = writer.formula(line.amount)
        page.text(0, line.label)
        page.text(1, line.made)
        cell = writer.cells[id(step)] = page.formula(2, formula, line.amount.value)
        if line.rule is None and line is not lines[-1]:
            above[id(step)] = cell
        page.text(3, line.amount.unit.name)
        page.text(4, places(o.place for o in line.origins) or _rows_above(step, known), "soft")
        page.text(5, clause(line.rule) if line.rule is not None else "", "soft")
        page.inner.append(page.row)
        page.row += 1
    root = lines[-1].amount
    last = writer.cells[id(root.step)]
    if item.package is None:
        return last, ""
    need = root.step.of[0].step.of[0]
    return writer.cells.get(id(need.step)) or spill(writer.formula(need), need), last


def _rows_above(step: Step, known: Mapping[int, str]) -> str:
    """Which rows a sum adds up that stand under the lines before: `rows 7 to 12`."""
    rows = [row_of(known[id(part.step)]) for part in step.of if id(part.step) in known]
    if len(rows) < 2:
        return "".join(f"row {row}" for row in rows)
    between = "and" if max(rows) - min(rows) == 1 else "to"
    return f"rows {min(rows)} {between} {max(rows)}"
