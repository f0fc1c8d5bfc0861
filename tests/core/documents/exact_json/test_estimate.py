"""The JSON documents keep the contract: shapes by schema, exact values, equal texts for equal estimates."""

from __future__ import annotations

import json
from importlib.resources import files

import jsonschema

import decks
import made
from darby.documents.exact_json import estimate as to_json
from darby.documents.exact_json.parts import package_json
from darby.quantities.amounts import Amount


def checker(name: str) -> jsonschema.Draft202012Validator:
    schema = json.loads((files("darby") / "schemas" / f"{name}.schema.json").read_text("utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    return jsonschema.Draft202012Validator(schema)


def test_an_estimate_is_what_its_schema_says():
    checker("estimate").validate(json.loads(to_json.make(made.estimate())))


def test_a_refused_job_is_what_the_schema_says():
    checker("estimate").validate(to_json.refused_json(made.estimate().diagnostics))


def test_need_and_order_are_as_the_contract_has_them():
    compound, primer, clip = json.loads(to_json.make(made.estimate()))["items"]
    assert compound["need"] == {"value": "1372/25", "unit": "lb"}
    assert compound["order"] == {"count": 1, "package": {"value": "64", "unit": "lb"}, "container": "pail"}
    assert (primer["id"], primer["pool"]) == ("coatings:primer:wall", {"surface": "wall"})
    assert clip["order"] is None


def test_each_line_of_the_working_says_where_it_is_from():
    compound = json.loads(to_json.make(made.estimate()))["items"][0]
    rate = next(line for line in compound["working"] if "per 100 sq ft" in line["text"])
    assert rate["from"] == [
        {
            "file": "trade/defaults.us.txt", "line": 1, "column": 1, "text": "Compound: 14 lb per 100 sq ft.",
            "by": "default", "kind": "consumption", "subject": "joint compound", "cited": "common practice",
        }
    ]  # fmt: skip


def test_goods_that_are_counted_in_a_box_are_each():
    boxes = Amount.of(100) / Amount.of(1, "box")
    assert package_json(boxes) == {"value": "100", "unit": "each"}
    assert package_json(Amount.of(1)) == {"value": "1", "unit": "each"}


def test_equal_estimates_are_equal_texts():
    assert to_json.make(made.estimate()) == to_json.make(made.estimate())


def test_rows_of_tables_of_trades_are_entries_with_all_that_their_keys_say():
    data = json.loads(to_json.make(decks.estimate()))
    checker("estimate").validate(data)
    deck, vent = data["job"]["entries"]
    assert deck == {
        "table": "decks", "name": "roof", "room": "Attic", "kind": "deck", "area": {"value": "240", "unit": "sq ft"},
        "faces": {"value": "1", "unit": "each"}, "file": "job.toml", "line": 11, "column": 9,
        "says": {
            "laid": "diagonal", "side": {"value": "18", "unit": "in"}, "shade": {"value": "1", "unit": "sq yd"},
            "hatches": {"value": "2", "unit": "each"}, "heated": True,
        },
    }  # fmt: skip
    assert vent["says"] == {"size": {"value": "6", "unit": "in"}, "maker": "Vale"}
    assert "kind" not in vent
    assert [(o["name"], o["surface"]) for o in data["job"]["openings"]] == [("skylight", "roof")]
    assert [s["name"] for s in data["job"]["surfaces"]] == ["north"]
    assert "entries" not in json.loads(to_json.make(made.estimate()))["job"]
