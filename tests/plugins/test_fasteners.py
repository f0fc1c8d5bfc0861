"""Clips at inside corners and screws over the board."""

from __future__ import annotations

import pytest

from darby.amounts import Amount, walk
from darby.rules import DEFAULT, Rule
from darby_fasteners.trade import TRADE
from jobs import ceiling, corner, job, only, opening, run, wall
from kit import rule

BOARD, CLIP, SCREW = "gypsum board", "drywall clip", "screw"
USUAL = [
    rule("layers", BOARD, "1"),
    rule("spacing", CLIP, "16 in", where="inside corner"),
    rule("consumption", SCREW, "1000", "1000 sq ft"),
    rule("package", SCREW, "500", "1 box"),
]
ROOM = job(wall("50 ft", "8 ft"), ceiling("15 ft", "10 ft"), corners=[corner(4, "8 ft")])


def but(*changed: Rule) -> list[Rule]:
    said = {(r.kind.name, r.subject) for r in changed}
    return [*(r for r in USUAL if (r.kind.name, r.subject) not in said), *changed]


@pytest.mark.parametrize(
    ("height", "spacing", "clips"),
    [
        ("8 ft", "16 in", 5),  # 6 spaces, the plates hold both ends
        ("8 ft 1 in", "16 in", 6),  # a part of a space is a space
        ("16 in", "16 in", 0),
        ("0 ft", "16 in", 0),
        ("10 in", "16 in", 0),  # one space, held at both ends
        ("2.4 m", "400 mm", 5),
        ("2.44 m", "16 in", 6),  # 96.06 in are a little more than six spaces
    ],
)
def test_a_corner_has_one_clip_fewer_than_spaces(height: str, spacing: str, clips: int) -> None:
    rules = but(rule("spacing", CLIP, spacing))
    item = only(TRADE, job(corners=[corner(1, height)]), rules, CLIP)
    assert item.need == Amount.of(clips)
    assert item.count == clips


def test_clips_are_counted_for_each_height_and_then_added_up() -> None:
    work = job(corners=[corner(4, "8 ft"), corner(2, "9 ft")])
    item = only(TRADE, work, USUAL, CLIP)
    assert item.need == Amount.of(4 * 5 + 2 * 6)
    assert [a.step.op for a in walk(item.need)].count("round up") == 2


def test_outside_corners_take_no_clips() -> None:
    assert run(TRADE, job(corners=[corner(4, "8 ft", kind="outside")]), USUAL)[0] == []


def test_clips_nobody_packs_are_ordered_singly_and_asked_about() -> None:
    items, asked = run(TRADE, ROOM, USUAL)
    assert (items[0].product, items[0].count, items[0].container) == (CLIP, 20, "")
    assert "singly" in items[0].notes[0]
    assert ("package", CLIP) in {(a.kind, a.subject) for a in asked.unanswered}


def test_clips_come_in_boxes_where_a_rule_says_so() -> None:
    item = only(TRADE, ROOM, [*USUAL, rule("package", CLIP, "12", "1 box")], CLIP)
    assert (item.count, item.container, item.notes) == (2, "box", ())


def test_a_spacing_for_one_room_holds_for_its_corners() -> None:
    work = job(corners=[corner(1, "8 ft", room="Stair"), corner(1, "8 ft", room="Hall")])
    rules = [*USUAL, rule("spacing", CLIP, "12 in", room="stair")]
    assert only(TRADE, work, rules, CLIP).need == Amount.of(7 + 5)


def test_a_specified_spacing_beats_the_default_that_names_the_corner() -> None:
    rules = but(
        rule("spacing", CLIP, "16 in", layer=DEFAULT, where="inside corner"),
        rule("spacing", CLIP, "24 in", surface="wall"),
    )
    assert only(TRADE, ROOM, rules, CLIP).need == Amount.of(4 * 3)


def test_screws_go_through_every_layer() -> None:
    item = only(TRADE, ROOM, but(rule("layers", BOARD, "2", surface="wall"), rule("layers", BOARD, "1")), SCREW)
    assert item.need == Amount.of(800 + 150)
    assert (item.count, item.container) == (2, "box")


def test_screws_are_pooled_over_walls_and_ceilings_and_rounded_once() -> None:
    item = only(TRADE, ROOM, USUAL, SCREW)
    assert item.need == Amount.of(550)
    assert item.count == 2
    assert {a.label for a in walk(item.need)} >= {"screws on walls", "screws on ceilings"}


def test_screws_by_weight_come_in_boxes_by_weight() -> None:
    rules = but(rule("consumption", SCREW, "5 lb", "1000 sq ft"), rule("package", SCREW, "1 lb", "1 box"))
    item = only(TRADE, ROOM, rules, SCREW)
    assert (str(item.need), item.count) == ("2.75 lb", 3)


def test_screws_counted_but_boxed_by_weight_are_counted_singly_with_a_note() -> None:
    items, asked = run(TRADE, ROOM, but(rule("package", SCREW, "5 lb", "1 box")))
    item = items[1]
    assert (item.count, item.container) == (550, "")
    assert "5 lb per 1 box" in item.notes[0]
    assert ("package", SCREW) in {(a.kind, a.subject) for a in asked.unanswered}


def test_a_stated_spacing_of_screws_is_heard_and_said_not_to_count() -> None:
    spacing = [rule("spacing", SCREW, "16 in", surface="wall"), rule("spacing", SCREW, "12 in", surface="ceiling")]
    items, asked = run(TRADE, ROOM, [*USUAL, *spacing])
    assert (items[1].need, len(items[1].notes)) == (Amount.of(550), 1)
    assert "(16 in on walls, 12 in on ceilings)" in items[1].notes[0]
    assert set(spacing) <= set(asked.heard)


def test_a_part_of_a_screw_is_ordered_whole() -> None:
    item = only(TRADE, job(wall("10 m2"), units="metric"), but(rule("consumption", SCREW, "1000", "1000 sq ft")), SCREW)
    assert item.need > Amount.of(107)
    assert item.count == 1  # one box of 500


def test_openings_come_out_as_for_the_board() -> None:
    work = job(wall("400 sq ft", openings=[opening("10 ft", "10 ft")]))
    rules = [*USUAL, rule("deduct openings over", BOARD, "32 sq ft")]
    assert only(TRADE, work, rules, SCREW).need == Amount.of(300)


def test_without_corners_or_board_nothing_is_ordered() -> None:
    assert run(TRADE, job(wall("400 sq ft")), but(rule("layers", BOARD, "0")))[0] == []


@pytest.mark.parametrize("system", ["us", "metric"])
def test_the_defaults_cite_something_on_every_line(system: str) -> None:
    lines = [line for line in TRADE.defaults[system].text.splitlines() if line]
    assert lines
    assert all(line.endswith("]") and ". [" in line for line in lines), lines
