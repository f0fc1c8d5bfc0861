"""The pytest plugin: one test for each case in `*.cases.toml`, and one for each saved estimate in the folders named.

In `pyproject.toml` a firm names its folders of saved estimates and, if it likes, the house lines of today:

    [tool.pytest.ini_options]
    darby_saved = ["estimates"]
    darby_house = ["house.txt"]
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from darby.testing.cases import Case

_SUFFIX = ".cases.toml"


def pytest_addoption(parser: pytest.Parser) -> None:
    """Two settings of the project."""
    parser.addini("darby_saved", "Folders of saved estimates; each file in them becomes a test.", "paths", [])
    parser.addini("darby_house", "House lines of today, in place of those each was saved with.", "paths", [])


def pytest_collect_file(file_path: Path, parent: pytest.Collector) -> pytest.File | None:
    """Take files of cases and saved estimates; the kit itself is imported only where there is one."""
    if file_path.name.endswith(_SUFFIX):
        return CaseFile.from_parent(parent, path=file_path)
    if file_path.suffix == ".json" and any(file_path.is_relative_to(f) for f in parent.config.getini("darby_saved")):
        return SavedFile.from_parent(parent, path=file_path)
    return None


class SavedFile(pytest.File):
    """A saved estimate."""

    def collect(self) -> Iterator[pytest.Item]:
        """One item: it orders today what it ordered then."""
        yield SavedItem.from_parent(self, name="orders the same")


class SavedItem(pytest.Item):
    """A saved estimate worked out again; what moved, and why, is the failure."""

    def runtest(self) -> None:
        """Work it out again; a difference fails it."""
        from darby.testing.saved import difference  # noqa: PLC0415

        told = difference(self.path, self.config.getini("darby_house") or None)
        if told:
            raise CaseFault(told)

    def repr_failure(self, excinfo: pytest.ExceptionInfo[BaseException], style: Any = None) -> Any:
        """What moved, without a traceback of the kit."""
        return str(excinfo.value) if isinstance(excinfo.value, CaseFault) else super().repr_failure(excinfo, style)

    def reportinfo(self) -> tuple[Path, int | None, str]:
        """Where it stands."""
        return self.path, None, self.path.name


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
