"""`darby compare`: two estimates side by side, what moved and why."""

# ruff: noqa: PLC0415 - nothing is imported before a command runs

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from darby.cli.shared.options import anywhere_option, plugin_file_option, plugin_options, run_plugins_option, stems

if TYPE_CHECKING:
    from collections.abc import Iterable

    from darby.plugin_host.model import Plugins
    from darby.rules.rule import Kind
    from darby.saved.model import Choices, Saved
    from darby.text.diagnostics import Diagnostic


@click.command(short_help="Show what moved between two estimates, and why.")
@click.argument("before", metavar="BEFORE")
@click.argument("after", metavar="AFTER")
@click.option("--format", "form", type=click.Choice(["terminal", "json"]), default="terminal", show_default=True)
@anywhere_option
@run_plugins_option
@plugin_file_option
@plugin_options
def compare(
    *,
    before: str,
    after: str,
    form: str,
    anywhere: bool,
    run_plugins: bool,
    plugin_files: tuple[str, ...],
    without: tuple[str, ...],
    only: tuple[str, ...],
) -> int:
    """Hold two estimates side by side: what is ordered otherwise, which rules and measures changed, and which of them did it.

    Each of BEFORE and AFTER is a file saved with `darby estimate JOB.toml --save FILE`, or a job file as it is now. Causes
    are found by putting each change in the other's place and working it out again with today's plugins.

    The exit code is 0 when both order the same, 1 when something moved, 2 when one of the two cannot be had, 3 when a plugin
    failed in one.
    """
    from darby.cli.shared.showing import out, terminal
    from darby.documents.exact_json import comparison as comparison_json
    from darby.documents.terminal import comparison as comparison_terminal
    from darby.saved.comparison import compare as held
    from darby.saved.replay.causes import causes

    sides = _Sides(run_plugins, without, only, plugin_files, anywhere=anywhere)
    one, other = sides.both(before, after)
    if one is None or other is None:
        return _refuse(sides.told, form)
    comparison = held(one, other)
    found = causes(comparison, sides.plugins(other.choices))
    if form == "json":
        out(comparison_json.make(comparison, found))
    else:
        with terminal() as console:
            comparison_terminal.show(comparison, found, console)
    if one.missing or other.missing:
        missing = ", ".join(dict.fromkeys((*one.missing, *other.missing)))
        click.echo(f"Incomplete: {missing} failed in one of the two, and its lines are missing there.", err=True)
        return 3
    return int(not comparison.same)


class _Sides:
    """Opens either side, with the plugins that belong to it; `told` says what is wrong."""

    def __init__(
        self,
        run_plugins: bool,
        without: tuple[str, ...],
        only: tuple[str, ...],
        files: tuple[str, ...],
        *,
        anywhere: bool,
    ) -> None:
        self.told: list[Diagnostic] = []
        self._run, self._without, self._only = run_plugins, without, only
        self._anywhere, self._files = anywhere, files
        self._of_job: Plugins | None = None

    def plugins(self, choices: Choices) -> Plugins:
        """Today's plugins, those of the job among them where it named files of its own."""
        from pathlib import Path

        from darby.plugin_host.loader import load_plugins

        only = choices.only if choices.only is None else (*choices.only, *stems(self._files))
        return self._of_job or load_plugins(without=choices.without, only=only, files=map(Path, self._files))

    def both(self, before: str, after: str) -> tuple[Saved | None, Saved | None]:
        """Both sides; of a saved one and a job the saved one first, since it says how the job is to be worked out."""
        if not _is_saved(before) and _is_saved(after):
            other = self.of(after, None)
            return self.of(before, other.choices if other else None), other
        one = self.of(before, None)
        return one, self.of(after, one.choices if one else None)

    def of(self, name: str, like: Choices | None) -> Saved | None:
        """One side. A job is worked out with the choices that the other side was saved with, where none are made here."""
        if _is_saved(name):
            from pathlib import Path

            from darby.saved.reader import open_saved

            saved, told = open_saved(Path(name), self._kinds(), name)
            self.told += told
            return saved
        return self._job(name, like)

    def _kinds(self) -> dict[str, Kind]:
        from pathlib import Path

        from darby.plugin_host.loader import load_plugins

        return {
            kind.name: kind for reader in load_plugins(files=map(Path, self._files)).readers for kind in reader.kinds
        }

    def _job(self, name: str, like: Choices | None) -> Saved | None:
        from darby.cli.shared.jobs import Wanted, estimate_of
        from darby.cli.shared.options import chosen
        from darby.reading.cache import Memory
        from darby.saved.model import Choices
        from darby.saved.replay.one import Office

        given = chosen(self._only)
        without = self._without or (like.without if like else ())
        only = given if given is not None else (like.only if like else None)
        units = like.units if like else ""
        memory = Memory()
        outcome = estimate_of(Wanted(name, without, only or (), units or None, self._run, self._anywhere, memory))
        self.told += outcome.problems
        if outcome.estimate is None:
            return None
        self._of_job = outcome.plugins
        return Office.of(outcome.plugins).kept(outcome.estimate, memory, Choices(units, without, only))


def _is_saved(name: str) -> bool:
    """Whether a file looks like a saved estimate; anything else is taken for a job."""
    from pathlib import Path

    if name.lower().endswith(".json"):
        return True
    try:
        with Path(name).open("rb") as file:
            return file.read(64).lstrip().startswith(b"{")
    except (OSError, ValueError):
        return False


def _refuse(told: Iterable[Diagnostic], form: str) -> int:
    from darby.cli.shared.showing import complain, out_json
    from darby.documents.exact_json import comparison as comparison_json

    if form == "json":
        out_json(comparison_json.refused_json(told))
    else:
        complain(told)
    return 2
