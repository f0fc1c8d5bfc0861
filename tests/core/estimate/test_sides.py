"""Sides and courses: what lies on which side of a wall, in how many layers, counted beside."""

from __future__ import annotations

from fractions import Fraction

import pytest
from attrs import evolve

from darby.estimate.areas import places
from darby.estimate.sides import Side, chosen, in_place_of, sides_on, takes_new
from darby.job.model import Surface
from darby.rules.cascade import RuleBook
from darby.rules.consultation import Consultation
from darby.rules.rule import DEFAULT, OVERRIDE, Layer, Rule, addendum
from jobs import ceiling, wall
from kit import rule

SHEET = "sheet"


def sides(surface: Surface, *rules: Rule) -> list[Side]:
    book = Consultation(RuleBook(rules))
    return [side for place in places([surface], book) for side in sides_on(place, SHEET, book)]


def shown(found: list[Side]) -> list[tuple[str, Fraction, list[tuple[str, Fraction]]]]:
    """Side, area of its faces, and its courses."""
    return [
        (
            side.about.get("where", ""),
            sum((s.gross.value for s in side.place.surfaces), Fraction(0)),
            [(c.about.get("layer", ""), c.many.value) for c in side.courses],
        )
        for side in found
    ]


ONE, OTHER = {"where": "one side"}, {"where": "other side"}


def test_sides_alike_are_one_side_with_all_faces() -> None:
    found = sides(wall("10 ft", "8 ft", faces=2), rule("layers", SHEET, "2", where="each side"))
    assert shown(found) == [("", 160, [("", 2)])]


def test_sides_that_differ_take_one_face_each() -> None:
    rules = rule("layers", SHEET, "1", **ONE), rule("layers", SHEET, "2", **OTHER)
    assert shown(sides(wall("10 ft", "8 ft", faces=2), *rules)) == [
        ("one side", 80, [("", 1)]),
        ("other side", 80, [("", 2)]),
    ]


def test_one_face_of_a_wall_whose_sides_differ_is_asked_about_and_takes_more() -> None:
    rules = rule("layers", SHEET, "1", **ONE), rule("layers", SHEET, "2", **OTHER)
    (side,) = sides(wall("10 ft", "8 ft"), *rules)
    assert shown([side]) == [("other side", 80, [("", 2)])]
    assert "Which is it?" in side.notes[0]


def test_the_other_face_of_such_a_wall_takes_the_other_side() -> None:
    rules = rule("layers", SHEET, "1", **ONE), rule("layers", SHEET, "2", **OTHER)
    assert shown(sides(evolve(wall("10 ft", "8 ft"), side=2), *rules)) == [("one side", 80, [("", 1)])]


def test_a_side_of_which_nothing_is_said_takes_what_is_said_of_the_whole() -> None:
    rules = rule("layers", SHEET, "1", layer=DEFAULT), rule("layers", SHEET, "3", **ONE)
    found = shown(sides(wall("10 ft", "8 ft", faces=2), *rules))
    assert found == [("one side", 80, [("", 3)]), ("other side", 80, [("", 1)])]


def test_base_and_face_are_courses_where_goods_are_said_of_them() -> None:
    two = rule("layers", SHEET, "3")
    apart = evolve(two, kind=rule("thickness", SHEET, "1/2 in").kind)
    base = rule("thickness", SHEET, "5/8 in")
    base = evolve(base, scope={"layer": "base"})
    assert apart.kind == base.kind
    assert shown(sides(wall("10 ft", "8 ft"), two, base)) == [("", 80, [("base", 2), ("face", 1)])]
    assert shown(sides(wall("10 ft", "8 ft"), two)) == [("", 80, [("", 3)])]


def test_base_and_face_without_a_number_are_two_layers() -> None:
    thick = rule("thickness", SHEET, "5/8 in")
    rules = evolve(thick, scope={"layer": "base"}), evolve(thick, scope={"layer": "face"})
    assert shown(sides(wall("10 ft", "8 ft"), rule("layers", SHEET, "1", layer=DEFAULT), *rules)) == [
        ("", 80, [("base", 1), ("face", 1)])
    ]


def test_what_was_there_before_takes_layers_only_where_somebody_says_so() -> None:
    old = evolve(ceiling("10 ft", "8 ft"), marks={"condition": "existing"})
    assert sides(old, rule("layers", SHEET, "1")) == []
    assert shown(sides(old, rule("layers", SHEET, "1"), rule("layers", SHEET, "2", condition="existing"))) == [
        ("", 80, [("", 2)])
    ]


def test_a_choice_of_a_narrower_place_beats_a_description_and_a_wider_one_does_not() -> None:
    described = evolve(rule("thickness", SHEET, "1/2 in", surface="wall"), scope={"surface": "wall", "type": "plain"})
    kind = rule("layers", SHEET, "1").kind
    narrow = evolve(described, kind=evolve(kind, name="type"), scope={"room": "bath", "surface": "wall"}, choice="wet")
    wide = evolve(narrow, scope={}, choice="dry")
    about = {"surface": "wall", "room": "Bath 1"}
    book = Consultation(RuleBook([described, narrow, wide]))
    asked = book.ask("thickness", SHEET, about, take=("type",))
    assert chosen("type", SHEET, (asked,), about, book)[0] == "wet"
    book = Consultation(RuleBook([described, wide]))
    asked = book.ask("thickness", SHEET, about, take=("type",))
    assert chosen("type", SHEET, (asked,), about, book) == ("plain", None)


def test_an_answer_of_this_one_surface_holds_on_what_was_there_before() -> None:
    old = evolve(ceiling("10 ft", "8 ft"), marks={"condition": "existing"})
    said = rule("layers", SHEET, "1", name="ceiling")
    book = Consultation(RuleBook([said]))
    (place,) = places([old], book)
    answer = book.ask("layers", SHEET, place.about)
    assert answer is not None
    assert takes_new(place, answer)


@pytest.mark.parametrize(
    ("said", "layer", "is_replaced"),
    [
        ({"surface": "ceiling"}, addendum(1), True),  # `two coats on ceilings instead of one` coats no tile
        ({"surface": "ceiling", "room": "office"}, addendum(1), False),
        ({"surface": "ceiling"}, OVERRIDE, False),  # her own line
    ],
)
def test_what_is_said_later_of_all_such_surfaces_puts_nothing_where_others_have_theirs(
    said: dict[str, str], layer: Layer, is_replaced: bool
) -> None:
    tile = rule("replaced", SHEET, "1", room="office", surface="ceiling")
    coats = evolve(rule("coats", SHEET, "2", **said), layer=layer)
    book = Consultation(RuleBook([tile, coats]))
    (place,) = places([evolve(ceiling("100 sq ft"), room="Office")], book)
    assert in_place_of(SHEET, place, book.book.ask("coats", SHEET, place.about), book) == is_replaced


def between(name: str, one: str, other: str) -> list[Surface]:
    """A wall of 10 by 8 ft between two rooms."""
    first = evolve(wall("10 ft", "8 ft", name=name), room=one, faced=True)
    return [first, evolve(first, name=f"{name} other face", room=other, side=2)]


@pytest.mark.parametrize(
    ("rules", "layers"),
    [
        # at the store two on each side: of both faces of its wall, and of no other wall
        ([rule("layers", SHEET, "1"), rule("layers", SHEET, "2", room="store", where="each side")], [2, 2, 1, 1]),
        # without `each side` only the face in it
        ([rule("layers", SHEET, "1"), rule("layers", SHEET, "2", room="store")], [1, 2, 1, 1]),
        # the room on the other side has a word of its own
        (
            [rule("layers", SHEET, "3", room="hall"), rule("layers", SHEET, "2", room="store", where="each side"), rule("layers", SHEET, "1")],
            [3, 2, 3, 1],
        ),
        # what an addendum says later, of no room, holds
        ([rule("layers", SHEET, "2", room="store", where="each side"), rule("layers", SHEET, "1", layer=addendum(1))], [1, 1, 1, 1]),
    ],
)  # fmt: skip
def test_what_is_said_for_each_side_in_a_room_reaches_the_other_face_of_its_walls(
    rules: list[Rule], layers: list[int]
) -> None:
    surfaces = [*between("A", "Hall", "Store"), *between("B", "Hall", "Den")]
    book = Consultation(RuleBook(rules, rooms=["Hall", "Store", "Den"]))
    found = {
        surface.name: side.layers.amount.value
        for place in places(surfaces, book)
        for side in sides_on(place, SHEET, book)
        for surface in side.place.surfaces
    }
    assert [found[name] for name in ("A", "A other face", "B", "B other face")] == layers
