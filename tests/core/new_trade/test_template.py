"""`darby new-trade`: what it writes is complete and passes its own tests; the guide's trade and cases run as they stand."""

from __future__ import annotations

import ast
import json
import os
import re
import subprocess
import sys
import tomllib
from functools import partial
from pathlib import Path

import pytest

import darby.testing.cases
from darby.estimate.document_format import Document
from darby.estimate.trade import Trade
from darby.new_trade import Names, unfit, write
from darby.plugin_host.loader import load_plugins
from darby.reading.parsing.fact_parser import Reader
from darby.testing.cases import cases
from guide import GUIDE, blocks, write_gasket
from outsiders import CEILINGS, EXAMPLE, ROOT, VAPOUR, module, own
from rogues import Entry, Release

DARBY = (sys.executable, "-m", "darby")


def run(*command: str, cwd: Path, **more: str) -> subprocess.CompletedProcess[str]:
    environment = {k: v for k, v in os.environ.items() if not k.startswith(("PYTHON", "PYTEST", "VIRTUAL"))} | more
    return subprocess.run(
        command, cwd=cwd, env=environment, capture_output=True, text=True, stdin=subprocess.DEVNULL, check=False
    )


def checked(*command: str, cwd: Path, **more: str) -> str:
    done = run(*command, cwd=cwd, **more)
    assert done.returncode == 0, f"{' '.join(command)}\n{done.stdout}\n{done.stderr}"
    return done.stdout


def new_trade(*arguments: str, cwd: Path) -> subprocess.CompletedProcess[str]:
    environment = {**os.environ, "NO_COLOR": "1", "COLUMNS": "100"}
    return subprocess.run(
        (*DARBY, "new-trade", *arguments), cwd=cwd, env=environment, capture_output=True, text=True, check=False
    )


def test_it_writes_a_whole_distribution_and_says_what_to_do_next(tmp_path: Path) -> None:
    done = new_trade("roof-felt", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    folder = tmp_path / "darby-roof-felt"
    files = sorted(str(p.relative_to(folder)) for p in folder.rglob("*") if p.is_file())
    assert files == [
        "README.md", "ci/run", "darby_roof_felt/__init__.py", "darby_roof_felt/defaults.metric.txt",
        "darby_roof_felt/defaults.us.txt", "darby_roof_felt/facts.lark", "darby_roof_felt/py.typed",
        "darby_roof_felt/reader.py", "darby_roof_felt/trade.py", "darby_roof_felt/words.toml", "pyproject.toml",
        "tests/conformance.cases.toml", "tests/jobs.cases.toml", "tests/phrases.cases.toml",
    ]  # fmt: skip
    assert all(name in done.stdout for name in files)
    assert "pip install -e '.[test]' && pytest && mypy" in done.stdout
    project = tomllib.loads((folder / "pyproject.toml").read_text(encoding="utf-8"))
    assert project["project"]["entry-points"]["darby"] == {"roof-felt": "darby_roof_felt"}
    assert not [f for f in files if "{{" in (folder / f).read_text(encoding="utf-8")]


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("Roof Felt", "Try roof-felt."),
        ("../away", "Try away."),
        ("roof_felt", "Try roof-felt."),
        ("9lives", "Try lives."),
        ("x" * 41, "is no name for a trade"),
        ("", "is no name for a trade"),
        ("{{name}}", "Try name."),
        ("felt-", "Try felt."),
        ("board", "There is a plugin board already"),
        ("grammars", "There is a plugin grammars already"),
        ("json", "word of Python's own"),
        ("class", "word of Python's own"),
        ("primer", "to coatings it is primer"),
        ("joint-tape", "to joints it is joint tape"),
        ("wall", "is taken"),
    ],
)
def test_a_name_that_will_not_do_is_refused_with_a_way_out(name: str, said: str) -> None:
    wrong = unfit(name, load_plugins(entries=own()).vocabularies)
    assert wrong is not None
    assert said in f"{wrong.message} {wrong.help}"
    assert wrong.help


@pytest.mark.parametrize("name", ["roof-felt", "insulation", "caulk", "x2", "acoustic-ceiling-grid"])
def test_a_good_name_will_do_even_where_the_word_is_one_for_what_nobody_orders(name: str) -> None:
    assert unfit(name, load_plugins(entries=own()).vocabularies) is None


def test_nothing_is_written_over(tmp_path: Path) -> None:
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "notes.txt").write_text("mine", encoding="utf-8")
    (tmp_path / "file").write_text("mine", encoding="utf-8")
    for target in ("mine", "file", "file/below"):
        done = new_trade("roof-felt", "--to", target, cwd=tmp_path)
        assert done.returncode == 2
        assert target in done.stderr
        assert "Traceback" not in done.stderr
    assert sorted(p.name for p in tmp_path.rglob("*")) == ["file", "mine", "notes.txt"]
    (tmp_path / "empty").mkdir()
    assert new_trade("roof-felt", "--to", "empty", cwd=tmp_path).returncode == 0


def test_what_it_writes_is_formatted_linted_and_typed(tmp_path: Path) -> None:
    written, wrong = write("felt", tmp_path / "f")
    assert wrong is None
    sources = [str(p) for p in written if p.suffix == ".py"]
    settings = ("--no-cache", "--config", str(ROOT / "pyproject.toml"), "--config", f'src = ["{tmp_path / "f"}"]')
    checked(sys.executable, "-m", "ruff", "check", *settings, *sources, cwd=ROOT)
    checked(sys.executable, "-m", "ruff", "format", "--check", *settings, *sources, cwd=ROOT)
    roots = os.pathsep.join(str(ROOT / room) for room in ("core", "grammars"))
    checked(
        sys.executable,
        "-m",
        "mypy",
        "--follow-imports",
        "silent",
        "--cache-dir",
        str(ROOT / ".mypy_cache"),
        cwd=tmp_path / "f",
        MYPYPATH=roots,
    )


def test_what_it_writes_passes_its_own_phrases_and_jobs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    name = "acoustic-felt"
    written, _ = write(name, tmp_path)
    there = Entry(name, partial(module, Names(name).module, tmp_path), Release("0.1.0", f"darby-{name}"))
    monkeypatch.setattr(darby.testing.cases, "load_plugins", partial(load_plugins, entries=[there, *own()]))
    darby.testing.cases._desk.cache_clear()
    ran = {
        case.name: case.run()
        for path in written
        if path.name in ("phrases.cases.toml", "jobs.cases.toml")
        for case in cases(path)
    }
    assert len(ran) == 6
    assert not {name: wrong for name, wrong in ran.items() if wrong}


JOB = '[[walls]]\nname = "north"\nlength = "12 ft"\nheight = "8 ft"\nfaces = 2\n'


@pytest.mark.slow
def test_a_new_trade_is_installed_tested_used_and_removed_in_a_clean_environment(tmp_path: Path) -> None:
    checked(sys.executable, "-m", "venv", "env", cwd=tmp_path)
    bin = tmp_path / "env" / ("Scripts" if os.name == "nt" else "bin")
    python, command = str(bin / "python"), str(bin / "darby")
    checked(python, "-m", "pip", "install", "-q", str(ROOT), cwd=tmp_path)
    (tmp_path / "job.toml").write_text(f'name = "Net loft"\nunits = "us"\n{JOB}', encoding="utf-8")
    before = json.loads(checked(command, "estimate", "job.toml", "--format", "json", cwd=tmp_path))

    checked(command, "new-trade", "roof-felt", cwd=tmp_path)
    made = tmp_path / "darby-roof-felt"
    checked(python, "-m", "pip", "install", "-q", ".[test]", cwd=made)
    assert "16 passed" in checked(python, "-m", "pytest", "-q", cwd=made)
    assert "Success" in checked(python, "-m", "mypy", cwd=made)
    assert "works, from the installed darby-roof-felt" in checked(
        "bash", "ci/run", cwd=made, DARBY=str(ROOT), NO_COLOR="1"
    )

    assert "roof-felt, from the plugin roof-felt 0.1.0" in checked(command, "trades", cwd=tmp_path)
    used = json.loads(checked(command, "estimate", "job.toml", "--format", "json", cwd=tmp_path))
    (item,) = (i for i in used["items"] if i["trade"] == "roof-felt")
    assert (item["need"]["value"], item["order"]["count"]) == ("1008/5", 3)  # 192 sq ft and 5 %, in rolls of 100
    assert [i for i in used["items"] if i["trade"] != "roof-felt"] == before["items"]
    assert {"name": "roof-felt", "plugin": "roof-felt", "version": "0.1.0"} in used["trades"]
    for options, more in (
        (("--without", "roof-felt"), {}),
        (("--only", "board"), {}),
        ((), {"DARBY_PLUGINS": "board"}),
    ):
        told = checked(command, "estimate", "job.toml", "--format", "json", *options, cwd=tmp_path, **more)
        assert "roof-felt" not in {i["trade"] for i in json.loads(told)["items"]}

    for outside in (CEILINGS, EXAMPLE, VAPOUR):
        checked(python, "-m", "pip", "install", "-q", "--no-deps", str(outside), cwd=tmp_path)
    for outside in (CEILINGS, EXAMPLE, VAPOUR):
        tests = str(outside / "tests")
        assert " passed" in checked(python, "-m", "pytest", "-q", "-p", "no:cacheprovider", tests, cwd=tmp_path)

    checked(
        python,
        "-m",
        "pip",
        "uninstall",
        "-q",
        "-y",
        "darby-roof-felt",
        "darby-ceilings",
        "darby-example",
        "vapour-sheet",
        cwd=tmp_path,
    )
    assert json.loads(checked(command, "estimate", "job.toml", "--format", "json", cwd=tmp_path)) == before


@pytest.fixture
def gasket(tmp_path: Path) -> Path:
    """The guide's trade and its cases, in one folder."""
    return write_gasket(tmp_path)


def test_the_plugin_file_of_a_job_is_run_only_when_told_to_and_said_to_be(gasket: Path) -> None:
    (naming,) = (block for block in blocks(GUIDE, "toml") if block.startswith("[plugins]"))
    (gasket / "job.toml").write_text(f'name = "j"\nunits = "us"\n{JOB}{naming}', encoding="utf-8")
    command = (*DARBY, "estimate", "job.toml", "--format", "json")
    refused = subprocess.run(command, cwd=gasket, capture_output=True, text=True, check=False)
    assert refused.returncode == 2
    assert "--run-plugins" in refused.stdout
    done = subprocess.run((*command, "--run-plugins"), cwd=gasket, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    made = json.loads(done.stdout)
    (said,) = (d for d in made["diagnostics"] if d["code"] == "plugin-file-run")
    assert "our_gasket.py was run for this job" in said["message"]
    (trade,) = (t for t in made["trades"] if t["name"] == "gasket")
    assert re.fullmatch("[0-9a-f]{8}", trade["version"])


def test_the_guide_states_the_type_of_what_each_hook_registers() -> None:
    stated = dict(re.findall(r"^(\w+\.\w+): (.+)$", GUIDE, re.MULTILINE))
    kinds = {"Trade": Trade, "Reader": Reader, "Document": Document}
    assert len(stated) == 12
    for name, kind in stated.items():
        owner, _, key = name.partition(".")
        if owner in kinds:
            assert kinds[owner].__annotations__[key] == kind, name
    tree = ast.parse((ROOT / "core/darby/reading/parsing/vocabulary.py").read_text(encoding="utf-8"))
    (vocabulary,) = (n for n in tree.body if isinstance(n, ast.ClassDef) and n.name == "Vocabulary")
    held = {ast.unparse(n.target): ast.unparse(n.annotation) for n in vocabulary.body if isinstance(n, ast.AnnAssign)}
    assert held["source"] == stated["Vocabulary.source"]


def test_the_grammar_the_guide_shows_is_that_of_a_new_trade(tmp_path: Path) -> None:
    write("felt", tmp_path)
    grammar = (tmp_path / "darby_felt" / "facts.lark").read_text(encoding="utf-8").splitlines()
    (shown,) = blocks(GUIDE, "lark")
    assert set(shown.splitlines()) <= set(grammar)


def test_every_toml_of_the_guide_is_one() -> None:
    assert len([tomllib.loads(block) for block in blocks(GUIDE, "toml")]) >= 3
