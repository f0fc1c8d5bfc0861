"""Deeds with the terms of a bid: begun with its mark-ups, then prices, wages and production rates typed where they are lacking."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from attrs import define, evolve

from darby.bid.prices.money import is_code, money_of
from darby.bid.prices.own_list import listed_as, own_prices, price_in, with_price, written
from darby.desk.files.folder import RefusedError
from darby.desk.files.job_text import JobText
from darby.desk.files.uploads import looked_over
from darby.desk.panes.bid import OWN_PRICES, per_of
from darby.desk.panes.own_line import today
from darby.desk.writing import Form, Writing
from darby.documents.words import one_line
from darby.estimate.model import Estimate
from darby.text.diagnostics import is_error
from darby.text.spans import Source

PRICES = "prices"
"""What a file is that holds a supplier's prices, as the form for a file calls it."""
_SHARES = {
    "tax": "Sales tax: {} % of material.",
    "overhead": "Overhead: {} % of everything above.",
    "profit": "Profit: {} % of everything above.",
}
_LINES = ("markups", "rates", "allowances", "excludes")
"""Lists of the terms that a line can be put into, and taken out of."""
_NUMBER = re.compile(r"\d{1,6}(?:\.\d{1,4})?")


@define(eq=False)
class Terms(Writing):
    """What is said of money, written under `[bid]` of the job file and into a price list of one's own."""

    def bid_begin(self, form: Form) -> str:
        """The terms begun: currency, date, and the usual mark-ups."""
        code = one_line(form.get("currency", "")).upper()
        if not is_code(code):
            raise RefusedError("Say the currency by its three letters: USD, CAD, EUR, GBP.")
        text = self.job_text().with_value(code, "bid", "currency")
        for key in ("date", "valid"):
            if said := one_line(form.get(key, "")):
                text = text.with_value(said, "bid", key)
        for key, line in _SHARES.items():
            if said := _number(form.get(key, "").replace("%", ""), "a share of a hundred"):
                text = text.with_item(line.format(said), "bid", "markups")
        self._look_at(text)
        self.job_becomes("beginning the bid", text)
        return "The bid is begun. What it lacks stands below the order: type the prices, wages and hours that you know."

    def bid_write(self, form: Form) -> str:
        """Prices, wages and production rates as they were typed; what was left empty stays as it is."""
        now = self._now()
        text, files, done = self.job_text(), dict[str, bytes | None](), list[str]()
        rows = own_prices(self.bench.folder.text(OWN_PRICES))
        before = list(rows)
        for name, said in _typed(form, "price"):
            rows = self._priced(now, rows, name, said)
        if rows != before:
            files[OWN_PRICES] = written(rows).encode()
            if OWN_PRICES not in text.items("bid", "prices"):
                text = text.with_item(OWN_PRICES, "bid", "prices")
            done.append("prices")
        for trade, said in _typed(form, "wage"):
            wanted = _paid(said, form.get(f"burden:{trade}", ""))
            if wanted and wanted != _row_of(text, trade)[1]:
                text = _with_wage(text, trade, wanted)
                done.append(f"the wage of {trade}")
        for operation, said in _typed(form, "rate"):
            if hours := _number(said, "hours, as 1.5"):
                per = per_of(form.get(f"per:{operation}", ""))
                text = text.with_item(
                    f"{operation.capitalize()}: {hours} hours {per}. [own figure, {today()}]", "bid", "rates"
                )
                done.append(f"the rate of {operation}")
        if not done:
            raise RefusedError("Nothing was typed that the bid does not have already.")
        if OWN_PRICES not in files:  # else the list is not there yet, and the bid says what is wrong with it
            self._look_at(text)
        stamps = {self.bench.folder.job: text.stamp, **{name: self.bench.folder.stamp(name) for name in files}}
        self.change(f"{', '.join(done)} of the bid", {**files, self.bench.folder.job: text.text.encode()}, stamps)
        return f"Written into the bid: {', '.join(done)}."

    def bid_line(self, form: Form) -> str:
        """A line put into one of the lists of the terms."""
        key, line = form.get("list", ""), one_line(form.get("line", ""))
        if key not in _LINES or not line:
            raise RefusedError("Write the line first, as “Boat to the pier: 380.”")
        text = self.job_text().with_item(line, "bid", key)
        self._look_at(text)
        self.job_becomes(f"the line “{line[:60]}”", text)
        return f"“{line[:100]}” was written into the bid."

    def bid_line_remove(self, form: Form) -> str:
        """A line of the terms taken out."""
        key = form.get("list", "")
        if key not in (*_LINES, PRICES):
            raise RefusedError("There is no such list.")
        self.take_out(form, "bid", key)
        return "It was taken out of the bid."

    def price_list(self, name: str, data: bytes) -> str:
        """A supplier's price list put beside the job, and named in the bid."""
        safe = self.free_name(name.replace("\\", "/").rpartition("/")[2], "prices.csv")
        looked_over(data, safe, table=True)
        job = self.job_text().with_item(safe, "bid", "prices")
        files = {safe: data, self.bench.folder.job: job.text.encode()}
        self.change(f"the prices {safe}", files, {safe: "", self.bench.folder.job: job.stamp})
        return f"{safe} was put beside the job, and the bid takes its prices from there."

    def _priced(self, now: Estimate, rows: list[dict[str, str]], name: str, said: str) -> list[dict[str, str]]:
        """The price list with what was typed for one line of the order."""
        goods = next((listed_as(item) for item in now.items if item.id == name), {})
        if not goods:
            raise RefusedError("That line is no longer ordered. Look at the order as it is now.")
        price = _money(said) if said else ""
        return with_price(rows, goods, price) if price != price_in(rows, goods) else rows

    def _now(self) -> Estimate:
        now = self.bench.look().estimate
        if now is None:
            raise RefusedError("The job cannot be worked out as it stands, so nothing can be priced yet.")
        return now

    def _look_at(self, text: JobText) -> None:
        """Refuses terms of which the bid would say that they are wrong."""
        now, make = self.bench.look().estimate, self.bench.bid
        if now is None or make is None:
            return
        job = evolve(now.job, source=Source(now.job.source.name, text.text))
        _, found = make(evolve(now, job=job))
        if is_error(found):
            wrong = next(d for d in found if is_error((d,)))
            raise RefusedError(one_line(f"Not written: {wrong.message.rstrip('.')}. {wrong.help}"))


def _typed(form: Form, kind: str) -> Iterator[tuple[str, str]]:
    """The fields of one kind, each with the name of what it is of: `price:` and the id of a line."""
    fields: Mapping[str, str] = form
    for field, said in fields.items():
        head, _, name = field.partition(":")
        if head == kind and name:
            yield one_line(name)[:200], one_line(said)


def _paid(wage: str, burden: str) -> dict[str, str]:
    """What an hour of a trade costs, as it was typed; nothing where no wage was."""
    over = _number(burden.replace("%", ""), "a share of a hundred")
    if not wage:
        return {}
    return {"wage": _money(wage), **({"burden": f"{over} %"} if over else {})}


def _row_of(text: JobText, trade: str) -> tuple[int, dict[str, str]]:
    """Where the wage of a trade stands, and what it is; behind all others where there is none."""
    rows = text.rows("bid.wages")
    at = next((n for n, row in enumerate(rows) if row.get("trade") == trade), len(rows))
    said = rows[at] if at < len(rows) else {}
    return at, {key: str(said[key]) for key in ("wage", "burden") if key in said}


def _with_wage(text: JobText, trade: str, wanted: dict[str, str]) -> JobText:
    at, known = _row_of(text, trade)
    if not known:
        return text.with_rows("bid.wages", [{"trade": trade, **wanted}])
    for key in ("wage", "burden"):
        if wanted.get(key, "") != known.get(key, ""):
            text = text.with_value(wanted.get(key, ""), "bid", "wages", at, key)
    return text


def _money(said: str) -> str:
    found = money_of(said)
    if found is None or found[0] <= 0 or found[1]:
        raise RefusedError(f"“{said[:40]}” is no sum of money. Write it as 18.40.")
    return one_line(said).lstrip("$€£ ").replace(",", "")


def _number(said: str, what: str) -> str:
    """A number as it was typed, or nothing."""
    said = one_line(said).strip()
    if said and not _NUMBER.fullmatch(said):
        raise RefusedError(f"“{said[:40]}” is no number: {what} is wanted.")
    return said
