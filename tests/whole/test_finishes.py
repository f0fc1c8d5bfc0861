"""Jobs whose finishes are chosen by words and codes, each worked out by hand beside it: fixtures/jobs/finishes/*/expected.toml.

A line there is `product | what keeps it apart | the need by plain arithmetic | packages`; `key=` with nothing behind it says that the
goods have no such property. Every line of the products named is held. `asks` has words that must stand in something that is asked,
`tells` in something that is told or asked. `python tests/whole/test_finishes.py` counts what is right.
"""

from __future__ import annotations

import ast
import re
import tomllib
from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from typing import Any

import pytest

from checkout import ROOT
from whole_jobs import estimate_printed

JOBS = ROOT / "fixtures" / "jobs" / "finishes"
NAMES = sorted(p.name for p in JOBS.iterdir())
OPEN = {
    "drum-studio": "a line behind a blank line, no further in, is taken for a part of the type above it",
}
"""Jobs whose order is not right yet, and why; each leaves this list once it is."""


def expected(name: str) -> dict[str, Any]:
    """What was worked out by hand."""
    return tomllib.loads((JOBS / name / "expected.toml").read_text(encoding="utf-8"))


def worked(sum_: str) -> Fraction:
    """The value of a sum of whole numbers with + - * / and brackets."""

    def value(node: ast.expr) -> Fraction:
        if isinstance(node, ast.Constant) and isinstance(node.value, int):
            return Fraction(node.value)
        assert isinstance(node, ast.BinOp), ast.dump(node)
        one, other = value(node.left), value(node.right)
        if isinstance(node.op, ast.Add):
            return one + other
        return one * other if isinstance(node.op, ast.Mult) else one / other

    return value(ast.parse(sum_.strip(), mode="eval").body)


def meant(line: str, item: Mapping[str, Any]) -> bool:
    """Whether an item is the one of a line: its product and what keeps it apart, the amounts aside."""
    product, apart, *_ = (part.strip() for part in line.split("|"))
    pairs = [pair.strip().split("=") for pair in apart.split(",") if pair.strip()]
    pool = {key: said.casefold() for key, said in item["pool"].items()}
    return item["product"] == product and all(pool.get(key, "") == said.casefold() for key, said in pairs)


def right(line: str, item: Mapping[str, Any]) -> bool:
    """Whether the amounts of an item are those of its line."""
    need, count = (part.strip() for part in line.split("|")[2:])
    found = re.fullmatch(r"(?P<sum>[-0-9+*/(). ]+?)\s*(?P<unit>[a-z][a-z ]*)?", need)
    assert found is not None, need
    unit = found["unit"] or "each"
    same = (Fraction(item["need"]["value"]), item["need"]["unit"]) == (worked(found["sum"]), unit)
    return same and item["order"]["count"] == int(count)


def wrong_lines(lines: Sequence[str], items: Iterable[Mapping[str, Any]]) -> list[str]:
    """The lines that no item or another amount stands for, and the items too many, in words."""
    products = {line.split("|")[0].strip() for line in lines}
    left = [i for i in items if i["product"] in products]
    out = []
    for line in sorted(lines, key=lambda one: -one.split("|")[1].count("=")):
        found = next((i for i in left if meant(line, i) and right(line, i)), None) or next(
            (i for i in left if meant(line, i)), None
        )
        if found is not None:
            left.remove(found)
        if found is None or not right(line, found):
            out.append(f"wanted {line}; got {shown(found) if found else 'nothing'}")
    return out + [f"too many: {shown(item)}" for item in left]


def shown(item: Mapping[str, Any]) -> str:
    """An item in one line."""
    return f"{item['product']} {dict(item['pool'])} {item['need']['value']} {item['need']['unit']}, {item['order']['count']}"


def told(made: Mapping[str, Any]) -> tuple[str, str]:
    """All that is asked, and all that is told."""
    asked = [str(made[key]) for key in ("questions", "conflicts", "confirmations")]
    asked += [str(d) for d in made["diagnostics"] if d["severity"] in ("question", "warning")]
    return " ".join(asked), " ".join([*asked, str(made["diagnostics"]), str(made["cautions"])])


def unasked(name: str, made: Mapping[str, Any]) -> list[str]:
    """What had to be asked or told, and was not."""
    want, (asked, tells) = expected(name), told(made)
    missing = [f"not asked: {word}" for word in want.get("asks", ()) if word not in asked]
    return missing + [f"not told: {word}" for word in want.get("tells", ()) if word not in tells]


CASES = [pytest.param(n, marks=[pytest.mark.xfail(reason=OPEN[n], strict=True)] if n in OPEN else []) for n in NAMES]


@pytest.mark.parametrize("name", CASES)
def test_the_order_is_the_one_worked_by_hand(name: str) -> None:
    made = estimate_printed(JOBS / name)
    lines = expected(name)["lines"]
    assert wrong_lines(lines, made["items"]) == []
    assert unasked(name, made) == []


def main() -> None:
    """How many lines and questions are right, job by job."""
    sums = [0, 0, 0]
    for name in NAMES:
        made, want = estimate_printed(JOBS / name), expected(name)
        faults = [*wrong_lines(want["lines"], made["items"]), *unasked(name, made)]
        many = len(want["lines"]) + len(want.get("asks", ())) + len(want.get("tells", ()))
        extra = sum(f.startswith("too many") for f in faults)
        good = many - (len(faults) - extra)
        sums = [sums[0] + good, sums[1] + many, sums[2] + extra]
        print(f"{name}: {good} of {many}, {extra} too many", *(f"    {f}" for f in faults), sep="\n")
    print(f"{sums[0]} of {sums[1]} lines, questions and notes are right; {sums[2]} lines too many")


if __name__ == "__main__":
    main()
