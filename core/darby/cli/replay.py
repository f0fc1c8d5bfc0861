"""`darby replay`: saved estimates worked out again under today's rules and plugins."""

# ruff: noqa: PLC0415 - nothing is imported before a command runs

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import click

from darby.cli.shared.options import chosen, plugin_options

if TYPE_CHECKING:
    from darby.saved.replay.file import Setup
    from darby.saved.replay.journal import Journal
    from darby.saved.replay.workers import Progress, Round, Workers
    from darby.saved.replay_outcome import Replayed, Summary

_LONG = 50
"""Files from which on a run shows how far it is."""


@click.command(short_help="Work saved estimates out again and show what moved.")
@click.argument("folders", nargs=-1, required=True, metavar="FOLDER ...")
@click.option(
    "--house", multiple=True, metavar="FILE", help="House lines of today, in place of those each was saved with."
)
@click.option(
    "--accept", type=click.Choice(["ask", "all"]), help="Take the new results once they are shown, one by one or all."
)
@click.option(
    "--cluster",
    metavar="ADDRESS",
    help="Work on the dask.distributed scheduler at this address, as tcp://10.0.0.5:8786.",
)
@click.option("--processes", type=click.IntRange(1, 512), help="How many at once; all cores where it is not given.")
@click.option("--journal", metavar="FILE", help="Where to note what is done; .darby-replay.jsonl in the first folder.")
@click.option(
    "--fresh/--resume",
    default=None,
    help="Begin anew, or go on where the same run was stopped; it goes on, but where CI is set in the environment.",
)
@click.option("--plugin-file", "plugin_files", multiple=True, metavar="FILE", help="Also run this plugin file.")
@click.option("--reread", is_flag=True, help="Read every text again, also where nothing that reads has changed.")
@click.option("--all", "everything", is_flag=True, help="Show every line that moved.")
@click.option("--format", "form", type=click.Choice(["terminal", "json"]), default="terminal", show_default=True)
@plugin_options
def replay(
    *, folders: tuple[str, ...], house: tuple[str, ...], accept: str | None, cluster: str | None,
    processes: int | None, journal: str | None, fresh: bool | None, plugin_files: tuple[str, ...], reread: bool, everything: bool,
    form: str, without: tuple[str, ...], only: tuple[str, ...],
) -> int:  # fmt: skip
    """Work every saved estimate in FOLDERs out again under today's rules and plugins, and show what moved.

    A run that was stopped goes on where it was when the same command is given again by the same user of this machine. The exit code is 0 when nothing
    moved (or what moved was accepted), 1 when something moved, 2 when a file could not be worked out or there is none, 3 when
    a plugin failed.
    """
    from darby.cli.shared.showing import out, terminal
    from darby.documents.exact_json import replay as replay_json
    from darby.documents.terminal import replay as replay_terminal
    from darby.saved.replay.workers import Round, WorkersError, files_in

    setup = _setup(house, plugin_files, without, chosen(only), reread=reread)
    files, missing = files_in(folders)
    if setup is None or missing:
        for name in missing:
            click.echo(f"{name} is not there.", err=True)
        return 2
    with _workers(cluster, len(files), processes) as workers:
        noted = _journal(journal, folders, setup, fresh=_begins_anew(fresh)) if workers is not None else None
        if workers is None or noted is None:
            return 2
        try:
            with _progress(len(files)) as progress:
                one = Round(files, setup, workers, noted, progress)
                try:
                    summary = one.run()
                    noted.end()
                except KeyboardInterrupt:
                    summary = one.summary(stopped=True)
        except WorkersError as error:
            return _refused(error, one, noted)
    if noted.unwritten:
        click.echo(
            f"{noted.path} cannot be written: {noted.unwritten}. Not all that was done is noted there.", err=True
        )
    if form == "json":
        out(replay_json.make(summary))
    else:
        with terminal() as console:
            replay_terminal.show(summary, console, most=None if everything else replay_terminal.MOST)
    if summary.stopped:
        click.echo(f"Stopped with {len(files) - len(summary.files):,} left. {_going_on(noted)}", err=True)
        return 130
    left = [f for f in summary.files if f.became == "moved"]
    if accept:
        left = _accept(left, setup, ask=accept == "ask", beside=form == "json")
    if not summary.files:
        return 2
    return _code(summary, moved=bool(left))


def _refused(error: Exception, one: Round, noted: Journal) -> int:
    """Tell that the workers are of no use; what they did before that holds."""
    click.echo(str(error), err=True)
    if one.results:
        click.echo(f"{len(one.results):,} of {len(one.files):,} are done. {_going_on(noted)}", err=True)
    else:
        noted.end()
    return 2


def _going_on(noted: Journal) -> str:
    if noted.path is None:
        return "Nothing notes what is done, so the next run begins anew; --journal FILE would note it."
    if not noted.lasts:
        return "What is done cannot be taken over by another run, since its key could not be kept."
    return f"The same command goes on from there{', with --resume' if noted.fresh else ''}."


def _code(summary: Summary, *, moved: bool) -> int:
    if summary.counts.get("failed"):
        return 2
    if summary.counts.get("incomplete"):
        return 3
    return int(moved)


def _setup(
    house: tuple[str, ...], plugin_files: tuple[str, ...], without: tuple[str, ...], only: tuple[str, ...] | None,
    *, reread: bool,
) -> Setup | None:  # fmt: skip
    """What is asked for, its files read; None where one cannot be, which is told."""
    from attrs import evolve

    from darby.cli.shared.showing import complain
    from darby.saved.replay.file import Setup, today_of
    from darby.text.diagnostics import is_error
    from darby.text.files import open_file

    opened = [open_file(Path(name), name) for name in house]
    told = [d for _, found in opened for d in found]
    if told:
        complain(told)
    if is_error(told):
        return None
    lines = tuple((Path(s.name).name, s.text) for s, _ in opened if s is not None) if house else None
    files = tuple(str(Path(name).resolve()) for name in plugin_files)
    setup = Setup(lines, files, without, only, reread)
    return evolve(setup, today=today_of(setup))


def _begins_anew(fresh: bool | None) -> bool:
    """Whether a run takes nothing over: as told, and else in the runs of a machine that checks what others send."""
    return bool(os.environ.get("CI")) if fresh is None else fresh


def _journal(name: str | None, folders: tuple[str, ...], setup: Setup, *, fresh: bool) -> Journal | None:
    from darby.saved.replay.journal import NAME, Journal, NoJournalError

    first = next((Path(f) for f in folders if Path(f).is_dir()), None)
    path = Path(name) if name else first / NAME if first else None
    try:
        noted = Journal(path, setup.today, fresh=fresh).open()
    except NoJournalError:
        click.echo(
            f"{name} is there already and is no journal of a replay; it stays as it is. Name another file.", err=True
        )
        return None
    except OSError as error:
        if name is None:  # a folder that may only be read is no reason not to work; it just cannot be gone on with
            return Journal(None, setup.today)
        click.echo(f"{name} cannot be written: {(error.strerror or str(error)).lower()}.", err=True)
        return None
    if noted.done:
        click.echo(f"Going on with a run that was stopped: {len(noted.done):,} done already.", err=True)
    return noted


@contextmanager
def _workers(cluster: str | None, files: int, processes: int | None) -> Iterator[Workers | None]:
    from darby.saved.replay.workers import workers_for

    if cluster is None:
        yield workers_for(files, processes)
        return
    from darby.saved.replay.cluster import Cluster, ClusterError

    try:
        workers = Cluster.at(cluster)
    except ClusterError as error:
        click.echo(str(error), err=True)
        yield None
        return
    try:
        yield workers
    finally:
        workers.close()


@contextmanager
def _progress(files: int) -> Iterator[Progress]:
    """A bar on standard error where a run is long and somebody looks."""
    if files < _LONG or not sys.stderr.isatty():
        yield lambda _: None
        return
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

    columns = (TextColumn("Working out again"), BarColumn(), MofNCompleteColumn(), TimeRemainingColumn())
    with Progress(*columns, console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task("", total=files)
        yield lambda number: bar.advance(task, number)


def _accept(moved: list[Replayed], setup: Setup, *, ask: bool, beside: bool) -> list[Replayed]:
    """Save the new result of each file, after asking where that is wanted; gives those that were left as they are.

    What is shown goes to standard error where it would stand `beside` another document.
    """
    from darby.cli.shared.showing import terminal
    from darby.documents.terminal import comparison as comparison_terminal
    from darby.saved.replay.acceptance import accept, moved_in

    left: list[Replayed] = []
    every = not ask
    for number, one in enumerate(moved):
        if not every:
            with terminal(stderr=beside) as console:
                console.print()
                if (found := moved_in(one, setup)) is not None:
                    console.print(one.file, style="bold")
                    comparison_terminal.show(*found, console)
            answer = _answer(one.file, len(moved) - number - 1)
            if answer == "q":
                left += moved[number:]
                break
            every = answer == "a"
            if answer == "n":
                left.append(one)
                continue
        problem = accept(one, setup)
        if problem:
            click.echo(problem, err=True)
            left.append(one)
    if moved:
        click.echo(f"Accepted {len(moved) - len(left):,} of {len(moved):,}.", err=True)
    return left


def _answer(file: str, more: int) -> str:
    """What is to be done with a file: y, n, a (this and all that follow) or q (leave all that follow as they are)."""
    choices = click.Choice(["y", "n", "a", "q"] if more else ["y", "n"], case_sensitive=False)
    meant = "yes, no, all that are left, quit" if more else "yes, no"
    try:
        answer: str = click.prompt(f"Take the new result of {file}? {meant}", type=choices, err=True)
    except click.Abort:
        click.echo(err=True)
        return "q"
    return answer
