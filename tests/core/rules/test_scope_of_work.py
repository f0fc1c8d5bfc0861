"""Which trades work on a job: by what documents, the job and house lines name. The trades here do floors."""

from __future__ import annotations

import pytest
from attrs import evolve, frozen

from darby.rules.rule import DEFAULT, HOUSE, OVERRIDE, SPECIFICATION, Rule
from darby.rules.scope_of_work import Scope, Work, scope_of, unsaid_of
from darby.text.diagnostics import Severity
from darby.text.spans import Source, Span
from kit import rule


@frozen
class Fake:
    name: str
    work: tuple[Work, ...] = ()
    only_named: tuple[str, ...] = ()


FLOOR = Fake("floor", (Work(("tile",), ("layers", "thickness"), ("layers",)),), ("tile clip",))
VARNISH = Fake("varnish", (Work(("varnish",), ("coats", "color"), ("coats",)),))
ALWAYS = Fake("gasket")
TRADES = (FLOOR, VARNISH, ALWAYS)


def place(text: str = "line") -> Span:
    return Source("job.toml", text).span(0, len(text))


def found(*rules, names=(), marks=None, listed=None, documents=True, away=()) -> Scope:  # type: ignore[no-untyped-def]
    given = None if listed is None else [(name, place(name)) for name in listed]
    return scope_of(TRADES, rules, names, marks or {}, given, documents=documents, away=away)


def at_work(scope: Scope) -> set[str]:
    return {trade.name for trade in TRADES if scope.works(trade)}


def codes(scope: Scope) -> list[str]:
    return [d.code for d in scope.told]


def test_without_documents_all_work_and_nothing_is_told() -> None:
    scope = found(documents=False)
    assert at_work(scope) == {"floor", "varnish", "gasket"}
    assert scope.named is None
    assert not scope.told


def test_a_rule_of_a_document_brings_its_trade_and_the_rest_is_told() -> None:
    scope = found(rule("layers", "tile", "1"))
    assert at_work(scope) == {"floor", "gasket"}
    (told,) = scope.told
    assert told.code == "left-out"
    assert "varnish" in told.message
    assert "tile clip" in told.message
    assert 'trades = ["floor", "gasket", "varnish"]' in told.help


@pytest.mark.parametrize("kind", ["waste", "deduct openings over"])
def test_a_waste_or_a_deduction_asks_for_nothing(kind: str) -> None:
    assert "floor" not in at_work(found(rule(kind, "tile", "1")))


def test_nothing_at_all_is_a_warning() -> None:
    scope = found()
    assert at_work(scope) == {"gasket"}
    assert at_work(scope_only(FLOOR)) == set()
    assert [d.severity for d in scope_only(FLOOR).told] == [Severity.WARNING]


def scope_only(trade: Fake) -> Scope:
    return scope_of([trade], (), (), {}, None, documents=True)


def test_default_lines_and_no_amount_name_nothing() -> None:
    said = rule("layers", "tile", "1", layer=DEFAULT), rule("coats", "varnish", "0")
    assert at_work(found(*said)) == {"gasket"}


def test_work_out_of_doors_is_none_of_this_job() -> None:
    assert "varnish" not in at_work(found(rule("coats", "varnish", "2", room="exterior")))


def test_a_house_rate_orders_nothing_and_the_line_says_so() -> None:
    scope = found(rule("layers", "tile", "1"), rule("coverage", "varnish", "10 m2", "1 L", layer=HOUSE))
    assert at_work(scope) == {"floor", "gasket"}
    assert "rates for varnish, and rates alone order nothing" in scope.told[0].message


def test_a_house_line_of_work_brings_its_trade_and_that_is_told() -> None:
    scope = found(rule("layers", "tile", "1"), rule("coats", "varnish", "2", layer=HOUSE))
    assert at_work(scope) == {"floor", "varnish", "gasket"}
    (taken,) = [d for d in scope.told if d.code == "taken-in"]
    assert "a house line asks for it" in taken.message
    assert 'trades = ["floor", "gasket"]' in taken.help


def test_a_name_without_a_number_brings_its_trade_and_that_is_told() -> None:
    scope = found(names=[{"varnish": place("VARNISHING")}])
    assert at_work(scope) == {"varnish", "gasket"}
    assert [d.span.text for d in scope.told if d.code == "taken-in" and d.span] == ["VARNISHING"]


def test_goods_of_their_own_are_wanted_only_by_their_own_name() -> None:
    floor = evolve(FLOOR, work=(*FLOOR.work, Work(("tile clip",), house=("spacing",))))
    without = scope_of([floor], [rule("layers", "tile", "1")], (), {}, None, documents=True)
    assert without.named == {"tile"}
    with_it = scope_of([floor], [rule("layers", "tile", "1")], [{"tile clip": place()}], {}, None, documents=True)
    assert with_it.named == {"tile", "tile clip"}
    assert codes(with_it) == []


@pytest.mark.parametrize("kind", ["coats", "waste"])
def test_the_jobs_own_line_names_whatever_it_says(kind: str) -> None:
    scope = found(rule(kind, "varnish", "1", layer=OVERRIDE))
    assert "varnish" in at_work(scope)
    assert codes(scope) == ["left-out"]


def test_what_a_line_of_the_job_only_implies_is_not_named() -> None:
    line = evolve(rule("waste", "varnish", "1", layer=OVERRIDE), bound_by=(("subject", "implied: waste"),))
    assert "varnish" not in at_work(found(line))


def test_a_mark_of_a_surface_names_the_work_it_is_of() -> None:
    assert "varnish" in at_work(found(marks={"color": place()}))
    assert "varnish" not in at_work(found(marks={"hung": place()}))


def test_a_list_in_the_job_decides() -> None:
    scope = found(rule("coats", "varnish", "2"), listed=["floor"])
    assert at_work(scope) == {"floor"}
    assert codes(scope) == ["left-out", "left-out"]  # the trades that are not listed, and the clips that nobody names
    assert "the job lists its trades: varnish and gasket" in scope.told[0].message


def test_a_list_decides_without_documents_too() -> None:
    scope = found(listed=["varnish"], documents=False)
    assert at_work(scope) == {"varnish"}
    assert scope.named is None


def test_a_trade_that_is_not_there_is_an_error_unless_plugins_are_away() -> None:
    assert [d.severity for d in found(listed=["flor"]).told if d.code == "trade-unknown"] == [Severity.ERROR]
    assert [d.severity for d in found(listed=["flor"], away=["x"]).told if d.code == "trade-unknown"] == [
        Severity.WARNING
    ]


def test_the_way_out_is_the_trades_own_default_line() -> None:
    usual = rule("spacing", "tile clip", "16 in", layer=DEFAULT)
    scope = found(rule("layers", "tile", "1"), usual)
    assert f"“{usual.span.text.strip()}”" in scope.told[0].help


def test_what_a_document_says_is_the_best_evidence() -> None:
    scope = found(rule("coats", "varnish", "2", layer=SPECIFICATION), names=[{"varnish": place()}])
    assert "taken-in" not in codes(scope)


BOTH = [("deck", ""), ("rail", "")]
"""Surfaces of a job: kinds, each with the part it is of."""


def rails(*said: Rule) -> set[str]:
    """What varnish leaves alone of decks and rails under some rules."""
    work = Work(("varnish", "oil"), ("coats", "color"), ("coats",), where_said=("deck", "rail"))
    return {kind for kind, _ in unsaid_of([work], said, BOTH)}


def test_what_documents_ask_for_on_one_kind_of_surface_alone_leaves_the_others_alone() -> None:
    assert rails(rule("coats", "varnish", "2", surface="deck")) == {"rail"}
    assert rails(rule("coats", "varnish", "2", surface="deck"), rule("coats", "oil", "1", surface="rail")) == set()


@pytest.mark.parametrize(
    "said",
    [
        rule("coats", "varnish", "2"),  # of no kind of surface: of all
        rule("coats", "varnish", "2", surface="rail", layer=HOUSE),  # the firm's own work
        rule("coats", "varnish", "2", surface="rail", layer=OVERRIDE),
        rule("coats", "varnish", "0", surface="rail"),  # that there are to be none is said, too
    ],
)
def test_what_is_said_of_it_anywhere_keeps_it_in(said: Rule) -> None:
    assert rails(rule("coats", "varnish", "2", surface="deck"), said) == set()


def test_rates_and_defaults_and_what_a_system_is_made_of_say_nothing_of_where() -> None:
    deck = rule("coats", "varnish", "2", surface="deck")
    more = rule("coverage", "varnish", "10 m2", "1 L", surface="rail"), rule("coats", "varnish", "1", layer=DEFAULT)
    assert rails(deck, *more, rule("coats", "varnish", "1", mark="V-1")) == {"rail"}


def test_without_a_document_that_asks_nothing_is_left_alone() -> None:
    assert rails(rule("coats", "varnish", "2", surface="deck", layer=HOUSE)) == set()
    assert rails(rule("coats", "varnish", "0", surface="deck")) == set()


def test_a_part_of_a_kind_of_its_own_is_spoken_of_by_its_name() -> None:
    said = rule("coats", "varnish", "2", surface="newel")
    assert unsaid_of(VARNISHED, [said], [("rail", ""), ("rail", "newel")]) == {("rail", "")}


VARNISHED = (Work(("varnish",), ("coats",), where_said=("rail",)),)


def test_what_is_left_alone_is_one_line_with_the_way_to_have_it() -> None:
    trades = [evolve(VARNISH, work=VARNISHED)]
    rules = [rule("coats", "varnish", "2", surface="deck"), usual("Varnish: two coats. [common practice]")]
    scope = scope_of(trades, rules, (), {}, None, documents=True, surfaces=BOTH)
    (told,) = scope.told
    assert told.message == "Left out, since no document speaks of varnish on rails."
    assert told.help == "To order it, say so under rules in the job: “Varnish on rails: two coats.”"


def test_the_way_to_have_it_needs_no_default_line_and_names_every_kind() -> None:
    work = (Work(("varnish",), ("coats",), where_said=("rail", "post")),)
    surfaces, deck = [("deck", ""), ("rail", ""), ("post", "")], rule("coats", "varnish", "2", surface="deck")

    def way(*more: Rule) -> str:
        scope = scope_of([evolve(VARNISH, work=work)], [deck, *more], (), {}, None, documents=True, surfaces=surfaces)
        return scope.told[0].help

    assert way() == "To order it, say so under rules in the job."
    lines = "“Varnish on posts: two coats.” and “Varnish on rails: two coats.”"
    assert way(usual("Varnish: two coats.")) == f"To order it, say so under rules in the job: {lines}"


def usual(line: str) -> Rule:
    """A default line of two coats."""
    said: Rule = evolve(rule("coats", "varnish", "2", layer=DEFAULT), span=Source("defaults", line).span(9, 12))
    return said
