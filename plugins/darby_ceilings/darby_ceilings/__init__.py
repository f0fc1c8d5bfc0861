"""The trade of suspended ceilings: panels in a grid of runners, hung on wire."""

from __future__ import annotations

from collections.abc import Sequence

from darby.api import Reader, Source, Trade, Vocabulary, hookimpl
from darby_ceilings.reader import READER
from darby_ceilings.trade import TRADE

DARBY_API = 1


@hookimpl
def darby_trades() -> Sequence[Trade]:
    """The trade of suspended ceilings."""
    return (TRADE,)


@hookimpl
def darby_readers() -> Sequence[Reader]:
    """The reader of what a ceiling is hung as."""
    return (READER,)


@hookimpl
def darby_vocabulary() -> Sequence[Vocabulary]:
    """What suspended ceilings and their parts are called, and what wire comes in."""
    return (Vocabulary("ceilings", Source.shipped(__name__, "words.toml")),)
