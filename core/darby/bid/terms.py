"""The terms of a bid: what the table [bid] of a job file says of money, each with its place."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date
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
    "currency date valid supplier prices labor wages markups allowances minimum includes excludes take".split()
)  # fmt: skip
"""What may stand in the table; `take` is read with the job, since it changes what is ordered."""
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


@frozen(eq=False)
class Terms:
    """All that [bid] says."""

    currency: Currency = NO_CURRENCY
    today: date | None = None
    """The date of the bid; prices are found expired by it and by no clock."""
    valid: str = ""
    """How long the bid stands, as it is written: `60 days`."""
    supplier: str = ""
    """Who all is bought from; nothing where each line goes where the order is cheapest."""
    prices: tuple[Said, ...] = ()
    labor: tuple[Said, ...] = ()
    wages: tuple[Wage, ...] = ()
    markups: tuple[Said, ...] = ()
    allowances: tuple[Said, ...] = ()
    minimum: Fraction = Fraction(0)
    """The least that a job is done for."""
    includes: tuple[str, ...] = ()
    excludes: tuple[str, ...] = ()
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
    includes, excludes = (tuple(text for text, _ in table.texts(key)) for key in ("includes", "excludes"))
    return Terms(
        _currency(table), _date(table), _valid(table), table.text("supplier"), table.texts("prices"), table.texts("labor"), wages,
        table.texts("markups"), table.texts("allowances"), _money(table, "minimum") or Fraction(0), includes, excludes,
        stated=True,
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
        _wrong(row, key, f"{key} of {row.what} is no sum of money above zero", f'Write {key} = "31.50", in quotes.')
        return None
    return found[0]


def _wrong(table: Table, key: str, message: str, help: str) -> None:
    table.sheet.say("bid-terms", table.span(key), message, help)
