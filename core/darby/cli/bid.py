"""`darby bid`: from the order of a job to a bid."""

# ruff: noqa: PLC0415 - nothing is imported before a command runs

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import click

from darby.cli.shared.options import (
    anywhere_option,
    force_option,
    plugin_options,
    run_plugins_option,
    strict_option,
    units_option,
)

if TYPE_CHECKING:
    from darby.bid.model import Bid
    from darby.cli.shared.jobs import Outcome
    from darby.text.diagnostics import Diagnostic

_FORMS = {"terminal": "", "md": "md", "html": "html", "csv": "csv", "json": "json", "xlsx": "xlsx"}


@click.command(short_help="Price a job: material, labor, mark-ups, a bid.")
@click.argument("job", metavar="JOB.toml")
@click.option("--format", "form", type=click.Choice(list(_FORMS)), help="terminal where nothing else is said.")
@click.option("--out", metavar="FILE", help="Write to this file; its ending tells the format where none is given.")
@click.option("--alternates", is_flag=True, help="Also price each alternate of the documents, as an add or a deduct.")
@click.option(
    "--ways", is_flag=True, help="Also price the other ways of doing the work that the job names, side by side."
)
@click.option("--since", metavar="SAVED", help="A change order against a saved estimate, instead of the bid.")
@click.option("--number", default="", help="The number of the change order.")
@click.option("--cause", default="", help="What asks for it, in a few words.")
@click.option("--longhand", is_flag=True, help="Also show how all hours were worked out.")
@force_option
@units_option
@strict_option
@anywhere_option
@run_plugins_option
@plugin_options
def bid(
    *, job: str, form: str | None, out: str | None, alternates: bool, ways: bool, since: str | None, number: str, cause: str, longhand: bool,
    force: bool, units: str | None, strict: bool, anywhere: bool, run_plugins: bool,
    without: tuple[str, ...], only: tuple[str, ...],
) -> int:  # fmt: skip
    """Price the order of a job and its labor by the table [bid] of the job file, and put on what is put on top.

    Price lists and files of production rates are looked up beside the job. What nobody gave a price, a rate or a wage is not in the
    bid, which says so.
    """
    from darby.cli.shared.estimate_output import inputs_of, refuse
    from darby.cli.shared.jobs import Wanted, estimate_of
    from darby.cli.shared.priced import sheet_of
    from darby.cli.shared.showing import complain, out_json, save
    from darby.cli.shared.showing import out as put

    form = form or _ending(out)
    outcome = estimate_of(Wanted(job, without, only, units, run_plugins, anywhere))
    if outcome.estimate is None:
        return refuse(outcome, "json" if form == "json" else "terminal")
    made, told = _made(outcome, job, alternates=alternates, ways=ways, anywhere=anywhere)
    if made is None:
        if form == "json":
            from darby.bid.sheet.to_json import refused_json

            out_json(refused_json(told))
        else:
            complain(told)
        return 2
    document: str | bytes | None
    if since is None:
        document = sheet_of(made, form, longhand=longhand)
    else:
        document = _change_order(made, outcome, job, since, form, number=number, cause=cause, anywhere=anywhere)
        if document is None:
            return 2
    if out is not None:
        with _folder(job) as folder:
            terms = made.terms
            papers = [str(folder / name) for name, _ in (*terms.prices, *terms.labor, *terms.change.bought)]
        if code := save(out, document, [*inputs_of(outcome.estimate, job), *papers], force=force):
            return code
    elif isinstance(document, bytes) and form == "xlsx" and sys.stdout.isatty():
        click.echo("A workbook is no text for a terminal. Add a file to write it to: --out bid.xlsx", err=True)
        return 2
    else:
        put(document)
    complain(made.diagnostics)
    if not made.estimate.complete:
        return 3
    return int(strict and bool(made.open))


def _ending(out: str | None) -> str:
    ending = Path(out).suffix.lower().lstrip(".") if out else ""
    return ending if ending in _FORMS else "terminal"


@contextmanager
def _folder(job: str) -> Iterator[Path]:
    """The folder in which the files that a job names are looked up."""
    from darby.cli.shared.jobs import DEMO, demo_folder

    if job == DEMO and not Path(job).exists():
        with demo_folder() as folder:
            yield folder
    else:
        yield Path(job) if Path(job).is_dir() else Path() if job == "-" else Path(job).parent


def _made(
    outcome: Outcome, job: str, *, alternates: bool, ways: bool, anywhere: bool
) -> tuple[Bid | None, tuple[Diagnostic, ...]]:
    from darby.bid.bidding import make_bid
    from darby.bid.compared.alternates import with_alternates
    from darby.bid.compared.named_units import with_named_units
    from darby.bid.compared.unit_prices import with_unit_prices
    from darby.bid.compared.ways import with_ways
    from darby.bid.terms import read_terms
    from darby.cli.shared.priced import papers_of
    from darby.text.diagnostics import is_error, problem

    assert outcome.estimate is not None
    source = outcome.estimate.job.source
    terms, found = read_terms(source)
    if not terms.stated and not found:
        help_ = 'Write [bid] and below it what a bid needs: currency = "USD", prices = ["prices.csv"], labor = ["labor.txt"].'
        return None, (
            problem(
                "bid-terms",
                f"{source.name} has no table [bid], so there is nothing to price by",
                file=source.name,
                help=help_,
            ),
        )
    with _folder(job) as folder:
        papers, told = papers_of(terms, folder, anywhere=anywhere)
    if is_error((*found, *told)):
        return None, (*found, *told)
    made, said = make_bid(outcome.estimate, outcome.plugins, terms, papers)
    if made is not None:
        made = with_named_units(with_unit_prices(made, outcome.plugins, papers))
    if made is not None and alternates:
        made = with_alternates(made, outcome.plugins, papers)
    if made is not None and ways:
        made, wrong = with_ways(made, outcome.plugins, papers)
        said = (*said, *wrong)
        if is_error(wrong):
            return None, wrong
    return made, (*found, *told, *said)


def _change_order(
    made: Bid, outcome: Outcome, job: str, since: str, form: str, *, number: str, cause: str, anywhere: bool
) -> str | None:
    """The change order against a saved estimate, which is worked out again with today's plugins; None where it cannot be."""
    from attrs import evolve

    from darby.bid.bidding import make_bid
    from darby.bid.compared.bought import kept_of, read_bought
    from darby.bid.compared.change_order import ChangeOrder
    from darby.bid.prices.meaning import Meanings
    from darby.bid.sheet.change_sheet import make
    from darby.cli.shared.priced import papers_of, sources_of
    from darby.cli.shared.showing import complain
    from darby.reading.parsing.lexicon import Lexicon
    from darby.saved.reader import open_saved
    from darby.saved.replay.one import Office
    from darby.text.diagnostics import is_error

    if form not in ("terminal", "md", "html"):
        raise click.BadParameter("a change order is written as terminal, md or html", param_hint="--format")
    kinds = {kind.name: kind for reader in outcome.plugins.readers for kind in reader.kinds}
    saved, told = open_saved(Path(since), kinds, since)
    worked = None if saved is None else Office.of(outcome.plugins).again(saved)
    if worked is None or worked.estimate is None:
        complain(told if worked is None else worked.problems)
        return None
    head = made.terms.change
    with _folder(job) as folder:
        papers, _ = papers_of(made.terms, folder, anywhere=anywhere)
        sources, not_opened = sources_of(head.bought, folder, anywhere=anywhere, table=True)
    meanings = Meanings(Lexicon.of(outcome.plugins.vocabularies), made.estimate.job.units)
    rows, wrong = read_bought(sources, meanings)
    before, said = make_bid(worked.estimate, outcome.plugins, made.terms, papers)
    if before is None or is_error((*not_opened, *wrong)):
        complain((*not_opened, *wrong, *said))
        return None
    kept, idle = kept_of(before, made, rows, meanings)
    complain((*wrong, *idle))
    head = evolve(head, number=number or head.number, cause=cause or head.cause)
    return make(ChangeOrder(before, made, head, Path(since).name, kept, bool(head.bought)), form)
