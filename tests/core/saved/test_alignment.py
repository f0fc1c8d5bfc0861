"""Two lists held side by side: everything is there once, in an order that both agree with, and what is the same is paired."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from darby.saved.alignment import aligned

Card = tuple[str, int]
"""A suit and a value: the value may change while the suit stays."""

CARDS = st.lists(st.tuples(st.sampled_from("abcd"), st.integers(0, 3)), max_size=8)


def held(before: list[Card], after: list[Card]) -> list[tuple[Card | None, Card | None, int | None]]:
    slots = aligned(before, after, (lambda card: card, lambda card: card[0]), lambda one, other: one == other)
    return [(s.before, s.after, s.change) for s in slots]


def test_what_is_gone_stands_behind_what_it_stood_behind() -> None:
    one, two, three, four = (("a", 0), ("b", 0), ("c", 0), ("d", 0))
    assert held([one, two, three], [one, three]) == [(one, one, None), (two, None, 0), (three, three, None)]
    assert held([one, two, three], [three]) == [(one, None, 0), (two, None, 1), (three, three, None)]
    assert held([one, two, three], [three, one]) == [(three, three, None), (one, one, None), (two, None, 0)]
    assert held([one], [four]) == [(one, None, 0), (None, four, 1)]
    assert held([], [one, two]) == [(None, one, 0), (None, two, 1)]
    assert held([one, two], []) == [(one, None, 0), (two, None, 1)]


def test_the_first_key_pairs_before_the_next_and_first_with_first() -> None:
    assert held([("a", 1), ("a", 2)], [("a", 2), ("a", 3)]) == [(("a", 2), ("a", 2), None), (("a", 1), ("a", 3), 0)]
    assert held([("a", 1), ("a", 2)], [("a", 3), ("a", 4)]) == [(("a", 1), ("a", 3), 0), (("a", 2), ("a", 4), 1)]


def test_a_key_of_none_pairs_nothing() -> None:
    slots = aligned([("a", 1)], [("a", 2)], (lambda _: None,), lambda one, other: one == other)
    assert [(s.before, s.after) for s in slots] == [(("a", 1), None), (None, ("a", 2))]


@given(CARDS, CARDS)
def test_both_lists_are_all_there_and_changes_are_numbered_in_turn(before: list[Card], after: list[Card]) -> None:
    found = held(before, after)
    assert [b for _, b, _ in found if b is not None] == after
    assert sorted(a for a, _, _ in found if a is not None) == sorted(before)
    assert [n for *_, n in found if n is not None] == list(range(sum(a != b for a, b, _ in found)))
    assert all((n is None) is (a == b) for a, b, n in found)
    assert all(a[0] == b[0] for a, b, _ in found if a is not None and b is not None)


@given(CARDS, CARDS)
def test_nothing_that_could_be_paired_is_left_on_both_sides(before: list[Card], after: list[Card]) -> None:
    found = held(before, after)
    gone = {a[0] for a, b, _ in found if b is None and a is not None}
    new = {b[0] for a, b, _ in found if a is None and b is not None}
    assert not gone & new
    same = sum(min(before.count(card), after.count(card)) for card in set(before))
    assert sum(n is None for *_, n in found) >= same


@given(CARDS)
def test_a_list_beside_itself_has_no_change(cards: list[Card]) -> None:
    assert held(cards, cards) == [(card, card, None) for card in cards]
