"""Whether the tests notice what breaks: a sample of small breaks, each tried under the tests that run it."""

from __future__ import annotations

import json
import os
import random
import subprocess
import sys
import tomllib
from collections import Counter
from pathlib import Path

import attrs
import pytest

from mutations.breaks import Break, breaks_of

ROOT = Path(__file__).parents[2]
FLOOR = 0.85
SIZE = int(os.environ.get("DARBY_BREAKS", "200"))
SEED = os.environ.get("DARBY_BREAKS_SEED", "1")
FOLDERS = os.environ.get(
    "DARBY_BREAKS_IN", "rules job estimate saved darby_board darby_joints darby_fasteners darby_coatings"
).split()
"""Folders of the core, or trades."""
AT = os.environ.get("DARBY_BREAKS_AT", "").split()
"""`core/darby/job/model.py:12`: every break of these lines (or, without a line, of these files) instead of a sample."""

LEFT_OUT = {
    "test_repo.py", "test_layers.py", "test_pictures.py", "test_template.py", "test_whole_jobs.py",
    "test_sandbox.py", "test_to_html.py", "test_to_xlsx.py", "test_catalogue_injection.py",
}  # fmt: skip
"""Test files that start other programs for most of what they do: they take long, and what they notice, others notice first."""
NOTES = ROOT / ".mutations.json"
"""What each test runs, kept for the next time."""
EQUIVALENT = tomllib.loads(Path(__file__).with_name("equivalent.toml").read_text(encoding="utf-8")).get(
    "equivalent", []
)


def folder(name: str) -> Path:
    found = [p for p in (ROOT / "core/darby" / name, ROOT / "plugins" / name, ROOT / name) if p.is_dir()]
    assert found, f"no folder {name}"
    return found[0]


def same(broken: Break) -> bool:
    """Whether the break is one of those that change nothing that can be seen."""
    return any(
        broken.file.endswith(e["file"]) and broken.was == e["was"] and broken.becomes == e["becomes"]
        for e in EQUIVALENT
    )


def all_breaks() -> list[Break]:
    paths = sorted(p for name in FOLDERS for p in folder(name).rglob("*.py"))
    return [b for path in paths for b in breaks_of(ROOT, path)]


def files_of_tests() -> list[str]:
    files = sorted(p for p in (ROOT / "tests").rglob("test_*.py") if p.name not in LEFT_OUT)
    return [str(p.relative_to(ROOT)) for p in files if p.parent.name not in ("mutations", "benchmarks")]


@pytest.mark.slow
def test_breaks_are_noticed(tmp_path: Path) -> None:
    breaks = [b for b in all_breaks() if not same(b)]
    if AT:
        every = [b for path in sorted({a.partition(":")[0] for a in AT}) for b in breaks_of(ROOT, ROOT / path)]
        sample = [b for b in every if b.file in AT or f"{b.file}:{b.line}" in AT]
    else:
        sample = random.Random(SEED).sample(breaks, min(SIZE, len(breaks)))
    plan, result = tmp_path / "plan.json", tmp_path / "result.json"
    plan.write_text(
        json.dumps({
            "checkout": str(ROOT), "copies": str(tmp_path / "copies"), "notes": str(NOTES), "at once": os.cpu_count() or 1,
            "tests": files_of_tests(), "breaks": [attrs.asdict(b) for b in sample],
        }),
        encoding="utf-8",
    )  # fmt: skip
    subprocess.run([sys.executable, "-m", "mutations.trials", plan, result], cwd=ROOT / "tests", check=True)
    fates = Counter(trial["fate"] for trial in json.loads(result.read_text(encoding="utf-8")))
    share = (fates["noticed"] + fates["hung"]) / len(sample)
    print(
        f"{len(sample)} of {len(breaks)} breaks in {' '.join(FOLDERS)}, seed {SEED}: {dict(fates)}, {share:.1%} noticed"
    )
    assert share >= FLOOR
