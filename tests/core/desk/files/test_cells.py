"""What stands in a cell, as a value of the job file and back."""

from __future__ import annotations

import tomllib

import pytest

from darby.desk.files.cells import is_plain, number_of, shown, value_of, written
from darby.desk.files.folder import RefusedError


def test_counts_are_numbers_and_flags_are_true_or_false() -> None:
    assert value_of("count", "3") == 3
    assert value_of("count", "three") == "three"
    assert value_of("sill", "True") is True
    assert value_of("number", "204") == "204"


@pytest.mark.parametrize("value", ["12'-6\"", "back\\slash", "a\x7fb", 3, True])
def test_what_is_written_is_read_as_it_was(value: str | int | bool) -> None:
    assert tomllib.loads(f"key = {written(value)}") == {"key": value}


def test_what_a_cell_shows_it_takes_back() -> None:
    for key, value in (("count", 3), ("sill", True), ("name", "Kiln room")):
        assert is_plain(value)
        assert value_of(key, shown(value)) == value
    assert not is_plain({"walls": "Fog"})
    assert value_of("name", "  ") is None


@pytest.mark.parametrize("said", ["", "-1", "1.0", "²", "x", "9" * 9])
def test_what_is_no_number_of_a_row_is_refused(said: str) -> None:
    assert number_of("12") == 12
    with pytest.raises(RefusedError):
        number_of(said)
