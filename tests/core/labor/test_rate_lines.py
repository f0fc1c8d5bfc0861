"""Production rates in plain lines, read strictly."""

from __future__ import annotations

from fractions import Fraction

import pytest

from bids import rates
from darby.labor.task import Operation
from darby.quantities.amounts import leaves
from darby.quantities.units import AREA, LENGTH, NUMBER_ONLY

HANG = Operation("hang gypsum board", ("surface", "thickness", "layer", "type", "height"))
PAINT = Operation("apply finish paint", ("surface", "method"), (AREA, NUMBER_ONLY, LENGTH))
JOINTS = Operation("finish joints", ("surface", "level", "height"))
ALL = (HANG, PAINT, JOINTS)

LINES = {
    # the line: operation, hours for one, unit, what limits it, from, to
    "Hang gypsum board: 1.8 hours per 100 sq ft on walls.": (HANG, "0.018", "hour/sq ft", {"surface": "wall"}, None, None),
    "Hang drywall: 1.8 man-hours per 100 sq ft": (HANG, "0.018", "hour/sq ft", {}, None, None),
    "hang wallboard: 60 sq ft per hour on ceilings": (HANG, "1/60", "hour/sq ft", {"surface": "ceiling"}, None, None),
    "Hang gypsum board: 60 sq ft an hour.": (HANG, "1/60", "hour/sq ft", {}, None, None),
    "Hang gypsum board: 60 sq ft/hr": (HANG, "1/60", "hour/sq ft", {}, None, None),
    "Hang gypsum board: 0.2 hours per m2.": (HANG, "0.2", "hour/m2", {}, None, None),
    "Hang gypsum board: 2 hours per 100 sq ft, 5/8 in. thick, second layer, type X.": (
        HANG, "0.02", "hour/sq ft", {"thickness": "5/8 in", "layer": "face", "type": "type X"}, None, None),
    "Hang gypsum board: 2.5 hours per 100 sq ft on walls above 10 ft.": (HANG, "0.025", "hour/sq ft", {"surface": "wall"}, "10 ft", None),
    "Hang gypsum board: 2 hours per 100 sq ft up to 8'-6\" high.": (HANG, "0.02", "hour/sq ft", {}, None, "8 ft 6 in"),
    "Hang gypsum board: 2 hours per 100 sq ft from 8 to 10 ft.": (HANG, "0.02", "hour/sq ft", {}, "8 ft", "10 ft"),
    "Hang gypsum board: 2 hours per 100 sq ft between 8 ft and 10 ft.": (HANG, "0.02", "hour/sq ft", {}, "8 ft", "10 ft"),
    "Hang gypsum board: 2 hours per 100 sq ft, 8 ft to 10 ft high.": (HANG, "0.02", "hour/sq ft", {}, "8 ft", "10 ft"),
    "Finish joints: 2.2 hours per 100 sq ft, level 5, on ceilings.": (JOINTS, "0.022", "hour/sq ft", {"level": "5", "surface": "ceiling"}, None, None),
    "Apply paint: 0.5 hours each on doors.": (PAINT, "0.5", "hour", {"surface": "door"}, None, None),
    "Apply paint: 0.5 hours per door by brush.": (PAINT, "0.5", "hour", {"surface": "door", "method": "brush"}, None, None),
    "Apply finish paint: 0.02 hours per ft on trim.": (PAINT, "0.02", "hour/ft", {"surface": "trim"}, None, None),
    "Apply finish paint: 0.3 hours per 100 sq ft a coat by spray.": (PAINT, "0.003", "hour/sq ft", {"method": "spray"}, None, None),
}  # fmt: skip


@pytest.mark.parametrize("line", LINES)
def test_a_line_and_what_it_says(line: str) -> None:
    operation, each, unit, conditions, low, high = LINES[line]
    (rate,), told = rates(line, *ALL)
    assert not told
    assert (rate.operation, rate.rate.value, rate.rate.unit.name) == (operation.name, Fraction(each), unit)
    assert dict(rate.conditions) == conditions
    assert tuple(end.exact() if end is not None else None for end in (rate.low, rate.high)) == (low, high)


def test_a_line_of_two_surfaces_is_two_rates() -> None:
    found, told = rates("Hang gypsum board: 2 hours per 100 sq ft on walls and ceilings.", *ALL)
    assert not told
    assert [dict(rate.conditions) for rate in found] == [{"surface": "wall"}, {"surface": "ceiling"}]


def test_its_numbers_know_their_line_and_source() -> None:
    text = "# ours\n\nHang gypsum board: 1.8 hours per 100 sq ft. [our jobs]\n"
    (rate,), _ = rates(text, *ALL)
    assert (rate.cited, rate.text, rate.span.line) == ("our jobs", "Hang gypsum board: 1.8 hours per 100 sq ft.", 3)
    hours, per = leaves(rate.rate)
    assert (str(hours), str(per)) == ("1.8 hours", "100 sq ft")
    assert hours.step.origin.note == "labor, our jobs"
    assert hours.step.origin.place == rate.span


WRONG = {
    # the line: what the place holds, what is said
    "Hang curtain rods: 1 hour each.": ("Hang curtain rods", "no trade has an operation"),
    "1.8 hours per 100 sq ft": ("1.8 hours per 100 sq ft", "no trade has an operation"),
    "Hang gypsum board: plenty.": ("plenty", "the word plenty is not understood"),
    "Hang gypsum board: 1.8 per 100 sq ft.": ("", "a rate is wanted"),
    "Hang gypsum board: 1.8 hours.": ("", "a rate is wanted"),
    "Hang gypsum board: 0 hours per 100 sq ft.": ("", "a rate is wanted"),
    "Hang gypsum board: 1.5 to 2 hours per 100 sq ft.": ("", "a rate is wanted"),
    "Hang gypsum board: 1.8 hours per 100 ft.": ("", "is not measured in ft"),
    "Hang gypsum board: 1.8 hours each.": ("", "is not measured in each"),
    "Hang gypsum board: 1.8 hours per 100 sq ft, level 5.": ("level 5", "is not told apart by level"),
    "Hang gypsum board: 1.8 hours per 100 sq ft in satin.": ("satin", "is not told apart by sheen"),
    "Hang gypsum board: 1.8 hours per 100 sq ft on walls, not on Sundays.": (
        "Sundays",
        "the word Sundays is not understood",
    ),
    "Hang gypsum board: 1.8 hours per 100 sq ft on walls, 3 coats.": ("3", "is not understood"),
    "Hang gypsum board: 1.8 hours per 100 sq ft of primer.": ("of", "is not understood"),
}


@pytest.mark.parametrize("line", WRONG)
def test_a_line_that_is_not_understood_is_an_error(line: str) -> None:
    text, why = WRONG[line]
    found, (told,) = rates(line, *ALL)
    assert not found
    assert (told.code, told.severity.value) == ("labor-line", "error")
    assert why in told.message
    assert told.span is not None
    assert told.span.text == text or not text


def test_a_mistake_costs_its_own_line_only() -> None:
    found, told = rates("Hang gypsum board: much.\nHang gypsum board: 2 hours per 100 sq ft.\nNonsense\n", *ALL)
    assert len(found) == 1
    assert [d.span.line for d in told if d.span is not None] == [1, 3]


def test_a_near_operation_is_offered() -> None:
    _, (told,) = rates("Finish joint: 2 hours per 100 sq ft.", *ALL)
    assert told.help.startswith("Did you mean finish joints?")
