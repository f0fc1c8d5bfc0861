"""The sheet Rules: every rule with its clause; the numbers behind the order are cells that may be changed."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from darby.documents.words import clause, clause_number, layer_of, place
from darby.documents.workbook.follows import HEAD, NOT_BELOW_ZERO, Fixed, changed, mark
from darby.documents.workbook.formulas import Inputs
from darby.documents.workbook.sheets import Page
from darby.estimate.model import Estimate
from darby.estimate.working import rules_behind
from darby.quantities.amounts import HERE, Amount
from darby.rules.rule import Rule

RULES = (
    "Product", "Kind", "Where", "Bound", "Amount", "Unit", "Up to", "By", "Per", "Unit", "Lines", "Whose word", "Clause no.",
    "Clause", "Place", HEAD,
)  # fmt: skip
"""The heads of the sheet."""


def write_rules(page: Page, estimate: Estimate, inputs: Inputs, numbers: Iterable[Amount]) -> str:
    """Every rule with its clause, those behind the order first; their numbers are inputs. Gives the cells that say what does not follow."""
    fixed = Fixed(estimate).of_rules()
    page.start(
        "Rules",
        "What the clauses, your own lines and the trades' defaults say. Filled cells may be changed.",
        RULES,
        us=estimate.job.units == "us",
        right=(4, 6, 7, 8),
    )
    used: dict[int, tuple[Rule, list[int]]] = {}
    for number, item in enumerate(estimate.items, 1):
        for rule in rules_behind(item, estimate.rules):
            used.setdefault(id(rule), (rule, []))[1].append(number)
    shown = [*used.values(), *((rule, []) for rule in estimate.rules if id(rule) not in used)]
    said = {id(leaf.step) for leaf in numbers}
    spelled = {(leaf.step.origin, leaf.value, leaf.unit.name) for leaf in numbers if leaf.step.origin is not HERE}
    first = page.row
    for rule, lines in shown:
        tested: list[tuple[str, Fraction]] = []
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
            behind = id(part.step) in said or (part.step.origin, part.value, part.unit.name) in spelled
            if lines and behind and inputs.find(part) is None:
                page.named(column, inputs.add(part, f"{rule.subject} {rule.kind.name} {rule.scope} {called}").name)
                tested.append((page.number(column, part.value, "input"), part.value))
            else:
                page.number(column, part.value)
        page.text(5, rule.amount.unit.name)
        page.text(9, rule.per.unit.name if rule.per is not None else "")
        ends = (", ".join(map(str, lines)), layer_of(rule), clause_number(rule.span), clause(rule), place(rule.span))
        for column, text in enumerate(ends, 10):
            page.text(column, text, "soft")
        if tested and rule.key in fixed:
            changed(page, 15, tested, fixed[rule.key])
        page.row += 1
    for column in (4, 6, 7, 8):
        page.sheet.data_validation(first, column, max(first, page.row - 1), column, NOT_BELOW_ZERO)
    page.filter(len(RULES))
    return mark(page, first, 15)
