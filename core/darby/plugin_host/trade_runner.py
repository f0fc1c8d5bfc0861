"""The one place where a trade's code runs: each called alone, its lines checked, its failure its own."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from itertools import islice

from attrs import evolve, frozen

from darby.estimate.line_item import LineItem
from darby.job.model import Job
from darby.plugin_host.isolation.asked_again import AskedAgain, Lines
from darby.plugin_host.isolation.failures import BrokenError, NonsenseError, why
from darby.plugin_host.isolation.item_checks import MOST_ITEMS, MOST_TEXT, checked, handed_over, letters
from darby.plugin_host.model import Provided
from darby.quantities.gc_pause import in_bulk
from darby.rules.cascade import RuleBook
from darby.rules.consultation import Consultation
from darby.rules.rule import DEFAULT, Rule
from darby.text.spans import Source


@frozen(eq=False)
class Run:
    """What came of calling one trade."""

    provided: Provided
    items: tuple[LineItem, ...]
    consultation: Consultation
    failure: str = ""
    again: AskedAgain | None = None
    """What the trade gives when it is asked the same again, where that is not known yet."""
    shares: frozenset[str] = frozenset()
    """The trades, its own among them, that a line is shared with."""

    def settled(self) -> Run:
        """The run once that is known: a trade that gave something else has failed."""
        try:
            if self.again is not None:
                self.again.settle()
        except BrokenError as broken:
            return Run(self.provided, (), self.consultation, why(broken))
        return evolve(self, again=None)

    @property
    def who(self) -> str:
        """The plugin, with its version."""
        return f"{self.provided.plugin} {self.provided.version}".rstrip()


@in_bulk()
def call_all(
    trades: Sequence[Provided],
    job: Job,
    rules: Sequence[Rule],
    defaults: Mapping[Provided, Source],
    unreadable: Collection[str] = (),
    named: Collection[str] | None = None,
) -> list[Run]:
    """Call every trade; the runs come in the order given. A trade that goes by the lines of others is called behind them.

    `defaults` are the default lines of each trade; a trade named in `unreadable` cannot be called, since its own cannot be
    read. `named` are the goods that some document names, None where there is none.
    """
    whole = RuleBook(rules, rooms=job.places, named=named)
    runs: dict[str, Run] = {}
    for p in _behind_others(trades):
        name = p.trade.name
        runs |= {after: runs[after].settled() for after in p.trade.after if after in runs}
        if name in unreadable:
            runs[name] = Run(p, (), Consultation(RuleBook(())), "has defaults that cannot be read")
        elif failed := [after for after in p.trade.after if after in runs and runs[after].failure]:
            runs[name] = Run(p, (), Consultation(RuleBook(())), f"goes by the lines of {failed[0]}, which are missing")
        else:
            orders = {after: runs[after].items for after in p.trade.after if after in runs}
            runs[name] = _call(p, job, Consultation(book_for(p, whole, defaults), orders))
    in_a_circle = "goes by the lines of a trade that goes by its own"
    return [
        runs[name].settled() if (name := p.trade.name) in runs else Run(p, (), Consultation(RuleBook(())), in_a_circle)
        for p in trades
    ]


def _behind_others(trades: Sequence[Provided]) -> Iterator[Provided]:
    """The trades in an order in which each stands behind those whose lines it goes by; those in a circle are left out."""
    waiting = {p.trade.name: p for p in trades}
    while ready := [p for p in waiting.values() if not any(after in waiting for after in p.trade.after)]:
        for p in ready:
            del waiting[p.trade.name]
        yield from ready


def book_for(hearer: Provided, whole: RuleBook, defaults: Mapping[Provided, Source]) -> RuleBook:
    """The rules of a whole book that a trade may hear: all but the default lines of other plugins that are not Darby's own.

    Unless they come with a trade that takes the place of one: its lines stand in for that one's.
    """
    kept_from = {
        id(source)
        for p, source in defaults.items()
        if not p.own and not p.trade.replaces and p.plugin != hearer.plugin
    }  # fmt: skip
    own = defaults.get(hearer)
    if not kept_from:
        return whole.owned(own)
    return RuleBook(
        (r for r in whole.rules if r.layer != DEFAULT or id(r.span.source) not in kept_from),
        own,
        whole.rooms.names.values(),
        whole.named,
    )


def _tell(items: Sequence[LineItem]) -> None:
    """Tell the lines as documents will; what cannot be told raises here."""
    from darby.documents.exact_json.estimate import item_json  # noqa: PLC0415 - not wanted where all trades are Darby's own

    for item in items:
        item_json(item, item.rules)


def _call(provided: Provided, job: Job, consultation: Consultation) -> Run:
    """Call one trade, alone. Whatever it does wrong is its failure, and costs its own lines only."""
    try:
        given = provided.trade.line_items(job, consultation)
        items = [checked(item, provided.trade.name) for item in islice(given, MOST_ITEMS + 1)]
        if not provided.own:  # here, where its errors are its own, and not in the document that shows it
            items = [handed_over(item) for item in items]
            _tell(items)
        if len(items) > MOST_ITEMS:
            raise NonsenseError(f"gave more than {MOST_ITEMS} line items")
        if sum(map(letters, items)) > MOST_TEXT:
            raise NonsenseError(f"gave more than {MOST_TEXT} characters of text")
        ids = [item.id for item in items]
        again = next((i for i in ids if ids.count(i) > 1), None) if len(set(ids)) < len(ids) else None
        if again is not None:
            raise NonsenseError(f"gave two line items called {again}: their pools have to tell them apart")
    except (Exception, SystemExit) as error:
        return Run(provided, (), consultation, why(error))
    return Run(provided, tuple(items), consultation, again=given.again if isinstance(given, Lines) else None)
