"""The collector of cycles at the desk: never in the middle of a change, and not forgotten either."""

from __future__ import annotations

import gc
import time
import weakref
from collections.abc import Iterator
from pathlib import Path
from threading import Event

import pytest

from darby.desk.bench import Bench
from darby.desk.panes.own_line import Heard
from darby.desk.server import serve, tidied
from desks import bench, loft


class _Ring:
    """Something that only a collector finds: it holds itself."""

    def __init__(self) -> None:
        self.itself = self
        self.more = [[] for _ in range(20_000)]  # type: ignore[var-annotated]


@pytest.fixture(autouse=True)
def _collector() -> Iterator[None]:
    gc.enable()
    yield
    gc.enable()


def within(seconds: float, gone: weakref.ref[_Ring]) -> bool:
    end = time.monotonic() + seconds
    while gone() is not None and time.monotonic() < end:
        time.sleep(0.02)
    return gone() is None


def test_inside_nothing_is_collected_until_nobody_changes_anything(tmp_path: Path) -> None:
    desk = bench(loft(tmp_path))
    with tidied(desk, rest=60):
        assert not gc.isenabled()
        ring = weakref.ref(_Ring())
        desk.look()
        assert ring() is not None
    assert gc.isenabled()
    gc.collect()
    with tidied(desk, rest=0.05):
        ring = weakref.ref(_Ring())
        assert within(20, ring)


def test_many_changes_one_after_the_other_are_tidied_up_after_too(tmp_path: Path) -> None:
    desk = bench(loft(tmp_path))
    small = weakref.ref(_Ring())
    with tidied(desk, rest=0.3, most=2):
        for number in range(200):
            (tmp_path / "finishes.txt").write_text(f"Walls: {number % 5 + 1} coats eggshell.\n", encoding="utf-8")
            desk.look()
            if small() is None:
                break
        assert small() is None


def test_where_it_was_switched_off_it_stays_so(tmp_path: Path) -> None:
    gc.disable()
    with tidied(bench(loft(tmp_path)), rest=60):
        pass
    assert not gc.isenabled()


def test_the_work_ahead_begins_when_the_collector_is_held_back(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Begun before, it would hold the collector back itself, and let it run again for good when it is done."""
    done, seen = Event(), []

    def ahead(_: Bench) -> None:
        seen.append(gc.isenabled())
        done.set()

    monkeypatch.setattr(Bench, "ahead", ahead)
    monkeypatch.setattr("uvicorn.Server.run", lambda *_, **__: done.wait(20))
    started: list[str] = []
    serve(bench(loft(tmp_path)), lambda *_: Heard(), started.append)
    assert started
    assert seen == [False]
