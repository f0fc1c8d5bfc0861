"""A place of a job file lies in the row whose header stands before it, or in none where another table does."""

from __future__ import annotations

from darby.desk.files.row_places import row_at, row_places
from darby.text.toml_places import read_toml, source_of

TEXT = """name = "x"

[[rooms]]
name = "A"

[rooms.finish]
walls = "Fog"

[[rooms]]
name = "B"

[letter]
to = "Quay architects"

[[bid.wages]]
trade = "board"
"""


def test_each_place_has_its_row_and_what_stands_in_another_table_has_none() -> None:
    places = row_places(read_toml(source_of("job.toml", TEXT))[1].known)
    for words, row in (
        ("x", None),
        ("A", ("rooms", 0)),
        ("Fog", ("rooms", 0)),
        ("B", ("rooms", 1)),
        ("Quay", None),
        ("board", None),
    ):
        assert row_at(places, TEXT.index(f'"{words}') + 1) == row, words


def test_a_table_on_one_line_has_its_rows_too() -> None:
    text = 'rooms = [{name = "A"}, {name = "B"}]\n'
    places = row_places(read_toml(source_of("job.toml", text))[1].known)
    assert row_at(places, text.index('"B"')) == ("rooms", 1)
    assert row_at(places, 0) is None
