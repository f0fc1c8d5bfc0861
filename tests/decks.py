"""An estimate of a job with tables that a trade brought: a deck with an opening and keys of every sort, and a row without a shape."""

from __future__ import annotations

from functools import cache

from darby.estimate.model import Estimate
from darby.job.loader import load
from darby.job.marks import Marks
from darby.job.rows.declared import JobTable, Key
from darby.text.spans import Source

TABLES = {
    "decks": JobTable(
        "decks", "deck", "flat",
        keys=(Key("laid", "word", words=("straight", "diagonal")), Key("side", "length"), Key("shade", "area"), Key("hatches", "count"), Key("heated", "flag")),
    ),
    "vents": JobTable("vents", "vent", keys=(Key("size", "length"), Key("maker"))),
}  # fmt: skip
JOB = """\
name = "Deck house"
units = "us"

[[walls]]
name = "north"
length = "144 in"
height = "8 ft"
faces = 1

[[decks]]
name = "roof"
room = "Attic"
length = "20 ft"
width = "144 in"
laid = "diagonal"
side = "18 in"
shade = "1 sq yd"
hatches = 2
heated = true

[[openings]]
name = "skylight"
wall = "roof"
width = "2 ft"
height = "36 in"

[[vents]]
name = "=V1"
size = "6 in"
maker = "Vale"

[[corners]]
kind = "outside"
count = 3
height = "96 in"
"""


@cache
def estimate() -> Estimate:
    """Nothing is ordered: what was measured stands in it."""
    job, found = load(Source("job.toml", JOB), Marks({}, tables=TABLES))
    assert job is not None, [d.message for d in found]
    return Estimate(job, (), ())
