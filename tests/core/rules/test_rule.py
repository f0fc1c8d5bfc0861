"""One rule: what it says, which end of a range governs, which of two buys more; layers and scopes."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest

from darby.rules.answer import Answer, Asked
from darby.rules.rule import DEFAULT, HOUSE, OVERRIDE, SPECIFICATION, Scope, addendum, alternate
from kit import rule


@pytest.mark.parametrize(
    ("kind", "amount", "upper", "per", "rate"),
    [
        # a smaller coverage and a closer spacing buy more; more coats and more compound buy more
        ("coverage", "250 sq ft", "400 sq ft", "1 gal", (250, "sq ft/gal")),
        ("coverage", "500 sq ft", "", "2 gal", (250, "sq ft/gal")),
        ("spacing", "12 in", "16 in", "", (12, "in")),
        ("coats", "2", "3", "", (3, "each")),
        ("consumption", "12 lb", "15 lb", "100 sq ft", (Fraction(3, 20), "lb/sq ft")),
    ],
)
def test_of_a_range_the_end_that_buys_more_governs_for_one_of_what_it_is_per(
    kind: str, amount: str, upper: str, per: str, rate: tuple[Fraction | int, str]
) -> None:
    found = rule(kind, "primer", amount, per, upper=upper)
    assert (found.rate.value, found.rate.unit.name) == rate
    answer = Answer(Asked.of(kind, "primer", None), found)
    assert answer.rate == found.rate
    assert answer.amount == found.governing
    assert (found.rate * found.per if found.per is not None else found.rate) == found.governing


def test_which_buys_more_is_the_smaller_or_the_larger_by_kind_and_unknown_where_it_cannot_be_said() -> None:
    less, more = rule("coverage", "primer", "400 sq ft", "1 gal"), rule("coverage", "primer", "9 m2", "1 L")
    assert more.buys_more_than(less)  # 9 m2 to the litre are 367 sq ft to the gallon
    assert not less.buys_more_than(more)
    assert not less.buys_more_than(less)
    thick, thin = rule("coats", "primer", "3"), rule("coats", "primer", "2")
    assert thick.buys_more_than(thin)
    assert not thin.buys_more_than(thick)
    wide, narrow = (rule("sheet", "gypsum board", width, by="8 ft") for width in ("54 in", "48 in"))
    assert not wide.buys_more_than(narrow)
    assert not narrow.buys_more_than(wide)
    weight, volume = (rule("consumption", "joint compound", rate, "100 sq ft") for rate in ("14 lb", "1 gal"))
    assert not weight.buys_more_than(volume)
    assert not volume.buys_more_than(weight)


@pytest.mark.parametrize(
    ("rule_", "said"),
    [
        (rule("coverage", "primer", "250 sq ft", "1 gal"), "250 sq ft per 1 gal"),
        (rule("coverage", "primer", "250 sq ft", "1 gal", upper="400 sq ft"), "250 sq ft to 400 sq ft per 1 gal"),
        (rule("sheet", "gypsum board", "4 ft", by="12 ft"), "4 ft by 12 ft"),
        (rule("coats", "primer", "2"), "2"),
    ],
)
def test_a_rule_says_itself_in_a_few_exact_words(rule_: object, said: str) -> None:
    assert rule_.says() == said  # type: ignore[attr-defined]


def test_the_key_of_a_rule_holds_its_place_its_kind_and_its_surface() -> None:
    one, other = rule("coats", "primer", "2"), rule("coats", "primer", "2", surface="wall")
    assert one.key == "spec.txt:1:1 coats"
    assert other.key == "spec.txt:1:1 coats wall"


def test_alternates_stand_above_every_addendum_and_by_their_number() -> None:
    layers = [addendum(999_999), *map(alternate, ("A", "B", "1", "2", "2A", "10", "999")), OVERRIDE]
    assert layers == sorted(layers)
    assert len({(layer.rank, layer.number) for layer in layers}) == len(layers)


def test_layers_stand_in_their_order_and_addenda_by_number() -> None:
    layers = [DEFAULT, HOUSE, SPECIFICATION, addendum(1), addendum(2), addendum(10), OVERRIDE]
    assert all(one < other and other > one for one, other in pairwise(layers))
    assert len(set(layers)) == len(layers)
    assert [layer.name for layer in layers[3:6]] == ["addendum 1", "addendum 2", "addendum 10"]


def test_a_scope_is_equal_by_what_it_holds_in_whatever_order_it_was_given() -> None:
    one, other = Scope({"surface": "wall", "room": "bath"}), Scope([("room", "bath"), ("surface", "wall")])
    assert one == other == {"room": "bath", "surface": "wall"}
    assert hash(one) == hash(other)
    assert {one: 1}[other] == 1
    assert (str(one), len(one), list(one)) == ("bath, wall", 2, ["room", "surface"])
    assert "room" in one
    assert "sheen" not in one
    assert one != Scope({"surface": "wall"})


def test_a_value_is_told_behind_a_key_that_leads_to_it() -> None:
    scope = Scope({"length": "1 in", "into": "steel"})
    assert str(scope) == "into steel, 1 in"
    assert scope.told("length") == "1 in"
