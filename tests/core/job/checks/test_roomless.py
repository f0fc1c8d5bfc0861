"""Doors and trim of no room, where documents speak of those of a room."""

from __future__ import annotations

from pathlib import Path

import pytest

from darby.cli.shared.jobs import Wanted, estimate_of
from darby.text.diagnostics import Severity

JOB = """name = "t"
units = "us"
trades = ["coatings"]
documents.specification = ["spec.txt"]
checked = [{}]
[[rooms]]
name = "Corridor"
length = "20 ft"
width = "10 ft"
height = "9 ft"
[[trim]]
name = "base"
length = "100 ft"
width = "6 in"
[[trim]]
name = "rail"
length = "60 ft"
width = "6 in"
{}
[[doors]]
name = "leaves"
width = "3 ft"
height = "7 ft"
count = 4
"""
IN_IT = 'room = "Corridor"'
WOODWORK = "Corridor woodwork: three coats finish paint."


def told(folder: Path, line: str, *, room: str = IN_IT, checked: str = "") -> list[tuple[str, str, int]]:
    (folder / "spec.txt").write_text(f"SECTION 09 91 23 - PAINTING\nA. {line}\n", encoding="utf-8")
    (folder / "job.toml").write_text(JOB.format(checked, room), encoding="utf-8")
    made = estimate_of(Wanted(str(folder / "job.toml"))).estimate
    assert made is not None
    found = [d for d in made.checks if d.code == "surface-roomless"]
    assert all(d.severity is Severity.WARNING and d.help and d.labels for d in found)
    return [(d.message, Path(d.span.source.name).name if d.span else "", d.span.line if d.span else 0) for d in found]


def test_trim_of_no_room_is_told_where_a_clause_speaks_of_a_room_and_that_of_the_room_is_reached(
    tmp_path: Path,
) -> None:
    assert told(tmp_path, WOODWORK) == [
        ("“three coats” is for the woodwork in the corridor; the job has “base” without a room, so the clause does not apply there", "job.toml", 12),
        ("“three coats” is for the woodwork in the corridor; the job has “leaves” without a room, so the clause does not apply there", "job.toml", 21),
    ]  # fmt: skip
    ((message, _, _), _) = told(tmp_path, WOODWORK, room="")
    assert "the job has “base” and “rail” without a room" in message


def test_doors_are_told_by_themselves(tmp_path: Path) -> None:
    found = told(tmp_path, "Corridor doors: four coats finish paint.")
    assert [message for message, _, _ in found] == [
        "“four coats” is for the door in the corridor; the job has “leaves” without a room, so the clause does not apply there"
    ]


@pytest.mark.parametrize(
    "line",
    ["All woodwork: three coats finish paint.", "Corridor walls: three coats finish paint.", "Doors are by others."],
)
def test_what_is_said_of_no_room_or_of_what_rooms_bring_is_not_told(tmp_path: Path, line: str) -> None:
    assert told(tmp_path, line) == []


def test_what_is_checked_is_settled_by_its_name(tmp_path: Path) -> None:
    assert told(tmp_path, WOODWORK, checked='"base", "leaves"') == []


def test_a_clause_of_a_trade_that_does_not_work_is_not_told(tmp_path: Path) -> None:
    (tmp_path / "spec.txt").write_text(f"SECTION 09 91 23 - PAINTING\nA. {WOODWORK}\n", encoding="utf-8")
    (tmp_path / "job.toml").write_text(JOB.format("", IN_IT).replace('"coatings"', '"board"'), encoding="utf-8")
    made = estimate_of(Wanted(str(tmp_path / "job.toml"))).estimate
    assert made is not None
    assert not [d for d in made.checks if d.code == "surface-roomless"]
