"""`darby new-trade`: the start of a trade of your own."""

# ruff: noqa: PLC0415 - nothing is imported before the command runs

from __future__ import annotations

import click


@click.command("new-trade", short_help="Start a trade of your own.")
@click.argument("name")
@click.option("--to", "folder", type=click.Path(), help="Write it to this folder; without it, to darby-NAME here.")
def new_trade(*, name: str, folder: str | None) -> int:
    """Write a small, complete, tested trade: words, default lines, a reader, arithmetic, cautions, cases.

    NAME is what it orders, in small letters, words joined by a hyphen: roof-felt.
    """
    from pathlib import Path

    from darby.cli.shared.showing import complain
    from darby.documents.terminal.parts import safe
    from darby.new_trade import unfit, write
    from darby.plugin_host.loader import load_plugins

    wrong = unfit(name, load_plugins().vocabularies)
    if wrong is not None:
        complain([wrong])
        return 2
    target = Path(folder) if folder is not None else Path(f"darby-{name}")
    made, wrong = write(name, target)
    if wrong is not None:
        complain([wrong])
        return 2
    click.echo(f"Written to {safe(str(target))}:")
    for path in made:
        click.echo(f"  {safe(str(path.relative_to(target)))}")
    click.echo("Now try, in that folder:")
    click.echo("  pip install -e '.[test]' && pytest && mypy")
    click.echo("Then change its lines to yours; README.md says what stands where.")
    return 0
