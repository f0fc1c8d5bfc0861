"""The work that trades tell, each asked alone."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

import pytest
from attrs import evolve

from bids import ROOM, plugins
from darby.bid.tasks import operations_of, tasks_of
from darby.estimate.trade import Trade
from darby.job.model import Job
from darby.labor.task import Operation, Task
from darby.plugin_host.model import Plugins, Provided
from darby.quantities.amounts import Amount
from desk import estimated

FIT = Operation("fit gasket")


def with_trade(work: Callable[..., Any] | None, *, own: bool = True) -> Plugins:
    """Darby's trades, and one more that tells this work."""
    trade = Trade("gasket", "Gasket", lambda _job, _book: (), operations=(FIT,), labor=work)
    return evolve(plugins(), trades=(*plugins().trades, Provided(trade, "our-gasket", "1", own)))


def told(work: Callable[..., Any] | None, *, own: bool = True) -> tuple[list[str], list[str]]:
    made = evolve(estimated(ROOM), trades=(*estimated(ROOM).trades, ("gasket", "our-gasket", "1")))
    found = tasks_of(made, with_trade(work, own=own))
    return [w.operation for w in found.works if w.trade == "gasket"], [d.message for d in found.diagnostics]


def one(_job: Job, _book: object) -> Iterable[Task]:
    yield Task("fit gasket", (Amount.read("60 ft"),))


def test_the_built_in_trades_tell_their_work() -> None:
    found = tasks_of(estimated(ROOM), plugins())
    assert {(w.trade, w.operation, w.about["surface"], str(w.amounts[0])) for w in found.works if "surface" in w.about} == {
        ("board", "hang gypsum board", "wall", "480 sq ft"), ("board", "hang gypsum board", "ceiling", "200 sq ft"),
        ("joints", "finish joints", "wall", "480 sq ft"), ("joints", "finish joints", "ceiling", "200 sq ft"),
        ("coatings", "apply primer", "wall", "480 sq ft"), ("coatings", "apply primer", "ceiling", "200 sq ft"),
        ("coatings", "apply finish paint", "wall", "960 sq ft"), ("coatings", "apply finish paint", "ceiling", "400 sq ft"),
    }  # fmt: skip
    assert not found.silent
    assert not found.diagnostics


def test_doors_are_counted_and_trim_is_measured_along() -> None:
    job = ROOM + '[[doors]]\nname = "inner doors"\nwidth = "2 ft 8 in"\nheight = "6 ft 8 in"\ncount = 7\n'
    job += '[[trim]]\nname = "base"\nlength = "220 ft"\nwidth = "6 in"\n'
    found = tasks_of(estimated(job), plugins())
    measures = {
        w.about["surface"]: [str(a) for a in w.amounts] for w in found.works if w.operation == "apply finish paint"
    }
    assert measures["door"][1] == "14"  # seven doors, two coats
    assert measures["trim"] == ["220 sq ft", "440 ft"]


@pytest.mark.parametrize("own", [True, False])
def test_a_trade_of_a_firm_tells_its_work_as_the_built_in_ones_do(own: bool) -> None:
    assert told(one, own=own) == (["fit gasket"], [])
    assert operations_of(with_trade(one))["fit gasket"] == FIT


def bad_unit(_job: Job, _book: object) -> Iterable[Task]:
    yield Task("fit gasket", ())


def stranger(_job: Job, _book: object) -> Iterable[Task]:
    yield Task("lay carpet", (Amount.read("60 ft"),))


def nonsense(_job: Job, _book: object) -> Iterable[Any]:
    yield "gasket"


def raising(_job: Job, _book: object) -> Iterable[Task]:
    raise RuntimeError("no gasket today")


@pytest.mark.parametrize("own", [True, False])
@pytest.mark.parametrize(
    ("work", "why"),
    [
        (bad_unit, "no exact quantity"),
        (stranger, "not among its operations"),
        (nonsense, "a str was given"),
        (raising, "no gasket today"),
    ],
)
def test_what_a_trade_does_wrong_costs_its_own_hours(work: Callable[..., Any], why: str, own: bool) -> None:
    works, (message,) = told(work, own=own)
    assert not works
    assert why in message
    assert "Its hours are missing." in message


def test_a_trade_that_orders_and_tells_no_work_is_asked_about() -> None:
    trades = tuple(
        evolve(p, trade=evolve(p.trade, labor=None)) if p.trade.name == "fasteners" else p for p in plugins().trades
    )
    assert tasks_of(estimated(ROOM), evolve(plugins(), trades=trades)).silent == ("fasteners",)
