"""What the papers of a large job cost as it grows: `pytest -m slow tests/benchmarks/test_large_papers.py -s`.

Each paper is made alone, in the process that made the estimate, and held against the estimate's own time, so that a busy machine
changes nothing: the page, the workbook and the longhand of the line with the most rows. Printed: ratios and megabytes of each length
and the exponent fitted over all (goal: 1.1 or less). 10,000 rooms are tried with `DARBY_ROOMS=10000`.

The size of the page fails where it is missed (goal: 3 MB for 3,000 rooms), since no machine changes it; time does not. Its goals: a
workbook in three times what the estimate takes, and a longhand in a second, of the eight that 3,000 rooms took where it was set.
"""

from __future__ import annotations

import json
import math
import os
import subprocess
import sys
from pathlib import Path

import pytest

from benchmarks.test_rows import slope
from checkout import ROOT

pytestmark = pytest.mark.slow

ROOMS = (300, 1_000, 3_000, *(int(more) for more in os.environ.get("DARBY_ROOMS", "").split()))
GOALS = {"page": "", "workbook": " (goal: 3 or less)", "explain": " (goal: 0.12 or less)"}
SPEC = "Gypsum board: 5/8 in. thick on walls, 1/2 in. on ceilings.\nWalls: one coat primer, two coats satin.\nCeilings: one coat flat.\n"
JOB = 'name = "Large"\nunits = "us"\nschedules = ["rooms.csv"]\n[documents]\nspecification = ["spec.txt"]\n'
RUN = """
import io, json, sys, time
from rich.console import Console
from darby.cli.shared.jobs import Wanted, estimate_of
from darby.documents.needs import needs
from darby.documents.page import to_html
from darby.documents.terminal import longhand
from darby.documents.workbook import to_xlsx

def explain(made):
    shown = io.StringIO()
    for need in needs(made):
        longhand.show(need, made, Console(file=shown, width=100))
    return shown.getvalue()

begun = time.process_time()
made = estimate_of(Wanted(sys.argv[1])).estimate
told = {"estimate": [time.process_time() - begun, 0]}
for name, make in {"explain": explain, "page": to_html.make, "workbook": to_xlsx.make}.items():
    begun = time.process_time()
    size = len(make(made))
    told[name] = [time.process_time() - begun, size]
told["explain"][0] /= len(needs(made))
print(json.dumps(told))
"""


def test_no_paper_grows_faster_than_its_job(tmp_path: Path) -> None:
    found: dict[int, dict[str, list[float]]] = {}
    for rooms in ROOMS:
        rows = (f"Room {n},{10 + n % 20} ft {n % 12} in,{9 + n % 7} ft,8 ft" for n in range(rooms))
        (tmp_path / "rooms.csv").write_text("\n".join(("name,length,width,height", *rows)), encoding="utf-8")
        (tmp_path / "spec.txt").write_text(SPEC, encoding="utf-8")
        (tmp_path / "job.toml").write_text(JOB, encoding="utf-8")
        run = (sys.executable, "-c", RUN, str(tmp_path / "job.toml"))
        told = json.loads(subprocess.run(run, check=True, capture_output=True, text=True).stdout)
        own = told.pop("estimate")[0]
        print(f"\n{rooms:>6,} rooms: estimate {own:.2f} s")
        for name, (seconds, size) in told.items():
            ratio = f"{seconds / own:.2f} times the estimate{GOALS[name]}"
            print(f"{name:>13}: {seconds:.2f} s, {ratio}" + ("" if name == "explain" else f", {size / 1e6:.2f} MB"))
        found[rooms] = told
    for name in GOALS:
        points = [(math.log(rooms), math.log(told[name][0])) for rooms, told in found.items()]
        print(f"{name}: time grows with rooms to the power of {slope(points):.2f} (goal: 1.1 or less)")
    kept = ROOT / ".benchmarks"
    kept.mkdir(exist_ok=True)
    with (kept / "papers.jsonl").open("a", encoding="utf-8") as log:
        log.write(json.dumps(found) + "\n")
    assert found[3_000]["page"][1] <= 3_000_000
