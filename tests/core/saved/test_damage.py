"""What is wrong with a saved estimate, in words and at its place: which part was changed, which value is none."""

from __future__ import annotations

import copy
import json
from itertools import pairwise
from typing import Any

import pytest

from darby.saved.damage import WAY_OUT, changed, explained
from darby.saved.reader import decoded, open_saved, read_saved, reopen
from darby.saved.writer import checksums, laid_out, parts_of
from darby.text.bounded_json import MOST_BYTES
from darby.text.diagnostics import Diagnostic
from darby.text.spans import Source
from lofts import net_loft, office


def data() -> dict[str, Any]:
    found: dict[str, Any] = json.loads(net_loft())
    del found["checks"]
    return found


def refused(text: str) -> Diagnostic:
    saved, told = reopen(Source("x.json", text), office().language.kinds)
    assert saved is None
    (one,) = told
    assert (one.code, one.help) == ("saved-damaged", WAY_OUT)
    return one


def with_value(*path: Any, value: Any) -> str:
    made = copy.deepcopy(data())
    inner: Any = made
    for part in path[:-1]:
        inner = inner[part]
    inner[path[-1]] = value
    return laid_out(made)


@pytest.mark.parametrize(
    ("path", "value", "said"),
    [
        (("name",), 7, "name is not of the type string"),
        (("items",), {}, "items is not of the type array"),
        (("items", 0, "order"), 7, "items[0].order is not what it should be"),
        (("items", 0, "need", "value"), "x", "items[0].need.value is not written as such a value is"),
        (("units",), "feet", "units is not us or metric"),
        (("rules", 0, "bound"), "nearly", "rules[0].bound is not exact or at least or at most or about"),
        (("rules", 0, "source"), -1, "rules[0].source is not what it should be"),
    ],
)
def test_a_value_that_is_none_is_named_with_what_it_should_be_at_its_place(
    path: tuple[Any, ...], value: Any, said: str
) -> None:
    one = refused(with_value(*path, value=value))
    assert one.message == f"x.json has something wrong in it: {said}."
    assert one.span is not None
    assert one.span.source.text[one.span.start :].startswith(json.dumps(value))


@pytest.mark.parametrize(
    ("path", "said"),
    [
        (("items", 0, "colour"), "items[0] has 'colour', which has no place there"),
        (("colour",), "the whole has 'colour', which has no place there"),
    ],
)
def test_a_key_that_has_no_place_is_named_where_nothing_else_is_wrong(path: tuple[Any, ...], said: str) -> None:
    wrong = json.loads(with_value(*path, value="red"))
    one = explained(Source("x.json", json.dumps(wrong)), wrong, KeyError("x"))
    assert one.message == f"x.json has something wrong in it: {said}."


def test_a_key_that_is_missing_is_named() -> None:
    made = data()
    del made["items"][0]["need"]
    assert refused(laid_out(made)).message == "x.json has something wrong in it: items[0] has no need."
    made = data()
    del made["name"]
    assert refused(laid_out(made)).message == "x.json has something wrong in it: the whole has no name."


def test_what_the_schema_lets_pass_is_told_in_the_words_of_whoever_refused_it() -> None:
    one = explained(Source("x.json", net_loft()), json.loads(net_loft()), KeyError("x"))
    assert one.message == "x.json cannot be used: its parts do not fit together (KeyError)."
    assert one.span is not None
    assert one.span.start == 0


def told(text: str, checks: Any) -> tuple[str, int] | None:
    found = changed(text, checks)
    if found is None:
        return None
    span, said = found(Source("x.json", text))
    return said, span.line


def test_a_sound_text_is_not_changed() -> None:
    assert told(net_loft(), checksums(net_loft())) is None
    assert told(net_loft(), json.loads(net_loft())["checks"]) is None


@pytest.mark.parametrize("part", [name for name, _, _ in parts_of(net_loft()) if name != "checks"])
def test_the_part_that_was_changed_is_named_with_its_lines(part: str) -> None:
    lines = {name: (first, last) for name, first, last in parts_of(net_loft())}
    first, last = lines[part]
    assert net_loft().split("\n")[first - 1].startswith(f'"{part}": ')
    wrong = {**checksums(net_loft()), part: "0" * 16}
    where = f"line {first}" if first == last else f"lines {first} to {last}"
    assert told(net_loft(), wrong) == (f"was changed after it was written: its {part}, {where}", first)
    less = {name: checksum for name, checksum in checksums(net_loft()).items() if name != part}
    assert told(net_loft(), less) == (f"was changed after it was written: its {part}, {where}", first)


def test_parts_follow_each_other_without_a_gap() -> None:
    found = list(parts_of(net_loft()))
    assert [name for name, _, _ in found] == [*data(), "checks"]
    assert found[0][1] == 2
    assert all(one[2] + 1 == other[1] for one, other in pairwise(found))
    assert found[-1][2] == net_loft().count("\n")


def test_checks_that_are_lost_or_of_parts_that_are_gone_are_told() -> None:
    assert told(net_loft(), None) == ("has lost its checks", 1)
    assert told(net_loft(), "x") == ("has lost its checks", 1)
    assert told(net_loft(), {**checksums(net_loft()), "prices" * 9: "0"}) == (
        f"has lost its part {('prices' * 9)[:40]}",
        1,
    )
    assert told(json.dumps(data()), {}) == ("is not laid out as Darby writes it, so that its checks cannot be held", 1)


def test_files_that_cannot_be_read_are_named(tmp_path: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "folder.json").mkdir()
    (tmp_path / "bytes.json").write_bytes(b"{\n\xff}")
    for name, code, said in (
        ("folder.json", "saved-damaged", "is no file"),
        ("gone.json", "file-missing", "is not there"),
        ("bytes.json", "saved-damaged", "holds bytes that are no text"),
    ):
        for read in (read_saved, open_saved):
            source, (one,) = read(tmp_path / name, name=name)
            assert source is None
            assert one.code == code
            assert said in one.message
            assert name in one.message
            assert (one.file or (one.span.source.name if one.span else "")) == name
    _, (one,) = read_saved(tmp_path / "folder.json")
    assert one.message.startswith(str(tmp_path / "folder.json"))

    def refuse(*_: Any, **__: Any) -> Any:
        raise PermissionError(13, "Permission denied")

    (tmp_path / "mine.json").write_text("{}")
    monkeypatch.setattr("pathlib.Path.open", refuse)
    source, (one,) = read_saved(tmp_path / "mine.json", name="mine.json")
    assert source is None
    assert (one.code, one.message, one.file) == (
        "file-unreadable",
        "mine.json cannot be opened: permission denied.",
        "mine.json",
    )


def test_a_file_as_large_as_an_estimate_may_be_is_read_and_one_byte_more_is_not() -> None:
    most, none = decoded(b" " * MOST_BYTES, "x.json")
    assert most is not None
    assert none == ()
    source, (one,) = decoded(b" " * (MOST_BYTES + 1), "x.json")
    assert source is None
    assert (one.message, one.file) == ("x.json is larger than 64 MB, and no saved estimate is.", "x.json")


def test_the_first_byte_that_is_no_text_is_pointed_at() -> None:
    source, (one,) = decoded("ä\nb".encode() + b"\xff" + b"c", "x.json")
    assert source is None
    assert one.span is not None
    assert (one.span.line, one.span.column, one.span.text) == (2, 2, "\ufffd")


@pytest.mark.parametrize(
    ("text", "code", "at"),
    [
        ("[]", "saved-damaged", "["),
        ('{"a": 1}', "saved-damaged", "{"),
        ('{"a": 1, "schema": "darby.estimate/1"}', "saved-damaged", '"darby.estimate/1"'),
        ('{"a": 1, "schema": 7}', "saved-damaged", "7"),
        ('{"a": 1, "schema": "darby.saved/2"}', "saved-newer", '"darby.saved/2"'),
        ('{"a": 1, "schema": "darby.saved/0"}', "saved-damaged", '"darby.saved/0"'),
        ('{"a": 1, "schema": "darby.saved/1234567"}', "saved-damaged", '"darby.saved/1234567"'),
    ],
)
def test_what_is_another_document_or_version_is_told_at_its_schema(text: str, code: str, at: str) -> None:
    saved, (one,) = reopen(Source("x.json", text), {})
    assert saved is None
    assert one.code == code
    assert one.span is not None
    assert one.span.source.text[one.span.start :].startswith(at)
    assert one.help
