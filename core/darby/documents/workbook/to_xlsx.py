"""The workbook: the order as live formulas over named cells of what was measured and what the clauses say.

Sheets: the order, the working step by step, the measured rows, the rules with their clauses, the open points. There are
no macros and no links to outside. Formulas carry Darby's own values, so that a viewer that does not calculate shows them.
"""

from __future__ import annotations

import io
from collections.abc import Iterable

from darby.documents.words import (
    clause,
    clause_number,
    content_of,
    kind_of,
    layer_of,
    name_of,
    one_line,
    place,
    places,
    quote,
    says,
    told_rule,
)
from darby.documents.workbook.formulas import Inputs, Writer
from darby.documents.workbook.sheets import Fonts, Page, styles
from darby.estimate.document_format import Document
from darby.estimate.line_item import LineItem
from darby.estimate.model import Estimate
from darby.estimate.working import rules_behind, working
from darby.job.model import Job
from darby.quantities.amounts import HERE, Amount, leaves
from darby.quantities.units import UNITS, Unit
from darby.rules.rule import Rule
from darby.text.spans import Span

_SAYS = (
    "Change a cell with a filled background on the sheets Measured and Rules, and the order follows. Which rule holds, which "
    "openings come out and which package size is bought is settled by Darby: run it again where a change would alter that."
)
_ORDER = (
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
)
_WORKING = ("Step", "Working, as estimated", "Value", "Unit", "From", "Clause")
_RULES = (
    "Product", "Kind", "Where", "Bound", "Amount", "Unit", "Up to", "By", "Per", "Unit", "Lines", "Whose word", "Clause no.",
    "Clause", "Place",
)  # fmt: skip
_OPEN = ("What", "To or from", "Text", "Place", "Lines")


def make(estimate: Estimate) -> bytes:
    """The workbook as a file."""
    from datetime import datetime  # noqa: PLC0415

    from xlsxwriter import Workbook  # noqa: PLC0415 - dear, and wanted by nobody else

    stream = io.BytesIO()
    book = Workbook(
        stream,
        {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False},
    )
    # Equal estimates give equal files, so that a file says nothing but what the estimate says: no clock is read.
    book.set_properties({"title": one_line(estimate.job.name)[:200], "created": datetime(1980, 1, 1)})
    looks = styles(book)
    order, steps, measured, rules, open_points = (
        Page(book, name, looks) for name in ("Order", "Working", "Measured", "Rules", "Open_points")
    )
    open_points.widest = 90
    inputs = Inputs()
    _measured(measured, estimate, inputs)
    _rules(rules, estimate, inputs)
    _others(measured, estimate, inputs)
    _order(order, steps, estimate, inputs, looks)
    _open(open_points, estimate)
    for page, heads in (
        (order, _ORDER),
        (steps, _WORKING),
        (measured, _heads(estimate.job)),
        (rules, _RULES),
        (open_points, _OPEN),
    ):
        page.finish(heads)
    book.close()
    return stream.getvalue()


def _title(estimate: Estimate) -> str:
    return one_line(estimate.job.name) or "Unnamed job"


def _is_us(estimate: Estimate) -> bool:
    return estimate.job.units == "us"


def _order(page: Page, steps: Page, estimate: Estimate, inputs: Inputs, looks: Fonts) -> None:
    """The order and, on a sheet of its own, the working behind each line."""
    says_it = _SAYS
    if not estimate.complete:
        says_it = f"INCOMPLETE: the lines of {', '.join(map(one_line, estimate.missing))} are missing. {_SAYS}"
    page.start(_title(estimate), says_it, _ORDER, us=_is_us(estimate), right=(3, 5, 7, 9))
    steps.start(
        "Working",
        "The same steps as the longhand; values are formulas over Measured and Rules.",
        _WORKING,
        us=_is_us(estimate),
        right=(2,),
    )
    first = page.row
    for number, item in enumerate(estimate.items, 1):
        link = f"internal:Working!A{steps.row + 1}"
        need, count = _steps(steps, f"{number}  {name_of(item)}", item, estimate, inputs)
        page.sheet.write_url(page.row, 0, link, looks["text"], str(number))
        page.text(1, item.product)
        page.text(2, kind_of(item))
        shown = item.need.in_system(estimate.job.units)
        ratio = item.need.unit.factor / shown.unit.factor
        page.formula(
            3,
            f"=Working!{need}" if ratio == 1 else f"=Working!{need}*{ratio.numerator}/{ratio.denominator}",
            shown.value,
        )
        page.text(4, shown.unit.name)
        content = content_of(item)
        if content is not None and item.package is not None:
            writer = Writer(inputs, lambda text, _: text[1:])
            page.formula(5, writer.formula(item.package), content.value, "plain")
        else:
            page.number(5, None)
        page.text(6, content.unit.name if content is not None else "")
        if item.count is None:
            for column, text in enumerate(("package not known", "", "", ""), 7):
                page.text(column, text)
        else:
            ordered = page.formula(7, f"=Working!{count}", item.count, "count")
            page.text(8, item.container)
            was = page.number(9, item.count, "was")
            page.formula(10, f'=IF({ordered}={was},"","was "&{was})', "", "text")
        page.row += 1
    if page.row > first:
        page.sheet.conditional_format(
            first, 7, page.row - 1, 7,
            {"type": "formula", "criteria": f"=$H{first + 1}<>$J{first + 1}", "format": looks["moved"]},
        )  # fmt: skip
    for number, item in enumerate(estimate.items, 1):
        for note in item.notes:
            page.sheet.write_string(page.row, 1, one_line(f"{number}: {note}"), looks["note"])
            page.row += 1


def _steps(page: Page, title: str, item: LineItem, estimate: Estimate, inputs: Inputs) -> tuple[str, str]:
    """The working of one line; gives the cells of the need and of the packages."""
    page.row += 1
    page.text(0, title, "part")
    page.row += 1

    def spill(formula: str, node: Amount) -> str:
        page.text(0, "part of the next", "soft")
        page.text(1, "", "soft")
        cell = page.formula(2, formula, node.value, "linked")
        page.row += 1
        return cell

    writer = Writer(inputs, spill)
    lines = working(item, estimate.rules)
    for line in lines:
        formula = writer.formula(line.amount)
        page.text(0, line.label)
        page.text(1, line.made)
        writer.cells[id(line.amount.step)] = page.formula(2, formula, line.amount.value)
        page.text(3, line.amount.unit.name)
        page.text(4, places(o.place for o in line.origins), "soft")
        page.text(5, clause(line.rule) if line.rule is not None else "", "soft")
        page.row += 1
    root = lines[-1].amount
    last = writer.cells[id(root.step)]
    if item.package is None:
        return last, ""
    need = root.step.of[0].step.of[0]
    return writer.cells.get(id(need.step)) or spill(writer.formula(need), need), last


def _measured(page: Page, estimate: Estimate, inputs: Inputs) -> None:
    """Surfaces, openings and corners; each number once as an input, wherever else it stands a reference to it."""
    job = estimate.job
    length, area = (UNITS[n] for n in (("ft", "sq ft") if job.units == "us" else ("m", "m2")))
    heads = _heads(job)
    page.start(
        "Measured",
        "What was measured, one face of each surface, openings left in. Filled cells may be changed.",
        heads,
        us=_is_us(estimate),
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
        _name(page, column, made.name)
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


def _heads(job: Job) -> tuple[str, ...]:
    length, area = ("ft", "sq ft") if job.units == "us" else ("m", "m2")
    sides = (f"Length or width ({length})", f"Height or second side ({length})", f"Area of one ({area})")
    return ("What", "Name", "Room", "In", *sides, "Faces or count", "Place")


def _rules(page: Page, estimate: Estimate, inputs: Inputs) -> None:
    """Every rule with its clause, those behind the order first; their numbers are inputs."""
    page.start(
        "Rules",
        "What the clauses, your own lines and the trades' defaults say. Filled cells may be changed.",
        _RULES,
        us=_is_us(estimate),
        right=(4, 6, 7, 8),
    )
    used: dict[int, tuple[Rule, list[int]]] = {}
    for number, item in enumerate(estimate.items, 1):
        for rule in rules_behind(item, estimate.rules):
            used.setdefault(id(rule), (rule, []))[1].append(number)
    shown = [*used.values(), *((rule, []) for rule in estimate.rules if id(rule) not in used)]
    said = {id(leaf.step) for leaf in _leaves(estimate)}
    numbers = {
        (leaf.step.origin, leaf.value, leaf.unit.name) for leaf in _leaves(estimate) if leaf.step.origin is not HERE
    }
    for rule, lines in shown:
        for column, text in enumerate(
            (rule.subject, rule.kind.name, str(rule.scope), "" if rule.bound == "exact" else rule.bound)
        ):
            page.text(column, text)
        for column, part, called in (
            (4, rule.amount, ""),
            (6, rule.upper, "up to"),
            (7, rule.by, "by"),
            (8, rule.per, "per"),
        ):
            if part is None:
                page.number(column, None)
                continue
            behind = id(part.step) in said or (part.step.origin, part.value, part.unit.name) in numbers
            if lines and behind and inputs.find(part) is None:
                _name(page, column, inputs.add(part, f"{rule.subject} {rule.kind.name} {rule.scope} {called}").name)
                page.number(column, part.value, "input")
            else:
                page.number(column, part.value)
        page.text(5, rule.amount.unit.name)
        page.text(9, rule.per.unit.name if rule.per is not None else "")
        ends = (", ".join(map(str, lines)), layer_of(rule), clause_number(rule.span), clause(rule), place(rule.span))
        for column, text in enumerate(ends, 10):
            page.text(column, text, "soft")
        page.row += 1


def _others(page: Page, estimate: Estimate, inputs: Inputs) -> None:
    """Numbers that somebody said and that are neither measured nor a rule's, as a trade of a plugin may bring."""
    for leaf in _leaves(estimate):
        if leaf.step.origin is HERE or inputs.find(leaf) is not None:
            continue
        called = leaf.label or leaf.step.origin.key or "number"
        for column, text in enumerate(("other", called, "", f"in {leaf.unit.name}")):
            page.text(column, text)
        _name(page, 7, inputs.add(leaf, called).name)
        page.number(7, leaf.value, "input")
        page.text(8, place(leaf.step.origin.place) or leaf.step.origin.note, "soft")
        page.row += 1


def _leaves(estimate: Estimate) -> list[Amount]:
    """Every number said behind the order, each once."""
    amounts = [a for item in estimate.items for a in (item.need, item.package) if a is not None]
    return list({id(leaf.step): leaf for amount in amounts for leaf in leaves(amount)}.values())


def _name(page: Page, column: int, name: str) -> None:
    page.book.define_name(name, f"={page.address(column)}")


def _open(page: Page, estimate: Estimate) -> None:
    """Questions, assumptions, conflicts, numbers not read, cautions."""
    page.start(
        "Open points",
        "What is still open, what was assumed meanwhile, and what to take care of.",
        _OPEN,
        us=_is_us(estimate),
    )
    numbers = {item.id: n for n, item in enumerate(estimate.items, 1)}
    for q in estimate.questions:
        moved = ", ".join(str(numbers[name]) for name in q.items if name in numbers)
        page.texts(("question", q.to, q.text, place(q.place), moved))
    for a in estimate.assumptions:
        page.texts(("assumption", layer_of(a.answer.rule), a.text, place(a.answer.rule.span), ""))
    for c in estimate.conflicts:
        others = "; ".join(f"{says(rule)} ({place(rule.span)})" for rule in c.others)
        page.texts(
            ("said in two ways", "", f"{told_rule(c.used)} was used; also said: {others}", place(c.used.span), "")
        )
    for span, why in estimate.unread:
        page.texts(("not read", "", f"{quote(span)}: {why}", place(span), ""))
    for caution in estimate.cautions:
        page.texts(("caution", caution.cited, f"{caution.topic}: {caution.text}", "", ""))


DOCUMENT = Document("xlsx", "a workbook with live formulas", make)
