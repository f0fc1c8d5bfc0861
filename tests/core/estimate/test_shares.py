"""Shares of a product: what is bought together, what is measured together, and what every trade asks in the same way."""

from __future__ import annotations

from collections import defaultdict

import pytest
from attrs import frozen

from darby.estimate.areas import Deduct, Place
from darby.estimate.line_item import LineItem, dashed
from darby.estimate.shares import alike, area_of, by_area, grouped, layers_on, no_use_over_area, rules_of
from darby.plugin_host.loader import load_plugins
from darby.quantities.amounts import Amount
from darby.quantities.units import MASS, VOLUME
from darby.rules.cascade import RuleBook
from darby.rules.consultation import Consultation
from jobs import opening, wall
from kit import rule

SHEET = "gypsum board"


@frozen(eq=False)
class Part:
    place: Place
    deduct: Deduct
    alike: str


def place(*surfaces: object) -> Place:
    return Place({"surface": "wall"}, surfaces)  # type: ignore[arg-type]


def book(*rules: object) -> Consultation:
    return Consultation(RuleBook(rules))  # type: ignore[arg-type]


def test_groups_and_what_is_in_them_keep_the_order_of_first_use() -> None:
    groups = grouped(["pail", "bag", "pint", "box", "bin"], lambda word: word[0])
    assert list(groups.items()) == [("p", ["pail", "pint"]), ("b", ["bag", "box", "bin"])]


def test_shares_that_are_alike_make_one_subtotal_each() -> None:
    one, two, three = (Part(place(wall("10 ft", "8 ft")), None, key) for key in "aba")
    assert alike([one, two, three]) == [[one, three], [two]]


def test_the_area_of_some_shares_is_that_of_all_their_surfaces_less_what_comes_out_of_each() -> None:
    over = book(rule("deduct openings over", SHEET, "30 sq ft")).ask("deduct openings over", SHEET)
    doors = wall("10 ft", "8 ft", openings=[opening("5 ft", "7 ft"), opening("3 ft", "7 ft")])
    shares = [Part(place(doors, wall("4 ft", "8 ft", faces=2)), over, ""), Part(place(wall("1 m2")), over, "")]
    # 80 - 35 (21 stays in) + 2 x 32 sq ft, and 1 m2
    area = area_of(shares, "area of walls", "us")
    assert area == Amount.read("109 sq ft") + Amount.read("1 m2")
    assert (area.label, area.unit.name) == ("area of walls", "sq ft")
    assert area_of(shares, "", "metric").unit.name == "m2"
    with pytest.raises(IndexError):
        area_of([], "", "us")


def test_layers_are_those_on_each_side_of_the_place_asked_about_and_no_layer_is_none() -> None:
    two = rule("layers", SHEET, "2", surface="wall", where="each side")
    asked = book(two, rule("layers", SHEET, "1"), rule("layers", SHEET, "3", surface="ceiling"))
    answer = layers_on(place(wall("10 ft", "8 ft")), SHEET, asked)
    assert answer is not None
    assert answer.rule is two
    assert not asked.unanswered
    assert layers_on(place(wall("10 ft", "8 ft")), SHEET, book(rule("layers", SHEET, "0"))) is None


def test_layers_of_any_type_answer_and_a_silence_is_asked_about() -> None:
    typed = book(rule("layers", SHEET, "1", type="type X"))
    assert layers_on(place(wall("10 ft", "8 ft")), SHEET, typed) is not None
    silent = book()
    assert layers_on(place(wall("10 ft", "8 ft")), SHEET, silent) is None
    assert [(a.kind, a.subject, dict(a.about)) for a in silent.unanswered] == [
        ("layers", SHEET, {"surface": "wall", "where": "each side"})
    ]


def test_a_rate_over_an_area_is_one_of_what_it_is_told_in() -> None:
    by_weight = rule("consumption", "joint compound", "14 lb", "100 sq ft")
    assert by_area(by_weight, {MASS, VOLUME})
    assert not by_area(by_weight, {VOLUME})
    by_length = rule("consumption", "joint compound", "1 gal", "38 ft")
    assert not by_area(by_length, {MASS, VOLUME})
    assert not by_area(rule("consumption", "joint compound", "1 gal"), {VOLUME})
    assert no_use_over_area(by_length).startswith("The rate of 1 gal per 38 ft (spec.txt")


def test_rules_come_in_the_order_of_the_answers_without_those_not_given() -> None:
    said = [rule("coats", "primer", "1"), rule("waste", "primer", "10 %")]
    asked = book(*said)
    waste, coats = asked.ask("waste", "primer"), asked.ask("coats", "primer")
    assert rules_of(coats, None, waste) == tuple(said)
    assert rules_of(None) == ()


def test_what_differs_in_capitals_and_hyphens_alone_has_one_name_as_ids_have_it() -> None:
    items = [LineItem("Gypsum Board", Amount.of(1), {"type": kind}) for kind in ("Type X", "type-x", "type  x")]
    assert {item.id for item in items} == {"gypsum-board:type-x"}
    assert {dashed(item.pool["type"]) for item in items} == {"type-x"}


def test_a_danger_that_several_trades_tell_is_told_in_one_way() -> None:
    told = defaultdict(set)
    by: dict[str, list[str]] = defaultdict(list)
    for provided in load_plugins().trades:
        for caution in provided.trade.cautions:
            told[caution.topic].add(caution)
            by[caution.topic].append(provided.trade.name)
    assert by["Work at height"] == ["board", "coatings", "fasteners"]
    assert by["Silica dust"] == ["board", "joints"]
    assert {topic: len(cautions) for topic, cautions in told.items() if len(cautions) > 1} == {}
