"""Two that bring the same name, trades that replace others, plugins that are left out."""

from __future__ import annotations

import itertools

from darby.estimate.document_format import Document
from darby.text.diagnostics import Severity
from entries import FakeEntry, brings, codes, fails, load, module, names, trade


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
