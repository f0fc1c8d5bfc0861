"""A large job: its measured rows and long schedules are data in the page, small beside it and whole."""

from __future__ import annotations

import base64
import json
import re
import zlib
from typing import Any

import desk
import handed
from darby.documents.page.packed import packed
from darby.estimate.working import working

ROOM = "[[rooms]]\nname = 'Room {n}'\nlength = '{length} ft'\nwidth = '10 ft'\nheight = '8 ft'\n"


def unpacked(text: str) -> Any:
    return json.loads(zlib.decompress(base64.b64decode(text)))


def test_what_is_packed_comes_back_as_it_was_and_needs_no_escape() -> None:
    value = [["</template><script>", "½ × “two”"], [1, True]]
    assert re.fullmatch(r"[A-Za-z0-9+/=]+", packed(value))
    assert unpacked(packed(value)) == value


def test_every_measured_row_is_in_the_data_once_and_the_lines_of_the_job_with_their_marks() -> None:
    rooms = "\n".join(ROOM.format(n=n, length=10 + n) for n in range(200))
    many = desk.estimated(rooms, "Walls and ceilings: one coat primer.\n", "us")
    html = handed.text("html", many)
    data = [unpacked(text) for text in re.findall(r"<template>(.*?)</template>", html)]
    lists = [one for one in data if isinstance(one[0][1], str)]
    primer = [line for line in working(desk.item(many, "primer"), many.rules) if line.label.startswith("Room ")]
    rows = [tuple(row[:2]) for one in lists for _, _, some in one for row in some]
    wanted = [(line.label, line.made) for line in primer]
    assert len(wanted) == 1000
    assert any(rows[at : at + len(wanted)] == wanted for at in range(len(rows)))
    (job,) = (one for one in data if not isinstance(one[0][1], str))
    assert ["".join(p if isinstance(p, str) else p[0] for p in pieces) for _, pieces in job] == [
        *many.job.source.text.split("\n")[: len(job)]
    ]
    marks = {p[1] for _, pieces in job for p in pieces if not isinstance(p, str)}
    assert {at[0] for one in lists for _, _, rows in one for row in rows for at in row[2]} <= marks
