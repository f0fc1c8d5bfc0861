"""`darby api`: everything that a plugin may take from Darby, as a page."""

# ruff: noqa: PLC0415 - nothing is imported before the command runs

from __future__ import annotations

import click


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
