"""Trades called alone: what one breaks costs its own lines only."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator
from fractions import Fraction
from typing import Any

import pytest
from attrs import evolve

from darby.estimate.line_item import LineItem
from darby.job.model import Job
from darby.quantities.amounts import Amount
from darby.quantities.units import UNITS
from darby.rules.consultation import Consultation
from darby.text.diagnostics import Severity
from little_jobs import gives, picture, provided, run


def raises(job: Job, book: Consultation) -> Iterator[LineItem]:
    yield LineItem("glue", Amount.of(1))
    raise ValueError("no width")


def recurses(job: Job, book: Consultation) -> Any:
    return recurses(job, book)


def exits(job: Job, book: Consultation) -> Any:
    raise SystemExit(3)


def endless(job: Job, book: Consultation) -> Iterator[LineItem]:
    for n in itertools.count():
        yield LineItem(f"p{n}", Amount.of(1))


def nothing(job: Job, book: Consultation) -> Any:
    return None


GAL, LB_PAIL = UNITS["gal"], Amount.read("64 lb") / Amount.of(1, "pail")
INEXACT = Amount(0.5, GAL, Amount.of(1).step)  # type: ignore[arg-type]


class UnsayableError(Exception):
    def __str__(self) -> str:
        raise RuntimeError("worse")


def unsayable(job: Job, book: Consultation) -> Any:
    raise UnsayableError


NONSENSE: dict[str, tuple[Callable[[Job, Consultation], Any], str]] = {
    "raises": (raises, "ValueError: no width (plugin_host/test_trade_runner.py, line"),
    "recurses": (recurses, "RecursionError"),
    "exits": (exits, "SystemExit: 3"),
    "raises what cannot be said": (unsayable, "raised UnsayableError"),
    "never ends": (endless, "more than 10000 line items"),
    "nothing": (nothing, "TypeError"),
    "text": (gives("glue"), "gave a str where a LineItem is wanted"),
    "no product": (gives(LineItem("", Amount.of(1))), "without a product"),
    "a float": (gives(LineItem("glue", INEXACT)), "no exact quantity"),
    "no amount": (gives(LineItem("glue", 3)), "no exact quantity"),  # type: ignore[arg-type]
    "below zero": (gives(LineItem("glue", Amount.of(-1, "gal"))), "no exact quantity"),
    "an empty package": (gives(LineItem("glue", Amount.of(1, "lb"), {}, LB_PAIL * 0)), "whose package"),
    "another measure": (gives(LineItem("glue", Amount.of(1, "gal"), {}, LB_PAIL)), "does not go into packages"),
    "a package of no container": (
        gives(LineItem("glue", Amount.of(1, "gal"), {}, Amount.of(2, "gal"))),
        "does not go into",
    ),
    "the same twice": (gives(LineItem("glue", Amount.of(1)), LineItem("Glue", Amount.of(2))), "two line items called"),
    "a pool of numbers": (gives(LineItem("glue", Amount.of(1), {"size": 3})), "pool holds something other"),
    "rules that are none": (gives(LineItem("glue", Amount.of(1), rules=("x",))), "rules or notes"),  # type: ignore[arg-type]
}


@pytest.mark.parametrize("name", NONSENSE)
def test_a_trade_that_fails_costs_its_own_lines_only(name: str) -> None:
    line_items, said = NONSENSE[name]
    good = run(provided())
    bad = run(provided(line_items, name="aaa", defaults=None), provided())
    assert picture(bad) == picture(good)
    assert [q.text for q in bad.questions] == [q.text for q in good.questions]
    assert (bad.complete, bad.missing, bad.trades) == (False, ("aaa",), good.trades)
    [told] = bad.diagnostics
    assert (told.code, told.severity) == ("trade-failed", Severity.WARNING)
    assert "aaa-plugin 1.2" in told.message
    assert said in told.message


def test_a_count_may_be_ordered_singly() -> None:
    done = run(provided(gives(LineItem("hook", Amount.of(Fraction(5, 2)), {}, Amount.of(1)))))
    assert picture(done) == [("coatings:hook", "2.5", 3)]


def test_items_are_sorted_by_trade_product_and_pool() -> None:
    items = [LineItem(p, Amount.of(1), {"size": s}) for p, s in (("b", "2"), ("a", "9"), ("b", "1"))]
    others = [evolve(item, product=f"{item.product}-") for item in items]
    done = run(provided(gives(*items), name="t"), provided(gives(*others), name="s"))
    assert [i.id for i in done.items] == ["s:a-:9", "s:b-:1", "s:b-:2", "t:a:9", "t:b:1", "t:b:2"]
