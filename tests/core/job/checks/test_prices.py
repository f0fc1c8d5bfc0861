"""Prices that no size can be chosen by."""

from __future__ import annotations

import pytest

from darby.job.checks.all import checks_of
from darby.quantities.amounts import Amount
from measures import job_of, wall

PACKAGES = {"primer": [Amount.read("1 gal"), Amount.read("5 gal")]}
PRICE = '[[prices]]\nproduct = "{}"\npackage = "{}"\nprice = "24"\n'


@pytest.mark.parametrize(
    ("product", "package", "said"),
    [
        ("primer", "5 gal", ""),
        ("Primer", "20 qt", ""),  # 5 gal; in capitals
        ("gypsum bord", "32 sq ft", "Did you mean gypsum board?"),
        ("marble", "1 each", "Write product as the order calls it."),
        ("primer", "3 gal", "Write package as one of these"),
        ("gypsum board", "32 sq ft", ""),  # no rule says how it is packed
    ],
)
def test_a_price_matches_a_product_and_a_size(product: str, package: str, said: str) -> None:
    job = job_of(wall("a") + PRICE.format(product, package))
    found = checks_of(job, {"primer", "gypsum board"}, PACKAGES)
    assert [d.code for d in found] == ["price-unused"] * bool(said)
    assert all(said in d.help for d in found)


def test_where_nobody_knows_the_products_nothing_is_said() -> None:
    assert not checks_of(job_of(wall("a") + PRICE.format("gypsum bord", "32 sq ft")))
