"""An answer: the rule that holds, and everything that was heard."""

from __future__ import annotations

from darby.quantities.amounts import Amount
from darby.rules.answer import Answer, Asked, Conflict
from darby.rules.rule import SPECIFICATION, Scope
from kit import rule


def test_an_answer_gives_scope_values_or_nothing_and_everything_that_was_heard() -> None:
    used, same, other, weak = (rule("coats", "primer", n, sheen="satin") for n in "3321")
    asked = Asked.of("coats", "primer", {"surface": "wall", "room": ""})
    assert asked == Asked("coats", "primer", Scope({"surface": "wall"}))
    answer = Answer(asked, used, (weak,), Conflict(asked, used, (other,)), (same,))
    assert (answer["sheen"], answer["color"]) == ("satin", "")
    assert answer.heard == (used, same, other, weak)
    assert answer.layer == SPECIFICATION
    assert answer.amount == Amount.of(3)
