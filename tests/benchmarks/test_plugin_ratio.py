"""What the wall around a plugin costs: the same estimate with the example trade in a child and in Darby's own process.

Printed beside its goal and kept in `.benchmarks/ratios.jsonl`, in seconds of all processes together: `pytest -m slow tests/benchmarks -s`.
"""

from __future__ import annotations

import json
import os
import statistics
import subprocess
import sys
from pathlib import Path

import pytest

from checkout import ROOT
from outsiders import EXAMPLE

pytestmark = pytest.mark.slow

ROUNDS = 7
ROOM = '[[rooms]]\nname = "Room {n}"\nlength = "{length} ft"\nwidth = "{width} ft"\nheight = "8 ft"\n'
SPEC = """BATT INSULATION
Walls: one layer of batt insulation, 3 1/2 in. thick.
Ceilings: one layer of kraft-faced batts 6 in. thick, supports at 24 in. o.c.
09 91 00 PAINTING
Walls: one coat primer, two coats eggshell.
"""
COMMAND = f"""
import os, sys
sys.path[:0] = [{str(ROOT / "tests")!r}, {str(EXAMPLE)!r}]
if sys.argv[1] == "here":
    del os.fork  # where the system has none, plugins run in Darby itself
import darby.plugin_host.discovery as discovery
from rogues import Entry, Release
import importlib
others = discovery.installed
example = Entry("insulation", lambda: importlib.import_module("darby_example"), Release("1.0", "darby-example"))
discovery.installed = lambda: [*others(), example]
from darby.cli import main
sys.argv = ["darby", "estimate", sys.argv[2], "--format", "json"]
main()
"""


def seconds(where: str, job: Path) -> float:
    """Processor time of the command and of all that it started."""
    before = os.times()
    done = subprocess.run((sys.executable, "-c", COMMAND, where, str(job)), capture_output=True, check=True)
    after = os.times()
    assert any(item["trade"] == "insulation" for item in json.loads(done.stdout)["items"])
    return after.children_user + after.children_system - before.children_user - before.children_system


@pytest.mark.parametrize("rooms", [4, 300])
def test_an_estimate_with_a_plugin_in_a_child_against_the_same_in_darbys_own_process(
    tmp_path: Path, rooms: int
) -> None:
    rows = "".join(ROOM.format(n=n, length=10 + n % 7, width=9 + n % 5) for n in range(rooms))
    head = 'name = "batts"\nunits = "us"\n[documents]\nspecification = ["s.txt"]\n'
    (tmp_path / "job.toml").write_text(head + rows, encoding="utf-8")
    (tmp_path / "s.txt").write_text(SPEC, encoding="utf-8")
    took: dict[str, list[float]] = {"child": [], "here": []}
    for turn in range(ROUNDS + 1):
        for where, kept in took.items():
            one = seconds(where, tmp_path / "job.toml")
            if turn:
                kept.append(one)
    apart, here = (statistics.median(took[where]) for where in ("child", "here"))
    name = f"an estimate of {rooms} rooms with a plugin in a child / in Darby itself"
    print(f"\n{name}: {apart:.2f} s against {here:.2f} s = {apart / here:.2f} (goal: 1.3 or less)")
    (ROOT / ".benchmarks").mkdir(exist_ok=True)
    with (ROOT / ".benchmarks" / "ratios.jsonl").open("a", encoding="utf-8") as log:
        log.write(
            json.dumps({"name": name, "ms": [apart * 1e3, here * 1e3], "ratio": apart / here, "goal": "1.3"}) + "\n"
        )
