"""Labels, headings and titles: what opens something, whatever the case of a document."""

from __future__ import annotations

import pytest

from darby.reading.layout.clause import Clause
from darby.reading.layout.normalize import mend
from darby.reading.layout.segmenter import clauses
from darby.text.spans import Source
from reads import language, read_text


def taken(text: str) -> list[Clause]:
    return list(clauses(mend(Source("s", text), language().known), language().known).clauses)


def heads(text: str) -> list[str]:
    return [clause.text for clause in taken(text) if clause.heading]


def under(text: str, begins: str) -> list[str]:
    return [p.text for c in taken(text) if c.text.startswith(begins) for p in c.parents]


@pytest.mark.parametrize("case", [str, str.upper, str.lower])
def test_a_first_line_that_wraps_is_no_title(case: type[str]) -> None:
    text = case("Apply a single layer of board to walls and two layers to\nceilings.\n")
    assert heads(text) == []
    assert len(taken(text)) == 1


@pytest.mark.parametrize(
    "text", ["Abuse-resistant  board on walls of halls.", "Satin  paint on walls  but not in dens."]
)
def test_a_justified_sentence_is_no_title(text: str) -> None:
    assert heads(text) == []
    assert len(heads(text.removesuffix("."))) == 1


def test_a_title_may_be_broken_into_lines() -> None:
    text = "SHOREGUARD\nWaterborne Acrylic\nWall Primer\nCoverage:\n300 sq ft per gallon\n"
    assert heads(text) == ["SHOREGUARD Waterborne Acrylic Wall Primer"]
    assert [(r.kind.name, r.subject) for r in read_text(text).rules] == [("coverage", "primer")]


def test_a_name_in_capitals_over_lines_that_stand_further_in_heads_them() -> None:
    text = (
        "SCOPE\n\nREC ROOM  14' x 11', ceiling 7'-6\"\n  Walls: two coats flat\n  Ceiling: one coat flat\n"
        "BATH 2  8' x 5'\n  Walls: two coats satin\nUTILITY\n  Walls: one coat primer\n"
    )
    assert under(text, "Ceiling")[0].startswith("REC ROOM")
    assert under(text, "Walls: two coats satin")[0].startswith("BATH 2")
    assert under(text, "Walls: one coat primer")[0] == "UTILITY"


def test_one_label_to_a_line() -> None:
    text = "SCOPE\n  New board on all four walls of the room and its closet\n  Walls, existing: two coats of satin\n"
    assert [c.text for c in taken(text)][1:] == [
        "New board on all four walls of the room and its closet",
        "Walls, existing: two coats of satin",
    ]


def test_what_counts_something_is_no_title_and_no_heading() -> None:
    assert heads("Walls two coats satin\nTrim one coat enamel\n") == []
    assert heads("WALLS TWO COATS SATIN\nTRIM ONE COAT ENAMEL\n") == []


def test_a_number_that_ends_a_wrapped_sentence_is_no_label() -> None:
    text = "Stairs are finished to Level 3 and the lobby ceiling, lit from the side, to Level\n5. Offices to Level 4.\n"
    assert not any(clause.label for clause in taken(text))


def test_leaders_make_no_title() -> None:
    assert heads("JOINT TAPE .......... 500 FT ROLLS\n") == []


@pytest.mark.parametrize("case", [str, str.upper, str.lower])
def test_a_mark_heads_what_stands_below_it(case: type[str]) -> None:
    text = case("P3 - BOARD CEILINGS, MATT\n2nd coat: emulsion\n\nP9 - RAILS\n1st coat: primer\n")
    assert [head.upper() for head in heads(text)] == ["P3 - BOARD CEILINGS, MATT", "P9 - RAILS"]


HUNG = "112  Lining to cores, first floor\n     Board: one layer of 12.5 mm plasterboard.\n\n118  Lining to plant\n     Board: two layers of 15 mm plasterboard.\n"


def test_a_number_heads_what_hangs_below_it() -> None:
    assert heads(HUNG) == ["Lining to cores, first floor", "Lining to plant"]
    assert under(HUNG, "Board: two")[0] == "Lining to plant"


def test_a_sentence_behind_such_a_number_is_no_heading() -> None:
    assert heads(f"{HUNG}\n640  Joints: tape and fill in three coats.\n") == heads(HUNG)


def test_rows_whose_keys_are_numbers_head_nothing() -> None:
    assert heads("112  Lobby    PT-1\n     east wall  PT-2\n118  Office   PT-1\n     east wall  PT-2\n") == []
    assert heads("112  Lobby and\n     corridor\n118  Office and\n     store\n") == []


def test_among_small_letters_a_lead_in_with_a_remark_is_no_heading() -> None:
    text = "screws at (maximum):\n  - walls: 300 mm.\n  - ceilings: 230 mm.\nscrews 36 mm long.\n"
    assert heads(text) == []


def test_among_capitals_a_remark_in_small_letters_shows_a_heading() -> None:
    text = "KEY\n\nWALL PAINT\nP-1: SATIN, 2 COATS\nP-2: FLAT, 2 COATS\n\nBOARD DATA (from the supplier)\n5/8 IN. TYPE X BOARD\n"
    assert [rule.scope.get("surface") for rule in read_text(text).rules if rule.kind.name == "thickness"] == [
        None,
    ]


def test_capitals_that_say_how_much_of_something_head_nothing() -> None:
    for said in ("RATE: 250 SF/GAL", "HALLS: 2 COATS", "HALLS: TWO COATS", "SHARE: 42% +/- 2%", "RATE 300 SF/GAL"):
        assert heads(f"What is to be done in all of the rooms.\n{said}\nMore of it is said below.\n") == [], said
    for name in ("ROOM: 101 OFFICE", "WALLS OVER 12 FT", "BOARD: PART 2", "FLOOR: 2"):
        assert heads(f"What is to be done in all of the rooms.\n\n{name}\nMore of it is said below.\n") == [name], name
