"""Plain data to a saved estimate: all that it holds comes back, and a value of another type is refused wherever it stands."""

from __future__ import annotations

import copy
import json
from collections.abc import Iterator
from fractions import Fraction
from functools import cache
from importlib.resources import files
from typing import Any

import jsonschema
import pytest

from darby.quantities.amounts import Amount
from darby.rules.rule import DEFAULT, HOUSE, OVERRIDE, SPECIFICATION, addendum
from darby.saved.builder import FAILURES, Builder, OddError
from darby.saved.model import Saved
from darby.saved.reader import reopen
from darby.text.spans import Source
from lofts import JOB, kept, net_loft, office

Path = tuple[str | int, ...]
UNUSED = {"says", "at", "checks", "schema", "working"}
"""What is written for people alone, or looked at elsewhere: the places of rules in words, the longhand, the sums."""


@cache
def data() -> dict[str, Any]:
    found: dict[str, Any] = json.loads(kept(more="Primer: 200 to 300 sq ft per gallon at least, ASTM D16.\n")[1])
    return found


def built(of: dict[str, Any]) -> Saved:
    return Builder(of, office().language.kinds).saved()


@cache
def by_the_schema() -> jsonschema.Draft202012Validator:
    schema = json.loads((files("darby") / "schemas" / "saved.schema.json").read_text("utf-8"))
    return jsonschema.Draft202012Validator(schema)


def values(of: Any, path: Path = ()) -> Iterator[tuple[Path, Any]]:
    """Each value with the way to it."""
    if path and path[-1] in UNUSED and not (path[-1] == "at" and "told" in path):
        return
    yield path, of
    pairs = of.items() if isinstance(of, dict) else enumerate(of) if isinstance(of, list) else ()
    for key, value in pairs:
        yield from values(value, (*path, key))


def kinds_of_place() -> dict[Path, Path]:
    """One way for each kind of place: the first rule stands for all rules, but that each key of any of them counts."""
    found: dict[Path, Path] = {}
    for path, _ in values(data()):
        found.setdefault(tuple("*" if isinstance(p, int) and path[0] != "choices" else p for p in path), path)
    return found


def changed(path: Path, value: Any) -> dict[str, Any]:
    made = copy.deepcopy(data())
    inner: Any = made
    for part in path[:-1]:
        inner = inner[part]
    inner[path[-1]] = value
    return made


def at(path: Path) -> Any:
    inner: Any = data()
    for part in path:
        inner = inner[part]
    return inner


def others(value: Any) -> list[Any]:
    """Values of every other type."""
    every: list[Any] = [7, "x y", [], {}, None, True, 1.5, [None], {"a": None}]
    return [one for one in every if type(one) is not type(value)]


@pytest.mark.parametrize("path", [p for k, p in kinds_of_place().items() if k], ids=lambda p: ".".join(map(str, p)))
def test_a_value_of_another_type_is_refused(path: Path) -> None:
    free = {("choices", "only"), ("choices", "units"), ("choices", "without")}
    for other in others(at(path)):
        if path in free or (path[0] == "items" and path[-1] == "order" and other is None):
            continue
        if at(path) is None and other is None:
            continue
        with pytest.raises(FAILURES):
            built(changed(path, other))


@pytest.mark.parametrize(
    "path",
    [p for k, p in kinds_of_place().items() if k and isinstance(p[-1], str)],
    ids=lambda p: ".".join(map(str, p)),
)
def test_a_key_that_is_left_out_is_missed(path: Path) -> None:
    if path[-2:-1] in (("scope",), ("pool",)) or path[-1] in ("upper", "by", "per", "choice", "named"):
        return
    made = copy.deepcopy(data())
    inner: Any = made
    for part in path[:-1]:
        inner = inner[part]
    del inner[path[-1]]
    with pytest.raises(KeyError):
        built(made)


@pytest.mark.parametrize(
    ("choices", "read"),
    [
        ({"units": None, "without": [], "only": None}, ("", (), None)),
        ({"units": "metric", "without": ["a"], "only": []}, ("metric", ("a",), ())),
        ({"units": "us", "without": [], "only": ["b", "c"]}, ("us", (), ("b", "c"))),
    ],
)
def test_what_was_chosen_comes_back(choices: dict[str, Any], read: tuple[Any, ...]) -> None:
    found = built({**data(), "choices": choices}).choices
    assert (found.units, found.without, found.only) == read


@pytest.mark.parametrize("units", ["", "imperial", None])
def test_units_are_one_of_two(units: str | None) -> None:
    for path in (("units",), ("choices", "units")):
        if units is None and path[0] == "choices":
            continue
        with pytest.raises(FAILURES):
            built(changed(path, units))


@pytest.mark.parametrize(
    ("name", "layer"),
    [
        ("default", DEFAULT),
        ("house", HOUSE),
        ("specification", SPECIFICATION),
        ("override", OVERRIDE),
        ("addendum 1", addendum(1)),
        ("addendum 12", addendum(12)),
    ],
)
def test_layers_come_back_by_name(name: str, layer: object) -> None:
    assert built(changed(("rules", 0, "layer"), name)).rules[0].layer == layer


@pytest.mark.parametrize(
    "name", ["addendum 0", "addendum", "addendum 01", "addendum 1234567", "addendum 1 ", "Default", ""]
)
def test_a_layer_that_is_none_is_refused(name: str) -> None:
    with pytest.raises(FAILURES):
        built(changed(("rules", 0, "layer"), name))


@pytest.mark.parametrize(
    ("value", "unit", "amount"),
    [
        ("250", "sq ft", Amount.read("250 sq ft")),
        ("1/3", "gal", Amount.of(Fraction(1, 3), "gal")),
        ("-5", "each", Amount.of(-5)),
        ("7", "lb/sq ft", Amount.read("7 lb") / Amount.read("1 sq ft")),
        ("2", "1/ft", Amount.of(2) / Amount.read("1 ft")),
        ("3", "lb·ft", Amount.read("3 lb") * Amount.read("1 ft")),
    ],
)
def test_exact_numbers_come_back_in_their_units(value: str, unit: str, amount: Amount) -> None:
    found = built(changed(("rules", 0, "amount"), {"value": value, "unit": unit})).rules[0].amount
    assert found == amount
    assert found.unit.dimension == amount.unit.dimension


@pytest.mark.parametrize("value", ["", "x", "1.5", "1/0", "1 / 2", "0x10", "1/", "/2", "+1", "9" * 4001])
def test_what_is_no_exact_number_is_refused(value: str) -> None:
    with pytest.raises(FAILURES):
        built(changed(("rules", 0, "amount", "value"), value))


ODD = [
    (("rules", 0, "source"), 99, "a rule stands in a text that is not there"),
    (("rules", 0, "source"), -1, "a rule stands in a text that is not there"),
    (("rules", 0, "span"), [0, 10**9], "a place lies outside its text"),
    (("rules", 0, "span"), [5, 4], "a place lies outside its text"),
    (("rules", 0, "span"), [-1, 4], "a place lies outside its text"),
    (("rules", 0, "span"), [True, 4], "a place lies outside its text"),
    (("texts", 1, "numbers", 0), [0, 10**9, "unread", "x"], "a place lies outside its text"),
    (("items", 0, "rules"), [10**6], "a line names a rule that is not there"),
    (("items", 0, "rules"), [-1], "a line names a rule that is not there"),
    (("texts", 1, "as"), "job", "its first text is the job file, and no other is"),
    (("texts", 0, "as"), "schedule", "its first text is the job file, and no other is"),
]


def sound(path: Path) -> Path:
    """The same way, to the first text with numbers in its account where it leads to one."""
    if path[:1] == ("texts",) and "numbers" in path:
        number = next(n for n, t in enumerate(data()["texts"]) if t.get("numbers"))
        return ("texts", number, *path[2:])
    return path


@pytest.mark.parametrize(("path", "value", "said"), ODD)
def test_what_is_well_formed_and_cannot_be_is_told_with_the_way_to_it(path: Path, value: Any, said: str) -> None:
    with pytest.raises(OddError, match=said) as caught:
        built(changed(sound(path), value))
    assert tuple(caught.value.path)[:1] == path[:1]
    wrong = changed(sound(path), value)
    found, (told,) = reopen(Source("x.json", json.dumps(wrong)), office().language.kinds)
    assert found is None
    if by_the_schema().is_valid(wrong):
        assert told.message == f"x.json cannot be used: {said}."
    else:
        assert told.message.startswith(
            "x.json has something wrong in it: rules[0]"
            if path[0] == "rules"
            else "x.json has something wrong in it: items[0]"
        )


def test_a_rule_for_none_of_something_and_two_lines_of_one_name_are_told() -> None:
    number = next(n for n, r in enumerate(data()["rules"]) if "per" in r)
    with pytest.raises(OddError, match="for none of something") as caught:
        built(changed(("rules", number, "per", "value"), "0"))
    assert caught.value.path == ("rules", number, "per")
    twice = changed(("items", 1, "id"), data()["items"][0]["id"])
    with pytest.raises(OddError, match="two lines are called") as caught:
        built(twice)
    assert caught.value.path == ("items", 1, "id")


def test_all_that_was_written_comes_back() -> None:
    found, told = built(data()), data()
    assert (found.name, found.units, found.language) == ("Net loft", "us", office().mark)
    assert found.job.text == JOB
    assert [p.layer.name for p in found.papers] == ["house", "specification", "addendum 1"]
    assert [name for name, _ in found.defaults] == ["board", "coatings", "fasteners", "joints"]
    assert [(q.text, q.to, list(q.items)) for q in found.questions] == [
        (q["text"], q["to"], q["items"]) for q in told["questions"]
    ]
    assert found.missing == ()
    for line, one in zip(found.items, told["items"], strict=True):
        assert (line.id, line.trade, line.product, dict(line.pool)) == (
            one["id"],
            one["trade"],
            one["product"],
            one["pool"],
        )
        assert (list(line.rules), list(line.notes), list(line.working)) == (one["rules"], one["notes"], one["working"])
        order = one["order"]
        assert (line.count, line.container) == ((None, "") if order is None else (order["count"], order["container"]))
    for rule, one in zip(found.rules, told["rules"], strict=True):
        assert rule.says() == one["says"]
        assert (rule.bound, rule.cited, [list(b) for b in rule.bound_by]) == (
            one["bound"],
            one["cited"],
            one["bound_by"],
        )
        origin = rule.amount.step.origin
        assert {"key": origin.key, "text": origin.text, "note": origin.note} == one["origin"]
        assert origin.place == rule.span
    rules_of_papers = [r for p in found.papers for r in p.reading.rules]
    assert rules_of_papers == [r for r in found.rules if r.layer.rank in (1, 2, 3)]
    numbers = [n for p in found.papers for n in p.reading.numbers]
    assert {n.became for n in numbers} == {"set aside", "unread"}
    assert all(n.why for n in numbers)


def test_a_kind_that_nobody_knows_today_is_kept_by_its_name() -> None:
    found = built(changed(("rules", 0, "kind"), "hue")).rules[0]
    assert (found.kind.name, found.kind.amount) == ("hue", frozenset())
    assert built(data()).rules[0].kind is office().language.kinds[data()["rules"][0]["kind"]]


def test_reading_back_and_writing_again_gives_the_same_text() -> None:
    assert json.loads(net_loft())["name"] == built(json.loads(net_loft())).name
