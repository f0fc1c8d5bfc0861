"""What a schedule was taken for is told where it is not plain."""

from __future__ import annotations

from darby.job.schedules.heads import Head
from darby.job.schedules.taken import Taken
from darby.text.spans import Source

SOURCE = Source("rooms.csv", "abcdefgh")
PLACE = SOURCE.span(0, 1)


def test_a_plain_schedule_has_nothing_to_tell() -> None:
    plain = Taken(SOURCE, ((Head("length", said="Length"), PLACE),), kinds={"room": 3})
    assert not list(plain.told())
    assert not list(plain.doubts())


def test_rows_are_counted_by_kind_and_lines_that_are_many_are_cut() -> None:
    one = Taken(SOURCE, kinds={"room": 2, "wall": 1}, skipped=[PLACE] * 9)
    assert [d.message for d in one.told()] == [
        "rooms.csv was read as 2 rooms, 1 wall: lines 1, 1, 1, 1, ... left out as titles and totals"
    ]


def test_rows_without_a_height_are_doubted_among_rooms_only() -> None:
    guessed = [("Pantry", PLACE), ("Larder", PLACE)]
    assert not list(Taken(SOURCE, kinds={"ceiling": 2}, guessed=guessed).doubts())
    (one,) = Taken(SOURCE, kinds={"ceiling": 2, "room": 1}, guessed=guessed).doubts()
    assert one.message.startswith("Pantry in rooms.csv has no height, and so has 1 more: ")
