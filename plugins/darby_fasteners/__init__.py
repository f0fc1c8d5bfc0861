"""The fasteners trade: clips at inside corners, screws over the board."""

from __future__ import annotations

from collections.abc import Sequence

from darby.api import Source, Trade, Vocabulary, hookimpl
from darby_fasteners.trade import TRADE

DARBY_API = 1

WORDS = Vocabulary("fasteners", Source.shipped(__name__, "words.toml"))


@hookimpl
def darby_trades() -> Sequence[Trade]:
    """The fasteners trade."""
    return (TRADE,)


@hookimpl
def darby_vocabulary() -> Sequence[Vocabulary]:
    """What screws, clips and nails are called."""
    return (WORDS,)
