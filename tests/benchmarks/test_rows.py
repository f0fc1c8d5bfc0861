"""What a measured list costs as it grows: `pytest -m slow tests/benchmarks/test_rows.py -s`.

Each length runs in a process of its own, from the schedule's text to the estimate. Printed: seconds, the exponent fitted over all
lengths (goal: 1.05 or less) and the memory of a row. Kept in `.benchmarks/rows.jsonl`. Nothing here fails because a machine was busy.
"""

from __future__ import annotations

import json
import math
import subprocess
import sys

import pytest

from checkout import ROOT

pytestmark = pytest.mark.slow

LENGTHS = {"walls": (1_000, 10_000, 100_000), "rooms": (1_000, 10_000, 100_000), "marked walls": (500, 1_000, 2_000)}
"""Walls of some hundred rooms, rooms each its own, and walls that each say what paint they get."""

RUN = """
import json, resource, sys, time
from darby.pipeline import estimate
from darby.job.loader import load
from darby.plugin_host.loader import load_plugins
from darby.reading.read import Language, read
from darby.rules.rule import SPECIFICATION
from darby.text.spans import Source

what, rows = sys.argv[1], int(sys.argv[2])
plugins = load_plugins()
language = Language.of(plugins.readers, plugins.vocabularies)
marks = {key for p in plugins.trades for key in p.trade.marks}
spec = Source("spec.txt", "Bathrooms: moisture resistant board, 1/2 in. thick. Walls: two coats satin. Ceilings: one coat flat.")
read(spec, SPECIFICATION, language)
if what == "rooms":
    lines = ["name,length,width,height"]
    lines += [f"Room {n},{10 + n % 20} ft {n % 12} in,{9 + n % 7} ft,8 ft" for n in range(rows)]
else:
    lines = ["name,room,length,height,faces,paint"]
    paint = "three coats satin" if what == "marked walls" else ""
    lines += [f"wall {n},Room {n % 300},{10 + n % 20} ft {n % 12} in,8 ft,{1 + n % 2},{paint}" for n in range(rows)]
schedule = Source("rows.csv", chr(10).join(lines))
before, begun = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss, time.process_time()
job, found = load(Source("job.toml", 'name = "x"\\nunits = "us"\\nschedules = ["rows.csv"]\\n'), marks, lambda *_: (schedule, ()))
assert job is not None, found[:3]
made = estimate(job, [(spec, SPECIFICATION)], plugins, language)
assert made.complete and made.items, made.missing
after = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
print(json.dumps({"seconds": time.process_time() - begun, "kB": after - before}))
"""


@pytest.mark.parametrize("what", LENGTHS)
def test_cost_and_memory_of_rows(what: str) -> None:
    found: list[tuple[int, float, float]] = []
    for rows in LENGTHS[what]:
        done = subprocess.run((sys.executable, "-c", RUN, what, str(rows)), check=True, capture_output=True, text=True)
        told = json.loads(done.stdout)
        found.append((rows, told["seconds"], told["kB"] / rows))
        print(f"\n{rows:>7,} {what}: {told['seconds']:.2f} s, {told['kB'] / rows:.1f} kB a row")
    exponent = slope([(math.log(rows), math.log(seconds)) for rows, seconds, _ in found])
    print(f"{what}: time grows with rows to the power of {exponent:.2f} (goal: 1.05 or less)")
    kept_at = ROOT / ".benchmarks"
    kept_at.mkdir(exist_ok=True)
    with (kept_at / "rows.jsonl").open("a", encoding="utf-8") as log:
        log.write(json.dumps({"what": what, "rows": found, "exponent": exponent}) + "\n")


def slope(points: list[tuple[float, float]]) -> float:
    """Of the straight line that fits best."""
    x, y = (sum(values) / len(points) for values in zip(*points, strict=True))
    return sum((a - x) * (b - y) for a, b in points) / sum((a - x) ** 2 for a, _ in points)
