"""Plugins as installed, as objects and as single files."""

from __future__ import annotations

from hashlib import sha256
from pathlib import Path
from types import ModuleType
from typing import Any

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
