"""How many sheets: by area, or laid out where a line says so; the other figure beside it, and how sure the one is."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from functools import partial
from typing import Protocol

from attrs import frozen

from darby.api import DEFAULT, Amount, Answer, Attachment, Consultation, Surface, Unit, pooled, total, with_waste
from darby_board.checks import BOARD, hung_along
from darby_board.cutting.layout import ROOM
from darby_board.laying import Hangs, Laid, laid
from darby_board.shown import attachments

BY_AREA, BY_LAYOUT = "by area", "by layout"
_MOST_FACES = 600
"""Faces beyond which an order by area is not laid out just for the note beside it."""
_NAMED = 3
"""Surfaces told by name in a note."""


@frozen(eq=False)
class Counted:
    """What is said of how sheets are counted at a place."""

    by_layout: bool
    sheets: tuple[Answer, ...] = ()
    """The sizes on sale, where they are laid out: several may stand side by side."""
    framing: Answer | None = None
    offcuts: Answer | None = None
    waste: Answer | None = None
    """A share on top of the sheets laid out."""
    answers: tuple[Answer, ...] = ()
    """All that shaped it, where it is laid out."""
    idle: Answer | None = None
    """A share for waste that stands in the documents and is not added to a layout."""

    @property
    def reused(self) -> str:
        """Where offcuts are used again: in the same room, where nobody says."""
        return self.offcuts.rule.choice if self.offcuts is not None else ROOM

    @property
    def sizes(self) -> tuple[tuple[Amount, Amount], ...]:
        """Width and length of the sheets on sale."""
        return tuple((a.rule.amount, a.rule.by) for a in self.sheets if a.rule.by is not None)


def how_counted(about: Mapping[str, str], place: Mapping[str, str], book: Consultation) -> Counted:
    """What rules say of it. By area they are only looked at, so that nothing is asked that the order does not hang on."""
    counted = book.peek("sheets counted", BOARD, about)
    framing = book.book.ask("framing", BOARD, place, take=("where",))
    framing = framing if framing is not None and framing.amount else None
    offcuts = book.book.ask("offcuts", BOARD, about)
    if counted is None or counted.rule.choice != BY_LAYOUT:
        return Counted(False, (), framing, offcuts)
    sheets = tuple(offer for offer in book.book.all("sheet", BOARD, about) if offer.rule.by is not None)
    if not sheets:  # the line then has no package, and says so
        return Counted(False, (), framing, offcuts)
    waste = book.book.ask("waste", BOARD, {**about, "method": BY_LAYOUT})
    own = waste is not None and waste["method"] == BY_LAYOUT
    found = [counted, offcuts, framing, *sheets, waste if own else None]
    answers = tuple(book.use(answer) for answer in found if answer is not None)
    idle = waste if waste is not None and not own and waste.layer > DEFAULT and waste.amount else None
    return Counted(True, sheets, framing, offcuts, waste if own else None, answers, idle)


class Share(Hangs, Protocol):
    """What a place takes, as far as it is counted."""

    @property
    def counted(self) -> Counted: ...  # noqa: D102

    @property
    def sheet(self) -> Answer | None: ...  # noqa: D102


def area_of_sheet(width: Amount, length: Amount) -> Amount:
    """Area of a sheet, as a rate: 32 sq ft/sheet."""
    return (width * length).named("area of a sheet") / Amount.of(1, "sheet")


@frozen(eq=False)
class Sort:
    """Sheets of one size that a layout takes."""

    size: str
    package: Amount
    need: Amount
    notes: tuple[str, ...] = ()
    attachments: Callable[[], Iterable[Attachment]] = tuple


def sorts_laid(shares: Sequence[Share], net: Sequence[Amount], more: Sequence[Amount], units: str) -> Iterator[Sort]:
    """What shares take that are counted by layout: their net areas in `net`, and what is left of the sheets, size by size.

    `more` are areas that are bought with them and counted by area.
    """
    first = shares[0].counted
    done = laid(shares, first.sizes)
    area = total(net, f"area of {BOARD}")
    unit = area.unit
    counts, parted = done.counts(), done.by_surface()
    sizes = {(done.whole(width), done.whole(length)): (width, length) for width, length in first.sizes}
    rates = {key: area_of_sheet(*size) for key, size in sizes.items()}
    order = sorted(counts, key=counts.__getitem__) or list(rates)[:1]
    taken = {key: (rates[key] * _sheets(parted.get(key, {}))).to(unit) for key in order}
    loose = _loose(shares, done.by_area, units)
    whole = total([*taken.values(), *([loose.to(unit)] if loose is not None else [])], "sheets laid out")
    need = area + (whole - area).named("cut off or left over") if whole > area else area
    need = with_waste(need, first.waste, "sheets laid out")
    if more:
        need = total([need, *more], f"{BOARD} needed")
    rest = need
    for key in order:
        width, length = sizes[key]
        part = rest
        if key != order[-1]:
            part = with_waste(taken[key], first.waste, f"sheets of {_size(width, length)}, laid out")
            rest = rest - part
        last = key == order[-1]
        notes = tuple(_notes(shares, done, area, rates[key], counts, loose)) if last else ()
        show = partial(attachments, done, units) if last else tuple
        yield Sort(_size(width, length), rates[key], part.named(f"{BOARD} needed"), notes, show)


def _sheets(parted: Mapping[str, int]) -> Amount:
    """Sheets laid out, by the surfaces that they go on, so that what is bought of them has its places."""
    some = [Amount.settled(Fraction(many, 100), "sheet", label=name) for name, many in parted.items()]
    return total(some or [Amount.settled(0, "sheet", label="none")], "sheets laid out")


def by_layout_instead(shares: Sequence[Share], package: Amount | None, units: str) -> Iterator[str]:
    """What the same would be by layout, in a sentence, where that is quickly known."""
    faces = sum(s.faces.value * share.course.many.value for share in shares for s in share.place.surfaces)
    if package is None or faces > _MOST_FACES:
        return
    sheet = shares[0].sheet
    assert sheet is not None
    assert sheet.rule.by is not None
    done = laid(shares, ((sheet.rule.amount, sheet.rule.by),))
    count = sum(done.counts().values())
    loose = _loose(shares, done.by_area, units)
    if count:
        more = int((loose / package).round_up().value) if loose is not None else 0
        yield f"Laid out, offcuts {_reused(done)}, it is {count + more:,} sheets."


def _notes(
    shares: Sequence[Share],
    done: Laid,
    area: Amount,
    rate: Amount,
    counts: Mapping[tuple[int, int], int],
    loose: Amount | None,
) -> Iterator[str]:
    """What whoever checks the order should know of the layout."""
    count = sum(counts.values())
    by_area = f"{int((area / rate).round_up().value):,} by area" if len(counts) == 1 else f"{area} by area"
    more = f", and {int((loose / rate).round_up().value):,} for what counts by area" if loose is not None else ""
    yield f"Laid out, offcuts {_reused(done)}: {count:,} sheets{more} ({by_area})."
    if done.least is not None:
        yield (
            f"In these courses and without a needless joint no layout takes fewer than {done.least:,} sheets; "
            "this is a quick one, not proven the best."
        )
    else:
        yield "This is a quick layout, not proven the best."
    if done.by_area:
        yield f"Counted by area, since no sides are known that could be laid out: {_listed(done.by_area)}."
    faces = [named for part in done.parts for named in part.faces]
    if any(n.face.holes for n in faces):
        yield "Openings that come out are set evenly along their walls, doors on the floor: nobody says where they are."
    if raking := [n.surface for n in faces if n.face.low is not None]:
        yield f"Under a raking top each course is cut from strips as long as its longer edge: {_listed(raking)}."
    if bent := [n.surface for n in faces if n.run]:
        yield f"Laid as equal straight runs, since only the length around is known: {_listed(bent)}."
    if any(n.surface.kind == "ceiling" and not hung_along(n.surface) for n in faces):
        yield "Boards on ceilings lie along the longer side, joists taken to span the shorter."
    along = [n.surface for n in faces if hung_along(n.surface)]
    if along:
        yield f"Boards lie along their supports, so that end joints need backing: {_listed(along)}."
    if any(share.spacing is None for share in shares):
        yield "Nobody says how far apart supports are: ends may meet anywhere."
    if (
        any(part.offcuts == ROOM for part in done.parts)
        and len({n.surface.name for n in faces if not n.surface.room}) > 1
    ):
        yield "Walls and ceilings that are in no room count as one room, in which offcuts are used again."
    yield from _cut_back(done, shares[0].counted.sizes[0][1].unit)
    if done.in_line:
        yield f"{done.in_line} end joints lie in line with those of the next course or layer, since supports leave no other place."
    if (idle := next((s.counted.idle for s in shares if s.counted.idle is not None), None)) is not None:
        yield f"Waste of {idle.amount.exact()} ({idle.rule.span}) is not added: a layout has its own. Say “Board by layout, plus ..” to add a share."


def _cut_back(done: Laid, unit: Unit) -> Iterator[str]:
    """Sheets that end between two supports, so that inside a run they are cut back to one."""
    told: dict[tuple[int, int], None] = {}
    for part in done.parts:
        parted = {piece.face for piece in part.layout.pieces if piece.along.end < part.faces[piece.face].face.along}
        longest = part.lengths[-1]
        spacings = {part.faces[number].face.spacing for number in parted}
        told |= {(longest, longest // s * s): None for s in spacings if s is not None and s < longest and longest % s}
    for longest, full in told:
        size, back = (Amount.of(done.size(side) / unit.factor, unit) for side in (longest, full))
        yield f"Sheets of {size.exact()} are cut back to {back.exact()} where one follows another: no support lies at their end."


def _loose(shares: Iterable[Share], by_area: Sequence[Surface], units: str) -> Amount | None:
    """Area, over all layers, of surfaces that are counted by area."""
    apart = {id(surface) for surface in by_area}
    areas = [
        pooled([s], share.deduct, units=units) * share.course.many
        for share in shares
        for s in share.place.surfaces
        if id(s) in apart
    ]
    return total(areas) if areas else None


def _reused(done: Laid) -> str:
    modes = dict.fromkeys(part.offcuts for part in done.parts)
    return " or ".join(mode if mode.startswith("not") else f"used again {mode}" for mode in modes)


def _listed(surfaces: Iterable[Surface]) -> str:
    names = list(dict.fromkeys(s.name for s in surfaces))
    return ", ".join(names[:_NAMED]) + (f" and {len(names) - _NAMED} more" if len(names) > _NAMED else "")


def _size(width: Amount, length: Amount) -> str:
    return f"{width.exact()} x {length.exact()}"
