"""Values of every JSON document are exact strings."""

from __future__ import annotations

import json
from fractions import Fraction
from importlib.resources import files

import jsonschema

import made
from darby.documents.exact_json import estimate as to_json


def checker(name: str) -> jsonschema.Draft202012Validator:
    schema = json.loads((files("darby") / "schemas" / f"{name}.schema.json").read_text("utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    return jsonschema.Draft202012Validator(schema)


def test_the_schemas_refuse_a_float_where_a_value_belongs():
    data = json.loads(to_json.make(made.estimate()))
    data["items"][0]["need"]["value"] = 54.88
    assert not checker("estimate").is_valid(data)


def test_every_value_is_an_exact_string():
    data = json.loads(to_json.make(made.estimate()))
    values = [Fraction(line["value"]) for item in data["items"] for line in item["working"]]
    assert Fraction("54.88") in values
