"""Codes that number the items of a schedule of works are no marks of systems; those that a schedule gives to places are."""

from __future__ import annotations

import pytest

from reads import asked, read_text, said

# Texts whose names and codes are told by their capitals, so that they cannot stand among the phrases.
CASES = {
    "items under lettered chapters, and three ways to refer to one": (
        """DECORATION SCHEDULE

A. LIBRARY
A1 Walls: one coat sealer, two coats satin emulsion, colour Sage.
A2 Ceiling: two coats matt emulsion, colour White.

B. READING ROOM
B1 Walls: as A1.
B2 Ceiling: as item A2.

C. OFFICE
C1 Walls: same as A1, except colour Linen.
C2 Ceiling: to match A2.""",
        [
            "coats of primer (room library, surface wall): 1",
            "coats of primer (room reading room, surface wall): 1",
            "coats of primer (room office, surface wall): 1",
            "coats of finish paint (class emulsion, color sage, room library, sheen satin, surface wall): 2",
            "coats of finish paint (class emulsion, color sage, room reading room, sheen satin, surface wall): 2",
            "coats of finish paint (class emulsion, color linen, room office, sheen satin, surface wall): 2",
            "coats of finish paint (color white, room library, sheen matt, surface ceiling): 2",
            "coats of finish paint (color white, room reading room, sheen matt, surface ceiling): 2",
            "coats of finish paint (color white, room office, sheen matt, surface ceiling): 2",
            "color of finish paint (room office, surface wall): linen",
        ],
    ),
    "a reference to the board of an item takes over the board alone": (
        """A  NURSERY
A1  Walls: two layers 12.5 mm plasterboard.
A2  Ceiling: one layer 15 mm plasterboard.

B  PLAY ROOM
B1  Walls and ceiling: as A1.
B2  Doors: two coats gloss.

C  QUIET ROOM
C1  Walls: plasterboard as A1. Two coats eggshell.
C2  Ceiling: plasterboard as A1, but 15 mm thick.""",
        [
            "layers of gypsum board (room nursery, surface wall): 2",
            "layers of gypsum board (room play room, surface wall): 2",
            "layers of gypsum board (room play room, surface ceiling): 2",
            "layers of gypsum board (room quiet room, surface wall): 2",
            "layers of gypsum board (room quiet room, surface ceiling): 2",
            "thickness of gypsum board (room nursery, surface wall): 12.5 mm",
            "thickness of gypsum board (room play room, surface wall): 12.5 mm",
            "thickness of gypsum board (room play room, surface ceiling): 12.5 mm",
            "thickness of gypsum board (room quiet room, surface wall): 12.5 mm",
            "layers of gypsum board (room nursery, surface ceiling): 1",
            "thickness of gypsum board (room nursery, surface ceiling): 15 mm",
            "coats of finish paint (room play room, sheen gloss, surface door): 2",
            "coats of finish paint (room quiet room, sheen eggshell, surface wall): 2",
            "thickness of gypsum board (room quiet room, surface ceiling): 15 mm",
        ],
    ),
    "an item that refers to one which refers to a third": (
        """A  LOBBY
A1  Walls: one coat primer, two coats eggshell, color Dove.

B  STAIR
B1  Walls: as A1, but satin.

C  LANDING
C1  Walls: as B1 in all respects, but colour Rose.""",
        [
            "coats of primer (room lobby, surface wall): 1",
            "coats of primer (room stair, surface wall): 1",
            "coats of primer (room landing, surface wall): 1",
            "coats of finish paint (color dove, room lobby, sheen eggshell, surface wall): 2",
            "coats of finish paint (color dove, room stair, sheen satin, surface wall): 2",
            "coats of finish paint (color rose, room landing, sheen satin, surface wall): 2",
            "sheen of finish paint (room stair, surface wall): satin",
            "sheen of finish paint (room landing, surface wall): satin",
            "color of finish paint (room landing, surface wall): rose",
        ],
    ),
    "items with dashes, all as another but one coat more": (
        """A - SALON
A1 - Walls: one coat sealer, two coats eggshell emulsion, colour Fawn.

B - STUDY
B1 - Walls: all as A1, but colour Clay.

C - DEN
C1 - Walls: identical to A1.""",
        [
            "coats of primer (room salon, surface wall): 1",
            "coats of primer (room study, surface wall): 1",
            "coats of primer (room den, surface wall): 1",
            "coats of finish paint (class emulsion, color fawn, room salon, sheen eggshell, surface wall): 2",
            "coats of finish paint (class emulsion, color clay, room study, sheen eggshell, surface wall): 2",
            "coats of finish paint (class emulsion, color fawn, room den, sheen eggshell, surface wall): 2",
            "color of finish paint (room study, surface wall): clay",
        ],
    ),
    "ditto and like": (
        """E  VERANDA
E1  Ceiling: 10 mm plasterboard, one layer.

F  PANTRY
F1  Ceiling: ditto E1.

G  LARDER
G1  Ceiling: like E1, but two layers.""",
        [
            "thickness of gypsum board (room veranda, surface ceiling): 10 mm",
            "thickness of gypsum board (room pantry, surface ceiling): 10 mm",
            "thickness of gypsum board (room larder, surface ceiling): 10 mm",
            "layers of gypsum board (room veranda, surface ceiling): 1",
            "layers of gypsum board (room pantry, surface ceiling): 1",
            "layers of gypsum board (room larder, surface ceiling): 2",
        ],
    ),
    "an item takes over two others by its surfaces": (
        """A  VESTRY
A1  Walls: two coats eggshell emulsion, colour Oat. Ceiling: two coats matt emulsion, colour White.

B  PARLOUR
B1  Walls and ceiling: as A1.""",
        [
            "coats of finish paint (class emulsion, color oat, room vestry, sheen eggshell, surface wall): 2",
            "coats of finish paint (class emulsion, color oat, room parlour, sheen eggshell, surface wall): 2",
            "coats of finish paint (color white, room vestry, sheen matt, surface ceiling): 2",
            "coats of finish paint (color white, room parlour, sheen matt, surface ceiling): 2",
        ],
    ),
    "a chapter of doors and one of skirtings": (
        """A  DOORS
A1  Doors: one coat primer, two coats gloss, colour Ink.

B  TRIM
B1  Skirtings: as A1, but satin.""",
        [
            "coats of primer (surface door): 1",
            "coats of primer (surface trim): 1",
            "coats of finish paint (color ink, sheen gloss, surface door): 2",
            "coats of finish paint (color ink, sheen satin, surface trim): 2",
            "sheen of finish paint (surface trim): satin",
        ],
    ),
    "marks in bold": (
        """- **PT-7**: one coat latex primer, two coats latex eggshell. Heron Gray.
- **PT-8**: one coat latex primer, two coats epoxy gloss. Milk.

| Room | Walls |
| --- | --- |
| Lab | PT-7 |
| Kitchen | PT-8 |""",
        [
            "coats of primer (class latex, mark PT-7): 1",
            "coats of finish paint (class latex, mark PT-7, sheen eggshell): 2",
            "color of finish paint (mark PT-7): heron gray",
            "coats of primer (class latex, mark PT-8): 1",
            "coats of finish paint (class epoxy, mark PT-8, sheen gloss): 2",
            "color of finish paint (mark PT-8): milk",
            "system of finish paint (room lab, surface wall): PT-7",
            "system of finish paint (room kitchen, surface wall): PT-8",
        ],
    ),
    "codes of wall covering that the document defines with coats are paint": (
        """**WC-4**: two coats latex satin, Dune.
**WC-5**: two coats latex flat, Chalk.

Room | Walls
Office | WC-4
Store | WC-5""",
        [
            "coats of finish paint (class latex, color dune, mark WC-4, sheen satin): 2",
            "coats of finish paint (class latex, color chalk, mark WC-5, sheen flat): 2",
            "system of finish paint (room office, surface wall): WC-4",
            "system of finish paint (room store, surface wall): WC-5",
        ],
    ),
    "a mark between back quotes": (
        """- `P-3`: two coats satin.
- `P-4`: two coats flat.
Kitchen walls: P-3.""",
        [
            "coats of finish paint (mark P-3, sheen satin): 2",
            "coats of finish paint (mark P-4, sheen flat): 2",
            "system of finish paint (room kitchen, surface wall): P-3",
        ],
    ),
    "the color of a system stands behind a full stop": (
        """PT-3: one coat primer, two coats eggshell. Juniper.
PT-4: two coats semi-gloss. Quarry Red.
Office walls: PT-3. Lobby walls: PT-4.""",
        [
            "coats of primer (mark PT-3): 1",
            "coats of finish paint (mark PT-3, sheen eggshell): 2",
            "color of finish paint (mark PT-3): juniper",
            "coats of finish paint (mark PT-4, sheen semi-gloss): 2",
            "color of finish paint (mark PT-4): quarry red",
            "system of finish paint (room office, surface wall): PT-3",
            "system of finish paint (room lobby, surface wall): PT-4",
        ],
    ),
    "shades are colors": (
        """E1 One coat primer and two coats satin emulsion, shade Sand.
Doors: two coats gloss enamel, shade Teak.
Walls of Hall: two coats matt emulsion in shade Ivory.""",
        [
            "coats of primer: 1",
            "coats of finish paint (class emulsion, color sand, sheen satin): 2",
            "coats of finish paint (class enamel, color teak, sheen gloss, surface door): 2",
            "coats of finish paint (color ivory, room hall, sheen matt, surface wall): 2",
        ],
    ),
}


HALL = "A  NAVE\nA1  Walls: two coats eggshell, colour Oat.\n\nB  APSE\nB1  Walls: "


def test_an_item_is_of_the_place_that_its_chapter_is_named_after() -> None:
    assert said(HALL + "two coats satin.") == [
        "coats of finish paint (color oat, room nave, sheen eggshell, surface wall): 2",
        "coats of finish paint (room apse, sheen satin, surface wall): 2",
    ]


@pytest.mark.parametrize(
    "words",
    ["as A1", "same as A1", "As item A1", "all as A1", "identical to A1", "to match A1", "ditto A1", "as described in item A1",
     "generally as A1", "as per A1"],
)  # fmt: skip
def test_whatever_words_take_over_an_item(words: str) -> None:
    assert said(f"{HALL}{words}.")[1] == "coats of finish paint (color oat, room apse, sheen eggshell, surface wall): 2"


def test_numbers_of_items_are_no_marks_for_other_documents() -> None:
    assert not read_text(HALL + "as A1.").marks


def test_a_room_number_alone_is_no_item() -> None:
    text = "| Room | Walls |\n| --- | --- |\n| 107 | two coats satin |\n| 108 | same as 107 |"
    assert len(said(text)) == 1
    assert any("taken over from elsewhere" in one for one in asked(text))


def test_codes_that_rooms_are_given_stay_marks() -> None:
    text = "P  PAINTS\nP1  Walls: two coats eggshell.\nP2  Walls: two coats satin.\n\nRoom | Walls\nOffice | P1\nKitchen | P2"
    assert "system of finish paint (room office, surface wall): P1" in said(text)


@pytest.mark.parametrize("why", CASES)
def test_a_schedule_of_works_means_what_its_case_says(why: str) -> None:
    text, rules = CASES[why]
    assert sorted(said(text)) == sorted(rules)
