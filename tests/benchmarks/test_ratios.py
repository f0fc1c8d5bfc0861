"""How dear the common commands are, each against a plain yardstick in the same run: `pytest -m slow tests/benchmarks -s`.

A ratio is printed beside its goal and kept in `.benchmarks/ratios.jsonl`. Nothing here fails because a machine was
busy; it fails when a command does.
"""

from __future__ import annotations

import compileall
import importlib.resources
import json
import os
import statistics
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from checkout import ROOT
from darby.plugin_host.loader import load_plugins
from darby.reading.read import Language, read
from darby.rules.rule import SPECIFICATION
from darby.text.spans import Source

pytestmark = pytest.mark.slow

ROUNDS = 15
SIZE = 100_000
DARBY = (str(Path(sys.executable).with_name("darby")),)


@pytest.fixture(scope="module", autouse=True)
def compiled() -> None:
    """Every module compiled beforehand, so that no round pays for it."""
    for root in ("core", "grammars", "plugins"):
        compileall.compile_dir(str(ROOT / root), quiet=2)


@pytest.fixture(scope="module")
def demo() -> Path:
    """The demo job where it is installed."""
    return Path(str(importlib.resources.files("darby") / "demo" / "job.toml"))


def started(*arguments: str) -> Callable[[], None]:
    """A Python process with these arguments, which must end well."""
    environment = {k: v for k, v in os.environ.items() if k not in {"PYTHONDONTWRITEBYTECODE", "PYTHONPATH"}}

    def run() -> None:
        subprocess.run(
            (sys.executable, *arguments), check=True, capture_output=True, stdin=subprocess.DEVNULL, env=environment
        )

    return run


def ratio(name: str, one: Callable[[], object], other: Callable[[], object], goal: str, rounds: int = ROUNDS) -> None:
    """Time both in turn, one warm-up round each, and print the median of one over the median of the other."""
    times: tuple[list[int], list[int]] = ([], [])
    for i in range(rounds + 1):
        for kept, timed in zip(times, (one, other), strict=True):
            begun = time.perf_counter_ns()
            timed()
            if i:
                kept.append(time.perf_counter_ns() - begun)
    first, second = (statistics.median(t) / 1e6 for t in times)
    print(f"\n{name}: {first:.1f} ms against {second:.1f} ms = {first / second:.2f} (goal: {goal} or less)")
    kept_at = ROOT / ".benchmarks"
    kept_at.mkdir(exist_ok=True)
    with (kept_at / "ratios.jsonl").open("a", encoding="utf-8") as log:
        log.write(json.dumps({"name": name, "ms": [first, second], "ratio": first / second, "goal": goal}) + "\n")


def test_help_against_importing_click() -> None:
    ratio("darby --help / import click", started(*DARBY, "--help"), started("-c", "import click"), "1.3")


@pytest.mark.parametrize(("form", "goal"), [("json", "15"), ("terminal", "20")])
def test_an_estimate_of_the_demo_against_a_bare_interpreter(demo: Path, form: str, goal: str) -> None:
    estimate = started(*DARBY, "estimate", str(demo), "--format", form)
    ratio(f"darby estimate --format {form} / python -c pass", estimate, started("-c", "pass"), goal)


def test_reading_100_kb_against_its_own_tag_pass(demo: Path) -> None:
    plugins = load_plugins()
    language = Language.of(plugins.readers, plugins.vocabularies)
    sections = "\n".join(path.read_text(encoding="utf-8") for path in sorted(demo.parent.glob("09-*.txt")))
    source = Source("specification.txt", sections * (SIZE // len(sections) + 1))
    text = source.text.lower()
    assert read(source, SPECIFICATION, language).rules

    def reading() -> None:
        read(source, SPECIFICATION, language)

    ratio(f"reading {len(text) // 1000} kB / its tag pass", reading, lambda: language.lexicon.tags(text), "6", rounds=5)
