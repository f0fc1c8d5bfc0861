"""The sections behind the price of a bid sheet: by trade and place, what is in it and what is not, alternates, open points, suppliers."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from darby.bid.model import Bid, PlaceLine, UnitPrice
from darby.documents.letters.prose import Block, Heading, Paragraph, Table, entries
from darby.documents.words import listed, name_of, one_line, packages, place
from darby.documents.words import places as places_of
from darby.estimate.working import Line, longhand
from darby.labor.hours import told
from darby.quantities.numerals import rounded
from darby.quantities.plurals import plural

_SHOWN_OPEN = 40


def places(bid: Bid) -> Iterator[Block]:
    """The price by trade, room, floor and phase, and what ordering phase by phase would cost."""
    for head, lines in (
        ("By trade", bid.trades),
        ("By room", bid.rooms),
        ("By floor", bid.floors),
        ("By phase", bid.phases),
    ):
        if len(lines) > 1 or (lines and head == "By trade"):
            yield Heading(head)
            yield _table(lines, bid, areas=head != "By trade")
    if bid.phase_orders:
        what = [
            f"{packages(one.material.goods.item, one.packages)} of {name_of(one.material.goods.item)}"
            for one in bid.phase_orders
        ]
        cost = bid.terms.currency.shown(bid.terms.currency.total(one.sum for one in bid.phase_orders))
        yield Paragraph(
            f"Orders are rounded up once, for the whole job. Ordered phase by phase it would be {listed(what)} more: {cost}."
        )


def _table(lines: Iterable[PlaceLine], bid: Bid, *, areas: bool) -> Table:
    money = bid.terms.currency.shown
    rows = []
    for line in lines:
        each = ""
        if line.area is not None and line.area:
            each = f"{money(bid.terms.currency.rounded(Fraction(line.price) / line.area.value))} per {line.area.unit}"
        rows.append(
            (
                one_line(line.name) or "elsewhere",
                money(line.material),
                money(line.labor),
                money(line.price),
                *([each] if areas else []),
            )
        )
    return Table(
        ("", "Material", "Labor", "Price", *(["Unit price"] if areas else [])),
        tuple(rows),
        frozenset({1, 2, 3, 4} if areas else {1, 2, 3}),
    )


def scope(bid: Bid) -> Iterator[Block]:
    """What is in the bid, and what is not."""
    yield Heading("Included")
    included = [
        *(f"{one_line(told(line.hours.work))}" for line in bid.labor if line.sum is not None),
        *map(one_line, bid.terms.includes),
    ]
    goods = dict.fromkeys(one_line(line.goods.item.product) for line in bid.material if line.offer is not None)
    yield entries([*([f"the goods: {', '.join(goods)}"] if goods else []), *dict.fromkeys(included)] or ["nothing"])
    yield Heading("Excluded")
    not_priced = (f"{name_of(line.goods.item)}, which has no price" for line in bid.material if line.offer is None)
    not_timed = (
        f"labor: {one_line(told(line.hours.work))}, for which there is no rate or wage"
        for line in bid.labor
        if line.sum is None or line.hours.missing
    )
    excluded = [
        *not_priced,
        *not_timed,
        *map(one_line, bid.terms.excludes),
        "work and material of other trades",
        "anything that only the drawings show",
    ]
    yield entries(dict.fromkeys(excluded))


def alternates(bid: Bid) -> Iterator[Block]:
    """What each alternate adds or takes, with the quantities behind it."""
    if not bid.alternates:
        return
    yield Heading("Alternates")
    money = bid.terms.currency.shown
    rows = []
    for one in bid.alternates:
        way = "not known" if one.sum is None else "add" if one.sum > 0 else "deduct" if one.sum < 0 else "no change"
        sum_ = "" if one.sum is None else money(abs(one.sum))
        rows.append((one.name, one_line(one.title), f"in the price: {way}" if one.taken else way, sum_))
    yield Table(("", "What", "", "Sum"), tuple(rows), frozenset({3}))
    details = []
    for one in bid.alternates:
        moved = [
            f"{line.name}: {so_many(line.was, line.unit)} without it, {so_many(line.now, line.unit)} with it"
            for line in one.moved
        ]
        lines = [Paragraph(f"{text}.") for text in moved] + [Paragraph(text, "Not in its sum") for text in one.open]
        details.append((Paragraph(f"{one.name} ({place(one.span)})" + (":" if lines else ": nothing moves.")), *lines))
    yield entries(details)
    yield Paragraph("Each is priced by itself against this bid; two that are taken together may share packages.")


def unit_prices(bid: Bid) -> Iterator[Block]:
    """The unit prices that the documents ask for and the terms name, with what is in each."""
    if not bid.unit_prices:
        return
    yield Heading("Unit prices asked for")
    money = bid.terms.currency.shown
    rows = [(one.name, one_line(one.what), one_line(one.per), _unit_sum(one, bid)) for one in bid.unit_prices]
    yield Table(("", "What", "", "Price"), tuple(rows), frozenset({3}))
    details = []
    for one in bid.unit_prices:
        lines = [
            Paragraph(f"{one_line(part.name)}: {so_many(part.many, part.unit)}, {money(part.sum)}.")
            for part in one.parts
            if part.sum is not None and part.many is not None
        ]
        lines += [Paragraph(f"{one_line(label)}: {money(sum_)}.") for label, sum_ in one.added]
        lines += [Paragraph(text, "Not in it" if one.sum is not None else "Why") for text in one.open]
        lines += [Paragraph(text, "To check") for text in one.doubts]
        if one.sum is not None:
            lines.append(Paragraph(f"{money(one.whole)}.", f"Over {one.over}"))
        if one.sum is not None and one.without:
            lines.append(Paragraph(f"{listed(map(one_line, one.without))}.", "Without the sums of"))
        what = one_line(f"{one.name}, {one.what}, {one.per}")
        details.append((Paragraph(f"{what} ({place(one.span)}):"), *lines))
    yield entries(details)
    yield Paragraph(
        "Goods are priced by what is used, parts of a package included, at the prices of this bid. What the order buys beyond that, since "
        "packages are whole, deliveries, allowances and sums put on top are in no unit price."
    )


def _unit_sum(one: UnitPrice, bid: Bid) -> str:
    if one.sum is None:
        return "not priced"
    partly = " (in part)" if any(part.sum is None for part in one.parts) else ""
    return bid.terms.currency.shown(one.sum) + partly


def so_many(value: Fraction, unit: str) -> str:
    """So many packages or hours: `3 pails`, `1 hour`."""
    return f"{rounded(value)} {unit if value == 1 else plural(unit)}".strip()


def open_points(bid: Bid) -> Iterator[Block]:
    """What is not in the bid or rests on something open, with its money; and what of the papers has no use here."""
    if not bid.open:
        return
    yield Heading("Open, and the money that hangs on it")
    money = bid.terms.currency.shown
    shown = bid.open[:_SHOWN_OPEN]
    rows = []
    for one in shown:
        hangs = "not in the price" if one.what == "missing" else money(one.sum) if one.sum is not None else "not known"
        rows.append(
            f"{hangs}: {one.text}"
            + (f" ({place(one.span)})" if one.span is not None and place(one.span) not in one.text else "")
        )
    yield entries(rows, numbered=True)
    if len(bid.open) > _SHOWN_OPEN:
        yield Paragraph(f"And {len(bid.open) - _SHOWN_OPEN} more; the JSON has them all.")
    idle = [f"“{one_line(rate.text)}”" for rate in bid.idle[:8]]
    if idle:
        yield Paragraph(
            f"{'; '.join(idle)}{' and more' if len(bid.idle) > 8 else ''}.", "Rates that nothing here takes up"
        )
    goods = dict.fromkeys(one_line(row.product) for row in bid.unmatched)
    if goods:
        yield Paragraph(f"{', '.join(list(goods)[:20])}.", "Prices of what is not ordered")


def working_of_hours(bid: Bid) -> Iterator[Block]:
    """Every hour from the measured rows and the rate that was given, step by step."""
    yield Heading("How the hours were worked out")
    known = [line for line in bid.labor if line.hours.hours is not None]
    for line in known:
        assert line.hours.hours is not None
        steps = (_step(step) for step in longhand(line.hours.hours, bid.estimate.rules))
        yield entries([(Paragraph(one_line(told(line.hours.work))), *map(Paragraph, steps))])
    if not known:
        yield Paragraph("None are known.")


def _step(step: Line) -> str:
    where = places_of(o.place for o in step.origins) or (place(step.rule.span) if step.rule is not None else "")
    return one_line(f"{step.label}: {step.made}" if step.label else step.made) + (f"; {where}" if where else "")


def suppliers(bid: Bid) -> Iterator[Block]:
    """What each supplier would take for all of it, and what is bought where."""
    if len(bid.alone) < 2:
        return
    yield Heading("Suppliers")
    money = bid.terms.currency.shown
    rows = [
        (one_line(", ".join(one.suppliers)), money(one.goods), money(bid.terms.currency.total(one.deliveries.values())), money(one.sum),
         counted(len(one.missing), "line", "lines") if one.missing else "")
        for one in (*bid.alone, bid.basket)
    ]  # fmt: skip
    rows[-1] = (f"as bought: {rows[-1][0]}", *rows[-1][1:])
    yield Table(("All from", "Goods", "Delivery", "Sum", "Missing"), tuple(rows), frozenset({1, 2, 3}))


def counted(number: int, one: str, several: str) -> str:
    """So many of something."""
    return f"{number} {one if number == 1 else several}"
