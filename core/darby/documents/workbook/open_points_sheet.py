"""The sheet of open points: what is asked, what was assumed meanwhile, what contradicts, and what to take care of."""

from __future__ import annotations

from darby.documents import checks
from darby.documents.confirmations import lines_of, read_as, without
from darby.documents.open_points import OpenPoints
from darby.documents.words import layer_of, place, quote, says, sentence, told_rule
from darby.documents.workbook.sheets import Page
from darby.estimate.model import Estimate

OPEN = ("What", "To or from", "Text", "Place", "Lines")
"""The heads of the sheet."""


def write_open_points(page: Page, estimate: Estimate) -> None:
    """Measures to check, what to look at, readings to confirm, questions, assumptions, conflicts, numbers not read, cautions."""
    page.start(
        "Open points",
        "What is still open, what was assumed meanwhile, and what to take care of.",
        OPEN,
        us=estimate.job.units == "us",
    )
    numbers = {item.id: n for n, item in enumerate(estimate.items, 1)}
    for said, way_out, where in checks.lines(estimate):
        page.texts(("measure to check", "", f"{said} {way_out}", where, ""))
    for look in OpenPoints(estimate).looks:
        page.texts(
            ("to look at", "", " ".join(filter(None, (sentence(look.message), look.help))), place(look.span), "")
        )
    for one in estimate.confirmations:
        text = f"{read_as(one)}. {sentence(one.why)} {without(one, estimate)}"
        moved = ", ".join(map(str, lines_of(one, estimate)))
        page.texts(("to confirm", layer_of(one.rules[0]), text, place(one.place), moved))
    for q in estimate.questions:
        moved = ", ".join(str(numbers[name]) for name in q.items if name in numbers)
        page.texts(("question", q.to, q.text, place(q.place), moved))
    for a in estimate.assumptions:
        page.texts(("assumption", layer_of(a.answer.rule), a.text, place(a.answer.rule.span), ""))
    for c in estimate.conflicts:
        others = "; ".join(f"{says(rule)} ({place(rule.span)})" for rule in c.others)
        page.texts(("conflict", "", f"{told_rule(c.used)} was used; also said: {others}", place(c.used.span), ""))
    for span, why in estimate.unread:
        page.texts(("not read", "", f"{quote(span)}: {why}", place(span), ""))
    for caution in estimate.cautions:
        page.texts(("caution", caution.cited, f"{caution.topic}: {caution.text}", "", ""))
    page.filter(len(OPEN))
