"""`darby estimate`, `darby demo` and `darby explain`: what to order, and how it was worked out."""

# ruff: noqa: PLC0415 - nothing is imported before a command runs

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

import click

from darby.cli.options import format_option, plugin_options, run_plugins_option, strict_option, units_option

if TYPE_CHECKING:
    from collections.abc import Iterable

    from darby.cli.jobs import Outcome, Wanted
    from darby.estimate.document_format import Document
    from darby.estimate.line_item import LineItem
    from darby.estimate.model import Estimate

_longhand_option = click.option("--longhand", is_flag=True, help="Also show how each line was worked out.")
_estimate_format = format_option(
    "terminal, or a document: xlsx, html, order, letter, scope, csv, json; `darby formats` lists all."
)
_out_option = click.option(
    "--out", metavar="FILE", help="Write to this file; its ending tells the format where none is given."
)
_save_option = click.option(
    "--save", "kept", metavar="FILE", help="Also keep all of it in this file, to compare and replay later."
)


@click.command(short_help="Work out what to order for a job.")
@click.argument("job", metavar="JOB.toml")
@_estimate_format
@_out_option
@_save_option
@_longhand_option
@units_option
@strict_option
@run_plugins_option
@plugin_options
def estimate(
    *, job: str, form: str, out: str | None, kept: str | None, longhand: bool, units: str | None, strict: bool,
    run_plugins: bool, without: tuple[str, ...], only: tuple[str, ...],
) -> int:  # fmt: skip
    """Read the documents a job file names, measure, and say what to order, what was assumed and what is open.

    Files in the job are looked up beside it. With - the job itself comes from standard input, and "demo" is the demo.
    """
    from darby.cli.jobs import Wanted
    from darby.reading.cache import Memory

    memory = None if kept is None else Memory()
    wanted = Wanted(job, without, only, units, run_plugins, memory)
    return _estimate(wanted, form, out, longhand=longhand, strict=strict, kept=kept)


@click.command(short_help="See it at work on a small job.")
@click.option("--to", "folder", type=click.Path(), help="Copy the demo's files to this folder instead.")
@_estimate_format
@_out_option
@_longhand_option
@units_option
@plugin_options
def demo(
    *, folder: str | None, form: str, out: str | None, longhand: bool, units: str | None, without: tuple[str, ...],
    only: tuple[str, ...],
) -> int:  # fmt: skip
    """Work out the demo: a small building with its specification, an addendum and a house file."""
    from darby.cli.jobs import DEMO, Wanted

    if folder is not None:
        return _copy_demo(folder)
    code = _estimate(Wanted(DEMO, without, only, units), form, out, longhand=longhand, strict=False)
    if form == "terminal" and out is None and code == 0:
        click.echo("\nOne line of it in full:  darby explain demo 1")
        click.echo("The files behind it:     darby demo --to FOLDER")
    return code


@click.command(short_help="Show how one line was worked out.")
@click.argument("job", metavar="JOB.toml")
@click.argument("item")
@click.option("--format", "form", type=click.Choice(["terminal", "json"]), default="terminal", show_default=True)
@units_option
@run_plugins_option
@plugin_options
def explain(
    *,
    job: str,
    item: str,
    form: str,
    units: str | None,
    run_plugins: bool,
    without: tuple[str, ...],
    only: tuple[str, ...],
) -> int:
    """Show every number behind one line, with the clause, default line or measured row it came from.

    ITEM is the number of the line, the product, or a part of its id that no other line has.
    """
    from darby.cli.jobs import Wanted, estimate_of
    from darby.cli.showing import complain, out_json, terminal
    from darby.documents.exact_json import estimate as to_json
    from darby.documents.terminal import longhand as longhand_terminal

    outcome = estimate_of(Wanted(job, without, only, units, run_plugins))
    if outcome.estimate is None:
        return _refuse(outcome, form)
    found = _find(item, outcome.estimate)
    if len(found) != 1:
        complain(outcome.plugins.diagnostics)
        click.echo(_which(item, found, outcome.estimate), err=True)
        return 2
    if form == "json":
        out_json({"schema": "darby.line/1", "item": to_json.item_json(found[0], outcome.estimate.rules)})
    else:
        with terminal() as console:
            longhand_terminal.show(found[0], outcome.estimate, console)
    if not outcome.estimate.complete:
        click.echo(f"The estimate is incomplete: {', '.join(outcome.estimate.missing)} failed.", err=True)
        return 3
    return 0


def _estimate(
    wanted: Wanted, form: str, out: str | None, *, longhand: bool, strict: bool, kept: str | None = None
) -> int:
    from darby.cli.jobs import estimate_of

    outcome = estimate_of(wanted)
    made = outcome.estimate
    if form == "terminal" and out is None:
        if made is None:
            return _refuse(outcome, form)
        _show(made, longhand=longhand)
    else:
        document = _document(form, out, outcome.plugins.documents)
        if made is None:
            return _refuse(outcome, document.name)
        code = _write(made, document, out, wanted.job)
        if code:
            return code
    if kept is not None and (code := _keep(made, kept, wanted, outcome)):
        return code
    if not made.complete:
        return 3
    return int(strict and bool(made.questions or made.unread))


def _document(form: str, out: str | None, more: Iterable[Document]) -> Document:
    """The document a format names, or the ending of the file it goes to where no format was given."""
    from darby.documents.catalogue import document_named, documents

    brought = {d.name: d for d in more}
    ended = _ending(out) if form == "terminal" and out is not None else ""
    form = ended or form
    found = document_named(form) or brought.get(form)
    if found is None:
        if ended:
            raise click.BadParameter(
                f"no document goes by the ending .{form}; say which it is with --format.", param_hint="--out"
            )
        known = ", ".join(sorted({*brought, *(d.name for d in documents())}))
        raise click.BadParameter(f"there is no format {form!r}; it is one of {known}.", param_hint="--format")
    return found


def _ending(name: str) -> str:
    """The ending of a file name; nothing where it has none or it is plain text."""
    from pathlib import PurePath

    ending = PurePath(name).suffix.lower().lstrip(".")
    return "" if ending in {"txt", "text"} else ending


def _show(made: Estimate, *, longhand: bool) -> None:
    from darby.cli.showing import terminal
    from darby.documents.terminal import estimate as to_terminal
    from darby.documents.terminal import longhand as longhand_terminal

    with terminal() as console:
        to_terminal.show(made, console)
        for item in made.items if longhand else ():
            console.print()
            longhand_terminal.show(item, made, console)


def _write(made: Estimate, document: Document, name: str | None, job: str) -> int:
    """Write a document, and say with what code to end; one of a plugin may well fail to be made."""
    from darby.cli.showing import complain, out, save
    from darby.documents.catalogue import document_named
    from darby.plugin_host.validation import raised
    from darby.text.diagnostics import problem

    try:
        text = document.make(made)
        why = "" if isinstance(text, str | bytes) else f"gave a {type(text).__name__}; text or bytes are wanted"
    except Exception as error:
        if document is document_named(document.name):
            raise
        why = f"raised {raised(error)}"
    if why:
        way_out = "Tell the author of the plugin that brings it, or take another format."
        complain([problem("document-failed", f"The document {document.name} {why}.", help=way_out)])
        return 3
    if name is not None:
        return save(name, text, keep=_inputs(made, job))
    if isinstance(text, bytes) and document.name == "xlsx" and sys.stdout.isatty():
        click.echo("A workbook is no text for a terminal. Add a file to write it to: --out estimate.xlsx", err=True)
        return 2
    out(text)
    return 0


def _keep(made: Estimate, name: str, wanted: Wanted, outcome: Outcome) -> int:
    """Save the estimate, and say with what code to end."""
    from darby.cli.options import chosen
    from darby.cli.showing import save
    from darby.saved.model import Choices
    from darby.saved.replay.one import Office
    from darby.saved.writer import text_of, with_longhand

    assert wanted.memory is not None
    choices = Choices(wanted.units or "", wanted.without, chosen(wanted.only))
    saved = Office.of(outcome.plugins).kept(made, wanted.memory, choices)
    return save(name, text_of(with_longhand(saved, made)), keep=_inputs(made, wanted.job))


def _inputs(made: Estimate, job: str) -> list[str]:
    """The files the estimate was made from, which no document may be written over."""
    from pathlib import Path

    folder = Path(job) if Path(job).is_dir() else Path(job).parent
    named = made.job.documents
    papers = [name for name, _ in (*named.specification, *named.addenda, *named.house, *made.job.plugin_files)]
    return [job, str(folder / "job.toml"), *(str(folder / name) for name in papers)]


def _refuse(outcome: Outcome, form: str) -> int:
    """Say everything that is wrong with the input; nothing was computed."""
    from darby.cli.showing import complain, out_json
    from darby.documents.exact_json import estimate as to_json
    from darby.text.diagnostics import Severity

    if form == "json":
        out_json(to_json.refused_json(outcome.problems))
    else:
        complain(sorted(outcome.problems, key=lambda d: d.severity is not Severity.ERROR))
    return 2


def _copy_demo(folder: str) -> int:
    import shutil
    from pathlib import Path

    from darby.cli.jobs import demo_folder
    from darby.documents.terminal.parts import safe

    target = Path(folder)
    try:
        target.mkdir(parents=True, exist_ok=True)
        with demo_folder() as source:
            files = sorted(f for f in source.iterdir() if f.is_file() and f.suffix != ".py")
            taken = [f.name for f in files if (target / f.name).exists()]
            if taken:
                click.echo(
                    f"{safe(folder)} already holds {', '.join(taken)}. Nothing was copied; name another folder.",
                    err=True,
                )
                return 2
            for file in files:
                shutil.copyfile(file, target / file.name)
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or str(error)
        click.echo(f"The demo cannot be copied to {safe(folder)}: {why}.", err=True)
        return 2
    click.echo(f"Copied to {safe(folder)}: {', '.join(f.name for f in files)}.")
    click.echo(f"Now try: darby estimate {safe(str(target / 'job.toml'))}")
    return 0


def _find(name: str, estimate: Estimate) -> list[LineItem]:
    """The items that a name may mean; the most exact way of meaning that fits any decides."""
    wanted = "-".join(name.lower().split())
    if name.isdigit() and len(name) < 6:
        return [i for n, i in enumerate(estimate.items, 1) if n == int(name)]
    ways = (
        [i for i in estimate.items if i.id.lower() == wanted],
        [i for i in estimate.items if "-".join(i.product.lower().split()) == wanted],
        [i for i in estimate.items if wanted and wanted in i.id.lower()],
    )
    return next((way for way in ways if way), [])


def _which(name: str, found: list[LineItem], estimate: Estimate) -> str:
    import difflib

    from darby.documents.terminal.parts import safe

    numbered = {item.id: f"  {number}  {safe(item.id)}" for number, item in enumerate(estimate.items, 1)}
    if found:
        return f"{safe(name)} may be any of these:\n" + "\n".join(numbered[i.id] for i in found)
    if not numbered:
        return "This job has nothing to order, so there is nothing to explain."
    close = difflib.get_close_matches(name.lower()[:80], numbered, 5, 0.3) or list(numbered)
    return f"There is no line {safe(name)}. Did you mean one of these?\n" + "\n".join(numbered[i] for i in close)
