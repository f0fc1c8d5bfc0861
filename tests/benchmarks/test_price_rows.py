"""What 100,000 rows of a price list cost: `pytest -m slow tests/benchmarks/test_price_rows.py -s`.

Each list is read in the same run as what it is held against: one without a difference between its descriptions, and the same descriptions
only looked through for known words, each once, as all of them once were. Kept in `.benchmarks/ratios.jsonl`. Nothing here fails because
a machine was busy.
"""

from __future__ import annotations

import json
import time
from collections.abc import Callable

import pytest

from bids import lexicon
from checkout import ROOT
from darby.bid.prices.meaning import Meanings
from darby.bid.prices.price_list import read_prices
from darby.text.spans import Source

pytestmark = pytest.mark.slow

ROWS = 100_000
LISTS: dict[str, Callable[[int], str]] = {
    "of one description": lambda n: "1/2 in. drywall 4x8",
    "of sizes, nearly all different": lambda n: f"{n % 997 + 1}/64 in. drywall 4x{n % 101 + 8}",
    "of numbers, all different": lambda n: f"1/2 in. moisture resistant drywall 4x8, DW-{n:06}",
    "of the goods of others, but one in ten": lambda n: f"ladder {n}, steel" if n % 10 else f"{n} mil primer",
}


def listed(description: Callable[[int], str]) -> Source:
    rows = (f'S{n % 7},"{description(n)}",sheet,{10 + n % 90}.50' for n in range(ROWS))
    return Source("harbor.csv", "\n".join(("supplier,product,package,price", *rows)))


def seconds(work: Callable[[], object]) -> float:
    begun = time.process_time()
    work()
    return time.process_time() - begun


@pytest.mark.parametrize("what", LISTS)
def test_rows_against_rows_of_one_description_and_against_looking_through_each(what: str) -> None:
    plain, source = listed(LISTS["of one description"]), listed(LISTS[what])
    texts = {LISTS[what](n) for n in range(ROWS)}
    words = lexicon()
    words.tags("drywall")
    read = seconds(lambda: read_prices(source, Meanings(words, "us"), "USD"))
    least = seconds(lambda: read_prices(plain, Meanings(words, "us"), "USD"))
    each = seconds(lambda: [words.tags(text) for text in texts])
    print(
        f"\n{ROWS:,} rows {what}: {read:.2f} s = {read / least:.1f} of rows of one description (goal: 2.5 or less),"
        f" {read / each:.2f} of looking through {len(texts):,} descriptions"
    )
    kept_at = ROOT / ".benchmarks"
    kept_at.mkdir(exist_ok=True)
    with (kept_at / "ratios.jsonl").open("a", encoding="utf-8") as log:
        log.write(json.dumps({"name": f"price rows {what}", "seconds": [read, least, each]}) + "\n")
