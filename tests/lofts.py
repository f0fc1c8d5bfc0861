"""One saved estimate in full, for tests of what is kept and read back."""

from __future__ import annotations

from functools import cache
from typing import Any

from darby.plugin_host.loader import load_plugins
from darby.rules.rule import HOUSE, SPECIFICATION, addendum
from darby.saved.model import Saved
from darby.saved.replay.one import Office
from darby.saved.writer import text_of, with_longhand
from darby.text.spans import Source

JOB = """\
name = "Net loft"
units = "us"
rules = ["Gypsum board waste: 8 %."]

[[rooms]]
name = "Office"
length = "12 ft"
width = "10 ft"
height = "8 ft"

[[walls]]
name = "sea wall"
length = "36'-4\\""
height = "9 ft"
faces = 1
"""
SPEC = """\
2.01 MATERIALS
A. Primer: 250 sq ft per gallon.
3.01 APPLICATION
A. Walls: one coat primer, two coats satin finish paint.
B. Conform to ASTM C840. Sand to grit 17 where 3 stand.
"""
HOUSE_LINES = "Joint compound: 13 lb per 100 sq ft.   [our last eleven jobs]\nJoint compound comes in 64 lb pails.\n"


@cache
def office() -> Office:
    return Office.of(load_plugins())


def texts(
    job: str = JOB, spec: str = SPEC, house: str = HOUSE_LINES, more: str = ""
) -> tuple[Source, list[tuple[Source, Any]]]:
    papers = [(Source("house.txt", house), HOUSE), (Source("spec.txt", spec), SPECIFICATION)]
    papers += [(Source("addendum-1.txt", more), addendum(1))] if more else []
    return Source("job.toml", job), [(s, layer) for s, layer in papers if s.text]


def kept(**changed: str) -> tuple[Saved, str]:
    worked = office().work(*texts(**changed))
    assert worked.estimate is not None, worked.problems
    assert worked.saved is not None
    saved = with_longhand(worked.saved, worked.estimate)
    return saved, text_of(saved)


@cache
def net_loft() -> str:
    return kept()[1]
