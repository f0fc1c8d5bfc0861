"""The board trade: gypsum board on walls and ceilings, in sheets."""

from __future__ import annotations

from collections.abc import Sequence

from darby.api import Document, Reader, Source, Trade, Vocabulary, hookimpl
from darby_board.reader import READER
from darby_board.shown import CUTS
from darby_board.trade import TRADE

DARBY_API = 1

WORDS = Vocabulary("board", Source.shipped(__name__, "words.toml"))


@hookimpl
def darby_trades() -> Sequence[Trade]:
    """The board trade."""
    return (TRADE,)


@hookimpl
def darby_readers() -> Sequence[Reader]:
    """How sheets are counted."""
    return (READER,)


@hookimpl
def darby_documents() -> Sequence[Document]:
    """The cut list as a table."""
    return (CUTS,)


@hookimpl
def darby_vocabulary() -> Sequence[Vocabulary]:
    """What boards and their types are called."""
    return (WORDS,)
