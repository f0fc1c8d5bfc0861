"""What a key of a surface may say: any words, or one of a closed list."""

from __future__ import annotations

import pytest

from darby.job.loader import load
from darby.job.marks import Marks
from darby.text.spans import Source

HUNG = {"along": "along", "parallel": "along", "across": "across"}
MARKS = Marks(
    {"supports": (), "hung": (), "color": ("wall",)},
    {"supports": {"wood": "wood", "steel": "steel", "metal": "steel"}, "hung": HUNG, "condition": {"rough": "rough"}},
)
WALL = 'name = "j"\nunits = "us"\n[[walls]]\nname = "w"\nlength = "9 ft"\nheight = "8 ft"\nfaces = 1\n'


def told(line: str, text: str = WALL) -> list[tuple[str, str, str]]:
    job, found = load(Source("job.toml", text + line + "\n"), MARKS)
    assert (job is None) is bool(found)
    return [(d.code, d.message, d.help) for d in found]


@pytest.mark.parametrize(
    "line",
    ['supports = "Steel, 20 gauge"', 'supports = "metal studs"', 'hung = "along the joists"', 'hung = "PARALLEL"', 'color = "stel"',
     'condition = "Rough"', 'condition = "existing"', 'condition = "derelict"'],
)  # fmt: skip
def test_a_word_of_the_list_may_stand_among_others(line: str) -> None:
    assert told(line) == []


@pytest.mark.parametrize(
    ("line", "code", "message", "help"),
    [
        ('supports = "steal"', "job-mark", 'supports of wall "w" is "steal"', "Did you mean steel? It is one of: wood, steel."),
        ('supports = "brick"', "job-mark", 'supports of wall "w" is "brick"', "It is one of: wood, steel."),
        ('hung = "allong the joists"', "job-mark", 'hung of wall "w" is "allong the joists"', "Did you mean along? It is one of: along, across."),
        ('hung = "across, not along"', "job-mark", 'hung of wall "w" is "across, not along", which says across and along', 'Write one: hung = "across".'),
        ('condition = "ruogh"', "job-condition", 'condition of wall "w" is "ruogh"', 'Did you mean rough? Write condition = "rough".'),
        ('condition = "exsting"', "job-condition", 'condition of wall "w" is "exsting"', 'Did you mean existing? Write condition = "existing".'),
    ],
)  # fmt: skip
def test_what_is_none_of_the_list_is_told_with_the_nearest_word(line: str, code: str, message: str, help: str) -> None:
    assert told(line) == [(code, message, help)]


def test_a_room_says_it_for_each_kind_of_surface_in_the_same_words() -> None:
    room = 'name = "j"\nunits = "us"\n[[rooms]]\nname = "r"\nlength = "9 ft"\nwidth = "9 ft"\nheight = "8 ft"\n'
    assert told('supports = { walls = "steel", ceiling = "wood" }', room) == []
    assert told('supports = { walls = "steel", ceiling = "wod" }', room)[0][0] == "job-mark"


def test_keys_that_are_added_leave_the_lists_as_they_are() -> None:
    more = Marks.of(MARKS, ["floor"])
    assert (more["floor"], more["color"], more.words) == ((), ("wall",), MARKS.words)
    assert Marks.of(("a", "b")) == {"a": (), "b": ()}
    assert Marks.of({"a": ("wall",)}, ["a"]) == {"a": ("wall",)}
