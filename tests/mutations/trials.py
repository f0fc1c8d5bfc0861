"""Breaks tried one by one under the tests that run them: `python -m mutations.trials PLAN RESULT`, from a folder `tests`."""

from __future__ import annotations

import hashlib
import json
import re
import sys
from collections.abc import Collection, Iterable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from contextlib import suppress
from importlib import import_module
from multiprocessing import get_context
from multiprocessing.queues import SimpleQueue
from pathlib import Path

import attrs

from mutations.breaks import Break
from mutations.hearing import Heard
from mutations.workshop import Workshop

PRELOADED = (
    "hypothesis lark attrs jsonschema click rich jinja2 pluggy xlsxwriter openpyxl docx pypdf pint distributed".split()
)
AT_FIRST, AT_MOST = 2.0, 60.0
"""Seconds that the tests of one break took when all was well: of those that go first, and of all."""


@attrs.frozen
class Trial:
    """What became of a break."""

    broken: Break
    fate: str
    """`noticed`, `hung` (which no run of the tests overlooks), `unnoticed`, or `not run` by any test."""
    tests: int
    """How many looked at it."""


def stages(broken: Break, heard: Sequence[Heard], elsewhere: Collection[str] = ()) -> Iterator[list[str]]:
    """The tests that run the function of a break: the most particular files first, then the rest; then others of its module.

    The others may run it where nobody listens: in a process of their own, or through something that an earlier test made,
    of its own file mostly.
    Where few tests run it, those of the files `elsewhere`, which speak of the module, are tried besides.
    """
    near: list[Heard] = []
    others: list[Heard] = []
    first, last = broken.inside
    for test in heard:
        lines = [int(at.rpartition(":")[2]) for at in test.ran if at.startswith(f"{broken.file}:")]
        if lines or test.file in elsewhere:
            (near if any(first <= line <= last for line in lines) else others).append(test)
    particular: dict[str, int] = {}
    for test in near:
        particular[test.file] = min(particular.get(test.file, sys.maxsize), len(test.ran))
    near.sort(key=lambda t: (particular[t.file], t.file, t.seconds))
    beside = {test.file for test in near}
    known = {test.test for test in (*near, *others)}
    others += [test for test in heard if test.file in beside and test.test not in known]
    begun = _within(near, AT_FIRST)
    yield begun
    rest = sorted((t for t in near if t.test not in set(begun)), key=lambda t: t.seconds)
    yield _within([*rest, *sorted(others, key=lambda t: t.seconds)], AT_MOST)


def speaking_of(shop: Workshop, broken: Break) -> set[str]:
    """The test files that name the module, where it is one that works in processes of its own."""
    folder = Path(broken.file).parent.name
    if folder != "replay":
        return set()
    name = f"replay.{Path(broken.file).stem}"
    tests = (shop.root / "tests").rglob("test_*.py")
    return {str(p.relative_to(shop.root)) for p in tests if name in p.read_text(encoding="utf-8")}


def _within(tests: Iterable[Heard], seconds: float) -> list[str]:
    found: list[str] = []
    for test in tests:
        seconds -= test.seconds
        if seconds < 0 and found:
            break
        found.append(test.test)
    return found


def attempt(shop: Workshop, broken: Break, heard: Sequence[Heard]) -> Trial:
    """Put the break in, run its tests, and mend it."""
    looked = 0
    sound = (shop.root / broken.file).read_bytes()
    shop.swap(broken, broken.of(sound))
    try:
        for stage in stages(broken, heard, speaking_of(shop, broken)):
            looked += len(stage)
            passed = shop.passes(stage) if stage else True
            if not passed:
                return Trial(broken, "hung" if passed is None else "noticed", looked)
    finally:
        shop.swap(broken, sound)
    return Trial(broken, "unnoticed" if looked else "not run", looked)


_SHOP: list[Workshop] = []
_HEARD: list[Heard] = []


def _settle(shops: SimpleQueue[Workshop], heard: list[Heard]) -> None:
    _SHOP[:], _HEARD[:] = [shops.get()], heard


def _listened(files: list[str]) -> list[Heard]:
    return _SHOP[0].listened(files) if files else []


def _attempted(broken: Break) -> Trial:
    return attempt(_SHOP[0], broken, _HEARD)


def _workers(shops: Sequence[Workshop], heard: list[Heard]) -> ProcessPoolExecutor:
    """As many processes as there are workshops, each with its own."""
    context = get_context("fork")
    queue = context.SimpleQueue()
    for shop in shops:
        queue.put(shop)
    return ProcessPoolExecutor(len(shops), context, initializer=_settle, initargs=(queue, heard))


def main(plan: Path, result: Path) -> None:
    """Listen to the tests, then try every break of the plan; tell those that nobody notices, and write the result."""
    wanted = json.loads(plan.read_text(encoding="utf-8"))
    for name in PRELOADED:
        with suppress(ImportError):
            import_module(name)
    assert not any(re.match(r"darby\b", name) for name in sys.modules), "Darby was loaded before the break"
    checkout = Path(wanted["checkout"])
    shops = [Workshop.of(checkout, Path(wanted["copies"]) / str(n)) for n in range(wanted["at once"])]
    heard = _heard(shops, checkout, wanted["tests"], Path(wanted["notes"]))
    print(f"{len(heard)} tests can be used", flush=True)
    trials: list[Trial] = []
    with _workers(shops, heard) as pool:
        for trial in pool.map(
            _attempted, [Break(**{**one, "inside": tuple(one["inside"])}) for one in wanted["breaks"]]
        ):
            trials.append(trial)
            if trial.fate in ("unnoticed", "not run"):
                print(f"{trial.fate}, {trial.tests} tests: {trial.broken}", flush=True)
    result.write_text(json.dumps([attrs.asdict(trial) for trial in trials]), encoding="utf-8")


def _heard(shops: Sequence[Workshop], checkout: Path, tests: Sequence[str], notes: Path) -> list[Heard]:
    """What every test runs. Notes are kept for the next time: they hold while the code and the test's own file stay the same."""
    code = _digest(*(p for root in ("core", "grammars", "plugins") for p in sorted((checkout / root).rglob("*.py"))))
    kept = json.loads(notes.read_text(encoding="utf-8")) if notes.exists() else {}
    known = kept.get("tests", {}) if kept.get("code") == code else {}
    digests = {test: _digest(checkout / test) for test in tests}
    new = [test for test in tests if known.get(test, {}).get("digest") != digests[test]]
    with _workers(shops, []) as pool:
        told = [one for part in pool.map(_listened, [new[n :: len(shops)] for n in range(len(shops))]) for one in part]
    for test in new:
        heard = [(h.test, round(h.seconds, 4), sorted(h.ran)) for h in told if h.file == test]
        known[test] = {"digest": digests[test], "heard": heard}
    notes.write_text(json.dumps({"code": code, "tests": known}), encoding="utf-8")
    return [Heard(name, seconds, frozenset(ran)) for test in tests for name, seconds, ran in known[test]["heard"]]


def _digest(*paths: Path) -> str:
    return hashlib.sha256(b"".join(path.read_bytes() for path in paths)).hexdigest()


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))
