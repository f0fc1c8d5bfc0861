"""The four hooks. Each registers frozen objects; the core calls the objects itself, one by one.

Arguments are only ever added to a hook. A plugin is a module (or object) registered in the entry-point group `darby`;
it states `DARBY_API = 1`.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import pluggy

if TYPE_CHECKING:
    from darby.estimate.document_format import Document
    from darby.estimate.trade import Trade
    from darby.reading.parsing.fact_parser import Reader
    from darby.reading.parsing.vocabulary import Vocabulary

hookspec = pluggy.HookspecMarker("darby")
hookimpl = pluggy.HookimplMarker("darby")
"""Marks a function of a plugin as one of the four hooks: `@hookimpl` above `def darby_trades()`."""


@hookspec
def darby_trades() -> Sequence[Trade]:  # type: ignore[empty-body]
    """Trades that add line items, defaults and cautions to the estimate."""


@hookspec
def darby_readers() -> Sequence[Reader]:  # type: ignore[empty-body]
    """Readers: a grammar and what its trees mean."""


@hookspec
def darby_vocabulary() -> Sequence[Vocabulary]:  # type: ignore[empty-body]
    """Words: what the plugin's products, types and places are called in specifications."""


@hookspec
def darby_documents() -> Sequence[Document]:  # type: ignore[empty-body]
    """Document formats, each made from an estimate alone."""
