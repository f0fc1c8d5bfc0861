"""What is open, for the eye: what to look at before anything is ordered, what to ask, what was taken instead, what is dangerous."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from rich.console import Console
from rich.text import Text

from darby.documents import checks
from darby.documents.confirmations import WAY_OUT, hangs_on, own_words, read_as, without
from darby.documents.open_points import OpenPoints, counted
from darby.documents.terminal.parts import (
    clause,
    heading,
    place,
    safe,
    says,
    show_place,
    show_problems,
    stands_in,
    tell,
)
from darby.documents.words import listed, sentence
from darby.estimate.model import Assumption, Estimate
from darby.text.diagnostics import Diagnostic, Severity
from darby.text.spans import Span

_ASKED = {
    "specifier": "Questions for the specifier",
    "supplier": "Questions for the supplier",
    "estimator": "Questions for yourself",
}
_LINES_SHOWN = 40
"""Lines with numbers not read that are shown in place; of more, how many and in which files."""


def to_check(estimate: Estimate, console: Console) -> None:
    """Measures to look at before the order is trusted, each with its place and the way out."""
    if not estimate.checks:
        return
    heading(console, checks.HEAD)
    for said, way_out, where in checks.lines(estimate):
        tell(console, Text.assemble(("! ", "bold yellow"), said, (f"  [{where}]" if where else "", "dim")), 2, hang=2)
        tell(console, Text(way_out, style="dim"), 4)
    tell(console, Text(checks.SETTLE, style="dim"), 2, hang=2)


def to_confirm(estimate: Estimate, console: Console) -> None:
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


def to_look_at(points: OpenPoints, console: Console) -> None:
    """Warnings and doubts, each with its excerpt."""
    _looks(points.looks, console)


def remarks(diagnostics: Iterable[Diagnostic], console: Console) -> None:
    """Some diagnostics: notes in a line each, then what wants a look, with its excerpt."""
    diagnostics = tuple(diagnostics)
    _notes([d for d in diagnostics if d.severity is Severity.NOTE], console)
    _looks([d for d in diagnostics if d.severity is not Severity.NOTE], console)


def _looks(problems: Sequence[Diagnostic], console: Console) -> None:
    if problems:
        heading(console, "To look at")
        show_problems(console, problems)


def not_read(estimate: Estimate, console: Console) -> None:
    """Numbers that nobody could place, file by file, marked in their lines."""
    if not estimate.unread:
        return
    heading(console, "Not read: look at these yourself")
    lines: dict[tuple[str, int], list[tuple[Span, str]]] = {}
    for span, why in estimate.unread:
        lines.setdefault((span.source.name, span.line), []).append((span, why))
    file = ""
    for (name, _), found in list(lines.items())[:_LINES_SHOWN]:
        if name != file:
            file = name
            console.print(Text(f"  {safe(name)}", style="dim"))
        reasons = "; ".join(dict.fromkeys(why for _, why in found))
        show_place(console, *(span for span, _ in found), said=reasons, named=False)
    rest = list(lines)[_LINES_SHOWN:]
    if rest:
        files = listed(dict.fromkeys(safe(name) for name, _ in rest))
        text = f"and {counted(len(rest), 'more line')} in {files}: `darby read FILE` or --format open shows them all"
        tell(console, Text(text, style="yellow"), 2, hang=2)


def conflicts(estimate: Estimate, console: Console) -> None:
    """Clauses of equal rank that differ, both quoted."""
    for number, conflict in enumerate(estimate.conflicts):
        if not number:
            heading(console, "Conflicts: ask which one holds")
        about = f", {conflict.used.scope}" if conflict.used.scope else ""
        tell(console, f"{conflict.asked.subject}, {conflict.asked.kind}{about}", 2)
        for word, style, rule in (("used", "bold", conflict.used), *(("also", "", r) for r in conflict.others)):
            said = Text.assemble((f"{word} ", style), (says(rule), style), (f"  [{stands_in(rule)}]", "dim"))
            tell(console, said, 4, hang=5)
            tell(console, Text(clause(rule), style="dim"), 9)


def questions(points: OpenPoints, console: Console) -> None:
    """Questions that somebody has to answer, by who can."""
    for who, title in _ASKED.items():
        asked = [q for q in points.questions if q.to == who]
        if asked:
            heading(console, title)
        for question in asked:
            instead = points.stand_in(question)
            where = stands_in(instead.answer.rule) if instead else place(question.place)
            text = Text.assemble(("? ", "cyan"), safe(question.text), (f"  [{where}]" if where else "", "dim"))
            tell(console, text, 2, hang=2)


def supplied(points: OpenPoints, console: Console, *, listed: bool) -> None:
    """What stood in for the documents: one line, or all of it."""
    parts = []
    if points.house:
        parts.append(f"{len(points.house)} by your house lines")
    if points.defaults:
        parts.append(f"{len(points.defaults)} by Darby's defaults")
    if not parts:
        return
    heading(console, "Not in the documents")
    many = len(points.house) + len(points.defaults)
    supplied = f"{counted(many, 'figure')} {'is' if many == 1 else 'are'} supplied: {' and '.join(parts)}"
    if not listed:
        tell(console, f"{supplied}. List them with --defaults.", 2, hang=2)
        return
    tell(console, f"{supplied}.", 2, hang=2)
    for title, some in (("House lines", points.house), ("Defaults", points.defaults)):
        _assumed(title, some, console)


def _assumed(title: str, some: Iterable[Assumption], console: Console) -> None:
    some = tuple(some)
    if some:
        tell(console, Text(title, style="italic"), 2)
    for assumption in some:
        tell(console, assumption.text, 4, hang=2)


def to_know(points: OpenPoints, console: Console) -> None:
    """Remarks, a line each."""
    _notes(points.notes, console)


def _notes(notes: Sequence[Diagnostic], console: Console) -> None:
    if notes:
        heading(console, "To know")
    for note in notes:
        where = place(note.span) or safe(note.file)
        again = len({(label.span.source.name, label.span.line) for label in note.labels[1:] if not label.text})
        where += f" and {counted(again, 'more place')}" if again else ""
        way = f" {safe(note.help)}" if note.code in _WITH_A_WAY and note.help else ""
        text = Text.assemble(safe(note.message), way, (f"  [{where}]" if where else "", "dim"))
        tell(console, text, 2, hang=2)


_WITH_A_WAY = ("left-out",)
"""Remarks that are worth nothing without what is to be done."""


def take_care(estimate: Estimate, console: Console) -> None:
    """The dangers of the work, a sentence each; their pages hold the rest."""
    if not estimate.cautions:
        return
    heading(console, "Take care")
    for caution in estimate.cautions:
        tell(console, f"{caution.topic}: {caution.short}", 2, hang=2)
    tell(console, Text(f"In full: darby why {', '.join(c.code for c in estimate.cautions)}", style="dim"), 2, hang=2)
