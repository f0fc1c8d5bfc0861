"""A reading as JSON."""

from __future__ import annotations

import json
from importlib.resources import files

import jsonschema
import pytest

import made
from darby.documents.exact_json import reading as reading_json


def checker(name: str) -> jsonschema.Draft202012Validator:
    schema = json.loads((files("darby") / "schemas" / f"{name}.schema.json").read_text("utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    return jsonschema.Draft202012Validator(schema)


@pytest.mark.parametrize("explain", [True, False])
def test_a_reading_is_what_its_schema_says(explain):
    checker("reading").validate(json.loads(reading_json.make([made.reading()], explain=explain)))


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
