"""TOML with places: every value where it stands, whatever the file is."""

from __future__ import annotations

import json
import tomllib
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from darby.job.loader import load
from darby.text.diagnostics import Severity
from darby.text.spans import Source
from darby.text.toml_places import read_toml
from two_offices import GOOD, MARKS

_keys = st.sampled_from(["a", "b-1", '"c d"', "'e.f'", '"\\u0067"', "h"])
_text = st.text(alphabet=st.sampled_from(list("ab 12'\"\\\n[]{}=#,.é")), max_size=8)


def _spelled(text: str, how: int) -> str:
    if how == 1 and "'" not in text and "\n" not in text:
        return f"'{text}'"
    if how == 2 and "'" not in text and not text.startswith("\n"):
        return f"'''{text}'''"
    if how == 3 and "\\" not in text and '"' not in text and not text.startswith("\n"):
        return f'"""{text}"""'
    return json.dumps(text, ensure_ascii=False)


_scalars = st.one_of(st.builds(_spelled, _text, st.integers(0, 3)), st.integers(-99, 99).map(str), st.just("true"), st.just("2020-01-02 03:04:05"), st.just("1.50"))  # fmt: skip
_values = st.recursive(
    _scalars,
    lambda inner: st.one_of(
        st.lists(inner, max_size=3).map(lambda items: "[ " + ", ".join(items) + " ]"),
        st.lists(inner, min_size=1, max_size=3).map(lambda items: "[ # one\n" + ",\n".join(items) + ",\n]"),
        st.dictionaries(_keys, inner, max_size=3).map(
            lambda d: "{" + ", ".join(f"{k} = {v}" for k, v in d.items()) + "}"
        ),
    ),
    max_leaves=6,
)
_pairs = st.dictionaries(_keys, _values, max_size=3).map(
    lambda d: "".join(f"{k}  = {v} # said\n" for k, v in d.items())
)


@st.composite
def _documents(draw: st.DrawFn) -> str:
    text = draw(_pairs)
    for number in range(draw(st.integers(0, 4))):
        text += draw(
            st.sampled_from([f"[t{number}]", "[[rows]]", "[[ rows ]]", f"[rows_{number}.'x y']", "[[more.rows]]"])
        )
        text += " # header\n" + draw(_pairs)
    return draw(st.sampled_from([text, text.replace("\n", "\r\n")]))


def _leaves(value: Any, path: tuple[str | int, ...] = ()) -> Any:
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from _leaves(inner, (*path, key))
    elif isinstance(value, list):
        for number, inner in enumerate(value):
            yield from _leaves(inner, (*path, number))
    else:
        yield path, value


@given(_documents())
def test_every_value_of_a_toml_text_has_its_own_place(text: str) -> None:
    source = Source("any.toml", text)
    data, places, mistakes = read_toml(source)
    try:
        expected = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        assert mistakes
        return
    assert (data, mistakes) == (expected, ())
    for path, value in _leaves(data):
        assert path in places.known, path
        place = places.at(path)
        written = place.value.text
        if isinstance(value, str):
            start, end = place.value.start, place.value.end
            assert text[start - 1] == text[end] in "\"'"
            quotes = text[end : end + 3] if text[end : end + 3] in ('"""', "'''") and written else text[end]
            assert tomllib.loads(f"k = {quotes}{written}{quotes}")["k"] == value
        else:
            assert tomllib.loads(f"k = {written}")["k"] == value


@given(st.integers(0, len(GOOD)), st.integers(0, 12), st.text(alphabet="\"'[]{}=#.,\n\r\\ 0a\x00\ufeff", max_size=5))
def test_a_damaged_file_gives_a_job_or_errors_with_places(at: int, gone: int, put: str) -> None:
    source = Source("job.toml", GOOD[:at] + put + GOOD[at + gone :])
    made, found = load(source, MARKS)
    assert (made is None) == any(d.severity is Severity.ERROR for d in found)
    for one in found:
        assert one.code.startswith("job-")
        assert one.message
        assert one.span is not None
        assert 0 <= one.span.start <= one.span.end <= len(source.text)
