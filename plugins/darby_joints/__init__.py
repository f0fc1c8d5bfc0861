"""The joints trade: joint compound and joint tape over all finished board."""

from __future__ import annotations

from collections.abc import Sequence
from importlib.resources import files

from darby.hooks import hookimpl
from darby.lexicon import Vocabulary
from darby.text import Source
from darby.trades import Trade
from darby_joints.trade import TRADE

DARBY_API = 1


@hookimpl
def darby_trades() -> Sequence[Trade]:
    """The joints trade."""
    return (TRADE,)


@hookimpl
def darby_vocabulary() -> Sequence[Vocabulary]:
    """What compounds and tapes are called."""
    words = files(__name__) / "words.toml"
    if not words.is_file():
        return ()
    return (Vocabulary("joints", Source("darby_joints/words.toml", words.read_text(encoding="utf-8"))),)
