"""Price lists: tables of a supplier's prices, a row for each package, as a spreadsheet saves them. Places are kept.

The first line names the columns: `product`, `package` and `price`, and of the others what there is: `supplier`, `currency`, `date`,
`valid until`, `minimum`, `delivery`, `from`, `number`, `note`. Any further column is a property of the goods, as `thickness` or `sheen`.
"""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from datetime import date
from fractions import Fraction
from functools import cached_property
from pathlib import PurePath

from attrs import frozen

from darby.bid.prices.descriptions import Meant
from darby.bid.prices.meaning import Meanings, Package
from darby.bid.prices.money import is_code, money_of
from darby.bid.prices.table import GoodsTable, Said
from darby.job.rows.sheet import shown
from darby.quantities.gc_pause import in_bulk
from darby.text.diagnostics import Diagnostic, Label
from darby.text.spans import Source, Span

NEEDED = ("product", "package", "price")
OWN = frozenset((*NEEDED, *"supplier currency date valid_until minimum delivery from number note".split()))
"""The columns that every list has or may have; others are properties of goods."""
_NOTHING = Fraction(0)
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
        """What it is a price of, whoever asks it: in whatever order it is told, in a column of its own or in the description."""
        return (self.product, tuple(sorted((*self.named.values(), *self.sizes))), self.package.key)


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


class _Reader(GoodsTable):
    def __init__(self, source: Source, meanings: Meanings, currency: str) -> None:
        super().__init__(source, meanings, "price-list")
        self.currency = currency

    def read(self) -> PriceList:
        rows = tuple(row for said, span in self.rows_with(NEEDED) if (row := self._row(said, span)) is not None)
        self._tell_twice(rows)
        return PriceList(self.source, rows, self.currency, self.told())

    def _row(self, said: Said, span: Span) -> PriceRow | None:
        price = self._price(said, span)
        if price is None or (goods := self.goods(said, span)) is None or (package := self.package(said, span)) is None:
            return None
        own = {key: self.meanings.of(cell) for key, cell in said.items() if key not in OWN}
        named = {**goods.named, **own} if own else goods.named
        valid, dated = (self.day(said, key, span) for key in ("valid_until", "date"))
        return PriceRow(
            said.get("supplier") or PurePath(self.source.name).stem, goods.product, named, goods.sizes, package,
            price, span, dated, valid, self.count(said, "minimum", span) or 1, self.count(said, "from", span) or 1,
            self._fee(said, span),
        )  # fmt: skip

    def _price(self, said: Said, span: Span) -> Fraction | None:
        text = said.get("price", "")
        if not text:
            self.say(
                span, f"{shown(said.get('product', 'a row'))} has no price in {self.source.name}",
                "Ask the supplier; until then the row is not used.", code="price-missing", warn=True,
            )  # fmt: skip
            return None
        money = money_of(text)
        if money is None or money[0] <= 0:
            why = "cannot be read" if money is None else "is not above zero"
            self.say(self.cell(span, "price"), f"the price {shown(text)} {why}", _PRICE_HELP, code="price-list")
            return None
        code = money[1] or said.get("currency", "").upper()
        if code and not is_code(code):
            self.say(
                self.cell(span, "currency"), f"the currency {shown(code)} is no code of three letters", "Write USD."
            )
            return None
        if code and self.currency and code != self.currency:
            self.say(
                self.cell(span, "currency" if "currency" in said else "price"),
                f"a price in {code}, and the bid is in {self.currency}",
                "A bid has one currency, and no rate of exchange is known here: give the list in that of the bid.",
                code="price-currency",
            )
            return None
        self.currency = self.currency or code
        return money[0]

    def _fee(self, said: Said, span: Span) -> Fraction:
        if "delivery" not in said:
            return _NOTHING
        money = money_of(said["delivery"])
        if money is None or money[0] < 0:
            where = self.cell(span, "delivery")
            self.say(where, f"the delivery {shown(said['delivery'])} is no sum of money", "Write 45.00.")
            return _NOTHING
        return money[0]

    def _tell_twice(self, rows: Sequence[PriceRow]) -> None:
        """Two prices of one date for one thing at one supplier."""
        first: dict[Hashable, PriceRow] = {}
        for row in rows:
            before = first.setdefault((row.supplier, row.goods, row.first, row.dated, row.valid_until), row)
            if before.price != row.price:
                self.say(
                    row.span, f"{row.supplier} has two prices for {row.product} in one package",
                    "Take one out, or give each its date: then the later one holds.", [Label(before.span, "the other one")],
                    code="price-twice",
                )  # fmt: skip
