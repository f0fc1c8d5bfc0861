"""All that `compare` and `replay` print as JSON is as their schemas say, and the schemas refuse what is not."""

from __future__ import annotations

import copy
import json
import re
from collections.abc import Iterator
from fractions import Fraction
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest

from checkout import ROOT
from walks import DEARER, JOB, LINES, ROPES, SPEC, checker, replayed, run, saved, sound


def compared(folder: Path, one: str, other: str, code: int = 1) -> dict[str, Any]:
    (folder / "one.json").write_text(one, encoding="utf-8")
    (folder / "other.json").write_text(other, encoding="utf-8")
    done = run("compare", folder / "one.json", folder / "other.json", "--format", "json")
    assert done.return_value == code, done.output
    return sound("comparison", done)


def parts(data: Any) -> Iterator[dict[str, Any]]:
    """Every object in some data."""
    inner = data.values() if isinstance(data, dict) else data if isinstance(data, list) else ()
    if isinstance(data, dict):
        yield data
    for part in inner:
        yield from parts(part)


def test_nothing_moved(tmp_path: Path) -> None:
    data = compared(tmp_path, saved(), saved(), 0)
    assert data["same"]
    assert not [key for key in ("items", "rules", "measures", "plugins") if data[key]]


def test_a_changed_rule_with_its_clause_on_both_sides_and_what_it_does_alone(tmp_path: Path) -> None:
    (item,) = compared(tmp_path, saved(), saved(house=DEARER))["items"]
    (cause,) = item["causes"]
    assert (item["became"], item["ordered"], cause["changes"][0]["of"]) == ("changed", True, "rule")
    assert cause["changes"][0]["before"]["cited"] == "our jobs"
    assert cause["alone"] == item["after"]


def test_lines_that_are_new_and_gone(tmp_path: Path) -> None:
    """Another sheen is another line."""
    data = compared(tmp_path, saved(), saved(spec=SPEC.replace("satin", "eggshell")))
    assert {i["became"] for i in data["items"]} >= {"added", "gone"}
    assert {i["became"]: (i["before"] is None, i["after"] is None) for i in data["items"]}.items() >= {
        "added": (True, False), "gone": (False, True)
    }.items()  # fmt: skip


def test_a_need_that_moved_and_the_same_packages_hold_it(tmp_path: Path) -> None:
    data = compared(tmp_path, saved(), saved(house=LINES.replace("13 lb", "13.01 lb")))
    (item,) = data["items"]
    assert (item["ordered"], item["packages"]) == (False, 0)
    assert Fraction(item["after"]["need"]["value"]) > Fraction(item["before"]["need"]["value"])


def test_rows_new_gone_and_changed(tmp_path: Path) -> None:
    job = JOB.replace("count = 2", "count = 1").replace("[[corners]]", '[[walls]]\nname = "shed"\narea = "900 sq ft"\nfaces = 1\n\n[[corners]]')  # fmt: skip
    job = job[: job.index("[[corners]]")]
    data = compared(tmp_path, saved(house="Deduct all openings.\n" + LINES), saved(job, house="Deduct all openings.\n" + LINES))  # fmt: skip
    assert {(m["before"] is None, m["after"] is None) for m in data["measures"]} == {
        (True, False), (False, True), (False, False)
    }  # fmt: skip
    assert {c["of"] for i in data["items"] for cause in i["causes"] for c in cause["changes"]} == {"row"}


def test_changes_that_move_a_line_only_together(tmp_path: Path) -> None:
    job = 'name = "x"\nunits = "us"\n[[walls]]\nname = "a"\narea = "{} sq ft"\nfaces = 1\n'
    spec = "A. Walls: one coat primer.\nB. Primer: {} sq ft per gallon.\n"
    house = "Primer comes in 5 gal pails.\nPrimer waste: 0 %.\n"
    data = compared(tmp_path, saved(job.format(4000), spec.format(250), house), saved(job.format(4500), spec.format(223), house))  # fmt: skip
    (item,) = (i for i in data["items"] if i["before"]["product"] == "primer")
    assert ["only together" in cause["text"] for cause in item["causes"]] == [True, True]


def test_a_group_of_changes_that_were_not_told_apart(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Too many rows to try each: the search stops, and says so."""
    monkeypatch.setattr("darby.saved.replay.causes._MOST_RUNS", 4)
    monkeypatch.setattr("darby.saved.replay.causes._FEWEST_RUNS", 4)
    walls = "".join(f'[[walls]]\nname = "w{n}"\nlength = "{{}} ft"\nheight = "9 ft"\nfaces = 1\n' for n in range(16))
    one, other = (saved('name = "x"\nunits = "us"\n' + walls.format(*range(first, first + 16))) for first in (10, 31))
    data = compared(tmp_path, one, other)
    assert max(len(cause["changes"]) for i in data["items"] for cause in i["causes"]) > 1


def test_other_units(tmp_path: Path) -> None:
    data = compared(tmp_path, saved(), saved(units="metric"))
    assert data["measures"][-1] == {
        "of": "units", "text": "units of the job us to metric", "before": "us", "after": "metric"
    }  # fmt: skip
    assert any(i["packages"] is None for i in data["items"])


def test_a_trade_that_took_no_part_is_the_cause_and_no_change_is(tmp_path: Path) -> None:
    data = compared(tmp_path, saved(), saved(without=("fasteners",)))
    gone = [i for i in data["items"] if i["became"] == "gone"]
    assert gone
    assert {cause["text"] for i in gone for cause in i["causes"]} == {"the trade fasteners took no part now"}
    assert [p for p in data["plugins"] if p["after"] is None] == [
        {"name": "fasteners", "before": json.loads(saved())["plugins"][0]["version"], "after": None}
    ]


def test_a_line_without_a_known_package_has_no_order(tmp_path: Path) -> None:
    (tmp_path / "ropes.py").write_text(ROPES)
    (tmp_path / "job.toml").write_text(JOB + '[plugins]\nfiles = ["ropes.py"]\n')
    (tmp_path / "jobs").mkdir()
    saving = ("--save", tmp_path / "jobs" / "a.json")
    assert run("estimate", tmp_path / "job.toml", "--run-plugins", *saving).return_value == 0
    (tmp_path / "job.toml").write_text(JOB.replace("count = 4", "count = 7") + '[plugins]\nfiles = ["ropes.py"]\n')
    done = run("compare", tmp_path / "jobs" / "a.json", tmp_path / "job.toml", "--run-plugins", "--format", "json")
    rope = next(i for i in sound("comparison", done)["items"] if i["before"]["product"] == "rope")
    assert (rope["before"]["order"], rope["after"]["order"], rope["packages"]) == (None, None, None)
    (moved,) = replayed(tmp_path / "jobs", code=3)["files"][0]["moved"]  # away from its plugin
    assert (moved["before"]["order"], moved["after"], moved["packages"]) == (None, None, None)


def test_a_clause_on_a_page_is_told_with_its_page(tmp_path: Path) -> None:
    data = compared(tmp_path, saved(), saved(more="Addendum 1\n\fPrimer: 175 sq ft per gallon.\n"))
    assert {r["after"]["source"].get("page") for r in data["rules"] if r["before"] is None} == {2}
    assert {r["after"]["layer"] for r in data["rules"]} == {"addendum 1"}


def test_a_range_and_a_size_are_whole_rules(tmp_path: Path) -> None:
    spec = SPEC + "C. Finish paint: 350 to 400 sq ft per gallon.\nD. Gypsum board: 4 ft x 12 ft sheets.\n"
    data = compared(tmp_path, saved(), saved(spec=spec))
    assert {key for rule in data["rules"] for key in rule["after"]} >= {"upper", "by", "per"}


ROOMS = "name,length,width,height\nNet room,12 ft,10 ft,8 ft\nOar room,20 ft,10 ft,8 ft\n"


def test_rows_of_a_schedule_and_a_job_as_it_is_now(tmp_path: Path) -> None:
    job = 'name = "Tide hall"\nunits = "us"\nschedules = ["rooms.csv"]\n'
    (tmp_path / "job.toml").write_text(job)
    (tmp_path / "rooms.csv").write_text(ROOMS)
    assert run("estimate", tmp_path / "job.toml", "--save", tmp_path / "a.json").return_value == 0
    (tmp_path / "rooms.csv").write_text(ROOMS.replace("20 ft", "40 ft"))
    done = run("compare", tmp_path / "a.json", tmp_path / "job.toml", "--format", "json")
    assert done.return_value == 1
    data = sound("comparison", done)
    (change,) = data["measures"]
    assert [(side["file"], side["line"], side["values"]["length"]) for side in (change["before"], change["after"])] == [
        ("rooms.csv", 3, "20 ft"), ("rooms.csv", 3, "40 ft")
    ]  # fmt: skip
    assert all(cause["changes"] == [change] for item in data["items"] for cause in item["causes"])


def test_what_cannot_be_compared_is_all_there_is(tmp_path: Path) -> None:
    data = compared(tmp_path, saved()[:900], "[]", 2)
    assert [d["code"] for d in data["diagnostics"]] == ["saved-damaged", "saved-damaged"]
    (tmp_path / "job.toml").write_text('name = "x"\nunits = "us"\n[[walls]]\nname = "a"\nlength = "long"\n')
    done = run("compare", tmp_path / "nowhere.json", tmp_path / "job.toml", "--format", "json")
    assert done.return_value == 2
    assert len(sound("comparison", done)["diagnostics"]) > 1


def test_an_estimate_in_which_a_trade_failed_names_it(tmp_path: Path) -> None:
    (tmp_path / "ropes.py").write_text(ROPES)
    (tmp_path / "job.toml").write_text(JOB + '[plugins]\nfiles = ["ropes.py"]\n')
    assert run("estimate", tmp_path / "job.toml", "--run-plugins", "--save", tmp_path / "a.json").return_value == 0
    (tmp_path / "broken").touch()
    done = run("compare", tmp_path / "a.json", tmp_path / "job.toml", "--run-plugins", "--format", "json")
    assert done.return_value == 3
    assert sound("comparison", done)["missing"] == {"before": [], "after": ["ropes"]}


def test_the_schemas_are_strict_all_through() -> None:
    for name in ("comparison", "replay", "history"):
        schema = json.loads((files("darby") / "schemas" / f"{name}.schema.json").read_text("utf-8"))
        assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
        assert schema["$id"] == f"darby.{name}/1"
        for part in parts(schema):
            if part.get("type") == "object" and "properties" in part:
                assert part["additionalProperties"] is False, part
                assert part["required"], part
            references = [v for k, v in part.items() if k == "$ref"]
            assert all(r.removeprefix("#/$defs/") in schema["$defs"] for r in references)
        used = set(re.findall(r'"#/\$defs/(\w+)"', json.dumps(schema)))
        assert used == set(schema["$defs"])


@pytest.fixture(scope="module")
def both(tmp_path_factory: pytest.TempPathFactory) -> dict[str, dict[str, Any]]:
    folder = tmp_path_factory.mktemp("both")
    comparison = compared(folder, saved(), saved(house=DEARER, spec=SPEC.replace("satin", "eggshell")))
    (folder / "house.txt").write_text(DEARER)
    return {"comparison": comparison, "replay": replayed(folder / "one.json", "--house", folder / "house.txt", code=1)}


@pytest.mark.parametrize("name", ["comparison", "replay"])
def test_no_key_can_be_missing_and_none_can_be_more(both: dict[str, dict[str, Any]], name: str) -> None:
    whole = both[name]
    optional = {"cited", "upper", "by", "per", "page", "paragraph", "help", "label", "more"}
    free = {"pool", "scope", "values"}

    def harmed(data: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[tuple[Any, ...], str]]:
        if isinstance(data, dict):
            if not (path and path[-1] in free):
                yield path, "surplus"
                yield from ((path, key) for key in data if key not in optional)
            for key, part in data.items():
                yield from harmed(part, (*path, key))
        elif isinstance(data, list):
            for n, part in enumerate(data[:3]):
                yield from harmed(part, (*path, n))

    tried = 0
    for path, key in harmed(whole):
        data = copy.deepcopy(whole)
        at: Any = data
        for step in path:
            at = at[step]
        if key == "surplus":
            at["surplus"] = ""
        else:
            del at[key]
        assert not checker(name).is_valid(data), (path, key)
        tried += 1
    assert tried > 50


@pytest.mark.parametrize("value", [54.88, 54, "54.88", "1e3", "1/0", "1/01", "", " 1", "١", "+1", "0x10", None])
def test_a_value_is_an_exact_string(both: dict[str, dict[str, Any]], value: Any) -> None:
    comparison, replay = copy.deepcopy(both["comparison"]), copy.deepcopy(both["replay"])
    side = next(i for i in comparison["items"] if i["before"] is not None)["before"]
    side["need"]["value"] = value
    replay["files"][0]["moved"][0]["after"]["need"]["value"] = value
    assert not checker("comparison").is_valid(comparison)
    assert not checker("replay").is_valid(replay)


def test_every_value_printed_is_what_a_fraction_takes(both: dict[str, dict[str, Any]]) -> None:
    values = [p["value"] for data in both.values() for p in parts(data) if set(p) == {"value", "unit"}]
    assert len(values) > 20
    assert [str(Fraction(v)) for v in values] == values


@pytest.mark.parametrize(
    ("name", "path", "value"),
    [
        ("comparison", ("same",), True),
        ("comparison", ("items",), []),
        ("comparison", ("items", 0, "causes"), []),
        ("comparison", ("items", 0, "became"), "changed"),
        ("comparison", ("diagnostics",), []),
        ("comparison", ("rules", 0, "of"), "row"),
        ("comparison", ("rules", 0), {"of": "rule", "text": "x", "before": None, "after": None}),
        ("comparison", ("measures",), [{"of": "units", "text": "x", "before": "us", "after": None}]),
        ("replay", ("files", 0, "became"), "same"),
        ("replay", ("files", 0, "became"), "failed"),
        ("replay", ("files", 0, "problem"), "It is worn."),
        ("replay", ("files", 0, "moved"), []),
        ("replay", ("files", 0, "moved", 0, "packages"), "8"),
        ("replay", ("totals", 0, "jobs"), 0),
        ("replay", ("stopped",), None),
    ],
    ids=str,
)  # fmt: skip
def test_what_contradicts_itself_is_refused(
    both: dict[str, dict[str, Any]], name: str, path: tuple[Any, ...], value: Any
) -> None:
    data = copy.deepcopy(both[name])
    assert checker(name).is_valid(data)
    at: Any = data
    for step in path[:-1]:
        at = at[step]
    at[path[-1]] = value
    assert not checker(name).is_valid(data)


def test_each_schema_is_named_for_developers() -> None:
    guide = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    for path in (files("darby") / "schemas").iterdir():
        assert f"`{path.name}`" in guide, path.name
