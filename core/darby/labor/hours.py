"""Hours: each piece of work with the rate that holds for it, which may be another for each band of heights.

Of the rates that fit, the one with most limits holds. Of equals that differ the slower is used, and the other is told. What no rate
fits is a question, and its hours are not counted.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Mapping, Sequence
from itertools import pairwise

from attrs import evolve, frozen

from darby.labor.rate_lines import HOUR, RateLine
from darby.labor.task import Task
from darby.quantities.amounts import Amount, total
from darby.quantities.units import UnitError

_DESCRIBING = frozenset({"method"})
"""Keys that a rate may name where the work itself does not: whose rate it is says how the work is done."""


@frozen(eq=False)
class Part:
    """The work, or the part of it in one band of heights, and the rate that holds there; None where nobody gave one."""

    amount: Amount
    rate: RateLine | None
    others: tuple[RateLine, ...] = ()
    """Rates with as many limits that say something else and were not used, since they are quicker."""
    band: str = ""


@frozen(eq=False)
class Hours:
    """One piece of work with its hours. `missing` says in a sentence what nobody gave a rate for; nothing where all is known."""

    work: Task
    parts: tuple[Part, ...]
    hours: Amount | None
    """Those that are known, with their working; None where none are."""
    missing: str = ""

    @property
    def rates(self) -> tuple[RateLine, ...]:
        """The rates that were used, each once."""
        return tuple(dict.fromkeys(part.rate for part in self.parts if part.rate is not None))


def hours_of(works: Iterable[Task], rates: Sequence[RateLine]) -> tuple[Hours, ...]:
    """The hours of every piece of work, in its order."""
    shelf: dict[str, list[RateLine]] = {}
    for rate in rates:
        shelf.setdefault(rate.operation, []).append(rate)
    banded = {name for name, some in shelf.items() if any(rate.banded for rate in some)}
    return tuple(_hours(work, shelf.get(work.operation, [])) for work in _together(works, banded))


def _together(works: Iterable[Task], banded: Container[str]) -> Iterable[Task]:
    """Work that differs in height alone put together where no rate is told apart by it."""
    found: dict[object, list[Task]] = {}
    for work in works:
        measures = tuple(amount.unit for amount in work.amounts)
        told_apart = work if work.operation in banded else evolve(work, height=None)
        height = told_apart.height.size if told_apart.height is not None else None
        found.setdefault((work.trade, work.operation, work.about, measures, height), []).append(told_apart)
    for first, *more in found.values():
        if not more:
            yield first
            continue
        alike = (first, *more)
        amounts = tuple(total((w.amounts[n] for w in alike), first.amounts[n].label) for n in range(len(first.amounts)))
        rules = tuple(dict.fromkeys(rule for w in alike for rule in w.rules))
        yield evolve(first, amounts=amounts, rules=rules)


def idle(rates: Iterable[RateLine], done: Iterable[Hours]) -> tuple[RateLine, ...]:
    """The rates that nothing in the job had a use for."""
    used = {id(rate) for one in done for part in one.parts for rate in (part.rate, *part.others) if rate is not None}
    return tuple(rate for rate in rates if id(rate) not in used)


def _hours(work: Task, rates: Sequence[RateLine]) -> Hours:
    fitting = [rate for rate in rates if _fits(rate, work)]
    parts = tuple(_parts(work, fitting))
    known = [_worked(part, work) for part in parts if part.rate is not None]
    label = f"hours, {told(work)}"
    missing = ""
    if any(part.rate is None for part in parts):
        missing = _missing(work, rates, parts)
    return Hours(work, parts, total(known, label) if known else None, missing)


def _worked(part: Part, work: Task) -> Amount:
    assert part.rate is not None
    where = f"{work.operation}{', ' + part.band if part.band else ''}"
    return (part.amount * part.rate.rate).to(HOUR).named(f"hours, {where}")


def _fits(rate: RateLine, work: Task) -> bool:
    if work.measured_in(rate.per) is None:
        return False
    return all(
        (key not in work.about and key in _DESCRIBING) or (key in work.about and _alike(said, work.about[key]))
        for key, said in rate.conditions.items()
    )


def _alike(said: str, asked: str) -> bool:
    if " ".join(said.casefold().split()) == " ".join(asked.casefold().split()):
        return True
    try:
        return Amount.read(said) == Amount.read(asked)
    except UnitError:
        return False


def _parts(work: Task, rates: Sequence[RateLine]) -> Iterable[Part]:
    """The work in the bands of heights that its rates know; all of it where they know none, or it is not known how high it reaches."""
    height = work.height
    if height is None or not any(rate.banded for rate in rates):
        yield _part(work, [rate for rate in rates if not rate.banded], None, "")
        return
    if not work.rising:
        yield _part(work, [rate for rate in rates if _covers(rate, height, height)], None, f"at {height.exact()}")
        return
    ends = sorted({end for rate in rates for end in (rate.low, rate.high) if end is not None and end < height})
    edges = [Amount.of(0, height.unit), *ends, height]
    for low, high in pairwise(edges):
        share = (high - low) / height
        band = f"from {low.exact()} to {high.exact()}" if low else f"up to {high.exact()}"
        whole = len(edges) == 2
        yield _part(
            work, [rate for rate in rates if _covers(rate, low, high)], None if whole else share, "" if whole else band
        )


def _covers(rate: RateLine, low: Amount, high: Amount) -> bool:
    """Whether a band of heights lies in that of a rate; a height of exactly the limit is still below it."""
    if low == high:
        return (rate.low is None or rate.low < low) and (rate.high is None or rate.high >= high)
    return (rate.low is None or rate.low <= low) and (rate.high is None or rate.high >= high)


def _part(work: Task, rates: Sequence[RateLine], share: Amount | None, band: str) -> Part:
    best = max((rate.weight for rate in rates), default=(0, 0))
    equals = [rate for rate in rates if rate.weight == best]
    timed = {id(rate): _amount(work, rate, share, band) for rate in equals}
    slowest = max(equals, key=lambda rate: (timed[id(rate)] * rate.rate).size, default=None)
    if slowest is None:
        return Part(_scaled(work.amounts[0], share, band), None, (), band)
    amount = timed[id(slowest)]
    took = (amount * slowest.rate).size
    others = tuple(rate for rate in equals if (timed[id(rate)] * rate.rate).size != took)
    return Part(amount, slowest, others, band)


def _amount(work: Task, rate: RateLine, share: Amount | None, band: str) -> Amount:
    measured = work.measured_in(rate.per)
    assert measured is not None
    return _scaled(measured, share, band)


def _scaled(amount: Amount, share: Amount | None, band: str) -> Amount:
    return (
        amount if share is None else (amount * share.named(f"share {band}")).named(f"{amount.label or 'work'}, {band}")
    )


def told(work: Task) -> str:
    """The work in a few words: `lay underlay, level 2, wall, 12 ft high`."""
    high = () if work.height is None else (f"{work.height.exact()} high",)
    return ", ".join(
        (work.operation, *(f"{key} {said}" if said.isdigit() else said for key, said in work.about.items()), *high)
    )


def _missing(work: Task, rates: Sequence[RateLine], parts: Sequence[Part]) -> str:
    bands = [part for part in parts if part.rate is None]
    amount = " and ".join(str(part.amount) + (f" {part.band}" if part.band else "") for part in bands)
    near = f" There are rates for {_few(rates)}." if rates else ""
    why = " Nobody knows how high it is." if work.height is None and any(rate.banded for rate in rates) else ""
    return f"How many hours does it take: {told(work)} ({amount})? No rate is one for it.{why}{near}"


def _few(rates: Sequence[RateLine]) -> str:
    shown = [f"“{rate.text}”" for rate in rates[:3]]
    more = f" and {len(rates) - 3} more" if len(rates) > 3 else ""
    return ", ".join(shown) + more


def by_trade(done: Iterable[Hours]) -> Mapping[str, Amount]:
    """Known hours of each trade, added up."""
    found: dict[str, list[Amount]] = {}
    for one in done:
        if one.hours is not None:
            found.setdefault(one.work.trade, []).append(one.hours)
    return {trade: total(hours, f"hours of {trade}") for trade, hours in found.items()}
