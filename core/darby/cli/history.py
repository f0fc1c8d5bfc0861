"""`darby history`: a firm's own rates from its finished jobs."""

# ruff: noqa: PLC0415 - nothing is imported before the command runs

from __future__ import annotations

import click

from darby.cli.shared.options import chosen, force_option, plugin_options

_FORMS = ["terminal", "md", "html", "json", "house", "labor"]


@click.command(short_help="Work out your own rates from finished jobs.")
@click.argument("files", nargs=-1, required=True, metavar="FILE.csv ...")
@click.option("--format", "form", type=click.Choice(_FORMS), default="terminal", show_default=True)
@click.option("--out", "into", metavar="FILE", help="Write to this file.")
@force_option
@plugin_options
def history(
    *, files: tuple[str, ...], form: str, into: str | None, force: bool, without: tuple[str, ...], only: tuple[str, ...]
) -> int:
    """Median, spread and jobs far from the others, from tables of what finished jobs ordered, used and took in hours.

    What comes of it is proposed as lines: --format house and --format labor write them as files to look through. Nothing is taken by itself.
    """
    from pathlib import Path

    from darby.bid.history import report
    from darby.bid.history.finished_jobs import read_finished
    from darby.bid.history.own_rates import own_rates
    from darby.bid.prices.meaning import Meanings
    from darby.bid.sheet.bid_sheet import in_form
    from darby.bid.tasks import operations_of
    from darby.cli.shared.showing import complain, out, out_json, save
    from darby.documents.exact_json.parts import dump
    from darby.labor.rate_lines import vocabulary
    from darby.plugin_host.loader import load_plugins
    from darby.reading.parsing.lexicon import Lexicon
    from darby.reading.read import Language
    from darby.text.diagnostics import is_error
    from darby.text.files import open_file

    opened = [open_file(Path(name), name, table=True) for name in dict.fromkeys(files)]
    sources = [source for source, _ in opened if source is not None]
    told = [d for _, found in opened for d in found]
    plugins = load_plugins(without=without, only=chosen(only))
    operations = operations_of(plugins)
    words = Lexicon.of((vocabulary(), *plugins.vocabularies))
    rows, wrong = read_finished(sources, Meanings(Lexicon.of(plugins.vocabularies), "us"), operations, words)
    told = [*told, *plugins.diagnostics, *wrong]
    complain(told)
    if is_error(told):
        return 2
    rates = own_rates(rows, operations, words, Language.of(plugins.readers, plugins.vocabularies))
    if form == "json" and into is None:
        out_json(report.rates_json(rates))
        return 0
    if form == "json":
        document = dump(report.rates_json(rates))
    elif form in ("house", "labor"):
        document = report.lines(rates, works=form == "labor")
    else:
        document = in_form(report.write(rates), form)
    if into is not None:
        return save(into, document, files, force=force)
    out(document)
    return 0
