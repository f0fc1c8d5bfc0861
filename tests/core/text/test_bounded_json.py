"""JSON within bounds: every value is found where it stands."""

from __future__ import annotations

import json
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from darby.text.bounded_json import locate
from darby.text.spans import Source


@given(st.recursive(st.none() | st.integers() | st.text(), lambda t: st.lists(t) | st.dictionaries(st.text(), t)))
@settings(max_examples=60, deadline=None)
def test_every_value_is_found_where_it_stands(data: Any) -> None:
    source = Source("x.json", json.dumps(data, indent=1))

    def check(value: Any, path: tuple[str | int, ...]) -> None:
        at = locate(source, path).start
        assert json.JSONDecoder().raw_decode(source.text, at)[0] == value
        pairs = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
        for key, part in pairs:
            check(part, (*path, key))

    check(data, ())
