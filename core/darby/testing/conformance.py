"""What every trade has to keep to, one check each. A check yields what is wrong, in sentences; nothing means it passes."""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Callable, Iterable, Iterator
from functools import partial
from pathlib import Path

from attrs import evolve

from darby.documents.exact_json.estimate import estimate_json, item_json
from darby.estimate.line_item import LineItem
from darby.estimate.model import Estimate
from darby.plugin_host.discovery import installed
from darby.plugin_host.isolation.child import Child
from darby.plugin_host.isolation.failures import BrokenError, why
from darby.plugin_host.isolation.item_checks import inexact_in
from darby.plugin_host.loader import load_plugins
from darby.quantities.amounts import Amount, walk
from darby.rules.rule import DEFAULT
from darby.testing.bench import HOSTILE, PLAIN, Bench

SYSTEMS = ("us", "metric")

Check = Callable[[Bench], Iterator[str]]


def faults(bench: Bench) -> list[str]:
    """Everything that is wrong with the trade on the bench, each sentence behind the name of its check."""
    return [f"{name}: {fault}" for name, check in CHECKS.items() for fault in check(bench)]


def _orders(bench: Bench) -> Iterator[str]:
    """Some line, on an ordinary job, in each system."""
    for units in SYSTEMS:
        made = bench.estimate(bench.job(units=units))
        yield from (d.message for d in made.diagnostics if bench.name in made.missing and d.code == "trade-failed")
        if not any(item.trade == bench.name for item in made.items):
            yield f"it orders nothing on an ordinary job in {units} units; say in `specification` what makes it order"


def _only_its_own(bench: Bench) -> Iterator[str]:
    """The lines, cautions and conflicts of the others are the same with and without it, byte for byte; but for surfaces that it claims."""
    if bench.trade.trade.replaces:
        return
    bench = bench.claiming_nothing()
    for units in SYSTEMS:
        job = bench.job(units=units)
        with_it, without = bench.estimate(job), bench.estimate(job, without=True)
        if _told([i for i in with_it.items if i.trade != bench.name], with_it) != _told(without.items, without):
            yield f"the lines of other trades differ in {units} units when it is there"
    for found in bench.careful.told:
        yield found.message


def _pure(bench: Bench) -> Iterator[str]:
    """The same input gives the same lines, nothing it is given changes, and nothing outside is touched."""
    try:
        seen = Child(partial(_watched, bench)).ask(b"").decode() if hasattr(os, "fork") else ""
    except BrokenError as error:
        seen = f"it {error}"
    if seen:
        yield seen
        return
    for units in SYSTEMS:
        job = bench.job(units=units)
        before = repr(job)
        first, second = (_told(bench.line_items(job), None) for _ in range(2))
        if first != second:
            yield f"called twice for one job in {units} units it gives different lines"
        if repr(job) != before:
            yield "it changes the job it is given"


def _watched(bench: Bench, _: bytes) -> bytes:
    """In a child process, where a watcher does no harm: call the trade, and say what it wrote or reached for meanwhile."""
    job = bench.job()
    seen: list[str] = []
    folder = Path.cwd()

    def watch(event: str, arguments: tuple[object, ...]) -> None:
        writes = event == "open" and bool(set(str(arguments[1] or "")) & set("wax+"))
        if writes or event.startswith(_OUTSIDE):
            seen.append(f"{event} {arguments[0] if arguments else ''}".strip())

    try:
        bench.line_items(job)  # what is imported or read on the first call is not watched
        sys.addaudithook(watch)
        bench.line_items(job)
    except (Exception, SystemExit) as error:
        return f"it {why(error)}".encode()
    if Path.cwd() != folder:
        return b"it changed the folder the program works in"
    return f"it reaches outside when it is called ({seen[0]})".encode() if seen else b""


_OUTSIDE = ("os.remove", "os.rename", "os.mkdir", "os.rmdir", "os.system", "os.exec", "os.putenv", "socket.", "subprocess.", "shutil.")  # fmt: skip


def _exact(bench: Bench) -> Iterator[str]:
    """No float in any quantity, nor in a step of its working."""
    for units in SYSTEMS:
        for measured in (PLAIN, HOSTILE):
            run = bench.call(bench.job(measured, units))
            if run.failure:
                yield f"it {run.failure}"
            for item in run.items:
                for inexact in inexact_in(item):
                    yield f"{item.id} has {inexact!r} in its working, which is not exact"


def _units(bench: Bench) -> Iterator[str]:
    """What is needed goes into packages, and is measured in the system of the job."""
    for units in SYSTEMS:
        for item in bench.estimate(bench.job(units=units)).items:
            if item.trade != bench.name:
                continue
            if item.need.unit.under or len(item.need.unit.dimension) > 1:
                yield f"{item.id} needs {item.need}, which is no quantity that can be bought"
            if item.package is not None and item.count is None:
                yield f"{item.id} cannot be counted in packages of {item.package}"
            if item.need.unit.system not in ("", units):
                yield f"{item.id} is measured in {item.need.unit} on a job in {units} units"


def _traceable(bench: Bench) -> Iterator[str]:
    """Every number was read or measured somewhere, or is called by a name; every line rests on a rule or a measurement."""
    for item in _lines(bench):
        places = 0
        for amount in _amounts(item):
            if amount.step.op != "given":
                continue
            if amount.step.origin.place is not None:
                places += 1
            elif not amount.label and amount.value not in (0, 1):
                yield f"{item.id} has {amount} in its working, and nobody said so: name it, or take it from a rule"
        if not places and item.need:
            yield f"{item.id} rests on no rule and no measurement"


def _defaults(bench: Bench) -> Iterator[str]:
    """Default lines for both systems or none, each understood to its last number, each with its source in brackets."""
    defaults = bench.trade.trade.defaults
    for units in SYSTEMS:
        if defaults and units not in defaults:
            yield f"it has no default lines for {units} units"
    for units, source in sorted(defaults.items()):
        reading = bench.careful(source, DEFAULT, strict=True)
        yield from (f"{d.span or source.name}: {d.message}" for d in reading.diagnostics)
        yield from (f"{n.span}: {n.span.text} is {n.became}: {n.why}" for n in reading.numbers if n.became == "unread")
        rules = [*reading.rules, *bench.set_in(source)]
        ruled = {rule.span.line for rule in rules}
        for number, line in enumerate(source.text.splitlines(), 1):
            if line.strip() and not line.lstrip().startswith("#") and number not in ruled:
                yield f"{source.name} line {number} makes no rule: {line.strip()}"
        for rule in rules:
            if not rule.cited:
                yield f"{rule.span} ({units}) has no source: put it in brackets at the end of the line"


def _sturdy(bench: Bench) -> Iterator[str]:
    """An empty job orders nothing, and amounts that nobody builds break nothing."""
    for units in SYSTEMS:
        for what, measured in (("an empty job", ""), ("a job of hostile amounts", HOSTILE)):
            job = bench.job(measured, units)
            run = bench.call(job)
            if run.failure:
                yield f"on {what} in {units} units it {run.failure}"
            elif not measured and any(item.need for item in run.items):
                yield f"on {what} it orders {run.items[0].id}"
            for item in run.items:
                if item.order is not None and item.package is not None and item.order * item.package < item.need:
                    yield f"on {what} in {units} units {item.id} falls short of its need"


def _any_order(bench: Bench) -> Iterator[str]:
    """The order in which plugins are found, surfaces apart, changes nothing."""
    entries = tuple(installed()) if bench.entries is None else bench.entries
    seen = set()
    for order in (entries, entries[::-1], entries[1::2] + entries[::2]):
        other = evolve(bench, plugins=load_plugins(entries=order, files=bench.files))
        seen.add(json.dumps(estimate_json(other.estimate(bench.job())), sort_keys=True))
    if len(seen) > 1:
        yield "the estimate depends on the order in which plugins are found"


def _told_in_words(bench: Bench) -> Iterator[str]:
    """A title, one sentence of what it is about, and cautions that say whose rule they are."""
    trade = bench.trade.trade
    if not trade.title.strip() or not trade.about.strip().endswith("."):
        yield "it needs a title, and one whole sentence in `about`"
    for caution in trade.cautions:
        if not caution.cited.strip():
            yield f"the caution {caution.topic} does not say whose rule it is (`cited`)"
    for item in _lines(bench):
        for note in item.notes:
            if not note.strip().endswith("."):
                yield f"{item.id} has a note that is no sentence: {note}"


CHECKS: dict[str, Check] = {
    "orders something": _orders,
    "adds only its own lines": _only_its_own,
    "is pure": _pure,
    "is exact": _exact,
    "has units that fit": _units,
    "is traceable": _traceable,
    "has defaults that are read in full": _defaults,
    "survives empty jobs and hostile amounts": _sturdy,
    "takes plugins in any order": _any_order,
    "tells itself in words": _told_in_words,
}
"""Each check by what it says of a trade that passes."""


def _lines(bench: Bench) -> Iterator[LineItem]:
    for units in SYSTEMS:
        for measured in (PLAIN, HOSTILE):
            yield from bench.call(bench.job(measured, units)).items


def _amounts(item: LineItem) -> Iterator[Amount]:
    yield from walk(item.need)
    if item.package is not None:
        yield from walk(item.package)


def _told(items: Iterable[LineItem], made: Estimate | None) -> str:
    """Lines as the JSON document tells them, and what else of the estimate moves with them."""
    told = [item_json(item, made.rules if made else ()) for item in items]
    return json.dumps(told, sort_keys=True)
