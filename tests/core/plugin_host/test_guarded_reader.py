"""Words and grammars that cannot be used are left out and the rest is read."""

from __future__ import annotations

import pytest
from attrs import evolve

from darby.job.model import Job, Surface
from darby.pipeline import estimate
from darby.quantities.amounts import Amount
from darby.reading.parsing.fact_parser import Reader
from darby.reading.parsing.vocabulary import Vocabulary
from darby.text.diagnostics import Severity
from darby.text.spans import Source
from entries import FakeEntry, load, module


@pytest.mark.parametrize(
    "words",
    ["not toml [", "[nonsense", "[words]\nx = 3\ny = [[1]]\n" * 2],
    ids=["no TOML", "half a table", "a table twice"],
)
def test_words_that_cannot_be_used_are_left_out_and_the_rest_is_read(words: str) -> None:
    broken = FakeEntry("m", lambda: module("m", darby_vocabulary=lambda: [Vocabulary("m", Source("w.toml", words))]))
    assert read_with(broken) == (read_with()[0], ("m (vocabulary)",), ["plugin-broken"])


@pytest.mark.parametrize("grammar", ["start: (((", "start: UNHEARD_OF\n"], ids=["no grammar", "a terminal nobody has"])
def test_a_grammar_that_cannot_be_used_is_left_out_and_the_rest_is_read(grammar: str) -> None:
    broken = FakeEntry("m", lambda: module("m", darby_readers=lambda: [Reader("m", (), grammar, object())]))
    assert read_with(broken) == (read_with()[0], ("m (reader)",), ["plugin-broken"])


def read_with(*more: FakeEntry) -> tuple[list[str], tuple[str, ...], list[str]]:
    """What a specification says, what is missing and which codes are told, with the installed readers and more."""
    from importlib.metadata import entry_points

    from darby.rules.rule import SPECIFICATION

    installed = [e for e in entry_points(group="darby") if e.name in {"grammars", "coatings"}]
    spec = Source("s.txt", "Walls: two coats finish paint.")
    wall = Surface("W", "wall", Amount.read("1 m2"), Amount.of(1), Source("j", "").span(0, 0))
    done = estimate(Job("j", "us", (wall,)), [(spec, SPECIFICATION)], evolve(load(*installed, *more), trades=()))
    return (
        [r.key for r in done.rules],
        done.missing,
        [d.code for d in done.diagnostics if d.severity is Severity.WARNING],
    )
