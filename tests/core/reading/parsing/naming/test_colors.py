"""Names of colors, by where they stand."""

from __future__ import annotations

import pytest

from darby.reading.parsing.naming.colors import with_colors
from reads import language, read_anew, read_text


def colors(text: str, *, told: bool = False) -> list[str]:
    words = language().lexicon
    found = with_colors(words.tags(text), text, words.hues, words.says_nothing, told=told)
    return [t.value for t in found if t.name == "color"]


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("Doors: gloss in Oxford Blue.", ["oxford blue"]),
        ("Walls: eggshell, color Kelp.", ["kelp"]),
        ("Walls: eggshell, Sea Kelp color.", ["sea kelp"]),
        ("Colors: walls Kelp; ceilings Driftwood.", ["kelp", "driftwood"]),
        ("Columns Iron Gray.", ["iron gray"]),
        ("Doors: Harbour Blue on Level 0, Fern on Level 1.", ["harbour blue", "fern"]),
        ("Ceilings: flat white.", ["white"]),
        ("Walls in matt black.", ["black"]),
        ("Ceilings: matt throughout, brilliant white.", ["brilliant white"]),
        ("Paint walls white.", ["white"]),
    ],
)
def test_a_color_is_told_by_the_words_beside_it(text: str, names: list[str]) -> None:
    assert colors(text) == names


@pytest.mark.parametrize(
    "text",
    [
        "White Oak doors: two coats satin.",
        "Let it dry from blue to white.",
        "Walls: color to be selected.",
        "Walls: color as selected by Architect.",
        "Reception walls: eggshell in Ensuite.",
        "Black & Decker sander on walls.",
        "Green board on walls.",
    ],
)
def test_what_only_looks_like_one_is_none(text: str) -> None:
    assert colors(text) == []


def test_under_words_that_say_so_any_name_in_capitals_is_one() -> None:
    assert colors("Walls Driftwood.", told=True) == ["driftwood"]
    assert colors("Walls Driftwood.") == []


def test_behind_goods_called_by_their_look_it_closes_the_row_of_a_legend() -> None:
    rows = (
        "Legend of finishes\n"
        "   E1   Drywall primer, 1 coat; matt emulsion, 2 coats. Chalk White.\n"
        "   E2   Drywall primer, 1 coat; matt emulsion, 2 coats. Clean down.\n"
    )
    found = [(r.choice, r.scope.get("mark")) for r in read_text(rows).rules if r.kind.name == "color"]
    assert found == [("chalk white", "E1")]


@pytest.mark.parametrize(
    ("text", "color"),
    [
        ('Walls: two coats epoxy, "Steel".', "steel"),
        ("Walls: two coats eggshell, 'Linen'.", "linen"),
        ("Walls: two coats eggshell, “White Oak”.", "white oak"),
        ("Walls: two coats latex eggshell, Fleece.", "fleece"),
        ("Paint walls eggshell, Pebble, two coats.", "pebble"),
        ("Doors: two coats enamel, Bark.", "bark"),
        ("Walls: two coats eggshell, Scrubbable.", ""),
        ("Walls: two coats eggshell, Architect.", ""),
        ("Walls: two coats latex, Owner's choice.", ""),
        ("Walls: two coats eggshell, Level 4.", ""),
        ("WALLS: TWO COATS EGGSHELL, FLEECE.", ""),
    ],
)
def test_a_name_behind_a_look_is_a_color_where_nothing_speaks_against_it(text: str, color: str) -> None:
    (coats,) = (rule for rule in read_anew(text).rules if rule.kind.name == "coats")
    assert coats.scope.get("color", "") == color
