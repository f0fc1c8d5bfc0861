"""What was read of a document, for the eye: its text with every fact marked in place and named, then what is open."""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter
from collections.abc import Iterator, Sequence

from attrs import frozen
from rich.console import Console
from rich.text import Text

from darby.diagnostics import Severity
from darby.documents.terminal_parts import heading, place, safe, says, show_problems, tell, widened
from darby.reading import Reading
from darby.rules import Rule
from darby.text import Span

_KEPT = 3
"""Lines without a mark that are still shown between two marked ones; a longer run is only counted."""

_READ, _UNREAD, _ASIDE = "read", "unread", "set aside"
_SIGN = {_READ: "^", _UNREAD: "?", _ASIDE: "~"}
_STYLE = {_READ: "bold green", _UNREAD: "bold yellow", _ASIDE: "dim"}


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
    unread = [n for reading in readings for n in reading.numbers if n.became == _UNREAD]
    if unread:
        heading(console, "Not read")
        for number in unread:
            text = Text.assemble(f"{safe(number.span.text)}  {safe(number.why)}", (f"  [{place(number.span)}]", "dim"))
            tell(console, text, 2, hang=2)
    found = [d for reading in readings for d in reading.diagnostics]
    if found:
        heading(console, "Questions and remarks")
        show_problems(console, found)
    console.print()
    console.print(Text(tally(readings)))


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
        facts.setdefault(rule.span, []).append(_named(rule, explain))
    for span, names in facts.items():
        yield _Mark(span, _READ, tuple(dict.fromkeys(names)))
    for number in reading.numbers:
        if number.became == _UNREAD or (explain and number.became == _ASIDE):
            yield _Mark(number.span, number.became, (f"{number.became}: {number.why}",))


def _named(rule: Rule, explain: bool) -> str:
    where = f", {rule.scope}" if rule.scope else ""
    how = ""
    if explain and rule.bound_by:
        how = " (" + ", ".join(f"{what} from {source}" for what, source in rule.bound_by) + ")"
    return safe(f"{rule.subject} {rule.kind.name}{where}: ") + says(rule) + safe(how)


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
    carets = Text.assemble((f"  {' ' * gutter} │ ", "dim"), (below, _STYLE[mark.what]))
    names = list(mark.names)
    if len(carets) + 2 + len(names[0]) <= console.width:
        carets.append(f"  {safe(names.pop(0))}")
    console.print(carets, no_wrap=True, overflow="crop")
    for name in names:
        tell(console, name, gutter + 5 + min(len(below) - len(below.lstrip()), 4))
