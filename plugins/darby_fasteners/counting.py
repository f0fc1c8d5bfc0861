"""Fasteners counted from their spacing: so many supports under a sheet, so many fasteners on each of them.

Sheets lie across their supports, as boards on ceilings and most boards on walls do. The two ends of a sheet are edges,
the supports between them its field; each end is fastened for itself, so a joint over a support has two rows.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from attrs import evolve, frozen

from darby.api import DEFAULT, HOUSE, Amount, Answer, Consultation, Rule

BOARD = "gypsum board"
NAIL = "nail"
ADHESIVE = "adhesive"
DOUBLE = "double nailing"
GLUED, WIDE, GLUED_WIDE = "with adhesive", "over wide supports", "with adhesive over wide supports"
BASE, FACE = "base", "face"
END = "end"
ENDS = Amount.of(2, label="ends")
ONE_MORE = Amount.of(1)
EDGES = Amount.read("20 mm").named("10 mm at either edge")
"""The first and the last fastener of a row stand that far from the edge: municipal residential guide, 3/8 in (10 mm) to 1 in."""
CUT = Amount.of(Fraction(49, 50), label="of it, its end cut to a support")
"""A sheet of 2440 mm over supports at 400 mm ends at 2400 mm: soft rounding between the two systems makes no further support."""
CLOSE = Amount.read("413 mm")
"""Supports further apart are wide ones: 16 in or 400 mm, with the slack of soft rounding between the two systems (CMHC guide 9.29.5)."""


@frozen(eq=False)
class Bed:
    """What fasteners go into: sheets of a size, across supports of a spacing."""

    sheet: Answer
    framing: Answer

    @property
    def soft(self) -> bool:
        """Whether the end of a sheet lies a little beyond a support, by less than a sheet is cut for."""
        over = Fraction(self.length.size) / self.framing.amount.size
        return over > (whole := over.numerator // over.denominator) and over * CUT.value <= whole

    @property
    def width(self) -> Amount:
        """Width of a sheet, along the supports."""
        return self.sheet.rule.amount

    @property
    def length(self) -> Amount:
        """Length of a sheet, across the supports."""
        by = self.sheet.rule.by
        assert by is not None
        return by

    @property
    def supports(self) -> Amount:
        """Number of supports under a sheet, both ends among them. A part of a space is a space: this counts."""
        length = self.length * CUT if self.soft else self.length
        spaces = (length / self.framing.amount).round_up().named("spaces between supports")
        return (spaces + ONE_MORE).named("supports under a sheet")

    @property
    def area(self) -> Amount:
        """Area of a sheet."""
        return (self.width * self.length).named("area of a sheet")


@frozen(eq=False)
class Count:
    """Fasteners for one sheet of a layer, and the answers behind the number."""

    bed: Bed
    per_sheet: Amount
    answers: tuple[Answer, ...]
    double: bool = False

    @property
    def rules(self) -> tuple[Rule, ...]:
        """The rules behind the number."""
        return tuple(dict.fromkeys(a.rule for a in (*self.answers, self.bed.sheet, self.bed.framing)))

    def over(self, area: Amount) -> Amount:
        """Fasteners for an area of the surface."""
        return area / self.bed.area * self.per_sheet

    def told(self) -> str:
        """The spacing in words: `12 in in the field, 8 in at the edges, supports at 16 in, sheets of 4 ft by 8 ft`."""
        field, edge = self.answers[0].amount.exact(), self.answers[1].amount.exact()
        if self.double:
            apart = f"pairs at {field} in the field, {edge} singly at the edges"
        else:
            apart = field if field == edge else f"{field} in the field and {edge} at the edges"
        sheet = self.bed.sheet.rule.says()
        return f"{apart}, supports at {self.bed.framing.amount.exact()}, sheets of {sheet}"


def bed(about: Mapping[str, str], book: Consultation) -> Bed | None:
    """The sheets and supports of a place; None where either is not known in full. Nothing becomes a question."""
    sheet = book.book.ask("sheet", BOARD, about, take=("type",))
    if sheet is not None and sheet.conflict is not None:
        others = sheet.conflict.others
        if all(rule.answer == sheet.rule.answer for rule in others):  # boards of several types, all of one size
            sheet = evolve(sheet, conflict=None, agreeing=(*sheet.agreeing, *others))
    framing = book.book.ask("framing", BOARD, about, take=("where",))
    if sheet is None or sheet.rule.by is None or framing is None or not framing.amount:
        return None
    return Bed(sheet, framing)


def count(product: str, about: Mapping[str, str], under: Bed, book: Consultation) -> Count | None:
    """Fasteners of one sheet of a layer by the spacing in the field and at the edges; None where no spacing is said.

    A layer below the face is fastened as the field of it is, unless more is said of its own `layer`. Pairs of nails stand in the field of the
    face only: the perimeter is nailed singly. Over adhesive the wider spacing said of it holds, over wide supports the closer one.
    """
    usual, wide = (GLUED, GLUED_WIDE) if glued(about, book) else ("", WIDE)
    spread = under.framing.amount > CLOSE

    def spacing(**where: str) -> Answer | None:
        """How far apart: over wide supports what is said of these, unless something else is said with more weight."""
        answer = book.book.ask("spacing", product, {**about, **where, **({"method": usual} if usual else {})})
        apart = book.book.ask("spacing", product, {**about, **where, "method": wide}) if spread else None
        if apart is None or apart["method"] != wide or (answer is not None and answer.layer > apart.layer):
            return answer
        return apart

    pairs = (
        book.book.ask("spacing", product, {**about, "where": "field", "method": DOUBLE}) if product == NAIL else None
    )
    paired = pairs is not None and pairs["method"] == DOUBLE and pairs.layer > DEFAULT
    field = pairs if paired else spacing(where="field")
    base = about.get("layer") == BASE  # nobody tells the edges of what is covered from its field
    end = None if base else spacing(where=END)  # the ends of a sheet are the edges that lie on supports
    edge = field if base else end if end is not None and end["where"] == END else spacing(where="edge")
    if field is None or edge is None or not field.amount or not edge.amount:
        return None
    double = paired and not base
    rows = _on_a_support(under, field, product, "in a base layer" if base else "in the field")
    if double:
        # On the perimeter nails stand singly, at either end of a row of pairs.
        rows = (rows * 2).named(f"{product}s on a support in the field, in pairs")
    ends = rows if base else _on_a_support(under, edge, product, "at an end")
    return Count(under, _of_layer(under, rows, ends, product), (field, edge), double)


def glued(about: Mapping[str, str], book: Consultation) -> bool:
    """Whether somebody asks for adhesive here: a default alone glues nothing, and no more does a rate in a house file."""
    use, apart = (
        book.book.ask(kind, ADHESIVE, about, take=("method", "where", "note")) for kind in ("consumption", "spacing")
    )
    return any(a is not None and a.layer > beyond and a.amount for a, beyond in ((use, HOUSE), (apart, DEFAULT)))


def _on_a_support(under: Bed, spacing: Answer, product: str, where: str) -> Amount:
    spaces = ((under.width - EDGES).named("between the edges") / spacing.amount).round_up().named("spaces")
    return (spaces + ONE_MORE).named(f"{product}s on a support {where}")


def _of_layer(under: Bed, field: Amount, end: Amount, product: str) -> Amount:
    between = (under.supports - ENDS).named("supports between the ends")
    return (between * field + ENDS * end).named(f"{product}s for a sheet")
