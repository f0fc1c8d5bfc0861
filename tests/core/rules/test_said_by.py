"""Which rule said a number: its own place tells, and of several in one clause its value."""

from __future__ import annotations

from darby.quantities.amounts import Amount, Origin
from darby.rules.said_by import by_origin, rule_of
from kit import rule


def test_a_number_is_of_the_rule_that_says_it() -> None:
    one, other = rule("coats", "primer", "1"), rule("coats", "finish paint", "2")
    known = by_origin((one, other, one))
    for said in (one, other):
        assert said.amount is not None
        assert rule_of(said.amount, known) is said
    assert rule_of(Amount.of(2), known) is None


def test_of_two_numbers_in_one_place_the_value_tells() -> None:
    place = Origin("clause", "1 and 2")
    one, other = (
        rule("coats", "primer", Amount.of(1, origin=place)),
        rule("coats", "finish paint", Amount.of(2, origin=place)),
    )
    assert rule_of(Amount.of(2, origin=place), by_origin((one, other))) is other
    assert rule_of(Amount.of(3, origin=place), by_origin((one, other))) is one
