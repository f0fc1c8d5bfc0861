"""The coatings trade: primer and finish paint on walls and ceilings."""

from __future__ import annotations

from collections.abc import Sequence

from darby.api import Source, Trade, Vocabulary, hookimpl
from darby_coatings.trade import TRADE

DARBY_API = 1

WORDS = Vocabulary("coatings", Source.shipped(__name__, "words.toml"))


@hookimpl
def darby_trades() -> Sequence[Trade]:
    """The coatings trade."""
    return (TRADE,)


@hookimpl
def darby_vocabulary() -> Sequence[Vocabulary]:
    """What paints, sheens and painted surfaces are called."""
    return (WORDS,)
