"""What was read of a document, for the eye: its text with every fact marked in place and named; the account of it follows."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence

from attrs import frozen
from rich.cells import cell_len
from rich.console import Console
from rich.text import Text

from darby.documents.terminal.account import ASIDE, UNREAD, is_asked, is_question, named, show_account
from darby.documents.terminal.parts import safe, tell, widened
from darby.documents.words import found_words
from darby.reading.read import Reading
from darby.rules.found_by import FoundBy, code_of
from darby.rules.rule import Rule
from darby.text.spans import Span

_KEPT = 3
"""Lines without a mark that are still shown between two marked ones; a longer run is only counted."""

_READ, _DOUBTED, _ASKED = "read", "to confirm", "question"
_SIGN = {_READ: "^", _DOUBTED: "^", UNREAD: "?", _ASKED: "?", ASIDE: "~"}
_STYLE = {_READ: "bold green", _DOUBTED: "bold yellow", UNREAD: "bold yellow", _ASKED: "bold cyan", ASIDE: "dim"}
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
    show_account(readings, console, explain=explain)


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
    rules: dict[Span, list[Rule]] = {}
    for rule in reading.rules:
        rules.setdefault(rule.span, []).append(rule)
    for span, said in rules.items():
        yield _Mark(span, _DOUBTED if any(rule.confirm for rule in said) else _READ, tuple(_names(said, explain)))
    asked = [d for d in reading.diagnostics if is_question(d)]
    for question in asked:
        assert question.span is not None
        told = question.message.removeprefix(f"“{' '.join(question.span.text.split())}”: ")
        yield _Mark(question.span, _ASKED, (safe(f"question: {told}"),))
    for number in reading.numbers:
        aside = explain and number.became == ASIDE and number.why not in _PLAIN_ASIDE
        if (aside or number.became == UNREAD) and not is_asked(number.span, asked):
            yield _Mark(number.span, number.became, (safe(f"{ASIDE if aside else 'not read'}: {number.why}"),))


def _names(rules: Iterable[Rule], explain: bool) -> Iterable[str]:
    """What the rules of one stretch say, a line each; one to confirm has a question mark before it, and below them all why."""
    names: dict[str, None] = {}
    for rule in rules:
        names[f"{_DOUBT if rule.confirm else ''}{named(rule)}"] = None
        if explain and rule.bound_by:
            names[f"  {_bound(rule)}"] = None
    why = dict.fromkeys(safe(f"  to confirm: {rule.confirm}") for rule in rules if rule.confirm)
    return (*names, *why)


_DOUBT = "? "
"""What stands before a meaning that is to be confirmed."""


def _bound(rule: Rule) -> str:
    """What each part of a rule was found by, parts found alike told together: `by the label: subject, surface`."""
    parts: dict[str, list[str]] = {}
    for what, source in rule.bound_by:
        parts.setdefault(source, []).append(what)
    return safe("; ".join(_from(dict.fromkeys(found), source) for source, found in parts.items()))


def _from(parts: Iterable[str], source: str) -> str:
    said = " and ".join(parts)
    link = "since" if code_of(source) == FoundBy.IMPLIED else "from"
    return f"{said} {link} {found_words(source)}"


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
