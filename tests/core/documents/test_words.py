"""How things are told decides nothing: with every word of how a rule was found replaced by its code, rules and orders are the same."""

from __future__ import annotations

import pytest

import handed
from darby.cli.shared.jobs import DEMO, Wanted, estimate_of
from darby.documents import words
from darby.documents.exact_json.estimate import item_json
from darby.estimate.model import Estimate
from darby.rules.found_by import FoundBy
from darby.rules.rule import Rule

Ruled = list[tuple[object, ...]]


def ruled(rules: tuple[Rule, ...]) -> Ruled:
    return [
        (r.kind.name, r.subject, dict(r.scope), r.answer, r.bound, r.layer.name, str(r.span), r.confirm) for r in rules
    ]


def ordered(estimate: Estimate) -> list[object]:
    return [item_json(item, estimate.rules) for item in estimate.items]


@pytest.mark.parametrize(
    "say", [lambda code: code.value, lambda code: "the heading", lambda code: f"every {code.value[::-1]}"]
)
def test_words_replaced_change_no_rule_and_no_order(monkeypatch: pytest.MonkeyPatch, say: object) -> None:
    told = handed.demo()
    assert callable(say)
    monkeypatch.setattr(words, "FOUND_BY", {code: (say(code), "") for code in words.FOUND_BY})
    again = estimate_of(Wanted(DEMO)).estimate
    assert again is not None
    assert ruled(again.rules) == ruled(told.rules)
    assert ordered(again) == ordered(told)
    assert [(q.to, q.items) for q in again.questions] == [(q.to, q.items) for q in told.questions]


def test_every_way_of_finding_has_words_and_an_example() -> None:
    assert set(words.FOUND_BY) == set(FoundBy)
    examples = [example for _, example in words.FOUND_BY.values()]
    assert all(examples)
