"""The estimate for the eye: what to order first, then what it rests on, what is still open and what was not read."""

from __future__ import annotations

from collections.abc import Iterable

from rich import box
from rich.console import Console
from rich.table import Table
from rich.text import Text

from darby.documents import checks
from darby.documents.confirmations import WAY_OUT, hangs_on, own_words, read_as, without
from darby.documents.rooms import strangers
from darby.documents.terminal.parts import (
    clause,
    heading,
    place,
    plain,
    safe,
    says,
    show_place,
    show_problems,
    stands_in,
    tell,
    written,
)
from darby.documents.words import kind_of, need_of, order_of, sentence
from darby.estimate.document_format import Document
from darby.estimate.model import Estimate
from darby.rules.answer import Conflict
from darby.rules.rule import DEFAULT
from darby.text.diagnostics import Diagnostic, Severity
from darby.text.spans import Span

_NARROW = 76
_ASKED = {"specifier": "For the specifier", "supplier": "For the supplier", "estimator": "For yourself"}


def show(estimate: Estimate, console: Console) -> None:
    """Print the whole estimate."""
    if estimate.job.name:
        console.print(Text(safe(estimate.job.name), style="bold"))
    if not estimate.complete:
        missing = ", ".join(estimate.missing)
        text = f"Incomplete: the lines of {missing} are missing, since that part failed. The reason stands below."
        console.print(Text(safe(text), style="bold red"))
    for line in strangers(estimate):
        tell(console, line)
    to_check(estimate, console)
    _order_list(estimate, console)
    _to_confirm(estimate, console)
    _open_points(estimate, console)
    _conflicts(estimate.conflicts, console)
    if estimate.cautions:
        heading(console, "Take care")
        for caution in estimate.cautions:
            text = f"{caution.topic}: {caution.text}" + (f" ({caution.cited})" if caution.cited else "")
            tell(console, text, 2, hang=2)
    _not_read(estimate, console)
    remarks(estimate.diagnostics, console)
    console.print()
    console.print(Text(tally(estimate)))


def make(estimate: Estimate) -> str:
    """The same as plain text, 100 columns wide."""
    console, stream = plain()
    show(estimate, console)
    return written(stream)


DOCUMENT = Document("terminal", "the order list and all that is open, for the eye", make)


def tally(estimate: Estimate) -> str:
    """One line that says how much there is of each."""
    parts = [
        counted(len(estimate.items), "line to order", "lines to order"),
        *([counted(len(estimate.checks), "measure to check", "measures to check")] if estimate.checks else []),
        *(
            [counted(len(estimate.confirmations), "reading to confirm", "readings to confirm")]
            if estimate.confirmations
            else []
        ),
        counted(len(estimate.questions), "question"),
        counted(len(estimate.conflicts), "conflict"),
        counted(len(estimate.unread), "number not read", "numbers not read"),
    ]
    return ", ".join(parts) + "."


def counted(number: int, one: str, many: str = "") -> str:
    """`1 question`, `2 questions`, `no questions`."""
    return f"{number or 'no'} {one if number == 1 else many or one + 's'}"


def _order_list(estimate: Estimate, console: Console) -> None:
    console.print()
    if not estimate.items:
        console.print("Nothing to order: no trade found anything to do in this job.")
        return
    narrow = console.width < _NARROW
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False, show_edge=False, padding=(0, 1, 0, 0), header_style="dim")
    table.add_column("", justify="right", style="dim")
    table.add_column("Product")
    if not narrow:
        table.add_column("Kind")
    table.add_column("Needed", justify="right", no_wrap=not narrow)
    table.add_column("To order", style="bold", no_wrap=not narrow)
    for number, item in enumerate(estimate.items, 1):
        product = Text(safe(item.product))
        if narrow and item.pool:
            product.append(f"\n{kind_of(item)}", style="dim")
        middle = [] if narrow else [Text(kind_of(item))]
        need = Text(need_of(item, estimate.job.units))
        unknown = "" if item.package is not None else "yellow"
        table.add_row(str(number), product, *middle, need, Text(safe(order_of(item)), style=unknown))
    console.print(table)
    for number, item in enumerate(estimate.items, 1):
        for note in item.notes:
            tell(console, Text(f"{number}: {note}", style="dim"), 2, hang=len(str(number)) + 2)


def to_check(estimate: Estimate, console: Console) -> None:
    """Measures to look at before the order is trusted, each with its place and the way out."""
    if not estimate.checks:
        return
    heading(console, checks.HEAD)
    for said, way_out, where in checks.lines(estimate):
        tell(console, Text.assemble(("! ", "bold yellow"), said, (f"  [{where}]" if where else "", "dim")), 2, hang=2)
        tell(console, Text(way_out, style="dim"), 4)
    tell(console, Text(checks.SETTLE, style="dim"), 2, hang=2)


def _to_confirm(estimate: Estimate, console: Console) -> None:
    """Readings on weak evidence that the order rests on, each with its clause, why, what hangs on it and the way out."""
    if not estimate.confirmations:
        return
    heading(console, "Readings to confirm")
    for one in estimate.confirmations:
        where = f"{place(one.place)}, {one.rules[0].layer.name}"
        tell(console, Text.assemble(("? ", "yellow"), (read_as(one), "bold"), (f"  [{where}]", "dim")), 2, hang=2)
        tell(console, Text(clause(one.rules[0]), style="dim"), 4)
        for said in (sentence(one.why), f"{hangs_on(one, estimate)} {without(one, estimate)}", own_words(one)):
            if said:
                tell(console, said, 4, hang=2)
    tell(console, Text(WAY_OUT, style="dim"), 2, hang=2)


def _open_points(estimate: Estimate, console: Console) -> None:
    """Questions, each with the line that stands in for the answer, and what house lines answered, by who can answer."""
    stand_in = {a.answer.rule.span: a.answer.rule for a in estimate.assumptions}
    for who, title in _ASKED.items():
        questions = [q for q in estimate.questions if q.to == who]
        if questions:
            heading(console, title)
        for question in questions:
            rule = stand_in.get(question.place) if question.place else None
            where = stands_in(rule) if rule else place(question.place)
            text = Text.assemble(("? ", "cyan"), safe(question.text), (f"  [{where}]" if where else "", "dim"))
            tell(console, text, 2, hang=2)
    taken = [a for a in estimate.assumptions if a.answer.layer > DEFAULT]
    if taken:
        heading(console, "Not in the documents, taken from your own lines")
        for assumption in taken:
            tell(console, assumption.text, 2, hang=2)


def _conflicts(conflicts: Iterable[Conflict], console: Console) -> None:
    for number, conflict in enumerate(conflicts):
        if not number:
            heading(console, "Said in two ways")
        about = f", {conflict.used.scope}" if conflict.used.scope else ""
        tell(console, f"{conflict.asked.subject}, {conflict.asked.kind}{about}", 2)
        for word, style, rule in (("used", "bold", conflict.used), *(("also", "", r) for r in conflict.others)):
            said = Text.assemble((f"{word} ", style), (says(rule), style), (f"  [{stands_in(rule)}]", "dim"))
            tell(console, said, 4, hang=5)
            tell(console, Text(clause(rule), style="dim"), 9)


def _not_read(estimate: Estimate, console: Console) -> None:
    if not estimate.unread:
        return
    heading(console, "Not read: please look at these yourself")
    lines: dict[tuple[str, int], list[tuple[Span, str]]] = {}
    for span, why in estimate.unread:
        lines.setdefault((span.source.name, span.line), []).append((span, why))
    for found in lines.values():
        show_place(console, *(span for span, _ in found), said="; ".join(dict.fromkeys(why for _, why in found)))


def remarks(diagnostics: Iterable[Diagnostic], console: Console) -> None:
    """Notes in a line each, then what wants a look, with its excerpt."""
    diagnostics = tuple(diagnostics)
    notes = [d for d in diagnostics if d.severity is Severity.NOTE]
    if notes:
        heading(console, "To know")
        for note in notes:
            where = place(note.span) or safe(note.file)
            text = Text.assemble(safe(note.message), (f"  [{where}]" if where else "", "dim"))
            tell(console, text, 2, hang=2)
    problems = [d for d in diagnostics if d.severity is not Severity.NOTE]
    if problems:
        heading(console, "To look at")
        show_problems(console, problems)
