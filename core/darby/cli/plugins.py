"""`darby plugins`: what is plugged in, where it came from, and what of it does not work. `darby api`: what a plugin may use, as a page."""

# ruff: noqa: PLC0415 - nothing is imported before the command runs

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from darby.cli.shared.options import chosen, plugin_options

if TYPE_CHECKING:
    from collections.abc import Sequence

    from darby.plugin_host.model import Taken


@click.command("plugins", short_help="List the plugins, and why one does not work.")
@click.argument("files", nargs=-1, metavar="[FILE.py ...]")
@click.option("--format", "form", type=click.Choice(["terminal", "json"]), default="terminal", show_default=True)
@plugin_options
def plugins(*, files: tuple[str, ...], form: str, without: tuple[str, ...], only: tuple[str, ...]) -> int:
    """List every plugin with its version, where it came from, what it brings, how long it took to load, and why it failed.

    FILEs are plugin files to load as well; they are programs, so only if you trust them. The exit code is 3 when a plugin failed.
    """
    from pathlib import Path

    from darby.cli.shared.showing import complain, out_json
    from darby.plugin_host.loader import load_plugins

    paths = [Path(name) for name in files]
    found = load_plugins(without=without, only=chosen(only, (path.stem for path in paths)), files=paths)
    if form == "json":
        from darby.documents.exact_json.parts import diagnostic_json

        told = [diagnostic_json(d) for d in found.diagnostics]
        out_json({"schema": "darby.plugins/1", "plugins": [_row(one) for one in found.taken], "diagnostics": told})
    else:
        complain(found.diagnostics)
        _show(found.taken)
    return 3 if found.failed else 0


def _row(one: Taken) -> dict[str, Any]:
    return {
        "name": one.name, "version": one.version, "source": one.origin, "state": one.state,
        "brings": {hook: list(names) for hook, names in one.brings.items()}, "milliseconds": one.milliseconds,
        "job": list(one.job),
    }  # fmt: skip


def _show(taken: Sequence[Taken]) -> None:
    from rich.text import Text

    from darby.cli.shared.showing import terminal
    from darby.documents.terminal.parts import heading, safe, tell

    with terminal() as console:
        if not taken:
            console.print("There are no plugins.")
        for one in taken:
            heading(console, safe(f"{one.name} {one.version}".rstrip()))
            loaded = "" if one.state == "left out" else f", loaded in {one.milliseconds} ms"
            tell(console, Text(f"{one.state}, from {safe(one.origin)}{loaded}", style="dim"), 2)
            for hook, names in one.brings.items():
                tell(console, f"{hook}: {', '.join(map(safe, names))}", 2)
            for said in one.job:
                tell(console, f"in the job: {safe(said)}", 2)


@click.command("api", short_help="Explain what a plugin may use.")
@click.argument("names", nargs=-1, metavar="[NAME ...]")
def api(*, names: tuple[str, ...]) -> int:
    """Print what a plugin may take from darby.api, as Markdown: every name with its fields and what they mean.

    NAMEs print these alone: darby api Trade Key.
    """
    from darby.cli.shared.showing import complain
    from darby.new_trade.api_page import origins, page
    from darby.text.diagnostics import problem
    from darby.text.files import nearest

    known = origins()
    if unknown := [name for name in names if name not in known]:
        close = nearest(unknown[0], known)
        help = f"Did you mean {close}?" if close else "darby api lists them all."
        complain([problem("api-unknown", f"There is no {unknown[0]} in darby.api.", help=help)])
        return 2
    click.echo(page(names))
    return 0
