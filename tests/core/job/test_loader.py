"""The job file: what it makes, and how each mistake is told in its place."""

from __future__ import annotations

import importlib.resources
import json
import time
import tomllib

import jsonschema
import pytest

from darby.job.loader import load
from darby.job.model import Job
from darby.quantities.amounts import Amount
from darby.text.diagnostics import Diagnostic, Severity
from darby.text.spans import Source
from two_offices import GOOD, MARKS

SCHEMA = json.loads(importlib.resources.files("darby").joinpath("schemas/job.schema.json").read_text(encoding="utf-8"))
WALL = '[[walls]]\nname = "north wall"\nlength = "24 ft"\nheight = "8 ft"\nfaces = 1\n'
HEAD = 'name = "test"\nunits = "us"\n'


def read(text: str) -> tuple[Job | None, tuple[Diagnostic, ...]]:
    return load(Source("job.toml", text), MARKS)


def job(text: str) -> Job:
    made, found = read(text)
    assert made is not None, found
    return made


def told(text: str) -> list[tuple[str, str]]:
    """Codes and what they point at."""
    made, found = read(text)
    assert made is None
    return [(d.code, d.span.text if d.span else "") for d in found]


def test_a_right_file_makes_its_job_and_nothing_is_said() -> None:
    made, found = read(GOOD)
    assert found == ()
    assert made is not None
    assert (made.name, made.units) == ("Two offices", "us")
    assert [s.name for s in made.surfaces] == [
        "north wall", "partition", "shaft", "stub", "lid",
        "Office wall 1", "Office wall 2", "Office wall 3", "Office wall 4", "Office ceiling",
    ]  # fmt: skip
    assert [str(s.faces) for s in made.surfaces] == ["1", "2", *"11111111"]
    assert [t for t, _ in made.rules] == ["Ceilings: two coats flat.", 'Deduct "all" openings.']
    assert [span.text for _, span in made.rules] == ["Ceilings: two coats flat.", 'Deduct "all" openings.']
    assert [t for t, _ in made.documents.specification] == ["section.txt"]
    assert [(t, s.line) for t, s in made.documents.addenda] == [("addendum-1.txt", 6), ("addendum-2.txt", 6)]
    assert [t for t, _ in made.documents.house] == ["house.txt"]
    assert [t for t, _ in made.plugin_files] == ["ours.py"]


def test_a_length_keeps_what_was_written_and_where() -> None:
    north = job(GOOD).surfaces[0]
    assert north.height is not None
    origin = north.height.step.origin
    assert (origin.key, origin.text, origin.note) == ("north wall height", "8'-0 1/2\"", "measured")
    assert origin.place is not None
    assert (origin.place.text, str(origin.place)) == ("8'-0 1/2\\\"", "job.toml:14:11")
    assert (north.height.label, north.faces.label) == ("height", "faces")
    assert north.area == Amount.read("193 sq ft")
    assert str(north.span) == "job.toml:12:9"


def test_marks_stay_as_they_are_written_and_those_of_a_room_go_to_all_its_surfaces() -> None:
    made = job(GOOD)
    assert dict(made.surfaces[0].marks) == {"board": "5/8 in. type X"}
    assert made.surfaces[0].mark_places["board"].text == "5/8 in. type X"
    assert [s.name for s in made.surfaces if s.marks.get("paint") == "Satin."] == [
        "Office wall 1", "Office wall 2", "Office wall 3", "Office wall 4", "Office ceiling",
    ]  # fmt: skip


def test_a_room_gives_four_walls_a_ceiling_and_four_inside_corners() -> None:
    made = job(HEAD + '[[rooms]]\nname = "R"\nlength = "15 ft"\nwidth = "10 ft"\nheight = "8 ft"\n')
    assert [(s.kind, s.room, s.area.exact()) for s in made.surfaces] == [
        ("wall", "R", "120 sq ft"), ("wall", "R", "80 sq ft"), ("wall", "R", "120 sq ft"), ("wall", "R", "80 sq ft"),
        ("ceiling", "R", "150 sq ft"),
    ]  # fmt: skip
    (corner,) = made.corners
    assert (corner.kind, str(corner.count), corner.height.exact(), corner.room) == ("inside", "4", "8 ft", "R")


def test_openings_of_a_room_go_to_the_first_of_its_walls_that_have_space() -> None:
    office = [s for s in job(GOOD).surfaces if s.room == "Office" and s.kind == "wall" and s.name != "stub"]
    # 20 sq ft each: four go into 96 sq ft and four into 80.
    assert [[str(o.count) for o in s.openings] for s in office] == [["4"], ["4"], ["3"], []]
    assert all(o.surface == s.name for s in office for o in s.openings)


def test_an_opening_may_name_one_wall_of_a_room() -> None:
    made = job(GOOD.replace('wall = "Office"', 'wall = "office wall 3"').replace("count = 11", "count = 4"))
    assert [s.name for s in made.surfaces if any(o.name == "window" for o in s.openings)] == ["Office wall 3"]


def test_an_opening_may_lie_in_a_ceiling_either_way_round() -> None:
    text = HEAD + '[[ceilings]]\nname = "lid"\nlength = "24 ft"\nwidth = "10 ft"\n[[openings]]\nwall = "lid"\n'
    assert job(text + 'width = "9 ft"\nheight = "20 ft"\n').surfaces[0].openings[0].name == "opening 1"
    assert job(text + 'width = "20 ft"\nheight = "9 ft"\n').surfaces[0].openings[0].count == Amount.of(1)
    assert told(text + 'width = "11 ft"\nheight = "20 ft"\n') == [("job-opening-too-large", "11 ft")]


def test_an_opening_as_large_as_its_wall_is_let_be() -> None:
    made = job(HEAD + WALL + '[[openings]]\nwall = "north wall"\nwidth = "24 ft"\nheight = "8 ft"\n')
    assert made.surfaces[0].openings[0].each == made.surfaces[0].area


def test_tables_may_be_written_in_line_dotted_or_with_carriage_returns() -> None:
    text = (
        'name = "x"\nunits = "metric"\ndocuments.house = "h.txt"\n'
        'walls = [ # in line\n {name = "w", length = "3 m", height = """2.5 m""", faces = 1}, '
        "{'name' = '''v''', \"area\" = '5 m2'},\n]\n"
    )
    for written in (text, text.replace("\n", "\r\n"), "\ufeff" + text):
        made = job(written)
        assert [s.name for s in made.surfaces] == ["w", "v"]
        wall = made.surfaces[0]
        assert wall.height is not None
        assert wall.height.step.origin.place is not None
        assert wall.height.step.origin.place.text == "2.5 m"
        assert wall.height.step.origin.place.line == 5
        assert made.documents.house[0][1].text == "h.txt"


_MISTAKES = [
    ("an unknown key", WALL.replace("length", "lenght"), "job-unknown-key", "lenght", "Did you mean length?"),
    ("an unknown mark", WALL + 'bord = "x"\n', "job-unknown-key", "bord", "Did you mean board?"),
    ("a key of the wrong table", WALL + 'width = "3 ft"\n', "job-unknown-key", "width", "length, height, faces"),
    ("an unknown table", WALL.replace("walls", "wall"), "job-unknown-table", "[[wall]]", "Did you mean walls?"),
    ("an unknown key on top", "shade = 3\n" + WALL, "job-unknown-key", "shade", "walls, ceilings, openings"),
    ("a missing length", WALL.replace('length = "24 ft"\n', ""), "job-missing-key", "[[walls]]", 'length = "..."'),
    ("a missing height", WALL.replace('height = "8 ft"\n', ""), "job-missing-key", "[[walls]]", 'height = "..."'),
    ("neither sides nor area", '[[walls]]\nname = "w"\nfaces = 1\n', "job-missing-key", "[[walls]]", "area"),
    ("missing faces", WALL.replace("faces = 1\n", ""), "job-missing-key", "[[walls]]", "an outside wall has 1 face inside, a partition 2"),
    ("a missing name", WALL.replace('name = "north wall"\n', ""), "job-missing-key", "[[walls]]", "name ="),
    ("an empty name", WALL.replace("north wall", " "), "job-missing-key", " ", "name ="),
    ("area and sides", WALL + 'area = "192 sq ft"\n', "job-area-and-sides", "192 sq ft", "Keep length and height"),
    ("a negative height", WALL.replace("8 ft", "-8 ft"), "job-out-of-range", "-8 ft", ""),
    ("a zero length", WALL.replace("24 ft", "0 ft"), "job-out-of-range", "0 ft", ""),
    ("a length in gallons", WALL.replace("24 ft", "40 gal"), "job-wrong-unit", "40 gal", '"12 ft 6 in"'),
    ("an area in feet", '[[walls]]\nname = "w"\narea = "40 ft"\n', "job-wrong-unit", "40 ft", '"96 sq ft"'),
    ("a bare number", WALL.replace('"24 ft"', "24"), "job-no-unit", "24", 'Write length = "24 ft".'),
    ("a float", WALL.replace('"24 ft"', "12.50"), "job-no-unit", "12.50", 'Write length = "12.50 ft".'),
    ("a bare number in quotes", WALL.replace("24 ft", "24"), "job-no-unit", "24", 'Write length = "24 ft".'),
    ("an endless exponent", WALL.replace("24 ft", "1e999999999"), "job-unreadable-amount", "1e999999999", ""),
    ("a misspelt unit", WALL.replace("24 ft", "24 foots"), "job-unreadable-amount", "24 foots", "Did you mean ft?"),
    ("a unit left off", WALL.replace("24 ft", "24 ft 6"), "job-unreadable-amount", "24 ft 6", '"12 ft 6 in"'),
    ("a truth for a length", WALL.replace('"24 ft"', "true"), "job-wrong-type", "true", ""),
    ("a number for a name", WALL.replace('"north wall"', "12"), "job-wrong-type", "12", 'Write name = "12".'),
    ("three faces", WALL.replace("faces = 1", "faces = 3"), "job-faces", "3", "1 face inside"),
    ("faces in quotes", WALL.replace("faces = 1", 'faces = "2"'), "job-faces", "2", "without quotes"),
    ("one pair of brackets", WALL.replace("[[walls]]", "[walls]"), "job-wrong-type", "[walls]", "[[walls]]"),
    ("a name used twice", WALL + WALL.replace("north", "North"), "job-duplicate-name", "North wall", ""),
    ("a mark that is no text", WALL + "board = 5\n", "job-wrong-type", "5", 'Write board = "5".'),
    ("a wrong corner", '[[corners]]\nkind = "insde"\ncount = 1\nheight = "8 ft"\n', "job-corner-kind", "insde", "mean inside?"),
    ("a corner without count", '[[corners]]\nkind = "inside"\nheight = "8 ft"\n', "job-missing-key", "[[corners]]", "count = 4"),
    ("a count of none", '[[corners]]\nkind = "inside"\ncount = 0\nheight = "8 ft"\n', "job-out-of-range", "0", ""),
    ("a huge count", '[[corners]]\nkind = "inside"\ncount = 1000001\nheight = "8 ft"\n', "job-out-of-range", "1000001", ""),
    ("half a count", '[[corners]]\nkind = "inside"\ncount = 1.5\nheight = "8 ft"\n', "job-wrong-type", "1.5", "count = 2"),
    ("a room without width", '[[rooms]]\nname = "r"\nlength = "1 m"\nheight = "1 m"\n', "job-missing-key", "[[rooms]]", "width"),
    ("an opening nowhere", WALL + '[[openings]]\nwall = "nroth wall"\nwidth = "1 ft"\nheight = "1 ft"\n', "job-opening-nowhere", "nroth wall", "Did you mean north wall?"),
    ("an opening without wall", WALL + '[[openings]]\nwidth = "1 ft"\nheight = "1 ft"\n', "job-missing-key", "[[openings]]", "wall ="),
    ("an opening too wide", WALL + '[[openings]]\nwall = "north wall"\nwidth = "25 ft"\nheight = "1 ft"\n', "job-opening-too-large", "25 ft", "24 ft by 8 ft"),
    ("an opening too high", WALL + '[[openings]]\nwall = "north wall"\nwidth = "2 ft"\nheight = "3 m"\n', "job-opening-too-large", "3 m", "24 ft by 8 ft"),
    ("too many openings", WALL + '[[openings]]\nwall = "north wall"\nwidth = "7 ft"\nheight = "7 ft"\ncount = 4\n', "job-opening-too-large", "4", "24 ft by 8 ft"),
    ("documents as a number", "documents = 3\n" + WALL, "job-wrong-type", "3", "[documents]"),
    ("a number among documents", WALL + '[documents]\nhouse = ["a.txt", 3]\n', "job-wrong-type", "3", ""),
    ("an unknown document", WALL + '[documents]\nspecifications = "a.txt"\n', "job-unknown-key", "specifications", "Did you mean specification?"),
    ("rules as a table", "rules = {a = 1}\n" + WALL, "job-wrong-type", "{a = 1}", "rules = ["),
    ("a table among walls", "walls = [1]\n", "job-wrong-type", "1", "[[walls]]"),
    ("no quotes", WALL.replace('"24 ft"', "24 ft"), "job-syntax", "24 ft", 'Write length = "24 ft".'),
    ("no quotes and inches", WALL.replace('"24 ft"', "24'-6\""), "job-syntax", "24'-6\"", "Write length = '''24'-6\"'''."),
    ("a bare inch mark", WALL.replace('"24 ft"', '"24\'-6""'), "job-syntax", '"', "a backslash before it"),
    ("a key said twice", WALL + "faces = 2\n", "job-syntax", "faces = 2", "Keep one"),
    ("no value", WALL.replace('"24 ft"', ""), "job-syntax", "length", "length"),
    ("no TOML at all", "walls: north\n", "job-syntax", ":", ""),
]  # fmt: skip


@pytest.mark.parametrize(("text", "code", "at", "help"), [m[1:] for m in _MISTAKES], ids=[m[0] for m in _MISTAKES])
def test_one_mistake_is_told_once_in_its_place_with_a_way_out(text: str, code: str, at: str, help: str) -> None:
    made, found = read(HEAD + text)
    assert made is None
    (one,) = found
    assert one.code == code
    assert one.span is not None
    assert one.span.text == at
    assert one.severity is Severity.ERROR
    assert help.casefold() in one.help.casefold()
    assert one.message


def test_all_mistakes_are_told_in_one_run_in_the_order_of_the_file() -> None:
    text = (
        'units = "imperial"\n[[wall]]\nname = "w"\nlength = 12\nheight = "-1 ft"\nfaces = 4\n'
        '[[openings]]\nwall = "v"\nwidth = "3 gal"\nheight = 7 ft\n[[corners]]\nkind = "in"\n'
    )
    made, found = read(text)
    assert made is None
    assert [(d.code, d.span.line if d.span else 0) for d in found] == [
        ("job-missing-key", 1), ("job-units", 1), ("job-unknown-table", 2), ("job-no-unit", 4), ("job-out-of-range", 5),
        ("job-faces", 6), ("job-opening-nowhere", 8), ("job-wrong-unit", 9), ("job-syntax", 10), ("job-missing-key", 11),
        ("job-missing-key", 11), ("job-corner-kind", 12),
    ]  # fmt: skip


def test_openings_that_fit_into_a_wall_of_a_room_but_not_all_of_them_are_not_called_too_large() -> None:
    room = '[[rooms]]\nname = "den"\nlength = "12 ft"\nwidth = "8 ft"\nheight = "8 ft"\n'
    opening = '[[openings]]\nname = "pane"\nwall = "den"\nwidth = "10 ft"\nheight = "7 ft"\ncount = 9\n'
    made, (one,) = read(HEAD + room + opening)
    assert made is None
    assert one.message == 'opening "pane" does not fit into the walls of "den" beside the other openings there'
    assert one.help == 'the walls of "den" are 12 ft by 8 ft and 8 ft by 8 ft; each opening is 10 ft by 7 ft.'
    _, (one,) = read(HEAD + room + opening.replace("7 ft", "9 ft"))
    assert one.message == 'opening "pane" is larger than the walls of "den"'


@pytest.mark.parametrize(
    ("length", "help"),
    [
        ("7,32 m", 'Did you mean "7.32 m", with a point? Write it as "12 ft 6 in" or "3.81 m".'),
        ("24 ft 14 in", 'Write it as "12 ft 6 in" or "3.81 m".'),
        ("2.4.1 ft", 'Write it as "12 ft 6 in" or "3.81 m".'),
    ],
)
def test_a_length_that_cannot_be_read_suggests_only_what_was_spelled_wrong(length: str, help: str) -> None:
    made, (one,) = read(HEAD + WALL.replace("24 ft", length))
    assert made is None
    assert (one.code, one.help) == ("job-unreadable-amount", help)


def test_the_suggested_unit_is_of_the_system_of_the_job() -> None:
    _, found = read(HEAD.replace("us", "metric") + WALL.replace('"24 ft"', "3.6"))
    assert found[0].help == 'Write length = "3.6 m".'


def test_a_job_that_does_not_say_its_units_is_read_in_us_and_warned_of() -> None:
    made, found = read('name = "x"\n' + WALL)
    assert made is not None
    assert made.units == "us"
    assert [(d.code, d.severity) for d in found] == [("job-units-assumed", Severity.WARNING)]


def test_a_job_that_measures_nothing_is_warned_of() -> None:
    made, found = read(HEAD)
    assert made is not None
    assert [(d.code, d.severity) for d in found] == [("job-nothing-measured", Severity.WARNING)]


def test_a_mark_that_no_trade_asked_for_is_an_unknown_key() -> None:
    made, found = load(Source("job.toml", HEAD + WALL + 'board = "x"\n'))
    assert made is None
    assert [d.code for d in found] == ["job-unknown-key"]


_N = 300_000
_HOSTILE = {
    "digits": "name = " + "1" * _N,
    "digits in quotes": HEAD + WALL.replace("24", "1" * _N),
    "blanks in quotes": HEAD + WALL.replace("24 ft", "24 ft" + " " * _N + "x"),
    "brackets": "name = " + "[" * _N,
    "braces": "name = " + "{a=" * _N,
    "a brace in a list": 'rules = ["flat" }]\n' + HEAD,
    "header brackets": "[" * _N,
    "dots": "a" + ".a" * _N + " = 1",
    "NUL": HEAD + "\x00" * _N,
    "quotes": '"' * _N,
    "apostrophes": "name = '''" + "'" * _N,
    "escaped quotes": 'name = "' + '\\"' * _N,
    "backslashes": 'name = "' + "\\" * _N,
    "no end of text": 'name = """' + "a\n" * _N,
    "carriage returns": "\r" * _N,
    "bad lines": "name = x\n" * (_N // 9),
    "a long key": "a" * _N + " = 1",
    "many unknown keys": "".join(f"k{i} = 1\n" for i in range(_N // 30)),
    "many openings": HEAD + WALL.replace("24 ft", "9999999 ft") + '[[openings]]\nwall="north wall"\nwidth="1 ft"\nheight="1 ft"\n' * 2000,
    "many openings nowhere": HEAD + WALL + '[[openings]]\nwall="nort wall"\nwidth="1 ft"\nheight="1 ft"\n' * 2000,
}  # fmt: skip


@pytest.mark.parametrize("text", _HOSTILE.values(), ids=_HOSTILE.keys())
def test_a_hostile_file_is_answered_soon_and_in_few_words(text: str) -> None:
    before = time.process_time()
    _, found = read(text)
    assert time.process_time() - before < 60  # of its own work; a quadratic reader takes minutes
    for one in found:
        assert len(one.message) < 300
        assert len(one.help) < 400
        assert one.span is not None


def test_the_schema_is_a_schema() -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMA)


def _valid(text: str) -> bool:
    return bool(jsonschema.Draft202012Validator(SCHEMA).is_valid(tomllib.loads(text)))


def test_the_schema_takes_what_load_takes() -> None:
    metric = '[[rooms]]\nname = "r"\nlength = "4 m"\nwidth = "⅞ yd"\nheight = "2.4 m"\n'
    for text in (GOOD, HEAD, HEAD + WALL, HEAD + metric, 'name = "x"\n' + WALL):
        assert read(text)[0] is not None
        assert _valid(text), text


_BEYOND_SCHEMA = {
    "a length in gallons", "an area in feet", "a name used twice", "an opening nowhere", "an opening too wide",
    "an opening too high", "too many openings", "a misspelt unit", "a unit left off", "a zero length", "an unknown mark",
    "a key of the wrong table", "an endless exponent",
}  # fmt: skip


@pytest.mark.parametrize(
    "text", [m[1] for m in _MISTAKES if m[0] not in _BEYOND_SCHEMA and m[2] != "job-syntax"],
    ids=[m[0] for m in _MISTAKES if m[0] not in _BEYOND_SCHEMA and m[2] != "job-syntax"],
)  # fmt: skip
def test_the_schema_refuses_wrong_shapes(text: str) -> None:
    assert not _valid(HEAD + text)


def test_the_schema_knows_every_key_that_load_knows() -> None:
    _, found = read(
        HEAD
        + "zzz = 1\n[[walls]]\nzzz = 1\n[[ceilings]]\nzzz = 1\n[[rooms]]\nzzz = 1\n[[openings]]\nzzz = 1\n[[corners]]\nzzz = 1\n"
    )
    help_of = {d.message: d.help for d in found if d.code == "job-unknown-key"}
    for kind, keys in [("job file", SCHEMA["properties"])] + [
        (kind, SCHEMA["$defs"][kind]["properties"]) for kind in ("wall", "ceiling", "room", "opening", "corner")
    ]:
        (help,) = [h for m, h in help_of.items() if kind in m]
        listed = set(help.removeprefix("What may stand here: ").removesuffix(".").split(", "))
        assert listed - set(MARKS) == set(keys), kind
