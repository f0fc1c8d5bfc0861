"""Primer and finish paint: systems, pools, spread, packages."""

from __future__ import annotations

from fractions import Fraction

import pytest
from attrs import evolve

from darby.job.model import Job, Price
from darby.quantities.amounts import Amount, leaves, walk
from darby.rules.rule import DEFAULT, HOUSE, SPECIFICATION, Layer, Rule, addendum
from darby_coatings.trade import TRADE
from desk import estimated, item
from jobs import ceiling, job, only, opening, run, wall
from kit import rule

PAINT = "finish paint"

SYSTEM = [
    rule("coats", "primer", "1"),
    rule("coats", PAINT, "2"),
    rule("coverage", "primer", "250 sq ft", "1 gal"),
    rule("coverage", PAINT, "400 sq ft", "1 gal"),
    rule("package", "primer", "1 gal", "1 can"),
    rule("package", PAINT, "1 gal", "1 can"),
]
ROOM = job(wall("50 ft", "8 ft"), ceiling("15 ft", "10 ft"))


def but(*changed: Rule, base: list[Rule] = SYSTEM) -> list[Rule]:
    """The system with the rules of some kinds and subjects replaced."""
    said = {(r.kind.name, r.subject) for r in changed}
    return [*(r for r in base if (r.kind.name, r.subject) not in said), *changed]


def amounts(items: list) -> dict[str, Amount]:  # type: ignore[type-arg]
    return {" ".join((i.product, *i.pool.values())): i.need for i in items}


def test_one_product_on_walls_and_ceilings_is_one_item_rounded_once() -> None:
    items, _ = run(TRADE, ROOM, SYSTEM)
    assert amounts(items) == {"primer": Amount.read("2.2 gal"), PAINT: Amount.read("2.75 gal")}
    assert [i.count for i in items] == [3, 3]
    assert [i.container for i in items] == ["can", "can"]


def test_coats_multiply_before_the_one_rounding() -> None:
    item = only(TRADE, job(wall("25 ft", "8 ft")), SYSTEM, PAINT)
    assert item.need == Amount.read("1 gal")
    assert item.count == 1  # rounding each coat first would order two
    assert item.order is not None
    assert [a.step.op for a in walk(item.order)].count("round up") == 1


def test_two_sheens_are_bought_apart_and_name_their_surface() -> None:
    rules = but(
        rule("coats", PAINT, "2", surface="wall", sheen="satin"),
        rule("coats", PAINT, "1", surface="ceiling", sheen="flat"),
    )
    items, _ = run(TRADE, ROOM, rules)
    assert amounts(items) == {
        "primer": Amount.read("2.2 gal"),
        f"{PAINT} satin wall": Amount.read("2 gal"),
        f"{PAINT} flat ceiling": Amount.read("0.375 gal"),
    }
    assert [dict(i.pool) for i in items] == [
        {}, {"sheen": "satin", "surface": "wall"}, {"sheen": "flat", "surface": "ceiling"}
    ]  # fmt: skip


def test_one_color_of_one_sheen_is_one_pool_whatever_the_coats() -> None:
    rules = but(
        rule("coats", PAINT, "2", surface="wall", sheen="flat", color="fog"),
        rule("coats", PAINT, "1", surface="ceiling", sheen="flat", color="fog"),
    )
    item = only(TRADE, ROOM, rules, PAINT)
    assert item.need == Amount.read("2.375 gal")
    assert dict(item.pool) == {"sheen": "flat", "color": "fog"}


def test_two_colors_of_one_sheen_are_never_pooled() -> None:
    rules = but(
        rule("coats", PAINT, "2", surface="wall", sheen="flat", color="ochre"),
        rule("coats", PAINT, "2", surface="ceiling", sheen="flat", color="fog"),
    )
    items, _ = run(TRADE, ROOM, rules)
    assert [(i.pool["color"], i.pool["surface"], i.count) for i in items if i.product == PAINT] == [
        ("ochre", "wall", 2), ("fog", "ceiling", 1)
    ]  # fmt: skip


def test_one_color_in_two_spellings_is_one_pool() -> None:
    rules = but(
        rule("coats", PAINT, "2", surface="wall", color="Fog 1"),
        rule("coats", PAINT, "2", surface="ceiling", color="FOG 1"),
    )
    assert dict(only(TRADE, ROOM, rules, PAINT).pool) == {"color": "Fog 1"}


def test_the_coverage_of_a_sheen_beats_the_coverage_of_the_paint() -> None:
    rules = [
        *but(rule("coats", PAINT, "2", sheen="satin")),
        rule("coverage", PAINT, "200 sq ft", "1 gal", sheen="satin"),
        rule("coverage", PAINT, "100 sq ft", "1 gal", sheen="gloss"),
    ]
    assert only(TRADE, ROOM, rules, PAINT).need == Amount.read("5.5 gal")


@pytest.mark.parametrize(
    ("own", "spread"), [((), 350), ((("300 sq ft", HOUSE),), 300), ((("400 sq ft", DEFAULT),), 350)]
)
def test_what_nobody_says_of_acrylic_latex_is_that_of_latex(own: tuple[tuple[str, Layer], ...], spread: int) -> None:
    rules = [
        rule("coats", "finish paint", "2", **{"class": "acrylic"}),
        rule("coverage", "finish paint", "400 sq ft", per="1 gal", layer=DEFAULT),
        rule("coverage", "finish paint", "350 sq ft", per="1 gal", layer=HOUSE, **{"class": "latex"}),
        rule("coverage", "finish paint", "425 sq ft", per="1 gal", layer=HOUSE, **{"class": "alkyd"}),
        *(
            rule("coverage", "finish paint", amount, per="1 gal", layer=by, **{"class": "acrylic"})
            for amount, by in own
        ),
    ]
    found = only(TRADE, job(wall("1000 sq ft")), rules, "finish paint")
    assert found.need.value == Fraction(1000 * 2, spread)
    assert any("that of latex is used" in note for note in found.notes) == (spread == 350)


def test_a_rate_of_one_class_says_nothing_of_paint_of_which_no_class_is_said() -> None:
    rules = [*SYSTEM, rule("coverage", PAINT, "200 sq ft", "1 gal", **{"class": "epoxy"})]
    items, book = run(TRADE, job(wall("50 ft", "8 ft")), rules)
    assert amounts(items)[PAINT] == Amount.read("2 gal")  # 400 sq ft, two coats at 400 sq ft, and not at 200
    assert not any(answer.conflict for answer in book.answers)
    epoxy = but(rule("coats", PAINT, "2", **{"class": "epoxy"}), base=rules)
    assert amounts(run(TRADE, job(wall("50 ft", "8 ft")), epoxy)[0])[f"{PAINT} epoxy"] == Amount.read("4 gal")


def test_a_range_of_coverage_buys_for_its_lower_end() -> None:
    rules = but(rule("coverage", PAINT, "350 sq ft", "1 gal", upper="450 sq ft"))
    assert only(TRADE, job(wall("350 sq ft")), rules, PAINT).need == Amount.read("2 gal")


@pytest.mark.parametrize(
    ("usage", "layer", "need"),
    [
        ("3.3 gal", SPECIFICATION, "6.6 gal"),  # beats the default coverage of 400
        ("2 gal", DEFAULT, "5 gal"),  # equal rank: the coverage of 400 buys more than 2 gal per 1,000 sq ft
        ("3.3 gal", DEFAULT, "6.6 gal"),  # equal rank: this buys more than the coverage
    ],
)
def test_a_consumption_is_followed_where_it_is_stronger_and_the_item_says_so(
    usage: str, layer: object, need: str
) -> None:
    rules = [
        *but(rule("coverage", PAINT, "400 sq ft", "1 gal", layer=DEFAULT)),
        rule("consumption", PAINT, usage, "1000 sq ft", layer=layer),  # type: ignore[arg-type]
    ]
    items, asked = run(TRADE, job(wall("1000 sq ft")), rules)
    item = next(i for i in items if i.product == PAINT)
    assert item.need == Amount.read(need)
    assert item.notes[0].startswith("The co")
    assert "is followed" in item.notes[0]
    used = {a.rule.kind.name for a in asked.answers if a.rule.subject == PAINT}
    assert len(used & {"coverage", "consumption"}) == 1  # the other is no assumption
    assert {r.kind.name for r in asked.heard if r.subject == PAINT} >= {"coverage", "consumption"}  # but it was heard


def test_a_stronger_coverage_beats_a_consumption() -> None:
    rules = [*SYSTEM, rule("consumption", PAINT, "9 gal", "1000 sq ft", layer=HOUSE)]
    assert only(TRADE, job(wall("1000 sq ft")), rules, PAINT).need == Amount.read("5 gal")


def test_a_consumption_by_weight_is_left_and_said_so() -> None:
    rules = [*SYSTEM, rule("consumption", PAINT, "9 lb", "1000 sq ft")]
    item = only(TRADE, job(wall("1000 sq ft")), rules, PAINT)
    assert item.need == Amount.read("5 gal")
    assert "no volume" in item.notes[0]


def test_a_mix_of_sizes_leaves_least_over_and_takes_the_fewest_packages() -> None:
    two = [rule("package", PAINT, "1 gal", "1 can"), rule("package", PAINT, "5 gal", "1 pail")]
    items, _ = run(TRADE, job(wall("1200 sq ft")), but(*two))
    mixed = [i for i in items if i.product == PAINT]
    assert [(i.need, i.container, i.count, i.pool["package"]) for i in mixed] == [
        (Amount.read("5 gal"), "pail", 1, "5 gal pail"), (Amount.read("1 gal"), "can", 1, "1 gal can")
    ]  # fmt: skip
    large = only(TRADE, job(wall("2000 sq ft")), but(*two), PAINT)
    assert (large.need, large.container, large.count) == (Amount.read("10 gal"), "pail", 2)
    assert "package" not in large.pool


def priced(**prices: str) -> Job:
    """1,200 sq ft of wall, with a price for packages of a product."""
    made = tuple(
        Price(PAINT, Amount.read(size.replace("_", " ").strip()), Amount.of(Fraction(price)), wall("1 sq ft").span)
        for size, price in prices.items()
    )
    return evolve(job(wall("1200 sq ft")), prices=made)


def test_known_prices_choose_the_sizes_and_the_item_says_so() -> None:
    two = [rule("package", PAINT, "1 gal", "1 can"), rule("package", PAINT, "5 gal", "1 pail")]
    work = priced(**{"1 gal": "30", "5 gal": "160"})  # 6 gal: six cans are 180, a pail and a can 190
    item = only(TRADE, work, but(*two), PAINT)
    assert (item.container, item.count) == ("can", 6)
    assert "prices of the job" in " ".join(item.notes)
    cheap = priced(**{"1 gal": "90", "5 gal": "89"})  # two pails are 178, a pail and a can 179
    assert (only(TRADE, cheap, but(*two), PAINT).container, only(TRADE, cheap, but(*two), PAINT).count) == ("pail", 2)


def test_one_price_alone_chooses_nothing_and_the_item_says_so() -> None:
    two = [rule("package", PAINT, "1 gal", "1 can"), rule("package", PAINT, "5 gal", "1 pail")]
    items = [i for i in run(TRADE, priced(**{"1 gal": "1"}), but(*two))[0] if i.product == PAINT]
    assert [i.count for i in items] == [1, 1]
    assert "Not every size" in " ".join(items[0].notes)


def test_the_size_not_ordered_is_known_as_beaten_and_raises_no_conflict() -> None:
    two = [rule("package", PAINT, "1 gal", "1 can"), rule("package", PAINT, "5 gal", "1 pail")]
    _, asked = run(TRADE, job(wall("2000 sq ft")), but(*two))
    answer = next(a for a in asked.answers if a.rule is two[1])
    assert answer.beaten == (two[0],)
    assert answer.conflict is None
    assert two[0] not in asked.used


def test_gallons_go_into_cans_of_litres() -> None:
    item = only(TRADE, job(wall("2000 sq ft")), but(rule("package", PAINT, "10 L", "1 can")), PAINT)
    assert item.need == Amount.read("10 gal")  # 37.85 L
    assert (item.container, item.count) == ("can", 4)


def test_a_silent_package_leaves_the_need_and_raises_the_question() -> None:
    rules = [r for r in SYSTEM if r.kind.name != "package"]
    items, asked = run(TRADE, ROOM, rules)
    assert [i.count for i in items] == [None, None]
    assert {(a.kind, a.subject) for a in asked.unanswered if a.kind == "package"} == {
        ("package", "primer"), ("package", PAINT)
    }  # fmt: skip


def test_silent_coats_order_nothing_and_raise_the_question() -> None:
    items, asked = run(TRADE, ROOM, [r for r in SYSTEM if (r.kind.name, r.subject) != ("coats", PAINT)])
    assert [i.product for i in items] == ["primer"]
    assert ("coats", PAINT) in {(a.kind, a.subject) for a in asked.unanswered}


def test_no_coats_on_ceilings_leave_the_ceilings_out() -> None:
    rules = [*SYSTEM, rule("coats", PAINT, "0", surface="ceiling")]
    assert only(TRADE, ROOM, rules, PAINT).need == Amount.read("2 gal")


def test_a_mark_on_one_wall_holds_for_that_wall_alone() -> None:
    work = job(wall("400 sq ft", name="north"), wall("400 sq ft", name="south"))
    rules = [*SYSTEM, rule("coats", PAINT, "3", name="south")]
    assert only(TRADE, work, rules, PAINT).need == Amount.read("5 gal")


def test_a_room_has_its_own_system() -> None:
    work = job(wall("400 sq ft", room="Bathroom", name="a"), wall("400 sq ft", room="Hall", name="b"))
    rules = [*SYSTEM, rule("coats", PAINT, "3", room="bathrooms", sheen="semi-gloss")]
    items, _ = run(TRADE, work, rules)
    assert [(dict(i.pool), i.count) for i in items if i.product == PAINT] == [
        ({"sheen": "semi-gloss", "surface": "wall"}, 3), ({"surface": "wall"}, 2)
    ]  # fmt: skip


def test_openings_come_out_of_the_paint_where_the_paint_says_so_and_else_as_the_board_does() -> None:
    work = job(wall("400 sq ft", openings=[opening("5 ft", "10 ft")]))
    board = rule("deduct openings over", "gypsum board", "40 sq ft")
    assert only(TRADE, work, SYSTEM, PAINT).need == Amount.read("2 gal")
    assert only(TRADE, work, [*SYSTEM, board], PAINT).need == Amount.read("1.75 gal")
    own = rule("deduct openings over", PAINT, "60 sq ft")
    assert only(TRADE, work, [*SYSTEM, board, own], PAINT).need == Amount.read("2 gal")
    assert only(TRADE, work, [*SYSTEM, board, own], "primer").need == Amount.read(
        "1.6 gal"
    )  # painting means the primer too
    house = rule("deduct openings over", PAINT, "60 sq ft", layer=HOUSE)
    assert only(TRADE, work, [*SYSTEM, board, house], PAINT).need == Amount.read("1.75 gal")


def test_coats_given_one_by_one_are_added_up_each_at_its_own_spread() -> None:
    # Spread by coat: Army TM 43-0139 Table 3-2, oil paint on plaster, second coat 300 to 400, third 400 to 500 sq ft/gal.
    rules = [
        *but(rule("coats", PAINT, "5", layer=DEFAULT)),
        rule("coats", PAINT, "1", coat="second", sheen="flat"),
        rule("coats", PAINT, "1", coat="third", sheen="flat"),
        rule("coverage", PAINT, "300 sq ft", "1 gal", coat="second", upper="400 sq ft"),
    ]
    item = only(TRADE, job(wall("1200 sq ft")), rules, PAINT)
    assert item.need == Amount.read("4 gal") + Amount.read("3 gal")
    assert dict(item.pool) == {"sheen": "flat"}


def test_coats_of_two_sheens_given_one_by_one_are_two_items() -> None:
    rules = but(
        rule("coats", PAINT, "1", coat="second", sheen="flat"), rule("coats", PAINT, "1", coat="third", sheen="gloss")
    )
    items, _ = run(TRADE, job(wall("400 sq ft")), rules)
    assert [(dict(i.pool), i.count) for i in items if i.product == PAINT] == [
        ({"sheen": "flat", "surface": "wall"}, 1), ({"sheen": "gloss", "surface": "wall"}, 1)
    ]  # fmt: skip


def test_a_stated_number_of_coats_holds_beside_its_parts() -> None:
    rules = [*SYSTEM, rule("coats", PAINT, "1", coat="second"), rule("coats", PAINT, "1", coat="third")]
    assert only(TRADE, job(wall("400 sq ft")), rules, PAINT).need == Amount.read("2 gal")
    house = [rule("coats", PAINT, n, layer=HOUSE, **s) for n, s in (("3", {}), ("1", {"coat": "second"}))]
    assert only(TRADE, job(wall("400 sq ft")), but(*house), PAINT).need == Amount.read("3 gal")


def test_an_addendum_to_one_coat_leaves_the_others() -> None:
    rules = but(
        rule("coats", PAINT, "1", coat="second", sheen="flat"),
        rule("coats", PAINT, "1", coat="third", sheen="flat"),
        rule("coats", PAINT, "1", coat="third", sheen="gloss", layer=addendum(1)),
    )
    items, _ = run(TRADE, job(wall("400 sq ft")), rules)
    assert sorted((i.pool["sheen"], i.count) for i in items if i.product == PAINT) == [("flat", 1), ("gloss", 1)]


def test_waste_is_added_before_the_rounding_where_a_rule_gives_it() -> None:
    item = only(TRADE, job(wall("400 sq ft")), [*SYSTEM, rule("waste", PAINT, "10 %")], PAINT)
    assert item.need == Amount.read("2.2 gal")
    assert item.count == 3


def test_square_metres_under_a_coverage_in_feet_are_litres_though_there_is_one_sort_of_place() -> None:
    item = only(TRADE, job(wall("37.161216 m2"), units="metric"), SYSTEM, PAINT)
    assert item.need == Amount.read("2 gal")
    assert item.need.unit.name == "L"
    assert item.count == 2


def test_the_working_holds_subtotals_and_leads_to_every_rule_and_row() -> None:
    item = only(TRADE, ROOM, SYSTEM, PAINT)
    labels = {a.label for a in walk(item.need)}
    assert {"area of walls", "area of ceilings", f"{PAINT} on walls", f"{PAINT} on ceilings"} <= labels
    said = {a.step.origin.text for a in leaves(item.need)}
    assert {"50 ft", "8 ft", "15 ft", "10 ft"} <= said
    assert any("coverage" in text for text in said)


def test_the_defaults_speak_of_both_systems_and_cite_something() -> None:
    for system in ("us", "metric"):
        lines = [line for line in TRADE.defaults[system].text.splitlines() if line]
        assert lines
        assert all(line.endswith("]") and ". [" in line for line in lines), lines


# --- rates: a stated one before a wet film, a wet before a dry one


BARE = [r for r in SYSTEM if (r.kind.name, r.subject) != ("coverage", PAINT)]


def test_a_wet_film_gives_the_rate_where_none_is_stated_and_the_item_says_which() -> None:
    # UFC 3-190-06 2.1.5: a gallon a mil thick covers 9625/6 sq ft, so 4 mils take 1 gal for 401.04 sq ft.
    rules = [*BARE, rule("film", PAINT, "4 mil", film="wet"), rule("coats", PAINT, "1", surface="wall")]
    item = only(TRADE, job(wall("9625 sq ft")), rules, PAINT)
    assert item.need == Amount.read("24 gal")
    assert "wet film of 4 mil" in " ".join(item.notes)


def test_a_dry_film_with_solids_gives_the_rate_and_alone_it_gives_none() -> None:
    # 9625 sq ft x 2 mils / 50 % = 9625 x 4 mil of wet paint.
    film = rule("film", PAINT, "2 mil", film="dry")
    rules = [*BARE, film, rule("coats", PAINT, "1", surface="wall")]
    both = only(TRADE, job(wall("9625 sq ft")), [*rules, rule("solids", PAINT, "50 %")], PAINT)
    assert both.need == Amount.read("24 gal")
    assert "dry film of 2 mil with 50 % solids" in " ".join(both.notes)
    items, asked = run(TRADE, job(wall("9625 sq ft")), rules)
    assert PAINT not in {i.product for i in items}
    assert ("solids", PAINT) in {(a.kind, a.subject) for a in asked.unanswered}


def test_within_a_layer_a_stated_rate_beats_a_wet_film_and_that_a_dry_one() -> None:
    films = [
        rule("film", PAINT, "8 mil", film="wet"), rule("film", PAINT, "1 mil", film="dry"), rule("solids", PAINT, "25 %")
    ]  # fmt: skip
    stated = only(TRADE, job(wall("400 sq ft")), [*SYSTEM, *films], PAINT)
    assert stated.need == Amount.read("2 gal")
    assert "is trusted before a film" in " ".join(stated.notes)
    wet = only(TRADE, job(wall("9625 sq ft")), [*BARE, *films], PAINT)
    assert wet.need == Amount.read("96 gal")  # two coats of 8 mils, not of 4


def test_a_film_of_a_later_layer_beats_a_rate_of_an_earlier_one() -> None:
    rules = [
        *but(rule("coverage", PAINT, "400 sq ft", "1 gal", layer=DEFAULT)),
        rule("film", PAINT, "8 mil", film="wet"),
    ]
    assert only(TRADE, job(wall("9625 sq ft")), rules, PAINT).need == Amount.read("96 gal")


def test_a_loss_under_a_theoretical_rate_is_a_share_of_what_leaves_the_can() -> None:
    # Corrosion dictionary: practical = theoretical x (1 - loss); 100 sq ft/gal at 30 % is 70 sq ft/gal.
    rules = [
        *but(rule("coverage", PAINT, "100 sq ft", "1 gal", basis="theoretical"), rule("coats", PAINT, "1")),
        rule("waste", PAINT, "30 %", basis="theoretical"),
    ]
    assert only(TRADE, job(wall("70 sq ft")), rules, PAINT).need == Amount.read("1 gal")


def test_a_practical_rate_holds_its_loss_already() -> None:
    rules = [*SYSTEM, rule("waste", PAINT, "30 %", basis="theoretical")]
    assert only(TRADE, job(wall("400 sq ft")), rules, PAINT).need == Amount.read("2 gal")


def test_a_theoretical_rate_without_a_loss_asks_for_it() -> None:
    rules = but(rule("coverage", PAINT, "400 sq ft", "1 gal", basis="theoretical"))
    items, asked = run(TRADE, job(wall("400 sq ft")), rules)
    assert "no loss is stated" in " ".join(n for i in items for n in i.notes)
    assert ("waste", PAINT) in {(a.kind, a.subject) for a in asked.unanswered}


def test_a_rough_surface_drinks_more_on_top_of_what_is_lost_anywhere() -> None:
    # Australian consumer guide: 20 % more on rough or porous surfaces.
    rough = evolve(wall("400 sq ft", name="a"), marks={"condition": "rough"})
    rules = [
        *SYSTEM,
        rule("waste", PAINT, "20 %", where="rough", layer=DEFAULT),
        rule("waste", PAINT, "10 %", layer=HOUSE),
    ]
    assert only(TRADE, job(rough), rules, PAINT).need == Amount.read("2.64 gal")
    assert only(TRADE, job(wall("400 sq ft")), rules, PAINT).need == Amount.read("2.2 gal")
    smooth = evolve(wall("400 sq ft", name="a"), marks={"condition": "smooth"})
    item = only(TRADE, job(smooth), rules, PAINT)
    assert item.need == Amount.read("2.2 gal")
    assert all(rule is not None for rule in item.rules)


# --- what is poured together


def test_a_can_left_from_one_coat_is_opened_for_the_next_of_the_same_paint() -> None:
    # 250 sq ft at 400 take 0.625 gal a coat: two coats are 1.25, two cans, where each coat alone would open a can.
    rules = but(
        rule("coats", PAINT, "1", coat="second", sheen="satin"), rule("coats", PAINT, "1", coat="third", sheen="satin")
    )
    item = only(TRADE, job(wall("150 sq ft")), [r for r in rules if r.amount.value or r.subject != PAINT], PAINT)
    assert (item.need, item.count) == (Amount.read("0.75 gal"), 1)


def test_an_intermediate_coat_comes_on_top_of_the_finish_coats() -> None:
    rules = but(rule("coats", PAINT, "1"), rule("coats", PAINT, "1", coat="intermediate"))
    assert only(TRADE, job(wall("400 sq ft")), rules, PAINT).need == Amount.read("2 gal")


def test_an_undercoat_is_no_primer_and_comes_on_top_of_one() -> None:
    # 400 sq ft of each: the wood primer at 200, the undercoat at 100 sq ft a gallon
    rules = but(
        rule("coats", "primer", "1", **{"class": "wood"}),
        rule("coats", "primer", "1", coat="undercoat"),
        rule("coverage", "primer", "200 sq ft", "1 gal"),
        rule("coverage", "primer", "100 sq ft", "1 gal", coat="undercoat"),
    )
    items, _ = run(TRADE, job(wall("400 sq ft")), rules)
    made = amounts(items)
    assert made["primer wood wall"] == Amount.read("2 gal")
    assert made["primer undercoat wall"] == Amount.read("4 gal")


def test_a_mist_coat_is_the_finish_itself_and_stands_in_for_a_primer_that_nobody_asks_for() -> None:
    mist = rule("coats", PAINT, "1", coat="mist", **{"class": "emulsion"})
    two = rule("coats", PAINT, "2", sheen="matt", **{"class": "emulsion"})
    primer = [rule("coats", "primer", "1", layer=DEFAULT), rule("coverage", "primer", "250 sq ft", "1 gal")]
    rules = [two, mist, rule("coverage", PAINT, "400 sq ft", "1 gal"), *primer]
    items, _ = run(TRADE, job(wall("400 sq ft")), rules)
    assert [(i.product, i.pool.get("sheen"), i.need) for i in items] == [(PAINT, "matt", Amount.read("3 gal"))]
    stated = [evolve(rules[0]), mist, *rules[2:3], rule("coats", "primer", "1"), primer[1]]
    assert [i.product for i in run(TRADE, job(wall("400 sq ft")), stated)[0]] == ["primer", PAINT]


def test_the_color_of_a_surface_keeps_its_paint_apart_and_not_its_primer() -> None:
    ochre = evolve(wall("300 sq ft", name="a"), marks={"color": "Ochre 4"})
    fog = evolve(wall("300 sq ft", name="b"), marks={"color": "Fog 1"})
    items, _ = run(TRADE, job(ochre, fog), SYSTEM)
    assert [(i.product, i.pool.get("color"), i.count) for i in items] == [
        ("primer", None, 3), (PAINT, "Ochre 4", 2), (PAINT, "Fog 1", 2)
    ]  # fmt: skip


def test_doors_and_trim_are_painted_by_their_own_rules() -> None:
    door = evolve(wall("42 sq ft", name="doors"), kind="door")
    trim = evolve(wall("60 sq ft", name="base"), kind="trim")
    rules = [
        *SYSTEM,
        rule("coats", PAINT, "1", surface="door", sheen="gloss"),
        rule("coats", PAINT, "3", surface="trim", sheen="gloss"),
    ]
    item = only(TRADE, job(door, trim), rules, PAINT)
    assert item.need == (Amount.read("42 sq ft") + Amount.read("180 sq ft")) / Amount.read("400 sq ft") * Amount.read(
        "1 gal"
    )
    assert dict(item.pool) == {"sheen": "gloss"}


def test_an_intermediate_coat_is_the_finish_s_own_paint_only_where_neither_has_a_look() -> None:
    between = rule("coats", PAINT, "1", coat="intermediate")
    work = job(wall("400 sq ft"))
    satin = rule("coats", PAINT, "2", sheen="satin")

    def pools(*rules: Rule) -> list[tuple[dict[str, str], str]]:
        items, _ = run(TRADE, work, but(*rules))
        return [
            ({k: v for k, v in i.pool.items() if k != "surface"}, i.need.exact()) for i in items if i.product == PAINT
        ]

    assert pools(rule("coats", PAINT, "2"), between) == [({}, "3 gal")]
    assert pools(satin, between) == [({"sheen": "satin"}, "2 gal"), ({"coat": "intermediate"}, "1 gal")]
    flat = rule("coats", PAINT, "1", coat="intermediate", sheen="flat")
    assert pools(satin, flat) == [({"sheen": "satin"}, "2 gal"), ({"sheen": "flat"}, "1 gal")]
    same = rule("coats", PAINT, "1", coat="intermediate", sheen="satin")
    assert pools(satin, same) == [({"sheen": "satin"}, "3 gal")]


@pytest.mark.parametrize(
    ("rules", "told"),
    [
        # a rate by area is trusted before a film, a wet film before a dry one, and what buys more before what buys less
        ([("coverage", "400 sq ft", "1 gal"), ("film", "4 mil", "wet")],
         "The coverage of 400 sq ft per 1 gal is followed: it is trusted before a film, here the wet film of 4 mil."),
        ([("film", "4 mil", "wet"), ("film", "2 mil", "dry"), ("solids", "50 %", "")],
         "The wet film of 4 mil is followed and not the dry film of 2 mil with 50 % solids: a wet film is trusted before a dry one."),
        ([("coverage", "400 sq ft", "1 gal"), ("consumption", "1 gal", "300 sq ft")],
         "The consumption of 1 gal per 300 sq ft is followed: it buys more than the coverage of 400 sq ft per 1 gal."),
        ([("coverage", "300 sq ft", "1 gal"), ("consumption", "1 gal", "400 sq ft")],
         "The coverage of 300 sq ft per 1 gal is followed: it buys more than the consumption of 1 gal per 400 sq ft."),
        ([("film", "4 mil", "wet")], None),
    ],
)  # fmt: skip
def test_why_one_way_to_a_rate_is_followed_is_told_in_a_sentence(
    rules: list[tuple[str, str, str]], told: str | None
) -> None:
    said = [
        rule(kind, PAINT, amount, **({"film": more} if kind == "film" else {"per": more} if more else {}))
        for kind, amount, more in rules
    ]
    item = only(TRADE, job(wall("400 sq ft")), [*BARE, *said], PAINT)
    by_film = "The spread is worked out from wet film of 4 mil; it holds no loss but what a waste rule adds."
    theoretical = "The rate is theoretical and no loss is stated: none is added."
    film = [by_film, theoretical] if rules[0][0] == "film" else []
    assert list(item.notes) == [*([told] if told else []), *film]


def test_what_is_said_with_more_weight_is_told_so() -> None:
    rules = [
        *BARE,
        rule("coverage", PAINT, "400 sq ft", "1 gal", layer=HOUSE),
        rule("consumption", PAINT, "1 gal", "500 sq ft"),
    ]
    item = only(TRADE, job(wall("500 sq ft")), rules, PAINT)
    assert item.need == Amount.read("2 gal")
    assert item.notes == (
        "The consumption of 1 gal per 500 sq ft is followed: it is said with more weight than the coverage of 400 sq ft per 1 gal.",
    )


def test_films_and_rates_of_a_method_or_basis_serve_where_nothing_else_is_said() -> None:
    for more in ({"method": "by spray"}, {"basis": "practical"}):
        wet = rule("film", PAINT, "4 mil", film="wet", **more)
        assert only(TRADE, job(wall("9625 sq ft")), [*BARE, wet], PAINT).need == Amount.read("48 gal")
        dry = [rule("film", PAINT, "2 mil", film="dry", **more), rule("solids", PAINT, "50 %", **more)]
        assert only(TRADE, job(wall("9625 sq ft")), [*BARE, *dry], PAINT).need == Amount.read("48 gal")
        for said in (
            rule("coverage", PAINT, "200 sq ft", "1 gal", **more),
            rule("consumption", PAINT, "1 gal", "200 sq ft", **more),
        ):
            assert only(TRADE, job(wall("200 sq ft")), [*BARE, said], PAINT).need == Amount.read("2 gal")
        assert only(
            TRADE, job(wall("400 sq ft")), but(rule("coats", PAINT, "3", **more)) if "method" in more else SYSTEM, PAINT
        )


def test_a_dry_film_without_solids_beside_a_rate_is_told_to_give_none() -> None:
    item = only(TRADE, job(wall("400 sq ft")), [*SYSTEM, rule("film", PAINT, "2 mil", film="dry")], PAINT)
    assert item.need == Amount.read("2 gal")
    assert item.notes == (
        "The dry film of 2 mil alone gives no rate: what share of finish paint is solids is not said.",
    )


def test_without_any_rate_the_coverage_is_asked_for_and_with_a_dry_film_alone_the_solids() -> None:
    _, asked = run(TRADE, job(wall("400 sq ft")), BARE)
    assert [a.kind for a in asked.unanswered if a.subject == PAINT] == ["coverage"]
    _, asked = run(TRADE, job(wall("400 sq ft")), [*BARE, rule("film", PAINT, "2 mil", film="dry")])
    assert [a.kind for a in asked.unanswered if a.subject == PAINT] == ["solids"]


def test_the_marks_of_the_job_are_read_for_paint_and_kept_for_color_and_condition() -> None:
    assert dict(TRADE.marks) == {"paint": PAINT, "color": "", "condition": ""}


def test_reveals_of_openings_that_stay_in_are_told_and_of_those_that_come_out_are_painted() -> None:
    window = evolve(opening("3 ft", "5 ft"), reveal=Amount.read("6 in"), sill=True)
    work = job(evolve(wall("400 sq ft"), openings=(window,)))
    kept = only(TRADE, work, SYSTEM, PAINT)
    assert kept.need == Amount.read("2 gal")
    assert "Reveals: Openings that are not deducted make up for their reveals, which are not added." in kept.notes
    out = only(TRADE, work, [*SYSTEM, rule("deduct openings over", PAINT, "10 sq ft")], PAINT)
    # 400 - 15 + 16 ft around by half a foot = 393 sq ft, twice, at 400 to the gallon
    assert out.need == Amount.of(393 * 2, "gal") / 400
    assert out.notes == ()


def test_a_loss_of_everything_is_no_loss_that_can_be_reckoned() -> None:
    rules = but(rule("coverage", PAINT, "400 sq ft", "1 gal", basis="theoretical"))
    for share, need in (("0 %", "2 gal"), ("50 %", "4 gal"), ("100 %", "2 gal"), ("150 %", "2 gal")):
        waste = rule("waste", PAINT, share, basis="theoretical")
        assert only(TRADE, job(wall("400 sq ft")), [*rules, waste], PAINT).need == Amount.read(need)
    added = rule("waste", PAINT, "50 %")  # not said to be a share of what leaves the can: it is added
    assert only(TRADE, job(wall("400 sq ft")), [*rules, added], PAINT).need == Amount.read("3 gal")


COLORS = """
Den: walls two coats satin, color Birch.
Attic: walls two coats satin, {}.
"""


@pytest.mark.parametrize(("more", "colors"), [("color Moss", ["birch", "moss"]), ("brushed on", ["", "birch"])])
def test_clauses_that_each_name_a_color_are_a_can_each(more: str, colors: list[str]) -> None:
    rooms = "".join(
        f'[[rooms]]\nname = "{n}"\nlength = "10 ft"\nwidth = "8 ft"\nheight = "8 ft"\n' for n in ("Den", "Attic")
    )
    bought = [
        i
        for i in estimated(rooms, COLORS.format(more)).items
        if i.product == PAINT and dict(i.pool).get("sheen") == "satin"
    ]
    assert sorted(dict(i.pool).get("color", "") for i in bought) == colors


def test_colors_that_the_job_gives_need_no_warning() -> None:
    rooms = "".join(
        f'[[rooms]]\nname = "{n}"\nlength = "10 ft"\nwidth = "8 ft"\nheight = "8 ft"\ncolor = "{n}"\n'
        for n in ("Den", "Attic")
    )
    made = estimated(rooms, COLORS.format("color Moss"))
    for color in ("Den", "Attic"):
        assert not any("speak of colors" in note for note in item(made, PAINT, sheen="satin", color=color).notes)


def test_primer_for_board_and_primer_for_wood_are_two_products_with_rates_and_packages_of_their_own() -> None:
    door = evolve(wall("40 sq ft", name="doors"), kind="door")
    rules = [
        *but(
            rule("coverage", "primer", "100 sq ft", "1 gal", **{"class": "wood"}),
            rule("package", "primer", "5 gal", "1 pail", **{"class": "drywall"}),
        ),
        rule("coverage", "primer", "200 sq ft", "1 gal", **{"class": "drywall"}),
        rule("coats", "primer", "1", surface="door", **{"class": "wood"}),
    ]
    # nobody says which primer the wall takes: what is said of board is said of it, and the closer rate of wood is not
    items, _ = run(TRADE, job(wall("400 sq ft"), door), rules)
    primers = {i.pool.get("class", ""): (i.need, i.package) for i in items if i.product == "primer"}
    assert primers[""] == (Amount.read("2 gal"), Amount.read("5 gal") / Amount.read("1 pail"))
    assert primers["wood"][0] == Amount.read("0.4 gal")


def test_primer_that_nobody_names_is_that_of_the_other_walls_and_not_that_of_the_doors() -> None:
    door = evolve(wall("40 sq ft", name="doors"), kind="door")
    rules = [
        *but(),
        rule("coats", "primer", "1", surface="ceiling", **{"class": "latex"}),
        rule("coats", "primer", "1", surface="door", **{"class": "alkyd"}),
    ]
    items, _ = run(TRADE, job(wall("400 sq ft"), ceiling("20 ft", "10 ft"), door), rules)
    primers = {i.pool.get("class", ""): i.need for i in items if i.product == "primer"}
    assert primers == {"latex": Amount.read("2.4 gal"), "alkyd": Amount.read("0.16 gal")}  # 400 + 200, 40 sq ft at 250


LOBBY = "".join(
    f'[[rooms]]\nname = "{name}"\nlength = "20 ft"\nwidth = "10 ft"\nheight = "8 ft"\n' for name in ("Lobby", "Study")
)


@pytest.mark.parametrize(
    ("board", "ceilings"),
    [
        ("Lobby ceiling: one layer of 5/8 in. gypsum board. All other ceilings: acoustic tile.", 200),
        ("Ceilings: one layer of 5/8 in. gypsum board. Lobby ceiling: acoustic tile.", 200),
        ("Lobby ceiling: acoustic tile. Study ceiling: exposed structure.", 0),
    ],
)
def test_a_ceiling_that_has_a_board_is_none_of_all_other_ceilings(board: str, ceilings: int) -> None:
    made = estimated(
        LOBBY, f"Walls: one layer of 1/2 in. gypsum board. {board}\nPrimer: one coat, 100 sq ft per gal.\n"
    )
    walls = 2 * 2 * (20 + 10) * 8
    assert item(made, "primer").need == Amount.of(Fraction(walls + ceilings, 100), "gal")


def test_drywall_primer_of_a_document_is_named_in_the_order() -> None:
    text = "Walls: one coat drywall primer. Drywall primer: 100 sq ft per gal. Wood primer: 50 sq ft per gal."
    made = estimated('[[walls]]\nname = "a"\narea = "200 sq ft"\n', text)
    primer = item(made, "primer")
    assert (primer.pool.get("class"), primer.need) == ("drywall", Amount.read("2 gal"))


def test_woodwork_is_doors_and_trim_and_doors_alone_are_narrower() -> None:
    """Skirting 100 ft x 6 in. is 50 sq ft, four door faces 84: one coat of gloss over 134 at 400 is 0.335 gal; doors in two are 0.42 and 0.125."""
    job = (
        '[[trim]]\nname = "skirting"\nlength = "100 ft"\nwidth = "6 in"\n'
        '[[doors]]\nname = "leaves"\nwidth = "3 ft"\nheight = "7 ft"\ncount = 2\n'
    )
    paint = "PAINTING\n\nFinish paint: 400 sq ft per gallon.\nWoodwork: one coat primer, one coat gloss.\n"
    for more, needs in {"": {"67/200 gal"}, "Doors: two coats gloss.\n": {"109/200 gal"}}.items():
        made = estimated(job, paint + more)
        assert {f"{i.need.value} {i.need.unit}" for i in made.items if i.product == "finish paint"} == needs
        assert not [q for q in made.questions if "How many coats" in q.text]
