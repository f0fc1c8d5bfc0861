"""Changes of a job file as text: what was meant, and nothing else; held against tomllib, which reads what was written."""

from __future__ import annotations

import difflib
import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from darby.desk.files.cells import value_of
from darby.desk.files.folder import RefusedError
from darby.desk.files.job_text import JobText

TEXT = """name = "Loft" # kept
rules = [
  "Walls: two coats.",  # why
  "Ceilings: one coat.",
]
[documents]
specification = ["a.txt"]

# first floor
[[rooms]]
name = "A"   # by the stair
length = '12 ft'
color = { walls = "Fog" }
count = 3

# second floor
[[rooms]]
name = "B"
[[walls]]
between = ["A",
 "B"]
# the end
"""


def moved(before: str, after: str) -> list[str]:
    return [line for line in difflib.ndiff(before.splitlines(), after.splitlines()) if line[:1] in "+-"]


def test_a_cell_is_written_where_it_stood_and_nothing_else_moves() -> None:
    made = JobText.of(TEXT).with_cell("rooms", 0, "length", "14'-2\"")
    assert moved(TEXT, made.text) == ["- length = '12 ft'", '+ length = "14\'-2\\""']


def test_a_new_cell_stands_with_its_row_and_not_behind_the_remark_of_the_next() -> None:
    made = JobText.of(TEXT).with_cell("rooms", 0, "width", "9 ft")
    assert 'count = 3\nwidth = "9 ft"\n\n# second floor' in made.text


def test_a_cell_that_is_emptied_goes_with_its_line() -> None:
    assert moved(TEXT, JobText.of(TEXT).with_cell("rooms", 0, "count", " ").text) == ["- count = 3"]


def test_rows_come_and_go_and_remarks_stay() -> None:
    job = JobText.of(TEXT)
    more = job.with_row("rooms", {"name": "C", "count": "2", "length": ""})
    assert tomllib.loads(more.text)["rooms"][2] == {"name": "C", "count": 2}
    assert 'name = "B"\n\n[[rooms]]\nname = "C"' in more.text
    less = more.without_row("rooms", 0)
    assert [row["name"] for row in less.rows("rooms")] == ["B", "C"]
    assert "# first floor" in less.text
    assert "# second floor" in less.text
    assert JobText.of("").with_row("doors", {"name": "d"}).rows("doors") == [{"name": "d"}]


def test_lists_take_lines_in_and_let_them_go() -> None:
    job = JobText.of(TEXT).with_item("Doors: one coat.", "rules")
    assert job.items("rules") == ["Walls: two coats.", "Ceilings: one coat.", "Doors: one coat."]
    assert job.without_item(1, "rules").items("rules") == ["Walls: two coats.", "Doors: one coat."]
    assert JobText.of(TEXT).with_item("h.txt", "documents", "house").items("documents", "house") == ["h.txt"]
    assert JobText.of('name = "x"\n').with_item("a.txt", "documents", "house").items("documents", "house") == ["a.txt"]
    assert "specification" not in JobText.of(TEXT).without_item(0, "documents", "specification").data["documents"]


def test_a_text_that_is_no_toml_and_a_row_that_is_gone_are_refused() -> None:
    with pytest.raises(RefusedError, match="line 1"):
        JobText.of("name = ")
    for number in (2, 7):
        with pytest.raises(RefusedError, match="no longer"):
            JobText.of(TEXT).without_row("rooms", number)
        with pytest.raises(RefusedError, match="no longer"):
            JobText.of(TEXT).with_cell("rooms", number, "name", "x")
    with pytest.raises(RefusedError, match="one line"):
        JobText.of('rooms = [{ name = "A" }]\n').without_row("rooms", 0)


def test_a_place_of_the_file_is_found_again_in_its_row() -> None:
    job = JobText.of(TEXT)
    at = TEXT.index('"B"')
    assert job.row_of(job.places.source.span(at, at + 1)) == ("rooms", 1)
    assert job.row_of(job.places.source.span(0, 1)) is None
    assert job.row_of(None) is None


WORDS = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\r"), max_size=12)
EDITS = st.lists(
    st.one_of(
        st.tuples(st.just("cell"), st.integers(0, 3), st.sampled_from("name length count width sill".split()), WORDS),
        st.tuples(st.just("row"), st.just(0), st.just(""), WORDS),
        st.tuples(st.just("out"), st.integers(0, 3), st.just(""), st.just("")),
        st.tuples(st.just("item"), st.just(0), st.just(""), WORDS),
        st.tuples(st.just("item out"), st.integers(0, 3), st.just(""), st.just("")),
    ),
    max_size=8,
)


@given(EDITS)
def test_whatever_is_done_in_whatever_order_the_file_holds_what_was_meant_and_all_remarks_of_rows_that_stay(
    edits: list[tuple[str, int, str, str]],
) -> None:
    job = JobText.of(TEXT)
    rows = [dict(row) for row in job.rows("rooms")]
    items = job.items("rules")
    for what, number, key, said in edits:
        try:
            if what == "cell":
                job = job.with_cell("rooms", number, key, said)
                value = value_of(key, said)
                if value is None:
                    rows[number].pop(key, None)
                else:
                    rows[number][key] = value
            elif what == "row":
                job = job.with_row("rooms", {"name": said})
                rows.append({"name": value_of("name", said)})
            elif what == "out":
                job = job.without_row("rooms", number)
                del rows[number]
            elif what == "item":
                job = job.with_item(said, "rules")
                items.append(said)
            else:
                job = job.without_item(number, "rules")
                del items[number]
        except RefusedError:
            pass
        assert job.rows("rooms") == rows
        assert job.items("rules") == items
        assert tomllib.loads(job.text) == job.data
    for remark in ("# kept", "# first floor", "# second floor", "# the end"):
        assert remark in job.text


@pytest.mark.parametrize(("text", "path"), [("documents = 3\n", ("documents", "house")), ("rules = 3\n", ("rules",))])
def test_what_is_no_table_or_list_is_refused(text: str, path: tuple[str, ...]) -> None:
    with pytest.raises(RefusedError):
        JobText.of(text).with_item("x", *path)


def test_what_is_no_table_of_rows_is_refused() -> None:
    with pytest.raises(RefusedError):
        JobText.of("rooms = 3\n").with_row("rooms", {"name": "A"})


def test_nothing_is_taken_out_of_a_list_that_holds_what_is_no_text() -> None:
    with pytest.raises(RefusedError):
        JobText.of('rules = [3, "a", "b"]\n').without_item(0, "rules")


def test_a_new_line_goes_behind_the_remark_of_the_last() -> None:
    for comma in ("", ","):
        made = JobText.of(f'rules = [\n    "a"{comma}  # why\n]\n').with_item("b", "rules")
        assert made.text == f'rules = [\n    "a",  # why\n    "b"{comma}\n]\n'


def test_values_of_a_table_come_change_and_go_and_nothing_else_moves() -> None:
    made = JobText.of(TEXT).with_value("May 4", "letter", "date")
    assert moved(TEXT, made.text) == ["+ ", "+ [letter]", '+ date = "May 4"']
    more = made.with_value('The "Kiln"', "letter", "to").with_value("May 5", "letter", "date")
    assert more.data["letter"] == {"date": "May 5", "to": 'The "Kiln"'}
    assert more.with_value("", "letter", "to").with_value("", "letter", "date").data["letter"] == {}
    assert JobText.of(TEXT).with_value("", "letter", "date").text == TEXT
    with pytest.raises(RefusedError):
        JobText.of("letter = 3\n").with_value("May 4", "letter", "date")
