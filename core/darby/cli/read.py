"""`darby read`: what a specification says, marked in place."""

# ruff: noqa: PLC0415 - nothing is imported before the command runs

from __future__ import annotations

import click

from darby.cli.shared.options import chosen, plugin_file_option, plugin_options, stems, strict_option


@click.command(short_help="Show what is read in a specification.")
@click.argument("files", nargs=-1, metavar="[FILE ...|-]")
@click.option("--format", "form", type=click.Choice(["terminal", "json"]), default="terminal", show_default=True)
@click.option("--explain", is_flag=True, help="Also say why numbers were set aside and how each subject was found.")
@strict_option
@plugin_file_option
@plugin_options
def read(
    *, files: tuple[str, ...], form: str, explain: bool, strict: bool, plugin_files: tuple[str, ...],
    without: tuple[str, ...], only: tuple[str, ...],
) -> int:  # fmt: skip
    """Read specification text and show what was understood, in place, with every number accounted for.

    Without a FILE, or with -, the text comes from standard input: paste a section in, or pipe it.
    """
    from pathlib import Path

    from darby.cli.shared.showing import complain, open_named, out, terminal
    from darby.documents.exact_json import reading as reading_json
    from darby.documents.terminal import reading as reading_terminal
    from darby.plugin_host.guarded_reader import Careful, Text
    from darby.plugin_host.loader import load_plugins
    from darby.reading.read import Language
    from darby.rules.rule import SPECIFICATION
    from darby.text.diagnostics import Severity, is_error

    opened = [open_named(name) for name in dict.fromkeys(files or ("-",))]
    told = [d for _, found in opened for d in found]
    if is_error(told):
        if form == "json":
            out(reading_json.make((), told))
        else:
            complain(told)
        return 2
    plugins = load_plugins(without=without, only=chosen(only, stems(plugin_files)), files=map(Path, plugin_files))
    told += plugins.diagnostics
    language = Language.of(plugins.readers, plugins.vocabularies)
    careful = Careful(language, own=plugins.words, guests=plugins.guests)
    careful.listen([Text(source, SPECIFICATION) for source, _ in opened if source is not None])
    readings = [careful(source, SPECIFICATION) for source, _ in opened if source is not None]
    told += careful.told
    if form == "json":
        out(reading_json.make(readings, told, explain=explain))
    else:
        complain(told)
        with terminal() as console:
            reading_terminal.show(readings, console, explain=explain)
    found = [d for reading in readings for d in reading.diagnostics]
    if is_error([*told, *found]):
        return 2
    if plugins.failed or careful.missing:
        return 3
    unread = any(n.became == "unread" for reading in readings for n in reading.numbers)
    doubted = any(rule.confirm for reading in readings for rule in reading.rules)
    return int(strict and (unread or doubted or any(d.severity is Severity.QUESTION for d in found)))
