"""What an estimate rests on and asks for, in sentences: each rule, silence and conflict once, with the lines it can move."""

from __future__ import annotations

import pytest
from attrs import frozen

from darby.estimate.line_item import LineItem
from darby.estimate.open_points import (
    answers,
    assumptions,
    conflicts,
    question_of,
    question_of_silence,
    questions,
    quoted,
    wanted,
    where,
)
from darby.quantities.amounts import Amount
from darby.rules.answer import Asked
from darby.rules.cascade import RuleBook
from darby.rules.consultation import Consultation
from darby.rules.rule import DEFAULT, HOUSE, OVERRIDE, SPECIFICATION, Layer, Rule
from darby_grammars.kinds import KINDS
from kit import rule

WALL, CEILING = {"surface": "wall"}, {"surface": "ceiling"}


@frozen
class Run:
    items: tuple[LineItem, ...]
    consultation: Consultation


def run(rules: list[Rule], asked: list[tuple[str, str, dict[str, str]]], items: tuple[LineItem, ...] = ()) -> Run:
    book = Consultation(RuleBook(rules))
    for kind, subject, about in asked:
        book.ask(kind, subject, about)
    return Run(items, book)


def open_of(*runs: Run) -> list[tuple[str, str, tuple[str, ...]]]:
    found = questions(runs, answers(runs), conflicts(runs), dict(KINDS))
    return [(q.text, q.to, q.items) for q in found]


def line(product: str, need: Amount | None = None, *rules: Rule, **pool: str) -> LineItem:
    return LineItem(product, need or Amount.of(1), pool, None, "trade", rules)


def abouts(*surfaces: str) -> list[Asked]:
    return [Asked.of("coats", "primer", {"surface": s} if s else {}) for s in surfaces]


@pytest.mark.parametrize(
    ("surfaces", "told"),
    [
        ((), ""),
        (("",), ""),
        (("wall",), " on the walls"),
        (("wall", "ceiling"), " on the walls and ceilings"),
        (("wall", "ceiling", "wall"), " on the walls and ceilings"),
        (("wall", "ceiling", "door"), " on the walls, ceilings and doors"),
        (("stairs",), " on the stairs"),
        (("soffit", "stairs"), " on the soffits and stairs"),
        (("trim", "door"), " on the trim and doors"),
    ],
)
def test_places_are_told_once_each_in_the_plural(surfaces: tuple[str, ...], told: str) -> None:
    assert where(abouts(*surfaces)) == told


def test_a_few_rooms_among_others_are_named() -> None:
    rules = [rule("coats", "primer", "1", layer=DEFAULT), rule("coats", "primer", "2", room="Den")]
    asked = [("coats", "primer", WALL | {"room": name}) for name in ("Den", "Loft", "Hall")]
    assert open_of(run(rules, asked))[0][0].startswith("How many coats of primer on the walls in Loft and Hall?")
    assert open_of(run(rules[:1], asked))[0][0].startswith("How many coats of primer on the walls? ")
    assert open_of(run(rules, [*asked, ("coats", "primer", WALL)]))[0][0].startswith(
        "How many coats of primer on the walls? "
    )


def test_a_request_is_the_kind_s_own_or_says_that_anything_is_wanted() -> None:
    assert wanted(KINDS["coats"], "primer", abouts("wall")) == "How many coats of primer on the walls?"
    assert wanted("hue", "primer", abouts("wall")) == "Please state what holds for the hue of primer on the walls."


@pytest.mark.parametrize(
    ("said", "text"),
    [
        (rule("coats", "primer", "2"), "two were"),
        (rule("coats", "primer", "1"), "one was"),
        (rule("coats", "primer", "2", sheen="flat", surface="wall", room="Den"), "two (flat) were"),
        (rule("coats", "primer", "12"), "twelve were"),
        (rule("coats", "primer", "13"), "13 were"),
        (rule("coats", "primer", "2", upper="3"), "2 to 3 were"),
        (rule("coverage", "primer", "250 sq ft", "1 gal"), "250 sq ft per gal was"),
        (rule("consumption", "screw", "1000", "1000 sq ft"), "1000 per 1000 sq ft was"),
        (rule("sheet", "gypsum board", "4 ft", by="8 ft"), "4 ft by 8 ft was"),
        (rule("coats", "primer", "0"), "“primer: coats 0” was"),
    ],
)
def test_what_a_default_stood_in_for_is_told_in_few_words(said: Rule, text: str) -> None:
    asked = question_of(said, abouts("wall"))
    assert asked.endswith(f" The documents do not say; {text} assumed (default line).")


def test_what_was_assumed_names_product_place_layer_and_source() -> None:
    own = rule("coats", "primer", "2", layer=HOUSE, file="house.txt")
    cited = rule("coverage", "primer", "250 sq ft", "1 gal", layer=DEFAULT, file="defaults.us.txt")
    cited = Rule(
        cited.kind, cited.subject, cited.scope, cited.amount, DEFAULT, cited.span, per=cited.per, cited="a guide"
    )
    stated = rule("package", "primer", "1 gal", "1 can")
    none = rule("waste", "primer", "0 %", layer=DEFAULT)
    asked = [(k, "primer", WALL) for k in ("coats", "coverage", "package", "waste")]
    found = assumptions(answers([run([own, cited, stated, none], asked)]))
    assert [a.text for a in found] == [
        "Primer on the walls: coats two (house, house.txt line 1).",
        "Primer on the walls: coverage 250 sq ft per gal (default, defaults.us.txt line 1; a guide).",
        "Primer on the walls: “primer: waste 0 %” (default, spec.txt line 1).",
    ]
    assert [a.answer.rule for a in found] == [own, cited, none]


def test_a_silence_says_what_was_wanted_beside_the_place() -> None:
    one = Asked.of(
        "coats", "primer", {"surface": "wall", "room": "Den", "name": "north", "sheen": "flat", "coat": "second"}
    )
    two = Asked.of("coats", "primer", {"surface": "ceiling", "coat": "third"})
    asked = question_of_silence(KINDS["coats"], [one, two, one])
    assert asked == (
        "How many coats of primer on the walls and ceilings (second, flat; third)? "
        "The documents do not say, and nothing was assumed."
    )
    assert "(" not in question_of_silence("hue", abouts("wall"))


def test_a_quotation_is_one_line_and_no_longer_than_a_hundred_letters() -> None:
    text = quoted(rule("coats", "x" * 120, "2"))
    assert len(text) <= 102
    assert text.endswith("…”")
    assert quoted(rule("coats", "a  b\n c", "2")) == "“a b c: coats 2”"
    exact = quoted(rule("coats", "x" * 91, "2"))
    assert (len(exact), exact.endswith("coats 2”")) == (102, True)


def test_the_order_of_questions_is_conflicts_then_defaults_then_silences() -> None:
    default = rule("coverage", "primer", "250 sq ft", "1 gal", layer=DEFAULT)
    rules = [rule("coats", "primer", "2"), rule("coats", "primer", "3"), default]
    found = open_of(run(rules, [("waste", "primer", WALL), ("coverage", "primer", WALL), ("coats", "primer", WALL)]))
    told = ("The documents say both", "(default line)", "nothing was assumed")
    assert [words in text for words, (text, _, _) in zip(told, found, strict=True)] == [True] * 3


@pytest.mark.parametrize(
    ("layer", "to"),
    [(DEFAULT, "estimator"), (HOUSE, "estimator"), (SPECIFICATION, "specifier"), (OVERRIDE, "estimator")],
)
def test_a_conflict_goes_to_whoever_said_both(layer: Layer, to: str) -> None:
    rules = [rule("coats", "primer", n, layer=layer) for n in "23"]
    assert open_of(run(rules, [("coats", "primer", WALL)]))[0][1] == to
    sheets = [rule("sheet", "gypsum board", "4 ft", by=by, layer=layer) for by in ("8 ft", "9 ft")]
    asked = open_of(run(sheets, [("sheet", "gypsum board", WALL)]))[0]
    assert asked[1] == to


def test_a_conflict_quotes_every_place_and_says_why_the_one_was_used() -> None:
    (text, _, _) = open_of(
        run([rule("coats", "primer", n, file=f"{n}.txt") for n in "232"], [("coats", "primer", WALL)])
    )[0]
    # two of the three say the same and so the whole lines are quoted, the one that was used first
    assert text == (
        "How many coats of primer on the walls? The documents say both “primer: coats 3” (3.txt line 1) "
        "and “primer: coats 2” (2.txt line 1) and “primer: coats 2” (2.txt line 1); “primer: coats 3” was assumed, which buys more."
    )
    sheets = [rule("sheet", "gypsum board", "4 ft", by=by, file=f"{by}.txt") for by in ("8 ft", "9 ft")]
    (text, _, _) = open_of(run(sheets, [("sheet", "gypsum board", {})]))[0]
    assert text.endswith("was assumed, which is said first.")


def test_more_is_bought_than_by_one_of_the_others_at_least() -> None:
    # Rates by weight cannot be held against one by volume: the heavier buys more than the lighter all the same.
    rates = [rule("consumption", "joint compound", much, "100 sq ft") for much in ("12 lb", "14 lb", "1 gal")]
    (text, _, _) = open_of(run(rates, [("consumption", "joint compound", {})]))[0]
    assert text.endswith("was assumed, which buys more.")


def test_each_rule_is_asked_about_once_for_all_its_places_with_the_lines_it_moves() -> None:
    coats = rule("coats", "primer", "2", layer=DEFAULT)
    by_number = line("paint", Amount.of(5) * coats.amount)
    by_rule = line("glue", Amount.of(1), coats)
    other = line("tape")
    one = run([coats], [("coats", "primer", WALL), ("coats", "primer", CEILING)], (by_number, by_rule, other))
    assert [(text.partition(" The documents")[0], items) for text, _, items in open_of(one)] == [
        ("How many coats of primer on the walls and ceilings?", (by_rule.id, by_number.id))
    ]
    packed = LineItem("bag", Amount.of(9), {}, Amount.of(2) * coats.amount, "trade")
    assert open_of(run([coats], [("coats", "primer", WALL)], (packed, other)))[0][2] == (packed.id,)


def test_a_rule_that_no_working_shows_moves_the_lines_of_the_product_that_was_asked_about() -> None:
    coats = rule("coats", "primer", "2", layer=DEFAULT)
    mine, other = line("primer"), line("tape")
    assert open_of(run([coats], [("coats", "primer", WALL)], (mine, other)))[0][2] == (mine.id,)
    assert open_of(run([coats], [("coats", "primer", WALL)], (other,)))[0][2] == ()


def test_a_silence_moves_the_lines_of_its_product_else_all_of_the_trade() -> None:
    mine, again, other = line("primer"), line("primer", sheen="flat"), line("tape")
    assert open_of(run([], [("coats", "primer", WALL)], (mine, other, again)))[0][2] == (mine.id, again.id)
    assert open_of(run([], [("coats", "glue", WALL)], (mine, other)))[0][2] == (mine.id, other.id)


def test_what_two_trades_ask_alike_is_one_question_that_moves_the_lines_of_both() -> None:
    default = rule("coats", "primer", "2", layer=DEFAULT)
    one, two = line("primer"), line("primer", sheen="flat")
    for rules in ([default], []):
        found = open_of(*(run(rules, [("coats", "primer", WALL)], (item,)) for item in (one, two)))
        assert len(found) == 1
        assert found[0][2] == (one.id, two.id)
    apart = open_of(run([], [("coats", "primer", WALL)], (one,)), run([], [("coats", "glue", WALL)], (two,)))
    assert len(apart) == 2


def test_a_conflict_is_told_once_however_often_it_was_met() -> None:
    rules = [rule("coats", "primer", "2"), rule("coats", "primer", "3")]
    runs = [run(rules, [("coats", "primer", WALL), ("coats", "primer", CEILING)], (line("primer"),)) for _ in range(2)]
    found = conflicts(runs)
    assert len(found) == 1
    conflict, asking = found[0]
    assert (conflict.used, conflict.others) == (rules[1], (rules[0],))
    assert [dict(a.about) for a in asking.asked] == [WALL, CEILING] * 2
    assert len(answers(runs)) == 1
