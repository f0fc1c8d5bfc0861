"""The pytest plugin: collects `*.cases.toml` from the folders that pytest is given, one test for each case."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from darby.testing.cases import Case

_SUFFIX = ".cases.toml"


def pytest_collect_file(file_path: Path, parent: pytest.Collector) -> pytest.File | None:
    """Take files of cases; the kit itself is imported only where there is one."""
    return CaseFile.from_parent(parent, path=file_path) if file_path.name.endswith(_SUFFIX) else None


class CaseFile(pytest.File):
    """A file of cases."""

    def collect(self) -> Iterator[pytest.Item]:
        """One item for each case."""
        from darby.testing.cases import CaseError, cases  # noqa: PLC0415

        try:
            found = cases(self.path)
        except CaseError as error:
            raise self.CollectError(str(error)) from error
        for case in found:
            yield CaseItem.from_parent(self, name=case.name, case=case)


class CaseFault(Exception):  # noqa: N818 - it is what pytest shows, and no error of the program
    """What is wrong with a case, in sentences."""


class CaseItem(pytest.Item):
    """One case."""

    def __init__(self, *, case: Case, **more: Any) -> None:
        super().__init__(**more)
        self.case = case

    def runtest(self) -> None:
        """Run it; what is wrong fails it."""
        wrong = self.case.run()
        if wrong:
            raise CaseFault("\n".join(wrong))

    def repr_failure(self, excinfo: pytest.ExceptionInfo[BaseException], style: Any = None) -> Any:
        """The sentences alone, without a traceback of the kit."""
        if isinstance(excinfo.value, CaseFault):
            return str(excinfo.value)
        return super().repr_failure(excinfo, style)

    def reportinfo(self) -> tuple[Path, int | None, str]:
        """Where it stands."""
        return self.path, None, self.name
