"""One content in many structures: however a document is numbered, headed and set in, the same rooms have the same coats, and marks are
defined and given alike."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import pytest

from reads import read_text

SAYS = {
    "Foyer": (("walls", 2, "eggshell"), ("ceiling", 1, "matt")),
    "Potting Shed": (("walls", 3, "satin"), ("ceiling", 2, "matt")),
    "Boiler Room": (("walls", 1, "gloss"),),
    "Office 2": (("walls", 2, "matt"), ("ceiling", 2, "matt")),
}
COUNTED = {1: "one coat", 2: "two coats", 3: "three coats"}
ROMANS = ("i", "ii", "iii", "iv")
Head = Callable[[int, str], str]
Item = Callable[[int, int, str], str]

STRUCTURES: dict[str, tuple[Head, Item]] = {
    "1. over 1.1": (lambda n, room: f"{n}. {room}", lambda n, m, text: f"{n}.{m} {text}"),
    "1.0 over 1.1": (lambda n, room: f"{n}.0 {room}", lambda n, m, text: f"{n}.{m} {text}"),
    "1.00 over 1.01": (lambda n, room: f"{n}.00 {room}", lambda n, m, text: f"{n}.{m:02} {text}"),
    "A. over 1.": (lambda n, room: f"{'ABCD'[n]}. {room}", lambda n, m, text: f"   {m}. {text}"),
    "A. over 1. set flush": (lambda n, room: f"{'ABCD'[n]}. {room}", lambda n, m, text: f"{m}. {text}"),
    "A) over 1)": (lambda n, room: f"{'ABCD'[n]}) {room}", lambda n, m, text: f"  {m}) {text}"),
    "(a) over (i)": (lambda n, room: f"({'abcd'[n]}) {room}", lambda n, m, text: f"    ({ROMANS[m - 1]}) {text}"),
    "a. over i.": (lambda n, room: f"{'abcd'[n]}. {room}", lambda n, m, text: f"    {ROMANS[m - 1]}. {text}"),
    "1. with a colon over a.": (lambda n, room: f"{n}. {room}:", lambda n, m, text: f"   {'abc'[m - 1]}. {text}"),
    "I. over A.": (lambda n, room: f"{ROMANS[n].upper()}. {room}", lambda n, m, text: f"  {'ABC'[m - 1]}. {text}"),
    "capitals": (lambda n, room: room.upper(), lambda n, m, text: text),
    "capitals with a colon": (lambda n, room: f"{room.upper()}:", lambda n, m, text: text),
    "a name": (lambda n, room: room, lambda n, m, text: text),
    "a name with a colon": (lambda n, room: f"{room}:", lambda n, m, text: text),
    "a name with a colon over bullets": (lambda n, room: f"{room}:", lambda n, m, text: f"- {text}"),
    "hashes over bullets": (lambda n, room: f"## {room}", lambda n, m, text: f"- {text}"),
    "underlined": (lambda n, room: f"{room}\n{'-' * len(room)}", lambda n, m, text: text),
    "in brackets": (lambda n, room: f"[{room}]", lambda n, m, text: text),
    "a label": (lambda n, room: f"Room: {room}", lambda n, m, text: text),
    "a number before": (lambda n, room: f"10{n} {room}", lambda n, m, text: text),
    "a number behind": (lambda n, room: f"{room} (10{n})", lambda n, m, text: text),
    "a name with a dash": (lambda n, room: f"{room} -", lambda n, m, text: text),
    "a lead-in": (lambda n, room: f"In the {room.lower()}:", lambda n, m, text: f"- {text}"),
    "bullets over bullets": (lambda n, room: f"- {room}", lambda n, m, text: f"  - {text}"),
}  # fmt: skip
LINES: dict[str, Callable[[str, int, str], str]] = {
    "label": lambda on, count, sheen: f"{on.capitalize()}: {COUNTED[count]} {sheen}.",
    "to": lambda on, count, sheen: f"{COUNTED[count].capitalize()} of {sheen} paint to {on}.",
}


@pytest.mark.parametrize("line", LINES)
@pytest.mark.parametrize("structure", STRUCTURES)
def test_a_room_heads_what_is_said_below_it(structure: str, line: str) -> None:
    head, item = STRUCTURES[structure]
    lines = ["Decoration of the works at Tarn Bank", ""]
    for number, (room, said) in enumerate(SAYS.items()):
        count = number if head(0, "X") in ("A. X", "A) X", "(a) X", "a. X", "I. X") else number + 1
        lines.append(head(count, room))
        lines += [item(count, m, LINES[line](*one)) for m, one in enumerate(said, 1)]
        lines.append("")
    wanted = {(room.lower(), on.rstrip("s"), count, sheen) for room, said in SAYS.items() for on, count, sheen in said}
    got = {
        (_plain(r.scope.get("room", "")), r.scope.get("surface", ""), int(r.amount.value), r.scope.get("sheen", ""))
        for r in read_text("\n".join(lines)).rules
        if r.kind.name == "coats" and r.amount is not None
    }
    assert got == wanted


def _plain(room: str) -> str:
    """A room without the number before it."""
    return " ".join(word for word in room.split() if not (word[0].isdigit() and len(word) > 1))


DEFINED: dict[str, Sequence[str]] = {
    "behind a colon": ("{0}: two coats eggshell.", "{1}: three coats satin."),
    "behind a dash": ("{0} - 2 coats eggshell", "{1} - 3 coats satin"),
    "behind an equals sign": ("{0} = two coats eggshell", "{1} = three coats satin"),
    "below it": ("{0}", "Two coats eggshell.", "", "{1}", "Three coats satin."),
    "in a table": ("MARK | COATS | SHEEN", "{0} | 2 | eggshell", "{1} | 3 | satin"),
    "in bullets": ("- {0}: eggshell, two coats", "- {1}: satin, three coats"),
}
GIVEN: dict[str, Sequence[str]] = {
    "behind a room": ("Foyer: walls {0}.", "Archive: walls {1}."),
    "of a room": ("Walls of foyer: {0}.", "Walls of archive: {1}."),
    "before a room": ("{0} on walls in the foyer.", "{1} on walls in the archive."),
    "in one sentence": ("Provide {0} at foyer walls and {1} at archive walls.",),
    "in a table": ("ROOM        WALLS   CEILING", "Foyer       {0}    ACT", "Archive     {1}    ACT"),
}


@pytest.mark.parametrize("marks", [("PT-1", "PT-2"), ("P1", "P2"), ("W-A", "W-B"), ("F.1", "F.2")])
@pytest.mark.parametrize("given", GIVEN)
@pytest.mark.parametrize("defined", DEFINED)
def test_marks_are_defined_and_given_alike(defined: str, given: str, marks: tuple[str, str]) -> None:
    lines = ["Tarn Bank", "", "Paint finishes", *DEFINED[defined], "", "Where used", *GIVEN[given]]
    rules = read_text("\n".join(line.format(*marks) for line in lines)).rules
    coats = {
        (r.scope.get("mark"), int(r.amount.value)) for r in rules if r.kind.name == "coats" and r.amount is not None
    }
    assert coats == {(marks[0], 2), (marks[1], 3)}
    assert {(r.choice, r.scope.get("room")) for r in rules if r.kind.name == "system"} == {
        (marks[0], "foyer"),
        (marks[1], "archive"),
    }


WALLS = (("Foyer", "{0}"), ("Office 2", "{0}"), ("Archive", "{1}"), ("Boiler Room", "{1}"))
Rows = Sequence[Sequence[str]]
SCHEDULES: dict[str, Rows] = {
    "rooms as rows": (("ROOM", "WALLS", "CEILING"), *((room, mark, "ACT") for room, mark in WALLS)),
    "rooms by number": (
        ("NO.", "ROOM NAME", "FLOOR", "WALLS", "CEILING"),
        *((f"{100 + n}", room, "CPT-1", mark, "ACT") for n, (room, mark) in enumerate(WALLS)),
    ),
    "rooms as columns": (("", *(room for room, _ in WALLS)), ("Walls", *(mark for _, mark in WALLS)), ("Ceiling", *4 * ("ACT",))),
    "surfaces behind rooms": (
        ("Location", "Surface", "Finish"),
        *(row for room, mark in WALLS for row in ((room, "Walls", mark), ("", "Ceiling", "ACT"))),
    ),
    "surfaces before rooms": (("Surface", "Location", "Finish"), *(("Walls", room, mark) for room, mark in WALLS)),
    "marks as rows": (
        ("Mark", "Surface", "Rooms"),
        ("{0}", "Walls", "Foyer and Office 2"),
        ("{1}", "Walls", "Archive and Boiler Room"),
    ),
    "where marks are used": (
        ("Finish", "Where used"),
        ("{0}", "Walls: Foyer, Office 2"),
        ("{1}", "Walls: Archive, Boiler Room"),
    ),
    "marks as columns": (
        ("ROOM", "{0} WALLS", "{1} WALLS", "REMARKS"),
        *((room, "x" if mark == "{0}" else "", "x" if mark == "{1}" else "", "-") for room, mark in WALLS),
    ),
}  # fmt: skip


def _spaced(rows: Rows) -> list[str]:
    widths = [max(len(row[n]) for row in rows) + 3 for n in range(len(rows[0]))]
    return ["".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip() for row in rows]


PARTED: dict[str, Callable[[Rows], list[str]]] = {
    "gaps": _spaced,
    "pipes": lambda rows: [" | ".join(row) for row in rows],
    "pipes around": lambda rows: [f"| {' | '.join(row)} |" for row in rows],
    "tabs": lambda rows: ["\t".join(row) for row in rows],
}


@pytest.mark.parametrize("marks", [("PT-1", "PT-2"), ("P1", "P2"), ("W-A", "W-B")])
@pytest.mark.parametrize("parted", PARTED)
@pytest.mark.parametrize("schedule", SCHEDULES)
def test_a_schedule_gives_marks_to_rooms_however_it_is_laid_out(
    schedule: str, parted: str, marks: tuple[str, str]
) -> None:
    rows = [[cell.format(*marks) for cell in row] for row in SCHEDULES[schedule]]
    paints = ["Tarn Bank", "", "Paint finishes", f"{marks[0]}: two coats eggshell.", f"{marks[1]}: three coats satin."]
    rules = read_text("\n".join([*paints, "", "FINISH SCHEDULE", *PARTED[parted](rows)])).rules
    given = {(_plain(r.scope.get("room", "")), r.scope.get("surface"), r.choice) for r in rules if r.choice in marks}
    assert given == {(room.lower(), "wall", mark.format(*marks)) for room, mark in WALLS}
    assert {r.scope.get("mark") for r in rules if r.kind.name == "coats"} == set(marks)


SHEETS: dict[str, Head] = {
    "a sheet and its area": lambda n, room: f"SHEET {n}     {room.upper()}     {20 + n} m2     3,1 m high",
    "a sheet's number": lambda n, room: f"Sheet {n}: {room}",
    "a number, a name, an area": lambda n, room: f"{n}.  {room}   {20 + n} m2",
    "an area behind a comma": lambda n, room: f"{room}, {20 + n} m2",
    "sides in brackets": lambda n, room: f"{room} (3.2 x 4.{n} m)",
    "feet": lambda n, room: f"{room} 12' x 1{n}'",
    "an area and a height behind bars": lambda n, room: f"{room} | {20 + n} m2 | 2.7 m",
    "an item's number": lambda n, room: f"Item {n}  {room}",
    "a drawing in brackets": lambda n, room: f"{room.upper()} (see drawing A-20{n})",
    "a number and a stroke": lambda n, room: f"G0{n} / {room}",
    "a ceiling's height": lambda n, room: f"{room} (ceiling 9'-{n}\")",
}


@pytest.mark.parametrize("line", LINES)
@pytest.mark.parametrize("sheet", SHEETS)
def test_what_numbers_or_measures_a_room_is_no_part_of_its_name(sheet: str, line: str) -> None:
    lines = ["Decoration of the works at Tarn Bank", ""]
    for number, (room, said) in enumerate(SAYS.items(), 1):
        lines += [SHEETS[sheet](number, room), *(LINES[line](*one) for one in said), ""]
    got = {
        (_plain(r.scope.get("room", "")), r.scope.get("surface", ""), int(r.amount.value))
        for r in read_text("\n".join(lines)).rules
        if r.kind.name == "coats" and r.amount is not None
    }
    assert got == {(room.lower(), on.rstrip("s"), count) for room, said in SAYS.items() for on, count, _ in said}
