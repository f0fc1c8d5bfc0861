"""The bid as JSON, held against its schema."""

from __future__ import annotations

import json
from decimal import Decimal
from importlib.resources import files
from typing import Any

import jsonschema
import pytest

from bids import ROOM, bid_of, bidding, made
from darby.bid.sheet.to_json import bid_json, make, refused_json

SCHEMA = json.loads((files("darby") / "schemas" / "bid.schema.json").read_text(encoding="utf-8"))
CHECK = jsonschema.Draft202012Validator(SCHEMA)


def test_the_schema_is_a_schema() -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMA)


def test_a_bid_is_of_its_schema_and_adds_up() -> None:
    data = json.loads(make(made()))
    CHECK.validate(data)
    assert sum(Decimal(s) for s in data["direct"].values()) + sum(
        Decimal(m["sum"]) for m in data["markups"]
    ) == Decimal(data["price"])
    assert not data["complete"]


def test_a_refused_bid_is_of_the_schema_too() -> None:
    _, told = bidding('markups = ["x"]')
    data = refused_json(told)
    CHECK.validate(data)
    assert [d["code"] for d in data["diagnostics"]] == ["markup-line"]


def test_an_empty_bid_is_of_the_schema() -> None:
    CHECK.validate(bid_json(bid_of("", ROOM)))


def broken(change: str) -> Any:
    data = json.loads(make(made()))
    if change == "float":
        data["price"] = 12.5
    elif change == "key":
        data["prize"] = "12.50"
    else:
        data["open"][0]["what"] = "maybe"
    return data


@pytest.mark.parametrize("change", ["float", "key", "word"])
def test_the_schema_refuses_what_is_otherwise(change: str) -> None:
    assert not CHECK.is_valid(broken(change))
