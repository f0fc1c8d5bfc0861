"""Further published values, from Australia, Britain, Canada, India and the United States; each with its source, and whether it was seen.

Where ours differs, the test says so and why. A maker's own examples are cited by what they are.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from darby.quantities.amounts import Amount
from desk import estimated, inner, item

STEPS = "Deduct openings over 0.5 sq m.\nDeduct openings over 3 sq m on both faces.\n"


def room(length: str, width: str, height: str, more: str = "") -> str:
    return f'[[rooms]]\nname = "r"\nlength = "{length}"\nwidth = "{width}"\nheight = "{height}"\n{more}'


def hole(wall: str, width: str, height: str, count: int = 1, name: str = "o") -> str:
    return f'[[openings]]\nname = "{name}"\nwall = "{wall}"\nwidth = "{width}"\nheight = "{height}"\ncount = {count}\n'


def area(size: str, kind: str = "wall") -> str:
    return f'[[{kind}s]]\nname = "all"\narea = "{size}"\n'


def walls_of(made: object) -> Amount:
    return inner(item(made, "finish paint"), "area of walls")  # type: ignore[arg-type]


# --- India: IS 1200


@pytest.mark.parametrize(("kind", "factor", "total"), [("flush", "1.2", "4.536"), ("panelled", "1.3", "4.914")])
def test_doors_count_by_the_factors_of_is_1200(kind: str, factor: str, total: str) -> None:
    """IS 1200 (Part 15), seen: a side of a flush shutter counts 1.2 times, of a panelled one 1.3: 0.9 x 2.1 m, both sides."""
    assert Fraction(factor) * 2 * Fraction("0.9") * Fraction("2.1") == Fraction(total)
    job = f'[[doors]]\nname = "d"\nwidth = "0.9 m"\nheight = "2.1 m"\ncount = 1\ncondition = "{kind}"\n'
    made = estimated(job, "Finish paint: one coat, 10 m2 per L.", "metric")
    assert item(made, "finish paint").need.value * 10 == Fraction(total)


def test_a_door_of_which_nobody_says_the_kind_counts_as_it_is_measured() -> None:
    """Ours differs from IS 1200 (Part 15) there: 3.78 m2 for 4.536; outside India a door is its two sides (almanac: 42 sq ft)."""
    job = '[[doors]]\nname = "d"\nwidth = "0.9 m"\nheight = "2.1 m"\ncount = 1\n'
    made = estimated(job, "Finish paint: one coat, 10 m2 per L.", "metric")
    assert item(made, "finish paint").need.value * 10 == Fraction("3.78")


def test_reveals_of_equal_finish_take_half_from_each_face() -> None:
    """IS 1200 (Part 13) 3.2.1, seen: an opening of 0.5 to 3 m2 between unlike faces comes out of each by half: 29.1 and 29.1 m2."""
    job = (
        '[[walls]]\nname = "w"\nlength = "10 m"\nheight = "3 m"\nfaces = 2\npaint = "one coat satin"\n'
        'other_face = { paint = "one coat flat" }\n' + hole("w", "0.9 m", "2 m")
    )
    made = estimated(job, f"{STEPS}Finish paint: 10 m2/L.", "metric")
    found = {i.pool["sheen"]: i.need.value * 10 for i in made.items if i.product == "finish paint"}
    assert found == {"satin": Fraction("29.1"), "flat": Fraction("29.1")}


def test_a_store_with_its_openings() -> None:
    """Civil-engineering site, seen: 2.2 x 3 x 3 m less two windows of 1.2 x 1.2 m and a door of 0.9 x 2.1 m: 26.43 m2."""
    job = room("2.2 m", "3 m", "3 m") + hole("r wall 2", "1.2 m", "1.2 m", 2) + hole("r wall 1", "0.9 m", "2.1 m")
    made = estimated(job, "Deduct all openings.\nFinish paint: one coat, 10 m2/L.", "metric")
    assert walls_of(made) == Amount.read("26.43 m2")


# --- Britain


def test_the_living_room_of_a_british_guide() -> None:
    """Decorating blog, seen: 5 x 4 x 2.7 m is 48.6 m2 of wall; at 10 m2/L two coats take a fifth of that in litres."""
    made = estimated(room("5 m", "4 m", "2.7 m"), "Walls: two coats matt.\nFinish paint: 10 m2/L.", "metric")
    walls = next(i for i in made.items if i.product == "finish paint" and i.pool.get("sheen") == "matt")
    assert inner(walls, "area of walls") == Amount.read("48.6 m2")
    assert walls.need == Amount.read("9.72 L")


def test_the_worked_room_of_a_british_guide_takes_two_tins_of_4_litres() -> None:
    """The same: 36.4 m2 less a door of 1.8 and a window of 1.2 m2 is 33.4; two coats at 10 m2/L are 6.68 L, two tins of 4 L."""
    job = room("4 m", "3 m", "2.6 m") + hole("r wall 1", "0.9 m", "2 m") + hole("r wall 3", "1 m", "1.2 m")
    spec = "Deduct all openings.\nWalls: two coats matt.\nFinish paint: 10 m2/L.\nFinish paint: 4 L cans.\n"
    found = next(i for i in estimated(job, spec, "metric").items if i.pool.get("sheen") == "matt")
    assert (found.need, found.count) == (Amount.read("6.68 L"), 2)


def test_54_m2_in_two_coats_take_7_2_litres() -> None:
    """Decorating hub, seen: 54 m2 at 15 m2/L, doubled for two coats."""
    made = estimated(area("54 m2"), "Finish paint: two coats, 15 m2/L.", "metric")
    assert item(made, "finish paint").need == Amount.read("7.2 L")


@pytest.mark.parametrize(
    ("size", "spread", "coats", "litres"), [("40 m2", "16", "one", "2.5"), ("42 m2", "11", "two", "7.6")]
)
def test_two_paint_makers_guides(size: str, spread: str, coats: str, litres: str) -> None:
    """Paint makers' guides, seen: 16 x 2.5 m at 16 m2/L is 2.5 L; 42 m2 at 11 in two coats 7.6 L, as rounded to a tenth there."""
    made = estimated(
        area(size), f"Finish paint: {coats} coats, {spread} m2/L.".replace("one coats", "one coat"), "metric"
    )
    assert abs(item(made, "finish paint").need.value - Fraction(litres)) <= Fraction(1, 20)


def test_a_room_of_a_paint_makers_guide_lies_in_its_band() -> None:
    """Paint maker's guide, seen: 4 x 3 x 2.5 m less 3.8 m2 is 31.2 m2; at 9 to 13 m2/L, 4.8 L for two coats at the far end."""
    job = room("4 m", "3 m", "2.5 m") + hole("r wall 1", "1.9 m", "2 m")
    made = estimated(job, "Deduct all openings.\nWalls: two coats satin.\nFinish paint: 13 m2/L.", "metric")
    found = next(i for i in made.items if i.pool.get("sheen") == "satin")
    assert inner(found, "area of walls") == Amount.read("31.2 m2")
    assert found.need == Amount.read("4.8 L")


@pytest.mark.parametrize("waste", ["10", "15"])
def test_a_sheet_of_2400_by_1200_mm_is_2_88_m2(waste: str) -> None:
    """Guide for British tradesmen, seen: 2.88 m2 a board, and 10 to 15 % on top: 28.8 m2 are ten boards before it, 11 or 12 with it."""
    spec = f"Gypsum board: 1200 mm x 2400 mm sheets.\nGypsum board waste: {waste} %."
    found = item(estimated(area("28.8 m2"), spec, "metric"), "gypsum board")
    assert found.count == {"10": 11, "15": 12}[waste]


def test_screws_of_32_mm_go_with_board_of_12_5_mm() -> None:
    """The same, seen: 25 mm for 9.5 mm board and 32 mm for 12.5 mm; the least that holds in wood here is 26 and 29 mm.

    Ours asks a millimetre more of the thinner board: IRC R702.3.5.1 has 5/8 in (15.9 mm) in the wood, and 25 - 9.5 is 15.5.
    """
    for board, least, sold in (("9.5", 26, 25), ("12.5", 29, 32)):
        found = item(estimated(area("10 m2"), f"Gypsum board: {board} mm thick.", "metric"), "screw")
        assert found.pool["length"] == f"{least} mm or longer"
        assert abs(least - sold) <= 3


# --- Australia


def test_litres_by_an_australian_painters_formula() -> None:
    """Painter's guide, seen: (perimeter x height less 1.5 m2 a window and 2 m2 a door) / 14 m2/L for each coat.

    A room of 5 x 4 x 2.4 m with two windows and a door: 43.2 - 5 = 38.2 m2, 5.457 L in two coats.
    """
    job = room("5 m", "4 m", "2.4 m") + hole("r wall 1", "1 m", "1.5 m", 2) + hole("r wall 3", "1 m", "2 m")
    made = estimated(job, "Deduct all openings.\nWalls: two coats low sheen.\nFinish paint: 14 m2/L.", "metric")
    found = next(i for i in made.items if i.pool.get("sheen") == "low sheen")
    assert found.need.value == Fraction("38.2") * 2 / 14


def test_ten_percent_more_for_the_first_coat_on_block() -> None:
    """Australian consumer guide, seen: +10 % for the first coat on concrete block; said as a line of the estimator's own."""
    rules = 'rules = ["Primer waste: 10 %."]\n'
    made = estimated(rules + area("100 m2"), "Primer: one coat, 10 m2/L.", "metric")
    assert item(made, "primer").need == Amount.read("11 L")


def test_a_new_zealand_decorators_rule() -> None:
    """Decorators' help page, New Zealand, seen: area / spreading rate x coats, 2 m2 for each side of a door."""
    made = estimated(
        '[[doors]]\nname = "d"\nwidth = "1 m"\nheight = "2 m"\ncount = 6\n',
        "Finish paint: two coats, 12 m2/L.",
        "metric",
    )
    assert item(made, "finish paint").need == Amount.read("4 L")


# --- Canada


@pytest.mark.parametrize(
    ("run", "height", "sheets"), [("135 ft", "8 ft", 34), ("87 ft", "8 ft", 22), ("200 ft", "8 ft", 50)]
)
def test_sheets_of_a_length_of_wall(run: str, height: str, sheets: int) -> None:
    """Builders' plans page (135 ft: 34) and a home calculator's page (87 ft: 22), seen; 200 ft by arithmetic: 1,600 sq ft / 32."""
    job = f'[[walls]]\nname = "w"\nlength = "{run}"\nheight = "{height}"\nfaces = 1\n'
    assert item(estimated(job, "Gypsum board: 4 ft x 8 ft sheets."), "gypsum board").count == sheets


def test_1600_sq_ft_and_10_percent_are_55_sheets() -> None:
    """Tutorial, seen: 1,600 sq ft in 4 x 8 ft sheets with 10 %."""
    made = estimated(area("1600 sq ft"), "Gypsum board: 4 ft x 8 ft sheets.\nGypsum board waste: 10 %.")
    assert item(made, "gypsum board").count == 55


@pytest.mark.parametrize("pounds", ["12", "14"])
def test_compound_by_the_rule_of_a_builders_page(pounds: str) -> None:
    """Builders' plans page, seen: 12 to 14 lb of ready-mixed compound for 100 sq ft; our default rate is its upper end."""
    made = estimated(area("1080 sq ft"), "Gypsum board: one layer.")
    assert item(made, "joint compound").need <= Amount.read("14 lb") * Fraction("10.8")
    stated = estimated(area("1080 sq ft"), f"Gypsum board: one layer.\nJoint compound: {pounds} lb per 100 sq ft.")
    assert item(stated, "joint compound").need == Amount.read(f"{pounds} lb") * Fraction("10.8")


def test_the_canadian_counts_of_a_sheet_lie_around_ours() -> None:
    """Board finisher's page after a Nova Scotia course, seen: 4 x 8 ft across 16 in studs 37 with the plates, 24 in 33; ceilings 42 and 36.

    Ours counts supports alone: 28 at 16 in (walls), 25 at 24 in, 35 and 25 on ceilings. The page puts two rows more into the plates at the
    top and the bottom of a wall, 9 to 11 screws, since there the sheet may be fastened between the studs.
    """
    ours = {}
    for kind, spacing in (("wall", "16"), ("ceiling", "12")):
        for framing in ("16", "24"):
            spec = f"Gypsum board: 1/2 in. thick, 4 ft x 8 ft sheets.\nFraming: {framing} in. o.c.\nScrews: {'12' if framing == '24' else spacing} in. o.c."
            ours[kind, framing] = item(estimated(area("32 sq ft", kind), spec), "screw").need.value
    assert ours == {("wall", "16"): 28, ("wall", "24"): 25, ("ceiling", "16"): 35, ("ceiling", "24"): 25}
    for key, count in {("wall", "16"): 37, ("wall", "24"): 33, ("ceiling", "16"): 42, ("ceiling", "24"): 36}.items():
        assert 7 <= count - ours[key] <= 11


def test_screws_on_walls_stand_closer_where_studs_stand_wide() -> None:
    """CMHC guide to building code 9.29.5, seen: at 400 mm only where supports are at most 400 mm apart, else at 300 mm."""
    for framing, rows in (("400 mm", 4), ("600 mm", 5)):
        found = item(
            estimated(area("10 m2"), f"Gypsum board: 1200 mm x 2400 mm sheets.\nFraming: {framing} o.c.", "metric"),
            "screw",
        )
        assert f"({'400' if rows == 4 else '300'} mm, supports at {framing}" in " ".join(found.notes)


# --- United States


def test_a_guide_s_32_screws_of_a_sheet_are_34_here() -> None:
    """Home renovation guide, seen: four on each of the five middle studs and six at either end, 5 x 4 + 2 x 6 = 32, at 16 and 8 in.

    Ours has seven at an end: 48 in at no more than 8 in are six spaces, also between screws that stand 3/8 in from the edges (47-1/4 in);
    six screws would stand 9.45 in apart.
    """
    spec = "Framing: 16 in. o.c.\nScrews: 16 in. o.c. in the field, 8 in. o.c. at the edges."
    found = item(estimated(area("32 sq ft"), f"Gypsum board: 4 ft x 8 ft sheets.\n{spec}"), "screw")
    assert found.need == Amount.of(5 * 4 + 2 * 7)
    assert Fraction("47.25") / 5 > 8 >= Fraction("47.25") / 6


def test_boards_upright_are_a_sheet_fewer_by_area() -> None:
    """Estimating in Building Construction, ex. 16-2, seen: 346 ft x 10 ft, both faces, 10 ft sheets upright, 5 %: 183.

    By area it is 182: the book counts whole boards for each face (346 / 4 = 86.5, 87 a face, 174, and 5 % more).
    """
    job = '[[walls]]\nname = "p"\nlength = "346 ft"\nheight = "10 ft"\nfaces = 2\n'
    made = estimated(job, "Gypsum board: 4 ft x 10 ft sheets.\nGypsum board waste: 5 %.")
    assert item(made, "gypsum board").count == 182
    assert -(-174 * 105 // 100) == 183


def test_powder_compound_is_80_lb_for_1000_sq_ft() -> None:
    """Article on compounds, seen: 80 lb of powder for 1,000 sq ft, 39 kg for 100 m2; our metric line rounds it to 40."""
    us = item(estimated(area("1000 sq ft"), "Joint compound: powder.\nGypsum board: one layer."), "joint compound")
    assert us.need == Amount.read("80 lb")
    metric = item(estimated(area("100 m2"), "Gypsum board: one layer.", "metric"), "joint compound")
    assert abs(metric.need.value - 39) <= 1
    assert metric.container == "bag"


@pytest.mark.parametrize(
    ("solids", "film", "loss", "spread"),
    [("52", "1.5", "70", "167"), ("37.4", "1.5", "0", "400"), ("37", "1", "0", "593")],
)
def test_spreads_of_a_column_and_of_two_data_sheets(solids: str, film: str, loss: str, spread: str) -> None:
    """Trade column (52 % solids, 1.5 mil, 30 % of it on the surface: 167 sq ft/gal) and data sheets (400, 593), seen; within 0.5 %."""
    spec = f"Finish paint: one coat, {film} mils dry, {solids} % solids by volume.\nFinish paint waste: {loss} %, theoretical."
    need = item(estimated(area("10000 sq ft"), spec), "finish paint").need.value
    assert abs(Fraction(10000) / need / Fraction(spread) - 1) <= Fraction(5, 1000)


def test_a_room_of_54_ft_around_takes_two_gallons() -> None:
    """Dealer's question-and-answer page, seen: 15 x 12 ft, 8 ft high: 54 ft x 8 ft = 432 sq ft; about 400 without openings, 2 gal in two coats."""
    job = room("15 ft", "12 ft", "8 ft") + hole("r wall 1", "4 ft", "8 ft")
    made = estimated(job, "Deduct all openings.\nWalls: two coats eggshell.\nFinish paint: 400 sq ft per gal.")
    found = next(i for i in made.items if i.pool.get("sheen") == "eggshell")
    assert (found.need, found.count) == (Amount.read("2 gal"), 2)


@pytest.mark.parametrize(("coats", "gallons", "cans"), [("one coat", "1.34", 2), ("two coats", "2.69", 3)])
def test_a_room_of_64_ft_around(coats: str, gallons: str, cans: int) -> None:
    """Home-seller's blog, seen: 12 + 20 + 12 + 20 ft, 8 ft high, less 6 x 7 ft: 470 sq ft; at 350, 1.34 (truncated) and 2.69 gal: 2 and 3."""
    job = room("20 ft", "12 ft", "8 ft") + hole("r wall 1", "6 ft", "7 ft")
    made = estimated(job, f"Deduct all openings.\nWalls: {coats} satin.\nFinish paint: 350 sq ft per gal.")
    found = next(i for i in made.items if i.pool.get("sheen") == "satin")
    assert abs(found.need.value - Fraction(gallons)) <= Fraction(1, 100)
    assert found.count == cans


def test_a_bedroom_of_a_lesson() -> None:
    """Lesson on paint, seen (its data; the sum by hand): 12 x 14 x 9 ft, 3 x 7, 6 x 7 and three of 3.5 x 4.5 ft out: 357.75 sq ft.

    468 - 21 - 42 - 47.25 = 357.75; two coats at 350 are 2.044 gal.
    """
    job = room("14 ft", "12 ft", "9 ft") + hole("r wall 1", "3 ft", "7 ft") + hole("r wall 2", "6 ft", "7 ft")
    job += hole("r wall 3", "3.5 ft", "4.5 ft", 3)
    made = estimated(job, "Deduct all openings.\nWalls: two coats eggshell.\nFinish paint: 350 sq ft per gal.")
    found = next(i for i in made.items if i.pool.get("sheen") == "eggshell")
    assert inner(found, "area of walls") == Amount.read("357.75 sq ft")
    assert found.need.value == Fraction("715.5") / 350


def test_tape_by_the_rule_of_a_builders_page() -> None:
    """Builders' plans page, seen: 24 ft of tape a sheet, the whole edge of 4 x 8 ft: 750 ft for 1,000 sq ft, twice the geometry.

    Ours is 350: every joint serves two sheets (375 by geometry, 380 in the textbook).
    """
    tape = item(estimated(area("1000 sq ft"), "Gypsum board: one layer."), "joint tape").need
    assert tape == Amount.read("350 ft")
    assert Fraction(24) * Fraction(1000, 32) == 750
    assert tape.value * 2 < 750
