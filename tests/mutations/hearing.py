"""Plugins of pytest: one hears which functions a test runs, one runs chosen tests only."""

from __future__ import annotations

import json
import sys
import time
from collections.abc import Generator, Iterable, Sequence
from pathlib import Path
from types import CodeType, FrameType

import pytest
from attrs import define, field, frozen


@frozen
class Heard:
    """What is known of a test: how long it took, and where the functions begin that it ran, as `file:line`."""

    test: str
    seconds: float
    ran: frozenset[str]

    @property
    def file(self) -> str:
        """The file that it lies in."""
        return self.test.partition("::")[0]


@define(eq=False)
class Hearing:
    """Notes for each test what it runs of the code under `root`, and writes it down in the end."""

    root: Path
    notes: Path
    heard: list[Heard] = field(factory=list)
    useless: set[str] = field(factory=set)
    _codes: dict[int, tuple[CodeType, str]] = field(factory=dict)
    """Kept, since another could get the id of one that is gone."""

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Generator[None, object, object]:
        """Around the whole of a test, with its fixtures."""
        seen: dict[int, CodeType] = {}

        def called(frame: FrameType, _event: str, _arg: object) -> None:
            seen[id(frame.f_code)] = frame.f_code

        begun = time.perf_counter()
        sys.settrace(called)
        try:
            return (yield)
        finally:
            sys.settrace(None)
            ran = frozenset(name for code in seen.values() if (name := self._name(code)))
            self.heard.append(Heard(item.nodeid, time.perf_counter() - begun, ran))

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """A test that fails without any break would seem to notice all of them."""
        if report.failed or report.skipped:
            self.useless.add(report.nodeid)

    def pytest_sessionfinish(self) -> None:
        """For another process, by way of a file."""
        useful = [[h.test, h.seconds, sorted(h.ran)] for h in self.heard if h.test not in self.useless]
        self.notes.write_text(json.dumps(useful), encoding="utf-8")

    def _name(self, code: CodeType) -> str:
        """Where a function begins; nothing for somebody else's."""
        if id(code) not in self._codes:
            path = Path(code.co_filename)
            name = f"{path.relative_to(self.root)}:{code.co_firstlineno}" if path.is_relative_to(self.root) else ""
            self._codes[id(code)] = (code, name)
        return self._codes[id(code)][1]


def read(notes: Path) -> list[Heard]:
    """What `Hearing` wrote."""
    data = json.loads(notes.read_text(encoding="utf-8"))
    return [Heard(test, seconds, frozenset(ran)) for test, seconds, ran in data]


class Chosen:
    """Runs some tests only, in the order given."""

    def __init__(self, tests: Iterable[str]) -> None:
        self.places = {test: n for n, test in enumerate(tests)}

    @property
    def files(self) -> Sequence[str]:
        """The files that they lie in."""
        return list(dict.fromkeys(test.partition("::")[0] for test in self.places))

    @pytest.hookimpl(trylast=True)
    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        """All others are left out."""
        items[:] = sorted((i for i in items if i.nodeid in self.places), key=lambda i: self.places[i.nodeid])
