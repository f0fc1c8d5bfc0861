"""The mix of package sizes that covers a need: a small exact search over whole packages.

What a need of one size comes to in whole packages is `LineItem.order`."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import gcd, lcm

LARGEST_SEARCH = 200_000
"""Steps of the search beyond which one size alone is taken: sizes that share no measure worth the name, as 10 L and 1 gal."""

Score = tuple[Fraction, Fraction, int]
"""Cost (0 where it is not known), content, number of packages: less is better, in this order."""


def mix(need: Fraction, sizes: Sequence[Fraction], costs: Sequence[Fraction] | None = None) -> tuple[int, ...]:
    """How many packages of each size cover a need above zero: at least cost where costs are given, else with least over.

    Of mixes that cost or leave the same, the one that holds least, then the one with fewest packages. Sizes and costs are
    above zero. The search is exact: of the size that gives most for its cost any number may be taken, and of all others
    together fewer than its own count of measures, since more of them could be changed for it at no loss.
    """
    measure = _measure(sizes)
    units = [int(size / measure) for size in sizes]
    wanted = -(-need // measure)
    each = list(costs) if costs is not None else [Fraction(0)] * len(sizes)
    best = min(range(len(units)), key=lambda i: (each[i] / units[i], -units[i]))
    others = [i for i in range(len(units)) if i != best]
    most = (units[best] - 1) * max((units[i] for i in others), default=0)
    reach = min(most, wanted + max(units) - 1)
    if reach * max(len(others), 1) > LARGEST_SEARCH:
        return _alone(need, sizes, each)

    # filled[c]: the cheapest way, then the one of fewest packages, to hold exactly c measures without the best size
    filled: dict[int, tuple[Fraction, int, int]] = {0: (Fraction(0), 0, -1)}
    for content in range(1, reach + 1):
        ways = [
            (filled[content - units[i]][0] + each[i], filled[content - units[i]][1] + 1, i)
            for i in others
            if content - units[i] in filled
        ]
        if ways:
            filled[content] = min(ways)

    def score(content: int) -> Score:
        cost, count, _ = filled[content]
        more = max(0, -((content - wanted) // units[best]))
        return cost + more * each[best], Fraction(content + more * units[best]), count + more

    content = min(filled, key=lambda c: (score(c), c))
    counts = [0] * len(units)
    counts[best] = max(0, -((content - wanted) // units[best]))
    while content:
        i = filled[content][2]
        counts[i] += 1
        content -= units[i]
    return tuple(counts)


def _alone(need: Fraction, sizes: Sequence[Fraction], costs: Sequence[Fraction]) -> tuple[int, ...]:
    """One size alone."""
    counts = [int(-(-need // size)) for size in sizes]
    best = min(range(len(sizes)), key=lambda i: (counts[i] * costs[i], counts[i] * sizes[i], counts[i]))
    return tuple(counts[i] if i == best else 0 for i in range(len(sizes)))


def _measure(sizes: Sequence[Fraction]) -> Fraction:
    """The largest measure of which every size is a whole number."""
    shared = lcm(*(size.denominator for size in sizes))
    return Fraction(gcd(*(int(size * shared) for size in sizes)), shared)
