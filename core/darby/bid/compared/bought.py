"""What is bought already, as a table beside the job tells it: a row for each package, with how many, and what part of it can go back.

The first line names the columns: `product`, `package`, `bought`, and of the others what there is: `taken back` (the part of its price
that the supplier pays for what comes back: `85 %`), `supplier`, `number`, `note`. Any further column is a property of the goods.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from decimal import Decimal
from fractions import Fraction

from attrs import frozen

from darby.bid.model import Bid, MaterialLine
from darby.bid.prices.meaning import Meanings
from darby.bid.prices.price_list import PriceRow
from darby.bid.prices.pricing import of_item
from darby.bid.prices.table import GoodsTable, Said
from darby.documents.words import name_of
from darby.job.rows.sheet import shown
from darby.quantities.numerals import value_of
from darby.text.diagnostics import Diagnostic, Severity, problem
from darby.text.spans import Source, Span

NEEDED = ("product", "package", "bought")
OWN = (*NEEDED, *"taken_back supplier number note".split())
_SHARE = re.compile(r"(?P<number>[0-9]{1,3}(?:\.[0-9]{1,6})?)\s{0,4}%")


@frozen(eq=False)
class BoughtRow:
    """So many packages of some goods that are bought already."""

    goods: PriceRow
    count: int
    back: Fraction
    """What part of its price comes back for a package that is not needed."""


@frozen(eq=False)
class Kept:
    """Packages that the bid ordered, that are bought already, and that a change no longer needs."""

    line: MaterialLine
    """As the bid had it before the change."""
    bought: int
    """All that is bought of it."""
    count: int
    """How many of these are left over."""
    back: Fraction
    """What part of their price the supplier pays back."""
    sum: Decimal
    """What cannot be given back, which is therefore not deducted."""


def read_bought(sources: Iterable[Source], meanings: Meanings) -> tuple[tuple[BoughtRow, ...], tuple[Diagnostic, ...]]:
    """The rows of all files, and what is wrong with them."""
    rows: list[BoughtRow] = []
    found: list[Diagnostic] = []
    for source in sources:
        reader = _Reader(source, meanings, "bought-list")
        rows += reader.read()
        found += reader.told()
    return tuple(rows), tuple(found)


class _Reader(GoodsTable):
    def read(self) -> list[BoughtRow]:
        return [row for said, span in self.rows_with(NEEDED) if (row := self._row(said, span)) is not None]

    def _row(self, said: Said, span: Span) -> BoughtRow | None:
        goods, package = self.goods(said, span), self.package(said, span, "what is bought")
        if package is not None and package.per:
            self.say(
                self.cell(span, "package"), "what is bought is counted in packages", 'Write "sheet" or "64 lb pail".'
            )
            return None
        count = self.count(said, "bought", span, least=0)
        if "bought" not in said:
            self.say(
                span,
                f"how many of {shown(said.get('product', 'a row'))} are bought is not said",
                "Write a whole number.",
            )
        back = self._back(said, span)
        if goods is None or package is None or count is None:
            return None
        named = {key: self.meanings.of(cell) for key, cell in said.items() if key not in OWN}
        row = PriceRow("", goods.product, {**goods.named, **named}, goods.sizes, package, Fraction(0), span)
        return BoughtRow(row, count * package.many, back)

    def _back(self, said: Said, span: Span) -> Fraction:
        text = said.get("taken_back", "")
        match = _SHARE.fullmatch(text)
        number = value_of(match["number"]) if match is not None else None
        if text and (number is None or number > 100):
            self.say(
                self.cell(span, "taken_back"), f"the part that is taken back, {shown(text)}, is no share up to 100 %",
                "Write 85 %, or leave the cell empty where nothing comes back.",
            )  # fmt: skip
        return (number or Fraction(0)) / 100


def kept_of(
    before: Bid, after: Bid, rows: Sequence[BoughtRow], meanings: Meanings
) -> tuple[tuple[Kept, ...], tuple[Diagnostic, ...]]:
    """What is left over of what is bought, line by line, in the order of the bid; and the rows that are of nothing it ordered."""
    found: list[Kept] = []
    told: list[Diagnostic] = []
    mine: dict[str, list[BoughtRow]] = {}
    for row in rows:
        fits = [line.goods.item for line in before.material if of_item(row.goods, line.goods.item, meanings)]
        if len(fits) == 1:
            mine.setdefault(fits[0].id, []).append(row)
        else:
            told.append(_not_told(row, [name_of(item) for item in fits]))
    now = {line.goods.item.id: line.goods.item.count or 0 for line in after.material}
    for line in before.material:
        item = line.goods.item
        some = mine.get(item.id, [])
        bought = sum(row.count for row in some)
        left = min(bought, item.count or 0) - now.get(item.id, 0)
        if left <= 0 or line.offer is None:
            continue
        back = min(row.back for row in some)
        lost = before.terms.currency.rounded(line.offer.each * left * (1 - back))
        found.append(Kept(line, bought, left, back, lost))
    return tuple(found), tuple(told)


def _not_told(row: BoughtRow, fits: Sequence[str]) -> Diagnostic:
    """That a row is of nothing the bid ordered, or that it may be of several things."""
    span = row.goods.span
    if fits:
        message = f"this may be {' or '.join(fits)}, and is counted as neither"
        help_ = "Say which it is, in a column named for what tells them apart."
    else:
        message = f"bought, and not among what the bid ordered: {row.goods.product}"
        help_ = "It is not deducted and not added. Name it as the order list does, if it is the same."
    return problem("bought-list", message, span, severity=Severity.WARNING, help=help_)
