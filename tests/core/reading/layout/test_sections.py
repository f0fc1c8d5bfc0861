"""Sections of a manual: where each begins and ends; running heads and feet of a section are no part of it."""

from __future__ import annotations

from darby.reading.layout.lines import Line, split_lines
from darby.reading.layout.sections import tell_sections


def told(text: str) -> list[Line]:
    lines = split_lines(text)
    tell_sections(lines)
    return lines


def numbers(text: str) -> list[str]:
    return [line.section.number if line.section is not None and not line.section.ended else "" for line in told(text)]


BOARD = "SECTION 09 29 00 - GYPSUM BOARD\n\nPART 1 - GENERAL\n\nWalls: one layer.\n\nEND OF SECTION\n\n"
PAINT = "SECTION 09 91 23\nPAINTING\n\nPART 1 - GENERAL\n\nWalls: two coats.\n"


def test_each_line_stands_in_the_section_that_was_opened_last() -> None:
    assert numbers(BOARD + PAINT) == ["09 29 00"] * 3 + [""] + ["09 91 23"] * 4


def test_a_section_has_the_title_beside_its_number_or_below_it() -> None:
    titles = [line.section.title for line in told(BOARD + PAINT) if line.section is not None]
    assert titles == ["GYPSUM BOARD"] * 4 + ["PAINTING"] * 4


def test_the_end_of_a_section_is_set_apart() -> None:
    assert [line.why for line in told(BOARD + PAINT)][3] == "the end of a section"


def test_the_number_once_more_is_a_running_head() -> None:
    head = "SECTION 09 91 23 - PAINTING"
    text = f"{head}\n\nPART 1 - GENERAL\n\nWalls: two coats.\n\n{head}\n\nCeilings: one coat.\n"
    lines = told(text)
    assert [line.kind for line in lines] == ["text", "text", "text", "apart", "text"]
    assert {line.section.number for line in lines if line.section is not None} == {"09 91 23"}


def test_a_foot_of_number_title_and_page_is_set_apart_and_a_sentence_about_it_is_not() -> None:
    text = f"{PAINT}\nPAINTING 09 91 23 - 2\n\nSee 09 91 23 for ladders;\n"
    assert [line.why for line in told(text)][-2:] == ["a page header or footer", ""]


def test_a_text_without_numbers_has_no_sections() -> None:
    assert {line.section for line in told("PAINTING\n\nPART 1 - GENERAL\n\nWalls: two coats.\n")} == {None}
