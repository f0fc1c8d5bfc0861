"""Rows of a list as rows of the job file: the same is measured, and what cannot be taken over stays a list."""

from __future__ import annotations

import tomllib

import pytest

from darby.desk.files.folder import RefusedError
from darby.desk.files.job_text import JobText
from darby.desk.files.listed_rows import with_rows_of
from darby.text.spans import Source

JOB = """name = "Net loft"  # as the client calls it
units = "us"

[[rooms]]
name = "Stove room"   # by hand
length = "10 ft"
width = "8 ft"
height = "8 ft"

[letter]
to = "Quay architects"
"""


def taken(text: str, job: str = JOB) -> tuple[JobText, int]:
    return with_rows_of(JobText.of(job), Source("rooms.csv", text), (), ("finish",))


def test_rows_stand_behind_those_of_their_table_and_all_else_stays() -> None:
    made, many = taken(
        "what,name,length (ft),width,height,wall,count,finish\nroom,Loft,12,10 ft,9 ft,,,Fog\nopening,,,3 ft,7 ft,Loft,2,\nwall,sea wall,36 ft,,9 ft,,,\n"
    )
    assert many == 3
    assert made.text.startswith(JOB.partition("[letter]")[0])
    data = tomllib.loads(made.text)
    assert data["rooms"][1] == {"name": "Loft", "length": "12 ft", "width": "10 ft", "height": "9 ft", "finish": "Fog"}
    assert data["openings"] == [{"wall": "Loft", "width": "3 ft", "height": "7 ft", "count": 2}]
    assert data["walls"] == [{"name": "sea wall", "length": "36 ft", "height": "9 ft"}]
    assert data["letter"] == {"to": "Quay architects"}


def test_a_wall_between_two_rooms_keeps_both() -> None:
    made, _ = taken(
        "Wall,Between,Length,Height\nW1,Stove room / Loft,12 ft,9 ft\n",
        JOB + '[[rooms]]\nname = "Loft"\nlength = "9 ft"\nwidth = "9 ft"\nheight = "9 ft"\n',
    )
    assert tomllib.loads(made.text)["walls"][0]["between"] == ["Stove room", "Loft"]


def test_rows_with_mistakes_are_taken_too_since_they_are_mended_in_the_grid() -> None:
    made, many = taken("name,length,width,height\nLoft,ten,9 ft,9 ft\nDen,12,9 ft,9 ft\n")
    assert many == 2
    assert [row["length"] for row in tomllib.loads(made.text)["rooms"][1:]] == ["ten", "12"]


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("name,length\nLoft,9 ft\n", "nothing tells what this row is"),
        ("name,lenght,width,height\nLoft,9 ft,9 ft,9 ft\n", "lenght"),
        ("name,length,width,height\n", "No row"),
    ],
)
def test_a_list_of_which_something_would_be_lost_is_refused(text: str, why: str) -> None:
    with pytest.raises(RefusedError, match=why):
        taken(text)
