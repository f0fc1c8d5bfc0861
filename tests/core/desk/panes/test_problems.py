"""What is wrong is one message a cause, in words for somebody who types into the grid."""

from __future__ import annotations

from darby.desk.files.job_text import JobText
from darby.desk.panes.problems import of_row, told_problems
from darby.job.loader import load
from darby.text.toml_places import source_of

TOP = 'name = "Net loft"\nunits = "us"\n\n'


def told(rows: str) -> list[dict[str, object]]:
    job = JobText.of(TOP + rows)
    return list(told_problems(load(source_of("job.toml", job.text))[1], job))


def room(name: str, **sides: str) -> str:
    return f'[[rooms]]\nname = "{name}"\n' + "".join(f'{key} = "{said}"\n' for key, said in sides.items())


def test_a_row_that_is_half_typed_says_what_is_still_to_be_typed() -> None:
    (one,) = told(room("Lobby"))
    assert one["text"] == "Still to be typed: length, width and height"
    assert one["row"] == {"table": "rooms", "number": 0, "name": "Lobby"}
    (two,) = told(room("Lobby", length="9 ft", width="8 ft"))
    assert two["text"] == "Still to be typed: height"
    (three,) = told(
        f'{room("Lobby", length="9 ft", width="8 ft", height="8 ft")}[[openings]]\nwidth = "3 ft"\nheight = "7 ft"\n'
    )
    assert three["text"] == "Still to be typed: the wall or room it is in"


def test_a_name_that_is_taken_is_told_once_and_not_for_each_wall() -> None:
    sides = {"length": "9 ft", "width": "8 ft", "height": "8 ft"}
    (one,) = told(room("Lobby", **sides) + room("Lobby", **sides))
    assert str(one["text"]).startswith('the name "Lobby" is taken. Give each wall')


def test_sizes_without_a_unit_are_one_cause_and_what_stands_elsewhere_has_its_place() -> None:
    found = told(
        room("A", length="9", width="8 ft", height="8")
        + room("B", length="ten", width="8 ft", height="8 ft")
        + "[bogus]\n"
    )
    assert [one["text"] for one in found if not one["row"]] == [
        "2 sizes have no unit",
        '"bogus" has no place in the job file',
    ]
    assert [one["place"] for one in found if not one["row"]] == ["", "job.toml, line 14"]
    assert [one["row"] and one["row"]["name"] for one in found if one["row"]] == ["B"]  # type: ignore[index]


def test_of_many_rows_some_are_told_and_the_rest_counted() -> None:
    found = told("".join(room(f"Room {n}") for n in range(11)))
    assert len(found) == 9
    assert found[-1]["text"] == "So it is with 3 more rows"


def test_one_size_without_a_unit_is_told_at_its_row() -> None:
    (one,) = told(room("A", length="9", width="8 ft", height="8 ft"))
    assert "without a unit" in str(one["text"])
    assert of_row("rooms", {}, []) == []
