"""What was read of a document, for the eye: its text with every fact marked in place and named, then what is open."""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from attrs import frozen
from rich.cells import cell_len
from rich.console import Console
from rich.text import Text

from darby.documents.terminal.parts import heading, place, safe, says, show_problems, tell, widened
from darby.reading.others import Account, title_of
from darby.reading.read import Reading
from darby.rules.rule import Rule
from darby.text.diagnostics import Diagnostic, Severity
from darby.text.spans import Span

_KEPT = 3
"""Lines without a mark that are still shown between two marked ones; a longer run is only counted."""

_READ, _UNREAD, _ASKED, _ASIDE = "read", "unread", "question", "set aside"
_MOST_SECTIONS = 12
"""Sections of other trades that are listed one by one."""
_SIGN = {_READ: "^", _UNREAD: "?", _ASKED: "?", _ASIDE: "~"}
_STYLE = {_READ: "bold green", _UNREAD: "bold yellow", _ASKED: "bold cyan", _ASIDE: "dim"}
_PLAIN_ASIDE = ("the number of a paragraph", "a page header or footer", "a rule between paragraphs")
"""Reasons so plain that they are counted at the end instead of being told at every number."""


@frozen
class _Mark:
    """A stretch to point at and what is said of it."""

    span: Span
    what: str
    names: tuple[str, ...]


def show(readings: Sequence[Reading], console: Console, *, explain: bool = False) -> None:
    """Print what was read. `explain` adds why numbers were set aside and how each subject was found."""
    for reading in readings:
        _show_text(reading, console, explain)
    found = [d for reading in readings for d in reading.diagnostics]
    asked = [d for d in found if _is_question(d)]
    unread = [
        n for reading in readings for n in reading.numbers if n.became == _UNREAD and not _is_asked(n.span, asked)
    ]
    _list(console, "Not read", [(n.span, f"“{n.span.text}”: {n.why}") for n in unread])
    _list(console, "Questions", [(d.span, d.message) for d in asked if d.span is not None])
    _list_others(readings, console)
    if explain:
        _count_aside(readings, console)
    rest = [d for d in found if not _is_question(d)]
    if rest:
        heading(console, "Remarks")
        show_problems(console, rest)
    console.print()
    console.print(Text(tally(readings)))


def _is_question(diagnostic: Diagnostic) -> bool:
    """Whether a problem is a question about a place, which is marked in the text and told in a line."""
    place_told = diagnostic.span is not None and len(diagnostic.labels) == 1
    return diagnostic.severity is Severity.QUESTION and place_told


def _is_asked(span: Span, asked: Sequence[Diagnostic]) -> bool:
    return any(
        d.span is not None and d.span.source is span.source and d.span.start < span.end and span.start < d.span.end
        for d in asked
    )


def _list(console: Console, title: str, lines: Sequence[tuple[Span, str]]) -> None:
    """What is open, in the order of the text, each with its place before it."""
    if not lines:
        return
    heading(console, title)
    for span, said in sorted(lines, key=lambda one: (one[0].source.name, one[0].start)):
        tell(console, Text.assemble((f"{place(span)}  ", "dim"), " ".join(safe(said).split())), 2, hang=4)


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
    why = Counter(n.why for reading in readings for n in reading.numbers if n.became == _ASIDE)
    if why:
        heading(console, "Set aside")
        told = sorted(why.items(), key=lambda one: (-one[1], one[0]))
        tell(console, "; ".join(f"{count} as {reason}" for reason, count in told), 2)


def tally(readings: Sequence[Reading]) -> str:
    """One line that accounts for every number."""
    became = Counter(n.became for reading in readings for n in reading.numbers)
    rules = sum(len(reading.rules) for reading in readings)
    asked = sum(d.severity is Severity.QUESTION for reading in readings for d in reading.diagnostics)
    numbers = sum(became.values())
    return (
        f"{numbers} number{'s' * (numbers != 1)}: {became['read']} read, {became['set aside']} set aside, "
        f"{became['unread']} not read. {rules} rule{'s' * (rules != 1)}, {asked} question{'s' * (asked != 1)}."
    )


def _show_text(reading: Reading, console: Console, explain: bool) -> None:
    marks: dict[int, list[_Mark]] = {}
    for mark in sorted(_marks(reading, explain), key=lambda m: (m.span.start, m.span.end)):
        marks.setdefault(mark.span.line, []).append(mark)
    console.print()
    console.print(Text(safe(reading.source.name), style="bold"))
    last = len(reading.source.line_starts)
    gutter = max(len(reading.source.line_name(last)), len(reading.source.line_name(max(marks, default=1))))
    for first, end in _stretches(sorted(marks), last):
        lines = range(first, end + 1)
        filled = [n for n in lines if n in marks or reading.source.line_text(n).strip()]
        if len(filled) > _KEPT and not any(n in marks for n in lines):
            console.print(Text(f"  {' ' * gutter} ⋮ {len(filled)} lines with nothing to read", style="dim"))
            continue
        for number in filled:
            _show_line(reading, number, marks.get(number, []), gutter, console)


def _stretches(marked: Sequence[int], last: int) -> Iterator[tuple[int, int]]:
    """Runs of lines: each marked line, and each run between two of them; the line above a marked one goes with it."""
    at = 1
    for line in marked:
        if line - 1 > at:
            yield at, line - 2
        yield max(at, line - 1), line
        at = line + 1
    if at <= last:
        yield at, last


def _marks(reading: Reading, explain: bool) -> Iterator[_Mark]:
    facts: dict[Span, list[str]] = {}
    for rule in reading.rules:
        facts.setdefault(rule.span, []).append(_named(rule))
        if explain and rule.bound_by:
            facts[rule.span].append(f"  {_bound(rule)}")
    for span, names in facts.items():
        yield _Mark(span, _READ, tuple(dict.fromkeys(names)))
    asked = [d for d in reading.diagnostics if _is_question(d)]
    for question in asked:
        assert question.span is not None
        said = question.message.removeprefix(f"“{' '.join(question.span.text.split())}”: ")
        yield _Mark(question.span, _ASKED, (safe(f"question: {said}"),))
    for number in reading.numbers:
        aside = explain and number.became == _ASIDE and number.why not in _PLAIN_ASIDE
        if (aside or number.became == _UNREAD) and not _is_asked(number.span, asked):
            told = _ASIDE if aside else "not read"
            yield _Mark(number.span, number.became, (safe(f"{told}: {number.why}"),))


def _named(rule: Rule) -> str:
    where = f", {rule.scope}" if rule.scope else ""
    return safe(f"{rule.subject} {rule.kind.name}{where}: ") + says(rule)


def _bound(rule: Rule) -> str:
    """What each part of a rule was found by, parts found alike told together: `by the label: subject, surface`."""
    parts: dict[str, list[str]] = {}
    for what, source in rule.bound_by:
        parts.setdefault(source, []).append(what)
    return safe("; ".join(_from(dict.fromkeys(found), source) for source, found in parts.items()))


def _from(parts: Iterable[str], source: str) -> str:
    said = " and ".join(parts)
    return f"{said} since {source}" if source.startswith("every ") else f"{said} from {source}"


def _show_line(reading: Reading, number: int, marks: Sequence[_Mark], gutter: int, console: Console) -> None:
    """One line of the document, in pieces that fit, with the marks that begin in each piece below it."""
    begin = reading.source.line_starts[number - 1]
    text = safe(reading.source.line_text(number))
    room = max(20, console.width - gutter - 5)
    pieces = list(_pieces(text, room))
    starts = [at for at, _ in pieces]
    touching: dict[int, list[_Mark]] = {}
    for mark in marks:
        low, high = mark.span.start - begin, max(mark.span.end - begin, mark.span.start - begin + 1)
        for piece in range(bisect_right(starts, low) - 1, bisect_right(starts, min(high, len(text) + 1) - 1)):
            touching.setdefault(piece, []).append(mark)
    for piece, (at, end) in enumerate(pieces):
        label = reading.source.line_name(number) if not piece else ""
        shown = Text.assemble((f"  {label:>{gutter}} │ ", "dim"), text[at:end])
        for mark in touching.get(piece, ()):
            low, high = mark.span.start - begin - at, min(mark.span.end - begin, end) - at
            shown.stylize(_STYLE[mark.what], gutter + 5 + max(0, low), gutter + 5 + high)
        console.print(shown, no_wrap=True, overflow="crop")
        for mark in touching.get(piece, ()):
            low = mark.span.start - begin
            if low >= at:
                length = max(1, min(mark.span.end - begin, end) - low)
                below = widened(text[at:end] + " ", " " * (low - at) + _SIGN[mark.what] * length)
                _show_mark(mark, below, gutter, console)


def _pieces(text: str, room: int) -> Iterator[tuple[int, int]]:
    """Where a line is cut so that no piece is wider than `room`, at a space where there is one."""
    at = 0
    while len(text) - at > room:
        space = text.rfind(" ", at + room // 2, at + room)
        end = space + 1 if space > 0 else at + room
        yield at, end
        at = end
    yield at, len(text)


def _show_mark(mark: _Mark, below: str, gutter: int, console: Console) -> None:
    """The signs below a stretch and its name: behind them where there is room, else before them, else on the next line."""
    first, *more = mark.names
    before, signs = len(below) - len(below.lstrip()), (below.lstrip(), _STYLE[mark.what])
    shown = Text(f"  {' ' * gutter} │ ", style="dim")
    if gutter + 5 + cell_len(below) + 2 + cell_len(first) <= console.width:
        shown = Text.assemble(shown, " " * before, signs, f"  {first}")
    elif cell_len(first) + 2 <= before:
        shown = Text.assemble(shown, f"{first}  ".rjust(before), signs)
    else:
        shown, more = Text.assemble(shown, " " * before, signs), [first, *more]
    console.print(shown, no_wrap=True, overflow="crop")
    for name in more:
        indent = len(name) - len(name.lstrip())
        tell(console, name.strip(), gutter + 5 + min(before, 4) + indent, hang=2)
