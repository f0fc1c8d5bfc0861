"""Prices of a job that match nothing: a product that nobody orders or names, a package that no rule has."""

from __future__ import annotations

import difflib
from collections.abc import Collection, Iterator, Mapping

from darby.job.checks.check import Check, check
from darby.job.model import Job
from darby.quantities.amounts import Amount

_MOST = 1_000


def idle_prices(job: Job, products: Collection[str], packages: Mapping[str, Collection[Amount]]) -> Iterator[Check]:
    """Prices that no size can be chosen by. `products` are those that are known, `packages` the sizes on offer of each."""
    known = {name.casefold(): name for name in products}
    for price in job.prices:
        name = known.get(price.product.casefold())
        if name is None:
            near = difflib.get_close_matches(price.product.casefold()[:60], list(known)[:_MOST], 1)
            yield check(
                "price-unused", (price.product,), f"the price of “{price.product}” is of no use: no product is called so",
                price.span, (f"Did you mean {known[near[0]]}? " if near else "") + "Write product as the order calls it.",
            )  # fmt: skip
        elif (offers := packages.get(name)) and price.package not in offers:
            sizes = ", ".join(dict.fromkeys(a.exact() for a in offers))
            yield check(
                "price-unused", (price.product,), f"the price of {price.package.exact()} of {name} is of no use: its packages hold {sizes}",
                price.span, f"Write package as one of these, or say that there is such a size: “{name.capitalize()} comes in ...”",
            )  # fmt: skip
