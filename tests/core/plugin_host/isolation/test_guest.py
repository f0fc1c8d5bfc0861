"""What a plugin gives is the same, byte for byte, in its child and in Darby's own process; another trade's lines go in, in order."""

from __future__ import annotations

import json
import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from darby.documents.exact_json.estimate import estimate_json
from darby.estimate.line_item import LineItem
from darby.estimate.model import Estimate
from darby.estimate.trade import Trade
from darby.job.loader import load
from darby.job.model import Job
from darby.pipeline import estimate
from darby.plugin_host.loader import load_plugins
from darby.plugin_host.model import Plugins
from darby.quantities.amounts import Amount
from darby.rules.consultation import Consultation
from darby.rules.rule import SPECIFICATION
from darby.testing.bench import PLAIN
from darby.text.spans import Source
from outsiders import outsiders, own
from rogues import lines, plugin

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
