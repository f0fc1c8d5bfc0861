"""`darby explain`: how one line was worked out."""

# ruff: noqa: PLC0415 - nothing is imported before a command runs

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from darby.cli.shared.estimate_output import refuse
from darby.cli.shared.options import anywhere_option, plugin_options, run_plugins_option, units_option

if TYPE_CHECKING:
    from darby.documents.needs import Need
    from darby.estimate.model import Estimate


@click.command(short_help="Show how one line was worked out.")
@click.argument("job", metavar="JOB.toml")
@click.argument("item")
@click.option("--format", "form", type=click.Choice(["terminal", "json"]), default="terminal", show_default=True)
@click.option("--rows", is_flag=True, help="Show every measured row, however many there are.")
@units_option
@anywhere_option
@run_plugins_option
@plugin_options
def explain(
    *,
    job: str,
    item: str,
    form: str,
    rows: bool,
    units: str | None,
    anywhere: bool,
    run_plugins: bool,
    without: tuple[str, ...],
    only: tuple[str, ...],
) -> int:
    """Show every number behind one line, with the clause, default line or measured row it came from.

    ITEM is the number of the line, the product, or a part of its id that no other line has. Where a line rests on very many
    measured rows they are added up by room; --rows shows each one.
    """
    from darby.cli.shared.jobs import Wanted, estimate_of
    from darby.cli.shared.showing import complain, out_json, terminal
    from darby.documents.exact_json import estimate as to_json
    from darby.documents.terminal import longhand as longhand_terminal

    outcome = estimate_of(Wanted(job, without, only, units, run_plugins, anywhere))
    if outcome.estimate is None:
        return refuse(outcome, form)
    found = _find(item, outcome.estimate)
    if len(found) != 1:
        complain(outcome.plugins.diagnostics)
        click.echo(_which(item, found, outcome.estimate), err=True)
        return 2
    if form == "json":
        out_json({"schema": "darby.line/1", "item": to_json.item_json(found[0].worked, outcome.estimate.rules)})
    else:
        with terminal() as console:
            longhand_terminal.show(found[0], outcome.estimate, console, in_full=rows)
    if not outcome.estimate.complete:
        click.echo(f"The estimate is incomplete: {', '.join(outcome.estimate.missing)} failed.", err=True)
        return 3
    return 0


def _find(name: str, estimate: Estimate) -> list[Need]:
    """The lines that a name may mean; the most exact way of meaning that fits any decides, and what is spare comes after what is used."""
    from darby.documents.needs import needs
    from darby.estimate.line_item import dashed
    from darby.estimate.packing import USE

    lines, wanted = needs(estimate), dashed(name)
    if name.isdigit() and len(name) < 6:
        return [n for n in lines if n.number == int(name)]
    named = [n for n in lines if dashed(n.first.product) == wanted]
    texts = {id(n): (*(i.id.lower() for i in n.items), dashed(n.name)) for n in lines}
    within = [n for n in lines if wanted and any(wanted in text for text in texts[id(n)])]
    ways = (
        [n for n in lines if any(i.id.lower() == wanted for i in n.items)],
        [n for n in named if USE not in n.first.pool],
        named,
        [n for n in within if USE not in n.first.pool],
        within,
    )
    return next((way for way in ways if way), [])


def _which(name: str, found: list[Need], estimate: Estimate) -> str:
    import difflib

    from darby.documents.needs import needs
    from darby.documents.terminal.parts import safe

    numbered = {
        line.name: f"  {line.number}  {safe(line.name)}  ({', '.join(safe(item.id) for item in line.items)})"
        for line in needs(estimate)
    }
    if found:
        return f"{safe(name)} may be any of these:\n" + "\n".join(numbered[line.name] for line in found)
    if not numbered:
        return "This job has nothing to order, so there is nothing to explain."
    close = difflib.get_close_matches(name.lower()[:80], numbered, 5, 0.3) or list(numbered)
    return f"There is no line {safe(name)}. Did you mean one of these?\n" + "\n".join(numbered[i] for i in close)
