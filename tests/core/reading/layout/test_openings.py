"""Lines that may open a section, and lists of such lines."""

from __future__ import annotations

import pytest

from darby.reading.layout.lines import split_lines
from darby.reading.layout.openings import (
    begins_below,
    counted_clauses,
    digits,
    given_letters,
    numbers_clauses,
    openings,
    tell_contents,
    tell_lists,
    title_below,
)
from reads import read_text


@pytest.mark.parametrize(
    ("number", "plain"),
    [("09 91 23", "099123"), ("09 90 00", "0990"), ("09 00 00", "09"), ("09.91.23", "099123"), ("09900", "09900"),
     ("K10", "K10"), ("09 29 OO", "0929")],
)  # fmt: skip
def test_a_number_without_what_parts_it_and_its_noughts(number: str, plain: str) -> None:
    assert digits(number) == plain


@pytest.mark.parametrize(
    ("line", "number", "title"),
    [
        ("SECTION 09 91 23 - INTERIOR PAINTING", "09 91 23", "INTERIOR PAINTING"),
        ("Section 092900: Gypsum Board", "092900", "Gypsum Board"),
        ("SECTION 09 91 23", "09 91 23", ""),
        ("09 91 23 - Fluid Roofing", "09 91 23", "Fluid Roofing"),
        ("K10 LININGS", "K10", "LININGS"),
        ("DIVISION 9 - FINISHES", "09", "FINISHES"),
        ("## 09 29 00 Gypsum Board", "09 29 00", "Gypsum Board"),
    ],
)
def test_a_line_that_opens_a_section(line: str, number: str, title: str) -> None:
    (found,) = openings(split_lines(f"{line}\nPART 1 - GENERAL"))
    assert (found.number, found.title) == (number, title)


@pytest.mark.parametrize(
    "line",
    ["09 91 23 shall apply.", "Section 09 91 23 is deleted", "09 91 23  two  coats", "SECTION 09 91", "12 in. o.c."],
)
def test_a_sentence_a_row_and_a_measure_open_none(line: str) -> None:
    assert list(openings(split_lines(f"{line}\nWalls: two coats."))) == []


def test_a_title_in_capitals_over_a_first_part_opens_one_without_a_number() -> None:
    (found,) = openings(split_lines("PAINTING\nPART 1 - GENERAL"))
    assert (found.number, found.title, found.sure) == ("", "PAINTING", False)
    assert list(openings(split_lines("Painting\nPART 1 - GENERAL"))) == []


def test_a_section_begins_below_its_line_within_a_few_lines() -> None:
    near = split_lines("09 91 23 Painting\nby the painter\nPART 1 - GENERAL")
    far = split_lines("09 91 23 Painting\n" + "some words\n" * 8 + "PART 1 - GENERAL")
    assert begins_below(near, 0)
    assert not begins_below(far, 0)
    assert begins_below(split_lines("09 91 23 Painting\n" + "some words\n" * 7 + "PART 1 - GENERAL"), 0)


def test_a_title_may_stand_below_a_number() -> None:
    assert title_below(split_lines("SECTION 09 91 23\nINTERIOR\nPAINTING\nPART 1"), 0, {}) == "INTERIOR PAINTING"
    assert title_below(split_lines("SECTION 09 91 23\nInterior painting\nPART 1"), 0, {}) == "Interior painting"
    assert title_below(split_lines("SECTION 09 91 23\nPART 1 - GENERAL"), 0, {}) == ""


LIST = "09 21 16 Gypsum Board\n09 51 00 Ceilings\n09 91 23 Painting\n"


def whys(text: str) -> list[str]:
    lines = split_lines(text)
    tell_lists(lines, {opening.at: opening for opening in openings(lines)})
    tell_contents(lines)
    return [line.why for line in lines]


def test_numbers_and_titles_one_below_the_other_are_a_list() -> None:
    assert whys(LIST + "\nSome words.") == ["a list of sections"] * 3 + [""]
    assert whys("09 21 16 Gypsum Board\nSome words.\n09 51 00 Ceilings\nSome words.") == [""] * 4


def test_the_last_of_a_list_that_begins_a_section_is_none_of_it() -> None:
    assert whys(f"{LIST}\nSECTION 09 29 00\nPART 1 - GENERAL") == ["a list of sections"] * 3 + ["", ""]


def test_lines_that_lead_to_a_page_are_contents_below_a_heading_or_where_they_are_many() -> None:
    three = "Walls ........ 2\nCeilings ..... 5\nTrim ......... 9\n"
    assert whys(f"TABLE OF CONTENTS\n{three}") == ["", *["a table of contents"] * 3]
    assert whys(f"Some words\n{three}") == [""] * 4
    assert whys(three + three.replace("2", "12").replace("5", "15").replace("9", "19")) == ["a table of contents"] * 6
    falling = "Walls ........ 9\nCeilings ..... 5\nTrim ......... 2\n"
    assert whys(f"TABLE OF CONTENTS\n{falling}") == [""] * 4


@pytest.mark.parametrize(
    ("text", "numbers"),
    [
        ("112  Cores\n     Board A\n118  Plant\n     Board B", True),
        ("112  Cores\n     Board A\n118  Plant\nBoard B", False),
        ("112  Cores\n     board A\n118  Plant\n     board B", False),
        ("112  Cores   A\n     Board A\n118  Plant   B\n     Board B", False),
        ("112  Cores\n     Board   A\n118  Plant\n     Board   B", False),
        ("112  Cores\n\n     Board A\n118  Plant\n\n     Board B", False),
    ],
)
def test_numbers_below_which_lines_hang_are_those_of_clauses(text: str, numbers: bool) -> None:
    assert numbers_clauses(split_lines(text)) is numbers


@pytest.mark.parametrize(
    ("text", "counted"),
    [
        ("110 EMULSION to plaster\n120 EGGSHELL\n135 GLOSS: two coats", ["110", "120", "135"]),
        ("110 EMULSION\n120A EGGSHELL\n210 BOARD\n110 SEALER", ["110", "120A", "210", "110"]),
        ("110 EMULSION\n120 EGGSHELL", []),
        ("105 OFFICE\n110 LOBBY\n111 STORE\n120 STAIR", []),
        ("300 BOARDS\n200 BOARDS\n100 BOARDS", []),
        ("110 litres\n120 litres\n130 litres", []),
    ],
)
def test_numbers_that_count_up_in_tens_are_those_of_clauses(text: str, counted: list[str]) -> None:
    assert [match["clause"] for match in counted_clauses(split_lines(text)).values()] == counted


def test_letters_of_codes_that_are_given_number_no_paragraphs() -> None:
    assert given_letters(split_lines("F.1 Walls\nF.2 Ceilings\nLobby: F.1, F.2")) == {"F"}
    assert given_letters(split_lines("Room | Walls\nLobby | E.1 | G.2")) == {"E", "G"}
    assert given_letters(split_lines("B.1 Walls\nB.2 Ceilings, see B.1 for more\nas in C.2 above")) == frozenset()


HEADS = [
    ("TYPE 1A", "TYPE 2B"),
    ("TYPE 1A  GUEST ROOM TO GUEST ROOM        1-HR    STC 55", "TYPE 2B  GUEST ROOM TO HALL        1-HR    STC 52"),
    ("TYPE 1A - GUEST ROOM PARTITION", "TYPE 2B - CORRIDOR PARTITION"),
    ("W1   BATH PLUMBING WALL      NR", "W2   CORRIDOR WALL      1-HR"),
    ("W1", "W2"),
]
LAYERS = [
    '   (A) SIDE 1   2 LAYERS 5/8" TYPE X GYP BD\n   (B) SIDE 2   1 LAYER 5/8" TYPE X GYP BD',
    '   A. SIDE 1: 2 LAYERS 5/8" TYPE X GYP BD\n   B. SIDE 2: 1 LAYER 5/8" TYPE X GYP BD',
    '   - SIDE 1: 2 LAYERS 5/8" TYPE X GYP BD\n   - SIDE 2: 1 LAYER 5/8" TYPE X GYP BD',
    '   2 LAYERS 5/8" TYPE X GYP BD, SIDE 1\n   1 LAYER 5/8" TYPE X GYP BD, SIDE 2',
]


@pytest.mark.parametrize("body", LAYERS)
@pytest.mark.parametrize("heads", HEADS)
def test_a_type_of_partition_heads_its_layers_however_both_are_written(heads: tuple[str, str], body: str) -> None:
    blocks = "\n\n".join(f"{head}\n{body}" for head in heads)
    rules = [rule for rule in read_text(f"WALL TYPES\n\n{blocks}\n").rules if rule.kind.name == "layers"]
    marks = ("1A", "2B") if "TYPE" in heads[0] else ("W1", "W2")
    assert [(r.scope.get("mark"), r.scope.get("where"), str(r.amount)) for r in rules] == [
        (mark, *side) for mark in marks for side in (("one side", "2"), ("other side", "1"))
    ]
