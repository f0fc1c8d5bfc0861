"""`darby help`, `darby why`, `darby trades` and `darby formats`: what there is to know besides a job."""

# ruff: noqa: PLC0415 - nothing is imported before a command runs

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from darby.cli.shared.options import chosen, plugin_file_option, plugin_options, stems

if TYPE_CHECKING:
    from collections.abc import Iterable

    from darby.plugin_host.model import Provided


def _topics(_: click.Context, __: click.Parameter, begun: str) -> list[str]:
    from darby.text.help_topics import TOPICS

    return [name for name in TOPICS if name.startswith(begun)]


def _codes(_: click.Context, __: click.Parameter, begun: str) -> list[str]:
    from darby.text.explanation import PAGES

    return [name for name in PAGES if name.startswith(begun)]


@click.command("help", short_help="Read a page on one topic.")
@click.argument("topic", required=False, shell_complete=_topics)
def topics(topic: str | None) -> int:
    """Show the page on a topic. Without TOPIC, list them all; `darby COMMAND --help` has the options of a command."""
    from darby.text.help_topics import TOPICS

    if topic is None:
        widest = max(map(len, TOPICS))
        for name, known in TOPICS.items():
            click.echo(f"{name:<{widest}}  {known.title}")
        return 0
    page = TOPICS.get(topic.strip().lower())
    if page is None:
        return _unknown("topic", topic, TOPICS, "`darby help` lists them all.")
    click.echo(str(page))
    return 0


@click.command(short_help="Explain the code of a message.")
@click.argument("code", required=False, shell_complete=_codes)
def why(code: str | None) -> int:
    """Say what a message means and how to mend it, or a caution in full. Without CODE, list them all."""
    from darby.text.explanation import PAGES

    if code is None:
        widest = max(map(len, PAGES))
        for name, known in sorted(PAGES.items()):
            click.echo(f"{name:<{widest}}  {known.title}")
        return 0
    page = PAGES.get(code.strip().lower())
    if page is None and _cautioned(code):
        return 0
    if page is None:
        return _unknown("code", code, PAGES, "`darby why` lists them all.")
    click.echo(str(page))
    return 0


def _unknown(what: str, name: str, known: Iterable[str], otherwise: str) -> int:
    """Says that there is no page of that name, and which ones are near."""
    import difflib

    from darby.documents.terminal.parts import safe

    close = difflib.get_close_matches(name[:80].lower(), list(known), 3, 0.5)
    hint = f"Did you mean {' or '.join(close)}?" if close else otherwise
    click.echo(f"There is no {what} {safe(name)[:80]}. {hint}", err=True)
    return 2


def _cautioned(code: str) -> bool:
    """Print the caution of that code, where a trade has it."""
    from darby.cli.shared.showing import terminal
    from darby.documents.terminal.parts import heading, safe, tell
    from darby.plugin_host.loader import load_plugins

    wanted = code.strip().lower()
    found = dict.fromkeys(c for p in load_plugins().trades for c in p.trade.cautions if c.code == wanted)
    with terminal() as console:
        for caution in found:
            heading(console, safe(caution.topic))
            tell(console, caution.text, 2)
            if caution.cited:
                tell(console, f"({caution.cited})", 2)
    return bool(found)


@click.command(short_help="List the documents that --format can make.")
@plugin_file_option
@plugin_options
def formats(*, plugin_files: tuple[str, ...], without: tuple[str, ...], only: tuple[str, ...]) -> int:
    """List every document an estimate can be handed over as, by the name --format takes."""
    from pathlib import Path

    from darby.cli.shared.showing import complain
    from darby.documents.catalogue import documents
    from darby.documents.terminal.parts import safe
    from darby.plugin_host.loader import load_plugins

    plugins = load_plugins(without=without, only=chosen(only, stems(plugin_files)), files=map(Path, plugin_files))
    complain(plugins.diagnostics)
    known = {d.name: d for d in (*documents(), *plugins.documents)}
    known |= {d.name: d for d in documents()}
    widest = max(map(len, known))
    for name, document in known.items():
        click.echo(f"{safe(name):<{widest}}  {safe(document.about)}")
    return 0


@click.command(short_help="List the trades and their default lines.")
@click.option(
    "--units", type=click.Choice(["us", "metric"]), default="us", show_default=True, help="Whose default lines."
)
@click.option("--format", "form", type=click.Choice(["terminal", "json"]), default="terminal", show_default=True)
@plugin_file_option
@plugin_options
def trades(
    *, units: str, form: str, plugin_files: tuple[str, ...], without: tuple[str, ...], only: tuple[str, ...]
) -> int:
    """List the trades, the plugin each comes from, and the lines it goes by where nobody says otherwise."""
    from pathlib import Path

    from darby.cli.shared.showing import complain, out_json
    from darby.plugin_host.loader import load_plugins

    plugins = load_plugins(without=without, only=chosen(only, stems(plugin_files)), files=map(Path, plugin_files))
    if form == "json":
        from darby.documents.exact_json.parts import diagnostic_json

        found = [diagnostic_json(d) for d in plugins.diagnostics]
        out_json({"schema": "darby.trades/1", "trades": [_trade(p) for p in plugins.trades], "diagnostics": found})
    else:
        complain(plugins.diagnostics)
        _show(plugins.trades, units)
    return 3 if plugins.failed else 0


def _lines(provided: Provided, units: str) -> list[tuple[int, str]]:
    source = provided.trade.defaults.get(units)
    text = source.text.splitlines() if source else []
    return [(n, line.strip()) for n, line in enumerate(text, 1) if line.strip()]


def _trade(provided: Provided) -> dict[str, Any]:
    trade = provided.trade
    return {
        "name": trade.name,
        "title": trade.title,
        "about": trade.about,
        "plugin": provided.plugin,
        "version": provided.version,
        "defaults": {
            units: [
                {"file": trade.defaults[units].name, "line": n, "text": text} for n, text in _lines(provided, units)
            ]
            for units in sorted(trade.defaults)
        },
        "operations": [{"name": o.name, "by": list(o.by), "about": o.about} for o in trade.operations],
        "cautions": [{"topic": c.topic, "text": c.text, "cited": c.cited} for c in trade.cautions],
    }


def _show(provided: tuple[Provided, ...], units: str) -> None:
    from rich.text import Text

    from darby.cli.shared.showing import terminal
    from darby.documents.terminal.parts import heading, safe, tell

    with terminal() as console:
        if not provided:
            console.print("There are no trades: no plugin brings one.")
        for one in provided:
            trade = one.trade
            heading(console, safe(trade.title))
            tell(console, Text(f"{trade.name}, from the plugin {one.plugin} {one.version}".rstrip(), style="dim"), 2)
            if trade.about:
                tell(console, trade.about, 2)
            for operation in trade.operations:
                apart = f", told apart by {', '.join(operation.by)}" if operation.by else ""
                tell(console, Text.assemble(("Labor: ", "italic"), f"{operation.name}{apart}"), 2, hang=7)
            lines = _lines(one, units)
            if lines:
                tell(console, Text(f"Where nobody says otherwise ({trade.defaults[units].name}):", style="italic"), 2)
            for number, line in lines:
                said, bracket, cited = line.partition("[")
                text = Text.assemble((f"{number:>3}  ", "dim"), said.strip(), ("  " + bracket + cited, "dim"))
                tell(console, text, 4, hang=5)
