"""The outline: which headings, paragraphs and lists a clause stands under, and which it leaves."""

from __future__ import annotations

import pytest

from laid import layout


def under(text: str, begins: str) -> list[str]:
    """What the clause stands under, nearest first, the title of the document aside."""
    (clause,) = [c for c in layout(text).clauses if c.text.startswith(begins)]
    return [p.text for p in clause.parents if p.text != "SCHEDULE"]


LISTED = {
    "1. Walls\n   a. Primer.\n   b. Paint.\n2. Ceilings\n   a. Flat.": {
        "Primer": ["Walls"], "Paint": ["Walls"], "Flat": ["Ceilings"],
    },
    "3.1 WALLS\nA. Primer\n1. One coat.\nB. Paint\n3.2 CEILINGS\nA. Flat.": {
        "One coat": ["Primer", "WALLS"], "Paint": ["WALLS"], "Flat": ["CEILINGS"],
    },
    "Apply as follows:\n- primer\n- paint\n\nOther matters\n\nSweep.": {
        "primer": ["Apply as follows:"], "paint": ["Apply as follows:"],
    },
    "1. Brick walls\nSealer 80: one coat.\nGloss 60: two coats.\n\n2. Ceilings\nSealer: one.\n\nOther lines.": {
        "Gloss 60": ["Brick walls"], "Sealer:": ["Ceilings"], "Other": [],
    },
    "1. Brick walls\n   Sealer 80: one coat.\nGloss 60: two coats.": {"Gloss 60": []},
    "LODGE\n\n110  P1: WALLS\n     - Primer: one.\n120  P2: DOORS\n     - Gloss: two.\n130  Loft and riser: bare.\n\nROOMS\n\nHall: two.": {
        "Gloss": ["P2: DOORS"], "Hall": ["ROOMS"],
    },
    "# Paint\n\n## Walls\n\n### Baths\n\nSatin.\n\n## Ceilings\n\nFlat.": {
        "Satin": ["Baths", "Walls", "Paint"], "Flat": ["Ceilings", "Paint"],
    },
    "PART 2 - PRODUCTS\n2.1 PAINT\nA. Primer.\nPART 3 - EXECUTION\n3.1 WALLS\nA. Sweep.": {
        "Primer": ["PAINT", "PRODUCTS"], "Sweep": ["WALLS", "EXECUTION"],
    },
}  # fmt: skip


@pytest.mark.parametrize("text", LISTED)
def test_a_clause_stands_under_what_opens_it(text: str) -> None:
    assert {begins: under(text, begins) for begins in LISTED[text]} == LISTED[text]


def test_a_line_behind_a_blank_is_not_under_a_numbered_sentence_that_is_finished() -> None:
    text = "WALLS\n\n1. Sand the walls.\n\nTwo coats satin."
    assert "Sand the walls." not in under(text, "Two")


def test_a_line_further_left_leaves_the_list() -> None:
    text = "Walls:\n    - primer\n    - paint\nCeilings get one coat."
    assert under(text, "paint") == ["Walls:"]
    assert "Walls:" not in under(text, "Ceilings")


def test_nesting_without_end_is_cut_and_the_title_stays() -> None:
    deep = (
        "\n".join(f"{'#' * min(n, 6)} Heading {n}" for n in range(1, 7))
        + "\n"
        + "\n".join(f"{' ' * n}{chr(96 + n % 26 + 1)}. point {n}:" for n in range(1, 40))
    )
    parents = [len(c.parents) for c in layout(deep).clauses]
    assert max(parents) <= 13


def test_what_stands_below_the_number_of_a_clause_leaves_the_one_before() -> None:
    text = "110 EMULSION to plaster\n- Walls\n120 EGGSHELL: two coats\n- Kitchen\n130 GLOSS\n- Doors"
    assert under(text, "Kitchen") == ["EGGSHELL: two coats"]
    assert under(text, "Doors") == ["GLOSS"]
