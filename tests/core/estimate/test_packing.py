"""Waste as steps of its own, and the package a need goes into."""

from __future__ import annotations

import pytest

from darby.estimate.packing import SINGLY, Packing, pack, with_waste
from darby.quantities.amounts import Amount, walk
from darby.rules.cascade import RuleBook
from darby.rules.consultation import Consultation
from darby.rules.rule import HOUSE, Rule
from kit import rule


def packed(need: str, *rules: Rule, **about: str) -> tuple[Packing, Consultation]:
    book = Consultation(RuleBook(rules))
    amount = Amount.of(int(need)) if need.isdigit() else Amount.read(need)
    return pack(amount, "primer", book, about), book


def gallons(count: str, container: str, **scope: str) -> Rule:
    return rule("package", "primer", f"{count} gal", f"1 {container}", **scope)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("need", "container"),
    [
        ("1 gal", "can"),
        ("4.2 gal", "pail"),
        ("5 gal", "pail"),
        ("6 gal", "can"),
        ("9.9 gal", "pail"),
        ("11 gal", "can"),
    ],
)
def test_the_size_that_leaves_least_over_is_taken_and_of_equals_the_one_with_fewest_packages(
    need: str, container: str
) -> None:
    for offers in ([gallons("1", "can"), gallons("5", "pail")], [gallons("5", "pail"), gallons("1", "can")]):
        packing, _ = packed(need, *offers)
        assert packing.package is not None
        assert packing.package.unit.name == f"gal/{container}"


def test_a_stronger_layer_puts_other_sizes_out() -> None:
    packing, book = packed("1 gal", gallons("5", "pail"), gallons("1", "can", layer=HOUSE))
    assert packing.package is not None
    assert packing.package.unit.name == "gal/pail"
    assert [a.rule.amount.value for a in book.answers] == [5]


def test_a_measure_that_does_not_fit_gives_a_note_and_a_question_and_is_still_behind_the_item() -> None:
    said = rule("package", "primer", "62 lb", "1 pail")
    packing, book = packed("1 gal", said)
    assert packing.package is None
    assert packing.rules == (said,)
    assert "62 lb per 1 pail" in packing.notes[0]
    assert [a.kind for a in book.unanswered] == ["package"]


def test_a_count_nobody_packs_is_ordered_singly_and_a_volume_nobody_packs_not_at_all() -> None:
    assert packed("7")[0].package is SINGLY
    assert packed("7 gal")[0].package is None


def test_waste_is_two_steps_and_none_is_no_step() -> None:
    book = Consultation(RuleBook([rule("waste", "primer", "10 %"), rule("waste", "screw", "0 %")]))
    need = with_waste(Amount.read("50 gal"), book.ask("waste", "primer"), "primer")
    assert need == Amount.read("55 gal")
    assert [a.label for a in walk(need) if a.label] == ["primer, before waste", "waste on primer", "primer"]
    plain = Amount.read("50 gal")
    for answer in (None, book.ask("waste", "screw")):
        assert [a.step.op for a in walk(with_waste(plain, answer, "primer"))] == ["given"]


def test_a_size_of_a_type_serves_where_the_type_only_describes_it() -> None:
    typed = gallons("5", "pail", type="latex")
    book = Consultation(RuleBook([typed]))
    assert pack(Amount.read("4 gal"), "primer", book).package is None
    assert pack(Amount.read("4 gal"), "primer", book, take=["type"]).rules == (typed,)
    assert pack(Amount.read("4 gal"), "primer", book, {"type": "Latex"}).rules == (typed,)
