"""Which screws are bought together: length, thread, support; spacing over wide supports and over adhesive. Jobs and texts as written."""

from __future__ import annotations

import pytest
from attrs import evolve

from darby.estimate.areas import places
from darby.quantities.amounts import Amount
from darby.rules.cascade import RuleBook
from darby.rules.consultation import Consultation
from darby.rules.rule import DEFAULT, HOUSE
from darby_fasteners.support import HEAVY, STEEL, WOOD, support
from darby_fasteners.trade import TRADE
from desk import estimated, item
from jobs import job, run, wall
from kit import rule

WALL = '[[walls]]\nname = "{name}"\narea = "{area}"\n{more}'
SHEET = WALL.format(name="one sheet", area="32 sq ft", more="")


def screws(made) -> dict[tuple[str, str, str], str]:  # type: ignore[no-untyped-def]
    """Needs by length, support and thread."""
    return {
        (i.pool.get("length", ""), i.pool.get("into", ""), i.pool.get("type", "")): str(i.need)
        for i in made.items
        if i.product == "screw"
    }


def test_the_least_length_is_ordered_where_nobody_says_one_and_the_line_says_so() -> None:
    # CMHC guide 9.29.5, IRC R702.3.5.1: 5/8 in into wood: 1/2 + 5/8 = 1-1/8 in
    made = estimated(SHEET, "Gypsum board: 1/2 in. thick.")
    assert screws(made) == {("1 1/8 in or longer", "", ""): "32"}
    notes = " ".join(item(made, "screw").notes)
    assert "through one layer of 1/2 in into wood are at least 1 1/8 in long" in notes
    assert "Nobody says what the screws go into: wood is assumed." in notes


@pytest.mark.parametrize(
    ("said", "length", "into"),
    [
        ("Steel studs at 16 in. o.c.", "7/8 in or longer", "steel"),  # 1/2 + 3/8
        ("Wood studs at 16 in. o.c.", "1 1/8 in or longer", "wood"),
        ("Metal studs, 25 gauge, at 16 in. o.c.", "7/8 in or longer", "steel"),
        ("Metal studs, 18 gauge, at 16 in. o.c.", "7/8 in or longer", "heavy steel"),
        ("Framing is metal. Studs are at 16 in. o.c.", "7/8 in or longer", "steel"),
        ("Metal stud framing is in place.\nStuds: 16 in. o.c.", "7/8 in or longer", "steel"),
        ("Framing is wood. Studs are at 16 in. o.c.", "1 1/8 in or longer", "wood"),
        ("Screws: Type S.", "7/8 in or longer", ""),  # the thread says it
        ("Screws: Type W.", "1 1/8 in or longer", ""),
    ],
)
def test_what_documents_say_of_the_supports_or_the_thread_is_heard(said: str, length: str, into: str) -> None:
    found = screws(estimated(SHEET, f"Gypsum board: 1/2 in. thick.\n{said}"))
    assert [(key[0], key[1]) for key in found] == [(length, into)]


def test_screws_into_wood_and_into_steel_are_two_lines() -> None:
    """D1: 1-1/8 in. into wood and 1-5/8 in. into steel cannot stand in for each other."""
    made = estimated(
        WALL.format(name="wood", area="100 sq ft", more="")
        + WALL.format(name="steel", area="200 sq ft", more='supports = "steel"\nboard = "two layers"\n'),
        "Gypsum board: 5/8 in. thick.\nScrews: 1,000 per 1,000 sq ft.",
    )
    # into wood 5/8 + 5/8; into steel 5/8 + 3/8 below and 2 x 5/8 + 3/8 in the face; the rate is for each layer
    assert screws(made) == {
        ("1 1/4 in or longer", "wood", ""): "100",
        ("1 in or longer", "steel", ""): "200",
        ("1 5/8 in or longer", "steel", ""): "200",
    }


def test_base_and_face_are_two_lengths() -> None:
    made = estimated(
        WALL.format(name="rated", area="320 sq ft", more=""),
        "Gypsum board: 5/8 in. thick, two layers.\nBase layer screws: 1-1/4 in. long. Face layer screws: 1-7/8 in. long.",
    )
    assert screws(made) == {("1 1/4 in", "", ""): "320", ("1 7/8 in", "", ""): "320"}


def test_one_length_over_walls_and_ceilings_is_one_line() -> None:
    made = estimated(
        SHEET + '[[ceilings]]\nname = "c"\narea = "68 sq ft"\n', "Gypsum board: 1/2 in. thick.\nScrews: 1 per sq ft."
    )
    assert screws(made) == {("1 1/8 in or longer", "", ""): "100"}


@pytest.mark.parametrize(
    ("mark", "kind"),
    [("steel", STEEL), ("metal studs", STEEL), ("wood", WOOD), ("steel, 20 gauge", STEEL), ("steel, 18 ga", HEAVY),
     ("steel, 33 mil", HEAVY), ("heavy steel", HEAVY), ("steel, 30 mil", STEEL)],
)  # fmt: skip
def test_the_jobs_own_word_for_the_supports(mark: str, kind: str) -> None:
    book = Consultation(RuleBook(()))
    (place,) = places([evolve(wall("1 m2"), marks={"supports": mark})], book)
    found = support("screw", place, place.about, book)
    assert (found.kind, found.guess) == (kind, False)


def sheet_rules(*more):  # type: ignore[no-untyped-def]
    return [rule("layers", "gypsum board", "1"), rule("sheet", "gypsum board", "4 ft", by="8 ft"), *more]


@pytest.mark.parametrize(
    ("said", "count", "why"),
    [
        # 4 ft x 8 ft, 96 in of length: 5 supports at 24 in, 7 at 16 in; on each 48 in / spacing + 1
        ("Framing: 24 in. o.c.\nScrews: fasten as usual.", 5 * 5, "12 in over supports at 24 in"),
        ("Framing: 16 in. o.c.\nScrews: fasten as usual.", 7 * 4, "16 in over supports at 16 in"),
        ("Framing: 24 in. o.c.\nAdhesive: one tube per 38 ft.", 5 * 4, "glued, 24 in supports: 16 in"),
        ("Framing: 16 in. o.c.\nAdhesive: one tube per 38 ft.", 7 * 3, "glued, 16 in supports: 24 in"),
    ],
)
def test_default_spacing_knows_the_supports_and_the_adhesive(said: str, count: int, why: str) -> None:
    """CMHC guide 9.29.5 and Working with Drywall: 16 in only where supports are at most 16 in apart, else 12; glued over 24 in supports 16 in."""
    made = estimated(SHEET, f"Gypsum board: 1/2 in. thick, 4 ft x 8 ft sheets.\n{said}")
    notes = " ".join(item(made, "screw").notes)
    assert f"would give {count}," in notes, (why, notes)


def test_a_spacing_that_documents_state_holds_over_wide_supports_too() -> None:
    made = estimated(
        SHEET, "Gypsum board: 1/2 in. thick, 4 ft x 8 ft sheets.\nFraming: 24 in. o.c.\nScrews: 16 in. o.c. on walls."
    )
    assert item(made, "screw").need == Amount.of(5 * 4)


def test_supports_a_little_over_16_in_are_no_wide_ones() -> None:
    made = estimated(SHEET, "Gypsum board: 1/2 in. thick, 4 ft x 8 ft sheets.\nFraming: 406.4 mm o.c.")
    assert "spacing (16 in" in " ".join(item(made, "screw").notes)


def test_a_house_rate_of_adhesive_alone_glues_nothing() -> None:
    rules = sheet_rules(
        rule("consumption", "adhesive", "1 tube", "38 ft", layer=HOUSE), rule("consumption", "screw", "1000", "1000 sq ft"),
        rule("framing", "gypsum board", "16 in"),
    )  # fmt: skip
    assert {i.product for i in run(TRADE, job(wall("32 sq ft")), rules)[0]} == {"screw"}


def test_what_nobody_says_is_as_elsewhere_where_one_thing_is_said() -> None:
    made = estimated(
        SHEET + '[[ceilings]]\nname = "c"\narea = "68 sq ft"\n',
        "Gypsum board: 1/2 in. thick.\nSteel studs at 16 in. o.c.",
    )
    assert screws(made) == {("7/8 in or longer", "steel", ""): "100"}
    assert "steel is assumed" in " ".join(item(made, "screw").notes)


@pytest.mark.parametrize(
    ("sheet", "framing", "spacing", "count"),
    [
        # 1220 x 2440 mm over supports at 400 mm is cut to them: 7 supports; 1220 less 10 mm at either edge in 300 mm: 4 spaces
        ("1220 mm x 2440 mm", "400 mm", "300 mm", 7 * 5),
        ("1200 mm x 2400 mm", "400 mm", "300 mm", 7 * 5),
        ("1220 mm x 2440 mm", "600 mm", "300 mm", 5 * 5),
        ("4 ft x 8 ft", "16 in.", "12 in.", 7 * 5),
        ("4 ft x 10 ft", "16 in.", "12 in.", 9 * 5),  # 7.5 spaces are 8
    ],
)
def test_a_sheet_of_the_other_system_has_no_row_and_no_support_more(
    sheet: str, framing: str, spacing: str, count: int
) -> None:
    width, _, length = sheet.partition(" x ")
    area = Amount.read(width) * Amount.read(length)
    spec = f"Gypsum board: {sheet} sheets.\nFraming: {framing} o.c.\nScrews: {spacing} o.c. on walls."
    made = estimated(WALL.format(name="one", area=f"{float(area.to('m2').value)} m2", more=""), spec)
    assert abs(item(made, "screw").need.value - count) < 1


def test_a_rate_of_the_firm_does_not_give_way_to_a_count_over_supports_that_are_only_assumed() -> None:
    rules = sheet_rules(
        rule("consumption", "screw", "500", "1000 sq ft", layer=HOUSE), rule("framing", "gypsum board", "16 in", layer=DEFAULT),
        rule("spacing", "screw", "12 in"),
    )  # fmt: skip
    assert run(TRADE, job(wall("1000 sq ft")), rules)[0][0].need == Amount.of(500)
    stated = [*rules[:-2], rule("framing", "gypsum board", "16 in"), rules[-1]]
    assert run(TRADE, job(wall("1000 sq ft")), stated)[0][0].need > Amount.of(500)


def test_a_document_that_names_both_materials_says_nothing_of_the_other_supports() -> None:
    said = (
        "Gypsum board: 1/2 in. thick.\nWood studs by others. Metal stud framing is in place.\n\nFraming at 16 in. o.c."
    )
    assert set(screws(estimated(SHEET, said))) == {("1 1/8 in or longer", "", "")}


def test_distances_apart_by_thickness_are_each_followed_where_that_board_hangs() -> None:
    said = "{} in. thick\nGypsum board: 4 ft x 8 ft sheets.\nFraming: 16 in. o.c.\nScrews: 12 in. o.c. for 1/2 in. board, 8 in. o.c. for 5/8 in. board."
    for thick, need in (("1/2", 7 * 5), ("5/8", 7 * 7)):  # seven studs under 8 ft; 48/12 + 1 and 48/8 + 1
        (count,) = screws(estimated(SHEET, "Gypsum board: " + said.format(thick))).values()
        assert count == str(need)


@pytest.mark.parametrize(
    ("said", "length", "into"),
    [
        ("Screws 1 in. long into steel studs.", "1 in", "steel"),
        ("Screws 1-1/4 in. long into wood studs.", "1 1/4 in", "wood"),
        ("METAL STUD PARTITIONS\nScrews 230 mm o.c.", "7/8 in or longer", "steel"),
        # both are stated: nothing says which of them there is
        ("Screws: 1 in. long for steel studs, 1-1/4 in. long for wood studs.", "1 1/4 in", ""),
    ],
)
def test_lengths_for_one_material_alone_say_what_the_supports_are_of(said: str, length: str, into: str) -> None:
    made = estimated(SHEET, f"Gypsum board: 1/2 in. thick, 4 ft x 8 ft sheets.\n{said}")
    assert list(screws(made)) == [(length, into, "")]


@pytest.mark.parametrize(("supports", "count"), [("steel", 7 * 5), ("wood", 7 * 4)])
def test_a_spacing_told_by_the_supports_holds_over_these(supports: str, count: int) -> None:
    sheet = SHEET.rstrip() + f'\nsupports = "{supports}"\n'
    said = "Screws: 1 per sq ft.\nSteel studs: screws 12 in. o.c. Wood studs: screws 16 in. o.c."
    made = estimated(sheet, f"Gypsum board: 1/2 in. thick, 4 ft x 8 ft sheets.\nFraming: 16 in. o.c.\n{said}")
    assert any(f"{count}" in note for note in item(made, "screw").notes), item(made, "screw").notes


@pytest.mark.parametrize(("supports", "thread"), [("steel", "type S"), ("wood", "type W")])
def test_a_thread_told_by_the_supports_is_the_one_for_these(supports: str, thread: str) -> None:
    sheet = SHEET.rstrip() + f'\nsupports = "{supports}"\n'
    said = "Screws: 1 per sq ft.\nScrews shall be Type S into steel studs and Type W into wood studs."
    made = estimated(sheet, f"Gypsum board: 1/2 in. thick, 4 ft x 8 ft sheets.\n{said}")
    assert [key[2] for key in screws(made)] == [thread]


@pytest.mark.parametrize("edge", ["at board ends", "at edges", "at joints"])
def test_the_ends_of_a_sheet_are_its_edges_over_supports(edge: str) -> None:
    """4 ft x 8 ft at 16 in.: 7 supports, of which the two at the ends have 48 in / 8 in + 1 fasteners and the others 48 in / 12 in + 1."""
    said = f"Screws: 1 per sq ft.\nScrews 12 in. o.c., 8 in. o.c. {edge}.\nFraming: 16 in. o.c."
    made = estimated(SHEET, f"Gypsum board: 1/2 in. thick, 4 ft x 8 ft sheets.\n{said}")
    assert any(f"{5 * 5 + 2 * 7}" in note for note in item(made, "screw").notes), item(made, "screw").notes


LIST = "2.1 BOARD\nA. Type X board: 5/8 in. thick, 4 ft x 12 ft.\nB. Moisture resistant board: 1/2 in. thick, 4 ft x 8 ft.\n3.1 HANGING\nA. Walls: type X board, one layer.\nB. Bath walls: moisture resistant board, one layer.\n"
ON = "C. Studs at 16 in. o.c. Screws 16 in. o.c. on walls.\n"


def test_screws_are_counted_on_the_sheet_that_a_list_gives_the_type_of_board_of_each_place() -> None:
    bath = WALL.format(name="bath wall", area="32 sq ft", more='room = "Bath"\n')
    hall = WALL.format(name="hall wall", area="48 sq ft", more='room = "Hall"\n')
    made = estimated(bath + hall, LIST + ON)
    # four on each support: nine supports of 16 in. under a sheet of 12 ft and one space more; seven under one of 8 ft
    assert screws(made) == {
        ("1 1/4 in or longer", "", ""): "40",  # 5/8 + 5/8
        ("1 1/8 in or longer", "", ""): "28",  # 1/2 + 5/8
    }
    assert not made.conflicts
