"""One table of a job file: keys read under their right names, and values of every type or what is wrong with them."""

from __future__ import annotations

from typing import Any

import pytest

from darby.job.rows.sheet import Sheet
from darby.job.rows.toml_table import Table
from darby.text.diagnostics import Severity
from darby.text.spans import Source
from darby.text.toml_places import read_toml


def table(text: str, *keys: str, what: str = "the table") -> Table:
    source = Source("job.toml", text)
    data, places, mistakes = read_toml(source)
    assert data is not None, mistakes
    return Table.of(Sheet(places), (), data, what=what, keys=keys or tuple(data))


def told(of: Table) -> list[tuple[str, str]]:
    return [(d.code, d.span.text if d.span else "") for d in of.sheet.found]


def test_a_slip_is_told_once_and_read_on_under_its_right_name() -> None:
    one = table('nme = "x"\ncolour = 1\n', "name", "colours")
    assert told(one) == [("job-unknown-key", "nme"), ("job-unknown-key", "colour")]
    assert "name" in one
    assert one.text("name") == "x"
    assert one.span("name").text == "x"
    assert one.way("name") == ("nme",)
    assert one.way("size") == ("size",)
    assert len(one.sheet.found) == 2


def test_the_right_name_beats_a_slip_of_it() -> None:
    one = table('nme = "x"\nname = "y"\n', "name")
    assert one.text("name") == "y"
    assert one.way("name") == ("name",)


def test_tables_of_a_right_and_of_a_slipped_name_are_all_there() -> None:
    one = table("[[walls]]\na = 1\n[[wals]]\na = 2\n[[wall]]\na = 3\n", "walls")
    assert [(path, data["a"]) for path, data in one.tables("walls")] == [
        (("walls", 0), 1),
        (("wals", 0), 2),
        (("wall", 0), 3),
    ]
    assert [code for code, _ in told(one)] == ["job-unknown-table"] * 2
    assert list(one.tables("rooms")) == []


def test_one_table_where_several_are_wanted_is_told_and_read_and_what_is_none_is_left() -> None:
    one = table('walls = [{a = 1}, "x", {a = 2}]\nrooms = 4\n[ceilings]\na = 3\n')
    assert [data["a"] for key in ("walls", "rooms", "ceilings") for _, data in one.tables(key)] == [1, 2, 3]
    assert [path for path, _ in one.tables("walls")] == [("walls", 0), ("walls", 2)]
    assert [path for path, _ in one.tables("ceilings")] == [("ceilings",)]


@pytest.mark.parametrize(("value", "read"), [("true", True), ("false", False), ("1", True), ('"no"', True)])
@pytest.mark.parametrize("default", [True, False])
def test_a_flag_is_as_it_stands_and_where_it_is_none_the_default_holds(value: str, read: bool, default: bool) -> None:
    one = table(f"a = {value}\n")
    sound = value in ("true", "false")
    assert one.flag("a", default=default) is (read if sound else default)
    assert len(told(one)) == (0 if sound else 1)
    assert one.flag("b", default=default) is default
    assert one.flag("b") is False


@pytest.mark.parametrize(
    ("value", "texts"),
    [
        ('"one"', ["one"]),
        ('["one", "two"]', ["one", "two"]),
        ('["one", 2, "three"]', ["one", "three"]),
        ("3", []),
        ("[]", []),
    ],
)
def test_a_list_of_texts_may_be_one_text_and_each_has_its_place(value: str, texts: list[str]) -> None:
    one = table(f"a = {value}\n")
    found = one.texts("a")
    assert [text for text, _ in found] == texts
    assert [span.text for _, span in found] == texts
    assert one.texts("b") == ()
    wrong = {"3": [("job-wrong-type", "3")], '["one", 2, "three"]': [("job-wrong-type", "2")]}
    assert told(one) == wrong.get(value, [])


def test_a_text_is_stripped_and_a_missing_one_is_told_only_where_it_is_needed() -> None:
    one = table('a = "  x "\nb = " "\nc = 3\n')
    assert (one.text("a"), one.text("b"), one.text("c"), one.text("d")) == ("x", "", "", "")
    assert told(one) == [("job-missing-key", " "), ("job-wrong-type", "3")]
    assert one.text("d", "Write d.") == ""
    assert one.text("c", "Write c.") == ""
    assert [code for code, _ in told(one)] == ["job-missing-key", "job-wrong-type", "job-missing-key", "job-wrong-type"]
    assert [d.help for d in one.sheet.found[:3:2]] == ["Fill it in.", "Write d."]


def test_a_value_whose_mistake_was_told_already_is_no_value() -> None:
    source = Source("job.toml", "a = 12 ft\nb = 3\n")
    data, places, mistakes = read_toml(source)
    assert data is not None
    assert mistakes
    one = Table.of(Sheet(places), (), data, what="x", keys=("a", "b"))
    assert (one.value("a"), one.value("b")) == (None, 3)
    assert list(one.tables("a")) == []


@pytest.mark.parametrize(
    ("value", "is_a"),
    [
        ("true", "true or false"),
        ('"x"', "text"),
        ("2", "a number"),
        ("2.5", "a number"),
        ("[1]", "a list"),
        ("{b = 1}", "a table"),
        ("2026-11-28", "a date or time"),
    ],
)
def test_what_a_value_is_is_told_in_words(value: str, is_a: str) -> None:
    one = table(f"a = {value}\n", what="this")
    one.wrong("a", "something else", "Write so.")
    (found,) = one.sheet.found
    assert (found.message, found.help) == (f"a of this is {is_a}; something else is wanted", "Write so.")
    assert found.severity is Severity.ERROR


def test_a_table_of_another_type_is_told_and_none() -> None:
    one: Any = table("a = {b = 1}\nc = 4\n")
    assert one.table("a") == {"b": 1}
    assert one.table("c") is None
    assert one.table("d") is None
    assert told(one) == [("job-wrong-type", "4")]
