"""Places of which words say that nothing is done there are of no fact beside them."""

from __future__ import annotations

import pytest

from reads import left, read_text


def _places(text: str, kind: str) -> set[tuple[str, str]]:
    return {(r.scope.get("room", ""), r.scope.get("surface", "")) for r in read_text(text).rules if r.kind.name == kind}


@pytest.mark.parametrize(
    "behind",
    [
        ", nothing in the vestry.",
        "; none in the vestry.",
        ". Nothing in the vestry.",
        ". Not in the vestry.",
        ". This does not apply to the vestry.",
        ". Vestry left as is.",
        ", not vestry",
        "\nVestry: none",
        "; exclude the vestry.",
    ],
)
def test_a_place_is_taken_out_in_many_words(behind: str) -> None:
    text = f"Two coats of eggshell on walls{behind}"
    assert _places(text, "coats") == {("", "wall")}
    assert _places(text, "replaced") == {("vestry", "")}


@pytest.mark.parametrize(
    "said",
    [
        "Paint walls two coats eggshell, {} prefinished.",
        "Paint walls two coats eggshell. {} are prefinished.",
        "Paint walls two coats eggshell, {} by others.",
        "All walls receive two coats of eggshell, the {} none.",
        "Paint walls two coats eggshell. Leave {} bare.",
        "{} stay as they are, all other walls two coats eggshell.",
        "Two coats of eggshell on walls, {} unpainted.",
    ],
)
def test_the_surface_of_a_place_is_taken_out(said: str) -> None:
    text = said.format("vestry walls")
    assert _places(text, "coats") == {("", "wall")}
    assert _places(text, "replaced") == {("vestry", "wall")}


@pytest.mark.parametrize(
    "said",
    [
        "Vestry: walls by others, ceiling two coats flat.",
        "Vestry: existing walls to remain, ceiling two coats flat.",
        "Vestry walls left bare, ceiling two coats flat.",
        "Vestry: ceiling two coats flat, walls prefinished.",
    ],
)
def test_one_surface_is_undone_and_the_other_keeps_its_room(said: str) -> None:
    assert _places(said, "coats") == {("vestry", "ceiling")}
    assert _places(said, "replaced") == {("vestry", "wall")}


@pytest.mark.parametrize(
    "said",
    [
        "Two coats eggshell on ceilings, new and existing.",
        "Two coats eggshell where walls are bare.",
        "Existing ceilings: two coats eggshell.",
    ],
)
def test_words_that_only_describe_take_nothing_out(said: str) -> None:
    assert not _places(said, "replaced")
    assert not left(said)


@pytest.mark.parametrize("out", ["outside the vestry", "bar those in the vestry", "but those of the vestry"])
def test_a_room_behind_such_words_is_an_exception(out: str) -> None:
    text = f"All walls {out} receive two coats of eggshell."
    assert _places(text, "coats") == {("", "wall")}
    assert ["an exception" in d.message for d in read_text(text).diagnostics] == [True]


@pytest.mark.parametrize(
    "rest",
    ["Everything else is prefinished by others.", "All else by others.", "Elsewhere nothing.", "The rest is left."],
)
def test_all_others_that_are_left_are_asked_about(rest: str) -> None:
    reading = read_text(f"Vestry walls two coats eggshell.\n{rest}")
    assert _places(f"Vestry walls two coats eggshell.\n{rest}", "coats") == {("vestry", "wall")}
    assert any("nothing was left out there" in d.message for d in reading.diagnostics)


@pytest.mark.parametrize("said", ["Nothing required.", "None", "- No work", "Existing to remain."])
def test_a_room_of_which_nothing_is_said_but_that_is_asked_about(said: str) -> None:
    reading = read_text(f"LOBBY\nWalls two coats eggshell.\n\nVESTRY\n{said}\n\nNAVE\nWalls one coat matt.\n")
    assert {r.scope.get("room") for r in reading.rules} == {"lobby", "nave"}
    assert any("not what" in d.message for d in reading.diagnostics)


@pytest.mark.parametrize(
    ("no", "left"), [("no paint", {"finish paint", "primer"}), ("no primer", {"primer"})], ids=["paint", "primer"]
)
@pytest.mark.parametrize(
    "said", ["Vestry: {} on walls, two coats flat on ceiling.", "Vestry: two coats flat on ceiling, {} to the walls."]
)
def test_goods_that_are_denied_a_surface_leave_the_other_alone(said: str, no: str, left: set[str]) -> None:
    text = said.format(no)
    assert _places(text, "coats") == {("vestry", "ceiling")}
    assert _places(text, "replaced") == {("vestry", "wall")}
    assert {r.subject for r in read_text(text).rules if r.choice} == left


def test_a_place_left_before_all_others_is_left_and_they_are_not() -> None:
    text = "Vestry walls unpainted, all other walls two coats eggshell."
    assert _places(text, "coats") == {("", "wall")}
    assert _places(text, "replaced") == {("vestry", "wall")}


@pytest.mark.parametrize(
    "said",
    [
        "Do not include the vestry, this is by the organ builder.",
        "Vestry is excluded from this package.",
        "No work to the vestry, existing to remain.",
    ],
)
def test_a_place_is_left_whatever_is_said_of_it_besides(said: str) -> None:
    assert _places(f"Walls two coats eggshell. {said}", "replaced") == {("vestry", "")}


def test_one_of_several_walls_that_is_left_is_asked_about() -> None:
    text = "Paint walls two coats eggshell. Leave the brick feature wall bare."
    assert not _places(text, "replaced")
    assert any("was not understood" in d.message for d in read_text(text).diagnostics)


def test_an_exception_in_a_place_that_nobody_knows_is_not_said_of_all() -> None:
    text = "Walls two coats eggshell except glory holes, which get one coat on walls."
    assert [
        int(r.amount.value) for r in read_text(text).rules if r.kind.name == "coats" and not r.scope.get("room")
    ] == [2]
