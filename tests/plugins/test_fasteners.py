"""Clips at inside corners and screws over the board."""

from __future__ import annotations

import pytest
from attrs import evolve

from darby.estimate.line_item import LineItem
from darby.quantities.amounts import Amount, walk
from darby.rules.rule import DEFAULT, HOUSE, SPECIFICATION, Layer, Rule
from darby_fasteners.trade import TRADE
from jobs import ceiling, corner, job, only, opening, run, wall
from kit import rule

BOARD, CLIP, SCREW, NAIL = "gypsum board", "drywall clip", "screw", "nail"
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


def test_a_stated_spacing_does_not_count_where_the_supports_are_not_known_and_the_item_says_so() -> None:
    spacing = [rule("spacing", SCREW, "16 in", surface="wall"), rule("spacing", SCREW, "12 in", surface="ceiling")]
    items, asked = run(TRADE, ROOM, [*USUAL, *spacing])
    assert items[1].need == Amount.of(550)
    assert ["16 in on walls" in items[1].notes[0], "12 in on ceilings" in items[1].notes[1]] == [True, True]
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


# --- counted from the spacing


BED = [rule("sheet", BOARD, "4 ft", by="8 ft"), rule("framing", BOARD, "16 in"), rule("thickness", BOARD, "1/2 in")]
SHEET = job(wall("32 sq ft"))
"""The area of one sheet."""


def spaced(*said: Rule, product: str = SCREW) -> LineItem:
    """The fasteners of one sheet under stated spacings alone."""
    return only(TRADE, SHEET, [rule("layers", BOARD, "1"), *BED, *said], product)


def test_a_sheet_has_a_row_on_every_support_and_the_ends_among_them() -> None:
    # 96 in of length at 16 in: 6 spaces, 7 supports; 48 in of width at 12 in: 4 spaces, 5 screws.
    item = spaced(rule("spacing", SCREW, "12 in"))
    assert item.need == Amount.of(35)
    assert [a.value for a in walk(item.need) if a.label == "supports under a sheet"] == [7]


def test_edges_are_fastened_at_their_own_spacing() -> None:
    # 5 supports in the field at 12 in (5 screws), 2 ends at 8 in (7 screws).
    item = spaced(rule("spacing", SCREW, "12 in", where="field"), rule("spacing", SCREW, "8 in", where="edge"))
    assert item.need == Amount.of(5 * 5 + 2 * 7)
    assert "12 in in the field and 8 in at the edges" in item.notes[0]


def test_a_layer_below_the_face_has_its_own_spacing() -> None:
    rules = [
        rule("layers", BOARD, "2"),
        *BED,
        rule("spacing", SCREW, "12 in"),
        rule("spacing", SCREW, "24 in", of_layer="base"),
    ]
    assert only(TRADE, SHEET, rules, SCREW).need == Amount.of(35 + 7 * 3)


def test_pairs_of_nails_stand_in_the_field_and_the_perimeter_is_nailed_singly() -> None:
    # Gypsum Association: pairs 12 in apart, none doubled on the perimeter, which is nailed at 8 in on walls.
    item = spaced(
        rule("spacing", NAIL, "12 in", method="double nailing"),
        rule("spacing", NAIL, "8 in", layer=DEFAULT),
        product=NAIL,
    )
    assert item.need == Amount.of(5 * 5 * 2 + 2 * 7)
    assert "pairs at 12 in in the field, 8 in singly at the edges" in item.notes[0]


def test_adhesive_that_somebody_asks_for_widens_the_spacing_and_is_ordered_in_tubes() -> None:
    glue = rule("consumption", "adhesive", Amount.read("1 tube"), "38 ft")
    spacing = [rule("spacing", SCREW, "12 in"), rule("spacing", SCREW, "24 in", method="with adhesive")]
    rules = [rule("layers", BOARD, "1"), *BED, *spacing, glue]
    assert only(TRADE, SHEET, rules, SCREW).need == Amount.of(7 * 3)
    tubes = only(TRADE, SHEET, rules, "adhesive")
    assert (tubes.need, tubes.count, tubes.container) == (Amount.read("28 ft"), 1, "tube")  # 7 supports, 4 ft each


def test_adhesive_of_a_default_alone_glues_nothing() -> None:
    glue = rule("consumption", "adhesive", Amount.read("1 tube"), "38 ft", layer=DEFAULT)
    items, _ = run(TRADE, SHEET, [*USUAL, *BED, glue])
    assert {i.product for i in items} == {SCREW}


def test_adhesive_by_weight_over_the_area() -> None:
    rules = [
        *USUAL,
        *BED,
        rule("consumption", "adhesive", "2 lb", "100 sq ft"),
        rule("package", "adhesive", "28 oz", "1 tube"),
    ]
    item = only(TRADE, job(wall("350 sq ft")), rules, "adhesive")
    assert (item.need, item.count) == (Amount.read("7 lb"), 4)


def test_nails_are_ordered_where_somebody_asks_for_nails_and_nobody_for_screws() -> None:
    nails = rule("consumption", NAIL, "5 lb", "1000 sq ft")
    default = [rule("consumption", SCREW, "1000", "1000 sq ft", layer=DEFAULT), rule("layers", BOARD, "1")]
    items, _ = run(TRADE, job(wall("1000 sq ft")), [*default, nails])
    assert [(i.product, i.need) for i in items] == [(NAIL, Amount.read("5 lb"))]
    items, _ = run(TRADE, job(wall("1000 sq ft")), [*USUAL, nails])
    assert [i.product for i in items] == [SCREW]


# --- rate and spacing compared


def test_a_rate_is_followed_and_compared_with_a_spacing_of_the_defaults() -> None:
    spacing = rule("spacing", SCREW, "12 in", layer=DEFAULT)
    item = only(TRADE, job(wall("1000 sq ft")), [*USUAL, *BED, spacing], SCREW)
    assert item.need == Amount.of(1000)
    assert item.notes[0].endswith("would give 1,094, 9 % more.")  # 35 a sheet of 32 sq ft


def test_a_stated_spacing_beats_a_default_rate() -> None:
    rate = rule("consumption", SCREW, "1000", "1000 sq ft", layer=DEFAULT)
    item = only(
        TRADE, job(wall("3200 sq ft")), [rule("layers", BOARD, "1"), *BED, rate, rule("spacing", SCREW, "12 in")], SCREW
    )
    assert item.need == Amount.of(3500)
    assert "would give 3,200, 9 % fewer" in item.notes[0]


@pytest.mark.parametrize("layer", [HOUSE, SPECIFICATION])
def test_a_rate_that_somebody_stated_gives_way_to_a_spacing_that_needs_more_only(layer: Layer) -> None:
    rest = [r for r in USUAL if r.kind.name != "consumption"]
    rate = rule("consumption", SCREW, "1000", "1000 sq ft", layer=layer)
    for spacing, screws in (("12 in", 3500), ("24 in", 3200)):
        item = only(TRADE, job(wall("3200 sq ft")), [*rest, *BED, rate, rule("spacing", SCREW, spacing)], SCREW)
        assert item.need == Amount.of(screws)


# --- how long


@pytest.mark.parametrize(
    ("thickness", "layers", "supports", "long"),
    [
        # CMHC guide 9.29.5 and IRC R702.3.5.1: 5/8 in into wood; trade book (Renovation): 3/8 in past steel.
        ("3/8 in", "1", "", "1 in"), ("1/2 in", "1", "", "1 1/8 in"), ("5/8 in", "2", "", "1 7/8 in"),
        ("3/8 in", "1", "steel", "3/4 in"), ("1/2 in", "1", "steel studs", "7/8 in"), ("5/8 in", "1", "metal", "1 in"),
        ("12.5 mm", "1", "", "29 mm"),
    ],
)  # fmt: skip
def test_the_length_follows_from_thickness_layers_and_support(
    thickness: str, layers: str, supports: str, long: str
) -> None:
    place = evolve(wall("32 sq ft"), marks={"supports": supports} if supports else {})
    rules = [
        rule("consumption", SCREW, "1", "1 sq ft"),
        rule("layers", BOARD, layers),
        rule("thickness", BOARD, thickness),
    ]
    item = only(TRADE, job(place), rules, SCREW)
    assert f"at least {long} long" in " ".join(item.notes)


def test_a_stated_length_that_is_too_short_is_told() -> None:
    item = spaced(rule("spacing", SCREW, "12 in"), rule("fastener length", SCREW, "1 in"))
    assert "1 in are too short" in " ".join(item.notes)
    item = spaced(rule("spacing", SCREW, "12 in"), rule("fastener length", SCREW, "1-1/4 in"))
    assert "long" not in " ".join(item.notes)


def test_two_stated_lengths_are_two_products() -> None:
    lengths = [
        rule("fastener length", SCREW, "1-1/4 in"),
        rule("fastener length", SCREW, "1-5/8 in", surface="ceiling"),
    ]
    items, _ = run(TRADE, job(wall("400 sq ft"), ceiling("150 sq ft")), [*USUAL, *lengths])
    assert [(i.pool["length"], i.need) for i in items] == [("1 1/4 in", Amount.of(400)), ("1 5/8 in", Amount.of(150))]


@pytest.mark.parametrize("system", ["us", "metric"])
def test_the_defaults_cite_something_on_every_line(system: str) -> None:
    lines = [line for line in TRADE.defaults[system].text.splitlines() if line]
    assert lines
    assert all(line.endswith("]") and ". [" in line for line in lines), lines
