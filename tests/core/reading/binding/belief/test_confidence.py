"""What waits to be confirmed: out of the ordinary, far from what it is said of, or among words that nobody knows."""

from __future__ import annotations

import pytest

from reads import read_text


def confirm(text: str) -> list[str]:
    return [rule.confirm for rule in read_text(text).rules]


WAITS = {
    "Walls: 0 coats of finish paint.": "out of the ordinary: usual is 1 to 4",
    "Joint compound: 9000 lb per 100 sq ft.": "out of the ordinary: usual is 3 lb per 100 sq ft to 20 lb per 100 sq ft",
    "Quorble the frobnic quux with grimbly sheenery: two coats finish paint upon walls.":
        "much of its sentence is not understood (Quorble, frobnic, quux, grimbly ...)",
}  # fmt: skip


@pytest.mark.parametrize("text", WAITS)
def test_a_reading_on_weak_evidence_waits_with_its_reason(text: str) -> None:
    assert [why.startswith(WAITS[text]) for why in confirm(text)] == [True]


def test_four_strange_words_are_many_and_three_are_not() -> None:
    four = "Walls: two coats finish paint, quorble frobnic grimbly sheenery."
    assert confirm(four) == ["much of its sentence is not understood (quorble, frobnic, grimbly, sheenery)"]
    assert confirm(four.replace(" sheenery", "")) == [""]


def test_strange_words_of_another_sentence_count_for_nothing() -> None:
    assert confirm("Quorble the frobnic grimbly sheenery. Walls: two coats finish paint.") == [""]


def test_what_is_plain_waits_for_nobody() -> None:
    assert confirm("Walls: two coats finish paint. Primer: 300 sq ft per gallon.") == ["", ""]


def test_a_level_on_a_line_of_its_own_may_be_a_storey() -> None:
    assert confirm("Level 2\nWalls: two coats finish paint.") == ["a level on a line of its own may be a storey", ""]
    assert confirm("Finish: Level 4.\nLevel 5 at lobby walls.") == ["", ""]


def test_what_goes_on_something_that_no_list_knows_waits_to_be_confirmed() -> None:
    for text in (
        "Walls of plant rooms: one coat primer, two coats gloss to pipework.",
        "Walls of plant rooms: gloss to pipework.",
    ):
        assert read_text(text).rules[-1].confirm == "what it goes on is not known (pipework)"
    assert not read_text("Walls of plant rooms: two coats gloss.").rules[-1].confirm


def test_what_others_have_is_confirmed_where_nothing_like_it_is_said_before() -> None:
    assert "all others" in read_text("Basement: one coat primer. Others: two coats flat.").rules[-1].confirm
    assert not read_text("Basement: Level 5. Others: Level 4.").rules[-1].confirm


def test_a_count_of_what_the_sentence_before_named_is_confirmed_at_another_place() -> None:
    rules = read_text("One coat primer to all board. Ground floor to have 3 coats.").rules
    assert rules[-1].confirm == "what it is said of stands in another sentence"


def test_a_list_of_places_may_have_one_that_no_list_knows() -> None:
    why = "it may hold in one more place, which no list knows (zargoth)"
    listed = "The hall, the {} and both offices will have two coats finish paint on walls."
    assert confirm(listed.format("zargoth")) == [why, why]
    assert confirm(listed.format("lobby")) == ["", "", ""]


def test_a_place_in_a_sentence_of_its_own_may_be_where_the_next_one_holds() -> None:
    why = "its sentence names no place: it is taken to hold where the one before it does"
    assert confirm("Bathrooms (both). Two coats finish paint.") == [why]
    assert confirm("Bathrooms: one coat satin finish paint. Elsewhere two coats finish paint.")[-1] == ""
    assert confirm("Bathrooms: one coat satin finish paint. Doors: two coats finish paint.")[-1] == ""


def test_a_system_seldom_goes_on_all_that_a_heading_names() -> None:
    text = "LINING TYPES - WALLS AND CEILINGS\n\n{}\nW1 | one layer of 1/2 inch gypsum board | plain\nW2 | two layers of 1/2 inch gypsum board | plain\n"
    whys = confirm("PROJECT 12\n\n" + text.format("Code | Build-up | Note"))
    assert set(whys) == {"its heading names several surfaces, and does not say which one it goes on"}


def test_words_of_a_heading_beside_its_surfaces_may_be_where_what_stands_below_holds() -> None:
    above = "PAINTING SCHEDULE\nA. Office walls:\n1. Two coats latex.\nB. Gribbling cells, walls and ceilings:\n1. Two coats epoxy.\n"
    below = "C. Hardboard walls and ceilings:\n1. Two coats alkyd.\n"
    said = [(r.scope.get("class"), r.confirm) for r in read_text(above + below).rules if r.kind.name == "coats"]
    strange = [
        c for c, why in said if why == "words of what it stands under may say where it holds, or of what (cells)"
    ]
    assert set(strange) <= {"epoxy"}
    holding = above.replace("Gribbling", "Holding")
    assert "words of what it stands under" in " ".join(r.confirm for r in read_text(holding).rules)
    assert not any(r.confirm for r in read_text("CAIRN CELLS WALLS\nWalls: two coats latex.\n").rules)


def test_a_label_that_ends_with_a_number_may_be_a_room() -> None:
    reading = read_text("Pass. 110: two coats flat.")
    assert [r.confirm for r in reading.rules] == ["the number before it may be that of a room (110)"]
    assert [r.confirm for r in read_text("Note 4: two coats flat.").rules] == [""]


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("Office 3.02: two coats eggshell on walls.", "a number behind its place, which may say which one is meant, was not read"),
        ("Rooms 1.01 and 1.02: two coats matt.", "a number behind its place, which may say which one is meant, was not read"),
        ("Office 302: two coats eggshell on walls.", ""),
        ("112 walls: two coats matt.", "a number beside what it is said of, which may say which one is meant, was not read"),
        ("Walls 112: two coats matt.", "a number beside what it is said of, which may say which one is meant, was not read"),
        ("Walls 3 m high: two coats matt.", ""),
        ("Walls 2 coats matt.", ""),
        ("1. Walls: two coats matt.", ""),
        ("Type W3 walls get one layer of board.", ""),
        ("P2 partitions: 15 mm board.", "a mark before what it is said of may say which of its kind is meant (P2)"),
        ("Partition P2: 15 mm board.", ""),
    ],
)  # fmt: skip
def test_a_number_or_a_mark_that_may_say_which_one_is_meant(text: str, why: str) -> None:
    assert confirm(text) == [why]


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("Lobby walls: two coats eggshell; ceiling: one coat flat.", "the place before it may be where it holds (lobby)"),
        ("In the lobby two coats eggshell on walls; one coat flat on ceiling.", "the place before it may be where it holds (lobby)"),
        ("Lobby walls: two coats eggshell; all ceilings: one coat flat.", ""),
        ("Lobby: two coats on walls; one coat flat on ceilings.", ""),
        ("Two coats on walls; one coat flat on ceilings.", ""),
    ],
)  # fmt: skip
def test_what_follows_a_place_in_one_sentence_and_names_none_may_be_of_that_place(text: str, why: str) -> None:
    (ceiling,) = (rule for rule in read_text(text).rules if rule.scope.get("surface") == "ceiling")
    assert ceiling.confirm == why


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("One coat of gloss to zargoths.", "what it goes on is not known (zargoths)"),
        ("Existing stair: one coat of gloss to zargoths only.", "what it goes on is not known (zargoths)"),
        ("Two coats eggshell to manufacturer recommendations.", ""),
        ("Two coats eggshell to walls.", ""),
    ],
)  # fmt: skip
def test_what_goes_on_something_that_no_list_knows_is_confirmed_though_no_surface_is_named(text: str, why: str) -> None:
    assert confirm(text) == [why]
