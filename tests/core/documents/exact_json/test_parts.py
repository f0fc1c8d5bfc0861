"""Values of every JSON document are exact strings."""

from __future__ import annotations

import json
from fractions import Fraction
from importlib.resources import files
from typing import Any

import jsonschema
from hypothesis import example, given
from hypothesis import strategies as st

import made
from darby.documents.exact_json import estimate as to_json
from darby.documents.exact_json.parts import dump


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


KEYS = st.text(max_size=5)
VALUES = st.recursive(
    st.one_of(st.none(), st.booleans(), st.integers(), st.text(max_size=8)),
    lambda inner: st.one_of(st.lists(inner, max_size=3), st.tuples(inner, inner), st.dictionaries(KEYS, inner, max_size=3)),
    max_leaves=12,
)  # fmt: skip


@given(st.dictionaries(KEYS, VALUES, max_size=4))
@example({"empty": {}, "none": [], "pair": (1, '½ \u2028 "\\\n'), "deep": [[{"a": [{}]}]]})
def test_a_document_is_laid_out_as_json_itself_lays_it_out(data: dict[str, Any]) -> None:
    plain = json.dumps(data, indent=2, ensure_ascii=False).encode("utf-8", "replace").decode() + "\n"
    assert dump(data) == plain
    assert json.loads(dump(data)) == json.loads(plain)
