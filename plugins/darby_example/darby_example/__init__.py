"""The insulation trade: batts between the supports of walls and ceilings, in bags."""

from __future__ import annotations

from collections.abc import Sequence

from darby.api import Reader, Source, Trade, Vocabulary, hookimpl
from darby_example.reader import READER
from darby_example.trade import TRADE

DARBY_API = 1


@hookimpl
def darby_trades() -> Sequence[Trade]:
    """The insulation trade."""
    return (TRADE,)


@hookimpl
def darby_readers() -> Sequence[Reader]:
    """The reader of widths and thicknesses of batts."""
    return (READER,)


@hookimpl
def darby_vocabulary() -> Sequence[Vocabulary]:
    """What batts and their facings are called."""
    return (Vocabulary("insulation", Source.shipped(__name__, "words.toml")),)
