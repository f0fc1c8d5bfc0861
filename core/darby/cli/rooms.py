"""`darby rooms`: what holds in each room of a job, and which clause says so."""

# ruff: noqa: PLC0415 - nothing is imported before a command runs

from __future__ import annotations

import click

from darby.cli.shared.options import anywhere_option, force_option, plugin_options, run_plugins_option, units_option


@click.command(short_help="Show what holds in each room, and where it is said.")
@click.argument("job", metavar="JOB.toml")
@click.option("--format", "form", type=click.Choice(["terminal", "json", "csv"]), default="terminal", show_default=True)
@click.option("--out", metavar="FILE", help="Write to this file, as --format says.")
@force_option
@units_option
@anywhere_option
@run_plugins_option
@plugin_options
def rooms(
    *, job: str, form: str, out: str | None, force: bool, units: str | None, anywhere: bool, run_plugins: bool, without: tuple[str, ...],
    only: tuple[str, ...],
) -> int:  # fmt: skip
    """Put what the documents say into a table: a line a room, with the goods and finishes that hold there.

    Each cell names the clause it rests on; what is assumed, in doubt or open is marked, and said below.
    """
    from darby.cli.shared.estimate_output import inputs_of, refuse
    from darby.cli.shared.jobs import Wanted, estimate_of
    from darby.cli.shared.showing import complain, out_json, save, terminal
    from darby.cli.shared.showing import out as put
    from darby.documents import tables, to_csv
    from darby.documents.exact_json import rooms as to_json
    from darby.documents.terminal import rooms as to_terminal

    outcome = estimate_of(Wanted(job, without, only, units, run_plugins, anywhere))
    made = outcome.estimate
    if made is None:
        if form != "json":
            return refuse(outcome, form)
        out_json(to_json.refused_json(outcome.problems))
        return 2
    if form == "terminal" and out is None:
        with terminal() as console:
            to_terminal.show(made, console)
    else:
        data = (
            to_json.make(made)
            if form == "json"
            else tables.to_csv(to_csv.rooms(made))
            if form == "csv"
            else to_terminal.make(made)
        )
        if out is None:
            put(data)
        elif code := save(out, data, inputs_of(made, job), force=force):
            return code
    if form != "terminal" or out is not None:
        complain([*made.checks, *to_terminal.of_the_job(made)])
    return 0 if made.complete else 3
