"""Getting text in and out: standard input, documents on standard output, problems on standard error."""

# ruff: noqa: PLC0415 - nothing is imported before a command runs

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

import click

if TYPE_CHECKING:
    from rich.console import Console

    from darby.text.diagnostics import Diagnostic
    from darby.text.files import Opened

STANDARD_INPUT = "standard input"


def out(document: str | bytes) -> None:
    """Write a document to standard output, text as UTF-8."""
    sys.stdout.flush()
    stream = sys.stdout.buffer
    stream.write(document.encode("utf-8", "replace") if isinstance(document, str) else document)
    stream.flush()


def out_json(data: dict[str, Any]) -> None:
    """Write plain data to standard output as JSON."""
    from darby.documents.exact_json.parts import dump

    out(dump(data))


def same_file(one: str, other: str) -> bool:
    """Whether two names are of one file, there or not."""
    from pathlib import Path

    try:
        return Path(one).resolve() == Path(other).resolve() or Path(one).samefile(other)
    except (OSError, ValueError, RuntimeError):
        return False


def refused(name: str, keep: Iterable[str] = (), *, force: bool = False) -> bool:
    """Whether nothing may be written to a file, which is told: it is one of `keep`, a folder, or there already without `force`."""
    from pathlib import Path

    from darby.documents.words import one_line

    shown, path, why = one_line(name), Path(name), ""
    try:
        if path.exists() and any(same_file(name, kept) for kept in keep):
            why = f"{shown} is what the estimate is made from. Nothing was written; name another file."
        elif path.is_dir():
            why = f"{shown} is a folder. Nothing was written; name a file in it."
        elif path.is_file() and not force:
            why = f"{shown} is there already. Nothing was written; name another file, or add --force."
    except (OSError, ValueError):  # a name that no system takes, which is told when it is written
        return False
    if why:
        click.echo(why, err=True)
    return bool(why)


def save(name: str, document: str | bytes, keep: Iterable[str] = (), *, force: bool = False) -> int:
    """Write a document to a file, whole or not at all, and say so; gives the code to end with.

    A file that is there already is replaced with `force` only, and never where it is one of `keep`: the files the document was
    made from.
    """
    from pathlib import Path

    from darby.documents.words import one_line
    from darby.saved.writer import write

    shown = one_line(name)
    data = document.encode("utf-8", "replace") if isinstance(document, str) else document
    try:
        path = Path(name)
        if refused(name, keep, force=force):
            return 2
        if path.exists() and not path.is_file():
            path.write_bytes(data)  # a pipe or a device
            return 0
        if not path.parent.is_dir():
            click.echo(
                f"There is no folder {one_line(str(path.parent))}. Nothing was written; make it first.", err=True
            )
            return 2
        write(path, data, replace=force)
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or str(error)
        click.echo(f"{shown} cannot be written: {one_line(why)}.", err=True)
        return 2
    click.echo(f"Wrote {shown}.", err=True)
    return 0


@contextmanager
def terminal(*, stderr: bool = False) -> Iterator[Console]:
    """A console on standard output (or error); a pipe gets plain text without the spaces that fill up lines."""
    from darby.documents.terminal.parts import console_for, plain, written

    stream = sys.stderr if stderr else sys.stdout
    console = console_for(stream)
    if console.is_terminal:
        yield console
        return
    buffered, text = plain(console.width)
    yield buffered
    stream.write(written(text))


def complain(problems: Iterable[Diagnostic]) -> None:
    """Tell problems on standard error."""
    from darby.documents.terminal.parts import show_problems

    with terminal(stderr=True) as console:
        show_problems(console, problems)


def open_named(name: str) -> Opened:
    """The file of that name, or what comes in on standard input where it is `-`."""
    from pathlib import Path

    from darby.text.files import LARGEST_FILE, decode, open_file

    if name != "-":
        return open_file(Path(name), name)
    if sys.stdin.isatty():
        click.echo("Paste the text, then end it with Ctrl-D (Ctrl-Z and Enter on Windows).", err=True)
    return decode(sys.stdin.buffer.read(LARGEST_FILE + 1), STANDARD_INPUT)
