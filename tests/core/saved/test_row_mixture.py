"""Measured rows taken apart and put together anew: which row is which, what differs, and where each stands."""

from __future__ import annotations

import pytest

from darby.job.loader import load
from darby.job.marks import Marks
from darby.job.rows.declared import JobTable, Key
from darby.saved.row_mixture import Mixture, Row, differing, held, rows_of
from darby.text.spans import Source

JOB = """\
name = "Loft"
units = "us"
rules = ["Waste: 5 %."]
schedules = ["rows.csv"]
[documents]
specification = "s.txt"
[[walls]]
name = "north"
length = "24 ft"
height = "8 ft"
faces = 1
[[walls]]
name = "south"
length = "24 ft"
height = "8 ft"
faces = 2
[[openings]]
name = "door"
wall = "north"
width = "3 ft"
height = "7 ft"
[[corners]]
kind = "outside"
count = 2
height = "8 ft"
[[prices]]
product = "primer"
package = "1 gal"
price = 30
"""
CSV = "what,name,length,height,faces\nwall,east,10 ft,8 ft,1\n"


def rows(text: str = JOB, csv: str = "") -> tuple[Row, ...]:
    return rows_of(Source("job.toml", text), [Source("rows.csv", csv)] if csv else [])


def changes(one: tuple[Row, ...], other: tuple[Row, ...]) -> list[tuple[str, str]]:
    return [
        (s.before.what if s.before else "", s.after.what if s.after else "")
        for s in held(one, other)
        if s.change is not None
    ]


def test_rows_are_what_is_measured_and_priced_in_the_order_of_the_file_then_of_the_schedules() -> None:
    assert [(r.table, r.what, str(r.span)) for r in rows(csv=CSV)] == [
        ("walls", 'wall "north"', "job.toml:8:9"),
        ("walls", 'wall "south"', "job.toml:13:9"),
        ("openings", 'opening "door"', "job.toml:18:9"),
        ("corners", 'corner "outside"', "job.toml:22:1"),
        ("prices", 'price "primer"', "job.toml:26:1"),
        ("walls", 'wall "east"', "rows.csv:2:6"),
    ]
    assert rows("[[walls") == ()
    assert [r.what for r in rows('[[walls]]\nlength = "1 ft"\n')] == ["wall"]


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ('"24 ft"\nheight = "8 ft"\nfaces = 1', '"25 ft"\nheight = "8 ft"\nfaces = 1', {"length": ("24 ft", "25 ft")}),
        ('faces = 1', 'faces = 2', {"faces": (1, 2)}),
        ('faces = 1\n', '', {"faces": (1, None)}),
        ('"24 ft"\nheight = "8 ft"\nfaces = 1', '"288 in"\nheight = "8 ft"\nfaces = 1', {"length": ("24 ft", "288 in")}),
        ('height = "8 ft"\nfaces = 1', 'height = "8\'"\nfaces = 1', {}),
        ('height = "8 ft"\nfaces = 1', 'height = "8 feet"\nfaces = 1', {}),
    ],
)  # fmt: skip
def test_what_differs_is_told_by_key_with_both_values_and_another_spelling_is_no_difference(
    old: str, new: str, told: dict[str, object]
) -> None:
    assert old in JOB
    before, after = rows(), rows(JOB.replace(old, new, 1))
    assert differing(before[0], after[0]) == told
    assert changes(before, after) == ([('wall "north"', 'wall "north"')] if told else [])


def test_rows_of_two_tables_differ_in_what_they_are() -> None:
    wall, other = rows()[0], rows(JOB.replace("[[walls]]", "[[ceilings]]", 1).replace("height", "width", 1))[0]
    assert differing(wall, other) == {"what": ("wall", "ceiling"), "height": ("8 ft", None), "width": (None, "8 ft")}


def test_a_row_is_found_again_wherever_it_stands_and_by_its_name_where_it_changed() -> None:
    turned = rows()[:2][::-1] + rows()[2:]
    assert changes(rows(), turned) == []
    assert changes(rows(), rows()[1:]) == [('wall "north"', "")]
    assert changes(rows()[1:], rows()) == [("", 'wall "north"')]


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        # renamed: one change, not one gone and one new
        ('name = "south"', 'name = "rear"', [('wall "south"', 'wall "rear"')]),
        # of another size and name: one gone, one new
        ('name = "south"\nlength = "24 ft"', 'name = "rear"\nlength = "9 ft"', [('wall "south"', ""), ("", 'wall "rear"')]),
        # in capitals: the same name, and a change all the same
        ('name = "south"', 'name = "South"', [('wall "south"', 'wall "South"')]),
        # an opening of one name in another wall
        ('wall = "north"', 'wall = "south"', [('opening "door"', 'opening "door"')]),
        ('price = 30', 'price = 31', [('price "primer"', 'price "primer"')]),
        ('count = 2', 'count = 3', [('corner "outside"', 'corner "outside"')]),
    ],
)  # fmt: skip
def test_a_change_is_one_change(old: str, new: str, told: list[tuple[str, str]]) -> None:
    assert old in JOB
    assert sorted(changes(rows(), rows(JOB.replace(old, new, 1)))) == sorted(told)


def test_a_wall_that_became_a_ceiling_of_the_same_name_is_one_change_and_an_opening_no_corner() -> None:
    other = JOB.replace('[[walls]]\nname = "south"', '[[ceilings]]\nname = "south"').replace(
        'height = "8 ft"\nfaces = 2', 'width = "8 ft"'
    )
    assert changes(rows(), rows(other)) == [('wall "south"', 'ceiling "south"')]
    hole, corner = rows()[2], rows('[[corners]]\nname = "door"\nkind = "inside"\n')[0]
    assert changes((hole,), (corner,)) == [('opening "door"', ""), ("", 'corner "door"')]


def test_a_mixture_of_rows_is_the_job_that_holds_them_with_places_where_they_stand() -> None:
    found = rows(csv=CSV)
    mixture = Mixture.of(Source("other.toml", "x"), (found[5], found[1], found[2]))
    job = Mixture.of(Source("other.toml", "x"), (found[5], found[0], found[2])).job("Loft", ())
    assert job is not None
    assert (job.name, [s.name for s in job.surfaces]) == ("Loft", ["north", "east"])
    assert [o.name for o in job.surfaces[0].openings] == ["door"]
    assert mixture.job("Loft", ()) is None  # the door's wall is not there
    assert mixture.is_broken(()) is False


def test_a_mixture_knows_the_place_of_each_value_of_each_row_and_of_the_whole() -> None:
    found = rows(csv=CSV)
    mixture = Mixture.of(Source("other.toml", "x"), (found[5], found[1]))
    assert mixture.at(("walls", 0, "length")).value.text == "10 ft"
    assert str(mixture.at(("walls", 1, "length")).value) == "job.toml:14:11"
    assert mixture.at(("walls", 1)).value.text.startswith("[[walls]]")
    assert mixture.at(("walls", 0)).value.text == "wall,east,10 ft,8 ft,1"
    assert (str(mixture.at(("name",)).value), mixture.at(()).value.text) == ("other.toml:1:1", "")


DECKS = JobTable(
    "decks", "deck", "flat", keys=(Key("laid", "word", words=("straight", "diagonal")), Key("hatches", "count"))
)
DECK_JOB = """\
name = "Loft"
units = "us"
[[decks]]
name = "roof"
length = "20 ft"
width = "12 ft"
laid = "straight"
"""
DECK_CSV = "what,name,length,width,laid,hatches,ours\nDecks,porch,8 ft,6 ft,diagonal,2,\ndeck,landing,4 ft,6 ft,,,x\n"


def test_rows_of_a_table_that_a_trade_brought_are_found_in_a_schedule_whether_its_plugin_is_here_or_not() -> None:
    found = rows(DECK_JOB, DECK_CSV)
    assert [(r.what, r.span.line) for r in found] == [('deck "roof"', 4), ('deck "porch"', 2), ('deck "landing"', 3)]
    wider = rows(DECK_JOB, DECK_CSV.replace("8 ft", "9 ft"))
    assert changes(found, wider) == [('deck "porch"', 'deck "porch"')]
    assert differing(found[1], wider[1]) == {"length": ("8 ft", "9 ft")}


def test_a_mixture_has_the_rows_of_such_a_table_as_the_job_had_them() -> None:
    marks = Marks({}, tables={"decks": DECKS})
    mixed = Mixture.of(Source("job.toml", DECK_JOB), rows(DECK_JOB, DECK_CSV)).job("Loft", marks)
    assert mixed is not None
    typed, told = load(Source("job.toml", f"""{DECK_JOB}
[[decks]]
name = "porch"
length = "8 ft"
width = "6 ft"
laid = "diagonal"
hatches = 2
[[decks]]
name = "landing"
length = "4 ft"
width = "6 ft"
"""), marks)  # fmt: skip
    assert typed is not None, told
    assert [(e.name, e.surface and e.surface.area, {**e.values}) for e in mixed.entries("decks")] == [
        (e.name, e.surface and e.surface.area, {**e.values}) for e in typed.entries("decks")
    ]
