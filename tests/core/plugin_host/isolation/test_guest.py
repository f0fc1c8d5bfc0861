"""What a plugin gives is the same, byte for byte, in its child and in Darby's own process; another trade's lines go in, in order."""

from __future__ import annotations

import itertools
import json
import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from darby.documents.exact_json.estimate import estimate_json, item_json
from darby.estimate.areas import places, pooled
from darby.estimate.line_item import LineItem
from darby.estimate.model import Estimate
from darby.estimate.trade import Trade
from darby.job.loader import load
from darby.job.model import Job
from darby.job.rows.declared import JobTable, Key
from darby.pipeline import estimate
from darby.plugin_host.loader import load_plugins
from darby.plugin_host.model import Plugins
from darby.quantities.amounts import Amount, total
from darby.rules.consultation import Consultation
from darby.rules.rule import SPECIFICATION
from darby.testing.bench import PLAIN
from darby.text.diagnostics import Severity
from darby.text.spans import Source
from outsiders import outsiders, own
from rogues import lines, plugin, trade, words

SPEC = """Walls: one layer of batt insulation. Ceilings: one layer of vapor retarder.
Primer: one coat.
Gypsum board: 5/8 in. thick."""


def made_by(plugins: Plugins) -> Estimate:
    job, found = load(Source("job.toml", f'name = "x"\nunits = "us"\n{PLAIN}'), plugins.marks)
    assert job is not None, found
    return estimate(job, [(Source("spec.txt", SPEC), SPECIFICATION)], plugins)


def test_two_trades_give_the_same_bytes_in_their_children_and_here() -> None:
    apart, here = (made_by(load_plugins(entries=[*own(), *outsiders()], here=h)) for h in (False, True))
    assert {"insulation", "vapour"} <= {i.trade for i in apart.items}
    assert json.dumps(estimate_json(apart)) == json.dumps(estimate_json(here))


def a_hook_a_sheet(job: Job, book: Consultation) -> Iterator[LineItem]:
    for item in book.orders.get("board", ()):
        if item.order is not None:
            yield LineItem("hook", item.order.named("sheets of board") * Amount.of(2), dict(item.pool))


@pytest.mark.parametrize("here", [False, True])
def test_a_trade_goes_by_the_lines_of_another(here: bool) -> None:
    made = made_by(load_plugins(entries=[lines(a_hook_a_sheet, "aaa", after=("board",)), *own()], here=here))
    sheets = sum(item.count or 0 for item in made.items if item.trade == "board")
    assert sheets
    assert sum(item.need.value for item in made.items if item.trade == "aaa") == 2 * sheets


def test_trades_that_go_by_each_other_are_missing_and_so_is_what_goes_by_them() -> None:
    around = [lines(a_hook_a_sheet, name, after=(after,)) for name, after in (("a", "b"), ("b", "a"), ("c", "a"))]
    made = made_by(load_plugins(entries=[*around, *own()]))
    assert set(made.missing) == {"a", "b", "c"}
    assert sum("goes by the lines of a trade that goes by its own" in d.message for d in made.diagnostics) == 3


@pytest.mark.parametrize("after", [(), ("fickle",)])
def test_of_two_trades_of_a_plugin_the_one_that_differs_when_asked_again_is_missing(after: tuple[str, ...]) -> None:
    def hooks(job: Job, book: Consultation) -> Iterator[LineItem]:
        yield LineItem("hook", Amount.of(2))

    told = itertools.count(1)

    def differs(job: Job, book: Consultation) -> Iterator[LineItem]:
        yield LineItem("eye", Amount.of(next(told)))

    trades = [Trade("fickle", "Fickle", differs), Trade("steady", "Steady", hooks, after=after)]
    made = made_by(load_plugins(entries=[plugin("rogue", darby_trades=lambda: trades), *own()]))
    assert made.missing == ("fickle", *(("steady",) if after else ()))
    assert {i.trade for i in made.items} & {"fickle", "steady"} == (set() if after else {"steady"})
    assert any("gave other lines when it was asked the same again" in d.message for d in made.diagnostics)


def test_a_failure_names_the_authors_own_line_and_debugging_prints_the_traceback(
    monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    def gives_none(job: Job, book: Consultation) -> Iterator[Any]:
        yield LineItem("hook", Amount.of(2))
        yield None  # the line that is named

    line = gives_none.__code__.co_firstlineno + 2
    made = made_by(load_plugins(entries=[lines(gives_none), *own()]))
    assert any(f"test_guest.py, line {line})" in d.message for d in made.diagnostics)
    monkeypatch.setenv("DARBY_DEBUG", "1")
    made_by(load_plugins(entries=[lines(gives_none), *own()]))
    assert "Traceback" in capfd.readouterr().err


def test_one_that_broke_in_an_estimate_is_started_anew_for_the_next(tmp_path: Path) -> None:
    once = tmp_path / "once"

    def leaves_once(job: Job, book: Consultation) -> Iterator[LineItem]:
        if not once.exists():
            once.touch()
            os._exit(0)
        yield LineItem("hook", Amount.of(2))

    plugins = load_plugins(entries=[lines(leaves_once), *own()])
    first, second, third = (made_by(plugins) for _ in range(3))
    assert first.missing == ("rogue",)
    assert any("ended the program" in d.message for d in first.diagnostics)
    assert second.complete
    assert json.dumps(estimate_json(second)) == json.dumps(estimate_json(third))
    assert [i.id for i in second.items if i.trade == "rogue"] == ["rogue:hook"]


def test_one_that_registers_something_else_when_it_is_started_anew_is_told(tmp_path: Path) -> None:
    once = tmp_path / "once"

    def leaves(job: Job, book: Consultation) -> Iterator[LineItem]:
        once.touch()
        os._exit(0)

    def trades() -> list[Trade]:
        return [Trade("rogue", "Other" if once.exists() else "Rogue", leaves)]

    plugins = load_plugins(entries=[plugin("rogue", darby_trades=trades), *own()])
    made_by(plugins)
    made = made_by(plugins)
    assert made.missing == ("rogue",)
    assert any("registers something else when it is started anew" in d.message for d in made.diagnostics)


def test_nothing_of_a_plugin_is_loaded_here() -> None:
    def tells(job: Job, book: Consultation) -> Iterator[LineItem]:
        yield LineItem("hook", Amount.of(os.getpid()))

    made = made_by(load_plugins(entries=[lines(tells), *own()]))
    (item,) = (i for i in made.items if i.trade == "rogue")
    assert item.need.value != os.getpid()


DECKS = JobTable(
    "decks",
    "deck",
    "flat",
    of_rooms=True,
    keys=(Key("laid", "word", words=("straight", "diagonal")), Key("side", "length")),
)
DECKED = """
[[decks]]
name = "roof"
area = "90 sq ft"
laid = "diagonal"
side = "18 in"
"""


def a_line_a_deck(job: Job, book: Consultation) -> Iterator[LineItem]:
    for place in places([e.surface for e in job.entries("decks") if e.surface], book):
        laid = place.first.marks.get("laid", "straight")
        yield LineItem("plank", pooled(place.surfaces, units=job.units), {"laid": laid})
    sides = [side for entry in job.entries("decks") if (side := entry.amount("side")) is not None]
    if sides:
        yield LineItem("edge", total(sides).to("ft").named("edges"))


@pytest.mark.parametrize("here", [False, True])
def test_a_table_of_the_job_goes_to_the_trade_and_its_measures_come_back(here: bool) -> None:
    decking = lines(a_line_a_deck, "decking", tables=(DECKS,))
    with_it = load_plugins(entries=[decking, *own()], here=here)
    job, found = load(Source("job.toml", f'name = "x"\nunits = "us"\n{PLAIN}{DECKED}'), with_it.marks)
    assert job is not None, found
    made = estimate(job, [], with_it)
    assert not made.missing
    told = {(i.product, *i.pool.values()): i.need.exact() for i in made.items if i.trade == "decking"}
    assert told["plank", "diagonal"] == "90 sq ft"
    assert told["edge",] == "1 ft 6 in"
    plain = estimate(job_without_decks(), [], load_plugins(entries=own()))
    others = [item_json(i, made.rules) for i in made.items if i.trade != "decking"]
    assert json.dumps(others) == json.dumps([item_json(i, plain.rules) for i in plain.items])


def job_without_decks() -> Job:
    job, _ = load(Source("job.toml", f'name = "x"\nunits = "us"\n{PLAIN}'))
    assert job is not None
    return job


def test_a_table_that_two_plugins_bring_stays_with_the_first_and_a_wrong_one_is_refused() -> None:
    def none(job: Job, book: Consultation) -> tuple[LineItem, ...]:
        return ()

    two = [lines(none, name, tables=(DECKS,)) for name in ("aa", "bb")]
    found = load_plugins(entries=[*two, *own()])
    assert [d.message for d in found.diagnostics] == [
        "aa and bb both bring the table decks of a job; it stays with aa."
    ]
    assert found.marks.tables == {"decks": DECKS}
    assert {p.trade.name: p.trade.tables for p in found.trades if p.plugin in ("aa", "bb")} == {
        "aa": (DECKS,),
        "bb": (),
    }
    assert any("[[decks]]: name, length" in said for one in found.taken for said in one.job)
    refused = load_plugins(entries=[lines(none, "cc", tables=(JobTable("walls", "deck"),)), *own()])
    assert "whose table walls cannot be called so" in refused.diagnostics[0].message


CAULK = """
[subject]
"slab caulk" = ["slab caulk"]
[kinds]
"slab caulk" = ["consumption", "package"]
[units]
cord = ["60 ft", "cord", "cords"]
sausage = ["container", "sausage", "sausages"]
[ranges.consumption]
"slab caulk" = ["0.1 fl oz per 1 ft", "4 fl oz per 1 ft", "our practice"]
[ranges.layers]
"gypsum board" = ["5", "9", "never"]
"""


def a_bead_a_wall(job: Job, book: Consultation) -> Iterator[LineItem]:
    runs = [wall.length for wall in job.of_kind("wall") if wall.length is not None]
    rate, holds = book.ask("consumption", "slab caulk"), book.ask("package", "slab caulk")
    if runs and rate is not None and holds is not None:
        need = total(runs).to("ft").named("length of all walls")
        cords = need.to("cord").named("in cords")
        yield LineItem(
            "slab caulk", (need * rate.rate).named("caulk"), package=holds.rate, rules=(rate.rule, holds.rule)
        )
        yield LineItem("caulking cord", cords)


@pytest.mark.parametrize("here", [False, True])
def test_units_and_ranges_of_a_plugin_are_its_own(here: bool) -> None:
    caulk = plugin("caulk", darby_trades=trade(a_bead_a_wall, "caulk"), darby_vocabulary=words(CAULK, "caulk"))
    plugins = load_plugins(entries=[caulk, *own()], here=here)
    job, found = load(Source("job.toml", f'name = "x"\nunits = "us"\n{PLAIN}'), plugins.marks)
    assert job is not None, found
    spec = "10 fl oz of slab caulk per 60 ft. Slab caulk comes in sausages of 20 fl oz. Gypsum board: one layer."
    made = estimate(job, [(Source("spec.txt", spec), SPECIFICATION)], plugins)
    assert not made.missing
    assert [d.message for d in made.diagnostics if d.severity is Severity.WARNING] == [
        "caulk says in [ranges.layers] what is usual of gypsum board; that is for board to say."
    ]
    assert [r.confirm for r in made.rules if r.kind.name == "layers" and r.layer == SPECIFICATION] == [""]
    cord, caulked = (i for i in made.items if i.trade == "caulk")
    assert caulked.order is not None
    assert caulked.order.unit.name == "sausage"
    assert cord.need.unit.name == "cord"
    assert [r.confirm for r in made.rules if r.subject == "slab caulk"] == ["", ""]
    usual = estimate(
        job,
        [(Source("spec.txt", "50 fl oz of slab caulk per 1 ft. Joint compound: 14 lb per 100 sq ft."), SPECIFICATION)],
        plugins,
    )
    (rule,) = (r for r in usual.rules if r.subject == "slab caulk")
    assert "usual is 0.1 fl oz per 1 ft to 4 fl oz per 1 ft (our practice)" in rule.confirm


def test_a_plugin_whose_unit_is_another_is_left_out() -> None:
    caulk = plugin("caulk", darby_vocabulary=words('[units]\nsquare = ["100 sq ft", "board foot", "sq ft"]\n', "caulk"))
    told = load_plugins(entries=[caulk, *own()]).diagnostics[0].message
    assert "of whose units 'sq ft' is another unit already" in told
