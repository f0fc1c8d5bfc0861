"""The JSON documents keep the contract: shapes by schema, exact values, equal texts for equal estimates."""

from __future__ import annotations

import json
from fractions import Fraction
from importlib.resources import files

import jsonschema
import pytest

import made
from darby.documents.exact_json import estimate as to_json
from darby.documents.exact_json import reading as reading_json
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


@pytest.mark.parametrize("explain", [True, False])
def test_a_reading_is_what_its_schema_says(explain):
    checker("reading").validate(json.loads(reading_json.make([made.reading()], explain=explain)))


def test_the_schemas_refuse_a_float_where_a_value_belongs():
    data = json.loads(to_json.make(made.estimate()))
    data["items"][0]["need"]["value"] = 54.88
    assert not checker("estimate").is_valid(data)


def test_every_value_is_an_exact_string():
    data = json.loads(to_json.make(made.estimate()))
    values = [Fraction(line["value"]) for item in data["items"] for line in item["working"]]
    assert Fraction("54.88") in values


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


def test_every_number_of_a_reading_names_its_file_and_place():
    numbers = json.loads(reading_json.make([made.reading()]))["numbers"]
    assert numbers[-1] == {
        "text": "840", "file": "section.txt", "line": 6, "column": 10, "became": "unread", "why": "a number with no unit",
    }  # fmt: skip


def test_how_a_subject_was_found_is_told_only_when_asked():
    plain = json.loads(reading_json.make([made.reading()]))["rules"][0]
    explained = json.loads(reading_json.make([made.reading()], explain=True))["rules"][0]
    assert "bound_by" not in plain
    assert explained["bound_by"] == {"subject": "label before the colon"}
