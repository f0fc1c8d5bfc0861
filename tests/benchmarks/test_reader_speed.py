"""How the reader's time grows with hostile text, and how it stands beside its own tag pass and two readers of quantities.

`pytest -m slow tests/benchmarks/test_reader_speed.py -s`. Ratios are of one run and printed beside their goals. quantulum3 and
recognizers-text are no part of Darby's environment: where they are not installed their comparison is skipped and says so.
"""

from __future__ import annotations

import math
import statistics
import time
import warnings
from collections.abc import Callable, Iterable
from fractions import Fraction
from typing import Any

import pytest

from checkout import ROOT
from phrase_cases import phrases
from reads import language, read_anew

pytestmark = [pytest.mark.slow, pytest.mark.filterwarnings("ignore")]

SPECS = ROOT / "fixtures" / "specs"
SIZE = 100_000
SMALL = 5_000
"""For readers of quantities that need seconds where ours needs milliseconds; all of them are linear on this text."""

STEPS = (3, 6, 12, 25, 50, 100)
BEARABLE = 8.0
"""Seconds of one reading."""
LINEAR = 1.5
"""A fitted exponent that no linear reader reaches, however busy the machine: a quadratic one has 2."""

SENTENCE = "Walls: two coats of primer at 300 sq ft/gal, screws 12 in. o.c. on ceilings and 16 in. o.c. on walls; "

HOSTILE: dict[str, Callable[[int], str]] = {
    "a line of 1 MB": lambda n: SENTENCE * (n * 10_000 // len(SENTENCE)),
    "a line of 1 MB without a stop or a number": lambda n: "walls and ceilings of board " * (n * 10_000 // 28),
    "a million digits": lambda n: "7" * (n * 10_000),
    "1/1/1/...": lambda n: "1/" * (n * 2_000),
    "1 1 1 1 ...": lambda n: "1 " * (n * 2_000),
    "ten thousand brackets": lambda n: "(" * (n * 100),
    "ten thousand bracketed choices": lambda n: "[12] " * (n * 100),
    "ten thousand choices in one line": lambda n: "Walls: [1/2] [5/8] inch board. " * (n * 100),
    "ten thousand marks in one line": lambda n: "".join(f"PT-{k % 99}: two coats. " for k in range(n * 100)),
    "three thousand numbered rooms in one breath": lambda n: (
        ", ".join(f"Office {100 + k}" for k in range(n * 30)) + ": two coats eggshell."
    ),
    "three thousand storeys in one breath": lambda n: (
        ", ".join(f"Level {k}" for k in range(n * 30)) + ": two coats eggshell."
    ),
    "three thousand known rooms in one breath": lambda n: (
        "In " + "the Kitchen, Study Hall and Bathroom, " * (n * 10) + "two coats."
    ),
    "three thousand listed places in one breath": lambda n: (
        "Walls of " + ", ".join(f"the Wool {c}wash" for c in "abcdefghij" * (n * 3)) + " and corridors: two coats."
    ),
    "three thousand pairs in one breath": lambda n: (
        "Eggshell in " + ", ".join(f"offices {k} coats in halls" for k in range(n * 30)) + "."
    ),
    "three thousand names in capitals in one breath": lambda n: (
        "Walls " + " and ".join(f"in Metal {c}shop" for c in "ABCDEFGHIJ" * (n * 3)) + " get two coats."
    ),
    "three thousand accent walls in one breath": lambda n: "accent walls, " * (n * 30) + "two coats.",
    "a thousand heads of a bill": lambda n: "Description                              Qty   Unit\n" * (n * 10),
    "a manual of a thousand sections": lambda n: (
        "SECTION 09 91 23\nPAINTING\n\nWalls: two coats of paint.\n\n" * (n * 10)
    ),
    "ten thousand running heads": lambda n: "SECTION 09 91 23 - 3\nWalls: two coats of paint.\n\n" * (n * 100),
    "ten thousand doubled lines": lambda n: "walls  two  coats  of  paint\n" * (n * 100),
    "ten thousand headings": lambda n: "\n".join(f"{k}.1 WALLS\n" for k in range(n * 100)),
    "ten thousand levels of a list": lambda n: "\n".join(f"{' ' * (k % 60)}- walls" for k in range(n * 100)),
    "ten thousand rows of a table": lambda n: "Room    Walls     Finish\n" + "Stair   2 coats   Level 4\n" * (n * 100),
    "ten thousand cells in a row": lambda n: "| 12 in. " * (n * 100) + "|\n" + "| a " * (n * 100) + "|",
    "ten thousand lead-ins": lambda n: "Screws:\n" * (n * 100),
    "ten thousand hyphens at line ends": lambda n: "ceil-\n" * (n * 100),
    "ten thousand open tags": lambda n: "<b" * (n * 100) + "<p>",
    "ten thousand entities": lambda n: "&frac12;&quot; " * (n * 100),
    "ten thousand asterisks in rules": lambda n: ("*" * 20 + "\nwalls\n") * (n * 30),
    "ten thousand colons": lambda n: "walls: " * (n * 100),
    "a megabyte of blanks": lambda n: "12" + " " * (n * 10_000) + "in.",
    "a megabyte of line ends": lambda n: "12\n" + "\n" * (n * 10_000) + "in.",
}
"""Text of the full size at 100."""


def seconds(work: Callable[[], object], rounds: int = 2) -> float:
    """The least processor time of a few rounds: what others do on the machine does not count."""
    best = math.inf
    for _ in range(rounds):
        begun = time.process_time()
        work()
        best = min(best, time.process_time() - begun)
    return best


def exponent(sizes: Iterable[int], times: Iterable[float]) -> float:
    """The slope of time over size, both as logarithms, fitted by least squares."""
    fitted = statistics.linear_regression([math.log(n) for n in sizes], [math.log(t) for t in times])
    return fitted.slope


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_text_is_read_in_linear_time(name: str) -> None:
    """Sizes double up to the full one, or to where one reading takes longer than is bearable; the last four are fitted."""
    sizes: list[int] = []
    times: list[float] = []
    read_anew(HOSTILE[name](STEPS[0]))
    for step in STEPS:
        text = HOSTILE[name](step)
        sizes.append(len(text))
        times.append(seconds(lambda text=text: read_anew(text), 1))  # type: ignore[misc]
        if times[-1] > BEARABLE:
            break
    grown = exponent(sizes[-4:], times[-4:])
    print(f"\n{name}: {sizes[-1]:,} characters in {times[-1] * 1000:,.0f} ms, exponent {grown:.2f}")
    assert grown < LINEAR or times[-1] < 0.05


def specification(size: int) -> str:
    """Our own documents, one behind the other, over and over."""
    whole = "\n\n".join(path.read_text(encoding="utf-8") for path in sorted(SPECS.glob("*.txt")))
    return whole * (size // len(whole) + 1)


def test_reading_100_kb_against_its_own_tag_pass() -> None:
    text = specification(SIZE)
    tags = language().lexicon.tags
    tags(text), read_anew(text)
    mine, pass_ = seconds(lambda: read_anew(text), 3), seconds(lambda: tags(text), 3)
    print(
        f"\nreading {len(text) // 1000} kB: {mine * 1000:.0f} ms, its tag pass {pass_ * 1000:.0f} ms: {mine / pass_:.1f} (goal: 6 or less)"
    )


# Two readers of quantities. Each gives the values it finds in a text, with the name it gives to their unit.

Found = list[tuple[float, str]]


def by_quantulum() -> Callable[[str], Found]:
    parser = pytest.importorskip("quantulum3.parser", reason="quantulum3 is not installed; it is no part of Darby")
    return lambda text: [(q.value, q.unit.name.lower()) for q in parser.parse(text)]


def by_recognizers() -> Callable[[str], Found]:
    reason = "recognizers-text is not installed; it is no part of Darby"
    pytest.importorskip("recognizers_text", reason=reason, exc_type=ImportError)
    units: Any = pytest.importorskip("recognizers_number_with_unit", reason=reason, exc_type=ImportError)
    numbers: Any = pytest.importorskip("recognizers_number", reason=reason, exc_type=ImportError)

    def found(text: str) -> Found:
        with_unit = [q.resolution or {} for q in units.recognize_dimension(text, "en-us")]
        bare = [q.resolution or {} for q in numbers.recognize_number(text, "en-us")]
        share = [q.resolution or {} for q in numbers.recognize_percentage(text, "en-us")]
        return [
            (float(r["value"].rstrip("%")), name)
            for some, unit in ((with_unit, None), (bare, ""), (share, "percentage"))
            for r in some
            if r.get("value") and (name := unit if unit is not None else str(r.get("unit", "")).lower()) is not None
        ]

    return found


OTHERS = {"quantulum3": (by_quantulum, "30"), "recognizers-text": (by_recognizers, "7")}


@pytest.mark.parametrize("name", OTHERS)
def test_reading_against_a_reader_of_quantities(name: str) -> None:
    """The others find numbers and units; ours binds them to what they are said of, and keeps the ledger besides."""
    make, goal = OTHERS[name]
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        other = make()
        text = specification(SMALL)
        clauses = [line for line in text.split("\n") if line.strip()]
        read_anew(text), other(clauses[0])
        mine = seconds(lambda: read_anew(text), 3)
        theirs = seconds(lambda: [other(line) for line in clauses], 1)
    print(
        f"\n{name}: {theirs * 1000:.0f} ms, reading {mine * 1000:.0f} ms over {len(text) // 1000} kB: {theirs / mine:.1f} (goal: {goal} or more)"
    )


UNIT_WORDS = {
    "in": ("inch",), "ft": ("foot", "feet"), "yd": ("yard",), "mil": ("mil",), "mm": ("millimet",), "m": ("metre", "meter"), "um": ("micro",),
    "sq ft": ("square foot", "square feet"), "m2": ("square met",), "lb": ("pound",), "oz": ("ounce",), "kg": ("kilogram",),
    "gal": ("gallon",), "L": ("litre", "liter"), "%": ("percent",), "each": ("", "dimensionless"),
}  # fmt: skip
"""How other readers may call our units: a part of the name is enough, and a count has none."""


def wanted() -> list[tuple[str, set[tuple[Fraction, str]], set[tuple[Fraction, str]]]]:
    """For each phrase that must give rules: its text, the values and units that its rules must have, and what we read."""
    out = []
    for case in phrases().values():
        if not case.get("rules"):
            continue
        reading = read_anew(case["text"])
        said = {rule.rpartition(": ")[2] for rule in case["rules"]}
        ours = {(r.amount.value, r.amount.unit.name) for r in reading.rules}
        right = {(r.amount.value, r.amount.unit.name) for r in reading.rules if r.says() in said}
        missed = len(said - {r.says() for r in reading.rules})
        out.append((case["text"], right | {(Fraction(-1 - n), "?") for n in range(missed)}, ours))
    return out


def called(unit: str, name: str) -> bool:
    words = UNIT_WORDS.get(unit, ())
    return name in words if unit == "each" else any(word in name for word in words)


@pytest.mark.parametrize("name", OTHERS)
def test_more_facts_are_right_than_with_a_reader_of_quantities(name: str) -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        other = OTHERS[name][0]()
        total = mine = theirs = 0
        for text, facts, ours in wanted():
            found = other(text)
            total += len(facts)
            mine += len(facts & ours)
            theirs += sum(
                any(abs(value - float(v)) < 1e-6 and called(unit, n) for v, n in found) for value, unit in facts
            )
    print(f"\nvalues with their units, of {total} in the phrase cases: reading {mine}, {name} {theirs}")
    assert mine > theirs
