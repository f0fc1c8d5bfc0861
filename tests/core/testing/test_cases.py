"""Cases of a plugin: collected by pytest, and what is wrong with one in plain sentences."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

import darby.testing.cases
from darby.testing.cases import CaseError, cases
from guide import write_gasket


@pytest.fixture
def gasket(tmp_path: Path) -> Path:
    """The guide's trade and its cases, in one folder."""
    return write_gasket(tmp_path)


def test_the_cases_of_the_guide_hold_and_its_trade_conforms(gasket: Path) -> None:
    darby.testing.cases._desk.cache_clear()
    ran = {case.name: case.run() for case in cases(gasket / "gasket.cases.toml")}
    assert len(ran) >= 12
    assert not {name: wrong for name, wrong in ran.items() if wrong}


def test_pytest_collects_cases_and_shows_what_is_wrong_in_plain_sentences(gasket: Path) -> None:
    path = gasket / "gasket.cases.toml"
    path.write_text(path.read_text(encoding="utf-8").replace("2 rolls; 60 ft", "3 rolls; 60 ft"), encoding="utf-8")
    kit = () if "darby.testing.plugin" in installed_kit() else ("-p", "darby.testing.plugin")
    done = subprocess.run(
        (sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", "-p", "no:hypothesispytest", *kit, "-k", "phrase or job", "."),
        cwd=gasket, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert "1 failed, 2 passed" in done.stdout  # "job" is in the name of a conformance check too
    assert "missing order: sill gasket: 3 rolls; 60 ft" in done.stdout
    assert "order that is not in the case: sill gasket: 2 rolls; 60 ft" in done.stdout
    assert "Traceback" not in done.stdout


def installed_kit() -> set[str]:
    from importlib.metadata import entry_points

    return {entry.value for entry in entry_points(group="pytest11")}


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("[[phrase]", "cannot be read"),
        ("", "holds no case"),
        ("[[phrases]]\ntext = 'x'", "there is no table phrases; the tables are phrase, job, conformance"),
        ("[[phrase]]\ntxt = 'x'", "phrase 1 has txt; it may have rules, strict, text, unread, why"),
        ("files = 3\n[[phrase]]\ntext = 'x'", "files is a list"),
    ],
)
def test_a_case_file_that_cannot_be_used_says_why(text: str, said: str, tmp_path: Path) -> None:
    path = tmp_path / "x.cases.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(CaseError, match=re.escape(said)):
        cases(path)
