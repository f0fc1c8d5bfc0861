"""What claims of trades speak of, held against what anybody knows: a claim on a misspelt word would never claim anything."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator

from attrs import evolve

from darby.estimate.trade import Claim
from darby.plugin_host.model import Provided
from darby.text.files import nearest

SURFACES = frozenset({"wall", "ceiling", "door", "trim"})
"""The kinds of surface that every job may have."""
_SETTING = "setting"
"""The kind of rules that settings make, which no reader brings."""

Wrong = tuple[str, str]
"""What is wrong with a claim, and the way out."""


def sound_claims(
    provided: Provided, kinds: Collection[str], goods: Collection[str], surfaces: Collection[str]
) -> tuple[Provided, list[Wrong]]:
    """The trade with those of its claims whose every word is known, and what is wrong with the others.

    `kinds` are those of rules, `goods` what anybody names, `surfaces` the kinds of surface that jobs may have.
    """
    trade, kept, wrong = provided.trade, [], []
    settings = {f"{trade.name} {key.name}" for key in trade.settings}
    for claim in trade.claims:
        found = list(_unknown(claim, {*kinds, _SETTING}, {*goods, *settings}, surfaces))
        wrong += [(f"The trade {trade.name} of {provided.plugin} claims {text}", way_out) for text, way_out in found]
        kept += [] if found else [claim]
    return (evolve(provided, trade=evolve(trade, claims=tuple(kept))) if wrong else provided), wrong


def _unknown(
    claim: Claim, kinds: Collection[str], goods: Collection[str], surfaces: Collection[str]
) -> Iterator[Wrong]:
    said = [
        *((kind, "by rules of the kind", kinds) for kind, _ in claim.asks),
        *((subject, "by rules of", goods) for _, subject in claim.asks),
        *((surface, "surfaces of the kind", surfaces) for surface in claim.surfaces),
        *((one, "the place of", goods) for one in claim.goods),
    ]
    for word, what, known in dict.fromkeys((word, what, frozenset(known)) for word, what, known in said):
        if word not in known:
            yield f"{what} {word}, and nobody knows such a thing; that claim is left out.", _way_out(word, known)


def _way_out(word: str, known: Iterable[str]) -> str:
    close = nearest(word, known)
    return f"Did you mean {close}?" if close else "`darby plugins` lists what every plugin brings."
