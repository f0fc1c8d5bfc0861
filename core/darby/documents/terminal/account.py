"""What follows the marked text of a reading: what is to be confirmed first, then what is open, set aside and not ours; then the tally."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Final

from rich.console import Console
from rich.text import Text

from darby.documents.confirmations import WAY_OUT
from darby.documents.terminal.parts import heading, place, safe, says, show_problems, tell
from darby.documents.words import sentence
from darby.reading.account.statements import Statement
from darby.reading.others import Account, title_of
from darby.reading.read import Reading
from darby.rules.rule import Rule
from darby.text.diagnostics import Diagnostic, Severity
from darby.text.spans import Span

UNREAD: Final = "unread"
ASIDE: Final = "set aside"
_MOST_SECTIONS = 12
"""Sections of other trades that are listed one by one."""
_MOST_TO_CONFIRM = 20
_MOST_STATEMENTS = 12
_LONGEST = 100
"""Characters of a sentence that are quoted."""


def show_account(readings: Sequence[Reading], console: Console, *, explain: bool = False) -> None:
    """Print all that is open in some readings, and the tally. `explain` adds why numbers were set aside."""
    found = [d for reading in readings for d in reading.diagnostics]
    asked = [d for d in found if is_question(d)]
    unread = [n for reading in readings for n in reading.numbers if n.became == UNREAD and not is_asked(n.span, asked)]
    _list_to_confirm(readings, console)
    _list(console, "Not read", [(n.span, f"“{n.span.text}”: {n.why}") for n in unread])
    _list(console, "Questions", [(d.span, d.message) for d in asked if d.span is not None])
    _list_statements([s for reading in readings for s in reading.statements], console)
    _list_others(readings, console)
    if explain:
        _count_aside(readings, console)
    rest = [d for d in found if not is_question(d)]
    if rest:
        heading(console, "Remarks")
        show_problems(console, rest)
    console.print()
    console.print(Text(tally(readings)))


def is_question(diagnostic: Diagnostic) -> bool:
    """Whether a problem is a question about a place, which is marked in the text and told in a line."""
    place_told = diagnostic.span is not None and len(diagnostic.labels) == 1
    return diagnostic.severity is Severity.QUESTION and place_told


def is_asked(span: Span, asked: Sequence[Diagnostic]) -> bool:
    """Whether a question is about a stretch, or a part of it."""
    return any(
        d.span is not None and d.span.source is span.source and d.span.start < span.end and span.start < d.span.end
        for d in asked
    )


def named(rule: Rule) -> str:
    """What a rule is of and says: `varnish coats, wall: 2`."""
    where = f", {rule.scope}" if rule.scope else ""
    return safe(f"{rule.subject} {rule.kind.name}{where}: ") + says(rule)


def _list(console: Console, title: str, lines: Sequence[tuple[Span, str]]) -> None:
    """What is open, in the order of the text, each with its place before it."""
    if not lines:
        return
    heading(console, title)
    for span, said in sorted(lines, key=lambda one: (one[0].source.name, one[0].start)):
        tell(console, Text.assemble((f"{place(span)}  ", "dim"), " ".join(safe(said).split())), 2, hang=4)


def _list_to_confirm(readings: Sequence[Reading], console: Console) -> None:
    """Readings on weak evidence: where, what was read, and why to look; those of one stretch and one reason together."""
    found: dict[tuple[Span, str], dict[str, None]] = {}
    for reading in readings:
        for rule in reading.rules:
            if rule.confirm:
                found.setdefault((rule.span, rule.confirm), {})[named(rule)] = None
    if not found:
        return
    heading(console, "To confirm")
    for (span, why), names in list(found.items())[:_MOST_TO_CONFIRM]:
        said = Text.assemble((f"{place(span)}  ", "dim"), f"{'; '.join(names)}. {sentence(safe(why))}")
        tell(console, said, 2, hang=4)
    if len(found) > _MOST_TO_CONFIRM:
        tell(console, f"and {len(found) - _MOST_TO_CONFIRM} more, with a question mark in the text above", 2, hang=2)
    tell(console, Text(WAY_OUT, style="dim"), 2, hang=2)


def _list_statements(statements: Sequence[Statement], console: Console) -> None:
    """What was said and not read: clauses that an order may hang on one by one, those that only name goods by their number."""
    if not statements:
        return
    gives = [one for one in statements if one.gives]
    shown = gives[:_MOST_STATEMENTS]
    heading(console, "Said and not read")
    for one in shown:
        words = " ".join(safe(one.span.text).split())
        words = words if len(words) <= _LONGEST else words[: _LONGEST - 1].rstrip() + "…"
        tell(console, Text.assemble((f"{place(one.span)}  ", "dim"), f"“{words}”: {safe(one.why)}"), 2, hang=4)
    more, names = len(gives) - len(shown), len(statements) - len(gives)
    rest = [f"{more} more"] if more else []
    rest += [f"{names} clause{'s' * (names != 1)} that only name{'s' * (names == 1)} goods"] if names else []
    if rest:
        tell(console, f"{'and ' if shown else ''}{' and '.join(rest)}; --format json lists all", 2, hang=2)


def _list_others(readings: Sequence[Reading], console: Console) -> None:
    """Sections of other trades, a line each; where that fills the screen, a line for each division."""
    others = [one for reading in readings for one in reading.others]
    if not others:
        return
    heading(console, "Other trades' sections")
    if len(others) <= _MOST_SECTIONS:
        lines = [one.line for one in others]
    else:
        groups: dict[str, list[Account]] = {}
        for one in others:
            groups.setdefault(one.section.number[:2], []).append(one)
        lines = [_division(group) for group in groups.values()]
    for line in lines:
        tell(console, safe(line), 2, hang=4)


def _division(group: Sequence[Account]) -> str:
    """One line for the sections of a division."""
    first, more = title_of(group[0].section), len(group) - 1
    numbers = sum(one.numbers for one in group)
    also = f" and {more} more of division {group[0].section.number[:2]}" if more else ""
    return f"{first}{also}: {numbers} number{'s' * (numbers != 1)}, not ours"


def _count_aside(readings: Sequence[Reading], console: Console) -> None:
    """How many numbers were set aside for each reason, the commonest first."""
    why = Counter(n.why for reading in readings for n in reading.numbers if n.became == ASIDE)
    if why:
        heading(console, "Set aside")
        told = sorted(why.items(), key=lambda one: (-one[1], one[0]))
        tell(console, "; ".join(f"{count} as {reason}" for reason, count in told), 2)


def tally(readings: Sequence[Reading]) -> str:
    """One line that accounts for every number, and for what is to be confirmed or was not read, where there is any."""
    became = Counter(n.became for reading in readings for n in reading.numbers)
    rules = [rule for reading in readings for rule in reading.rules]
    doubted = sum(bool(rule.confirm) for rule in rules)
    asked = sum(d.severity is Severity.QUESTION for reading in readings for d in reading.diagnostics)
    said = sum(one.gives for reading in readings for one in reading.statements)
    numbers = sum(became.values())
    counts = [f"{len(rules)} rule{'s' * (len(rules) != 1)}"]
    counts += [f"{doubted} to confirm"] if doubted else []
    counts += [f"{asked} question{'s' * (asked != 1)}"]
    counts += [f"{said} statement{'s' * (said != 1)} not read"] if said else []
    return (
        f"{numbers} number{'s' * (numbers != 1)}: {became['read']} read, {became[ASIDE]} set aside, "
        f"{became[UNREAD]} not read. {', '.join(counts)}."
    )
