"""What several commands take alike: a plugin file runs where it is named, and one that is not there is said."""

from __future__ import annotations

from pathlib import Path

import pytest

from commands import darby
from lofting import PLUGIN

TEXT = "Saved felt comes in saved reels of 3 saved squares.\n"


@pytest.fixture
def lofting(tmp_path: Path) -> Path:
    (tmp_path / "lofting.py").write_text(PLUGIN, encoding="utf-8")
    (tmp_path / "s.txt").write_text(TEXT, encoding="utf-8")
    return tmp_path


@pytest.mark.parametrize(
    ("command", "said"),
    [
        (("read", "s.txt"), "saved felt package: 3 saved squares per saved reel"),
        (("read", "s.txt", "--only", "board"), "saved felt package: 3 saved squares per saved reel"),
        (("trades",), "Saved felt comes in saved reels of 2 saved squares."),
        (("formats",), "the order list and all that is open"),
    ],
)
def test_a_plugin_file_runs_where_it_is_named(lofting: Path, command: tuple[str, ...], said: str) -> None:
    done = darby(*command, "--plugin-file", "lofting.py", cwd=lofting)
    assert done.returncode == 0, done.stderr
    assert said in done.stdout
    assert "The plugin file lofting.py was run" in done.stderr
    without = darby(*command, cwd=lofting)
    assert "lofting" not in without.stderr
    assert ("saved" in said.casefold()) is (said not in without.stdout)


def test_two_saved_estimates_are_compared_with_it(lofting: Path) -> None:
    job = 'name = "l"\nunits = "us"\nplugins = { files = ["lofting.py"] }\n[[lofts]]\nname = "main"\nwidth = "9 ft"\nlength = '
    for name, length in (("a", "20 ft"), ("b", "30 ft")):
        (lofting / "job.toml").write_text(f'{job}"{length}"\n', encoding="utf-8")
        assert darby("estimate", "job.toml", "--run-plugins", "--save", f"{name}.json", cwd=lofting).returncode == 0
    done = darby("compare", "a.json", "b.json", "--plugin-file", "lofting.py", cwd=lofting)
    assert done.returncode == 1, done.stderr
    assert 'loft "main": length 20 ft to 30 ft, job.toml, line 5 (+1 saved reel)' in " ".join(done.stdout.split())


@pytest.mark.parametrize("command", [("read", "s.txt"), ("trades",), ("formats",), ("compare", "a.json", "b.json")])
def test_a_plugin_file_that_is_not_there_is_said(lofting: Path, command: tuple[str, ...]) -> None:
    done = darby(*command, "--plugin-file", "nowhere.py", cwd=lofting)
    assert done.returncode == 2
    assert "'nowhere.py' does not exist" in done.stderr
