"""Commands over a folder of saved estimates, and whether their JSON keeps to its schema."""

from __future__ import annotations

import json
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any

import jsonschema
from click.testing import CliRunner, Result

from darby.cli import cli
from darby.plugin_host.loader import load_plugins
from darby.rules.rule import HOUSE, SPECIFICATION, addendum
from darby.saved.model import Choices
from darby.saved.replay.one import Office
from darby.saved.writer import text_of
from darby.text.spans import Source

JOB = """\
name = "Rope walk"
units = "us"

[[walls]]
name = "long wall"
length = "96 ft"
height = "10 ft"
faces = 2

[[ceilings]]
name = "loft"
length = "96 ft"
width = "31 ft 6 in"

[[openings]]
name = "gate"
wall = "long wall"
width = "9 ft"
height = "8 ft"
count = 2

[[corners]]
kind = "outside"
count = 4
height = "10 ft"
"""
SPEC = "A. Walls: one coat primer, two coats satin finish paint.\nB. Primer: 250 sq ft per gallon.\nGYPSUM BOARD\n"
LINES = "Joint compound: 13 lb per 100 sq ft. [our jobs]\nJoint compound comes in 64 lb pails.\n"
DEARER = LINES.replace("13 lb", "26 lb")


@cache
def office(without: tuple[str, ...] = ()) -> Office:
    return Office.of(load_plugins(without=without))


@cache
def saved(
    job: str = JOB, spec: str = SPEC, house: str = LINES, more: str = "", units: str = "", without: tuple[str, ...] = ()
) -> str:
    papers = [(Source("house.txt", house), HOUSE), (Source("spec.txt", spec), SPECIFICATION)]
    papers += [(Source("addendum.txt", more, "page"), addendum(1))] if more else []
    worked = office(without).work(Source("job.toml", job), papers, Choices(units, without))
    assert worked.saved is not None, worked.problems
    return text_of(worked.saved)


def run(*arguments: str | Path, given: str = "") -> Result:
    return CliRunner().invoke(cli, [str(a) for a in arguments], input=given, standalone_mode=False)


@cache
def checker(name: str) -> jsonschema.Draft202012Validator:
    schema = json.loads((files("darby") / "schemas" / f"{name}.schema.json").read_text("utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    return jsonschema.Draft202012Validator(schema)


def replayed(folder: Path, *more: str | Path, code: int, given: str = "") -> dict[str, Any]:
    done = run("replay", folder, "--format", "json", *more, given=given)
    assert done.return_value == code, done.output
    return sound("replay", done)


def sound(name: str, done: Result) -> dict[str, Any]:
    data: dict[str, Any] = json.loads(done.stdout)
    checker(name).validate(data)
    return data


ROPES = """\
from pathlib import Path
from darby.plugin_host.hooks import hookimpl
from darby.estimate.line_item import LineItem
from darby.estimate.trade import Trade

DARBY_API = 1


def line_items(job, rules):
    if (Path(__file__).parent / "broken").exists():
        raise RuntimeError("out of rope")
    return [LineItem("rope", corner.count * corner.height) for corner in job.corners]


@hookimpl
def darby_trades():
    return [Trade("ropes", "Ropes", line_items)]
"""
