"""Published examples once more, from words: a job file and a specification in, the published order out.

The figures and their sources are those of test_published_jobs.py; here the way from the sentence to the order is held too.
"""

from __future__ import annotations

import pytest

from darby.quantities.amounts import Amount
from desk import estimated, inner, item


def test_the_partition_example() -> None:
    """Estimating in Building Construction ch. 16, p. 203: 7,000 sq ft take 35 gal, 59 rolls of 50 ft and 7,000 screws."""
    made = estimated(
        '[[walls]]\nname = "partition"\narea = "3500 sq ft"\nfaces = 2\n',
        """
        Walls: one layer of gypsum board.
        Joint compound: 5 gal per 1,000 sq ft, in 5 gal pails.
        Joint tape: 380 ft per 1,000 sq ft.
        Joint tape waste: 10 %.
        Joint tape comes in 50 ft rolls.
        Screws: 1,000 per 1,000 sq ft.
        """,
    )
    assert item(made, "joint compound").need == Amount.read("35 gal")
    assert item(made, "joint compound").count == 7
    assert item(made, "joint tape").need == Amount.read("2926 ft")
    assert item(made, "joint tape").count == 59
    assert item(made, "screw").need == Amount.of(7000)


def test_the_partition_is_measured_on_both_faces() -> None:
    """The same: 346 ft by 10 ft, two faces, are 6,920 sq ft before they are rounded off to 7,000."""
    made = estimated('[[walls]]\nname = "partition"\nlength = "346 ft"\nheight = "10 ft"\nfaces = 2\n')
    assert item(made, "gypsum board").need == Amount.read("6920 sq ft")


def test_the_35_sheets() -> None:
    """French trade article: 100 m2 in sheets of 1200 by 2500 mm and 5 % are exactly 35 sheets, in floats 36."""
    made = estimated(
        '[[ceilings]]\nname = "hall"\nlength = "12.5 m"\nwidth = "8 m"\n',
        "Gypsum board: 12.5 mm thick, 1200 x 2500 mm sheets.\nGypsum board waste: 5 %.\n",
        "metric",
    )
    board = item(made, "gypsum board")
    assert board.count == 35
    assert board.pool["thickness"] == "12.5 mm"


@pytest.mark.parametrize(("length", "sheets"), [("8", 32), ("10", 25), ("12", 21)])
def test_1000_sq_ft_in_sheets_of_three_lengths(length: str, sheets: int) -> None:
    """Supplier's sheet: 32 sheets of 4 by 8, 25 of 4 by 10, 21 of 4 by 12 ft."""
    made = estimated(
        '[[walls]]\nname = "all"\narea = "1000 sq ft"\n',
        f"Gypsum board on walls: 1/2 inch thick, 4 ft x {length} ft sheets.",
    )
    assert item(made, "gypsum board").count == sheets


def test_the_exam_room_by_defaults_alone() -> None:
    """Trade-exam preparation: 12 by 8 ft, 8 ft high, walls and ceiling: 416 sq ft, 13 sheets of 4 by 8 ft."""
    made = estimated('[[rooms]]\nname = "room"\nlength = "12 ft"\nwidth = "8 ft"\nheight = "8 ft"\n')
    board = item(made, "gypsum board")
    assert (board.need, board.count) == (Amount.read("416 sq ft"), 13)


ALMANAC = """
[[rooms]]
name = "room"
length = "15 ft"
width = "10 ft"
height = "8 ft"
[[openings]]
name = "doors"
wall = "room wall 1"
width = "3 ft"
height = "7 ft"
count = 2
[[openings]]
name = "windows"
wall = "room wall 3"
width = "3 ft"
height = "5 ft"
count = 2
"""


def test_the_almanac_room() -> None:
    """Almanac: 328 sq ft of wall and 0.82 gal, 150 sq ft of ceiling and 0.375 gal, at 400 sq ft/gal, openings out."""
    made = estimated(
        ALMANAC,
        """
        Deduct all openings.
        Walls: one coat satin finish paint.
        Ceilings: one coat flat finish paint.
        Finish paint: 400 sq ft per gallon.
        """,
    )
    walls, ceilings = item(made, "finish paint", sheen="satin"), item(made, "finish paint", sheen="flat")
    assert inner(walls, "area of walls") == Amount.read("328 sq ft")
    assert walls.need == Amount.read("0.82 gal")
    assert ceilings.need == Amount.read("0.375 gal")
    assert (walls.pool["surface"], ceilings.pool["surface"]) == ("wall", "ceiling")


def test_the_almanac_room_with_its_openings_left_in() -> None:
    """The same room under wallboard practice, our default: nothing comes out, 400 sq ft of wall."""
    made = estimated(ALMANAC, "Finish paint: one coat, 400 sq ft per gal.")
    assert inner(item(made, "finish paint"), "area of walls") == Amount.read("400 sq ft")
    assert item(made, "finish paint").need == Amount.read("1.375 gal")


def test_twenty_rooms() -> None:
    """Elementary Technical Mathematics ch. 1.3 ex. 15: twenty rooms of 12 by 16 ft, 8 ft high: 12,800 sq ft, 32 gal."""
    made = estimated(
        "".join(
            f'[[rooms]]\nname = "room {n}"\nlength = "16 ft"\nwidth = "12 ft"\nheight = "8 ft"\n' for n in range(20)
        ),
        "Walls and ceilings: one coat of finish paint at 400 sq ft/gal.",
    )
    paint = item(made, "finish paint")
    assert (paint.need, paint.count) == (Amount.read("32 gal"), 32)


def test_the_homework_room() -> None:
    """Homework site: 16 by 18 ft, 8 ft high, with ceiling, two coats at 800 sq ft/gal: 2.08 gal."""
    made = estimated(
        '[[rooms]]\nname = "room"\nlength = "18 ft"\nwidth = "16 ft"\nheight = "8 ft"\n',
        "Finish paint: two coats, 800 square feet per gallon.",
    )
    assert item(made, "finish paint").need == Amount.read("2.08 gal")
    assert item(made, "finish paint").count == 3


def test_putty_primer_and_paint() -> None:
    """Civil-engineering site: 174 m2 at 1.4 m2/kg, 11 m2/L and 13 m2/L: 124.3 kg, 15.82 L, 13.385 L."""
    made = estimated(
        '[[walls]]\nname = "all"\narea = "174 m2"\n',
        """
        Joint compound: 1 kg per 1.4 m2.
        Primer: one coat, 11 m2 per litre.
        Finish paint: one coat, 13 m2/L.
        """,
        "metric",
    )
    for product, unit, tenth in (
        ("joint compound", "kg", "124.29"),
        ("primer", "L", "15.82"),
        ("finish paint", "L", "13.38"),
    ):
        need = item(made, product).need.to(unit)
        assert str(need).startswith(tenth), need


def test_clips_of_a_room() -> None:
    """Dealer's note and common practice: at 16 in o.c. an 8 ft corner has six spaces and five clips; a room four corners."""
    made = estimated('[[rooms]]\nname = "room"\nlength = "12 ft"\nwidth = "8 ft"\nheight = "8 ft"\n')
    clips = item(made, "drywall clip")
    assert (clips.need, clips.count) == (Amount.of(20), 20)


@pytest.mark.parametrize(
    ("units", "product", "line", "need"),
    [
        ("metric", "finish paint", "Finish paint: two coats, 150 ml per m2.", "13.5 L"),
        ("metric", "primer", "Primer: one coat, 100 ml per m2.", "4.5 L"),
        ("metric", "joint compound", "Joint compound: 350 g per m2.", "15.75 kg"),
        ("metric", "joint tape", "Joint tape: 120 cm per m2.", "54 m"),
        ("us", "finish paint", "Finish paint: two coats, 100 sq ft per quart.", "2.42188 gal"),
        ("us", "joint compound", "Joint compound: 16 oz per sq ft.", "484.376 lb"),
    ],
)
def test_what_is_used_in_small_units_is_ordered_in_the_usual_ones(
    units: str, product: str, line: str, need: str
) -> None:
    """45 m2, or as many square feet, at rates as data sheets tell them; invented."""
    area = "45 m2" if units == "metric" else "484.376 sq ft"
    found = item(estimated(f'[[walls]]\nname = "all"\narea = "{area}"\n', line, units), product)
    assert found.need == Amount.read(need)
    assert found.need.unit is Amount.read(need).unit


def test_what_is_said_of_two_rooms_is_told_where_the_job_has_only_one_of_them() -> None:
    """Invented: the job calls its guest rooms something else, so their system must not vanish behind the office's."""
    made = estimated(
        "".join(
            f'[[rooms]]\nname = "{name}"\nlength = "10 ft"\nwidth = "10 ft"\nheight = "8 ft"\n'
            for name in ("Unit 101", "Office")
        ),
        "Guest rooms, office: walls two coats of eggshell.",
    )
    (told,) = [d.message for d in made.diagnostics if d.code == "rule-unused"]
    assert "in the guest room: 2" in told


def test_openings_that_are_deducted_come_out_whatever_their_size() -> None:
    """Invented: 400 sq ft of wall less two doors of 21 and two windows of 15 sq ft."""
    made = estimated(ALMANAC, "Openings are deducted. Finish paint: one coat, 400 sq ft per gal.")
    assert inner(item(made, "finish paint"), "area of walls") == Amount.read("328 sq ft")
