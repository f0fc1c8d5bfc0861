"""The terms of a bid: what the table [bid] of a job file says of money, each with its place."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Any

from attrs import frozen

from darby.bid.prices.money import Currency, is_code, money_of
from darby.job.rows.sheet import Sheet, shown
from darby.job.rows.toml_table import Table
from darby.quantities.numerals import value_of
from darby.text.diagnostics import Diagnostic
from darby.text.spans import Source, Span
from darby.text.toml_places import read_toml

KEYS = (
    "currency date valid supplier prices labor rates methods wages markups allowances minimum includes excludes take ways change unit_prices".split()
)  # fmt: skip
"""What may stand in the table; `take` is read with the job, since it changes what is ordered."""
_WAYS = "name lines rates methods supplier allowances take".split()
_CHANGE = "number date cause from to bought".split()
_MOST_WAYS = 12
_WAGE = "trade wage burden crew hours".split()
_PERCENT = re.compile(r"\s{0,4}(?P<number>[0-9.]{1,12})\s{0,4}(?:%|percent|per cent)\s{0,4}", re.IGNORECASE)

Said = tuple[str, Span]
"""A text of the job file and where it stands."""


NO_CURRENCY = Currency()


@frozen(eq=False)
class Wage:
    """What an hour of a trade costs, and who works it."""

    trade: str
    """The name of a trade, or of one of its operations, which is then paid otherwise."""
    wage: Fraction
    """An hour, before burden."""
    burden: Fraction
    """Share of the wage that comes on top: taxes, insurance, benefits."""
    span: Span
    crew: int | None = None
    """How many work at once; None where nobody says."""
    hours: Fraction = Fraction(8)
    """Hours of a day's work."""

    @property
    def cost(self) -> Fraction:
        """An hour with its burden."""
        return self.wage * (1 + self.burden)

    def paid(self, hours: Fraction, currency: Currency) -> Decimal:
        """What so many hours cost, in whole coins."""
        return currency.rounded(hours * self.cost)


@frozen(eq=False)
class Way:
    """One way of doing the work, to be held beside the bid: what is otherwise in it."""

    name: str
    span: Span
    lines: tuple[Said, ...] = ()
    """Plain lines that beat all others: sizes, waste, rates of use."""
    rates: tuple[Said, ...] = ()
    """Production rates that beat all others."""
    methods: tuple[Said, ...] = ()
    """As `Terms.methods`."""
    supplier: Said | None = None
    allowances: tuple[Said, ...] = ()
    """What it costs besides: masking, a lift."""
    take: tuple[Said, ...] = ()
    """Alternates that are taken with it."""


@frozen
class Change:
    """What the head of a change order says, as the job has it; texts that are not said are empty."""

    number: str = ""
    date: str = ""
    cause: str = ""
    sender: str = ""
    to: str = ""
    bought: tuple[Said, ...] = ()
    """Files that tell what is bought already."""


NO_HEAD = Change()
NOBODY: tuple[str, Span | None] = ("", None)


@frozen(eq=False)
class Terms:
    """All that [bid] says."""

    currency: Currency = NO_CURRENCY
    today: date | None = None
    """The date of the bid; prices are found expired by it and by no clock."""
    valid: str = ""
    """How long the bid stands, as it is written: `60 days`."""
    supplier: tuple[str, Span | None] = NOBODY
    """Who all is bought from; nothing where each line goes where the order is cheapest."""
    prices: tuple[Said, ...] = ()
    labor: tuple[Said, ...] = ()
    wages: tuple[Wage, ...] = ()
    rates: tuple[Said, ...] = ()
    """Production rates in the job file itself, which beat those of the files."""
    tried: tuple[Said, ...] = ()
    """Production rates of a way of doing the work, which beat these."""
    methods: tuple[Said, ...] = ()
    """How work is done, where there are rates for several methods: `Lay underlay by hand.`"""
    markups: tuple[Said, ...] = ()
    allowances: tuple[Said, ...] = ()
    minimum: Fraction = Fraction(0)
    """The least that a job is done for."""
    includes: tuple[str, ...] = ()
    excludes: tuple[str, ...] = ()
    ways: tuple[Way, ...] = ()
    change: Change = NO_HEAD
    unit_prices: tuple[Said, ...] = ()
    """What a unit price is to be told of, and per what: `W3: per sq ft.`"""
    stated: bool = False
    """Whether there is such a table at all."""


def read_terms(job: Source) -> tuple[Terms, tuple[Diagnostic, ...]]:
    """The terms that a job file states, and what is wrong with them. The rest of the file is others' to look at."""
    data, places, _ = read_toml(job)
    said = (data or {}).get("bid")
    if not isinstance(said, dict):
        return Terms(), ()
    sheet = Sheet(places)
    return _terms(Table.of(sheet, ("bid",), said, what="[bid]", keys=KEYS)), tuple(sheet.found)


def _terms(table: Table) -> Terms:
    wages = tuple(w for path, row in table.tables("wages") if (w := _wage(table, path, row)) is not None)
    ways = tuple(one for path, row in table.tables("ways") if (one := _way(table, path, row)) is not None)
    _tell_ways(table, ways)
    includes, excludes = (tuple(text for text, _ in table.texts(key)) for key in ("includes", "excludes"))
    return Terms(
        _currency(table), _date(table), _valid(table), _supplier(table) or NOBODY, table.texts("prices"), table.texts("labor"), wages,
        table.texts("rates"), (), table.texts("methods"), table.texts("markups"), table.texts("allowances"),
        _money(table, "minimum") or Fraction(0), includes, excludes, ways, _change(table), table.texts("unit_prices"), stated=True,
    )  # fmt: skip


def _currency(table: Table) -> Currency:
    code = table.text("currency")
    if code and not is_code(code):
        _wrong(table, "currency", f"the currency {shown(code)} is no code of three letters", 'Write currency = "USD".')
        return Currency()
    return Currency(code)


def _date(table: Table) -> date | None:
    said = table.value("date")
    if type(said) is date:
        return said
    if isinstance(said, str):
        try:
            return date.fromisoformat(said.strip())
        except ValueError:
            pass
    if said is not None:
        _wrong(
            table, "date", f"the date {shown(str(said))} cannot be read", "Write date = 2026-03-02: year, month, day."
        )
    return None


def _valid(table: Table) -> str:
    said = table.value("valid")
    return said.isoformat() if type(said) is date else table.text("valid")


def _supplier(table: Table) -> Said | None:
    name = table.text("supplier")
    return (name, table.span("supplier")) if name else None


def _way(top: Table, path: tuple[str | int, ...], data: Mapping[str, Any]) -> Way | None:
    name = data.get("name")
    what = f"the way {shown(name)}" if isinstance(name, str) else "this way"
    row = Table.of(top.sheet, path, data, what=what, keys=_WAYS)
    called = row.text("name", 'Write name = "...", a few words that tell it from the others.')
    lines, rates, methods, allowances, take = (
        row.texts(key) for key in ("lines", "rates", "methods", "allowances", "take")
    )
    way = Way(
        called, row.span("name") if called else row.span(), lines, rates, methods, _supplier(row), allowances, take
    )
    if called and not any((lines, rates, methods, way.supplier, allowances, take)):
        help_ = f"Say what is otherwise in it: {', '.join(key for key in _WAYS if key != 'name')}."
        top.sheet.say("bid-terms", way.span, f"{row.what} says nothing that is otherwise than in the bid", help_)
    return way if called else None


def _tell_ways(table: Table, ways: tuple[Way, ...]) -> None:
    if len(ways) > _MOST_WAYS:
        table.sheet.say(
            "bid-terms", ways[_MOST_WAYS].span, f"more than {_MOST_WAYS} ways stand in the bid",
            "Each is a whole estimate, and so many cannot be read beside each other: take some out.",
        )  # fmt: skip
    first: dict[str, Way] = {}
    for way in ways:
        if first.setdefault(way.name.casefold(), way) is not way:
            table.sheet.say("bid-terms", way.span, f"two ways are called {shown(way.name)}", "Give each its own name.")


def _change(top: Table) -> Change:
    said = top.table("change")
    if said is None:
        return Change()
    row = Table.of(top.sheet, top.way("change"), said, what="[bid.change]", keys=_CHANGE)
    number, day = row.value("number"), row.value("date")
    return Change(
        str(number) if type(number) is int else row.text("number"), day.isoformat() if type(day) is date else row.text("date"),
        row.text("cause"), row.text("from"), row.text("to"), row.texts("bought"),
    )  # fmt: skip


def _wage(top: Table, path: tuple[str | int, ...], data: Mapping[str, Any]) -> Wage | None:
    name = data.get("trade")
    row = Table.of(
        top.sheet, path, data, what=f"the wage of {shown(name)}" if isinstance(name, str) else "this wage", keys=_WAGE
    )
    trade = row.text("trade", 'Write trade = "...", a trade or one of its operations; `darby trades` lists them.')
    if "wage" not in row:
        row.missing("wage", 'Write wage = "31.50", what an hour is paid before burden.')
    wage, burden = _money(row, "wage"), share_of(row, "burden")
    crew, hours = row.value("crew"), row.value("hours")
    if crew is not None and (not isinstance(crew, int) or isinstance(crew, bool) or not 0 < crew < 1000):
        _wrong(row, "crew", "crew is a whole number of people above zero", "Write crew = 2.")
        crew = None
    day = value_of(hours.strip()) if isinstance(hours, str) else hours
    if day is None or isinstance(day, bool) or not isinstance(day, (int, Fraction)) or not 0 < day <= 24:
        if hours is not None:
            _wrong(
                row,
                "hours",
                "hours are those of a day's work, above 0 and no more than 24",
                'Write hours = 8, or "7.5".',
            )
        day = 8
    if not trade or wage is None:
        return None
    return Wage(trade, wage, burden, row.span("trade"), crew, Fraction(day))


def share_of(row: Table, key: str) -> Fraction:
    """A share as `38 %`; nothing where it is not said or wrong."""
    said = row.value(key)
    if said is None:
        return Fraction(0)
    match = _PERCENT.fullmatch(said) if isinstance(said, str) else None
    number = value_of(match["number"]) if match else None
    if number is None or number < 0:
        _wrong(row, key, f"{key} of {row.what} is no share", f'Write {key} = "38 %".')
        return Fraction(0)
    return number / 100


def _money(row: Table, key: str) -> Fraction | None:
    """A sum above zero, in quotes where it has cents."""
    said = row.value(key)
    if said is None:
        return None
    found = money_of(said) if isinstance(said, str) else (Fraction(said), "") if type(said) is int else None
    if found is None or found[0] <= 0:
        what = row.what if row.what.startswith(f"the {key} of ") else f"{key} of {row.what}"
        _wrong(row, key, f"{what} is no sum of money above zero", f'Write {key} = "31.50", in quotes.')
        return None
    return found[0]


def _wrong(table: Table, key: str, message: str, help: str) -> None:
    table.sheet.say("bid-terms", table.span(key), message, help)
