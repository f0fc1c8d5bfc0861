"""Measured rows that stand in schedules, held side by side like any others: what changed, where, and what it moved."""

from __future__ import annotations

import json
import random
from collections.abc import Callable, Iterable, Mapping, Sequence
from copy import deepcopy
from functools import cache
from typing import Any

import pytest
from attrs import frozen

from darby.documents import changes
from darby.documents.exact_json import comparison as comparison_json
from darby.documents.terminal import comparison as comparison_terminal
from darby.plugin_host.loader import load_plugins
from darby.rules.rule import HOUSE, SPECIFICATION
from darby.saved.comparison import Cause, Comparison, RowChange, RuleChange, UnitsChange, compare
from darby.saved.model import Choices, Saved
from darby.saved.reader import reopen
from darby.saved.replay import causes as searching
from darby.saved.replay.causes import causes
from darby.saved.replay.one import Office
from darby.saved.row_mixture import Row
from darby.saved.writer import text_of, with_longhand
from darby.text.spans import Source

SPEC = """\
A. Primer: 250 sq ft per gallon.
B. Finish paint: 350 sq ft per gallon.
C. Walls: one coat primer, two coats satin finish paint.
D. Ceilings: one coat primer, one coat flat finish paint.
GYPSUM BOARD
"""
LINES = """\
Joint compound: 13 lb per 100 sq ft.
Joint compound comes in 64 lb pails.
Joint tape: 38 ft per 100 sq ft.
Deduct openings over 32 sq ft.
"""
ROOMS = "name,length,width,height\nNet room,12 ft,10 ft,8 ft\nOar room,20 ft,10 ft,8 ft\nSail loft,60 ft,25 ft,9 ft\n"


@cache
def office() -> Office:
    return Office.of(load_plugins())


@cache
def painters() -> Office:
    """One trade alone, where many runs are wanted."""
    return Office.of(load_plugins(without=["board", "joints", "fasteners"]))


def made(
    schedules: Mapping[str, str],
    rows: str = "",
    *,
    house: str = LINES,
    spec: str = SPEC,
    units: str = "",
    by: Office | None = None,
) -> Saved:
    """The saved estimate of a job with these schedules, by file name, and these rows of its own."""
    names = ", ".join(f'"{name}"' for name in schedules)
    job = f'name = "Tide hall"\nunits = "us"\nschedules = [{names}]\n' + rows
    papers = [(Source("house.txt", house), HOUSE), (Source("spec.txt", spec), SPECIFICATION)]
    beside = [Source(name, text) for name, text in schedules.items()]
    worked = (by or office()).work(Source("job.toml", job), papers, Choices(units), schedules=beside)
    assert worked.saved is not None, worked.problems
    assert worked.estimate is not None
    saved, told = reopen(
        Source("x.json", text_of(with_longhand(worked.saved, worked.estimate))), office().language.kinds
    )
    assert saved is not None, told
    return saved


def rooms(text: str = ROOMS, rows: str = "", **more: str) -> Saved:
    return made({"rooms.csv": text}, rows, **more)


def changed(one: Saved, other: Saved) -> list[str]:
    """The measured rows that are not the same, in words."""
    return [changes.told(change) for change in compare(one, other).rows]


def held(one: Saved, other: Saved) -> tuple[Comparison, dict[str, tuple[Cause, ...]]]:
    comparison = compare(one, other)
    return comparison, causes(comparison, office().plugins)


def named(one: Saved, other: Saved) -> set[str]:
    """All that is named as a cause of anything, in words; what moved is all explained."""
    comparison, found = held(one, other)
    assert comparison.items
    assert set(found) == {m.id for m in comparison.items}
    assert not [c.why for cs in found.values() for c in cs if c.why]
    return {changes.told(change) for cs in found.values() for cause in cs for change in cause.changes}


# what is a change, and where it stands


def test_a_changed_row_is_told_with_its_line_and_is_the_cause() -> None:
    one, other = rooms(), rooms(ROOMS.replace("20 ft", "44 ft"))
    said = 'room "Oar room": length 20 ft to 44 ft, rooms.csv, line 3'
    assert changed(one, other) == [said]
    assert named(one, other) == {said}


def test_a_new_row_and_one_that_is_gone_are_told_with_their_places() -> None:
    one = rooms()
    other = rooms(ROOMS.replace("Net room,12 ft,10 ft,8 ft\n", "") + "Rope walk,90 ft,30 ft,8 ft\n")
    said = {
        'gone: room "Net room" (length 12 ft, width 10 ft, height 8 ft), rooms.csv, line 2 before',
        'new: room "Rope walk" (length 90 ft, width 30 ft, height 8 ft), rooms.csv, line 4',
    }
    assert set(changed(one, other)) == said
    assert named(one, other) == said


def test_a_row_that_changed_and_stands_elsewhere_is_told_with_both_places() -> None:
    other = rooms(
        "name,length,width,height\nOar room,44 ft,10 ft,8 ft\nNet room,12 ft,10 ft,8 ft\nSail loft,60 ft,25 ft,9 ft\n"
    )
    assert changed(rooms(), other) == ['room "Oar room": length 20 ft to 44 ft, rooms.csv, line 2 (line 3 before)']


def test_the_json_has_the_place_of_a_row_on_both_sides() -> None:
    row = '[[rooms]]\nname = "Oar room"\nlength = "20 ft"\nwidth = "10 ft"\nheight = "8 ft"\n'
    comparison, found = held(
        rooms(ROOMS.replace("Oar room,20 ft,10 ft,8 ft\n", ""), row), rooms(ROOMS.replace("20 ft", "44 ft"))
    )
    data = json.loads(comparison_json.make(comparison, found))
    (change,) = data["measures"]
    assert (change["before"]["file"], change["before"]["line"]) == ("job.toml", 5)
    assert (change["after"]["file"], change["after"]["line"], change["after"]["column"]) == ("rooms.csv", 3, 1)
    assert (change["before"]["values"]["length"], change["after"]["values"]["length"]) == ("20 ft", "44 ft")
    assert all(cause["changes"] == [change] for item in data["items"] for cause in item["causes"])


def test_the_terminal_lists_the_row_under_measures_and_under_what_it_moved() -> None:
    comparison, found = held(rooms(), rooms(ROOMS.replace("20 ft", "44 ft")))
    text = " ".join(comparison_terminal.make(comparison, found).split())
    assert text.count('room "Oar room": length 20 ft to 44 ft, rooms.csv, line 3') == len(comparison.items) + 1
    assert "Measures that changed" in text


SAME = {
    "rows in another order": ROOMS.replace("Net room,12 ft,10 ft,8 ft\n", "") + "Net room,12 ft,10 ft,8 ft\n",
    "columns in another order": "height,name,width,length\n8 ft,Net room,10 ft,12 ft\n8 ft,Oar room,10 ft,20 ft\n9 ft,Sail loft,25 ft,60 ft\n",
    "a column that says what is known": "what,name,length,width,height\nroom,Net room,12 ft,10 ft,8 ft\nRooms,Oar room,20 ft,10 ft,8 ft\nroom,Sail loft,60 ft,25 ft,9 ft\n",
    "an empty column": "name,length,width,height,perimeter\nNet room,12 ft,10 ft,8 ft,\nOar room,20 ft,10 ft,8 ft,\nSail loft,60 ft,25 ft,9 ft,\n",
    "semicolons, quotes and blanks": 'Name;Length;Width; HEIGHT\r\n"Net room"; 12 ft;"10 ft";8 ft\r\n\r\nOar room;20 ft;10 ft;8 ft\r\nSail loft;60 ft;25 ft;"9 ft"\r\n',
    "measures spelled otherwise": "name,length,width,height\nNet room,12',10 feet,8'-0\"\nOar room,20.0 ft,10 ft 0 in,8 ft\nSail loft,60 ft,25 ft,9'\n",
}  # fmt: skip


@pytest.mark.parametrize("text", SAME.values(), ids=SAME.keys())
def test_a_schedule_that_says_the_same_has_no_changed_row(text: str) -> None:
    comparison = compare(rooms(), rooms(text))
    assert comparison.same
    assert not comparison.rows


def test_one_measure_in_another_unit_is_a_change_since_it_may_be_counted_otherwise() -> None:
    said = changed(rooms(), rooms(ROOMS.replace("12 ft", "144 in")))
    assert said == ['room "Net room": length 12 ft to 144 in, rooms.csv, line 2']


def test_beside_a_measure_that_changed_one_that_is_spelled_otherwise_is_not_told() -> None:
    said = changed(rooms(), rooms(ROOMS.replace("20 ft,10 ft", "44 ft,10'-0\"")))
    assert said == ['room "Oar room": length 20 ft to 44 ft, rooms.csv, line 3']


def test_a_schedule_of_another_name_has_no_changed_row() -> None:
    comparison = compare(rooms(), made({"rooms-2.csv": ROOMS}))
    assert comparison.same
    assert not comparison.rows
    assert named(rooms(), made({"rooms-2.csv": ROOMS.replace("20 ft", "44 ft")})) == {
        'room "Oar room": length 20 ft to 44 ft, rooms-2.csv, line 3 (rooms.csv, line 3 before)'
    }


def test_rows_that_moved_into_another_schedule_or_out_of_the_job_file_are_the_same() -> None:
    head, net, oar, sail = ROOMS.splitlines(keepends=True)
    parted = made({"east.csv": head + oar, "west.csv": head + sail + net})
    row = '[[rooms]]\nname = "{}"\nlength = "{}"\nwidth = "{}"\nheight = "{}"\n'
    typed = made({}, "".join(row.format(*line.strip().split(",")) for line in (net, oar, sail)))
    for other in (parted, typed):
        for one, two in ((rooms(), other), (other, rooms())):
            comparison = compare(one, two)
            assert comparison.same
            assert not comparison.rows
    wider = made({"east.csv": head + oar.replace("20 ft", "44 ft"), "west.csv": head + sail + net})
    assert named(typed, wider) == {
        'room "Oar room": length 20 ft to 44 ft, east.csv, line 2 (job.toml, line 10 before)'
    }


def test_counts_and_flags_of_a_schedule_are_those_of_a_job_file() -> None:
    typed = (
        '[[walls]]\nname = "w"\nlength = "30 ft"\nheight = "8 ft"\nfaces = 2\n'
        '[[openings]]\nname = "gate"\nwall = "w"\nwidth = "9 ft"\nheight = "7 ft"\ncount = 2\nsill = true\n'
    )
    csv = "what,name,length,height,faces,wall,width,count,sill\nwall,w,30 ft,8 ft,2,,,,\nopening,gate,,7 ft,,w,9 ft,2,yes\n"
    assert not compare(made({}, typed), made({"w.csv": csv})).rows


def test_a_schedule_that_the_job_no_longer_names_has_all_its_rows_gone() -> None:
    head, net, oar, sail = ROOMS.splitlines(keepends=True)
    one, other = made({"east.csv": head + oar, "west.csv": head + sail + net}), made({"west.csv": head + sail + net})
    said = 'gone: room "Oar room" (length 20 ft, width 10 ft, height 8 ft), east.csv, line 2 before'
    assert changed(one, other) == [said]
    assert named(one, other) == {said}


# rows of one name


OPENINGS = "name,wall,width,height,count\ngate,long,5 ft,8 ft,1\ngate,long,6 ft,8 ft,1\ngate,long,7 ft,8 ft,1\n"
LONG = '[[walls]]\nname = "long"\nlength = "400 ft"\nheight = "10 ft"\nfaces = 1\n'


def gates(text: str) -> Saved:
    return made({"gates.csv": text}, LONG)


def test_of_rows_of_one_name_only_the_one_that_changed_is_told() -> None:
    one, other = gates(OPENINGS), gates(OPENINGS.replace("6 ft,8 ft,1", "6 ft,8 ft,9"))
    said = 'opening "gate": count 1 to 9, gates.csv, line 3'
    assert changed(one, other) == [said]
    assert named(one, other) == {said}


def test_a_row_of_the_same_name_put_first_leaves_the_others_as_they_were() -> None:
    first = "name,wall,width,height,count\ngate,long,30 ft,9 ft,2\n"
    other = gates(first + OPENINGS.split("\n", 1)[1])
    said = 'new: opening "gate" (wall long, width 30 ft, height 9 ft, count 2), gates.csv, line 2'
    assert changed(gates(OPENINGS), other) == [said]
    assert named(gates(OPENINGS), other) == {said}


def test_rows_that_say_all_the_same_are_counted() -> None:
    twice = OPENINGS + "gate,long,7 ft,8 ft,1\n"
    assert changed(gates(OPENINGS), gates(OPENINGS + "gate,long,7 ft,8 ft,1\n" * 3)) == [
        f'new: opening "gate" (wall long, width 7 ft, height 8 ft, count 1), gates.csv, line {line}'
        for line in (5, 6, 7)
    ]
    assert not changed(gates(twice), gates(twice.replace("gate,long,5 ft,8 ft,1\n", "") + "gate,long,5 ft,8 ft,1\n"))


def test_rows_without_a_name_are_told_apart_by_what_they_say() -> None:
    corners = "what,kind,count,height\ncorner,outside,4,10 ft\ncorner,inside,2,10 ft\ncorner,outside,6,12 ft\n"
    one = made({"c.csv": corners}, LONG)
    other = made({"c.csv": corners.replace("outside,6", "outside,60")}, LONG)
    said = 'corner "outside": count 6 to 60, c.csv, line 4'
    assert changed(one, other) == [said]
    assert named(one, other) == {said}


def test_rows_that_say_all_the_same_in_other_spellings_and_another_order_are_the_same() -> None:
    other = "name,wall,width,height,count\ngate,long,7',8',1\ngate,long,5',8',1\ngate,long,6',8',1\n"
    assert not changed(gates(OPENINGS), gates(other))


TWO = "what,name,length,height,faces,wall,width,count\nwall,east,90 ft,10 ft,1,,,\nwall,west,80 ft,10 ft,1,,,\n"


def test_openings_of_one_name_are_told_apart_by_their_walls() -> None:
    gates = TWO + "opening,gate,,8 ft,,east,9 ft,{}\nopening,gate,,8 ft,,west,9 ft,{}\n"
    assert changed(made({"w.csv": gates.format(1, 2)}), made({"w.csv": gates.format(2, 1)})) == [
        'opening "gate": count 1 to 2, w.csv, line 4', 'opening "gate": count 2 to 1, w.csv, line 5'
    ]  # fmt: skip


def test_an_opening_that_is_in_another_wall_and_of_another_size_is_one_change() -> None:
    one, other = (made({"w.csv": TWO + f"opening,gate,,8 ft,,{cells},3\n"}) for cells in ("east,9 ft", "west,12 ft"))
    said = 'opening "gate": wall east to west, width 9 ft to 12 ft, w.csv, line 4'
    assert changed(one, other) == [said]
    assert named(one, other) == {said}


# names and columns that changed


def test_a_wall_that_was_renamed_with_its_openings_is_no_cause_of_what_another_moved() -> None:
    csv = "what,name,length,height,faces,wall,width,count\nwall,long,90 ft,10 ft,1,,,\nwall,short,30 ft,10 ft,1,,,\nopening,gate,,8 ft,,long,9 ft,2\n"
    renamed = csv.replace("long", "river side")
    one = made({"w.csv": csv})
    assert compare(one, made({"w.csv": renamed})).same
    assert set(changed(one, made({"w.csv": renamed}))) == {
        'wall "river side": name long to river side, w.csv, line 2',
        'opening "gate": wall long to river side, w.csv, line 4',
    }
    other = made({"w.csv": renamed.replace("30 ft", "77 ft")})
    assert named(one, other) == {'wall "short": length 30 ft to 77 ft, w.csv, line 3'}
    assert named(other, one) == {'wall "short": length 77 ft to 30 ft, w.csv, line 3'}


def test_a_wall_that_came_or_went_with_its_opening_is_told_with_it() -> None:
    csv = "what,name,length,height,faces,wall,width,count\nwall,short,30 ft,10 ft,1,,,\n"
    more = csv + "wall,long,90 ft,10 ft,1,,,\nopening,gate,,8 ft,,long,20 ft,2\n"
    one, other = made({"w.csv": csv}), made({"w.csv": more})
    for first, second in ((one, other), (other, one)):
        said = named(first, second)
        assert {s.split('"')[1] for s in said} == {"long", "gate"}


def test_a_line_that_is_gone_with_a_wall_and_its_opening_is_not_told_to_be_gone_with_one_alone() -> None:
    """The wall cannot go and leave its opening behind: that is no job, though it orders as little of what the wall took."""
    csv = "what,name,length,height,faces,wall,width,count\nceiling,loft,60 ft,,,,{},\n"
    wall = "wall,long,90 ft,10 ft,1,,,\nopening,gate,,8 ft,,long,9 ft,2\n"
    one, other = made({"w.csv": csv.format("20 ft") + wall}), made({"w.csv": csv.format("24 ft")})
    comparison, found = held(one, other)
    satin = next(m for m in comparison.items if dict(m.line.pool).get("sheen") == "satin")
    assert satin.after is None
    words = [changes.told(change) for cause in found[satin.id] for change in cause.changes]
    assert [word.split(" (")[0] for word in words] == ['gone: wall "long"', 'gone: opening "gate"']


def test_a_renamed_column_is_a_change_of_every_row_and_each_is_told() -> None:
    """Walls that are said to be ceilings now: one change a row, not one thing gone and one new of the same name."""
    csv = "name,length,{}\neast,40 ft,12 ft\nwest,90 ft,12 ft\n"
    one, other = (
        made({"w.csv": csv.format("height,room").replace("12 ft\n", "12 ft,hall\n")}),
        made({"w.csv": csv.format("width")}),
    )
    assert changed(one, other) == [
        'ceiling "east": what wall to ceiling, height 12 ft to nothing, room hall to nothing, width nothing to 12 ft, w.csv, line 2',
        'ceiling "west": what wall to ceiling, height 12 ft to nothing, room hall to nothing, width nothing to 12 ft, w.csv, line 3',
    ]
    assert named(one, other) == set(changed(one, other))


def test_other_units_of_the_job_move_orders_and_no_row_is_blamed() -> None:
    comparison, found = held(rooms(), rooms(units="metric"))
    assert comparison.units is not None
    assert not comparison.rows
    blamed = [c for cs in found.values() for cause in cs for c in cause.changes]
    assert blamed
    assert all(isinstance(c, RuleChange | UnitsChange) for c in blamed)


def test_a_changed_rule_is_told_apart_from_a_changed_row() -> None:
    one, other = rooms(), rooms(ROOMS.replace("20 ft", "24 ft"), house=LINES.replace("13 lb", "29 lb"))
    comparison, found = held(one, other)
    compound = next(m for m in comparison.items if m.line.product == "joint compound")
    assert any("13 to 29 lb" in changes.cause(c, compound) for c in found[compound.id])
    others = [m for m in comparison.items if m.line.product != "joint compound"]
    assert others
    assert all(isinstance(c, RowChange) for m in others for cause in found[m.id] for c in cause.changes)


def test_a_job_that_cannot_be_read_today_is_said_to_be_the_reason_why_no_cause_is_known() -> None:
    row = '[[walls]]\nname = "east"\nlength = "40 ft"\nheight = "12 ft"\nfaces = 1\nboard = "5/8 in"\n'
    comparison = compare(made({}, row), made({}, row.replace("40 ft", "90 ft")))
    found = causes(comparison, load_plugins(without=["board"]))
    paint = [m for m in comparison.items if m.line.trade == "coatings"]
    assert paint
    for moved in paint:
        (cause,) = found[moved.id]
        assert (
            changes.cause(cause, moved)
            == "the job cannot be read with the plugins there are today, so the cause is not known"
        )


def test_a_column_of_a_trade_that_is_away_today_hides_no_cause() -> None:
    csv = "name,length,height,faces,board\neast,40 ft,12 ft,1,5/8 in\n"
    comparison = compare(made({"w.csv": csv}), made({"w.csv": csv.replace("40 ft", "90 ft")}))
    found = causes(comparison, load_plugins(without=["board"]))
    paint = [m for m in comparison.items if m.line.trade == "coatings"]
    assert paint
    told = [changes.cause(cause, m) for m in paint for cause in found[m.id]]
    assert all(one.startswith('wall "east": length 40 ft to 90 ft, w.csv, line 2') for one in told)


# however many


def many(first: int) -> str:
    lines = [f"wall {n},{first + n % 40} ft {n % 12} in,9 ft,{1 + n % 2}" for n in range(400)]
    return "\n".join(["name,length,height,faces", *lines, ""])


def typed(csv: str) -> str:
    rows = (line.split(",") for line in csv.splitlines()[1:])
    return "".join(f'[[walls]]\nname = "{n}"\nlength = "{a}"\nheight = "{b}"\nfaces = {c}\n' for n, a, b, c in rows)


def counted(comparison: Comparison, monkeypatch: pytest.MonkeyPatch) -> int:
    """How many mixtures a search has the trades work out."""
    real, runs = searching.call_all, []

    def counting(*args: Any) -> Any:
        runs.append(args)
        return real(*args)

    with monkeypatch.context() as patched:
        patched.setattr(searching, "call_all", counting)
        found = causes(comparison, painters().plugins)
    assert set(found) == {m.id for m in comparison.items}
    assert all(cs and not any(c.why for c in cs) for cs in found.values())
    return len(runs)


def many_changed(*, in_file: bool) -> Comparison:
    sides = [({}, typed(many(n))) if in_file else ({"w.csv": many(n)}, "") for n in (10, 11)]
    specs = (SPEC, SPEC.replace("250 sq ft", "230 sq ft"))
    one, other = (made(*side, spec=spec, by=painters()) for side, spec in zip(sides, specs, strict=True))
    comparison = compare(one, other)
    assert len(comparison.rows) == 400
    assert {m.line.product for m in comparison.items} == {"primer", "finish paint"}
    return comparison


def test_the_search_among_400_changed_rows_of_a_schedule_keeps_to_what_it_may_try(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Each of its three parts stops splitting at its bound, and tries once more at most what it had split by then."""
    monkeypatch.setattr(searching, "_WORK", 0)
    assert counted(many_changed(in_file=False), monkeypatch) <= 4 * searching._FEWEST_RUNS


@pytest.mark.slow
def test_rows_of_a_schedule_take_as_many_mixtures_as_rows_of_a_job_file(monkeypatch: pytest.MonkeyPatch) -> None:
    tried = [counted(many_changed(in_file=in_file), monkeypatch) for in_file in (False, True)]
    assert tried[0] == tried[1]
    assert tried[0] <= 300


# planted changes


Cells = dict[str, str]
Plant = Callable[[dict[str, Cells], dict[str, str], random.Random], tuple[str, str]]
"""Changes one row or one line, and says what: a rule's kind and subject, or `row` and the name of a row."""

TABLE: dict[str, Cells] = {
    "long wall": {"what": "wall", "name": "long wall", "length": "96 ft", "height": "10 ft", "faces": "2"},
    "short wall": {"what": "wall", "name": "short wall", "length": "31'-6\"", "height": "10 ft", "faces": "1"},
    "loft": {"what": "ceiling", "name": "loft", "length": "96 ft", "width": "31 ft 6 in"},
    "Tar store": {"what": "room", "name": "Tar store", "length": "14 ft", "width": "11 ft", "height": "9 ft"},
    "Net shed": {"what": "room", "name": "Net shed", "length": "21 ft", "width": "12 ft", "height": "9 ft"},
    "gate": {"what": "opening", "name": "gate", "wall": "long wall", "width": "9 ft", "height": "8 ft", "count": "2"},
    "hatch": {"what": "opening", "name": "hatch", "wall": "Net shed", "width": "6 ft", "height": "6 ft", "count": "1"},
    "outside": {"what": "corner", "kind": "outside", "count": "4", "height": "10 ft"},
}
TEXTS = {"house": LINES, "spec": SPEC}


def cell(name: str, key: str, new: str) -> Plant:
    def plant(table: dict[str, Cells], _texts: dict[str, str], chance: random.Random) -> tuple[str, str]:
        table[name][key] = new.format(n=chance.randint(1, 9))
        return "row", name

    return plant


def line(which: str, old: str, new: str, *said: str) -> Plant:
    def plant(_table: dict[str, Cells], texts: dict[str, str], chance: random.Random) -> tuple[str, str]:
        assert old in texts[which]
        texts[which] = texts[which].replace(old, new.format(n=chance.randint(1, 9)), 1)
        return said[0], said[1]

    return plant


def gone(name: str) -> Plant:
    def plant(table: dict[str, Cells], _texts: dict[str, str], _chance: random.Random) -> tuple[str, str]:
        del table[name]
        return "row", name

    return plant


def new(name: str, cells: Cells) -> Plant:
    def plant(table: dict[str, Cells], _texts: dict[str, str], _chance: random.Random) -> tuple[str, str]:
        table[name] = cells
        return "row", name

    return plant


PLANTS: tuple[Plant, ...] = (
    cell("long wall", "length", "12{n} ft"),
    cell("short wall", "height", "1{n} ft 6 in"),
    cell("loft", "width", "4{n} ft"),
    cell("Tar store", "length", "2{n} ft"),
    cell("gate", "count", "{n}"),
    cell("outside", "count", "4{n}"),
    gone("hatch"),
    new("Sail loft", {"what": "room", "name": "Sail loft", "length": "50 ft", "width": "20 ft", "height": "8 ft"}),
    new("hoist", {"what": "opening", "name": "hoist", "wall": "loft", "width": "8 ft", "height": "8 ft", "count": "3"}),
    line("house", "13 lb", "1{n}.5 lb", "consumption", "joint compound"),
    line("house", "38 ft", "4{n} ft", "consumption", "joint tape"),
    line("house", "over 32 sq ft", "over 10{n} sq ft", "deduct openings over", ""),
    line("spec", "250 sq ft", "20{n} sq ft", "coverage", "primer"),
    line("spec", "two coats satin", "three coats satin", "coats", "finish paint"),
)  # fmt: skip


@frozen
class Style:
    """How a table is laid out as schedules; none of it says anything."""

    order: int
    parting: str
    files: tuple[str, ...]
    feet: str

    @classmethod
    def of(cls, chance: random.Random) -> Style:
        files = chance.choice((("rooms.csv",), ("a.csv", "b.csv"), ("measured.csv", "more.csv", "doors.csv")))
        return cls(chance.randrange(1000), chance.choice(",;\t"), files, chance.choice((" ft", "'", " feet")))

    def laid_out(self, table: Mapping[str, Cells]) -> dict[str, str]:
        chance = random.Random(self.order)
        rows = list(table.values())
        chance.shuffle(rows)
        parts = {name: rows[n :: len(self.files)] for n, name in enumerate(self.files)}
        return {name: self._text(part, chance) for name, part in parts.items()}

    def _text(self, rows: Sequence[Cells], chance: random.Random) -> str:
        columns = list(dict.fromkeys(key for cells in rows for key in cells)) or ["name"]
        chance.shuffle(columns)
        spelled = ([self._spelled(key, cells.get(key, "")) for key in columns] for cells in rows)
        return "\n".join(self.parting.join(cells) for cells in (columns, *spelled)) + "\n"

    def _spelled(self, key: str, value: str) -> str:
        if key in ("length", "width", "height") and value.endswith(" ft"):
            value = value.removesuffix(" ft") + self.feet
        return '"' + value.replace('"', '""') + '"' if '"' in value else value


def renamed(table: dict[str, Cells], old: str, name: str) -> None:
    """Calls a row something else, here and in the openings that are in it, which orders nothing otherwise."""
    for cells in table.values():
        for key in ("name", "wall"):
            if cells.get(key) == old:
                cells[key] = name


def names_of(change: object) -> Iterable[tuple[str, str]]:
    if isinstance(change, RuleChange):
        rule = change.after or change.before
        assert rule is not None
        return ((rule.kind.name, rule.subject), (rule.kind.name, ""))
    assert isinstance(change, RowChange)
    return (("row", _row(change).name),)


def _row(change: RowChange) -> Row:
    row = change.before or change.after
    assert row is not None
    return row


@pytest.mark.parametrize("seed", [*range(20), *(pytest.param(n, marks=pytest.mark.slow) for n in range(20, 300))])
def test_of_planted_changes_in_schedules_those_that_are_named_did_it(seed: int) -> None:
    """Rows are laid out anew, measures spelled otherwise and a wall renamed besides, and none of that is ever named."""
    chance = random.Random(seed)
    table, texts = deepcopy(TABLE), dict(TEXTS)
    planted = {plant(table, texts, chance) for plant in chance.sample(PLANTS, chance.randint(1, 3))}
    idle = [name for name in ("long wall", "Net shed") if ("row", name) not in planted]
    if idle and not any(part in planted for part in (("row", "gate"), ("row", "hatch"))):
        renamed(table, idle[0], "river side")
    before, after = Style.of(chance), Style.of(chance)
    one, other = made(before.laid_out(TABLE)), made(after.laid_out(table), **texts)
    comparison, found = held(one, other)
    assert set(found) == {m.id for m in comparison.items}
    known: dict[frozenset[tuple[str, str]], Saved] = {}
    for moved in comparison.items:
        assert found[moved.id]
        for cause in found[moved.id]:
            assert not cause.why
            assert all(planted & set(names_of(c)) for c in cause.changes), changes.cause(cause, moved)
        did = frozenset(n for cause in found[moved.id] for c in cause.changes for n in planted & set(names_of(c)))
        if did not in known:
            known[did] = with_only(did, table, texts, before)
        line = known[did].lines.get(moved.id)
        if moved.ordered:  # with nothing but what is named, the order is what it is now
            assert (line and line.order) == (moved.after and moved.after.order), did
        else:
            assert line is not None
            assert moved.after is not None
            assert line.need == moved.after.need, did


def with_only(did: Iterable[tuple[str, str]], table: dict[str, Cells], texts: dict[str, str], style: Style) -> Saved:
    """The old estimate with these changes and no others."""
    back, lines = deepcopy(TABLE), {name: text.splitlines() for name, text in TEXTS.items()}
    for kind, name in did:
        if kind == "row" and name in table:
            back[name] = table[name]
        elif kind == "row":
            del back[name]
        else:
            for which, text in texts.items():
                for at, words in enumerate(text.splitlines()):
                    if words != TEXTS[which].splitlines()[at] and words.lower().startswith(_begins(kind, name)):
                        lines[which][at] = words
    return made(style.laid_out(back), **{name: "\n".join(text) + "\n" for name, text in lines.items()})


def _begins(kind: str, subject: str) -> tuple[str, ...]:
    known = {"deduct openings over": ("deduct",), "coats": ("c. walls",)}
    return known.get(kind, (f"{subject}:", f"a. {subject}:", f"b. {subject}:"))
