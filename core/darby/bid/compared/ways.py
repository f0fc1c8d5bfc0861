"""Ways of doing the work held beside a bid: the whole bid is made again with what is otherwise in each, under the same terms.

The cheapest is named only among those that can be held against each other: what nobody gave a price or a rate makes a way look cheap,
and what the documents say otherwise is not the estimator's to choose.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from attrs import evolve

from darby.bid.bidding import make_bid
from darby.bid.compared.moved import cost_lines, costs_moved, goods_moved, hours_moved, missing_in
from darby.bid.model import Bid, WayPrice
from darby.bid.papers import Papers
from darby.bid.terms import Way
from darby.documents.words import one_line, quote, whereabouts
from darby.pipeline import estimate
from darby.plugin_host.model import Plugins
from darby.reading.read import Language
from darby.rules.rule import OVERRIDE, SPECIFICATION, TRIED, Rule
from darby.text.diagnostics import Diagnostic, is_error
from darby.text.spans import Span

AS_BID = "as bid"
"""What the bid itself is called beside its ways."""


def with_ways(bid: Bid, plugins: Plugins, papers: Papers) -> tuple[Bid, tuple[Diagnostic, ...]]:
    """The bid with every way that its terms name, in their order, and what is wrong with any; with an error none is made."""
    plain = Language.of(plugins.readers, plugins.vocabularies)
    made: list[WayPrice] = []
    told: list[Diagnostic] = []
    for way in bid.terms.ways:
        other, found = _made(way, bid, plugins, papers, plain)
        told += found
        if other is not None:
            made.append(_priced(way, bid, other))
    if is_error(told):
        return bid, tuple(d for d in told if is_error([d]))
    return evolve(bid, ways=_with_lacking(bid, made)), tuple(dict.fromkeys(told))


def _made(way: Way, bid: Bid, plugins: Plugins, papers: Papers, plain: Language) -> tuple[Bid | None, list[Diagnostic]]:
    job, terms = bid.estimate.job, bid.terms
    made = bid.estimate
    if way.lines or way.take:
        take = (*job.take, *(said for said in way.take if said[0] not in {text for text, _ in job.take}))
        made = estimate(evolve(job, tried=way.lines, take=take), bid.estimate.papers, plugins, plain)
        if is_error(made.diagnostics):
            return None, [d for d in made.diagnostics if is_error([d])]
    own = [d for d in made.diagnostics if any(_in(d, span) for _, span in (*way.lines, *way.take))]
    terms = evolve(
        terms, tried=way.rates, methods=way.methods or terms.methods, supplier=way.supplier or terms.supplier,
        allowances=(*terms.allowances, *way.allowances), ways=(),
    )  # fmt: skip
    other, wrong = make_bid(made, plugins, terms, papers)
    return other, [*own, *wrong]


def _in(told: Diagnostic, span: Span) -> bool:
    place = told.span
    return place is not None and place.source is span.source and span.start <= place.start < span.end


def _priced(way: Way, bid: Bid, other: Bid) -> WayPrice:
    moved = (*goods_moved(bid, other), *hours_moved(bid, other))
    return WayPrice(way.name, way.span, other, moved, tuple(_departing(bid, other)))


def _departing(bid: Bid, other: Bid) -> Iterator[str]:
    """The clauses of the documents that shape the bid and no more what is done in a way, since a line of the way says otherwise."""
    tried = {(rule.kind.name, rule.subject) for rule in other.estimate.rules if rule.layer == TRIED}
    kept = {_said(rule) for rule in _shaping(other)}
    gone = [
        rule for rule in _shaping(bid)
        if SPECIFICATION.rank <= rule.layer.rank < OVERRIDE.rank
        and (rule.kind.name, rule.subject) in tried
        and _said(rule) not in kept
    ]  # fmt: skip
    yield from dict.fromkeys(f"{one_line(quote(rule.span))} ({whereabouts(rule.span)})" for rule in gone)


def _shaping(bid: Bid) -> Iterator[Rule]:
    for line in bid.material:
        yield from line.goods.item.rules
    for work in bid.labor:
        yield from work.hours.work.rules


def _said(rule: Rule) -> tuple[object, ...]:
    return rule.kind.name, rule.subject, rule.span.source.name, rule.span.start, rule.span.end


def _with_lacking(bid: Bid, ways: Sequence[WayPrice]) -> tuple[WayPrice, ...]:
    """The ways, each with what it lacks and another, or the bid, has a price for."""
    common = _lacked_by_all((bid, *(way.bid for way in ways)))
    return tuple(evolve(way, lacking=tuple(text for text in missing_in(way.bid) if text not in common)) for way in ways)


def _lacked_by_all(bids: Sequence[Bid]) -> set[str]:
    """What is in the price of none of them, and so makes none cheaper than another."""
    found = set(missing_in(bids[0]))
    for bid in bids[1:]:
        found &= set(missing_in(bid))
    return found


def cheapest_of(bid: Bid) -> tuple[str, str]:
    """The name of the way that costs least, and the reason in a sentence or two; no name where none can be named.

    The bid itself is one of them. A way that leaves out what others have a price for, or that departs from the documents, is none.
    """
    own_lack = set(missing_in(bid)) - _lacked_by_all((bid, *(way.bid for way in bid.ways)))
    fair = [(way.bid.total, n, way.name) for n, way in enumerate(bid.ways, 1) if not way.lacking and not way.departs]
    if not own_lack:
        fair.append((bid.total, 0, AS_BID))
    if not fair:
        return (
            "",
            "None can be named: each leaves out something that has no price, rate or wage, or departs from the documents.",
        )
    total, number, name = min(fair)
    others = [one for one in fair if one[1] != number]
    money = bid.terms.currency.shown
    if not others:
        return (
            name,
            "It is the only one that keeps to the documents and leaves nothing out that others have in their price.",
        )
    next_total, next_number, next_name = min(others)
    if next_total == total:
        return name, f"“{one_line(next_name)}” costs the same; the one that changes least is named."
    bids = (bid, *(way.bid for way in bid.ways))
    why = _why(bids[next_number], bids[number])
    return name, f"{money(next_total - total)} less than “{one_line(next_name)}”, which comes next: {why}."


def _why(dearer: Bid, cheaper: Bid) -> str:
    shown = dearer.terms.currency.shown
    moved = costs_moved(cost_lines(dearer), cost_lines(cheaper), dearer.terms.currency.nothing())
    lines = sorted(moved, key=lambda line: (line.sum, line.label))
    return ", ".join(
        f"{one_line(line.label)} {shown(abs(line.sum))} {'less' if line.sum < 0 else 'more'}" for line in lines
    )


def compared(ways: Iterable[WayPrice], bid: Bid) -> tuple[tuple[str, Bid], ...]:
    """The bid and its ways by name, the bid first."""
    return ((AS_BID, bid), *((way.name, way.bid) for way in ways))
