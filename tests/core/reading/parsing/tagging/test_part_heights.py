"""Parts of the height of a surface, kept as written; what only sounds like one."""

from __future__ import annotations

import pytest

from darby.reading.parsing.tagging.part_heights import with_part_heights
from reads import language, left, said


def parts(text: str) -> list[str]:
    """The parts that a text names."""
    lexicon = language().lexicon
    return [t.value for t in with_part_heights(lexicon.tags(text), text, lexicon.heights) if t.name == "where"]


@pytest.mark.parametrize(
    ("text", "where"),
    [
        ("moisture resistant board to 1200 mm above floor", ["to 1200 mm above floor"]),
        ("walls up to 5 feet", ["up to 5 feet"]),
        ("corridor walls to 1.2 m (4 ft) high", ["to 1.2 m (4 ft) high"]),
        ("walls to 4'-0\" AFF", ["to 4'-0\" aff"]),
        ("lower 4 ft of the gym walls", ["lower 4 ft"]),
        ("walls, bottom approx. 900 mm", ["bottom approx. 900 mm"]),
        ("from floor to 8 ft on walls", ["from floor to 8 ft"]),
        ("walls below 10 ft, Level 4 above", ["below 10 ft", "above it"]),
        ("upper half of walls", ["upper half"]),
        ("walls from 4 ft to ceiling: two coats", ["from 4 ft to ceiling"]),
        ("walls from about 1200 mm up to the ceiling", ["from about 1200 mm up to the ceiling"]),
        ("walls to dado height in gloss, eggshell above.", ["to dado height", "above it"]),
        ("kitchen walls above the worktop", ["above the worktop"]),
        ("board to lower 1.2 m, as described above.", ["lower 1.2 m"]),
    ],
)
def test_a_part_is_kept_as_written(text: str, where: list[str]) -> None:
    assert parts(text) == where


@pytest.mark.parametrize(
    "text",
    [
        "board to 6 in. above ceiling",
        "partitions to 150 mm above the ceiling",
        "walls to 3.6 m deck",
        "walls up to 16 in. on center",
        "hold board 10 mm from walls to ceilings",
        "screws 8 in. from walls",
        "top 2 layers of walls",
        "hold board 10 mm above floor",
        "upper floor walls",
        "top coat on walls",
        "wide board up to 12 ft long",
        "two coats on walls as above.",
    ],
)
def test_what_only_sounds_like_one_is_none(text: str) -> None:
    assert [w for w in parts(text) if w not in ("above ceilings",)] == []


def test_what_is_said_of_a_part_is_said_of_no_whole_wall() -> None:
    assert said("Kitchen walls to 2.1 m high: two coats gloss enamel.") == [
        "coats of finish paint (class enamel, room kitchen, sheen gloss, surface wall, where to 2.1 m high): 2"
    ]
    assert left("Kitchen walls to 2.1 m high: two coats gloss enamel.") == {"2.1": "says how far up something goes"}


def test_beside_a_part_above_is_the_other_part() -> None:
    assert said("Walls below chair rail: two coats semi-gloss; above, two coats eggshell.")[1:] == [
        "coats of finish paint (sheen eggshell, surface wall, where above it): 2"
    ]
