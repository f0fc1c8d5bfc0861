"""Nothing of a clarification log is left but its answers, each at its place."""

from __future__ import annotations

import pytest

from darby.job.schedules.answers import answers_in
from darby.text.spans import Source


@pytest.mark.parametrize(
    ("text", "kept"),
    [
        ("no.,question,answer\n1,How many coats?,Walls: two coats.\n2,Which?,\n", ["Walls: two coats."]),
        ('no.;answer;by\n1;"Walls: 1/2 in. board, two layers.";her\n', ["Walls: 1/2 in. board, two layers."]),
        ("\ufeffAnswer\tno.\r\nOne coat.\t1\r\nTwo coats.\t2\r\n", ["One coat.", "Two coats."]),
        ("no.,question\n1,Two coats?\n", []),
        ("", []),
    ],
)
def test_answers_stay_where_they_stand(text: str, kept: list[str]) -> None:
    left = answers_in(Source("log.csv", text))
    assert [line.strip() for line in left.text.splitlines() if line.strip()] == kept
    assert len(left.text) == len(text)
    for answer in kept:
        assert left.text.index(answer) == text.index(answer)
