"""The conformance check: Darby's own trades pass it, and each of its checks catches the trade that needs catching."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from attrs import evolve

from darby.estimate.line_item import LineItem
from darby.estimate.trade import Caution
from darby.job.model import Job
from darby.quantities.amounts import Amount, Step
from darby.rules.consultation import Consultation
from darby.testing import CHECKS, Bench, faults
from darby.text.spans import Source
from outsiders import own
from rogues import Entry, lines, moves_away, plugin, shrinks_the_job, trade, words

OWN = ("board", "coatings", "fasteners", "joints")


@pytest.fixture(scope="module")
def benches() -> dict[str, Bench]:
    return {name: Bench.of(name, entries=own()) for name in OWN}


@pytest.mark.parametrize("check", CHECKS)
@pytest.mark.parametrize("name", OWN)
def test_darbys_own_trades_pass(name: str, check: str, benches: dict[str, Bench]) -> None:
    assert list(CHECKS[check](benches[name])) == []


def walls(job: Job, book: Consultation) -> Iterator[LineItem]:
    """A sound line: the area of all walls."""
    areas = [s.gross.in_system(job.units) for s in job.of_kind("wall")]
    for number, area in enumerate(areas):
        yield LineItem("hook", area, {"wall": str(number)})


SOUND: dict[str, Any] = {"about": "Hooks on all walls."}


def caught(entry: Entry, check: str) -> list[str]:
    return list(CHECKS[check](Bench.of("rogue", entries=[entry, *own()])))


def test_a_sound_little_trade_passes_all() -> None:
    assert faults(Bench.of("rogue", entries=[lines(walls, **SOUND), *own()])) == []


def floating(job: Job, book: Consultation) -> Iterator[LineItem]:
    for item in walls(job, book):
        half = evolve(Amount.of(1), value=0.5)
        yield evolve(item, need=evolve(item.need, step=Step("*", (item.need, half))))


def untold(job: Job, book: Consultation) -> Iterator[LineItem]:
    for item in walls(job, book):
        yield evolve(item, need=item.need * Fraction(11, 10))


def from_nowhere(job: Job, book: Consultation) -> Iterator[LineItem]:
    yield LineItem("hook", Amount.of(4, label="hooks"))


def other_system(job: Job, book: Consultation) -> Iterator[LineItem]:
    for item in walls(job, book):
        yield evolve(item, need=item.need.to("sq yd"))


def square(job: Job, book: Consultation) -> Iterator[LineItem]:
    for item in walls(job, book):
        yield evolve(item, need=(item.need / Amount.read("1 gal")).named("spread"))


def first_wall(job: Job, book: Consultation) -> Iterator[LineItem]:
    yield LineItem("hook", job.of_kind("wall")[0].gross.in_system(job.units))


def one_without_walls(job: Job, book: Consultation) -> Iterator[LineItem]:
    yield LineItem("hook", Amount.of(1, label="one in any case"))


CALLS: list[int] = []


def counts_calls(job: Job, book: Consultation) -> Iterator[LineItem]:
    CALLS.append(1)
    for item in walls(job, book):
        yield evolve(item, need=(item.need * Amount.of(len(CALLS), label="calls")).named("hooks"))


def writes(job: Job, book: Consultation) -> Iterator[LineItem]:
    with open(os.devnull, "w") as out:
        out.write("x")
    return walls(job, book)


def runs_a_program(job: Job, book: Consultation) -> Iterator[LineItem]:
    os.system("true")
    return walls(job, book)


def nothing(job: Job, book: Consultation) -> Iterator[LineItem]:
    return iter(())


def short_note(job: Job, book: Consultation) -> Iterator[LineItem]:
    for item in walls(job, book):
        yield evolve(item, notes=("mind the gap",))


def lined(us: str, metric: str | None) -> Entry:
    texts = {"us": us} if metric is None else {"us": us, "metric": metric}
    return lines(walls, defaults={units: Source(f"d.{units}", text) for units, text in texts.items()}, **SOUND)


BAD: list[tuple[str, Callable[[], Entry], str, str]] = [
    ("orders nothing", lambda: lines(nothing, **SOUND), "orders something", "orders nothing on an ordinary job"),
    ("fails", lambda: lines(shrinks_the_job, **SOUND), "is pure", "changes the job it is given"),
    ("claims a word", lambda: plugin("rogue", darby_trades=trade(walls), darby_vocabulary=words('[subject]\nhook = ["primer"]')),
     "adds only its own lines", "both claim the word"),
    ("counts its calls", lambda: lines(counts_calls, **SOUND), "is pure", "gives different lines"),
    ("writes", lambda: lines(writes, **SOUND), "is pure", "reaches outside when it is called (open /dev/null)"),
    ("runs a program", lambda: lines(runs_a_program, **SOUND), "is pure", "starts no other program"),
    ("moves away", lambda: lines(moves_away, **SOUND), "is pure", "changed the folder"),
    ("hides a float", lambda: lines(floating, **SOUND), "is exact", "0.5 in its working"),
    ("uses a number nobody said", lambda: lines(untold, **SOUND), "is traceable", "1.1 in its working"),
    ("rests on nothing", lambda: lines(from_nowhere, **SOUND), "is traceable", "rests on no rule and no measurement"),
    ("measures in the other system", lambda: lines(other_system, **SOUND), "has units that fit", "on a job in metric units"),
    ("needs a rate", lambda: lines(square, **SOUND), "has units that fit", "no quantity that can be bought"),
    ("has us lines only", lambda: lined("Primer: 300 sq ft per gal. [x]", None), "has defaults that are read in full",
     "no default lines for metric"),
    ("has a line nobody reads", lambda: lined("Hooks: seven to the dozen. [x]", ""), "has defaults that are read in full", "line 1"),
    ("has a line without source", lambda: lined("Primer: 300 sq ft per gal.", ""), "has defaults that are read in full",
     "has no source"),
    ("wants a wall", lambda: lines(first_wall, **SOUND), "survives empty jobs and hostile amounts", "on an empty job"),
    ("orders on an empty job", lambda: lines(one_without_walls, **SOUND), "survives empty jobs and hostile amounts", "it orders"),
    ("says nothing of itself", lambda: lines(walls), "tells itself in words", "one whole sentence"),
    ("cites nobody", lambda: lines(walls, cautions=(Caution("Hooks", "Mind."),), **SOUND), "tells itself in words", "whose rule it is"),
    ("has half a note", lambda: lines(short_note, **SOUND), "tells itself in words", "mind the gap"),
]  # fmt: skip


@pytest.mark.parametrize(("entry", "check", "said"), [b[1:] for b in BAD], ids=[b[0] for b in BAD])
def test_a_check_catches_the_trade_it_is_for(entry: Callable[[], Entry], check: str, said: str, tmp_path: Path) -> None:
    found = caught(entry(), check)
    assert any(said in fault for fault in found), found


def test_every_check_but_the_order_of_plugins_is_seen_to_catch_something() -> None:
    assert {b[2] for b in BAD} == CHECKS.keys() - {"takes plugins in any order"}


def test_a_trade_that_is_not_there_is_named_with_those_that_are() -> None:
    with pytest.raises(LookupError, match="there is no trade bord; the trades are board, coatings, fasteners, joints"):
        Bench.of("bord", entries=own())
