"""What several commands take alike."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable
from typing import Any, TypeVar

import click

READERS = "grammars"
"""The plugin that reads plain specification text; `--only` keeps it, since without it nothing is read at all."""

_F = TypeVar("_F", bound=Callable[..., Any])


def plugin_options(command: _F) -> _F:
    """`--without` and `--only`."""
    only = click.option("--only", multiple=True, metavar="NAME", help="Use this plugin and no other; may be repeated.")
    without = click.option("--without", multiple=True, metavar="NAME", help="Leave this plugin out; may be repeated.")
    return only(without(command))


def format_option(about: str) -> Callable[[_F], _F]:
    """`--format`; the names are checked when the command runs, since plugins bring formats of their own."""
    return click.option("--format", "form", default="terminal", show_default=True, metavar="NAME", help=about)


strict_option = click.option(
    "--strict",
    is_flag=True,
    help="End with code 1 if a question, an unread number, a reading to confirm or a measure to check is left.",
)
run_plugins_option = click.option(
    "--run-plugins",
    is_flag=True,
    help="Run the plugin files the job names; they are programs, so only if you trust them.",
)
plugin_file_option = click.option(
    "--plugin-file",
    "plugin_files",
    type=click.Path(exists=True, dir_okay=False),
    multiple=True,
    metavar="FILE",
    help="Also run this plugin file; may be repeated.",
)
anywhere_option = click.option(
    "--files-anywhere",
    "anywhere",
    is_flag=True,
    help="Let the job name files outside of its own folder; only if you trust it.",
)
force_option = click.option("--force", is_flag=True, help="Write over a file that is there already.")
units_option = click.option(
    "--units", type=click.Choice(["us", "metric"]), help="Instead of the units of the job file."
)


def stems(files: Iterable[str]) -> tuple[str, ...]:
    """The names of plugins that are files."""
    return tuple(os.path.splitext(os.path.basename(name))[0] for name in files)


def chosen(only: tuple[str, ...], files: Iterable[str] = ()) -> tuple[str, ...] | None:
    """The plugins that may be used, from `--only` or DARBY_PLUGINS; None for all. Those of `files` may always."""
    named = only or tuple(n.strip() for n in os.environ.get("DARBY_PLUGINS", "").split(",") if n.strip())
    return (*named, READERS, *files) if named else None
