"""Clips at inside corners and screws over the board."""

from __future__ import annotations

from collections.abc import Iterable

import pytest
from attrs import evolve

from darby.estimate.line_item import LineItem
from darby.job.model import Job
from darby.quantities.amounts import Amount, walk
from darby.rules.consultation import Consultation
from darby.rules.rule import DEFAULT, HOUSE, SPECIFICATION, Layer, Rule
from darby_fasteners.trade import TRADE
from desk import estimated
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
    assert [a.value for a in walk(item.need) if a.label == "for the plates at top and bottom"] == [1]


def test_outside_corners_take_no_clips() -> None:
    assert run(TRADE, job(corners=[corner(4, "8 ft", kind="outside")]), USUAL)[0] == []


def test_clips_nobody_packs_are_ordered_singly_and_asked_about() -> None:
    items, asked = run(TRADE, ROOM, USUAL)
    assert (items[0].product, items[0].count, items[0].container) == (CLIP, 20, "")
    assert "ordered by the piece" in items[0].notes[0]
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


def by_length(rules: Iterable[Rule]) -> dict[str, Amount]:
    """The screws of one sheet by their length."""
    return {i.pool["length"]: i.need for i in run(TRADE, SHEET, rules)[0] if i.product == SCREW}


def test_a_layer_below_the_face_has_its_own_spacing_and_length() -> None:
    rules = [
        rule("layers", BOARD, "2"),
        *BED,
        rule("spacing", SCREW, "12 in"),
        rule("spacing", SCREW, "24 in", of_layer="base"),
    ]
    # through one layer of 1/2 in. and through two, 5/8 in. into wood
    assert by_length(rules) == {"1 1/8 in or longer": Amount.of(7 * 3), "1 5/8 in or longer": Amount.of(35)}


def test_one_stated_length_is_that_of_every_layer() -> None:
    rules = [
        rule("layers", BOARD, "2"),
        *BED,
        rule("spacing", SCREW, "12 in"),
        rule("fastener length", SCREW, "1 5/8 in"),
    ]
    assert by_length(rules) == {"1 5/8 in": Amount.of(2 * 35)}


def test_pairs_of_nails_are_those_of_the_face_alone() -> None:
    # Gypsum Association, pairs 12 in apart in the field: a layer below is nailed singly, 5 to a support, on all seven.
    rules = [
        rule("layers", BOARD, "2"),
        *BED,
        rule("spacing", NAIL, "12 in", method="double nailing"),
        rule("spacing", NAIL, "8 in", layer=DEFAULT),
    ]
    found = [i.need for i in run(TRADE, SHEET, rules)[0] if i.product == NAIL]
    assert found == [Amount.of(7 * 5), Amount.of(5 * 5 * 2 + 2 * 7)]


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
        ("3/8 in", "1", "", "1 in"), ("1/2 in", "1", "", "1 1/8 in"), ("5/8 in", "1", "", "1 1/4 in"),
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


@pytest.mark.parametrize(
    ("product", "supports", "length", "said", "pool"),
    [
        # CMHC guide 9.29.5: nails reach 3/4 in into wood; they do not hold in steel
        (
            NAIL,
            "",
            None,
            "Nails through one layer of 1/2 in into wood are at least 1 1/4 in long.",
            {"length": "1 1/4 in or longer"},
        ),
        (NAIL, "steel", None, "Nails do not hold in steel supports: use screws there.", {"into": "steel"}),
        (
            NAIL,
            "METAL studs",
            "2 in",
            "Nails do not hold in steel supports: use screws there.",
            {"length": "2 in", "into": "steel"},
        ),
        (
            NAIL,
            "",
            "1 in",
            "Nails of 1 in are too short through one layer of 1/2 in into wood: 1 1/4 in at least.",
            {"length": "1 in"},
        ),
        (NAIL, "", "1-1/4 in", None, {"length": "1 1/4 in"}),
        (
            SCREW,
            "steel",
            "3/4 in",
            "Screws of 3/4 in are too short through one layer of 1/2 in into steel: 7/8 in at least.",
            {"length": "3/4 in", "into": "steel"},
        ),
    ],
)
def test_what_a_length_must_be_is_told_in_a_sentence(
    product: str, supports: str, length: str | None, said: str | None, pool: dict[str, str]
) -> None:
    place = evolve(wall("32 sq ft"), marks={"supports": supports} if supports else {})
    rules = [
        rule("consumption", product, "1", "1 sq ft"),
        rule("layers", BOARD, "1"),
        rule("thickness", BOARD, "1/2 in"),
        *([rule("fastener length", product, length)] if length else []),
    ]
    item = only(TRADE, job(place), rules, product)
    told = [note for note in item.notes if "support" in note or "through" in note]
    assert told == ([said] if said else [])
    assert dict(item.pool) == pool


def test_a_length_for_steel_holds_on_steel_alone() -> None:
    rules = [
        rule("consumption", SCREW, "1", "1 sq ft"),
        rule("layers", BOARD, "1"),
        rule("fastener length", SCREW, "1 in", where="steel"),
        rule("fastener length", SCREW, "1-5/8 in", where="wood"),
    ]
    steel, wood = evolve(wall("32 sq ft"), marks={"supports": "steel"}), wall("64 sq ft")
    items, _ = run(TRADE, job(steel, wood), rules)
    assert [(i.pool["length"], i.need) for i in items] == [("1 in", Amount.of(32)), ("1 5/8 in", Amount.of(64))]
    assert [note for i in items for note in i.notes if "through" in note] == []  # nobody says how thick the board is


def test_lengths_told_apart_by_layers_and_thickness_hold_where_they_are_said() -> None:
    rules = [
        rule("consumption", SCREW, "1", "1 sq ft"),
        rule("layers", BOARD, "1"),
        rule("layers", BOARD, "2", room="vault"),
        rule("thickness", BOARD, "5/8 in"),
        rule("thickness", BOARD, "1/2 in", room="den"),
        rule("fastener length", SCREW, "1 in", layers="through 1", thick="1/2 in thick"),
        rule("fastener length", SCREW, "1-1/4 in", layers="through 1"),
        rule("fastener length", SCREW, "1-7/8 in", layers="through 2"),
    ]
    rooms = [wall("32 sq ft", room="Den"), wall("64 sq ft", room="Hall"), wall("100 sq ft", room="Vault")]
    items, _ = run(TRADE, job(*rooms), rules)
    # the first of two layers is fastened as the only one is
    assert {i.pool["length"]: i.need for i in items} == {
        "1 in": Amount.of(32), "1 1/4 in": Amount.of(164), "1 7/8 in": Amount.of(100),
    }  # fmt: skip


def test_rules_of_a_method_or_a_place_serve_where_nothing_else_is_said() -> None:
    rate = rule("consumption", GLUE, TUBE, "30 ft", method="in beads", where="field")
    (item,), _ = glue(rate, rule("spacing", GLUE, "32 in", method="in beads"))
    assert (item.need, item.count) == (Amount.read("16 ft"), 1)
    framing = rule("framing", BOARD, "24 in", where="stud")
    sheet = rule("sheet", BOARD, "4 ft", by="8 ft", type="type X")
    item = only(TRADE, SHEET, [rule("layers", BOARD, "1"), sheet, framing, rule("spacing", SCREW, "12 in")], SCREW)
    assert item.need == Amount.of(25)  # 96 in at 24 in: 5 supports of 5 screws
    items, asked = run(TRADE, ROOM, [*USUAL, said := rule("spacing", SCREW, "8 in", method="by machine")])
    assert (
        "The spacing of 8 in on walls is not in the count: the sheet size or the framing spacing is not known."
        in items[1].notes
    )
    assert said in asked.used


def test_a_default_spacing_that_is_not_in_the_count_is_not_worth_a_note() -> None:
    items, asked = run(TRADE, ROOM, [*USUAL, said := rule("spacing", SCREW, "8 in", layer=DEFAULT)])
    assert items[1].notes == ()
    assert said not in asked.used


def test_measures_of_one_product_alone_need_no_name() -> None:
    (item,), _ = glue(rule("consumption", GLUE, "4 lb", "32 sq ft"))
    assert dict(item.pool) == {}
    work = job(*(wall("32 sq ft", name=name, room=name) for name in ("tower", "cellar")))
    both, _ = glue(
        rule("consumption", GLUE, "4 lb", "32 sq ft"),
        rule("consumption", GLUE, "2 qt", "32 sq ft", room="cellar"),
        work=work,
    )
    assert [dict(i.pool) for i in both] == [{"measure": "lb"}, {"measure": "qt"}]


def test_the_marks_of_the_job_are_kept_for_its_supports() -> None:
    assert dict(TRADE.marks) == {"supports": ""}


def test_a_rate_that_is_none_over_an_area_is_told_and_asked_about() -> None:
    items, asked = run(TRADE, SHEET, but(rule("consumption", SCREW, "30", "10 ft")))
    assert items == []
    assert ("consumption", SCREW) in {(a.kind, a.subject) for a in asked.unanswered}
    item = spaced(rule("spacing", SCREW, "12 in"), rule("consumption", SCREW, "30", "10 ft"))
    assert item.need == Amount.of(35)
    assert any("cannot be used over an area" in note for note in item.notes)


def test_two_stated_lengths_are_two_products() -> None:
    lengths = [
        rule("fastener length", SCREW, "1-1/4 in"),
        rule("fastener length", SCREW, "1-5/8 in", surface="ceiling"),
    ]
    items, _ = run(TRADE, job(wall("400 sq ft"), ceiling("150 sq ft")), [*USUAL, *lengths])
    assert [(i.pool["length"], i.need) for i in items] == [("1 1/4 in", Amount.of(400)), ("1 5/8 in", Amount.of(150))]


# --- which product, which rules, which pool


@pytest.mark.parametrize(
    ("nails", "screws", "product"),
    [
        ((SPECIFICATION, ""), (DEFAULT, ""), NAIL),
        ((SPECIFICATION, "field"), (DEFAULT, ""), NAIL),  # said of the field alone, as of all
        ((SPECIFICATION, ""), (SPECIFICATION, ""), SCREW),
        ((SPECIFICATION, ""), (SPECIFICATION, "field"), SCREW),
        ((HOUSE, ""), (SPECIFICATION, ""), SCREW),
        ((DEFAULT, ""), None, SCREW),  # a default alone asks for nothing
        ((HOUSE, ""), None, NAIL),
        (None, (DEFAULT, ""), SCREW),
    ],
)
def test_nails_take_the_place_of_screws_only_where_somebody_asks_for_them_with_more_weight(
    nails: tuple[Layer, str] | None, screws: tuple[Layer, str] | None, product: str
) -> None:
    said = [
        rule("spacing", what, "12 in", layer=who[0], **({"where": who[1]} if who[1] else {}))
        for what, who in ((NAIL, nails), (SCREW, screws))
        if who is not None
    ]
    rates = [rule("consumption", what, "900", "1000 sq ft", layer=DEFAULT) for what in (NAIL, SCREW)]
    items, _ = run(TRADE, SHEET, [rule("layers", BOARD, "1"), *rates, *said])
    assert [i.product for i in items] == [product]


def test_nails_of_a_default_line_alone_are_not_ordered_even_where_nobody_says_anything_of_screws() -> None:
    nails = rule("consumption", NAIL, "5 lb", "1000 sq ft", layer=DEFAULT)
    items, asked = run(TRADE, SHEET, [rule("layers", BOARD, "1"), nails])
    assert items == []
    assert [(a.kind, a.subject) for a in asked.unanswered] == [("consumption", SCREW)]


def test_the_rules_of_an_item_are_those_it_follows_and_what_it_does_not_follow_was_heard() -> None:
    rate, spacing = rule("consumption", SCREW, "1000", "1000 sq ft"), rule("spacing", SCREW, "24 in")
    fixed = [rule("layers", BOARD, "1"), *BED]
    items, asked = run(TRADE, SHEET, [*fixed, rate, spacing])  # 7 supports of 3 screws: fewer than 32 by the rate
    assert rate in items[0].rules
    assert not {spacing, *BED} & set(items[0].rules)
    assert {rate, spacing} <= set(asked.heard)
    items, asked = run(TRADE, SHEET, [*fixed, rate, closer := rule("spacing", SCREW, "12 in")])  # 35 by the spacing
    assert {closer, BED[0], BED[1]} <= set(items[0].rules)
    assert rate not in items[0].rules
    assert {rate, closer} <= set(asked.heard)
    assert {closer, BED[0], BED[1]} <= set(asked.used)


def test_a_default_spacing_beside_a_followed_rate_was_not_beaten_by_it() -> None:
    rate, spacing = rule("consumption", SCREW, "1000", "1000 sq ft"), rule("spacing", SCREW, "24 in", layer=DEFAULT)
    _, asked = run(TRADE, SHEET, [rule("layers", BOARD, "1"), *BED, rate, spacing])
    assert spacing not in list(asked.heard)


def test_pools_of_one_product_bear_the_length_that_is_said_and_their_measure_where_they_differ() -> None:
    rules = [
        rule("layers", BOARD, "1"),
        rule("consumption", SCREW, "1000", "1000 sq ft"),
        rule("consumption", SCREW, "5 lb", "1000 sq ft", room="vault"),
        rule("fastener length", SCREW, "1-1/4 in"),
        rule("fastener length", SCREW, "2 in", room="tower"),
    ]
    work = job(*(wall("100 sq ft", name=name, room=name) for name in ("vault", "hall", "tower")))
    pools = [dict(i.pool) for i in run(TRADE, work, rules)[0]]
    assert pools == [
        {"length": "1 1/4 in", "measure": "lb"},
        {"length": "1 1/4 in", "measure": "each"},
        {"length": "2 in"},
    ]
    assert [dict(i.pool) for i in run(TRADE, work, rules[:4])[0]] == [
        {"length": "1 1/4 in", "measure": "lb"},
        {"length": "1 1/4 in", "measure": "each"},
    ]
    assert [dict(i.pool) for i in run(TRADE, work, rules[:2])[0]] == [{}]


def test_waste_on_screws_and_on_clips_is_added_before_they_are_boxed() -> None:
    # 550 screws and 10 % make 605; 20 clips and 15 % make 23.
    rules = [*USUAL, rule("waste", SCREW, "10 %"), rule("waste", CLIP, "15 %")]
    found = {i.product: i for i in run(TRADE, ROOM, rules)[0]}
    assert {name: (i.need, i.count) for name, i in found.items()} == {
        CLIP: (Amount.of(23), 23),
        SCREW: (Amount.of(605), 2),
    }
    assert all(any(r.kind.name == "waste" for r in i.rules) for i in found.values())


def test_a_rate_by_weight_is_not_compared_with_a_count_and_a_count_alone_tells_how_it_was_made() -> None:
    spacing = rule("spacing", SCREW, "12 in")
    by_weight = rule("consumption", SCREW, "5 lb", "1000 sq ft")
    weighed = only(TRADE, SHEET, [rule("layers", BOARD, "1"), *BED, spacing, by_weight], SCREW)
    assert not any("spacing" in note for note in weighed.notes)
    counted = spaced(spacing)
    assert counted.notes[0] == (
        "Count: Screws on walls are counted from their spacing: 12 in, supports at 16 in, sheets of 4 ft by 8 ft."
    )


def test_a_count_that_comes_to_the_same_is_said_to_and_one_that_is_less_is() -> None:
    # A sheet of 32 sq ft takes 35 screws at 12 in: 35 per 32 sq ft are as many, 70 twice as many.
    layers = rule("layers", BOARD, "1")
    rates = {"35": "would give 35, as many.", "70": "would give 35, 50 % fewer.", "28": "would give 35, 25 % more."}
    for pieces, told in rates.items():
        rate = rule("consumption", SCREW, pieces, "32 sq ft")
        item = only(TRADE, SHEET, [layers, *BED, rate, rule("spacing", SCREW, "12 in", layer=DEFAULT)], SCREW)
        assert item.notes[0].endswith(told), item.notes


def test_three_layers_are_a_face_and_two_below_it() -> None:
    rules = [
        rule("layers", BOARD, "3"),
        *BED,
        rule("spacing", SCREW, "12 in"),
        rule("spacing", SCREW, "24 in", of_layer="base"),
    ]
    lengths = ("1 1/8 in or longer", "1 5/8 in or longer", "2 1/8 in or longer")
    assert by_length(rules) == dict(zip(lengths, map(Amount.of, (21, 21, 35)), strict=True))
    assert by_length(rules[:-1]) == dict.fromkeys(lengths, Amount.of(35))
    one = only(TRADE, SHEET, [rule("layers", BOARD, "1"), *rules[1:]], SCREW)
    assert one.need == Amount.of(35)
    assert rules[-1] not in one.rules


def test_without_sheet_or_supports_nothing_is_counted_and_a_spacing_of_zero_counts_nothing() -> None:
    layers, spacing = rule("layers", BOARD, "1"), rule("spacing", SCREW, "12 in")
    for bed in (BED[:1], BED[1:], [rule("sheet", BOARD, "4 ft"), BED[1]], [BED[0], rule("framing", BOARD, "0 in")]):
        items, asked = run(TRADE, SHEET, [layers, *bed, spacing])
        assert items == []
        assert ("consumption", SCREW) in {(a.kind, a.subject) for a in asked.unanswered}
    for where in ("field", "edge"):
        assert run(TRADE, SHEET, [layers, *BED, spacing, rule("spacing", SCREW, "0 in", where=where)])[0] == []


# --- adhesive


TUBE = Amount.read("1 tube")
GLUE = "adhesive"


def glue(*said: Rule, work: Job = SHEET) -> tuple[list[LineItem], Consultation]:
    items, asked = run(TRADE, work, [*USUAL, *BED, *said])
    return [i for i in items if i.product == GLUE], asked


def test_beads_lie_at_their_own_spacing_where_one_is_said_and_else_on_every_support() -> None:
    # Along 96 in: 7 supports at 16 in, 4 beads at 32 in and one more at the end of a part, each 4 ft long.
    rate = rule("consumption", GLUE, TUBE, "30 ft")
    (item,), asked = glue(rate)
    assert (item.need, item.count) == (Amount.read("28 ft"), 1)
    assert {rate, BED[0], BED[1]} <= set(item.rules) & set(asked.used)
    (item,), asked = glue(rate, apart := rule("spacing", GLUE, "32 in"))
    assert (item.need, item.count) == (Amount.read("16 ft"), 1)
    assert {rate, BED[0], apart} <= set(item.rules) & set(asked.used)
    assert BED[1] not in item.rules


def test_waste_on_adhesive_is_added_to_the_bead_and_to_the_weight() -> None:
    waste = rule("waste", GLUE, "25 %")
    (item,), _ = glue(rule("consumption", GLUE, TUBE, "30 ft"), waste)
    assert (item.need, item.count) == (Amount.read("35 ft"), 2)
    assert waste in item.rules
    (item,), _ = glue(rule("consumption", GLUE, "4 lb", "32 sq ft"), waste)
    assert item.need == Amount.read("5 lb")


def test_rates_of_several_rooms_are_items_of_their_own_and_one_rate_is_one() -> None:
    work = job(*(wall("32 sq ft", name=name, room=name) for name in ("vault", "hall", "tower", "cellar")))
    long = rule("consumption", GLUE, TUBE, "30 ft")
    short = rule("consumption", GLUE, TUBE, "10 ft", room="vault")
    weight, volume = (
        rule("consumption", GLUE, much, "32 sq ft", room=room) for much, room in (("4 lb", "tower"), ("2 qt", "cellar"))
    )
    found, _ = glue(long, work=work)
    assert [(dict(i.pool), i.need, i.count) for i in found] == [({}, Amount.read("112 ft"), 4)]
    found, _ = glue(long, short, weight, volume, work=work)
    assert [(dict(i.pool), i.need) for i in found] == [
        ({}, Amount.read("28 ft")),
        ({"rate": "1 tube per 30 ft"}, Amount.read("28 ft")),
        ({"measure": "lb"}, Amount.read("4 lb")),
        ({"measure": "qt"}, Amount.read("2 qt")),
    ]
    assert [i.count for i in found[:2]] == [3, 1]
    found, _ = glue(rule("consumption", GLUE, "4 lb", "32 sq ft"), work=work)
    assert [dict(i.pool) for i in found] == [{}]


@pytest.mark.parametrize(("amount", "per"), [(TUBE, "1 gal"), ("2", "10 ft")])
def test_a_use_of_adhesive_that_fits_neither_length_nor_area_is_asked_about(amount: str | Amount, per: str) -> None:
    found, asked = glue(rule("consumption", GLUE, amount, per))
    assert found == []
    assert ("consumption", GLUE) in {(a.kind, a.subject) for a in asked.unanswered}


def test_adhesive_along_supports_that_nobody_knows_is_asked_about() -> None:
    items, asked = run(TRADE, SHEET, [*USUAL, rule("consumption", GLUE, TUBE, "30 ft")])
    assert GLUE not in {i.product for i in items}
    assert ("framing", BOARD) in {(a.kind, a.subject) for a in asked.unanswered}


def test_openings_come_out_of_the_adhesive_as_of_the_board() -> None:
    work = job(wall("64 sq ft", openings=[opening("4 ft", "8 ft")]))
    out = rule("deduct openings over", BOARD, "20 sq ft")
    (item,), _ = glue(rule("consumption", GLUE, TUBE, "30 ft"), out, work=work)
    assert item.need == Amount.read("28 ft")
    assert out in item.rules


@pytest.mark.parametrize("system", ["us", "metric"])
def test_the_defaults_cite_something_on_every_line(system: str) -> None:
    lines = [line for line in TRADE.defaults[system].text.splitlines() if line]
    assert lines
    assert all(line.endswith("]") and ". [" in line for line in lines), lines


def test_boards_of_several_types_in_one_sheet_size_are_no_conflict_for_screws() -> None:
    """The size of a sheet is asked about where the types of board are told apart and the sheets are alike."""
    said = "Walls: one layer. Screws 12 in. on center. Studs 16 in. on center.\n"
    boards = "Type X board: 4 ft x {} sheets.\nMoisture resistant gypsum board: 4 ft x 8 ft sheets.\n"
    room = '[[rooms]]\nname = "Loft"\nlength = "10 ft"\nwidth = "10 ft"\nheight = "8 ft"\n'
    alike, other = (estimated(room, f"GYPSUM BOARD\n{boards.format(size)}{said}") for size in ("8 ft", "12 ft"))
    assert not [c for c in alike.conflicts if c.used.kind.name == "sheet"]
    assert [c for c in other.conflicts if c.used.kind.name == "sheet"]
