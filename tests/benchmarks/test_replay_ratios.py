"""How dear replaying and comparing are, in ratios of one run: `pytest -m slow tests/benchmarks/test_replay_ratios.py -s`.

Printed beside their goals and kept in `.benchmarks/ratios.jsonl`. Only what cannot depend on the machine fails: results
that differ, memory that grows with the number of files.
"""

from __future__ import annotations

import json
import math
import subprocess
import sys
import time
from collections.abc import Callable
from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest

from checkout import ROOT
from darby.plugin_host.loader import load_plugins
from darby.rules.rule import HOUSE, SPECIFICATION
from darby.saved.comparison import compare
from darby.saved.reader import reopen
from darby.saved.replay.causes import causes
from darby.saved.replay.file import Setup, replay
from darby.saved.replay.journal import Journal
from darby.saved.replay.one import Office
from darby.saved.replay.workers import Here, Pool, Round, files_in
from darby.saved.writer import text_of, with_longhand
from darby.text.spans import Source

pytestmark = pytest.mark.slow

SPEC = "A. Walls: one coat primer, two coats satin finish paint.\nB. Primer: 250 sq ft per gallon.\nC. Finish paint: 350 sq ft per gallon.\n"
LINES = "Joint compound: 13 lb per 100 sq ft.\nJoint compound comes in 64 lb pails.\nPrimer comes in 5 gal pails.\n"


@cache
def office() -> Office:
    return Office.of(load_plugins())


def job(rows: int, first: int = 10) -> str:
    walls = "".join(
        f'[[walls]]\nname = "wall {n}"\nlength = "{first + n % 40} ft {n % 12} in"\nheight = "9 ft"\nfaces = {1 + n % 2}\n'
        for n in range(rows)
    )
    return f'name = "rows"\nunits = "us"\n{walls}'


@cache
def saved(rows: int, first: int = 10, house: str = LINES) -> str:
    papers = [(Source("house.txt", house), HOUSE), (Source("spec.txt", SPEC), SPECIFICATION)]
    worked = office().work(Source("job.toml", job(rows, first)), papers)
    assert worked.estimate is not None, worked.problems
    assert worked.saved is not None
    return text_of(with_longhand(worked.saved, worked.estimate))


def folder(path: Path, many: int) -> list[str]:
    path.mkdir()
    for n in range(many):
        (path / f"{n:05}.json").write_text(saved(30, 10 + n % 20), encoding="utf-8")
    return files_in([str(path)])[0]


def seconds(do: Callable[[], object], rounds: int = 3, clock: Callable[[], float] = time.process_time) -> float:
    """The fastest of some rounds, after one to warm up: of this process alone, since others may be at work beside it."""
    do()
    times = []
    for _ in range(rounds):
        begun = clock()
        do()
        times.append(clock() - begun)
    return min(times)


def told(name: str, ratio: float, goal: str, more: str = "") -> None:
    print(f"\n{name}: {ratio:.2f} (goal: {goal}){f'; {more}' if more else ''}")
    kept = ROOT / ".benchmarks"
    kept.mkdir(exist_ok=True)
    with (kept / "ratios.jsonl").open("a", encoding="utf-8") as log:
        log.write(json.dumps({"name": name, "ratio": ratio, "goal": goal}) + "\n")


def round_of(files: list[str], workers: object) -> object:
    return Round(files, Setup((("house.txt", LINES),)), workers, Journal(None, "")).run()  # type: ignore[arg-type]


def test_two_cores_against_one(tmp_path: Path) -> None:
    files = folder(tmp_path / "jobs", 240)
    one = seconds(lambda: round_of(files, Here()), 1, time.perf_counter)
    two = seconds(lambda: round_of(files, Pool(2)), 1, time.perf_counter)
    told(
        "replay on one core / on two",
        one / two,
        "1.7 or more",
        f"{len(files) / one:.0f} a second on one, {len(files) / two:.0f} on two",
    )
    assert round_of(files[:60], Here()) == round_of(files[:60], Pool(2))


def bare(text: str) -> str:
    """The same arithmetic of the same orders with bare Fractions, from JSON to JSON: no unit, no working, no rule book."""
    data = json.loads(text)
    rows = [(Fraction(r["length"]), Fraction(r["height"]), r["faces"]) for r in data["rows"]]
    out = []
    for rule in data["orders"]:
        area = sum((length * height * faces for length, height, faces in rows), Fraction(0))
        need = area * Fraction(rule["times"]) / Fraction(rule["per"])
        count = math.ceil(need / Fraction(rule["package"]))
        out.append({"product": rule["product"], "need": str(need), "count": count})
    return json.dumps({**data, "orders": out, "before": data["orders"]})


def test_replay_against_bare_fractions_and_json() -> None:
    text = saved(30)
    data = json.loads(text)
    rows = [
        {"length": str(Fraction(10 + n % 40) + Fraction(n % 12, 12)), "height": "9", "faces": 1 + n % 2}
        for n in range(30)
    ]
    orders = [{"product": i["product"], "times": "14", "per": "100", "package": "64"} for i in data["items"]]
    plain = json.dumps({**data, "rows": rows, "orders": orders})
    setup = Setup((("house.txt", LINES),))
    whole = seconds(lambda: [replay("x.json", text.encode(), setup) for _ in range(20)])
    yard = seconds(lambda: [bare(plain) for _ in range(20)])
    told(
        "replay / bare Fractions, JSON in and out",
        whole / yard,
        "3 or less",
        f"{20 / whole:.0f} and {20 / yard:.0f} a second, {len(text) // 1000} kB",
    )


def test_the_cost_of_a_file_does_not_grow_with_their_number(tmp_path: Path) -> None:
    few, many = folder(tmp_path / "few", 40), folder(tmp_path / "many", 240)
    one = seconds(lambda: round_of(few, Here()), 2) / len(few)
    other = seconds(lambda: round_of(many, Here()), 1) / len(many)
    told("cost of a file, 240 / 40 of them", other / one, "1.1 or less")


PEAK = """\
import resource, sys
from darby.saved.replay.journal import Journal
from darby.saved.replay.workers import Here, Round, files_in
from darby.saved.replay.file import Setup
files, _ = files_in([sys.argv[1]])
Round(files, Setup(), Here(), Journal(None, "")).run()
print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)
"""


def test_memory_stays_flat(tmp_path: Path) -> None:
    peaks = []
    for many in (40, 320):
        folder(tmp_path / str(many), many)
        command = (sys.executable, "-c", PEAK, str(tmp_path / str(many)))
        peaks.append(int(subprocess.run(command, capture_output=True, text=True, check=True).stdout))
    ratio = peaks[1] / peaks[0]
    told("memory for 320 files / for 40", ratio, "1.1 or less", f"{peaks[1] // 1024} MB")
    assert ratio < 1.2


def test_comparing_large_estimates_against_loading_them() -> None:
    kinds = office().language.kinds
    texts = [saved(10_000), saved(10_000, 11, LINES.replace("13 lb", "15 lb"))]
    sources = [Source(f"{n}.json", text) for n, text in enumerate(texts)]
    loading = seconds(lambda: [reopen(s, kinds) for s in sources], 2)
    one, other = (reopen(s, kinds)[0] for s in sources)
    assert one is not None
    assert other is not None
    comparing = seconds(lambda: compare(one, other), 2)
    told("comparing two estimates of 10,000 rows / loading them", comparing / loading, "3 or less",
         f"{len(texts[0]) // 1000} kB each, loading {loading:.2f} s, comparing {comparing:.2f} s")  # fmt: skip


def test_the_search_for_causes_ends_however_many_rows_changed() -> None:
    texts = [saved(400), saved(400, 11, LINES.replace("13 lb", "15 lb"))]
    one, other = (reopen(Source("x.json", text), office().language.kinds)[0] for text in texts)
    assert one is not None
    assert other is not None
    comparison = compare(one, other)
    assert len(comparison.rows) == 400
    working = seconds(lambda: office().again(other, reread=False, briefly=True), 1)
    searching = seconds(lambda: causes(comparison, office().plugins), 1)
    told("causes among 400 changed rows and a rule / one estimate of them", searching / working, "200 or less")
