"""An estimate on its way out: worked out, shown or written as a document, kept; and with what code the command ends."""

# ruff: noqa: PLC0415 - nothing is imported before a command runs

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, NamedTuple

import click

if TYPE_CHECKING:
    from collections.abc import Iterable

    from darby.cli.shared.jobs import Outcome, Wanted
    from darby.estimate.document_format import Document
    from darby.estimate.model import Estimate


class Shown(NamedTuple):
    """What a terminal shows besides the order and what is open."""

    longhand: bool = False
    notes: bool = False
    defaults: bool = False


def put_out(
    wanted: Wanted,
    form: str,
    out: str | None,
    *,
    shown: Shown,
    strict: bool,
    kept: str | None = None,
    force: bool = False,
) -> int:
    """Work out what was asked for and put it out, in the form named or by the ending of the file `out`; the code to end with."""
    from darby.cli.shared.jobs import estimate_of
    from darby.cli.shared.showing import refused, same_file

    if out is not None and kept is not None and same_file(out, kept):
        raise click.BadParameter(f"{out} is the file of --out too; name two files.", param_hint="--save")
    outcome = estimate_of(wanted)
    made = outcome.estimate
    if form == "terminal" and out is None:
        if made is None:
            return refuse(outcome, form)
        if kept is not None and refused(kept, inputs_of(made, wanted.job), force=force):
            return 2
        _show(made, shown)
    else:
        document = _document(form, out, outcome.plugins.documents)
        if made is None:
            return refuse(outcome, document.name)
        if any(name and refused(name, inputs_of(made, wanted.job), force=force) for name in (out, kept)):
            return 2
        code = _write(made, document, out, wanted.job, force=force)
        if code:
            return code
    if kept is not None and (code := _keep(made, kept, wanted, outcome, force=force)):
        return code
    if not made.complete:
        return 3
    return int(strict and bool(made.questions or made.unread or made.confirmations or made.checks))


def _document(form: str, out: str | None, more: Iterable[Document]) -> Document:
    """The document a format names, as a page or a table where its file ends so; by the ending alone where no format was given."""
    from darby.documents.catalogue import document_named, documents

    brought = {d.name: d for d in more}
    ending = _ending(out) if out is not None else ""
    ended = ending if form == "terminal" else ""
    form = ended or form
    found = document_named(f"{form}.{ending}") or document_named(form) or brought.get(form)
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


def _show(made: Estimate, shown: Shown) -> None:
    from darby.cli.shared.showing import terminal
    from darby.documents.needs import needs
    from darby.documents.terminal import estimate as to_terminal
    from darby.documents.terminal import longhand as longhand_terminal

    with terminal() as console:
        to_terminal.show(made, console, notes=shown.notes, defaults=shown.defaults)
        for need in needs(made) if shown.longhand else ():
            console.print()
            longhand_terminal.show(need, made, console)


def _write(made: Estimate, document: Document, name: str | None, job: str, *, force: bool) -> int:
    """Write a document, and say with what code to end; one of a plugin may well fail to be made."""
    from darby.cli.shared.showing import complain, out, save
    from darby.documents.catalogue import document_named
    from darby.plugin_host.isolation.failures import why as why_of
    from darby.text.diagnostics import problem

    try:
        text = document.make(made)
        why = "" if isinstance(text, str | bytes) else f"gave a {type(text).__name__}; text or bytes are wanted"
    except Exception as error:
        if document is document_named(document.name):
            raise
        why = why_of(error)
    if why:
        way_out = "Tell the author of the plugin that brings it, or take another format."
        complain([problem("document-failed", f"The document {document.name} {why}.", help=way_out)])
        return 3
    if name is not None:
        return save(name, text, keep=inputs_of(made, job), force=force)
    if isinstance(text, bytes) and document.name == "xlsx" and sys.stdout.isatty():
        click.echo("A workbook is no text for a terminal. Add a file to write it to: --out estimate.xlsx", err=True)
        return 2
    out(text)
    return 0


def _keep(made: Estimate, name: str, wanted: Wanted, outcome: Outcome, *, force: bool) -> int:
    """Save the estimate, and say with what code to end."""
    from darby.cli.shared.options import chosen
    from darby.cli.shared.showing import save
    from darby.saved.model import Choices
    from darby.saved.replay.one import Office
    from darby.saved.writer import text_of, with_longhand
    from darby.text.bounded_json import MOST_BYTES

    assert wanted.memory is not None
    choices = Choices(wanted.units or "", wanted.without, chosen(wanted.only))
    saved = Office.of(outcome.plugins).kept(made, wanted.memory, choices)
    data = text_of(with_longhand(saved, made)).encode("utf-8", "replace")
    if len(data) > MOST_BYTES:
        click.echo(
            f"{name} would be larger than {MOST_BYTES // 1_000_000} MB, which no run opens again. Nothing was written; "
            "cut the job into several.",
            err=True,
        )
        return 2
    return save(name, data, keep=inputs_of(made, wanted.job), force=force)


def inputs_of(made: Estimate, job: str) -> list[str]:
    """The files the estimate was made from, which no document may be written over."""
    from pathlib import Path

    folder = Path(job) if Path(job).is_dir() else Path(job).parent
    named = made.job.documents
    papers = [
        name for name, _ in (*named.specification, *named.addenda, *named.house, *named.answers, *made.job.plugin_files)
    ]
    papers += [schedule.name for schedule in made.job.schedules]
    return [job, str(folder / "job.toml"), *(str(folder / name) for name in papers)]


def refuse(outcome: Outcome, form: str) -> int:
    """Say everything that is wrong with the input; nothing was computed."""
    from darby.cli.shared.showing import complain, out_json
    from darby.documents.exact_json import estimate as to_json
    from darby.text.diagnostics import Severity

    if form == "json":
        out_json(to_json.refused_json(outcome.problems))
    else:
        complain(sorted(outcome.problems, key=lambda d: d.severity is not Severity.ERROR))
    return 2
