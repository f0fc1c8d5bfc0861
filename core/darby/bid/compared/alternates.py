"""What each alternate of the documents adds to a bid or takes from it: the whole bid is made again with it, or without it."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import evolve

from darby.bid.bidding import make_bid
from darby.bid.compared.moved import goods_moved, hours_moved
from darby.bid.model import AlternatePrice, Bid
from darby.bid.papers import Papers
from darby.pipeline import estimate
from darby.plugin_host.job_lines import names_in
from darby.plugin_host.model import Plugins
from darby.reading.addenda.alternates import Alternate, alternates_in, named
from darby.reading.read import Language
from darby.rules.rule import SPECIFICATION


def with_alternates(bid: Bid, plugins: Plugins, papers: Papers) -> Bid:
    """The bid with the price of every alternate of its documents, in their order.

    One that is not taken is put in and priced against the bid as it is; of one that is taken the bid without it is made, and the
    difference is what it adds.
    """
    return evolve(bid, alternates=tuple(_priced(bid, plugins, papers)))


def _priced(bid: Bid, plugins: Plugins, papers: Papers) -> Iterator[AlternatePrice]:
    job = bid.estimate.job
    plain = Language.of(plugins.readers, plugins.vocabularies)
    language = plain.naming(names_in(job))
    there: dict[str, Alternate] = {}
    for source, layer in bid.estimate.papers:
        if layer.rank >= SPECIFICATION.rank:
            for one in alternates_in(source, language):
                there.setdefault(one.number, one)
    taken = {named(text) for text, _ in job.take}
    for number, one in there.items():
        rest = tuple(said for said in job.take if named(said[0]) != number)
        take = rest if number in taken else (*job.take, (one.name, one.span))
        made = estimate(evolve(job, take=take), bid.estimate.papers, plugins, plain)
        other, _ = make_bid(made, plugins, bid.terms, papers)
        if other is not None:
            yield _difference(one, *((other, bid) if number in taken else (bid, other)), taken=number in taken)


def _difference(one: Alternate, without: Bid, with_it: Bid, *, taken: bool) -> AlternatePrice:
    silent = [
        d.message
        for d in with_it.estimate.diagnostics
        if d.code == "alternate-silent" and d.span is not None and _within(d.span.start, one)
    ]
    was = {line.text for line in without.open if line.what == "missing"}
    missing = [line.text for line in with_it.open if line.what == "missing" and line.text not in was]
    moved = (*goods_moved(without, with_it), *hours_moved(without, with_it))
    open_ = (*silent, *missing)
    sum_ = None if open_ and not moved else with_it.total - without.total
    return AlternatePrice(one.name, one.title, one.span, taken, sum_, moved, open_)


def _within(start: int, one: Alternate) -> bool:
    return (
        any(view.whole.start <= start <= view.whole.end for view in one.body) or one.span.start <= start <= one.span.end
    )
