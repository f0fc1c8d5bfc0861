"""The order list for whoever sells: packages and no working."""

from __future__ import annotations

import re

from attrs import evolve

import handed
import made
from darby.job.model import Sending
from desk import estimated


def test_the_order_list_names_each_package_of_the_json_and_no_working() -> None:
    text = handed.text("order")
    work, spare = text.split("Spare stock\n-----------\n")
    for one in handed.demo_json()["items"]:
        properties = [value for key, value in one["pool"].items() if key not in ("surface", "use")]
        (line,) = (x for x in (spare if "use" in one["pool"] else work).splitlines() if f"  {one['product']}" in x and all(v in x for v in properties) and f" {one['order']['count']} " in x)  # fmt: skip
        assert one["order"]["container"] in line
    assert "÷" not in text
    assert "sq ft per" not in text


def test_goods_without_a_package_are_asked_for() -> None:
    asked = handed.text("order", made.estimate()).partition("Please tell us")[2]
    assert "clip: 6 needed; what packages do you have?" in asked
    assert "Please say how much joint compound is used over an area. ____" in " ".join(asked.split())


def test_what_the_job_says_of_the_order_stands_at_its_head_and_the_rest_is_blank() -> None:
    job = evolve(made.estimate().job, sending=Sending(order={"deliver to": "Pier 4, gate B", "needed by": "May 3"}))
    lines = handed.text("order", made.estimate(job=job)).splitlines()
    assert "Deliver to: Pier 4, gate B" in lines
    assert "Needed by:  May 3" in lines
    assert "Number:     ____________________" in lines


def test_what_the_documents_ask_of_a_delivery_is_quoted_and_the_lines_are_numbered() -> None:
    text = handed.text("order")
    delivery = " ".join(text.partition("Delivery, as the documents ask")[2].split())
    assert "the crane lifts 1,200 pounds and no more" in delivery
    numbers = [line.split()[0] for line in text.splitlines() if line.strip()[:1].isdigit()]
    assert numbers[:3] == ["1", "2", "3"]


def test_spare_stock_stands_apart_and_is_counted_on() -> None:
    work, spare = handed.text("order").split("Spare stock\n-----------\n")
    assert "spare stock" not in work
    rows = re.findall(r"^ *([0-9]+)  ", work + spare, re.MULTILINE)
    assert rows == [str(number) for number in range(1, len(rows) + 1)]
    assert "spare stock" not in spare  # the heading has said it


def test_goods_without_a_package_are_a_number_of_each_and_spare_stock_is_told_as_it_is() -> None:
    room = '[[rooms]]\nname = "Loft"\nlength = "10 ft"\nwidth = "8 ft"\nheight = "8 ft"\n'
    board = "GYPSUM BOARD\nA. Gypsum board: 1/2 in. thick. Screws at 12 in. on center.\n"
    paint = "PAINTING\nA. Walls: two coats eggshell.\nB. Leave 1 gallon of each color with the owner as extra stock.\n"
    text = handed.text("order", estimated(room, board + paint))
    row = next(line for line in text.splitlines() if " screw " in line)
    assert row.split()[2] == "each"
    assert row.count("each") == 1
    assert "Spare stock, as the documents ask" in text
    assert "not in the items above" not in text
    without = handed.text("order", estimated(room, f"{board}B. Furnish spare board as extra stock.\n"))
    assert "Spare stock, not in the items above" in without


def test_what_a_supplier_has_to_be_told_and_nobody_has_said_is_a_blank() -> None:
    wall = '[[walls]]\nname = "{}"\nlength = "10 ft"\nheight = "8 ft"\nfaces = 1\n'
    said = "PAINTING\nA. Walls: one coat primer, two coats eggshell.\nGYPSUM BOARD\nA. Gypsum board: 1/2 in. thick.\n"
    done = estimated(wall.format("one") + 'color = "Fog"\n' + wall.format("other"), said)
    rows = " ".join(handed.text("order", done).split())
    assert "eggshell, for walls, color: __________" in rows
    assert "Fog, eggshell, for walls" in rows
    assert rows.count("color: __") == 1
    assert "type: __" not in rows  # without one it is the ordinary


def test_the_sides_of_a_sheet_stand_where_others_have_what_is_in_a_package() -> None:
    room = '[[rooms]]\nname = "Loft"\nlength = "10 ft"\nwidth = "8 ft"\nheight = "8 ft"\n'
    text = handed.text("order", estimated(room, "GYPSUM BOARD\nA. Gypsum board: 1/2 in. thick, 4 ft by 12 ft.\n"))
    (row,) = (line.split("  ") for line in text.splitlines() if "gypsum board" in line)
    assert [cell.strip() for cell in row if cell.strip()][2:] == ["4 ft x 12 ft", "gypsum board", "1/2 in"]
