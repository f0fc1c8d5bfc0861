"""Of which goods a place is left undone that names none."""

from __future__ import annotations

from reads import read_text


def test_it_is_of_the_goods_before_it_and_confirmed() -> None:
    rules = [r for r in read_text("Two coats of eggshell on walls. Nothing in the vestry.").rules if r.choice]
    assert {r.subject for r in rules} == {"finish paint", "primer"}
    assert all("names no goods" in r.confirm for r in rules)


def test_of_two_trades_before_it_is_asked() -> None:
    text = "Walls: one layer of 5/8 in. gypsum board and two coats eggshell. Nothing in the vestry."
    reading = read_text(text)
    assert not [r for r in reading.rules if r.kind.name == "replaced"]
    assert any("not what" in d.message for d in reading.diagnostics)


def test_behind_nothing_of_ours_it_says_nothing() -> None:
    reading = read_text("Nothing in the vestry.")
    assert not reading.rules
    assert not reading.diagnostics


def test_a_surface_is_of_the_room_that_its_clause_stands_under() -> None:
    text = "VESTRY\nCeiling: two coats flat\nWalls left bare\n\nNAVE\nCeiling: one coat flat\n"
    left = {(r.scope.get("room"), r.scope.get("surface")) for r in read_text(text).rules if r.choice == "omitted"}
    assert left == {("vestry", "wall")}


def test_a_level_before_it_is_no_count_of_goods() -> None:
    reading = read_text("Tape all gypsum board to Level 4. Nothing in shafts.")
    assert not [r for r in reading.rules if r.kind.name == "replaced"]


def test_a_sentence_behind_the_name_of_a_room_is_of_that_room() -> None:
    text = "Lobby. Walls two coats matt.\nVestry. No work."
    assert {r.scope.get("room") for r in read_text(text).rules if r.choice == "omitted"} == {"vestry"}
