"""Plugins as installed, as objects and as single files."""

from __future__ import annotations

from hashlib import sha256
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from darby.estimate.trade import Trade
from darby.plugin_host.hooks import hookimpl
from darby.plugin_host.loader import load_plugins
from darby.text.diagnostics import Severity
from entries import GOOD, FakeEntry, codes, items, load, module, names, trade


def test_a_helper_called_darby_something_elsewhere_is_no_hook() -> None:
    def plugin() -> ModuleType:
        made = module("m", darby_trades=lambda: [trade("m")])
        made.darby_board = ModuleType("darby_board")  # type: ignore[attr-defined]
        made.darby_colour = "red"  # type: ignore[attr-defined]
        return made

    assert codes(load(FakeEntry("m", plugin))) == []


class ObjectPlugin:
    """A plugin need not be a module."""

    DARBY_API = 1

    @hookimpl
    def darby_trades(self) -> list[Trade]:
        return [trade("m")]

    def darby_reader(self) -> list[Any]:
        return []


def test_an_object_may_be_a_plugin_and_its_methods_are_checked_too() -> None:
    plugins = load(FakeEntry("m", ObjectPlugin))
    assert names(plugins) == ["m"]
    assert [(d.code, d.help) for d in plugins.diagnostics] == [("plugin-hook", "Did you mean darby_readers?")]


FILE = """
from __future__ import annotations
from dataclasses import dataclass
from darby.quantities.amounts import Amount
from darby.plugin_host.hooks import hookimpl
from darby.estimate.line_item import LineItem
from darby.estimate.trade import Trade
from entries import GOOD, FakeEntry, codes, items, load, module, names, trade

DARBY_API = 1

@dataclass
class Hook:
    count: int

def line_items(job, book):
    yield LineItem("hook", Amount.of(Hook(3).count))

@hookimpl
def darby_trades():
    return [Trade("hooks", "Hooks", line_items)]
"""


def test_a_single_python_file_is_a_plugin_named_by_its_stem(tmp_path: Path) -> None:
    path = tmp_path / "our_hooks.py"
    path.write_text(FILE, encoding="utf-8")
    plugins = load(*GOOD, files=[path])
    assert [(d.code, d.severity) for d in plugins.diagnostics] == [("plugin-file-run", Severity.NOTE)]
    assert "our_hooks.py was run" in plugins.diagnostics[0].message
    assert dict(plugins.names)["our_hooks"] == sha256(path.read_bytes()).hexdigest()[:8]
    assert [(p.trade.name, p.plugin) for p in plugins.trades] == [("a", "alpha"), ("hooks", "our_hooks"), ("z", "zulu")]
    assert ("hooks:hook", "3") in items(plugins)
    assert names(load(*GOOD, files=[path], without=["our_hooks"])) == ["a", "z"]


def test_a_plugin_file_that_is_missing_or_broken_is_told(tmp_path: Path) -> None:
    (tmp_path / "hooks.py").write_text("def f(:\n", encoding="utf-8")
    (tmp_path / "words.txt").write_text("x = 1\n", encoding="utf-8")
    files = [tmp_path / "hook.py", tmp_path / "hooks.py", tmp_path / "words.txt"]
    plugins = load(*GOOD, files=files)
    assert codes(plugins) == ["file-missing", "plugin-broken", "plugin-broken"]
    assert plugins.diagnostics[0].help.endswith("hooks.py?")
    assert "SyntaxError" in plugins.diagnostics[1].message
    assert "has to end in .py" in plugins.diagnostics[2].message
    assert names(plugins) == ["a", "z"]


def test_the_installed_plugins_come_with_their_versions() -> None:
    plugins = load_plugins()
    built_in = {"board", "coatings", "fasteners", "joints"}
    assert built_in | {"grammars"} <= {name for name, _ in plugins.names}
    assert built_in <= {p.trade.name for p in plugins.trades}
    assert all(p.version for p in plugins.trades)
    assert plugins.failed == ()


FIRM = """
from darby.api import Amount, LineItem, Trade, hookimpl

DARBY_API = 1


@hookimpl
def darby_trades():
    return [Trade("{name}", "{name}", lambda job, book: [LineItem("hook", Amount.of(1))])]
"""


@pytest.fixture
def firm(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A firm's folder with two plugins, a helper, a folder and a note in it."""
    folder = tmp_path / "firm"
    folder.mkdir(mode=0o755)
    for name in ("rails", "hooks"):
        (folder / f"{name}.py").write_text(FIRM.format(name=name))
    (folder / "_helper.py").write_text("raise RuntimeError")
    (folder / "notes.txt").write_text("none of ours")
    (folder / "old.py").mkdir()
    monkeypatch.setenv("DARBY_PLUGIN_FOLDER", str(folder))
    return folder


def test_a_firm_s_folder_is_run_where_it_is_named(firm: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    plugins = load_plugins()
    mine = [(one.name, one.origin, one.state) for one in plugins.taken if str(firm) in one.origin]
    assert mine == [(n, f"the file {n}.py of the firm's folder {firm}", "works") for n in ("hooks", "rails")]
    assert {"hooks", "rails"} <= {p.trade.name for p in plugins.trades}
    assert not any(p.own for p in plugins.trades if p.trade.name in ("hooks", "rails"))
    assert codes(plugins).count("plugin-file-run") == 2
    assert "hooks" not in {p.trade.name for p in load_plugins(without=["hooks"]).trades}
    monkeypatch.delenv("DARBY_PLUGIN_FOLDER")
    assert not {"hooks", "rails"} & {p.trade.name for p in load_plugins().trades}


def test_a_file_of_the_folder_that_a_job_names_too_is_run_once(firm: Path) -> None:
    plugins = load_plugins(files=[firm / "hooks.py"])
    assert "plugin-twice" not in codes(plugins)
    assert [p.trade.name for p in plugins.trades].count("hooks") == 1


def test_a_folder_that_cannot_be_trusted_or_read_is_refused(firm: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refused() -> str:
        plugins = load_plugins()
        assert not {"hooks", "rails"} & {p.trade.name for p in plugins.trades}
        (told,) = [d for d in plugins.diagnostics if d.code == "plugin-folder"]
        assert told.severity is Severity.ERROR
        assert told.help
        return told.message

    monkeypatch.setenv("DARBY_PLUGIN_FOLDER", str(firm / "gone"))
    assert "cannot be read: no such file or directory" in refused()
    monkeypatch.setenv("DARBY_PLUGIN_FOLDER", "firm")
    monkeypatch.chdir(firm.parent)
    assert "no whole path" in refused()
    monkeypatch.setenv("DARBY_PLUGIN_FOLDER", str(firm))
    firm.chmod(0o777)
    assert "Everybody may write" in refused()
