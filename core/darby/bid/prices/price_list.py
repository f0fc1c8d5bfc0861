"""Price lists: tables of a supplier's prices, a row for each package, as a spreadsheet saves them. Places are kept.

The first line names the columns: `product`, `package` and `price`, and of the others what there is: `supplier`, `currency`, `date`,
`valid until`, `minimum`, `delivery`, `from`, `number`, `note`. Any further column is a property of the goods, as `thickness` or `sheen`.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Hashable, Iterator, Mapping, Sequence
from datetime import date
from fractions import Fraction
from functools import cached_property
from pathlib import PurePath

from attrs import frozen

from darby.bid.prices.meaning import Meanings, Meant, Package
from darby.bid.prices.money import is_code, money_of
from darby.job.rows.sheet import shown
from darby.job.schedules.grid import Grid
from darby.quantities.gc_pause import in_bulk
from darby.text.diagnostics import Diagnostic, Label, Severity, problem
from darby.text.spans import Source, Span

NEEDED = ("product", "package", "price")
OWN = (*NEEDED, *"supplier currency date valid_until minimum delivery from number note".split())
"""The columns that every list has or may have; others are properties of goods."""
_NOTHING = Fraction(0)
_MOST = 1_000_000
_TOLD = 40
"""Mistakes of one kind that a list is told of one by one; the rest is counted."""
_PRICE_HELP = "Write the price of one package as a plain number above zero, with a point before the cents: 18.40."


@frozen(eq=False, slots=False)
class PriceRow:
    """What one supplier asks for one package of some goods."""

    supplier: str
    product: str
    named: Mapping[str, Meant]
    """What the goods are, by the column or the word that says so."""
    sizes: tuple[Meant, ...]
    """Sizes that the description gives without saying of what."""
    package: Package
    price: Fraction
    """Of one package; or of its measure, where the price is per so much."""
    span: Span
    dated: date | None = None
    valid_until: date | None = None
    minimum: int = 1
    """Fewest packages that are sold."""
    first: int = 1
    """Fewest packages for which this price holds."""
    delivery: Fraction = _NOTHING
    """What the supplier asks for a delivery; once for all that is bought there."""

    @cached_property
    def goods(self) -> Hashable:
        """What it is a price of, whoever asks it."""
        return (self.product, frozenset(self.named.items()), self.sizes, self.package.key)


@frozen(eq=False)
class PriceList:
    """The rows of one file, and what is to be said of it."""

    source: Source
    rows: tuple[PriceRow, ...] = ()
    currency: str = ""
    diagnostics: tuple[Diagnostic, ...] = ()


@in_bulk()
def read_prices(source: Source, meanings: Meanings, currency: str = "") -> PriceList:
    """The rows of a price list. `currency` is that of the bid; where it is not known, the first that the list names is taken."""
    return _Reader(source, meanings, currency).read()


class _Reader:
    def __init__(self, source: Source, meanings: Meanings, currency: str) -> None:
        self.source = source
        self.meanings = meanings
        self.currency = currency
        self.found: list[Diagnostic] = []
        self.counted: dict[str, int] = {}
        self.columns: dict[str, int] = {}
        self.parting = ","

    def read(self) -> PriceList:
        line = next((text for text in self.source.text.splitlines() if text.strip(" ,;\t")), "")
        self.parting = max(",;\t", key=line.count)
        head = [_key(cell) for cell in next(csv.reader([line], delimiter=self.parting), [])]
        missing = [name for name in NEEDED if name not in head]
        if missing:
            self._say(
                "price-list", self.source.span(0, len(self.source.line_text(1))),
                f"{self.source.name} has no column {' and no column '.join(missing)}",
                f"The first line names the columns: {', '.join(NEEDED)}, and of the others what there is.",
            )  # fmt: skip
            return PriceList(self.source, (), self.currency, tuple(self.found))
        rows = tuple(row for row in self._rows() if row is not None)
        self._tell_twice(rows)
        for code, count in self.counted.items():
            if count > _TOLD:
                said = f"{count - _TOLD} more rows of {self.source.name} have mistakes like these"
                self.found.append(problem(code, said, file=self.source.name, severity=Severity.WARNING))
        return PriceList(self.source, rows, self.currency, tuple(self.found))

    def _rows(self) -> Iterator[PriceRow | None]:
        text = self.source.text
        starts = self.source.line_starts
        reader = csv.reader(io.StringIO(text, newline=""), delimiter=self.parting)
        line = 0
        for number, cells in enumerate(reader):
            at, line = starts[min(line, len(starts) - 1)], reader.line_num
            if not self.columns:
                self.columns = {name: n for n, cell in enumerate(cells) if (name := _key(cell))}
                continue
            if number > _MOST or not any(map(str.strip, cells)):
                continue
            end = starts[line] if line < len(starts) else len(text)
            yield self._row(cells, Span(self.source, at, at + len(text[at:end].rstrip("\r\n"))))

    def _row(self, cells: Sequence[str], span: Span) -> PriceRow | None:
        said = {name: cells[n].strip() for name, n in self.columns.items() if n < len(cells) and cells[n].strip()}
        price = self._price(said, span)
        goods = self.meanings.goods(said.get("product", ""))
        package = self.meanings.package(said["package"]) if "package" in said else None
        if price is None:
            return None
        if not goods.product or goods.strange:
            why = (
                f"the words {', '.join(goods.strange)} are not known"
                if goods.strange and goods.product
                else "no goods of ours are named"
            )
            self._say(
                "price-goods", self._cell(span, "product"),
                f"what {shown(said.get('product', 'an empty cell'))} is cannot be told: {why}; the row is not used",
                "Name the goods as the order list does; what tells them apart may stand in columns of their own, as thickness or sheen.",
                warn=True,
            )  # fmt: skip
            return None
        if package is None:
            self._say(
                "price-list", self._cell(span, "package"),
                f"the package {shown(said['package'])} cannot be read" if "package" in said else "a price is for no package",
                'Write what one package is, as "64 lb pail", "box of 1,000", "sheet", "each" or "per 1,000 sq ft".',
            )  # fmt: skip
            return None
        named = {key: self.meanings.of(cell) for key, cell in said.items() if key not in OWN}
        valid, dated = (self._date(said, key, span) for key in ("valid_until", "date"))
        return PriceRow(
            said.get("supplier") or PurePath(self.source.name).stem, goods.product, {**goods.named, **named}, goods.sizes, package,
            price, span, dated, valid, self._count(said, "minimum", span), self._count(said, "from", span), self._fee(said, span),
        )  # fmt: skip

    def _price(self, said: Mapping[str, str], span: Span) -> Fraction | None:
        text = said.get("price", "")
        if not text:
            self._say(
                "price-missing", span, f"{shown(said.get('product', 'a row'))} has no price in {self.source.name}",
                "Ask the supplier; until then the row is not used.", warn=True,
            )  # fmt: skip
            return None
        money = money_of(text)
        if money is None or money[0] <= 0:
            why = "cannot be read" if money is None else "is not above zero"
            self._say("price-list", self._cell(span, "price"), f"the price {shown(text)} {why}", _PRICE_HELP)
            return None
        code = money[1] or said.get("currency", "").upper()
        if code and not is_code(code):
            self._say(
                "price-list",
                self._cell(span, "currency"),
                f"the currency {shown(code)} is no code of three letters",
                "Write USD.",
            )
            return None
        if code and self.currency and code != self.currency:
            self._say(
                "price-currency", self._cell(span, "currency" if "currency" in said else "price"),
                f"a price in {code}, and the bid is in {self.currency}",
                "A bid has one currency, and no rate of exchange is known here: give the list in that of the bid.",
            )  # fmt: skip
            return None
        self.currency = self.currency or code
        return money[0]

    def _fee(self, said: Mapping[str, str], span: Span) -> Fraction:
        if "delivery" not in said:
            return _NOTHING
        money = money_of(said["delivery"])
        if money is None or money[0] < 0:
            self._say(
                "price-list",
                self._cell(span, "delivery"),
                f"the delivery {shown(said['delivery'])} is no sum of money",
                "Write 45.00.",
            )
            return _NOTHING
        return money[0]

    def _count(self, said: Mapping[str, str], key: str, span: Span) -> int:
        if key not in said:
            return 1
        text = said[key].replace(",", "")
        if text.isascii() and text.isdigit() and 0 < len(text) < 9 and int(text):
            return int(text)
        self._say(
            "price-list", self._cell(span, key), f"{key} is {shown(text)}; it is a whole number of packages",
            "Write 10, or leave the cell empty.",
        )  # fmt: skip
        return 1

    def _date(self, said: Mapping[str, str], key: str, span: Span) -> date | None:
        text = said.get(key)
        if text is None:
            return None
        try:
            return date.fromisoformat(text)
        except ValueError:
            self._say(
                "price-list", self._cell(span, key), f"the date {shown(text)} cannot be read",
                "Write year, month and day: 2026-03-31. Other orders mean different days to different readers.",
            )  # fmt: skip
            return None

    def _tell_twice(self, rows: Sequence[PriceRow]) -> None:
        """Two prices of one date for one thing at one supplier."""
        first: dict[Hashable, PriceRow] = {}
        for row in rows:
            before = first.setdefault((row.supplier, row.goods, row.first, row.dated, row.valid_until), row)
            if before.price != row.price:
                self._say(
                    "price-twice", row.span, f"{row.supplier} has two prices for {row.product} in one package",
                    "Take one out, or give each its date: then the later one holds.", [Label(before.span, "the other one")],
                )  # fmt: skip

    def _cell(self, span: Span, key: str) -> Span:
        """The place of a cell of a row; of the row where it has none."""
        if key not in self.columns:
            return span
        return Grid(self.source, self.parting, self.columns, [span.start]).at((0, key)).value

    def _say(
        self, code: str, span: Span, message: str, help: str, more: Sequence[Label] = (), *, warn: bool = False
    ) -> None:
        self.counted[code] = self.counted.get(code, 0) + 1
        if self.counted[code] <= _TOLD:
            severity = Severity.WARNING if warn else Severity.ERROR
            self.found.append(problem(code, message, span, severity=severity, help=help, more=more))


def _key(cell: str) -> str:
    return "_".join(cell.strip().casefold().split())
