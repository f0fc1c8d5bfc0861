"""Joint compound and joint tape: over all finished board, in what they come in."""

from __future__ import annotations

import pytest

from darby.amounts import Amount, walk
from darby.rules import HOUSE, Rule
from darby_joints.trade import TRADE
from jobs import ceiling, job, only, opening, run, wall
from kit import rule

BOARD = "gypsum board"
COMPOUND, TAPE = "joint compound", "joint tape"
USUAL = [
    rule("layers", BOARD, "1"),
    rule("consumption", COMPOUND, "14 lb", "100 sq ft"),
    rule("package", COMPOUND, "64 lb", "1 pail"),
    rule("consumption", TAPE, "35 ft", "100 sq ft"),
    rule("package", TAPE, "250 ft", "1 roll"),
]
ROOM = job(wall("50 ft", "8 ft"), ceiling("15 ft", "10 ft"))


def but(*changed: Rule) -> list[Rule]:
    said = {(r.kind.name, r.subject) for r in changed}
    return [*(r for r in USUAL if (r.kind.name, r.subject) not in said), *changed]


def test_compound_and_tape_are_reckoned_over_walls_and_ceilings_together() -> None:
    compound, tape = run(TRADE, ROOM, USUAL)[0]
    assert (compound.product, compound.need, compound.count, compound.container) == (
        COMPOUND, Amount.read("77 lb"), 2, "pail"
    )  # fmt: skip
    assert (tape.product, tape.need, tape.count, tape.container) == (TAPE, Amount.read("192.5 ft"), 1, "roll")


def test_pails_are_rounded_once_over_everything() -> None:
    work = job(wall("240 sq ft"), ceiling("200 sq ft"))  # 33.6 lb and 28 lb: a pail for both, not one each
    assert only(TRADE, work, USUAL, COMPOUND).count == 1


def test_the_finished_board_is_added_up_before_one_rate_is_applied() -> None:
    named = {a.label: str(a) for a in walk(only(TRADE, ROOM, USUAL, COMPOUND).need)}
    assert named["finished walls"] == "400 sq ft"
    assert named["finished ceilings"] == "150 sq ft"
    assert named["finished board"] == "550 sq ft"


def test_only_the_face_layer_is_finished() -> None:
    assert only(TRADE, ROOM, but(rule("layers", BOARD, "2")), COMPOUND).need == Amount.read("77 lb")


def test_a_surface_without_board_gets_no_joints() -> None:
    rules = but(rule("layers", BOARD, "1", surface="wall"), rule("layers", BOARD, "0", surface="ceiling"))
    assert only(TRADE, ROOM, rules, TAPE).need == Amount.read("140 ft")


def test_level_0_is_left_unfinished_and_level_5_is_pointed_out() -> None:
    # Levels of finish: GA-214 / ASTM C840.
    bare = [*USUAL, rule("finish level", BOARD, "0", surface="ceiling")]
    assert only(TRADE, ROOM, bare, COMPOUND).need == Amount.read("56 lb")
    skimmed = [*USUAL, rule("finish level", BOARD, "5", surface="wall")]
    items, _ = run(TRADE, ROOM, skimmed)
    assert [len(i.notes) for i in items] == [1, 0]
    assert "skim" in items[0].notes[0]


def test_the_level_for_painted_board_counts_and_one_for_hidden_board_does_not() -> None:
    rules = [
        *USUAL,
        rule("finish level", BOARD, "5", where="to be painted"),
        rule("finish level", BOARD, "0", where="above ceilings"),
    ]
    item = only(TRADE, ROOM, rules, COMPOUND)
    assert item.need == Amount.read("77 lb")
    assert "Level 5" in item.notes[0]


def test_walls_and_ceilings_may_have_different_rates() -> None:
    rules = [*USUAL, rule("consumption", COMPOUND, "20 lb", "100 sq ft", surface="ceiling")]
    item = only(TRADE, ROOM, rules, COMPOUND)
    assert item.need == Amount.read("86 lb")
    assert {a.label for a in walk(item.need)} >= {"walls", "ceilings"}


def test_a_rate_by_volume_takes_the_package_by_volume() -> None:
    rules = [
        *but(rule("consumption", COMPOUND, "9 gal", "1000 sq ft")),
        rule("package", COMPOUND, "4.5 gal", "1 pail"),
    ]
    item = only(TRADE, ROOM, rules, COMPOUND)
    assert (item.need, item.count) == (Amount.read("4.95 gal"), 2)


def test_a_rate_by_weight_and_a_pail_by_volume_leave_the_need_a_note_and_a_question() -> None:
    rules = but(rule("package", COMPOUND, "4.5 gal", "1 pail"))
    items, asked = run(TRADE, ROOM, rules)
    assert (items[0].need, items[0].count) == (Amount.read("77 lb"), None)
    assert "4.5 gal per 1 pail" in items[0].notes[0]
    assert ("package", COMPOUND) in {(a.kind, a.subject) for a in asked.unanswered}


def test_two_types_of_compound_are_never_pooled() -> None:
    rules = but(
        rule("consumption", COMPOUND, "14 lb", "100 sq ft", surface="wall", type="ready mixed"),
        rule("consumption", COMPOUND, "6 lb", "100 sq ft", surface="ceiling", type="setting"),
        rule("package", COMPOUND, "64 lb", "1 pail", type="ready mixed"),
        rule("package", COMPOUND, "25 lb", "1 bag", type="setting"),
    )
    items = [i for i in run(TRADE, ROOM, rules)[0] if i.product == COMPOUND]
    assert [(i.pool["type"], i.container, i.count) for i in items] == [
        ("ready mixed", "pail", 1),
        ("setting", "bag", 1),
    ]


def test_weight_here_and_volume_there_are_two_items_with_two_names() -> None:
    rules = [*USUAL, rule("consumption", COMPOUND, "1 gal", "100 sq ft", surface="ceiling")]
    items = [i for i in run(TRADE, ROOM, rules)[0] if i.product == COMPOUND]
    assert [(dict(i.pool), str(i.need)) for i in items] == [
        ({"measure": "lb"}, "56 lb"),
        ({"measure": "gal"}, "1.5 gal"),
    ]
    assert len({i.id for i in items}) == 2


def test_a_rate_along_the_joint_cannot_be_used_and_is_asked_about() -> None:
    rules = but(rule("consumption", COMPOUND, "1 lb", "10 ft"))
    items, asked = run(TRADE, ROOM, rules)
    assert [i.product for i in items] == [TAPE]
    assert ("consumption", COMPOUND) in {(a.kind, a.subject) for a in asked.unanswered}


def test_waste_on_tape_is_its_own() -> None:
    item = only(TRADE, ROOM, [*USUAL, rule("waste", TAPE, "10 %"), rule("waste", BOARD, "50 %")], TAPE)
    assert item.need == Amount.read("211.75 ft")


def test_waste_in_one_room_stays_in_that_room() -> None:
    work = job(wall("100 sq ft", name="a", room="Attic"), wall("100 sq ft", name="b", room="Hall"))
    item = only(TRADE, work, [*USUAL, rule("waste", TAPE, "20 %", room="attic")], TAPE)
    assert item.need == Amount.read("77 ft")


def test_the_stronger_layer_gives_the_rate() -> None:
    rules = [*USUAL, rule("consumption", COMPOUND, "99 lb", "100 sq ft", layer=HOUSE)]
    assert only(TRADE, ROOM, rules, COMPOUND).need == Amount.read("77 lb")


def test_openings_come_out_as_for_the_board() -> None:
    work = job(wall("400 sq ft", openings=[opening("10 ft", "10 ft")]))
    rules = [*USUAL, rule("deduct openings over", BOARD, "32 sq ft")]
    assert only(TRADE, work, rules, COMPOUND).need == Amount.read("42 lb")


def test_a_metric_rate_over_a_wall_in_feet_stays_in_kilograms() -> None:
    rules = but(rule("consumption", COMPOUND, "0.7 kg", "1 m2"), rule("package", COMPOUND, "25 kg", "1 bag"))
    item = only(TRADE, job(wall("400 sq ft")), rules, COMPOUND)
    assert item.need.unit.name == "kg"
    assert item.need == Amount.read("26.0128512 kg")
    assert item.count == 2


def test_without_board_nothing_is_ordered() -> None:
    assert run(TRADE, ROOM, but(rule("layers", BOARD, "0")))[0] == []


@pytest.mark.parametrize("system", ["us", "metric"])
def test_the_defaults_cite_something_on_every_line(system: str) -> None:
    lines = [line for line in TRADE.defaults[system].text.splitlines() if line]
    assert lines
    assert all(line.endswith("]") and ". [" in line for line in lines), lines
