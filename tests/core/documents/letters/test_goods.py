"""Goods are described by all that the documents give them, and never by where they go alone."""

from __future__ import annotations

from attrs import evolve

import made
from darby.documents.letters.goods import description, spoken
from darby.documents.needs import needs
from darby.estimate.line_item import LineItem
from darby.quantities.amounts import Amount
from darby.rules.rule import SPECIFICATION, Rule, Scope
from darby.text.spans import Source


def coats(text: str, **scope: str) -> Rule:
    source = Source("s.txt", text)
    rule = made.said(source, text, "coats", "primer", "1", layer=SPECIFICATION)
    return evolve(rule, scope=Scope(scope))


def described(*rules: Rule, **pool: str) -> str:
    item = LineItem("primer", Amount.read("3 gal"), pool, Amount.read("1 gal") / Amount.of(1, "can"), "coatings", rules)
    (need,) = needs(made.estimate(items=(item,)))
    return description(need, item)


def test_the_pool_comes_first_and_surfaces_are_what_it_is_for() -> None:
    assert described(sheen="flat", surface="wall") == "flat, for walls"


def test_what_the_rules_behind_it_say_of_the_goods_is_told() -> None:
    assert (
        described(coats("One coat latex primer, ASTM D3960.", **{"class": "latex", "room": "loft"}))
        == "latex, ASTM D3960"
    )


def test_what_they_do_not_agree_on_is_not_told() -> None:
    assert described(coats("one", **{"class": "latex"}), coats("two", **{"class": "alkyd"})) == ""
    assert described(coats("one", sheen="satin"), sheen="flat") == "flat"


def test_the_rate_that_was_taken_for_goods_says_nothing_of_them() -> None:
    source = Source("s.txt", "Epoxy spreads 300 sq ft per gallon.")
    rate = made.said(source, source.text, "coverage", "primer", "300 sq ft", per="1 gal", layer=SPECIFICATION)
    assert described(evolve(rate, scope=Scope({"class": "epoxy"})), sheen="flat") == "flat"


def test_a_rule_is_told_in_a_sentence() -> None:
    rule = coats("two", sheen="flat", surface="wall", room="loft", system="PT-2")
    assert spoken(rule) == "1 coat of flat primer on the walls in loft (PT-2)"
    assert spoken(evolve(rule, scope=Scope()), " on the ceilings in Sty") == "1 coat of primer on the ceilings in Sty"
    assert spoken(evolve(rule, scope=Scope({"condition": "existing"}))) == "1 coat of primer, existing"


def test_a_choice_and_a_bare_number_are_told_with_what_they_are() -> None:
    source = Source("s.txt", "Level 4, satin")
    level = made.said(source, "Level 4", "finish level", "primer", "4", layer=SPECIFICATION)
    assert spoken(evolve(level, scope=Scope({"surface": "ceiling"}))) == "primer, finish level 4 on the ceilings"
    sheen = evolve(level, kind=evolve(level.kind, name="sheen"), choice="satin", scope=Scope({"sheen": "satin"}))
    assert spoken(sheen) == "sheen of primer: satin"


def test_what_of_the_pool_is_told_apart_is_left_out_and_what_nobody_has_said_is_a_blank() -> None:
    item = LineItem("primer", Amount.read("3 gal"), Scope({"sheen": "flat", "use": "spare stock"}))
    (need,) = needs(made.estimate(items=(item,)))
    assert description(need, item) == "flat, spare stock"
    assert description(need, item, apart=("use",), unsaid=("color",)) == "flat, color: __________"
