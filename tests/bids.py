"""From a job, price lists and production rates in plain text to a bid, as the command line goes about it."""

from __future__ import annotations

from functools import cache, lru_cache

from darby.bid.bidding import make_bid
from darby.bid.model import Bid
from darby.bid.papers import Papers
from darby.bid.prices.meaning import Meanings
from darby.bid.terms import read_terms
from darby.estimate.line_item import LineItem
from darby.job.loader import load
from darby.labor.rate_lines import RateLine, read_rates, vocabulary
from darby.labor.task import Operation
from darby.pipeline import estimate
from darby.plugin_host.loader import load_plugins
from darby.plugin_host.model import Plugins
from darby.quantities.amounts import Amount
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.read import Language
from darby.rules.rule import SPECIFICATION
from darby.text.diagnostics import Diagnostic, is_error
from darby.text.spans import Source

ROOM = """
[[rooms]]
name = "Net loft"
length = "20 ft"
width = "10 ft"
height = "8 ft"
"""
"""480 sq ft of walls, 200 sq ft of ceiling."""


@cache
def plugins() -> Plugins:
    return load_plugins()


@cache
def lexicon() -> Lexicon:
    return Lexicon.of(plugins().vocabularies)


@cache
def meanings(units: str = "us") -> Meanings:
    return Meanings(lexicon(), units)


@cache
def _language() -> Language:
    return Language.of(plugins().readers, plugins().vocabularies)


@lru_cache(64)
def bidding(
    terms: str,
    job: str = ROOM,
    *,
    prices: str = "",
    labor: str = "",
    specification: str = "",
    rules: str = "",
    units: str = "us",
) -> tuple[Bid | None, tuple[Diagnostic, ...]]:
    """A bid and what is said of it, made once of the same papers: it is frozen. `terms` is what stands under [bid], `prices` a list called `harbor.csv`."""
    head = f'name = "test"\nunits = "{units}"\n{f"rules = [{rules}]" if rules else ""}\n'
    source = Source("job.toml", f"{head}{job}\n[bid]\n{terms}")
    work, found = load(source, {key for p in plugins().trades for key in p.trade.marks})
    assert work is not None, found
    papers = [(Source("spec.txt", specification), SPECIFICATION)] if specification else []
    made = estimate(work, papers, plugins(), _language())
    said, told = read_terms(source)
    if is_error(told):
        return None, told
    lists = (Source("harbor.csv", prices),) if prices else ()
    rates = (Source("labor.txt", labor),) if labor else ()
    bid, more = make_bid(made, plugins(), said, Papers(lists, rates))
    return bid, (*told, *more, *(bid.diagnostics if bid is not None else ()))


def bid_of(terms: str, job: str = ROOM, **papers: str) -> Bid:
    """The bid, where there is one."""
    made, told = bidding(terms, job, **papers)
    assert made is not None, [d.message for d in told]
    return made


def refused(terms: str, job: str = ROOM, **papers: str) -> list[tuple[str, str, str]]:
    """Code, text at the place and message of what is wrong, where no bid is made."""
    made, told = bidding(terms, job, **papers)
    assert made is None
    return [(d.code, d.span.text if d.span is not None else "", d.message) for d in told]


def rates(text: str, *operations: Operation) -> tuple[tuple[RateLine, ...], tuple[Diagnostic, ...]]:
    """Production rates, for these operations."""
    words = Lexicon.of((vocabulary(), *plugins().vocabularies))
    return read_rates(Source("labor.txt", text), {o.name: o for o in operations}, words)


def goods(product: str, need: str, package: str, container: str = "", **pool: str) -> LineItem:
    """A line of an order: so much of a product, in packages that hold so much."""
    held = Amount.read(package) if any(c.isalpha() for c in package) else Amount.of(int(package))
    wanted = Amount.read(need) if any(c.isalpha() for c in need) else Amount.of(int(need))
    rate = held / Amount.of(1, container) if container else held
    return LineItem(product, wanted, pool, rate, trade="t")


PRICES = """supplier,product,package,price,valid until,delivery
Harbor,"1/2 in. drywall 4x8",sheet,12.50,,45
Harbor,primer,1 gal can,21,2025-12-31,45
Dunes,primer,1 gal can,23,,
Dunes,joint tape,roll,4,,
"""
LABOR = "Hang gypsum board: 1.5 hours per 100 sq ft. [our jobs]\nApply primer: 1 hour per 100 sq ft.\nFinish joints: 1 hour per 100 sq ft, level 5.\n"
TERMS = """
currency = "USD"
date = 2026-03-02
valid = "60 days"
prices = ["harbor.csv"]
labor = ["labor.txt"]
allowances = ["Patching: 100."]
markups = ["Overhead: 10 % of everything above."]
includes = ["Cleaning up"]
excludes = ["Testing of old *paint*"]
wages = [{ trade = "board", wage = "30", burden = "40 %", crew = 2 }]
"""
JOB = """
[[rooms]]
name = "Hall"
phase = "1"
length = "20 ft"
width = "10 ft"
height = "8 ft"

[[rooms]]
name = "Loft"
phase = "2"
length = "10 ft"
width = "10 ft"
height = "8 ft"
"""
"""Two rooms, of which some goods and some work have no price, and one price holds no more."""


@cache
def made() -> Bid:
    return bid_of(TERMS, JOB, prices=PRICES, labor=LABOR)
