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


SCHEDULE = """SECTION 09 91 23 - PAINTING
Room        Walls   Woodwork
Vestry      PT-1    {}
Sacristy    PT-1    {}
Parlour     PT-1    {}

PT-1: two coats matte.
PT-2: three coats gloss.
PT-3: four coats gloss.
"""


def of_three_rooms(folder: Path, *marks: str, room: str = "") -> tuple[list[str], set[str], int]:
    """Counts of coats on trim with their reason to be confirmed, the checks, and how often no trade used PT-2."""
    rooms = "".join(
        f'[[rooms]]\nname = "{name}"\nlength = "10 ft"\nwidth = "10 ft"\nheight = "9 ft"\n'
        for name in ("Vestry", "Sacristy", "Parlour")
    )
    trim = f'[[trim]]\nname = "base"\nlength = "100 ft"\nwidth = "6 in"\n{room}\n'
    (folder / "spec.txt").write_text(SCHEDULE.format(*marks), encoding="utf-8")
    head = 'name = "t"\nunits = "us"\ntrades = ["coatings"]\ndocuments.specification = ["spec.txt"]\n'
    (folder / "job.toml").write_text(head + rooms + trim, encoding="utf-8")
    made = estimate_of(Wanted(str(folder / "job.toml"))).estimate
    assert made is not None
    used = [one.why for one in made.confirmations if any(rule.scope.get("surface") == "trim" for rule in one.rules)]
    return (
        used,
        {d.code for d in made.checks},
        sum(d.code == "rule-unused" and "PT-2" in d.message for d in made.diagnostics),
    )


def test_what_all_rooms_have_alike_is_taken_for_trim_of_no_room_and_waits_to_be_confirmed(tmp_path: Path) -> None:
    why, checks, unused = of_three_rooms(tmp_path, "PT-2", "PT-2", "-")
    assert len(why) == 1
    assert "the job has trim without a room" in why[0]
    assert (checks, unused) == (set(), 0)


@pytest.mark.parametrize(
    ("marks", "room"),
    [
        (("PT-2", "PT-3", "PT-2"), ""),  # which of them is said by no document
        (("PT-2", "-", "-"), ""),  # one room of three
        (("PT-2", "PT-2", "PT-2"), 'room = "Vestry"'),
    ],
)
def test_it_is_not_taken_where_rooms_differ_or_are_few_or_the_trim_has_a_room(
    tmp_path: Path, marks: tuple[str, ...], room: str
) -> None:
    why, checks, _ = of_three_rooms(tmp_path, *marks, room=room)
    assert not why
    assert checks == (set() if room else {"surface-roomless"})
