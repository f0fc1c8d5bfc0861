"""A saved estimate of a rope walk, and two of them side by side."""

from __future__ import annotations

from functools import cache

from darby.plugin_host.loader import load_plugins
from darby.rules.rule import HOUSE, SPECIFICATION, addendum
from darby.saved.comparison import Cause, Comparison, compare
from darby.saved.model import Choices, Saved
from darby.saved.replay.causes import causes
from darby.saved.replay.one import Office
from darby.text.spans import Source

JOB = """\
name = "Rope walk"
units = "us"
rules = ["Gypsum board waste: 8 %."]

[[walls]]
name = "long wall"
length = "96 ft"
height = "10 ft"
faces = 2

[[walls]]
name = "short wall"
length = "31'-6\\""
height = "10 ft"
faces = 1

[[ceilings]]
name = "loft ceiling"
length = "96 ft"
width = "31 ft 6 in"

[[rooms]]
name = "Tar store"
length = "14 ft"
width = "11 ft"
height = "9 ft"

[[openings]]
name = "gate"
wall = "long wall"
width = "9 ft"
height = "8 ft"
count = 2

[[corners]]
kind = "outside"
count = 4
height = "10 ft"
"""
SPEC = """\
2.01 MATERIALS
A. Primer: 250 sq ft per gallon.
B. Finish paint: 350 sq ft per gallon.
3.01 APPLICATION
A. Walls: one coat primer, two coats satin finish paint.
B. Ceilings: one coat primer, one coat flat finish paint.
"""
LINES = """\
Joint compound: 13 lb per 100 sq ft.
Joint compound comes in 64 lb pails.
Joint tape: 38 ft per 100 sq ft.
Screws: 110 per 100 sq ft.
Primer comes in 5 gal pails.
Deduct openings over 32 sq ft.
"""


@cache
def office() -> Office:
    return Office.of(load_plugins())


def made(job: str = JOB, spec: str = SPEC, house: str = LINES, more: str = "", units: str = "") -> Saved:
    papers = [(Source("house.txt", house), HOUSE), (Source("spec.txt", spec), SPECIFICATION)]
    papers += [(Source("addendum-1.txt", more), addendum(1))] if more else []
    worked = office().work(Source("job.toml", job), papers, Choices(units))
    assert worked.saved is not None, worked.problems
    return worked.saved


def held(one: Saved, other: Saved) -> tuple[Comparison, dict[str, tuple[Cause, ...]]]:
    comparison = compare(one, other)
    return comparison, causes(comparison, office().plugins)
