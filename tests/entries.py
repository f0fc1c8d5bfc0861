"""Small sound plugins, as entry points that need no installation, and what is loaded of them."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial
from types import ModuleType, SimpleNamespace
from typing import Any

from attrs import frozen

from darby.estimate.line_item import LineItem
from darby.estimate.trade import Trade
from darby.job.model import Job, Surface
from darby.pipeline import estimate
from darby.plugin_host.hooks import hookimpl
from darby.plugin_host.loader import load_plugins
from darby.plugin_host.model import Plugins
from darby.quantities.amounts import Amount
from darby.reading.read import Language, Reading
from darby.rules.consultation import Consultation
from darby.text.spans import Source

RELEASE = SimpleNamespace(version="1.2")


@frozen
class FakeEntry:
    """An entry point that needs no installation."""

    name: str
    load: Callable[[], Any]
    dist: Any = RELEASE


def line_items(job: Job, book: Consultation, product: str = "hook") -> Iterator[LineItem]:
    yield LineItem(product, Amount.of(len(job.surfaces)))


def trade(name: str, **more: Any) -> Trade:
    return Trade(name, name.title(), partial(line_items, product=f"hook {name}"), **more)  # goods of its own


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
