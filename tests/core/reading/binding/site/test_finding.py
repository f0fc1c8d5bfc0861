"""What a fact stands among: groups of surfaces, products that are joined, words before it, where its phrase speaks of its own."""

from __future__ import annotations

import pytest

from darby.reading.binding.site.finding import Finding, hint_of, last_break, reason, relative, surface_groups
from darby.reading.parsing.fact_parser import Fact
from darby.reading.parsing.tagging.tag import Tag
from reads import said


def tags(text: str) -> list[Tag]:
    """`surface:wall AND room:hall` as tags, one behind the other."""
    parts = (word.partition(":") for word in text.split())
    return [Tag(n, n + 1, name, value) for n, (name, _, value) in enumerate(parts)]


@pytest.mark.parametrize(
    ("words", "groups"),
    [
        ("surface:wall AND surface:ceiling", [["wall", "ceiling"]]),
        ("surface:wall COMMA surface:door AND surface:wall", [["wall", "door"]]),
        ("surface:wall OF surface:ceiling", [["wall"], ["ceiling"]]),
        ("surface:wall room:hall AND surface:ceiling", [["wall", "ceiling"]]),
        ("NUMBER surface:wall NUMBER surface:ceiling", [["wall"], ["ceiling"]]),
        ("room:hall", []),
    ],
)
def test_surfaces_that_are_named_together_are_one_group(words: str, groups: list[list[str]]) -> None:
    assert [values for _, values in surface_groups(tags(words))] == groups


def test_a_product_that_carries_a_surface_goes_on_a_group_of_surfaces() -> None:
    carried = Tag(2, 3, "subject", "varnish", also=(("surface", "ceiling"),))
    assert [v for _, v in surface_groups([*tags("surface:wall AND"), carried])] == [["wall", "ceiling"]]
    assert surface_groups([carried]) == []


@pytest.mark.parametrize(
    ("names", "at"),
    [("a COMMA b COLON c", 4), ("COMMA", 1), ("a SEMICOLON b", 2), ("a AND b", 0), ("", 0)],
)
def test_the_last_break_is_behind_a_comma_a_colon_or_a_semicolon(names: str, at: int) -> None:
    assert last_break(tags(names)) == at


@pytest.mark.parametrize(
    ("names", "goes_on"),
    [
        ("EXCEPT room COMMA CONDITION", True),
        ("EXCEPT AND surface COMMA CONDITION", True),
        ("room COMMA CONDITION", False),
        ("EXCEPT room AND CONDITION", False),
        ("EXCEPT room NUMBER COMMA CONDITION", False),
    ],
)
def test_a_condition_may_only_go_on_about_the_place_of_an_exception(names: str, goes_on: bool) -> None:
    words = tags(names)
    assert relative(words, len(words) - 1) is goes_on


def test_words_that_set_aside_give_their_reason_and_words_of_kinds_their_kind() -> None:
    assert reason(tags("surface ASIDE:a_gap ASIDE:a_price")) == "a_gap"
    assert reason(tags("surface")) == ""
    assert [hint_of(t) for t in tags("hint:framing ON_CENTER THICK COAT surface")] == [
        "framing", "spacing", "thickness", "coats", "",
    ]  # fmt: skip


def test_a_finding_stands_where_it_has_a_kind_and_nothing_is_against_it() -> None:
    assert [
        Finding(Fact("coats"), kind=kind, aside=aside, unread=unread, doubt=doubt).stands
        for kind, aside, unread, doubt in (("coats", "", "", ""), ("", "", "", ""), ("coats", "x", "", ""), ("coats", "", "x", ""), ("coats", "", "", "x"))
    ] == [True, False, False, False, True]  # fmt: skip


JOINED = {
    "Primer and finish paint: 5 gal pails.": ["package of primer: 5 gal per 1 pail", "package of finish paint: 5 gal per 1 pail"],
    "Primer and finish paint on walls: 300 sq ft per gallon.":
        ["coverage of primer (surface wall): 300 sq ft per 1 gal", "coverage of finish paint (surface wall): 300 sq ft per 1 gal"],
    "Walls and ceilings, doors: two coats finish paint.":
        [f"coats of finish paint (surface {s}): 2" for s in ("wall", "ceiling", "door")],
    "Walls of halls and ceilings: two coats finish paint.":
        ["coats of finish paint (room hall, surface wall): 2", "coats of finish paint (surface ceiling): 2"],
}  # fmt: skip


@pytest.mark.parametrize("text", JOINED)
def test_what_is_joined_by_and_has_the_number_together(text: str) -> None:
    assert said(text) == JOINED[text]
