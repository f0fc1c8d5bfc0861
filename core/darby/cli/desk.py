"""`darby desk`: the job on a page in the browser, to read, measure, answer and order."""

# ruff: noqa: PLC0415 - nothing is imported before the command runs

from __future__ import annotations

import click

from darby.cli.shared.options import plugin_options, run_plugins_option


@click.command(short_help="Work on a job in the browser.")
@click.argument("job", metavar="[JOB.toml|FOLDER]", default=".")
@click.option("--no-browser", is_flag=True, help="Only print the address.")
@run_plugins_option
@plugin_options
def desk(*, job: str, no_browser: bool, run_plugins: bool, without: tuple[str, ...], only: tuple[str, ...]) -> int:
    """Open a job in the browser: documents with what was read in them, measures, the order, and what is open.

    A folder without a job begins a new one. All that you do is in the files of the folder, and nothing leaves this machine.
    """
    from pathlib import Path

    from darby.cli.shared.again import Again
    from darby.cli.shared.jobs import Outcome, Wanted, estimate_of
    from darby.cli.shared.options import chosen
    from darby.cli.shared.priced import Priced
    from darby.documents.words import one_line
    from darby.plugin_host.loader import load_plugins

    path = Path(job)
    folder, name = (path, "job.toml") if path.is_dir() else (path.parent, path.name)
    if not folder.is_dir() or not (path.is_dir() or name.endswith(".toml")):
        click.echo(
            f"{one_line(job)} is no folder and no job file. Name a folder, or a file that ends in .toml.", err=True
        )
        return 2
    try:
        from darby.desk.server import serve
    except ImportError as missing:
        click.echo(
            f"The desk needs {missing.name}, which is not installed. Install it: pip install 'darby[desk]'.", err=True
        )
        return 2
    from darby.cli.shared.keeping import Kept
    from darby.desk.bench import Bench
    from darby.desk.files.folder import Folder
    from darby.desk.panes.own_line import listener, words_for

    wanted = Wanted(str(folder / name), without, only, run_plugins=run_plugins, short=True, again=Again())
    plugins = load_plugins(without=without, only=chosen(only))
    priced = Priced(folder.resolve(), plugins)

    def worked_out() -> Outcome:
        done = estimate_of(wanted)
        priced.plugins = done.plugins  # with those that the job itself brings
        return done

    bench = Bench(
        Folder(folder.resolve(), name), worked_out, priced, priced.bid, priced.otherwise,
        lambda: priced.plugins.marks, lambda: words_for(priced.plugins), priced.paper,
    )  # fmt: skip

    def started(address: str) -> None:
        click.echo(
            f"The desk is open at {address}\nThe address holds once. Ctrl-C ends it; everything is in the files."
        )
        if not no_browser:
            import webbrowser

            webbrowser.open(address)

    serve(bench, listener(lambda: priced.plugins), started, Kept(wanted, plugins))
    return 0
