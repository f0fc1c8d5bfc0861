"""`darby estimate` and `darby demo`: what to order for a job."""

# ruff: noqa: PLC0415 - nothing is imported before a command runs

from __future__ import annotations

import click

from darby.cli.shared.estimate_output import Shown, put_out
from darby.cli.shared.options import (
    anywhere_option,
    force_option,
    format_option,
    plugin_options,
    run_plugins_option,
    strict_option,
    units_option,
)

_longhand_option = click.option("--longhand", is_flag=True, help="Also show how each line was worked out.")
_notes_option = click.option("--notes", is_flag=True, help="Also show what explains each line.")
_defaults_option = click.option(
    "--defaults", is_flag=True, help="Also list what house lines and defaults stood in for the documents."
)
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
@force_option
@_longhand_option
@_notes_option
@_defaults_option
@units_option
@strict_option
@anywhere_option
@run_plugins_option
@plugin_options
def estimate(
    *, job: str, form: str, out: str | None, kept: str | None, force: bool, longhand: bool, notes: bool, defaults: bool,
    units: str | None, strict: bool, anywhere: bool, run_plugins: bool, without: tuple[str, ...], only: tuple[str, ...],
) -> int:  # fmt: skip
    """Read the documents a job file names, measure, and say what to order, what was assumed and what is open.

    Files in the job are looked up beside it. With - the job itself comes from standard input, and "demo" is the demo.
    """
    from darby.cli.shared.jobs import Wanted
    from darby.reading.cache import Memory

    memory = None if kept is None else Memory()
    wanted = Wanted(job, without, only, units, run_plugins, anywhere, memory)
    return put_out(wanted, form, out, shown=Shown(longhand, notes, defaults), strict=strict, kept=kept, force=force)


@click.command(short_help="See it at work on a small job.")
@click.option("--to", "folder", type=click.Path(), help="Copy the demo's files to this folder instead.")
@_estimate_format
@_out_option
@force_option
@_longhand_option
@_notes_option
@_defaults_option
@units_option
@plugin_options
def demo(
    *, folder: str | None, form: str, out: str | None, force: bool, longhand: bool, notes: bool, defaults: bool,
    units: str | None, without: tuple[str, ...], only: tuple[str, ...],
) -> int:  # fmt: skip
    """Work out the demo: a small building with its specification, an addendum and a house file."""
    from darby.cli.shared.jobs import DEMO, Wanted

    if folder is not None:
        return _copy_demo(folder)
    shown = Shown(longhand, notes, defaults)
    code = put_out(Wanted(DEMO, without, only, units), form, out, shown=shown, strict=False, force=force)
    if form == "terminal" and out is None and code == 0:
        click.echo("\nOne line of it in full:  darby explain demo 1")
        click.echo("The files behind it:     darby demo --to FOLDER")
    return code


def _copy_demo(folder: str) -> int:
    from pathlib import Path

    from darby.cli.shared.jobs import demo_folder
    from darby.documents.terminal.parts import safe
    from darby.saved.writer import write

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
                write(target / file.name, file.read_bytes(), replace=False)
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or str(error)
        click.echo(f"The demo cannot be copied to {safe(folder)}: {why}.", err=True)
        return 2
    click.echo(f"Copied to {safe(folder)}: {', '.join(f.name for f in files)}.")
    click.echo(f"Now try: darby estimate {safe(str(target / 'job.toml'))}")
    return 0
