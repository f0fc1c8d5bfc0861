"""Goods of one name that two trades order: put together before they are rounded, or, where that cannot be, refused with both names."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from itertools import chain

from attrs import evolve

from darby.estimate.attachments import Attachment
from darby.estimate.line_item import Aside, LineItem, dashed
from darby.plugin_host.trade_runner import Run
from darby.quantities.amounts import total
from darby.text.diagnostics import Diagnostic, Severity, problem

_SIZE = "package"
"""The key of a pool that tells the sizes of a mix apart."""
_HELP = (
    "Give the goods of one of the two a name of their own, let it say replaces, or run without it: --without {plugin}."
)

Place = tuple[int, int]
"""Which run, and which of its items."""


def shared(runs: Sequence[Run]) -> tuple[list[Run], list[tuple[Diagnostic, str]]]:
    """The runs with goods of one name and one pool in one line, that of Darby's own trade or of the first by name; what was refused,
    each with what is missing for it: `lattice (cord)`.

    The need of all is added up and bought in the packages of that line. What is measured otherwise, or bought in a mix of sizes, cannot
    be added up: the line of the later trade is left out and told.
    """
    by_goods: dict[tuple[object, ...], list[Place]] = {}
    for at, run in enumerate(runs):
        for n, item in enumerate(run.items):
            by_goods.setdefault(_goods(item), []).append((at, n))
    several = {goods: some for goods, some in by_goods.items() if len({at for at, _ in some}) > 1}
    if not several:
        return list(runs), []
    items: list[list[LineItem | None]] = [list(run.items) for run in runs]
    partners: list[set[str]] = [set(run.shares) for run in runs]
    told: list[tuple[Diagnostic, str]] = []
    for places in several.values():
        first = min(places, key=lambda p: (not runs[p[0]].provided.own, runs[p[0]].provided.trade.name))
        kept, joined = runs[first[0]].items[first[1]], [first]
        for place in (p for p in places if p[0] != first[0]):
            other = runs[place[0]].items[place[1]]
            items[place[0]][place[1]] = None
            if _fit(kept, other) and sum(p[0] == first[0] for p in places) == 1:
                joined.append(place)
            else:
                told.append((_refused(kept, other, runs[place[0]]), f"{other.trade} ({other.product})"))
        names = {runs[at].provided.trade.name for at, _ in joined}
        for at, _ in joined if len(joined) > 1 else ():
            partners[at] |= names
        if len(joined) > 1:
            items[first[0]][first[1]] = _together([runs[at].items[n] for at, n in joined])
    return [
        evolve(run, items=tuple(i for i in some if i is not None), shares=frozenset(with_))
        for run, some, with_ in zip(runs, items, partners, strict=True)
    ], told


def with_partners(some: Sequence[Run], runs: Sequence[Run]) -> list[Run]:
    """Some of the runs, and all those that a line of theirs is shared with: only together do they give it again."""
    names = {run.provided.trade.name for run in some}
    while more := {name for run in runs if run.provided.trade.name in names for name in run.shares} - names:
        names |= more
    return [run for run in runs if run.provided.trade.name in names]


def _goods(item: LineItem) -> tuple[object, ...]:
    pool = tuple(sorted((key, dashed(said)) for key, said in item.pool.items() if key != _SIZE))
    return (dashed(item.product), pool)


def _fit(one: LineItem, other: LineItem) -> bool:
    mixed = _SIZE in one.pool or _SIZE in other.pool
    return not mixed and one.need.unit.dimension == other.need.unit.dimension


def _together(items: Sequence[LineItem]) -> LineItem:
    """One line for the goods of several trades, named as that of the first."""
    first = items[0]
    package = next((item.package for item in items if item.package is not None), None)
    needs = [item.need.named(f"for {item.trade}") for item in items]
    also = " and ".join(f"{item.need} for {item.trade}" for item in items[1:])
    made: list[Callable[[], Iterable[Attachment]]] = [item.attachments for item in items]
    return evolve(
        first,
        need=total(needs, f"{first.product}, all trades"),
        package=package,
        rules=tuple(dict.fromkeys(rule for item in items for rule in item.rules)),
        notes=(*dict.fromkeys(n for item in items for n in item.notes), Aside("Shared", f"with {also}.")),
        attachments=lambda: chain.from_iterable(make() for make in made),
    )


def _refused(kept: LineItem, other: LineItem, run: Run) -> Diagnostic:
    message = (
        f"The trades {kept.trade} and {other.trade} both order {other.product}, and the two cannot be added up "
        f"({kept.need.unit} and {other.need.unit}): that of {other.trade} is left out."
        if kept.need.unit.dimension != other.need.unit.dimension
        else f"The trades {kept.trade} and {other.trade} both order {other.product}, one of them in several sizes, so that the two "
        f"cannot be added up: that of {other.trade} is left out."
    )
    help = _HELP.format(plugin=run.provided.plugin)
    return problem("item-twice", message, severity=Severity.WARNING, help=help)
