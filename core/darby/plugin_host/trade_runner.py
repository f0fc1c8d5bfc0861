"""The one place where a trade's code runs: each called alone, its lines checked, its failure its own."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from functools import partial
from hashlib import sha256
from itertools import islice

from attrs import evolve, frozen

from darby.estimate.attachments import unsound
from darby.estimate.line_item import LineItem
from darby.estimate.model import Estimate
from darby.estimate.open_points import answers, assumptions, conflicts, questions
from darby.job.model import Job
from darby.plugin_host.model import Provided
from darby.plugin_host.sandbox import Verdict, quiet, rehearse
from darby.plugin_host.validation import raised
from darby.quantities.amounts import Amount, walk
from darby.quantities.gc_pause import in_bulk
from darby.quantities.units import NUMBER_ONLY
from darby.rules.cascade import RuleBook
from darby.rules.consultation import Consultation
from darby.rules.rule import DEFAULT, Rule
from darby.text.spans import Source

MOST_ITEMS = 10_000
"""Line items that one trade may give; more are a trade that does not stop."""

MOST_ATTACHED = 10_000
"""Tables and drawings of one line that are looked at."""

MOST_TEXT = 1_000_000
"""Characters that one trade may put into its lines, all together."""


@frozen(eq=False)
class Run:
    """What came of calling one trade."""

    provided: Provided
    items: tuple[LineItem, ...]
    consultation: Consultation
    failure: str = ""

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
    """Call every trade, in the order given. Those not of Darby's own are rehearsed first, each with what it will be given.

    `defaults` are the default lines of each trade; a trade named in `unreadable` cannot be called, since its own cannot be
    read. `named` are the goods that some document names, None where there is none.
    """
    whole = RuleBook(rules, rooms=job.places, named=named)
    books = {p: book_for(p, whole, defaults) for p in trades}
    readable = [p for p in trades if p.trade.name not in unreadable]
    strangers = [p for p in readable if not p.own]
    parts = [partial(_rehearsed, p, job, books[p]) for p in strangers]
    verdicts = dict(zip(strangers, rehearse(parts, raised), strict=True))
    runs: list[Run] = []
    for p in trades:
        if p.trade.name in unreadable:
            runs.append(Run(p, (), Consultation(RuleBook(())), "has defaults that cannot be read"))
        elif p in verdicts:
            runs.append(_after(verdicts[p], p, job, books[p]))
        else:
            runs.append(_call(p, job, books[p]))
    return runs


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


def _rehearsed(provided: Provided, job: Job, book: RuleBook) -> Verdict:
    """In the rehearsal: the trade called, its lines told as they will be, and what it was given found as it was."""
    before = _state(job, book.rules)
    run = _call(provided, job, book)
    if run.failure:
        return Verdict(run.failure)
    for item in run.items:
        for value in inexact_in(item):
            return Verdict(f"gave {item.product} with {value!r} in its working, which is not exact")
    if _state(job, book.rules) != before:
        return Verdict("changed the job or the rules it was given")
    return Verdict("", _digest(run, job))


def _after(verdict: Verdict, provided: Provided, job: Job, book: RuleBook) -> Run:
    """The call of a trade that was rehearsed."""
    if verdict.failure:
        return Run(provided, (), Consultation(RuleBook(())), verdict.failure)
    with quiet():
        run = _call(provided, job, book)
    if not run.failure and _digest(run, job) != verdict.report:
        return Run(provided, (), run.consultation, "gave other lines when it was asked the same again")
    return run


def _state(job: Job, rules: Iterable[Rule]) -> str:
    """All that can be seen of what a trade is given."""
    return repr((job, tuple(rules)))


def _digest(run: Run, job: Job) -> str:
    """A short name for everything the run brings, made by telling it; what cannot be told raises here."""
    from darby.documents.exact_json import estimate as to_json  # noqa: PLC0415 - not wanted where all trades are Darby's own

    asked, contradictions = answers([run]), conflicts([run])
    alone = Estimate(
        job, run.items, (), assumptions(asked), questions([run], asked, contradictions, {}), run.provided.trade.cautions,
        tuple(conflict for conflict, _ in contradictions),
    )  # fmt: skip
    return sha256(to_json.make(alone).encode()).hexdigest()


def _call(provided: Provided, job: Job, book: RuleBook) -> Run:
    """Call one trade, alone. Whatever it does wrong is its failure, and costs its own lines only."""
    consultation = Consultation(book)
    try:
        given = provided.trade.line_items(job, consultation)
        items = [_checked(item, provided.trade.name) for item in islice(given, MOST_ITEMS + 1)]
        if not provided.own:  # here, where its errors are its own, and not in the document that shows it
            items = [_handed_over(item) for item in items]
        if len(items) > MOST_ITEMS:
            raise _NonsenseError(f"gave more than {MOST_ITEMS} line items")
        if sum(map(_letters, items)) > MOST_TEXT:
            raise _NonsenseError(f"gave more than {MOST_TEXT} characters of text")
        ids = [item.id for item in items]
        again = next((i for i in ids if ids.count(i) > 1), None) if len(set(ids)) < len(ids) else None
        if again is not None:
            raise _NonsenseError(f"gave two line items called {again}: their pools have to tell them apart")
    except _NonsenseError as nonsense:
        return Run(provided, (), consultation, str(nonsense))
    except (Exception, SystemExit) as error:
        return Run(provided, (), consultation, f"raised {raised(error)}")
    return Run(provided, tuple(items), consultation)


class _NonsenseError(Exception):
    """What a trade returned cannot stand in an estimate; the text says why."""


def _checked(item: object, trade: str) -> LineItem:
    """The item with its trade filled in. Raises _NonsenseError, or whatever looking at it raises."""
    if not isinstance(item, LineItem):
        raise _NonsenseError(f"gave a {type(item).__name__} where a LineItem is wanted")
    if not isinstance(item.product, str) or not item.product.strip():
        raise _NonsenseError("gave a line item without a product")
    named = f"the line item {item.product}"
    if not all(isinstance(part, str) for pair in item.pool.items() for part in pair):
        raise _NonsenseError(f"gave {named}, whose pool holds something other than text")
    if not all(isinstance(rule, Rule) for rule in item.rules) or not all(isinstance(n, str) for n in item.notes):
        raise _NonsenseError(f"gave {named}, whose rules or notes are none")
    if not _exact(item.need) or item.need.value < 0:
        raise _NonsenseError(f"gave {named}, whose need is no exact quantity of zero or more")
    if item.package is not None:
        if not _exact(item.package) or item.package.value <= 0:
            raise _NonsenseError(f"gave {named}, whose package holds no exact quantity above zero")
        order = item.order
        singly = item.need.unit.dimension == NUMBER_ONLY and not item.package.unit.dimension
        if order is None or not (singly or (item.container and order.unit.name == item.container)):
            raise _NonsenseError(f"gave {named}, whose need {item.need} does not go into packages of {item.package}")
    return evolve(item, trade=trade)


def _handed_over(item: LineItem) -> LineItem:
    """The item with its tables and drawings made. Raises _NonsenseError where one is none."""
    made = tuple(islice(item.attachments(), MOST_ATTACHED))
    if wrong := next(filter(None, map(unsound, made)), ""):
        raise _NonsenseError(f"gave the line item {item.product} with {wrong}")
    return evolve(item, attachments=lambda: made)


def _letters(item: LineItem) -> int:
    return len(item.product) + sum(len(k) + len(v) for k, v in item.pool.items()) + sum(map(len, item.notes))


def inexact_in(item: LineItem) -> Iterator[object]:
    """What is no exact number in the working of an item."""
    amounts = (item.need,) if item.package is None else (item.need, item.package)
    for amount in amounts:
        yield from (a.value for a in walk(amount) if not isinstance(a.value, Fraction | int))


def _exact(amount: object) -> bool:
    return isinstance(amount, Amount) and isinstance(amount.value, Fraction | int)
