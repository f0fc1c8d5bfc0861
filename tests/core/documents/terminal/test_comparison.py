"""Two estimates side by side on a terminal."""

from __future__ import annotations

import re

from darby.documents.terminal import comparison as comparison_terminal
from ropes import SPEC, held, made


def test_an_estimate_is_the_same_as_itself() -> None:
    comparison, found = held(made(), made())
    assert comparison.same
    assert not found
    assert not comparison.rules
    assert not comparison.rows
    assert comparison_terminal.make(comparison, found) == "Rope walk\nNothing moved: every line orders the same.\n"


def test_every_rule_that_differs_shows_its_clause_on_both_sides() -> None:
    comparison, found = held(made(), made(spec=SPEC.replace("one coat primer, two", "two coats primer, three")))
    text = comparison_terminal.make(comparison, found)
    assert re.search(r"was spec.txt, line 5: “.*one coat.*\n +is spec.txt, line 5: “.*two coats", text)
