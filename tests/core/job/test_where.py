"""Keys of the job that say where: numbers, floors, counts, both sides of a partition, systems by their marks."""

from __future__ import annotations

import pytest

from darby.job.loader import load
from darby.job.model import Job
from darby.text.diagnostics import Diagnostic
from darby.text.spans import Source

HEAD = 'name = "j"\nunits = "us"\n'
SIZE = 'length = "12 ft"\nwidth = "10 ft"\nheight = "8 ft"\n'
ROOM = f'[[rooms]]\nname = "Den"\n{SIZE}'
PARTITION = '[[walls]]\nname = "p"\nlength = "10 ft"\nheight = "8 ft"\n'
MARKS = {"paint": (), "color": ("wall",)}


def read(text: str, rows: str = "") -> tuple[Job | None, tuple[Diagnostic, ...]]:
    return load(Source("job.toml", HEAD + text), MARKS, lambda *_: (Source("rows.csv", rows), ()))


def made(text: str, rows: str = "") -> Job:
    job, found = read(text, rows)
    assert job is not None, found
    return job


def told(text: str) -> tuple[str, str, str]:
    """The one mistake of a text: its place, what is said and the way out."""
    _, found = read(text)
    (one,) = found
    assert one.span is not None
    return one.span.text, one.message, one.help


def test_a_room_bears_all_its_names() -> None:
    said = 'number = 204\nalso = ["wet area", "WC"]\nfloor = "Level 2"\nphase = "Phase 1"\ncondition = "Existing"\n'
    job = made(ROOM + said)
    (room,) = job.rooms
    assert (room.name, room.called.number, room.called.also) == ("Den", "204", ("wet area", "WC"))
    assert (room.called.floor, room.called.phase, room.count) == ("Level 2", "Phase 1", 1)
    assert {s.marks["condition"] for s in job.surfaces} == {"existing"}


def test_a_schedule_says_the_same() -> None:
    rows = (
        "name,number,also,count,floor,phase,length,width,height,walls,ceiling\n"
        "Den,204,wet area; WC,2,2,1,12 ft,10 ft,8 ft,PT-2,PT-1\nHall,,,,,,12 ft,10 ft,8 ft,,no\n"
    )
    job = made('schedules = ["rows.csv"]\n', rows)
    den, hall = job.rooms
    assert (den.called.number, den.called.also, den.count, den.called.floor) == ("204", ("wet area", "WC"), 2, "2")
    assert [s.systems for s in job.surfaces if s.room == "Den" and s.kind == "ceiling"] == [(("PT-1",),)] * 2
    assert [s.kind for s in job.surfaces if s.room == hall.name] == ["wall"] * 4


def test_a_count_gives_each_room_its_own_surfaces_openings_and_corners() -> None:
    hole = '[[openings]]\nwall = "Den"\nwidth = "3 ft"\nheight = "7 ft"\n'
    job = made(ROOM + "count = 3\n" + hole)
    assert len(job.surfaces) == len({s.name for s in job.surfaces}) == 15
    assert sum(int(o.count.value) for s in job.surfaces for o in s.openings) == 3
    assert {s.room for s in job.surfaces} == {"Den"}
    assert sum(int(c.count.value) for c in job.corners) == 12
    assert all(o.surface == s.name for s in job.surfaces for o in s.openings)


def test_each_face_of_a_partition_is_in_its_own_room_and_finished_as_that_is() -> None:
    rooms = (
        f'[[rooms]]\nname = "Lobby"\n{SIZE}color = "Fog"\nwalls = "PT-2"\ncondition = "existing"\n'
        f'[[rooms]]\nname = "Office 2"\nnumber = "12"\n{SIZE}paint = "one coat"\n'
    )
    hole = '[[openings]]\nwall = "p"\nwidth = "3 ft"\nheight = "7 ft"\n'
    job = made(rooms + PARTITION + 'type = "W3"\nbetween = ["Lobby", "12"]\n' + hole)
    one, other = (s for s in job.surfaces if s.name.startswith("p"))
    assert [(s.room, s.side, s.faces.value) for s in (one, other)] == [("Lobby", 1, 1), ("Office 2", 2, 1)]
    assert (one.systems, other.systems) == ((("W3",), ("PT-2",)), (("W3",),))
    assert (dict(one.marks), dict(other.marks)) == ({"color": "Fog"}, {"paint": "one coat"})
    assert [len(s.openings) for s in (one, other)] == [1, 1]  # one hole, seen from both sides: it is measured on side 1


def test_a_partition_finds_its_room_by_another_name_too() -> None:
    job = made(
        f'{ROOM}also = ["Snug"]\ncolor = "Fog"\n{PARTITION}between = ["Snug", "Den 2"]\n[[rooms]]\nname = "Den 2"\n{SIZE}'
    )
    assert {s.room for s in job.surfaces if s.name.startswith("p")} == {"Den", "Den 2"}


@pytest.mark.parametrize("key", ["number", "floor", "phase"])
def test_a_name_of_signs_alone_is_refused_at_its_place(key: str) -> None:
    at, message, way = told(f'{ROOM}{key} = ":"\n')
    assert (at, way) == (":", f'Write {key} = "2".')
    assert "a letter or a digit" in message


def test_a_room_may_only_say_what_its_listed_walls_are_in() -> None:
    job = made('[[rooms]]\nname = "Hall"\nfloor = "Level 1"\nwalls = ["PT-2"]\n' + PARTITION + 'room = "Hall"\n')
    assert [(s.name, s.systems) for s in job.surfaces] == [("p", (("PT-2",),))]
    assert told('[[rooms]]\nname = "Hall"\nfloor = "Level 1"\n')[1] == 'room "Hall" has no length, width and height'
    hole = '[[openings]]\nwall = "Hall"\nwidth = "3 ft"\nheight = "7 ft"\n'
    said = told('[[rooms]]\nname = "Hall"\nfloor = "Level 1"\n' + PARTITION + 'room = "Hall"\n' + hole)
    assert said[1] == 'opening 1 is in "Hall", a room without walls of its own'


def test_a_room_may_be_a_name_alone_where_something_is_in_it() -> None:
    hall = '[[rooms]]\nname = "Hall"\n'
    assert [s.room for s in made(hall + PARTITION + 'room = "Hall"\n').surfaces] == ["Hall"]
    assert told(hall)[1] == 'room "Hall" has no length, width and height'


def test_walls_ceilings_and_soffits_may_be_several_each_with_its_openings_and_corners() -> None:
    wall = '[[walls]]\nname = "w"\nlength = "9 ft"\nheight = "8 ft"\ncount = 3\n'
    lid = '[[ceilings]]\nname = "c"\nlength = "9 ft"\nwidth = "8 ft"\ncount = 2\n'
    soffit = '[[soffits]]\nname = "s"\nlength = "9 ft"\nwidth = "2 ft"\ndrop = "1 ft"\ncount = 2\n'
    hole = '[[openings]]\nwall = "w"\nwidth = "3 ft"\nheight = "7 ft"\n'
    job = made(wall + "faces = 2\n" + lid + soffit + hole)
    assert len(job.surfaces) == len({s.name for s in job.surfaces}) == 3 + 2 + 2 * 2
    assert sum(int(o.count.value) for s in job.surfaces for o in s.openings) == 3
    assert [(c.kind, str(c.count)) for c in job.corners] == [("outside", "1")] * 2
    between = made(wall + 'between = ["A", "B"]\n')
    assert [s.room for s in between.surfaces] == ["A", "B"] * 3
    assert (
        told(wall.replace("3", "0") + "faces = 1\n")[1]
        == 'count of wall "w" is 0; it is a whole number from 1 to 1,000'
    )


def test_a_color_of_a_room_is_that_of_its_walls_unless_it_says_so() -> None:
    def colors(said: str) -> set[tuple[str, str]]:
        return {(s.kind, s.marks.get("color", "")) for s in made(ROOM + said).surfaces}

    assert colors('color = "Fog"\n') == {("wall", "Fog"), ("ceiling", "")}
    assert colors('color = { walls = "Fog", ceiling = "White" }\n') == {("wall", "Fog"), ("ceiling", "White")}
    assert colors('color = { ceiling = "White" }\n') == {("wall", ""), ("ceiling", "White")}


def test_types_are_kept_with_the_place_of_each_line() -> None:
    (one,) = made(ROOM + '[[types]]\nname = "W3"\nlines = ["Two layers.", "Level 4."]\n').types
    assert (one.mark, [(text, span.text) for text, span in one.lines]) == (
        "W3",
        [("Two layers.", "Two layers."), ("Level 4.", "Level 4.")],
    )


@pytest.mark.parametrize(
    ("text", "at", "message", "way"),
    [
        (ROOM + "count = 0\n", "0", 'count of room "Den" is 0; it is a whole number from 1 to 1,000', "Leave out"),
        (ROOM + 'count = "two"\n', '"two"', 'count of room "Den" is text; a whole number is wanted', "Write count = 2"),
        (ROOM + 'numbr = "2"\n', "numbr", 'room "Den" has no key "numbr"', "Did you mean number?"),
        (ROOM + "number = 2.5\n", "2.5", 'number of room "Den" is a number; text in quotes is wanted', 'Write number = "2.5"'),
        (ROOM + "number = [2]\n", "[2]", 'number of room "Den" is a list; one text or whole number is wanted', "Write number"),
        (ROOM + 'also = [""]\n', '""', 'a name in also of room "Den" is empty', "Fill it in"),
        (ROOM + 'condition = "exsting"\n', '"exsting"', 'condition of room "Den" is "exsting"', "Did you mean existing?"),
        (ROOM + "walls = true\n", "true", 'walls of room "Den" is true or false; the mark of a system in quotes is wanted', "Write walls"),
        (ROOM + 'walls = " "\n', '" "', 'walls of room "Den" is empty', "Write walls"),
        (ROOM + 'ceiling = "maybe"\n', '"maybe"', 'ceiling of room "Den" is text; true or false is wanted', "Write ceiling"),
        (ROOM + 'color = { wals = "Fog" }\n', "wals", 'color of room "Den" has no key "wals"', "Did you mean walls?"),
        (ROOM + PARTITION + 'between = ["Den"]\n', '["Den"]', 'wall "p" is between 1 room; it is between two', "Write between"),
        (ROOM + PARTITION + 'between = ["Den", "a", "b"]\n', '["Den", "a", "b"]', 'wall "p" is between 3 rooms; it is between two', "Write"),
        (
            ROOM + PARTITION + 'room = "Den"\nbetween = ["Den", "Den"]\n', '"Den"', 'wall "p" is between two rooms and also has room',
            "Leave room out",
        ),
        (
            ROOM + PARTITION + 'between = ["Den", "Dan"]\n', '"Dan"',
            'wall "p" is between rooms of which none is called "Dan"; its face there is in a room of that name', "Did you mean Den?",
        ),
        (ROOM + '[[types]]\nlines = ["Two layers."]\n', "", "type 1 has no name", "Write name"),
        (ROOM + '[[types]]\nname = "W3"\n', "", 'type "W3" has no lines', "Write lines"),
        (
            ROOM + '[[types]]\nname = "W3"\nlines = "a"\n[[types]]\nname = "W-3"\nlines = "b"\n', '"W-3"', 'the type "W-3" is defined twice',
            "Put all",
        ),
    ],
)  # fmt: skip
def test_a_mistake_is_one_sentence_at_its_place_with_a_way_out(text: str, at: str, message: str, way: str) -> None:
    place, said, help = told(text)
    assert (said, help.startswith(way)) == (message, True), help
    assert not at or place == at.strip('"')
