"""The job made otherwise, held beside the bid: what each alternate of its documents adds or takes, and other ways of doing the work."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from darby.bid.model import AlternatePrice, Bid
from darby.bid.sheet.sections import so_many
from darby.bid.sheet.ways_side_by_side import side_by_side
from darby.documents.letters.prose import Listing, Paragraph, Table
from darby.documents.page.marked_text import Shelf
from darby.documents.page.parts import place_view
from darby.documents.words import one_line
from darby.estimate.model import Estimate
from darby.rules.rule import SPECIFICATION
from darby.text.diagnostics import Diagnostic

View = dict[str, Any]

Otherwise = Callable[[Estimate], tuple[Bid | None, tuple[Diagnostic, ...]]]
"""Makes the bid of an estimate with its alternates and ways: None, with what is wrong, where it cannot be made. Dear: each of them is a
bid of its own.
"""


def may_open_alternates(estimate: Estimate) -> bool:
    """Whether it is worth it to look for alternates: a document may open some, or the job takes one."""
    of_the_job = (source.text for source, layer in estimate.papers if layer.rank >= SPECIFICATION.rank)
    return bool(estimate.job.take) or any(
        "altern" in text.casefold() or "alt." in text.casefold() for text in of_the_job
    )


def otherwise_view(bid: Bid | None, found: tuple[Diagnostic, ...], books: Shelf) -> View:
    """Alternates and ways as the pane shows them. Where the job states no terms of a bid, alternates are told without money."""
    if bid is None:
        return {"wrong": [one_line(f"{d.message}. {d.help}") for d in found], "alternates": [], "ways": []}
    return {
        "wrong": [],
        "alternates": [_alternate(one, bid, books) for one in bid.alternates],
        "ways": list(_ways(bid)),
    }


def _alternate(one: AlternatePrice, bid: Bid, books: Shelf) -> View:
    money, code = bid.terms.currency.shown, bid.terms.currency.code
    sum_ = ""
    if bid.terms.stated:
        way = "not known" if one.sum is None else "add" if one.sum > 0 else "deduct" if one.sum < 0 else "no change"
        sum_ = " ".join(filter(None, (way, money(abs(one.sum)) if one.sum else "", code if one.sum else "")))
    return {
        "name": one.name, "title": one_line(one.title), "taken": one.taken, "sum": sum_, "at": place_view(one.span, books),
        "moved": [
            f"{one_line(line.name)}: {so_many(line.was, line.unit)} without it, {so_many(line.now, line.unit)} with it"
            for line in one.moved
        ],
        "open": [one_line(text) for text in one.open] if bid.terms.stated else [],
    }  # fmt: skip


def _ways(bid: Bid) -> Iterator[View]:
    """The blocks of the bid sheet on ways of doing the work, without their heading."""
    for block in side_by_side(bid):
        if isinstance(block, Table):
            yield {"heads": list(block.heads), "rows": [list(row) for row in block.rows], "right": sorted(block.right)}
        elif isinstance(block, Paragraph):
            yield {"label": block.label, "text": block.text}
        elif isinstance(block, Listing):
            yield {"entries": [one_line(entry[0].text) for entry in block.entries]}
