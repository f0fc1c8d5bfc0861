"""Cases as data: a phrase and what it must mean, a job and what must be ordered. One TOML file holds any number.

    [[phrase]]
    why = "what the case shows"
    text = "Felt: 50 m rolls."
    rules = ["package of felt: 50 m per 1 roll"]   # none: the text must be read and give no rule
    unread = ["7"]                                 # numbers that must stay open; none unless said
    strict = true                                  # read as a default or house line; false unless said

    [[job]]
    why = "what the case shows"
    units = "us"                                   # or "metric"
    specification = "Walls: one layer of felt."
    measured = '''[[walls]] ...'''                 # the tables of a job file; the bench's own job unless said
    orders = ["felt: 3 rolls", "felt (type heavy): 1 roll; 61 m"]    # all lines of the trades named
    trades = ["felt"]
    asks = ["how heavy the felt is"]               # parts of questions that must be asked

    [conformance]
    trade = "felt"
    specification = "Walls: one layer of felt."

The plugins are those that are installed, and those of `files = ["our_felt.py"]` at the top: single files, beside this one.
A rule is said as `kind of subject (surface wall, type heavy): amount`, an order as `product (pool): count packages`, with
the exact need behind a semicolon where it is to be held too.
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Any

from attrs import frozen

from darby.estimate.line_item import LineItem
from darby.plugin_host.loader import load_plugins
from darby.rules.rule import DEFAULT, SPECIFICATION, Rule, Scope
from darby.testing.bench import PLAIN, Bench
from darby.testing.conformance import CHECKS

_KEYS: dict[str, frozenset[str]] = {
    "phrase": frozenset({"why", "text", "rules", "unread", "strict"}),
    "job": frozenset({"why", "units", "specification", "measured", "orders", "trades", "asks"}),
    "conformance": frozenset({"trade", "specification"}),
}


class CaseError(Exception):
    """A case file that cannot be used; the text says where and why."""


@frozen(eq=False)
class Case:
    """One case, ready to run."""

    name: str
    run: Callable[[], list[str]]
    """Gives what is wrong, in sentences."""


def cases(path: Path) -> tuple[Case, ...]:
    """The cases of a file. Raises CaseError."""
    try:
        data = tomllib.loads(path.read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        raise CaseError(f"{path.name} cannot be read: {error}") from error
    files = data.pop("files", [])
    if not isinstance(files, list) or not all(isinstance(f, str) for f in files):
        raise CaseError(f"{path.name}: files is a list of names of plugin files")
    made = tuple(_made(path.name, data, tuple(path.parent / f for f in files)))
    if not made:
        raise CaseError(f"{path.name} holds no case: it has to have [[phrase]], [[job]] or [conformance]")
    return made


def _made(file: str, data: Mapping[str, Any], files: tuple[Path, ...]) -> Iterator[Case]:
    for table, found in data.items():
        if table not in _KEYS:
            raise CaseError(f"{file}: there is no table {table}; the tables are {', '.join(_KEYS)}")
        for number, one in enumerate(found if isinstance(found, list) else [found], 1):
            unknown = sorted(one.keys() - _KEYS[table])
            if unknown:
                raise CaseError(
                    f"{file}: {table} {number} has {unknown[0]}; it may have {', '.join(sorted(_KEYS[table]))}"
                )
            if table == "conformance":
                yield from _conformance(one, files)
            else:
                name = f"{table} {number}: {one.get('why') or one.get('text', '')}"
                yield Case(name, _phrase(one, files) if table == "phrase" else _job(one, files))


def _phrase(case: Mapping[str, Any], files: tuple[Path, ...]) -> Callable[[], list[str]]:
    def run() -> list[str]:
        strict = bool(case.get("strict"))
        reading = _desk(files).read(case["text"], DEFAULT if strict else SPECIFICATION, strict=strict)
        said = [rule_said(rule) for rule in reading.rules]
        unread = [n.span.text for n in reading.numbers if n.became == "unread"]
        wrong = [
            *_differences("rule", case.get("rules", ()), said),
            *_differences("unread number", case.get("unread", ()), unread),
        ]
        return wrong + [d.message for d in reading.diagnostics if strict]

    return run


def _job(case: Mapping[str, Any], files: tuple[Path, ...]) -> Callable[[], list[str]]:
    def run() -> list[str]:
        bench = Bench(_desk(files).plugins, "", case.get("specification", ""))
        made = bench.estimate(bench.job(case.get("measured", PLAIN), case.get("units", "us")))
        wanted = case.get("orders", ())
        items = [i for i in made.items if not case.get("trades") or i.trade in case["trades"]]
        said = [
            order_said(item, need=any(w.startswith(f"{_named(item)}: ") and ";" in w for w in wanted)) for item in items
        ]
        asked = [q.text for q in made.questions]
        wrong = _differences("order", wanted, said)
        wrong += [
            f"nothing asks {part!r}; asked is: {asked}"
            for part in case.get("asks", ())
            if not any(part in a for a in asked)
        ]
        return wrong + [f"{name} is missing" for name in made.missing]

    return run


def _conformance(case: Mapping[str, Any], files: tuple[Path, ...]) -> Iterator[Case]:
    """One case for each check; the bench is made when the first runs."""
    made: list[Bench] = []

    def bench() -> Bench:
        if not made:
            made.append(Bench.of(case.get("trade", ""), case.get("specification", ""), files=files))
        return made[0]

    for name, check in CHECKS.items():
        yield Case(f"{case.get('trade', '')} {name}", lambda check=check: list(check(bench())))  # type: ignore[misc]


@cache
def _desk(files: tuple[Path, ...]) -> Bench:
    """What is installed, and single files, found and made ready once."""
    return Bench(load_plugins(files=files), "")


def rule_said(rule: Rule) -> str:
    """A rule in one line: `coverage of felt (surface wall): 10 m2 per 1 roll`."""
    return f"{rule.kind.name} of {rule.subject}{_brackets(rule.scope)}: {rule.says()}"


def order_said(item: LineItem, *, need: bool = False) -> str:
    """A line item in one line: `felt (type heavy): 3 rolls`; with `need` the exact need behind it."""
    order = item.order
    said = item.need.exact() if order is None else order.exact()
    return f"{_named(item)}: {said}" + (f"; {item.need.exact()}" if need else "")


def _named(item: LineItem) -> str:
    return f"{item.product}{_brackets(item.pool)}"


def _brackets(scope: Scope) -> str:
    said = ", ".join(f"{key} {value}" for key, value in scope.items())
    return f" ({said})" if said else ""


def _differences(what: str, wanted: object, got: list[str]) -> list[str]:
    wished = [str(w) for w in wanted] if isinstance(wanted, list | tuple) else [str(wanted)]
    left = list(got)
    missing = []
    for wish in wished:
        if wish in left:
            left.remove(wish)
        else:
            missing.append(wish)
    return [*(f"missing {what}: {m}" for m in missing), *(f"{what} that is not in the case: {g}" for g in left)]
