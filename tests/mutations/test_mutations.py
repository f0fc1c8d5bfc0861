"""Whether the tests notice what breaks: a sample of small breaks, each tried under the tests that run it."""

from __future__ import annotations

import ast
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

from mutations.breaks import Break, _Finder, breaks_of

ROOT = Path(__file__).parents[2]
FLOOR = 0.85
SIZE = int(os.environ.get("DARBY_BREAKS", "200"))
SEED = os.environ.get("DARBY_BREAKS_SEED", "1")
FOLDERS = os.environ.get(
    "DARBY_BREAKS_IN", "quantities rules job estimate saved darby_board darby_joints darby_fasteners darby_coatings"
).split()
"""Folders of the core, or trades."""
AT = os.environ.get("DARBY_BREAKS_AT", "").split()
"""`core/darby/job/model.py:12`: every break of these lines (or, without a line, of these files) instead of a sample."""

LEFT_OUT = {
    "test_repo.py", "test_layers.py", "test_pictures.py", "test_template.py", "test_whole_jobs.py",
    "test_guest_rogues.py", "test_to_html.py", "test_to_xlsx.py",
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


BROKEN = """\
def least(sizes, limit=3, *, strict=True):
    if sizes and not strict or len(sizes) >= limit:
        return min(s + 1 for s in sizes if s in {"a"})
    table["key"] = sizes.get("name", default=None)
    raise ValueError("too few")
"""


def changes(text: str) -> list[tuple[int, str]]:
    return [(b.line, b.becomes) for b in _Finder("x.py", text.encode()).found()]


def test_each_kind_of_break_is_found_in_its_line() -> None:
    assert {
        (1, "def least(sizes, limit=4, *, strict=True):"),
        (1, "def least(sizes, limit=3, *, strict=False):"),
        (2, "if not (sizes and not strict or len(sizes) >= limit):"),
        (2, "if sizes or not strict or len(sizes) >= limit:"),
        (2, "if sizes and strict or len(sizes) >= limit:"),
        (2, "if sizes and not strict and len(sizes) >= limit:"),
        (2, "if sizes and not strict or len(sizes) > limit:"),
        (3, "return None"),
        (3, 'return max(s + 1 for s in sizes if s in {"a"})'),
        (3, 'return min(s - 1 for s in sizes if s in {"a"})'),
        (3, 'return min(s + 2 for s in sizes if s in {"a"})'),
        (3, "return min(s + 1 for s in sizes if True)"),
        (3, 'return min(s + 1 for s in sizes if s not in {"a"})'),
        (3, "return min(s + 1 for s in sizes if s in {'a_'})"),
        (4, "pass"),
        (4, "table['key_'] = sizes.get(\"name\", default=None)"),
        (4, "table[\"key\"] = sizes.get('name_', default=None)"),
        (5, "pass"),
    } == set(changes(BROKEN))


QUIET = '''"""Says 1 and not 2."""
from typing import TYPE_CHECKING, TypeVar
if TYPE_CHECKING:
    import numbers
T = TypeVar("T", bound=int)
__all__ = ["one" if True else "two"]
@cache(maxsize=5)
def one(size: "Literal[1]" = None) -> "Literal[2]":
    return f"{1 + 1} of {size}"
'''


def test_what_is_for_the_eye_or_a_type_checker_is_not_broken() -> None:
    assert changes(QUIET) == [(9, "return None")]


def test_every_break_of_the_program_is_python_of_one_changed_line() -> None:
    for broken in all_breaks()[::7]:
        before = (ROOT / broken.file).read_bytes()
        after = broken.of(before)
        ast.parse(after)
        differ = [n for n, (a, b) in enumerate(zip(before.splitlines(), after.splitlines(), strict=True), 1) if a != b]
        assert differ == [broken.line]
        assert broken.inside[0] <= broken.line <= broken.inside[1]


def test_what_is_excused_is_a_break_that_there_is_and_has_a_reason() -> None:
    found = {(b.file, b.was, b.becomes) for b in all_breaks()}
    for one in EQUIVALENT:
        assert any(f.endswith(one["file"]) and (w, n) == (one["was"], one["becomes"]) for f, w, n in found), one
        assert len(one["why"].split()) > 5


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
