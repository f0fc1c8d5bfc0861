"""How work is done, where there are rates for several methods."""

from __future__ import annotations

from bids import lexicon, rates
from darby.labor.methods import by_methods
from darby.labor.rate_lines import RateLine, vocabulary
from darby.labor.task import Operation
from darby.reading.parsing.lexicon import Lexicon
from darby.text.diagnostics import Diagnostic
from darby.text.spans import Source

PAINT, PRIME = (Operation(name, ("surface", "method")) for name in ("apply finish paint", "apply primer"))
LINES = """Apply finish paint: 180 sq ft per hour by roller.
Apply finish paint: 400 sq ft per hour by spray.
Apply primer: 200 sq ft per hour by roller.
Apply primer: 100 sq ft per hour.
"""


def kept(*said: str) -> tuple[list[RateLine], list[Diagnostic]]:
    found, told = rates(LINES, PAINT, PRIME)
    assert not told
    words = Lexicon.of((vocabulary(), *lexicon().vocabularies))
    lines = [(text, (source := Source("job.toml", text)).span(0, len(source.text))) for text in said]
    return by_methods(found, lines, {o.name: o for o in (PAINT, PRIME)}, words)


def left(*said: str) -> list[str]:
    found, told = kept(*said)
    assert not told
    return [str(rate.conditions.get("method", "")) for rate in found]


def told(*said: str) -> list[str]:
    return [d.message for d in kept(*said)[1]]


def test_without_a_line_all_rates_stay() -> None:
    assert left() == ["roller", "spray", "roller", ""]


def test_a_line_leaves_out_rates_of_other_methods_and_no_others() -> None:
    assert left("Apply finish paint by spray.") == ["spray", "roller", ""]
    assert left("Apply paint: by spray") == ["spray", "roller", ""]


def test_a_method_for_all_work_holds_where_there_is_a_rate_for_it() -> None:
    assert left("By roller.") == ["roller", "roller", ""]
    assert left("Sprayed.") == ["spray", "roller", ""]


def test_what_is_not_understood_is_told() -> None:
    assert "names no method" in told("Apply finish paint")[0]
    assert "no trade has an operation" in told("Apply plaster by spray")[0]
    assert told("Apply primer by spray") == ["no production rate is one for apply primer by spray"]
    assert told("Apply paint by spray", "Apply paint by roller") == ["apply finish paint is to be done by two methods"]
