"""Whether a level is a floor, or how well something is finished."""

from __future__ import annotations

import pytest

from reads import read_text


@pytest.mark.parametrize(
    "text",
    [
        "Level 1 ceilings shall be 13 mm board.",
        "Level 3 walls: two coats eggshell.",
        "Levels 2 and 3: 13 mm board.",
        "Levels 1, 2 and 3: 13 mm board on ceilings.",
        "Levels 4 through 6 walls: two coats eggshell.",
        "Level 2 corridors: two coats eggshell.",
        "13 mm board on Level 2.",
    ],
)
def test_a_level_is_a_floor_where_something_is_there(text: str) -> None:
    rules = read_text(text).rules
    assert rules
    assert all(rule.scope.get("room", "").startswith("level ") for rule in rules)


@pytest.mark.parametrize(
    "text",
    [
        "Level 4 walls, Level 5 ceilings.",
        "Finish board to Level 4.",
        "Board finished to Level 4 on walls.",
        "Walls delivered to Level 4 finish.",
        "Level 5 walls: gloss.",
        "Level 4 finish walls and ceilings.",
    ],
)
def test_a_level_of_finish_stays_one(text: str) -> None:
    assert any(rule.kind.name == "finish level" and "room" not in rule.scope for rule in read_text(text).rules)


@pytest.mark.parametrize("verb", ["Deliver", "Hoist", "Distribute", "Send"])
def test_goods_are_taken_to_a_floor(verb: str) -> None:
    assert read_text(f"{verb} board to Level 3.").rules == ()
    assert read_text("Finish board to Level 3.").rules != ()


def test_behind_a_bare_level_everything_waits_to_be_confirmed() -> None:
    assert [r.confirm for r in read_text("Level 2: 13 mm board.").rules] == ["the level before it may be a storey"]
