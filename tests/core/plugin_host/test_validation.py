"""What a plugin brings is looked over before it is used."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from types import ModuleType, SimpleNamespace
from typing import Any

import pytest

from darby.estimate.document_format import Document
from darby.estimate.trade import Trade
from darby.plugin_host import loader
from darby.plugin_host.loader import load_plugins
from darby.reading.parsing.fact_parser import Reader
from darby.reading.parsing.vocabulary import Vocabulary
from darby.text.diagnostics import Severity
from entries import GOOD, FakeEntry, brings, codes, fails, items, load, module, names, trade
from outsiders import own
from rogues import plugin


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
    "states versions to come": (lambda: module("m", (2, 3)), "plugin-api", "for versions 2 to 3 of the hooks; this is version 1"),
    "states no numbers": (lambda: module("m", ("1", "2")), "plugin-api", "for versions '1' to '2' of the hooks"),
    "states another version": (lambda: module("m", 2), "plugin-api", "for version 2 of the hooks; this is version 1"),
    "misspells a hook": (lambda: module("m", darby_trade=lambda: ()), "plugin-hook", "darby_trade,"),
    "does not mark a hook": (unmarked, "plugin-hook", "darby_trades that is not marked"),
    "hook wants an argument": (takes_too_much, "plugin-broken", "cannot be used"),
    "hook raises": (lambda: module("m", darby_trades=fails(ValueError("no words"))), "plugin-broken",
                    "darby_trades raised ValueError: no words (tests/entries.py, line"),
    "hook exits": (lambda: module("m", darby_readers=fails(SystemExit(1))), "plugin-broken", "darby_readers raised"),
    "hook returns nothing": (lambda: module("m", darby_trades=lambda: None), "plugin-broken", "returned nothing"),
    "hook returns one": (lambda: module("m", darby_trades=lambda: trade("m")), "plugin-broken", "a list of Trade is wanted"),
    "hook returns text": (lambda: module("m", darby_vocabulary=lambda: "words"), "plugin-broken", "returned a str"),
    "hook returns the wrong thing": (lambda: module("m", darby_trades=lambda: [trade("m"), 3]), "plugin-broken",
                                     "returned a int in its list"),
    "trade has no name": (lambda: module("m", darby_trades=lambda: [trade("")]), "plugin-broken", "without a name"),
    "trade takes keys of the job": (lambda: module("m", darby_trades=lambda: [trade("m", marks={"length": "m", "faces": ""})]),
                                    "plugin-broken", "whose marks take faces, length, which every job file has a meaning for"),
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


@cache
def sound() -> list[tuple[str, str]]:
    """What is ordered where nothing is broken."""
    return items(load(*GOOD))


@pytest.mark.parametrize("name", BROKEN)
def test_a_broken_plugin_is_named_and_costs_nothing_else(name: str) -> None:
    plugin, code, said = BROKEN[name]
    plugins = load(GOOD[0], FakeEntry("mike", plugin), GOOD[1])
    assert items(plugins) == sound() == [("a:hook-a", "1"), ("z:hook-z", "1")]
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


@pytest.mark.parametrize("api", [1, (1, 1), (1, 4), [0, 1]])
def test_a_plugin_states_the_versions_that_it_works_with(api: object) -> None:
    found = load_plugins(entries=[plugin("fits", api, darby_vocabulary=lambda: ()), *own()])
    assert not found.failed


def test_an_argument_that_is_going_is_told_and_works_until_then(monkeypatch: pytest.MonkeyPatch) -> None:
    told = {"darby_vocabulary": {"units": "each vocabulary says it itself."}}
    monkeypatch.setattr(loader, "GOING", told)
    implementation = SimpleNamespace(plugin_name="old", argnames=("units",), function=lambda: ())
    hook = SimpleNamespace(get_hookimpls=lambda: [implementation])
    noted = loader._Noted()
    one = loader._Loader(noted)
    one._manager = SimpleNamespace(hook=SimpleNamespace(darby_vocabulary=hook))  # type: ignore[assignment]
    one._call("old", "old 1.0", "darby_vocabulary")
    assert [(code, message) for code, message, _, _ in noted.told] == [
        (
            "plugin-going",
            "The plugin old 1.0: darby_vocabulary takes units, which is going: each vocabulary says it itself.",
        )
    ]
    assert noted.things == {"darby_vocabulary": []}
