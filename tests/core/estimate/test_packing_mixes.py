"""A need in several sizes: the parts add up to it, the packages hold it, and what was left on offer is known."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from darby.estimate.line_item import LineItem
from darby.estimate.packing import ordered, packs
from darby.job.model import Price
from darby.quantities.amounts import Amount
from darby.rules.cascade import RuleBook
from darby.rules.consultation import Consultation
from darby.rules.rule import DEFAULT, Rule
from darby.text.spans import Source
from kit import rule

CAN, PAIL, DRUM = (
    rule("package", "primer", f"{n} gal", f"1 {box}") for n, box in ((1, "can"), (5, "pail"), (55, "box"))
)


def price(content: str, amount: int, product: str = "primer") -> Price:
    return Price(product, Amount.read(content), Amount.of(amount), Source("job.toml", "x").span(0, 1))


def items(
    need: str, *offers: Rule, prices: tuple[Price, ...] = (), **more: object
) -> tuple[list[LineItem], Consultation]:
    book = Consultation(RuleBook(offers))
    return list(ordered("primer", Amount.read(need), book, {}, prices=prices, **more)), book  # type: ignore[arg-type]


def bought(found: list[LineItem]) -> list[tuple[int | None, str]]:
    return [(item.count, item.container) for item in found]


@given(st.integers(1, 4000), st.permutations([CAN, PAIL, DRUM]), st.booleans())
def test_the_parts_of_a_mix_add_up_to_the_need_and_fill_all_packages_but_the_last(
    tenths: int, offers: list[Rule], priced: bool
) -> None:
    prices = (price("1 gal", 30), price("5 gal", 120), price("55 gal", 1200)) if priced else ()
    need = Amount.of(tenths, "gal") / 10
    book = Consultation(RuleBook(offers))
    found = list(ordered("primer", need, book, {"type": "latex"}, about={}, prices=prices))
    assert sum(item.need.size for item in found) == need.size
    for item in found[:-1]:
        assert item.order is not None
        assert item.need == item.order * item.package  # type: ignore[operator]
    contents = [item.package.size for item in found if item.package is not None]
    assert contents == sorted(contents, reverse=True)
    held = sum(item.count * item.package.size for item in found if item.count is not None and item.package is not None)
    assert held >= need.size
    assert held - need.size < Amount.read("1 gal").size or priced
    apart = [dict(item.pool) for item in found]
    assert all(pool["type"] == "latex" for pool in apart)
    assert all(("package" in pool) is (len(found) > 1) for pool in apart)
    assert len({item.id for item in found}) == len(found)
    used = set(book.used)
    assert set(book.heard) == set(offers)
    assert used == {r for item in found for r in item.rules}


def test_what_a_mix_buys_by_hand() -> None:
    # 7 gal: one pail and two cans leave nothing; 9.2: 5 + 5 leave 0.8 as 5 + 5 x 1 would, in two packages instead of six.
    found, _ = items("7 gal", CAN, PAIL)
    assert [(dict(i.pool), i.need, i.count) for i in found] == [
        ({"package": "5 gal pail"}, Amount.read("5 gal"), 1),
        ({"package": "1 gal can"}, Amount.read("2 gal"), 2),
    ]
    assert bought(items("9.2 gal", CAN, PAIL)[0]) == [(2, "pail")]
    assert bought(items("60 gal", DRUM, CAN, PAIL)[0]) == [(1, "box"), (1, "pail")]
    assert [i.need.label for i in items("7 gal", CAN, PAIL)[0]] == ["in 5 gal pails", "left for 1 gal cans"]


def test_prices_of_all_sizes_choose_and_say_so_and_of_some_are_told_to_choose_nothing() -> None:
    dear, cheap = (price("1 gal", 30), price("5 gal", 200)), (price("1 gal", 30), price("5 gal", 80))
    assert bought(items("7 gal", CAN, PAIL, prices=dear)[0]) == [(7, "can")]
    found, _ = items("8 gal", CAN, PAIL, prices=cheap)
    assert bought(found) == [(2, "pail")]  # 160 and not 80 + 3 x 30
    assert found[0].notes == ("Sizes of primer are chosen by the prices of the job.",)
    found, _ = items("8 gal", CAN, PAIL, prices=cheap[:1])
    assert bought(found) == [(1, "pail"), (3, "can")]
    told = "Not every size of primer has a price in the job: sizes are chosen by what is left over."
    assert [i.notes for i in found] == [(told,)] * 2
    other, _ = items("8 gal", CAN, PAIL, prices=tuple(price(s, 1, "finish paint") for s in ("1 gal", "5 gal")))
    assert [i.notes for i in other] == [(), ()]


def test_sizes_that_are_left_are_known_as_beaten_and_raise_no_question() -> None:
    weak = rule("package", "primer", "2 gal", "1 can", layer=DEFAULT)
    found, book = items("5 gal", CAN, PAIL, weak)
    assert bought(found) == [(1, "pail")]
    (answer,) = book.answers
    assert (answer.rule, set(answer.beaten)) == (PAIL, {CAN, weak})
    assert book.unanswered == []


def test_a_size_in_another_measure_is_passed_over_and_known_as_beaten() -> None:
    pounds = rule("package", "primer", "60 lb", "1 pail")
    found, book = items("5 gal", pounds, PAIL)
    assert bought(found) == [(1, "pail")]
    assert set(book.heard) == {PAIL, pounds}
    found, book = items("5 gal", pounds)
    assert bought(found) == [(None, "")]
    assert found[0].rules == (pounds,)
    assert "60 lb per 1 pail and the need in gal" in found[0].notes[0]
    assert [(a.kind, a.subject) for a in book.unanswered] == [("package", "primer")]


def test_a_need_of_nothing_takes_one_size_and_none_of_it() -> None:
    found, book = items("0 gal", CAN, PAIL)
    assert bought(found) == [(0, "can")]
    assert set(book.heard) == {CAN, PAIL}


def test_rules_and_notes_go_with_every_item_each_once() -> None:
    own = rule("coats", "primer", "2")
    found, _ = items("7 gal", CAN, PAIL, rules=[own, PAIL, own], notes=["Stir.", "Stir."])
    assert [i.rules for i in found] == [(own, PAIL), (own, PAIL, CAN)]
    assert [i.notes for i in found] == [("Stir.",)] * 2


def test_the_package_is_asked_for_where_the_caller_says_else_where_the_pool_does() -> None:
    fine = rule("package", "primer", "2 gal", "1 can", sheen="satin")
    book = Consultation(RuleBook([CAN, fine]))
    need = Amount.read("4 gal")
    assert bought(list(ordered("primer", need, book, {"sheen": "satin"}))) == [(2, "can")]
    assert bought(list(ordered("primer", need, book, {"sheen": "satin"}, about={}))) == [(4, "can")]
    typed = rule("package", "primer", "2 gal", "1 can", type="latex")
    assert packs(need, "primer", Consultation(RuleBook([typed])))[0].package is None
    taken = packs(need, "primer", Consultation(RuleBook([typed])), take=["type"])
    assert taken[0].rules == (typed,)


@pytest.mark.parametrize(("count", "ordered_"), [("7", 7), ("7.2", 8)])
def test_pieces_that_nobody_packs_are_counted_singly_and_asked_about(count: str, ordered_: int) -> None:
    book = Consultation(RuleBook([]))
    need = Amount.of(72, "each") / 10 if "." in count else Amount.of(7)
    (item,) = ordered("screw", need, book, {})
    assert (item.count, item.container) == (ordered_, "")
    assert item.notes == ("No package size is given for screws: they are ordered by the piece.",)
    assert [(a.kind, a.subject) for a in book.unanswered] == [("package", "screw")]


def test_of_a_mix_each_size_beat_those_that_are_not_bought_and_none_that_is() -> None:
    found, book = items("61 gal", DRUM, CAN, PAIL)  # 55 + 5 + 1
    assert len(found) == 3
    assert all(a.beaten == () for a in book.answers)
    found, book = items("60 gal", DRUM, CAN, PAIL)
    assert [a.beaten for a in book.answers] == [(CAN,), (CAN,)]
