"""The joints trade: joint compound and joint tape over all finished board."""

from __future__ import annotations

from collections.abc import Sequence

from darby.api import Source, Trade, Vocabulary, hookimpl
from darby_joints.trade import TRADE

DARBY_API = 1

WORDS = Vocabulary("joints", Source.shipped(__name__, "words.toml"))


@hookimpl
def darby_trades() -> Sequence[Trade]:
    """The joints trade."""
    return (TRADE,)


@hookimpl
def darby_vocabulary() -> Sequence[Vocabulary]:
    """What compounds and tapes are called."""
    return (WORDS,)
