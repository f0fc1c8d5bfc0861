"""The work of reading grows with the length of a text and no faster, counted in lines run, not in seconds."""

from __future__ import annotations

import sys
from collections.abc import Callable
from itertools import count
from types import FrameType
from typing import Any

import pytest

from reads import read_anew

HOSTILE: dict[str, Callable[[int], str]] = {
    "strokes": lambda n: "1/" * n,
    "bracketed choices": lambda n: "Walls: [1/2] [5/8] inch board. " * (n // 8),
    "open brackets": lambda n: "(2 [" * (n // 4),
    "marks": lambda n: "".join(f"PT-{i % 9}: two coats. " for i in range(n // 4)),
    "commas": lambda n: "2 coats, " * (n // 4),
    "labels": lambda n: "walls: " * (n // 2),
    "wrapped lines": lambda n: "apply two coats of paint to the walls of every room and the\n" * (n // 6),
    "rows": lambda n: "Walls   two coats   satin\n" * (n // 6),
    "sections": lambda n: "SECTION 09 91 23\nPAINTING\n\nWalls: two coats of paint.\n\n" * (n // 12),
    "running heads": lambda n: "Walls: two coats of paint.\n\nSECTION 09 91 23 - 3\n\n" * (n // 12),
    "doubled blanks": lambda n: "walls  two  coats  of  paint\n" * (n // 8),
    "questions": lambda n: "> 2) which board?\n5/8 in. board\n" * (n // 12),
}


def work_of(text: str) -> int:
    """What is done while a text is read: every line of the program that runs counts, each turn of a loop anew, and every return."""
    done = count()

    def line(_frame: FrameType, _event: str, _arg: Any, _count: Callable[[], int] = done.__next__) -> None:
        _count()  # what gives nothing goes on hearing the lines of its frame

    before = sys.gettrace()
    sys.settrace(lambda _frame, _event, _arg: line)
    try:
        read_anew(text)
    finally:
        sys.settrace(before)
    return next(done)


@pytest.mark.parametrize("kind", HOSTILE)
def test_each_further_stretch_of_a_text_is_the_same_work(kind: str) -> None:
    """What 400 more words cost is twice what 200 more cost, whatever stands before them; a quadratic part would add to it."""
    make = HOSTILE[kind]
    read_anew(make(50))  # what is compiled or remembered once
    short, middle, long = (work_of(make(n)) for n in (200, 400, 800))
    assert long - middle < 2 * (middle - short) * 1.08, f"{short:,}, {middle:,} and {long:,} steps of the program"
