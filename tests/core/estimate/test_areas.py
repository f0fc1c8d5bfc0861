"""Areas of measured surfaces: faces, openings that stay in and openings that come out."""

from __future__ import annotations

from fractions import Fraction

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st

from darby.estimate.areas import (
    Deduct,
    deduction,
    net_area,
    openings_out,
    pieces,
    places,
    pooled,
    reveals_left,
    rooms_told_apart,
    ruled_by,
)
from darby.job.loader import load
from darby.job.model import Job, Opening, Surface
from darby.quantities.amounts import Amount, leaves, walk
from darby.quantities.units import UnitError
from darby.rules.answer import Answer, Asked
from darby.rules.cascade import RuleBook
from darby.rules.consultation import Consultation
from darby.rules.rule import OVERRIDE, Rule, Scope
from darby.text.spans import Source
from jobs import ceiling, opening, wall
from kit import rule

HEAD = 'name = "test"\nunits = "us"\n'
NORTH = """[[walls]]
name = "north wall"
length = "24 ft"
height = "8 ft"
faces = 1
[[openings]]
name = "door"
wall = "north wall"
width = "3 ft"
height = "7 ft"
count = 2
[[openings]]
name = "window"
wall = "north wall"
width = "8 ft"
height = "5 ft"
"""


def job(text: str, head: str = HEAD) -> Job:
    made, found = load(Source("job.toml", head + text))
    assert made is not None, found
    return made


def surface(text: str) -> Surface:
    return job(text).surfaces[0]


def over(amount: str) -> Answer:
    """What the rule book answers to `Deduct openings over ...`."""
    return Answer(
        Asked("deduct openings over", "sheet goods", Scope()), rule("deduct openings over", "sheet goods", amount)
    )


def test_openings_stay_in_where_no_rule_takes_them_out() -> None:
    area = net_area(surface(NORTH), None)
    assert area == Amount.read("192 sq ft")
    assert area.label == "north wall"
    assert [(a.label, a.exact()) for a in leaves(area)] == [("length", "24 ft"), ("height", "8 ft"), ("faces", "1")]


def test_openings_over_a_size_come_out_in_full_and_smaller_ones_stay_in() -> None:
    north = surface(NORTH)  # two doors of 21 sq ft, a window of 40
    assert net_area(north, over("32 sq ft")) == Amount.read("152 sq ft")
    assert net_area(north, over("20 sq ft")) == Amount.read("110 sq ft")
    assert net_area(north, over("0 sq ft")) == Amount.read("110 sq ft")
    assert net_area(north, over("3 m2")) == Amount.read("152 sq ft")


def test_an_opening_of_just_the_size_stays_in() -> None:
    assert net_area(surface(NORTH), over("40 sq ft")) == Amount.read("192 sq ft")
    assert net_area(surface(NORTH), over("21 sq ft")) == Amount.read("152 sq ft")


def test_the_size_is_of_one_opening_not_of_all_of_its_kind() -> None:
    # Two doors make 42 sq ft, but each is 21.
    assert net_area(surface(NORTH), over("41 sq ft")) == Amount.read("192 sq ft")


def test_a_share_takes_that_much_of_every_opening() -> None:
    assert net_area(surface(NORTH), over("0 %")) == Amount.read("192 sq ft")
    assert net_area(surface(NORTH), over("50 %")) == Amount.read("151 sq ft")
    assert net_area(surface(NORTH), over("100 %")) == Amount.read("110 sq ft")


def test_an_opening_in_a_partition_comes_out_of_both_faces() -> None:
    partition = surface(NORTH.replace("faces = 1", "faces = 2"))
    assert net_area(partition, None) == Amount.read("384 sq ft")
    assert net_area(partition, over("32 sq ft")) == Amount.read("304 sq ft")
    assert net_area(partition, over("50 %")) == Amount.read("302 sq ft")


def test_the_partition_of_346_feet_has_6920_square_feet() -> None:
    # A course text's worked example: 346 ft x 10 ft, two faces.
    text = '[[walls]]\nname = "partitions"\nlength = "346 ft"\nheight = "10 ft"\nfaces = 2\n'
    assert net_area(surface(text), None) == Amount.read("6920 sq ft")


def test_the_almanac_room_has_328_square_feet_of_wall() -> None:
    # Room 10 x 15 ft, 8 ft high, two doors of 21 and two windows of 15 sq ft taken out; an almanac's worked example.
    made = job(
        '[[rooms]]\nname = "room"\nlength = "15 ft"\nwidth = "10 ft"\nheight = "8 ft"\n'
        '[[openings]]\nname = "door"\nwall = "room"\nwidth = "3 ft"\nheight = "7 ft"\ncount = 2\n'
        '[[openings]]\nname = "window"\nwall = "room"\nwidth = "5 ft"\nheight = "3 ft"\ncount = 2\n'
    )
    assert pooled(made.of_kind("wall"), over("0 sq ft"), "walls") == Amount.read("328 sq ft")
    assert pooled(made.of_kind("ceiling"), over("0 sq ft"), "ceilings") == Amount.read("150 sq ft")


def test_the_working_names_what_came_out() -> None:
    area = net_area(surface(NORTH), over("20 sq ft"))
    assert [(a.label, str(a)) for a in walk(area) if a.label and a.step.op != "given"] == [
        ("north wall with its openings", "192 sq ft"),
        ("door in north wall", "42 sq ft"),
        ("window in north wall", "40 sq ft"),
        ("openings over 20 sq ft in north wall", "82 sq ft"),
        ("north wall", "110 sq ft"),
    ]
    places = [str(a.step.origin.place) for a in leaves(area)]
    assert "job.toml:5:11" in places
    assert "job.toml:11:10" in places


def test_openings_never_take_more_than_the_surface() -> None:
    north = surface(NORTH)
    small = evolve(north, area=Amount.read("30 sq ft"), length=None, height=None)
    assert net_area(small, over("0 sq ft")) == Amount.read("0 sq ft")
    assert net_area(north, over("1000 %")) == Amount.read("0 sq ft")


def test_metric_and_us_surfaces_pool_in_the_units_of_the_job_and_show_the_conversion() -> None:
    made = job(
        '[[walls]]\nname = "a"\nlength = "10 m"\nheight = "3 m"\nfaces = 1\n'
        '[[walls]]\nname = "b"\nlength = "10 ft"\nheight = "10 ft"\nfaces = 1\n'
    )
    us = pooled(made.surfaces, None, "walls", units="us")
    metric = pooled(made.surfaces, None, "walls", units="metric")
    assert (us.unit.name, metric.unit.name) == ("sq ft", "m2")
    assert us == metric == Amount.of(30 + Fraction("9.290304"), "m2")
    assert (us.label, us.step.op) == ("walls", "sum")
    assert [a.label for a in walk(us) if a.step.op == "to"] == ["a"]
    assert [a.label for a in walk(metric) if a.step.op == "to"] == ["b"]
    assert pooled(made.surfaces, None).unit.name == "m2"


def test_metric_openings_come_out_of_a_wall_in_feet() -> None:
    text = NORTH.replace('width = "8 ft"\nheight = "5 ft"', 'width = "2 m"\nheight = "1 m"')
    area = net_area(surface(text), over("20.5 sq ft"))
    assert area == Amount.read("192 sq ft") - Amount.read("42 sq ft") - Amount.read("2 m2")
    assert area.unit.name == "sq ft"


def test_walls_and_ceilings_may_be_ruled_differently() -> None:
    made = job(
        NORTH + '[[ceilings]]\nname = "lid"\nlength = "10 ft"\nwidth = "10 ft"\n'
        '[[openings]]\nname = "hatch"\nwall = "lid"\nwidth = "2 ft"\nheight = "3 ft"\n'
    )
    area = pooled(made.surfaces, lambda s: over("0 sq ft") if s.kind == "ceiling" else None)
    assert area == Amount.read("286 sq ft")


def test_nothing_pooled_is_an_error_not_a_zero() -> None:
    with pytest.raises(UnitError):
        pooled([], None)


def test_without_openings_nothing_comes_out() -> None:
    bare = surface('[[walls]]\nname = "w"\narea = "96 sq ft"\n')
    assert openings_out(bare, over("0 sq ft")) is None
    assert openings_out(bare, over("50 %")) is None
    assert net_area(bare, over("0 sq ft")) == Amount.read("96 sq ft")


@given(st.integers(1, 60), st.integers(0, 100), st.integers(1, 2))
def test_the_net_area_lies_between_nothing_and_the_gross_area(limit: int, share: int, faces: int) -> None:
    wall = surface(NORTH.replace("faces = 1", f"faces = {faces}"))
    for rule_of in (over(f"{limit} sq ft"), over(f"{share} %")):
        area = net_area(wall, rule_of)
        out = openings_out(wall, rule_of)
        assert Amount.read("0 sq ft") <= area <= wall.gross
        assert area == (wall.gross if out is None else wall.gross - out)
    assert net_area(wall, over(f"{limit} sq ft")) <= net_area(wall, over(f"{limit + 1} sq ft"))


# --- openings in three steps: IS 1200 (Part 13):1994 3.2


HALF = rule("deduct openings over", "gypsum board", "0.5 m2")
THREE = rule("deduct openings over", "gypsum board", "3 m2", where="each side")


def ruled(*rules: Rule) -> Deduct:
    return deduction(Consultation(RuleBook(rules)), ("gypsum board",), {"surface": "wall"})


def partition(*holes: Opening, faces: int = 2) -> Surface:
    return wall("10 m", "3 m", faces=faces, openings=holes)


@pytest.mark.parametrize(
    ("width", "height", "net"),
    [
        ("0.5 m", "1 m", "60 m2"),  # not over 0.5 m2: stays in on both faces
        ("1 m", "2 m", "58 m2"),  # up to 3 m2: comes out of one face
        ("1.5 m", "2 m", "57 m2"),  # exactly 3 m2: one face still
        ("2 m", "2 m", "52 m2"),  # over 3 m2: comes out of both
    ],
)
def test_the_three_step_rule_of_is_1200(width: str, height: str, net: str) -> None:
    assert net_area(partition(opening(width, height)), ruled(HALF, THREE)) == Amount.read(net)


def test_reveals_are_measured_where_the_opening_comes_out_of_both_faces_and_only_there() -> None:
    window = evolve(opening("2 m", "2 m"), reveal=Amount.read("0.2 m"), sill=True)
    small = evolve(opening("1 m", "2 m"), reveal=Amount.read("0.2 m"), sill=True)
    [surface] = [evolve(partition(), openings=(window, small))]
    # Out: 4 m2 of both faces and 2 m2 of one; added: 8 m around the larger by 0.2 m.
    assert net_area(surface, ruled(HALF, THREE)) == Amount.read("51.6 m2")
    assert reveals_left([surface], ruled(HALF, THREE))
    assert net_area(surface, None) == Amount.read("60 m2")
    assert reveals_left([surface], None)


def test_the_reveal_of_a_door_leaves_the_foot_out() -> None:
    door = evolve(opening("1 m", "2 m"), reveal=Amount.read("0.1 m"))
    surface = evolve(partition(faces=1), openings=(door,))
    assert net_area(surface, ruled(rule("deduct openings over", "gypsum board", "0 m2"))) == Amount.read("28.5 m2")


def test_the_other_face_of_a_wall_loses_what_comes_out_of_both_and_has_no_reveals_of_its_own() -> None:
    window = evolve(opening("2 m", "2 m"), reveal=Amount.read("0.2 m"))
    small = opening("1 m", "2 m")
    face = evolve(partition(faces=1), openings=(window, small))
    back = evolve(face, side=2)
    assert net_area(face, ruled(HALF, THREE)) == Amount.read("25.2 m2")  # 30 - 4 - 2 + 1.2
    assert net_area(back, ruled(HALF, THREE)) == Amount.read("26 m2")


def test_a_rule_of_a_later_layer_puts_the_steps_out() -> None:
    none = rule("deduct openings over", "gypsum board", "0 %", layer=OVERRIDE)
    assert net_area(partition(opening("2 m", "2 m")), ruled(HALF, THREE, none)) == Amount.read("60 m2")


def test_nothing_said_is_asked_about() -> None:
    book = Consultation(RuleBook([]))
    assert deduction(book, ("finish paint", "gypsum board"), {}) is None
    assert [(a.kind, a.subject) for a in book.unanswered] == [("deduct openings over", "gypsum board")]


# --- places


def told_apart(*rules: Rule) -> list[int]:
    surfaces = [
        wall("1 m2", name="a", room="Bath 1"), wall("1 m2", name="b", room="Hall"), wall("1 m2", name="c", room="Bath 2"),
        ceiling("1 m2", name="d", room="Hall"), evolve(wall("1 m2", name="e", room="Hall"), marks={"paint": "x"}),
    ]  # fmt: skip
    return [len(p.surfaces) for p in places(surfaces, Consultation(RuleBook(rules)))]


def test_surfaces_are_told_apart_only_where_a_rule_can_tell_them_apart() -> None:
    assert told_apart() == [3, 1, 1]
    assert told_apart(rule("coats", "primer", "1", room="bathrooms")) == [2, 1, 1, 1]
    assert told_apart(rule("coats", "primer", "1", name="B")) == [2, 1, 1, 1]
    assert told_apart(rule("coats", "primer", "1", surface="wall")) == [3, 1, 1]


def test_a_place_asks_about_the_room_only_where_a_rule_speaks_of_it() -> None:
    book = Consultation(RuleBook([rule("coats", "primer", "1", room="bath")]))
    found = places([wall("1 m2", room="Bath 1"), wall("1 m2", room="Hall")], book)
    assert [p.about["room"] for p in found] == ["Bath 1", ""]


def test_kinds_that_a_trade_does_not_ask_for_are_left_out() -> None:
    book = Consultation(RuleBook([]))
    assert places([evolve(wall("1 m2"), kind="door")], book, ("wall", "ceiling")) == ()


def test_a_size_for_both_faces_alone_is_no_step_and_one_for_all_alone_is_none_either() -> None:
    hole = opening("2 m", "2 m")
    assert net_area(partition(hole), ruled(THREE)) == Amount.read("52 m2")
    assert net_area(partition(opening("1 m", "2 m")), ruled(THREE)) == Amount.read("60 m2")
    assert net_area(partition(opening("1 m", "2 m")), ruled(HALF)) == Amount.read("56 m2")
    book = Consultation(RuleBook([HALF, THREE]))
    steps = deduction(book, ("gypsum board",), {"surface": "wall"})
    assert {a.rule for a in ruled_by(steps)} == {HALF, THREE} == set(book.used)
    assert ruled_by(None) == ()
    (alone,) = ruled_by(ruled(HALF))
    assert alone.rule is HALF


def test_of_several_subjects_the_one_that_is_said_with_more_weight_rules_and_of_equals_the_first() -> None:
    paint = rule("deduct openings over", "finish paint", "1 m2")
    board = rule("deduct openings over", "gypsum board", "2 m2")
    firm = rule("deduct openings over", "gypsum board", "3 m2", layer=OVERRIDE)
    for rules, wanted in (((paint, board), paint), ((board, paint), paint), ((paint, firm), firm), ((board,), board)):
        found = deduction(Consultation(RuleBook(rules)), ("finish paint", "gypsum board"), {})
        assert [a.rule for a in ruled_by(found)] == [wanted]


def test_rooms_are_told_apart_only_where_a_rule_speaks_of_one() -> None:
    none = rooms_told_apart(Consultation(RuleBook([])))
    assert [none(r) for r in ("Bath 1", "Hall", "")] == ["", "", ""]
    book = Consultation(
        RuleBook([rule("coats", "primer", "1", room="bathrooms"), rule("coats", "primer", "1", room="hall")])
    )
    apart = rooms_told_apart(book)
    assert [apart(r) for r in ("Bath 1", "Bath 2", "Hall", "Yard", "")] == ["Bath 1", "Bath 1", "Hall", "", ""]


@pytest.mark.parametrize(
    ("length", "by", "many"),
    [
        ("8 ft", "4 ft", 2),
        ("8 ft 1 in", "4 ft", 3),
        ("3 m", "1200 mm", 3),
        ("2.4 m", "1200 mm", 2),
        ("8 ft", "1.2192 m", 2),
        ("1 in", "4 ft", 1),
        ("0 ft", "4 ft", 0),
    ],
)
def test_pieces_reach_along_a_length_the_last_one_cut(length: str, by: str, many: int) -> None:
    assert pieces(Amount.read(length), Amount.read(by)) == many


def test_marks_tell_places_apart_in_whatever_order_they_were_given() -> None:
    one, two = (
        evolve(wall("1 m2", name=n), marks=dict(m))
        for n, m in (("a", [("x", "1"), ("y", "2")]), ("b", [("y", "2"), ("x", "1")]))
    )
    other = evolve(wall("1 m2", name="c"), marks={"x": "2"})
    found = places([one, two, other], Consultation(RuleBook([])))
    assert [len(p.surfaces) for p in found] == [2, 1]
    assert [(p.kind, p.first.name, p.about["name"]) for p in found] == [("wall", "a", ""), ("wall", "c", "")]
    named = places([one, two], Consultation(RuleBook([rule("coats", "primer", "1", name=" A ")])))
    assert [p.about["name"] for p in named] == ["a", ""]
