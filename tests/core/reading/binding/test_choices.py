"""Choices made with a word and no number: a type, a sheen, a system, said of a place."""

from __future__ import annotations

import pytest

from reads import asked, said

CHOSEN = {
    "Offices: eggshell.": ["sheen of finish paint (room office): eggshell"],
    "Walls in the hall: eggshell.": ["sheen of finish paint (room hall, surface wall): eggshell"],
    "Offices: satin. Corridors: semi-gloss.":
        ["sheen of finish paint (room office): satin", "sheen of finish paint (room corridor): semi-gloss"],
    "Eggshell in offices, flat on all ceilings.":
        ["sheen of finish paint (room office): eggshell", "sheen of finish paint (surface ceiling): flat",
         "sheen of finish paint (room office, surface ceiling): flat"],
    "Gypsum board in corridors: type X.": ["type of gypsum board (room corridor): type X"],
    "Type X board on corridor walls.": ["type of gypsum board (room corridor, surface wall): type X"],
    "Moisture resistant type X board on walls of baths.":
        ["type of gypsum board (room bath, surface wall): moisture resistant + type X"],
    "Moisture resistant, type X board on walls of baths.":
        ["type of gypsum board (room bath, surface wall): moisture resistant + type X"],
    "Use regular board on walls, except in baths, where moisture resistant board is used.":
        ["type of gypsum board (surface wall): regular", "type of gypsum board (room bath): moisture resistant"],
    "Walls: two coats. Eggshell in offices.": ["sheen of finish paint (room office, surface wall): eggshell"],
    "Doors and frames: gloss, walls: satin.":
        ["sheen of finish paint (surface door): gloss", "sheen of finish paint (surface trim): gloss",
         "sheen of finish paint (surface wall): satin"],
}  # fmt: skip


@pytest.mark.parametrize("text", CHOSEN)
def test_a_word_said_of_a_place_chooses(text: str) -> None:
    assert said(text) == CHOSEN[text]


@pytest.mark.parametrize(
    "text", ["Finish paint is eggshell.", "Which sheen in offices, satin?", "No eggshell in offices."]
)
def test_a_word_of_no_place_a_question_and_what_is_not_wanted_choose_nothing(text: str) -> None:
    assert said(text) == []


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("Satin or eggshell in offices.", "a choice that nobody has made"),
        ("Walls in offices: [eggshell].", "a choice in brackets that nobody has made"),
    ],
)
def test_a_choice_that_nobody_has_made_is_asked_about(text: str, why: str) -> None:
    assert said(text) == []
    assert any(message.endswith(why) for message in asked(text))


def test_beside_an_amount_of_the_same_product_a_sheen_only_describes_it() -> None:
    assert said("Offices: two coats eggshell finish paint.") == [
        "coats of finish paint (room office, sheen eggshell): 2"
    ]


def test_what_sort_of_another_product_is_wanted_chooses_nothing() -> None:
    assert said("Baths and kitchens: moisture resistant finish paint.") == []
    assert said("Baths: moisture resistant board.") == ["type of gypsum board (room bath): moisture resistant"]


def test_a_list_of_colors_of_systems_gives_each_its_own() -> None:
    text = "2.1 COLORS\n  .1 PT-1: Moss. PT-2: Bone.\n3.1 SYSTEMS\n  .1 PT-1: two coats eggshell.\n  .2 PT-2: one coat flat.\n"
    colors = [rule for rule in said(text) if rule.startswith("color")]
    assert colors == ["color of finish paint (mark PT-1): moss", "color of finish paint (mark PT-2): bone"]
