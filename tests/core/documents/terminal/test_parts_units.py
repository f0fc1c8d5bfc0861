"""A job is told in its own units whatever the specification is written in, and the written ones stay to be seen."""

from __future__ import annotations

import desk
from darby.documents.needs import needs
from darby.documents.terminal import estimate as to_terminal
from darby.documents.terminal import longhand as longhand_terminal
from darby.documents.terminal.parts import plain, written
from darby.estimate.model import Estimate

METRIC = "Jointing compound 0.45 kg/m2, supplied in 20 kg bags.\nWalls: one coat primer, 12 m2/L.\n"
US = "Joint compound: 9 lb per 100 sq ft, in 62 lb pails.\nWalls: one coat primer, 300 sq ft per gallon.\n"
FEET = "[[walls]]\nname = 'north'\nlength = '24 ft'\nheight = '10 ft'\nfaces = 1\n"
METRES = "[[walls]]\nname = 'north'\nlength = '8 m'\nheight = '3 m'\nfaces = 1\n"


def listed(made: Estimate, product: str) -> str:
    console, stream = plain(100)
    to_terminal.show(made, console)
    line = next(line for line in written(stream).splitlines() if line.strip()[1:].strip().startswith(product))
    return " ".join(line.split())


def longhand(made: Estimate, product: str) -> str:
    console, stream = plain(120)
    (need,) = (n for n in needs(made) if n.first is desk.item(made, product))
    longhand_terminal.show(need, made, console)
    return " ".join(written(stream).split())


def test_a_metric_specification_is_told_in_pounds_and_gallons_for_a_us_job() -> None:
    made = desk.estimated(FEET, METRIC, "us")
    assert "22.12 lb 1 bag of 20 kg" in listed(made, "joint compound")
    assert listed(made, "primer").count("gal") >= 1
    shown = longhand(made, "joint compound")
    assert "needed: 22.12 lb (10.03 kg as worked out)" in shown
    assert "240 sq ft × 0.45 kg per m2 = 10.03 kg" in shown
    assert "“Jointing compound 0.45 kg/m2, supplied in 20 kg bags.”" in shown


def test_a_us_specification_is_told_in_kilograms_and_litres_for_a_metric_job() -> None:
    made = desk.estimated(METRES, US, "metric")
    assert "10.55 kg 1 pail of 62 lb" in listed(made, "joint compound")
    assert "L" in listed(made, "primer")
    shown = longhand(made, "joint compound")
    assert "needed: 10.55 kg (23.25 lb as worked out)" in shown
    assert "24 m2 × 9 lb per 100 sq ft = 23.25 lb" in shown


def test_a_job_in_the_units_of_its_specification_tells_each_need_once() -> None:
    assert "as worked out" not in longhand(desk.estimated(FEET, US, "us"), "joint compound")
