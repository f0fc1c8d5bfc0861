"""Plugins: loaded one by one, checked, blocked, replaced; what one breaks costs its own contribution only."""

from __future__ import annotations

import itertools
import subprocess
import sys
from collections.abc import Callable, Iterator
from hashlib import sha256
from pathlib import Path
from types import ModuleType, SimpleNamespace
from typing import Any

import pytest
from attrs import evolve, frozen

from darby.estimate.document_format import Document
from darby.estimate.line_item import LineItem
from darby.estimate.trade import Trade
from darby.job.model import Job, Surface
from darby.pipeline import estimate
from darby.plugin_host.hooks import hookimpl
from darby.plugin_host.loader import load_plugins
from darby.plugin_host.model import Plugins
from darby.quantities.amounts import Amount
from darby.reading.parsing.fact_parser import Reader
from darby.reading.parsing.vocabulary import Vocabulary
from darby.reading.read import Language, Reading
from darby.rules.consultation import Consultation
from darby.text.diagnostics import Severity
from darby.text.spans import Source

RELEASE = SimpleNamespace(version="1.2")


@frozen
class FakeEntry:
    """An entry point that needs no installation."""

    name: str
    load: Callable[[], Any]
    dist: Any = RELEASE


def line_items(job: Job, book: Consultation) -> Iterator[LineItem]:
    yield LineItem("hook", Amount.of(len(job.surfaces)))


def trade(name: str, **more: Any) -> Trade:
    return Trade(name, name.title(), line_items, **more)


def module(name: str, api: object = 1, **hooks: Callable[[], Any]) -> ModuleType:
    made = ModuleType(name)
    if api is not None:
        made.DARBY_API = api  # type: ignore[attr-defined]
    for hook, function in hooks.items():
        setattr(made, hook, hookimpl(function))
    return made


def brings(name: str, *trades: Trade, **more: Any) -> FakeEntry:
    return FakeEntry(name, lambda: module(name, darby_trades=lambda: trades, **more))


def fails(error: BaseException) -> Callable[[], Any]:
    def load() -> Any:
        raise error

    return load


GOOD = [brings("alpha", trade("a")), brings("zulu", trade("z"))]


def load(*entries: Any, **more: Any) -> Plugins:
    return load_plugins(entries=entries, **more)


def names(plugins: Plugins) -> list[str]:
    return [p.trade.name for p in plugins.trades]


def codes(plugins: Plugins) -> list[str]:
    return [d.code for d in plugins.diagnostics]


def items(plugins: Plugins) -> list[tuple[str, str]]:
    def nothing(source: Source, layer: Any, language: Language, **more: Any) -> Reading:
        return Reading(source, layer, (), (), ())

    wall = Surface("W", "wall", Amount.read("1 m2"), Amount.of(1), Source("j", "").span(0, 0))
    done = estimate(Job("j", "us", (wall,)), [], plugins, Language((), ()), reader=nothing)
    return [(i.id, i.need.exact()) for i in done.items]


def unmarked() -> ModuleType:
    made = module("m")
    made.darby_trades = lambda: ()  # type: ignore[attr-defined]
    return made


def takes_too_much() -> ModuleType:
    def darby_trades(colour: str) -> Any:
        return ()

    return module("m", darby_trades=darby_trades)


class Touchy:
    """An object that raises whatever is asked of it."""

    def __getattr__(self, name: str) -> Any:
        raise RuntimeError("hands off")


BROKEN: dict[str, tuple[Callable[[], Any], str, str]] = {
    "does not import": (fails(ImportError("No module named 'nowhere'")), "plugin-broken", "ImportError: No module named"),
    "exits": (fails(SystemExit(2)), "plugin-broken", "SystemExit: 2"),
    "cannot be looked at": (Touchy, "plugin-api", "does not say which version"),
    "is nothing": (lambda: None, "plugin-api", "does not say which version"),
    "states no version": (lambda: module("m", None), "plugin-api", "does not say which version"),
    "states another version": (lambda: module("m", 2), "plugin-api", "for version 2 of the hooks; this is version 1"),
    "misspells a hook": (lambda: module("m", darby_trade=lambda: ()), "plugin-hook", "darby_trade,"),
    "does not mark a hook": (unmarked, "plugin-hook", "darby_trades that is not marked"),
    "hook wants an argument": (takes_too_much, "plugin-broken", "cannot be used"),
    "hook raises": (lambda: module("m", darby_trades=fails(ValueError("no words"))), "plugin-broken",
                    "darby_trades raised ValueError: no words (plugin_host/test_loader.py, line"),
    "hook exits": (lambda: module("m", darby_readers=fails(SystemExit(1))), "plugin-broken", "darby_readers raised"),
    "hook returns nothing": (lambda: module("m", darby_trades=lambda: None), "plugin-broken", "returned nothing"),
    "hook returns one": (lambda: module("m", darby_trades=lambda: trade("m")), "plugin-broken", "a list of Trade is wanted"),
    "hook returns text": (lambda: module("m", darby_vocabulary=lambda: "words"), "plugin-broken", "returned a str"),
    "hook returns the wrong thing": (lambda: module("m", darby_trades=lambda: [trade("m"), 3]), "plugin-broken",
                                     "returned a int in its list"),
    "trade has no name": (lambda: module("m", darby_trades=lambda: [trade("")]), "plugin-broken", "without a name"),
    "trade has no function": (lambda: module("m", darby_trades=lambda: [Trade("m", "M", None)]),  # type: ignore[arg-type]
                              "plugin-broken", "line_items is no function"),
    "trade's defaults are text": (lambda: module("m", darby_trades=lambda: [trade("m", defaults={"us": "Two coats."})]),
                                  "plugin-broken", "defaults is no mapping"),
    "trade's cautions are text": (lambda: module("m", darby_trades=lambda: [trade("m", cautions=("Mind!",))]),
                                  "plugin-broken", "cautions is no tuple"),
    "vocabulary is text": (lambda: module("m", darby_vocabulary=lambda: [Vocabulary("m", "words")]),  # type: ignore[arg-type]
                           "plugin-broken", "source is no source"),
    "reader has no kinds": (lambda: module("m", darby_readers=lambda: [Reader("m", ("coats",))]),  # type: ignore[arg-type]
                            "plugin-broken", "kinds is no tuple of kinds"),
    "document makes nothing": (lambda: module("m", darby_documents=lambda: [Document("x", "", None)]),  # type: ignore[arg-type]
                               "plugin-broken", "make is no function"),
}  # fmt: skip


@pytest.mark.parametrize("name", BROKEN)
def test_a_broken_plugin_is_named_and_costs_nothing_else(name: str) -> None:
    plugin, code, said = BROKEN[name]
    plugins = load(GOOD[0], FakeEntry("mike", plugin), GOOD[1])
    assert items(plugins) == items(load(*GOOD)) == [("a:hook", "1"), ("z:hook", "1")]
    assert codes(plugins) == [code]
    told = plugins.diagnostics[0]
    assert told.severity is Severity.WARNING
    assert "mike 1.2" in told.message
    assert said in told.message
    assert told.help
    assert [f.plugin for f in plugins.failed] == ["mike"]


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("darby_trade", "darby_trades"),
        ("darby_vocabularies", "darby_vocabulary"),
        ("darby_document", "darby_documents"),
    ],
)
def test_a_misspelt_hook_names_the_near_miss_and_what_is_missing(said: str, meant: str) -> None:
    plugins = load(FakeEntry("m", lambda: module("m", **{said: lambda: ()})))
    assert plugins.diagnostics[0].help == f"Did you mean {meant}?"
    assert [str(f) for f in plugins.failed] == [f"m ({meant.removeprefix('darby_')})"]


def test_what_a_plugin_with_one_broken_hook_brings_by_the_others_is_kept() -> None:
    plugins = load(brings("m", trade("m"), darby_readers=fails(ValueError("no grammar"))))
    assert names(plugins) == ["m"]
    assert [str(f) for f in plugins.failed] == ["m (readers)"]


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


def test_results_do_not_depend_on_the_order_of_entry_points() -> None:
    entries = [
        brings("c", trade("z"), trade("shared")),
        brings("a", trade("y"), trade("shared")),
        brings("b", trade("new", replaces="z")),
        FakeEntry("d", fails(ImportError("x"))),
    ]
    seen = set()
    for order in itertools.permutations(entries):
        plugins = load(*order)
        told = [(d.code, d.message) for d in plugins.diagnostics]
        seen.add(str(([(p.trade.name, p.plugin) for p in plugins.trades], told, plugins.failed, plugins.names)))
    assert len(seen) == 1
    assert "('shared', 'a')" in seen.pop()


def test_two_plugins_of_one_name_are_told_and_the_first_is_used() -> None:
    plugins = load(brings("m", trade("one")), brings("m", trade("two")))
    assert codes(plugins) == ["plugin-twice"]
    assert names(plugins) == ["one"]


def test_two_trades_of_one_name_are_told_and_the_first_plugin_is_used() -> None:
    plugins = load(brings("b", trade("x")), brings("a", trade("x")))
    assert [(p.trade.name, p.plugin) for p in plugins.trades] == [("x", "a")]
    assert codes(plugins) == ["trade-twice"]
    assert "a and b both bring" in plugins.diagnostics[0].message


def test_two_documents_of_one_name_are_told() -> None:
    def document(name: str) -> FakeEntry:
        return FakeEntry(name, lambda: module(name, darby_documents=lambda: [Document("csv", name, str)]))

    plugins = load(document("b"), document("a"))
    assert [d.about for d in plugins.documents] == ["a"]
    assert codes(plugins) == ["name-twice"]


def test_a_trade_takes_the_place_of_the_one_it_replaces() -> None:
    plugins = load(
        brings("built-in", trade("coatings"), trade("z")), brings("firm", trade("our coatings", replaces="coatings"))
    )
    assert names(plugins) == ["our coatings", "z"]
    assert [(d.code, d.severity) for d in plugins.diagnostics] == [("trade-replaced", Severity.NOTE)]
    assert plugins.failed == ()


def test_a_trade_may_replace_another_under_the_same_name() -> None:
    for firm in ("aaa", "zzz"):
        plugins = load(brings("m", trade("coatings")), brings(firm, trade("coatings", replaces="coatings")))
        assert [(p.trade.name, p.plugin) for p in plugins.trades] == [("coatings", firm)]
        assert codes(plugins) == ["trade-replaced"]


def test_replacing_a_trade_that_is_not_there_is_told_with_the_nearest() -> None:
    plugins = load(brings("m", trade("coatings")), brings("firm", trade("ours", replaces="coating")))
    assert names(plugins) == ["coatings", "ours"]
    assert codes(plugins) == ["replaces-nothing"]
    assert plugins.diagnostics[0].help == "Did you mean coatings?"


def test_of_two_that_replace_one_trade_the_first_does() -> None:
    plugins = load(
        brings("m", trade("x")), brings("n", trade("q", replaces="x")), brings("o", trade("p", replaces="x"))
    )
    assert names(plugins) == ["p"]
    assert codes(plugins) == ["trade-replaced", "trade-twice"]


def test_two_trades_that_replace_each_other_leave_one() -> None:
    plugins = load(brings("m", trade("x", replaces="y")), brings("n", trade("y", replaces="x")))
    assert names(plugins) == ["x"]


def test_plugins_are_blocked_by_name_before_they_are_loaded() -> None:
    bad = FakeEntry("bad", fails(ImportError("x")))
    plugins = load(*GOOD, bad, without=["bad", "alpha"])
    assert (names(plugins), codes(plugins), plugins.failed) == (["z"], [], ())
    plugins = load(*GOOD, bad, only=["alpha"])
    assert (names(plugins), codes(plugins), plugins.names) == (["a"], [], (("alpha", "1.2"),))
    assert load(*GOOD, only=[]).names == ()


def test_blocking_an_unknown_plugin_is_the_users_mistake_and_names_the_nearest() -> None:
    plugins = load(*GOOD, without=["alfa"], only=["alpha", "zulu", "mike"])
    assert [(d.code, d.severity, d.help) for d in plugins.diagnostics] == [
        ("plugin-unknown", Severity.ERROR, "Did you mean alpha?"),
        ("plugin-unknown", Severity.ERROR, "The plugins are: alpha, zulu."),
    ]
    assert names(plugins) == ["a", "z"]


@pytest.mark.parametrize(
    "words",
    ["not toml [", "[nonsense", "[words]\nx = 3\ny = [[1]]\n" * 2],
    ids=["no TOML", "half a table", "a table twice"],
)
def test_words_that_cannot_be_used_are_left_out_and_the_rest_is_read(words: str) -> None:
    broken = FakeEntry("m", lambda: module("m", darby_vocabulary=lambda: [Vocabulary("m", Source("w.toml", words))]))
    assert read_with(broken) == (read_with()[0], ("m (vocabulary)",), ["plugin-broken"])


@pytest.mark.parametrize("grammar", ["start: (((", "start: UNHEARD_OF\n"], ids=["no grammar", "a terminal nobody has"])
def test_a_grammar_that_cannot_be_used_is_left_out_and_the_rest_is_read(grammar: str) -> None:
    broken = FakeEntry("m", lambda: module("m", darby_readers=lambda: [Reader("m", (), grammar, object())]))
    assert read_with(broken) == (read_with()[0], ("m (reader)",), ["plugin-broken"])


def read_with(*more: FakeEntry) -> tuple[list[str], tuple[str, ...], list[str]]:
    """What a specification says, what is missing and which codes are told, with the installed readers and more."""
    from importlib.metadata import entry_points

    from darby.rules.rule import SPECIFICATION

    installed = [e for e in entry_points(group="darby") if e.name in {"grammars", "coatings"}]
    spec = Source("s.txt", "Walls: two coats finish paint.")
    wall = Surface("W", "wall", Amount.read("1 m2"), Amount.of(1), Source("j", "").span(0, 0))
    done = estimate(Job("j", "us", (wall,)), [(spec, SPECIFICATION)], evolve(load(*installed, *more), trades=()))
    return (
        [r.key for r in done.rules],
        done.missing,
        [d.code for d in done.diagnostics if d.severity is Severity.WARNING],
    )


FILE = """
from __future__ import annotations
from dataclasses import dataclass
from darby.quantities.amounts import Amount
from darby.plugin_host.hooks import hookimpl
from darby.estimate.line_item import LineItem
from darby.estimate.trade import Trade

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


def test_loading_the_module_loads_no_pluggy() -> None:
    script = "import sys, darby.plugin_host.loader; print('pluggy' in sys.modules)"
    done = subprocess.run((sys.executable, "-c", script), capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"
