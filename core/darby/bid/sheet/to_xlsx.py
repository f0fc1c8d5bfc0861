"""The bid as a workbook with live formulas: change a price, a rate, a wage or a share, and the price follows.

Sheets: the bid from cost to price, the material, the labor, the wages, the places, what is open, and what is priced beside the bid. What is ordered, which rate holds and
who is bought from stays as Darby settled it. A sum is first rounded to eight decimals, finer than any coin and coarser than what
a spreadsheet's binary numbers may be off, and then to the coin, as the bid itself is.
"""

from __future__ import annotations

import io
from collections.abc import Mapping
from fractions import Fraction

from darby.bid.markups import ALLOWANCES, DELIVERIES, LABOR, MATERIAL
from darby.bid.model import Bid, LaborLine
from darby.bid.sheet.bid_sheet import ROUNDING
from darby.documents.words import name_of, one_line, place
from darby.documents.workbook.sheets import Fonts, Page, styles
from darby.labor.hours import told

_BID = ("Line", "Reckoned as", "Share", "Taken of", "Sum")
_MATERIAL = ("Goods", "Bought", "Package", "Each", "Sum", "From")
_LABOR = ("Task", "Measured", "Unit", "Hours for one", "Hours", "An hour with burden", "Sum", "Rate")
_WAGES = ("Trade", "An hour", "Burden", "With burden", "Hours", "Crew", "Hours a day", "Days")
_PLACES = ("By", "Place", "Material", "Labor", "Price")
_BESIDE = ("Sort", "Name", "What", "Sum")
_OPEN = ("Sort", "Hangs on it", "What")
_SAYS = (
    "Change a cell with a filled background on the sheets Material, Labor, Wages and Bid, and the price follows. "
    + ROUNDING
)


def make(bid: Bid) -> bytes:
    """The workbook as a file."""
    from datetime import datetime  # noqa: PLC0415

    from xlsxwriter import Workbook  # noqa: PLC0415 - dear, and wanted by nobody else

    stream = io.BytesIO()
    options = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False}
    book = Workbook(stream, options)
    book.set_properties({"title": one_line(bid.estimate.job.name)[:200], "created": datetime(1980, 1, 1)})
    looks: Fonts = styles(book)
    front, material, labor, wages, places, open_ = (
        Page(book, name, looks) for name in ("Bid", "Material", "Labor", "Wages", "Places", "Open")
    )
    open_.widest = 90
    us = bid.estimate.job.units == "us"
    cost = _write_wages(wages, bid, us=us)
    sums = {MATERIAL: _write_material(material, bid, us=us), LABOR: _write_labor(labor, bid, cost, us=us)}
    _write_bid(front, bid, sums, us=us)
    _write_places(places, bid, us=us)
    _write_open(open_, bid, us=us)
    if bid.alternates or bid.unit_prices or bid.ways:
        beside = Page(book, "Beside the bid", looks)
        _write_beside(beside, bid, us=us)
        beside.finish(_BESIDE)
    heads = ((front, _BID), (material, _MATERIAL), (labor, _LABOR), (wages, _WAGES), (places, _PLACES), (open_, _OPEN))
    for page, head in heads:
        page.finish(head)
    book.close()
    return stream.getvalue()


def _rounded(formula: str, bid: Bid) -> str:
    return f"ROUND(ROUND({formula},8),{bid.terms.currency.places})"


def _write_material(page: Page, bid: Bid, *, us: bool) -> str:
    """The goods; gives the cell of their sum."""
    page.start(
        "Material", "A price and how many packages are bought can be changed.", _MATERIAL, us=us, right=(1, 3, 4)
    )
    first = page.row
    for line in bid.material:
        offer = line.offer
        page.text(0, name_of(line.goods.item))
        bought = page.number(1, offer.bought if offer is not None else line.goods.item.count, "input")
        page.text(2, line.goods.item.container)
        each = page.number(3, offer.each if offer is not None else None, "input")
        page.formula(4, f"={_rounded(f'{bought}*{each}', bid)}", Fraction(offer.sum) if offer is not None else 0)
        page.text(5, f"{offer.row.supplier}, {place(offer.row.span)}" if offer is not None else "no price", "soft")
        page.row += 1
    return _sum_of(page, 4, first, bid, MATERIAL)


def _sum_of(page: Page, column: int, first: int, bid: Bid, name: str) -> str:
    page.text(0, name.capitalize(), "part")
    letter = chr(ord("A") + column)
    formula = f"=SUM({letter}{first + 1}:{letter}{page.row})" if page.row > first else "=0"
    page.formula(column, formula, Fraction(bid.direct[name]))
    address = page.address(column)
    page.row += 1
    return address


def _write_wages(page: Page, bid: Bid, *, us: bool) -> Mapping[int, str]:
    """The wages; gives for each the cell of an hour with its burden."""
    page.start("Wages", "An hour and its burden can be changed.", _WAGES, us=us, right=(1, 2, 3, 4, 5, 6, 7))
    found: dict[int, str] = {}
    crews = {id(crew.wage): crew for crew in bid.crews}
    for wage in bid.terms.wages:
        page.text(0, wage.trade)
        hour, burden = page.number(1, wage.wage, "input"), page.number(2, wage.burden, "input")
        page.formula(3, f"={hour}*(1+{burden})", wage.cost, "linked")
        found[id(wage)] = page.address(3)
        crew = crews.get(id(wage))
        page.number(4, crew.hours.value if crew is not None else 0)
        page.number(5, wage.crew)
        page.number(6, wage.hours)
        page.number(7, crew.days if crew is not None else None)
        page.row += 1
    return found


def _write_labor(page: Page, bid: Bid, cost: Mapping[int, str], *, us: bool) -> str:
    """The work, a row for each band of heights; gives the cell of its sum."""
    page.start("Labor", "A rate and a measure can be changed.", _LABOR, us=us, right=(1, 3, 4, 5, 6))
    first = page.row
    for line in bid.labor:
        _write_work(page, line, bid, cost)
    return _sum_of(page, 6, first, bid, LABOR)


def _write_work(page: Page, line: LaborLine, bid: Bid, cost: Mapping[int, str]) -> None:
    hours: list[str] = []
    for number, part in enumerate(line.hours.parts):
        page.text(0, told(line.hours.work) + (f", {part.band}" if part.band else ""))
        amount = page.number(1, part.amount.value, "input")
        page.text(2, part.amount.unit.name)
        each = page.number(3, part.rate.rate.value * _scale(line, number) if part.rate is not None else None, "input")
        worked = part.amount.value * part.rate.rate.value * _scale(line, number) if part.rate is not None else 0
        hours.append(page.formula(4, f"={amount}*{each}", worked, "linked"))
        page.text(7, part.rate.text if part.rate is not None else "no rate", "soft")
        if number < len(line.hours.parts) - 1:
            page.row += 1
    if line.wage is not None and line.sum is not None:
        wage = page.formula(5, f"={cost[id(line.wage)]}", line.wage.cost, "linked")
        worked_by = "+".join(hours)
        page.formula(6, f"={_rounded(f'({worked_by})*{wage}', bid)}", Fraction(line.sum))
    else:
        page.text(5, "no wage" if line.wage is None else "")
        page.number(6, 0)
    page.row += 1


def _scale(line: LaborLine, number: int) -> Fraction:
    """Hours for one of the unit that the work is shown in, where the rate is told over another."""
    part = line.hours.parts[number]
    if part.rate is None or not part.amount:
        return Fraction(1)
    hours = (part.amount * part.rate.rate).size
    return hours / (part.amount.value * part.rate.rate.value)


def _write_bid(page: Page, bid: Bid, sums: Mapping[str, str], *, us: bool) -> None:
    page.start(f"Bid: {one_line(bid.estimate.job.name) or 'unnamed job'}", _SAYS, _BID, us=us, right=(2, 3, 4))
    cells: dict[str, str] = {}
    lines: dict[str, list[tuple[str, Fraction]]] = {
        MATERIAL: [],
        DELIVERIES: [(name, Fraction(fee)) for name, fee in bid.basket.deliveries.items()],
        LABOR: [],
        ALLOWANCES: [(one.label, Fraction(one.sum)) for one in bid.allowances],
    }
    for name, parts in lines.items():
        for label, value in parts:
            page.text(0, label)
            page.text(1, name, "soft")
            cells.setdefault(name, "")
            cells[name] += ("+" if cells[name] else "") + page.number(3, value, "input")
            page.row += 1
    for name, sum_ in bid.direct.items():
        page.text(0, name.capitalize())
        page.text(1, "cost")
        cells[name] = page.formula(4, f"={sums.get(name) or cells.get(name) or 0}", Fraction(sum_))
        page.row += 1
    for added in bid.added:
        page.text(0, added.label)
        page.text(1, added.said, "soft")
        if added.share is None:
            own = page.number(3, Fraction(added.sum), "input")
            page.formula(4, f"={own}", Fraction(added.sum))
        else:
            share = page.number(2, added.share, "input")
            base = page.formula(3, f"={'+'.join(cells[name] for name in added.of)}", Fraction(added.base or 0))
            page.formula(4, f"={_rounded(f'{share}*{base}', bid)}", Fraction(added.sum))
        cells[added.label.casefold()] = page.here(4)
        page.row += 1
    page.text(0, "Price", "part")
    page.text(1, bid.terms.currency.code)
    page.formula(4, f"={'+'.join(cells.values())}", Fraction(bid.total))
    page.named(4, "Price")
    page.row += 1


def _write_places(page: Page, bid: Bid, *, us: bool) -> None:
    page.start("Places", "As bid; these do not follow changes.", _PLACES, us=us, right=(2, 3, 4))
    for by, lines in (("trade", bid.trades), ("room", bid.rooms), ("floor", bid.floors), ("phase", bid.phases)):
        for line in lines:
            page.text(0, by)
            page.text(1, line.name or "elsewhere")
            for column, value in ((2, line.material), (3, line.labor), (4, line.price)):
                page.number(column, Fraction(value), "number")
            page.row += 1


def _write_beside(page: Page, bid: Bid, *, us: bool) -> None:
    page.start("Beside the bid", "As calculated; these do not follow changes.", _BESIDE, us=us, right=(3,))
    rows = [
        *(("alternate, in the price" if a.taken else "alternate", a.name, a.title, a.sum) for a in bid.alternates),
        *(("unit price", one.name, f"{one.what}, {one.per}", one.sum) for one in bid.unit_prices),
        *(("another way", way.name, "the whole price", way.bid.total) for way in bid.ways),
    ]
    for sort, name, what, sum_ in rows:
        page.text(0, sort)
        page.text(1, name)
        page.text(2, what)
        page.number(3, Fraction(sum_) if sum_ is not None else None, "number")
        page.row += 1


def _write_open(page: Page, bid: Bid, *, us: bool) -> None:
    page.start("Open", "What the bid rests on, and what is not in it.", _OPEN, us=us, right=(1,))
    for one in bid.open:
        page.text(0, one.what)
        page.number(1, Fraction(one.sum) if one.sum is not None else None, "number")
        page.text(2, one.text)
        page.row += 1
