"""Goods are described by all that the documents give them, and never by where they go alone."""

from __future__ import annotations

from attrs import evolve

import made
from darby.documents.letters.goods import description
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
