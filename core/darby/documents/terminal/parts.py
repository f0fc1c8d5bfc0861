"""What the terminal documents are put together from: a console, text made harmless, problems with their place."""

from __future__ import annotations

from collections.abc import Iterable
from io import StringIO
from typing import IO

from rich.cells import cell_len
from rich.console import Console
from rich.text import Text

from darby.documents.words import grouped_digits, harmless
from darby.rules.rule import Rule
from darby.text.diagnostics import Diagnostic, Severity
from darby.text.spans import Span, excerpt

_WIDEST = 120
_PIPED = 100
_LONGEST = 160
_STYLES = {
    Severity.ERROR: "bold red",
    Severity.WARNING: "bold yellow",
    Severity.QUESTION: "bold cyan",
    Severity.NOTE: "bold",
}


def safe(text: str) -> str:
    """Text from outside as it may be shown: terminal controls and direction marks become a replacement sign each, in place."""
    return harmless(text)


def console_for(stream: IO[str] | None = None, *, width: int | None = None, stderr: bool = False) -> Console:
    """A console that is plain when piped, honours NO_COLOR and COLUMNS, and takes no text for markup."""
    console = Console(file=stream, stderr=stderr, highlight=False, markup=False, emoji=False, width=width)
    if width is None:
        wanted = console.width if console.is_terminal or "COLUMNS" in console._environ else _PIPED
        console.width = min(wanted, _WIDEST)
    return console


def plain(width: int = _PIPED) -> tuple[Console, StringIO]:
    """A console that writes plain text into a buffer."""
    stream = StringIO()
    console = Console(
        file=stream, width=width, force_terminal=False, color_system=None, highlight=False, markup=False, emoji=False
    )
    return console, stream


def written(stream: StringIO) -> str:
    """What a plain console wrote, without the spaces that fill up its lines."""
    return "".join(line.rstrip() + "\n" for line in stream.getvalue().splitlines())


def tell(console: Console, text: Text | str, by: int = 0, *, hang: int = 0) -> None:
    """Print text moved in by `by`, its second and further lines by `hang` more. What is unsafe in it is made harmless."""
    text = Text(text) if isinstance(text, str) else text
    text = Text(safe(text.plain), style=text.style, spans=text.spans)
    width = max(12, console.width - by - hang)
    for number, line in enumerate(text.wrap(console, width)):
        line.rstrip()
        console.print(Text(" " * (by + hang * bool(number))) + line, no_wrap=True, overflow="crop")


def heading(console: Console, text: str) -> None:
    """A heading with an empty line above it."""
    console.print()
    console.print(Text(text, style="bold"))


def place(span: Span | None) -> str:
    """File and line, as one looks a clause up: `section.txt:12`, `section.pdf, page 3, line 12`; nothing without a place."""
    if span is None:
        return ""
    return (
        f"{safe(span.source.name)}:{span.line}"
        if span.source.unit == "line"
        else f"{safe(span.source.name)}, {span.where}"
    )


def places(spans: Iterable[Span | None]) -> str:
    """Where several numbers stand, each file named once: `job.toml:5, 6, 7`."""
    lines: dict[str, dict[int, str]] = {}
    for span in sorted(filter(None, spans), key=lambda s: s.start):
        by_line = span.source.unit == "line"
        told = lines.setdefault(f"{safe(span.source.name)}{':' if by_line else ', '}", {})
        told[span.line] = str(span.line) if by_line else span.where
    return "; ".join(f"{name}{', '.join(dict.fromkeys(found.values()))}" for name, found in lines.items())


def says(rule: Rule) -> str:
    """What a rule says: `250 sq ft per gal`, `2 to 3`, `at least 2`."""
    return grouped_digits(safe(rule.says().replace(" per 1 ", " per ")))


def stands_in(rule: Rule) -> str:
    """Where a rule was said and by whom: `section.txt:12, specification`."""
    cited = f", {safe(rule.cited)}" if rule.cited else ""
    return f"{place(rule.span)}, {rule.layer.name}{cited}"


def clause(rule: Rule) -> str:
    """The words of the clause that a rule stands in, in quotation marks, on one line."""
    text = " ".join(safe(rule.amount.step.origin.text or rule.span.text).split())
    return f"“{text if len(text) <= _LONGEST else text[: _LONGEST - 1].rstrip() + '…'}”"


def show_problems(console: Console, problems: Iterable[Diagnostic], *, pages: bool = True) -> None:
    """Each problem: headline, place, the excerpt with carets, what helps; then once where to read more.

    Help that several in a row share is told once, below the last of them.
    """
    problems = tuple(problems)
    codes = dict.fromkeys(problem.code for problem in problems)
    for number, problem in enumerate(problems, 1):
        _show_problem(console, problem)
        if problem.help and (number == len(problems) or problems[number].help != problem.help):
            tell(console, Text.assemble(("help: ", "bold"), problem.help), 2, hang=6)
    if codes and pages:
        console.print()
        start = "More on this: darby why " if len(codes) == 1 else "More on each with darby why: "
        tell(console, Text(start + ", ".join(codes), style="dim"), hang=2)


def _show_problem(console: Console, problem: Diagnostic) -> None:
    console.print()
    headline = Text(problem.severity.value, style=_STYLES[problem.severity])
    headline.append(f": {safe(problem.message)}", style="bold")
    console.print(headline)
    if problem.file and problem.span is None and problem.file not in problem.message:
        console.print(Text(f"  {safe(problem.file)}", style="dim"))
    for label in problem.labels:
        show_place(console, label.span, said=label.text)


def widened(line: str, marks: str) -> str:
    """Marks that stand below a line where it is shown, with its wide characters taking two places and accents none."""
    if line.isascii():
        return marks
    return "".join(mark * cell_len(char) for char, mark in zip(line, marks, strict=False))


def show_place(console: Console, span: Span, *more: Span, said: str = "", named: bool = True) -> None:
    """Where one or more stretches of one line stand, and the line with carets below it. What does not fit is cut off.

    `named` is False where the file is told above.
    """
    if named:
        console.print(Text(f"  {safe(str(span))}", style="dim"))
    line, marks = excerpt(span, max(24, console.width - 10))
    begin = span.column - 1 - marks.index("^")
    for other in more:
        start, end = (max(0, at - begin) for at in (other.column - 1, other.column - 1 + other.end - other.start))
        marks = marks.ljust(end)[:start] + "^" * (end - start) + marks.ljust(end)[end:]
    marks = widened(safe(line), marks[: len(line)]) if line else marks
    number = span.source.line_name(span.line)
    gutter = " " * len(number)
    words = f"  {safe(said)}" if said else ""
    console.print(Text.assemble((f"  {number} │ ", "dim"), safe(line)), no_wrap=True, overflow="ellipsis")
    shown = Text.assemble((f"  {gutter} │ ", "dim"), (marks, "bold red"))
    if len(shown) + len(words) <= console.width:
        shown.append(words)
        words = ""
    console.print(shown, no_wrap=True, overflow="crop")
    if words:
        tell(console, words.strip(), 6 + len(number))
