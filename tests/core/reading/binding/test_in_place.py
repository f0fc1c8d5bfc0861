"""Goods of ours that are left out somewhere, as facts of the tags that say so."""

from __future__ import annotations

import pytest

from darby.reading.binding.in_place import IN_PLACE, doubt_limits, limits, replaced
from darby.reading.binding.site.finding import Finding
from darby.reading.parsing.fact_parser import Fact
from darby.reading.parsing.tagging.tag import Tag
from reads import language, read_text, said

LEFT = Tag(0, 4, "REPLACED", "finish paint + gypsum board", also=(("stops_at", "primer"),))


def test_there_is_one_fact_for_each_of_the_goods() -> None:
    assert [f.subject for f in replaced(LEFT, 0, language().lexicon)] == ["finish paint", "gypsum board"]


def test_goods_that_nothing_takes_the_place_of_have_none() -> None:
    assert not list(replaced(Tag(0, 4, "REPLACED", "corner bead"), 0, language().lexicon))


def test_a_limit_is_told_from_the_goods_of_others() -> None:
    assert limits(LEFT)
    assert not limits(Tag(0, 4, "REPLACED", "finish paint", also=(("replaced", "act-1"),)))


def test_a_limit_that_is_not_sure_is_a_question() -> None:
    out = Finding(Fact(IN_PLACE), IN_PLACE, confirm="words before it may say where it holds")
    doubt_limits([out])
    assert (out.doubt, out.confirm) == ("words before it may say where it holds: nothing is left out", "")


def test_goods_of_others_take_the_place_of_ours_on_the_surface_that_is_named() -> None:
    goods = ("finish paint", "gypsum board", "primer")
    found = said("Office: walls two coats eggshell, ceiling exposed.")[1:]
    assert sorted(found) == [f"replaced of {one} (room office, surface ceiling): exposed" for one in goods]


@pytest.mark.parametrize(
    ("text", "rules"),
    [
        ("Doors: factory primed; two coats gloss.", ["replaced of primer (surface door): factory primed"]),
        ("PT-5: Steel doors, shop primed; two coats gloss.", ["replaced of primer (mark PT-5, surface door): shop primed"]),
        ("Doors and trim come primed.", [f"replaced of primer (surface {on}): comes primed" for on in ("door", "trim")]),
        ("Walls and shop-primed doors: two coats gloss.", ["replaced of primer (surface door): shop primed"]),
        ("Walls: two coats eggshell over factory primed panels.", []),  # no wall comes primed
        ("Shop primed steel is by others.", []),
    ],
)  # fmt: skip
def test_what_comes_primed_takes_no_primer_where_a_thing_is_named_that_may_be_so(text: str, rules: list[str]) -> None:
    assert [one for one in said(text) if one.startswith("replaced")] == rules


def test_coats_behind_something_that_has_none_may_be_of_it() -> None:
    (rule,) = read_text("Doors are unpainted. Two coats gloss.").rules
    assert rule.kind.name == "coats"
    assert rule.confirm == "it may be of what stands before it alone (door)"
