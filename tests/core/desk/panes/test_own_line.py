"""A line of her own, looked at before it is written."""

from __future__ import annotations

import signal
from pathlib import Path

import httpx

from darby.cli.shared.again import Again
from darby.cli.shared.jobs import Wanted, estimate_of
from darby.desk.panes.own_line import Heard, listener, words_for
from darby.plugin_host.loader import load_plugins
from desk_runs import Run
from desks import JOB, Visitor, bench, loft, look


def test_a_line_says_what_it_would_be_read_as() -> None:
    assert look()("Walls: two coats semi-gloss.", None) == Heard(("finish paint, semi-gloss, wall: 2 coats",))


def test_a_line_that_is_not_understood_says_why() -> None:
    for line in ("", "Paint it nicely.", "Walls: two cotas.", "x" * 401):
        heard = look()(line, None)
        assert heard.wrong, line
        assert not heard.says


def test_rooms_of_the_job_are_known_in_it(tmp_path: Path) -> None:
    (loft(tmp_path) / "job.toml").write_text(
        'name = "x"\nunits = "us"\n[[rooms]]\nname = "Quibbery"\nlength = "9 ft"\nwidth = "9 ft"\nheight = "8 ft"\n', encoding="utf-8"
    )  # fmt: skip
    made = bench(tmp_path).look().estimate
    assert made is not None
    assert look()("Quibbery walls: two coats semi-gloss.", made.job).says == (
        "finish paint, quibbery, semi-gloss, wall: 2 coats",
    )


def test_a_line_is_completed_by_goods_surfaces_and_looks_each_as_it_is_usually_spelled() -> None:
    words = words_for(load_plugins())
    assert {"walls", "ceilings", "finish paint", "gypsum board", "eggshell", "satin"} <= set(words)
    assert not {"wall", "gyp. bd.", "gb", "e/s"} & set(words)
    assert len(words) == len(set(words))


def test_what_a_line_is_completed_by_is_understood_in_one() -> None:
    words = set(words_for(load_plugins()))
    for line in ("Walls: two coats eggshell finish paint.", "Gypsum board on ceilings: 2 layers."):
        assert not look()(line, None).wrong
        assert [word for word in words if word in line.lower()]


def test_the_rooms_of_the_job_complete_a_line_too(tmp_path: Path) -> None:
    assert {"Stove room", "walls"} <= set(Visitor(loft(tmp_path)).get("/words").json())


PLUGIN = '''"""A gasket of the firm's own."""

from collections.abc import Sequence

from darby.api import Source, Vocabulary, hookimpl

DARBY_API = 1
WORDS = """
[subject]
"sill gasket" = ["sill gasket", "foam gasket"]

[kinds]
"sill gasket" = ["package"]
"""


@hookimpl
def darby_vocabulary() -> Sequence[Vocabulary]:
    """What it is called."""
    return (Vocabulary("gasket", Source("our_gasket words", WORDS)),)
'''


def test_the_words_of_a_plugin_that_the_job_brings_complete_a_line_and_are_understood_in_it(tmp_path: Path) -> None:
    loft(tmp_path)
    (tmp_path / "our_gasket.py").write_text(PLUGIN, encoding="utf-8")
    line, own = "Sill gasket comes in 50 ft rolls.", '[plugins]\nfiles = ["our_gasket.py"]\n'
    wanted = Wanted(str(tmp_path / "job.toml"), run_plugins=True, again=Again())
    at = [load_plugins()]
    listen = listener(lambda: at[0])
    assert "sill gasket" not in words_for(at[0])
    assert listen(line, None).wrong
    (tmp_path / "job.toml").write_text(f"{JOB}\n{own}", encoding="utf-8")
    at[0] = estimate_of(wanted).plugins
    assert "sill gasket" in words_for(at[0])
    assert listen(line, None).says == ("sill gasket package: 50 ft per roll",)


def test_the_command_gives_the_desk_the_plugins_of_the_job(tmp_path: Path) -> None:
    loft(tmp_path)
    (tmp_path / "our_gasket.py").write_text(PLUGIN, encoding="utf-8")
    (tmp_path / "job.toml").write_text(f'{JOB}\n[plugins]\nfiles = ["our_gasket.py"]\n', encoding="utf-8")
    for more, there in (("--run-plugins",), True), ((), False):
        run = Run(tmp_path, *more)
        try:
            home, _, query = run.address.partition("/?")
            with httpx.Client(base_url=home, timeout=120) as web:
                web.get(f"/?{query}")
                assert ("sill gasket" in web.get("/words").json()) == there
        finally:
            run.end(signal.SIGKILL)
