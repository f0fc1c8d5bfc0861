"""From a measured need to what is ordered: waste added, and the package chosen from the sizes on offer, whatever the goods."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction

from attrs import evolve, frozen

from darby.amounts import Amount
from darby.rulebook import Answer, Consultation
from darby.rules import Rule
from darby.units import NUMBER_ONLY

SINGLY = Amount.of(1)
"""The package of goods that are counted one by one."""


@frozen(eq=False)
class Packing:
    """The package a need is ordered in, as a rate (64 lb/pail), with the rules behind it and what should be known of it.

    `package` is None where nobody says, or where every package said is in another measure than the need.
    """

    package: Amount | None
    rules: tuple[Rule, ...] = ()
    notes: tuple[str, ...] = ()


def with_waste(need: Amount, waste: Answer | None, label: str) -> Amount:
    """The need, called `label`, with a share for waste added as steps of its own where an answer gives one above zero."""
    if waste is None or not waste.amount:
        return need.named(label)
    net = need.named(f"{label}, before waste")
    return (net + (net * waste.amount).named(f"waste on {label}")).named(label)


def pack(
    need: Amount, product: str, book: Consultation, about: Mapping[str, str] | None = None, *, take: Iterable[str] = ()
) -> Packing:
    """The package for a need of `product`.

    Of several sizes the one that leaves least over, then the one that needs fewest packages. A count that nobody packs is
    ordered singly. A silence, and a package that cannot be told in the measure of the need, raise the question.
    """
    offers = book.book.all("package", product, about, take=take)
    fitting = [o for o in offers if o.rule.amount.unit.dimension == need.unit.dimension]
    if fitting:
        best = min(fitting, key=lambda offer: _left_over(need, offer.rate))
        left = (offer.rule for offer in offers if offer is not best)
        book.use(evolve(best, beaten=(*left, *best.beaten)))
        return Packing(best.rate, (best.rule,))
    book.miss("package", product, about)
    rules = tuple(offer.rule for offer in offers)
    notes = tuple(
        f"A package of {product} is given as {rule.says()} and the need in {need.unit}: nothing tells how the two go together."
        for rule in rules
    )
    if need.unit.dimension == NUMBER_ONLY:
        return Packing(
            SINGLY, rules, (*notes, f"Nobody says how many {product}s a package holds: they are counted singly.")
        )
    return Packing(None, rules, notes)


def _left_over(need: Amount, package: Amount) -> tuple[Amount, Fraction]:
    """What is left over, then the number of packages, whatever they are called."""
    count = (need / package).round_up()
    return count * package - need, count.value
