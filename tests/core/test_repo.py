"""The checkout as a stranger finds it: what lies at the top, lint, types, and what README and pages of help show."""

from __future__ import annotations

import ast
import json
import os
import re
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from attrs import frozen

from checkout import ROOT
from commands import darby
from guide import GUIDE, blocks

README = (ROOT / "README.md").read_text(encoding="utf-8")
TOPICS = {path.stem: path.read_text(encoding="utf-8") for path in sorted((ROOT / "core/darby/text/topics").iterdir())}
PRINTED = {"README": README, **TOPICS}
PYPROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
DARBY = Path(sys.executable).with_name("darby")
TOP = {"README.md", "DEVELOPERS.md", "pyproject.toml", "core", "plugins", "grammars", "tests", "fixtures"}


def run(*command: str, cwd: Path = ROOT, env: dict[str, str] | None = None) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        command,
        cwd=cwd,
        env=env,
        capture_output=True,
        text=True,
        encoding="utf-8",
        stdin=subprocess.DEVNULL,
        check=False,
    )


def tracked() -> list[str]:
    listing = run("git", "-c", "safe.directory=*", "ls-files")
    assert listing.returncode == 0, listing.stderr
    return listing.stdout.splitlines()


def test_the_top_level_holds_what_the_guide_says_and_nothing_more() -> None:
    assert {p.split("/")[0] for p in tracked() if not p.startswith(".")} == TOP
    assert {p for p in tracked() if p.startswith(".")} == {".gitignore", ".ci/run"}


def test_the_licence_lies_in_the_core_and_is_the_declared_one() -> None:
    assert (ROOT / "core/darby/LICENSE").read_text(encoding="utf-8").startswith("MIT License")
    assert 'license = "MIT"' in (ROOT / "pyproject.toml").read_text(encoding="utf-8")


def test_lint_finds_nothing() -> None:
    checked = run(sys.executable, "-m", "ruff", "check", "--no-cache", ".")
    assert checked.returncode == 0, checked.stdout + checked.stderr


def test_every_file_is_formatted() -> None:
    checked = run(sys.executable, "-m", "ruff", "format", "--no-cache", "--check", ".")
    assert checked.returncode == 0, checked.stdout + checked.stderr


def test_types_hold_strictly() -> None:
    checked = run(sys.executable, "-m", "mypy")
    assert checked.returncode == 0, checked.stdout + checked.stderr


def test_the_readme_opens_with_two_commands_and_the_check_takes_them_from_there() -> None:
    block = re.search(r"^```sh\n(.*?)^```$", README, re.MULTILINE | re.DOTALL)
    assert block
    first, second = block[1].splitlines()
    assert first.startswith("python3 -m venv .venv && ")
    assert first.endswith(" && .venv/bin/darby demo")
    assert second.startswith(".venv/bin/python -m pytest")
    check = (ROOT / ".ci/run").read_text(encoding="utf-8")
    assert "README.md" in check
    assert "pytest" not in check


@frozen
class Shown:
    """A command as a guide shows it, and what it is said to print; a line `...` stands for any lines."""

    command: str
    printed: str

    @classmethod
    def all_in(cls, block: str) -> Iterator[Shown]:
        """Every command of a block: a line behind `$ `, with the lines of its here-document, then what it prints."""
        for part in re.split(r"^\$ ", block, flags=re.MULTILINE)[1:]:
            command, _, printed = part.partition("\n")
            if ends := re.search(r"<<'(\w+)'", command):
                here, _, printed = printed.partition(f"{ends[1]}\n")
                command = f"{command}\n{here}{ends[1]}"
            yield cls(command, printed)

    def matches(self, printed: str) -> bool:
        """Whether the command printed what the guide says, spaces at line ends apart."""
        said, seen = (
            "\n".join(line.rstrip() for line in text.strip("\n").split("\n")) for text in (self.printed, printed)
        )
        return bool(re.fullmatch(re.escape(said).replace(r"\.\.\.", r"(?s:.*?)"), seen))

    def renewed(self, printed: str) -> str:
        """What the guide should say instead: as many lines as now where it ends in `...`, else all."""
        said, seen = (text.strip("\n").split("\n") for text in (self.printed, printed))
        kept = [*seen[: len(said) - 1], "..."] if said[-1] == "..." else seen
        return "\n".join(line.rstrip() for line in kept) + "\n"


SHOWN = [
    shown for text in (*PRINTED.values(), GUIDE) for block in blocks(text, "console") for shown in Shown.all_in(block)
]


@pytest.mark.parametrize("shown", SHOWN, ids=lambda shown: shown.command.split("\n")[0])
def test_a_command_prints_what_the_guide_shows(shown: Shown, tmp_path: Path, request: pytest.FixtureRequest) -> None:
    environment = {k: v for k, v in os.environ.items() if k not in {"COLUMNS", "FORCE_COLOR"}}
    environment["PATH"] = f"{Path(sys.executable).parent}{os.pathsep}{environment['PATH']}"
    environment |= {"COLUMNS": "100", "NO_COLOR": "1"}
    copied = darby("demo", "--to", "ferry", cwd=tmp_path)
    assert copied.returncode == 0, copied.stderr
    done = run("bash", "-c", shown.command, cwd=tmp_path / "ferry", env=environment)
    assert not done.stderr
    if request.config.getoption("force_regen") and not shown.matches(done.stdout):
        for path in (ROOT / "README.md", ROOT / "DEVELOPERS.md", *(ROOT / "core/darby/text/topics").iterdir()):
            text = path.read_text(encoding="utf-8")
            was = f"$ {shown.command}\n{shown.printed}"
            path.write_text(text.replace(was, f"$ {shown.command}\n{shown.renewed(done.stdout)}"), encoding="utf-8")
    assert shown.matches(done.stdout), done.stdout


def test_the_readme_shows_what_darby_prints() -> None:
    assert len(SHOWN) >= 2


def test_every_example_is_of_a_language_that_is_tried_out() -> None:
    tried = {"sh", "console", "toml", "house", "rates", "csv"}
    for name, text in PRINTED.items():
        assert set(re.findall(r"^```(\w*)$", text, re.MULTILINE)) - {""} <= tried, name


def test_the_readme_leaves_to_the_topics_what_it_has_no_room_for() -> None:
    assert len(README.splitlines()) <= 250
    assert TOPICS.keys() <= set(re.findall(r"`(\w+)`", README))
    assert set(re.findall(r"`darby help (\w+)`", "\n".join(PRINTED.values()))) - {"TOPIC"} <= TOPICS.keys()


def examples(language: str) -> list[tuple[str, str]]:
    """Every block of a language, and the page it is shown on."""
    return [(name, block) for name, text in PRINTED.items() for block in blocks(text, language)]


def worked_out(folder: Path, job: str) -> dict[str, Any]:
    """What a job shown on a page orders, with the files that it names beside it. It has no mistake."""
    beside = {
        "job.toml": job,
        "house.txt": blocks(README, "house")[0],
        "finishes.txt": "Walls: two coats satin finish paint.\n",
        "addendum-1.txt": "Walls: one coat primer.\n",
        "log.csv": "no.,question,answered,by,answer\n1,?,May 3,an architect,Walls: three coats.\n",
    }
    for name, text in beside.items():
        (folder / name).write_text(text, encoding="utf-8")
    done = darby("estimate", "job.toml", "--format", "json", cwd=folder)
    assert done.returncode == 0, done.stdout + done.stderr
    estimate: dict[str, Any] = json.loads(done.stdout)
    assert not [d for d in estimate["diagnostics"] if d["severity"] == "error"]
    return estimate


@pytest.mark.parametrize(("page", "job"), examples("toml"), ids=[name for name, _ in examples("toml")])
def test_a_job_that_is_shown_is_a_job(page: str, job: str, tmp_path: Path) -> None:
    assert worked_out(tmp_path, job)["items"], page


def the_job_of(page: str) -> str:
    (job,) = blocks(PRINTED[page], "toml")
    return job


@pytest.mark.parametrize("page", ["README", "job"])
def test_the_first_job_orders_what_it_is_measured_for(page: str, tmp_path: Path) -> None:
    products = {item["product"] for item in worked_out(tmp_path, the_job_of(page))["items"]}
    assert {"joint compound", "primer", "finish paint"} <= products


def test_the_rooms_shown_are_told_apart(tmp_path: Path) -> None:
    estimate = worked_out(tmp_path, the_job_of("rooms"))
    asked = {d["message"].partition(" ")[0] for d in estimate["diagnostics"] if d["code"] == "system-undefined"}
    assert asked == {"PT-1", "PT-2"}  # no document is there to say what they are
    (board,) = (item for item in estimate["items"] if item["pool"].get("type") == "type X")
    assert Fraction(board["need"]["value"]) == 3 * 12 * 9 * 2 * 2


def test_the_shapes_shown_are_finished_each_in_its_own_way(tmp_path: Path) -> None:
    items = worked_out(tmp_path, the_job_of("shapes"))["items"]
    boards = {item["pool"].get("type", "") for item in items if item["product"] == "gypsum board"}
    assert (boards, len({item["pool"].get("color") for item in items})) == ({"", "type X"}, 2)


def test_the_papers_say_who_sends_them_to_whom(tmp_path: Path) -> None:
    worked_out(tmp_path, the_job_of("papers"))
    for name, said in {"order": "Pier 4, gate B", "letter": "Osier Architects", "scope": "Work above 14 ft."}.items():
        done = darby("estimate", "job.toml", "--format", name, cwd=tmp_path)
        assert done.returncode == 0, done.stdout + done.stderr
        assert said in done.stdout
    (tmp_path / "log.csv").unlink()
    done = darby("estimate", "job.toml", "--out", "log.csv", "--format", "clarifications.csv", cwd=tmp_path)
    assert done.returncode == 2  # the job names a log that is not there


ROOM = 'name = "Shown"\n{more}\n[[rooms]]\nname = "Store"\nlength = "10 ft"\nwidth = "8 ft"\nheight = "8 ft"\n'


@pytest.mark.parametrize("lines", [block for _, block in examples("house")])
def test_house_lines_that_are_shown_are_all_understood(lines: str, tmp_path: Path) -> None:
    (tmp_path / "ours.txt").write_text(lines, encoding="utf-8")
    worked_out(tmp_path, ROOM.format(more='[documents]\nhouse = ["ours.txt"]\n'))


@pytest.mark.parametrize("lines", [block for _, block in examples("rates")])
def test_production_rates_that_are_shown_are_all_understood(lines: str, tmp_path: Path) -> None:
    (tmp_path / "rates.txt").write_text(lines, encoding="utf-8")
    more = 'rules = ["Gypsum board: 1/2 in. thick."]'
    job = ROOM.format(more=more) + '[bid]\ncurrency = "USD"\nlabor = ["rates.txt"]\nmethods = ["By roller"]\n'
    (tmp_path / "job.toml").write_text(job, encoding="utf-8")
    done = darby("bid", "job.toml", "--format", "json", cwd=tmp_path)
    assert done.returncode == 0, done.stdout + done.stderr
    assert not [d for d in json.loads(done.stdout)["diagnostics"] if d["severity"] == "error"]


ROOMS_SHOWN = 2 * (12 + 10.5) * 8.5 + 12 * 10.5 + 2 * (1_200 + 9) * 9 + 1_200 * 9
WALLS_SHOWN = 2 * 24.5 * 9 + 10 * 9
SHOWN = [ROOMS_SHOWN, WALLS_SHOWN]


@pytest.mark.parametrize(
    ("schedule", "need"), list(zip((block for _, block in examples("csv")), SHOWN, strict=True)), ids=["rooms", "walls"]
)
def test_a_schedule_that_is_shown_is_measured(schedule: str, need: float, tmp_path: Path) -> None:
    (tmp_path / "rooms.csv").write_text(schedule, encoding="utf-8")
    estimate = worked_out(tmp_path, 'name = "Shown"\nschedules = ["rooms.csv"]\n')
    (board,) = (item for item in estimate["items"] if item["product"] == "gypsum board")
    assert Fraction(board["need"]["value"]) == Fraction(need)


def test_the_guide_tells_what_changed_in_this_version_and_in_the_next() -> None:
    changes = GUIDE.partition("\n## What changed\n")[2].partition("\n## ")[0]
    versions = re.findall(r"^### (\d+\.\d+\.\d+)(, in the making)?$", changes, re.MULTILINE)
    numbers = [tuple(map(int, version.split("."))) for version, _ in versions]
    assert numbers == sorted(set(numbers), reverse=True)
    assert next(version for version, making in versions if not making) == PYPROJECT["project"]["version"]
    assert [bool(making) for _, making in versions].count(True) <= 1
    parts = re.split(r"^### .*$", changes, flags=re.MULTILINE)[1:]
    assert all(re.search(r"^- \w", part, re.MULTILINE) for part in parts)


def test_the_guide_names_every_hook_with_its_signature() -> None:
    tree = ast.parse((ROOT / "core/darby/plugin_host/hooks.py").read_text(encoding="utf-8"))
    hooks = [node for node in tree.body if isinstance(node, ast.FunctionDef)]
    assert hooks
    for hook in hooks:
        assert f"{hook.name}({ast.unparse(hook.args)}) -> {ast.unparse(hook.returns or ast.Constant(None))}" in GUIDE


def test_the_trade_in_the_guide_orders_its_rolls(tmp_path: Path) -> None:
    copied = darby("demo", "--to", str(tmp_path / "ferry"))
    assert copied.returncode == 0, copied.stderr
    (block,) = blocks(GUIDE, "python")
    (tmp_path / "ferry" / "our_gasket.py").write_text(block, encoding="utf-8")
    with (tmp_path / "ferry" / "job.toml").open("a", encoding="utf-8") as job:
        job.write('\n[plugins]\nfiles = ["our_gasket.py"]\n')
    options = ("--run-plugins", "--format", "json")
    done = darby("estimate", str(tmp_path / "ferry" / "job.toml"), *options)
    assert done.returncode == 0, done.stdout + done.stderr
    estimate = json.loads(done.stdout)
    (item,) = (i for i in estimate["items"] if i["trade"] == "gasket")
    # 36'-4" twice, 20'-8" three times, 12 ft, and the parcel room's 10 + 8 + 10 + 8 ft: 182 ft 8 in, in 50 ft rolls
    assert (Fraction(item["need"]["value"]), item["need"]["unit"]) == (Fraction(548, 3), "ft")
    assert (item["order"]["count"], item["order"]["container"]) == (4, "roll")
    assert any(rule["cited"] == "our supplier" for rule in item["rules"])
    assert "Gasket" in {caution["topic"] for caution in estimate["cautions"]}
