"""A table that a paste broke into one cell a line is put together again where its counts agree."""

from __future__ import annotations

import pytest

from laid import laid, layout


def lines(*cells: str) -> str:
    return "\n".join(cells) + "\n"


def test_heads_over_their_own_values_make_columns() -> None:
    assert laid(lines("Product", "Primer", "Finish paint", "Coats", "1", "2", "Spread, sq ft/gal", "300", "350")) == [
        "Primer | Coats: 1 | Spread, sq ft/gal: 300",
        "Finish paint | Coats: 2 | Spread, sq ft/gal: 350",
    ]


def test_heads_first_and_values_row_by_row() -> None:
    assert laid(lines("Surface", "Coats", "Sheen", "Walls", "2", "satin", "Ceilings", "1", "flat")) == [
        "Walls | Coats: 2 | Sheen: satin",
        "Ceilings | Coats: 1 | Sheen: flat",
    ]


def test_heads_first_and_values_column_by_column() -> None:
    assert laid(lines("Product", "Coats", "Spread (sq ft/gal)", "Primer", "Finish paint", "1", "2", "300", "350")) == [
        "Primer | Coats: 1 | Spread (sq ft/gal): 300",
        "Finish paint | Coats: 2 | Spread (sq ft/gal): 350",
    ]


def test_values_that_break_off_are_joined_until_the_counts_agree() -> None:
    assert laid(
        lines(
            "Product",
            "Under-",
            "coat",
            "Enamel,",
            "semi-gloss",
            "Coats",
            "1",
            "2",
            "Spread, sq ft/gal",
            "350 to",
            "400",
            "425",
        )
    ) == [
        "Undercoat | Coats: 1 | Spread, sq ft/gal: 350 to 400",
        "Enamel, semi-gloss | Coats: 2 | Spread, sq ft/gal: 425",
    ]


def test_what_begins_small_goes_on_and_what_begins_with_a_capital_is_a_cell_of_its_own() -> None:
    assert laid(lines("Product", "Enamel", "semi-gloss", "Primer", "Coats", "2", "1")) == [
        "Enamel semi-gloss | Coats: 2",
        "Primer | Coats: 1",
    ]


def test_a_column_whose_count_differs_is_left_alone() -> None:
    text = lines(
        "Product",
        "Primer",
        "Finish paint",
        "Coats",
        "1",
        "2",
        "Spread, sq ft/gal",
        "300",
        "350",
        "400",
        "Solids, %",
        "28",
        "38",
    )
    assert laid(text) == ["Primer | Coats: 1 | Solids, %: 28", "Finish paint | Coats: 2 | Solids, %: 38"]
    assert [c.text for c in layout(text).clauses][-4:] == ["Spread, sq ft/gal", "300", "350", "400"]


def test_two_ways_of_counting_that_both_fit_decide_nothing() -> None:
    assert laid(lines("Coats", "Film, mils", "1", "2", "3", "4")) == []


def test_rooms_and_the_systems_of_their_surfaces() -> None:
    text = lines(
        "Room", "Lobby", "Coat check", "Store", "Walls", "PT-1", "PT-2", "PT-2", "Ceilings", "PT-3", "PT-3", "none"
    )
    assert laid(text) == [
        "Lobby | Walls: PT-1 | Ceilings: PT-3",
        "Coat check | Walls: PT-2 | Ceilings: PT-3",
        "Store | Walls: PT-2 | Ceilings: none",
    ]


def test_each_system_keeps_the_name_above_its_columns() -> None:
    block = ("Product", "Sealer", "Eggshell", "Coats", "1", "2")
    text = lines("System P1 walls", *block, "System P2 ceilings", *block)
    rows = [c for c in layout(text).clauses if c.cells]
    assert [row.parents[0].text for row in rows] == ["System P1 walls"] * 2 + ["System P2 ceilings"] * 2
    assert rows[0].parents[0].leads_in


@pytest.mark.parametrize(
    "text",
    [
        lines("Solids by volume", "38 %", "Spreading rate", "400 sq ft/gal", "Coats", "2"),  # labels and values
        lines("Product", "Primer", "Finish paint", "Surface", "Walls", "Ceilings"),  # no numbers and no codes
        lines("Coats", "1", "2"),
    ],
)
def test_what_is_no_such_table_is_left_as_it_stands(text: str) -> None:
    assert laid(text) == []


def test_digits_alone_before_a_blank_line_are_no_number_of_a_page() -> None:
    text = lines("Product", "Primer", "Finish", "Coats", "1", "2", "", "All work is inside.")
    assert laid(text) == ["Primer | Coats: 1", "Finish | Coats: 2"]
