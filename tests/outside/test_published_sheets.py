"""Sheets laid out, held against published worked examples. Each check names its source; figures only, our own words."""

from __future__ import annotations

import pytest

from darby.estimate.line_item import LineItem
from desk import estimated, item

BY_LAYOUT = "Board by layout."


def board(job: str, *lines: str, units: str = "us") -> LineItem:
    rules = ", ".join(f'"{line}"' for line in lines)
    return item(estimated(f"rules = [{rules}]\n{job}", units=units), "gypsum board")


def wall(length: str, height: str, faces: int = 1, more: str = "") -> str:
    return f'[[walls]]\nname = "wall"\nlength = "{length}"\nheight = "{height}"\nfaces = {faces}\n{more}\n'


def room(length: str, width: str, height: str) -> str:
    return f'[[rooms]]\nname = "Room"\nlength = "{length}"\nwidth = "{width}"\nheight = "{height}"\n'


class TestPartition:
    """Estimating in Building Construction, example 16-2: 346 ft by 10 ft, both faces, 10 ft sheets upright, 5 %: 183 sheets.

    It counts 87 whole sheets a face; what is left of the last is not used again.
    """

    JOB = wall("346 ft", "10 ft", 2, 'hung = "upright"')
    SIZE = "Gypsum board: 4 ft x 10 ft sheets."

    def test_whole_boards_a_face(self) -> None:
        lines = ("Board by layout, plus 5 %.", "Offcuts: not used again.")
        assert board(self.JOB, self.SIZE, *lines).count == 183

    def test_by_area_it_is_one_less(self) -> None:
        assert board(self.JOB, self.SIZE, "Board by area, plus 5 %.").count == 182

    def test_and_so_it_is_where_the_two_half_sheets_are_cut_from_one(self) -> None:
        assert board(self.JOB, self.SIZE, "Board by layout, plus 5 %.").count == 182


@pytest.mark.parametrize("hung", ["upright", "across the studs"])
def test_a_run_of_135_ft(hung: str) -> None:
    # tutorial: 135 ft by 8 ft takes 34 sheets of 4 by 8 ft
    assert board(wall("135 ft", "8 ft", more=f'hung = "{hung}"'), BY_LAYOUT).count == 34


def test_a_perimeter_of_87_ft() -> None:
    # tutorial: 87 ft by 8 ft takes 22 sheets of 4 by 8 ft: boards side by side, 87/4 = 21.75
    assert board(wall("87 ft", "8 ft", more='hung = "upright"'), BY_LAYOUT).count == 22


def test_a_room_of_12_by_8_ft() -> None:
    # trade-exam preparation: walls and ceiling of a room 12 by 8 ft, 8 ft high, 416 sq ft, are 13 sheets of 4 by 8 ft
    assert board(room("12 ft", "8 ft", "8 ft"), BY_LAYOUT).count == 13


def test_a_thousand_square_feet_in_sheets_of_three_lengths() -> None:
    # supplier's sheet: 32 sheets of 4 by 8 ft, 25 of 4 by 10 ft, 21 of 4 by 12 ft. Here as a wall of 125 ft by 8 ft on studs at
    # 24 in., on which all three end.
    sizes = [f"Gypsum board: 4 ft x {n} ft sheets." for n in (8, 10, 12)]
    job = wall("125 ft", "8 ft")
    assert [board(job, BY_LAYOUT, "Framing: 24 in. o.c.", size).count for size in sizes] == [32, 25, 21]


def test_ten_foot_sheets_on_studs_at_16_in_are_cut_back_to_a_stud() -> None:
    # geometry: 120 in. is seven spaces and a half, so that a sheet inside a long run ends at 112 in.: 13.4 sheets a course
    found = board(wall("125 ft", "8 ft"), BY_LAYOUT, "Gypsum board: 4 ft x 10 ft sheets.")
    assert found.count == 27
    assert any("cut back to 9 ft 4 in" in note for note in found.notes)


def test_metric_sheets_on_a_hundred_square_metres() -> None:
    # French trade article: 100 m2 in sheets of 1200 by 2500 mm and 5 % are 35 sheets. Here a wall of 40 m by 2.5 m, boards
    # upright: 33 1/3 boards side by side are 34, and with 5 % 35.7, so one more than by area.
    job = wall("40 m", "2.5 m", more='hung = "upright"')
    size = "Gypsum board: 1200 mm x 2500 mm sheets."
    assert board(job, size, "Board by area, plus 5 %.", units="metric").count == 35
    assert board(job, size, BY_LAYOUT, units="metric").count == 34
    assert board(job, size, "Board by layout, plus 5 %.", units="metric").count == 36
