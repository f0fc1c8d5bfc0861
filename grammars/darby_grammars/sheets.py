"""What the size of a sheet means, in one unit or two, in words or with a cross."""

from __future__ import annotations

from fractions import Fraction

from darby.api import EACH, UNITS, Fact, Quantity, Refused
from darby_grammars.parts import Parts, Said, number_in, twin_sheet, unit_of

_THICKEST, _SHORTEST, _LONGEST = Fraction(13, 2), 19, 150
"""Millimetres: the thickest shank of a fastener for sheets, and how long such a one can be."""
_NARROW, _WIDE, _STRIP = Fraction(4), Fraction(9, 2), (2, 8)
"""Feet: how wide sheets are, and the one narrow sheet that is sold."""
_FLAT = 10
"""How many times as wide as it is thick a sheet is at the least."""
_METRIC = tuple(Fraction(thick) for thick in ("9.5", "12.5", "12.7", "15.9"))
"""Thicknesses of boards in millimetres that are no whole numbers, so that they are nothing else."""
_LAYERS, _THIN, _LAYERED = (1, 2, 3), 8, 19
"""How many layers, and how thick each can be in millimetres: nothing that is ordered by its width is so small."""


def _open(*sides: Quantity) -> str:
    """What a range of a side leaves open: `4 ft by 8 to 12 ft sheets`."""
    return "a range of sizes: which of them is not said" if any(side.high is not None for side in sides) else ""


def _layered(length: Quantity, *, named: bool) -> bool:
    """Whether a length can only be the thickness of a layer; in inches only where what is laid is named."""
    return _THIN <= length.low <= _LAYERED if length.unit.name == "mm" else named and length.low < 1


def _in_millimetres(number: Fraction | None, thick: Fraction | None) -> list[Fact] | None:
    """`2 x 12.5`, of bare numbers: so many layers, each as thick in millimetres as only a board is."""
    if number not in _LAYERS or thick not in _METRIC or number is None or thick is None:
        return None
    layers = Fact("layers", Quantity(number, EACH), end=2)
    return [layers, Fact("thickness", Quantity(thick, UNITS["mm"]), start=2)]


class Sheets:
    """One method for each rule of the grammar that is the size of a sheet."""

    def sheet(self, parts: Parts) -> Fact:
        """`4 ft by 12 ft`."""
        (width, doubt), _, (length, other) = parts
        return Fact("sheet", width, by=length, doubt=doubt or other or _open(width, length))

    def sheet_worded(self, parts: Parts) -> Fact:
        """`48 inches wide by 10 feet long`."""
        (width, twin, doubt), (length, _, other) = (p for p in parts if isinstance(p, tuple))
        doubt = doubt or other or _open(width, length)
        return Fact("sheet", width, by=length, twin=(twin, None) if twin else None, doubt=doubt)

    def sheet_twin(self, parts: Parts) -> Fact:
        """`4 ft x 12 ft (1220 x 3660 mm)`: one size in both systems."""
        return twin_sheet(*(p for p in parts if isinstance(p, tuple)))

    def sheet_each(self, parts: Parts) -> Fact:
        """`48 in. (1220 mm) x 12 ft (3660 mm)`."""
        width, second_width, length, second_length = (p for p in parts if isinstance(p, tuple))
        return twin_sheet(width, length, second_width, second_length)

    def sheet_shared(self, parts: Parts) -> Fact | list[Fact] | None:
        """`1200 x 2700 mm`: one unit for both; `3.5 x 35 mm` is a fastener, `2 x 12.5 mm` so many layers so thick."""
        number, _, (length, doubt), *noun = parts
        if number is None:
            return None
        if number in _LAYERS and _layered(length, named=bool(noun)):
            return [Fact("layers", Quantity(number, EACH), end=2), Fact("thickness", length, doubt=doubt, start=2)]
        if length.unit.name == "mm" and number <= _THICKEST and _SHORTEST <= length.low <= _LONGEST:
            return [Fact("", why="how thick a fastener is", end=2), Fact("long", length, doubt=doubt, start=2)]
        return Fact("sheet", Quantity(number, length.unit), by=length, doubt=doubt or _open(length))

    def support_size(self, parts: Parts) -> list[Fact] | None:
        """`2 x 4 studs`."""
        return [Fact("", why="the size of a support", end=-1)] if parts[-1].value == "framing" else None

    def three_sizes(self, parts: Parts) -> list[Fact]:
        """`5/8 in. x 4 ft x 12 ft`, `4 ft x 12 ft x 5/8 in.`: of three lengths the far smaller one is the thickness."""
        (first, one), _, (second, two), _, (third, three) = parts
        doubt = one or two or three
        thick = first if first.size * _FLAT <= second.size else third
        if any(length.high is not None for length in (first, second, third)) or thick.size * _FLAT > second.size:
            raise Refused
        if thick is first:
            sheet = Fact("sheet", second, by=third, doubt=doubt, start=3)
            return [Fact("thickness", first, doubt=doubt, end=2), sheet]
        sheet = Fact("sheet", first, by=second, doubt=doubt, end=-3)
        return [sheet, Fact("thickness", third, doubt=doubt, start=-2)]

    def three_shared(self, parts: Parts) -> list[Fact]:
        """`1200 x 2400 x 12.5 mm`, `12.5 x 1200 x 2400 mm`: one unit for all three."""
        first, _, second, _, (third, doubt) = parts
        if first is None or second is None or third.high is not None:
            raise Refused
        one, two = Quantity(first, third.unit), Quantity(second, third.unit)
        if one.size * _FLAT <= two.size:
            sheet = Fact("sheet", two, by=third, doubt=doubt, start=2)
            return [Fact("thickness", one, doubt=doubt, end=1), sheet]
        if third.size * _FLAT > two.size:
            raise Refused
        return [Fact("sheet", one, by=two, doubt=doubt, end=3), Fact("thickness", third, doubt=doubt, start=4)]

    def said_length(self, parts: Parts) -> Said:
        """A length of one number."""
        return Quantity(number_in(parts[0]), unit_of(parts[1])), ""

    def layers_of(self, parts: Parts) -> list[Fact] | None:
        """`two 12.5 mm boards`, `(2) 5/8 in. type X`: so many layers, and how thick each is."""
        over = next(n for n, part in enumerate(parts) if isinstance(part, tuple))
        length, doubt = parts[over]
        first, *others = (number_in(p) for p in parts[:over] if p.name == "NUMBER")
        if first not in _LAYERS or any(other != first for other in others) or not _layered(length, named=True):
            return None
        layers = Fact("layers", Quantity(first, EACH), end=over)
        return [layers, Fact("thickness", length, doubt=doubt, start=over)]

    def sheet_shared_twin(self, parts: Parts) -> Fact | None:
        """`1220 x 3048 mm (48 in. x 10 ft)`."""
        number, _, length, _, second_width, _, second_length, _ = parts
        if number is None:
            return None
        return twin_sheet((Quantity(number, length[0].unit), ""), length, second_width, second_length)

    def sheet_shared_both(self, parts: Parts) -> Fact | None:
        """`1220 x 3660 mm (4 x 12 ft)`."""
        number, _, length, _, second, _, second_length, _ = parts
        if number is None or second is None:
            return None
        width, second_width = Quantity(number, length[0].unit), Quantity(second, second_length[0].unit)
        return twin_sheet((width, ""), length, (second_width, ""), second_length)

    def sheet_shared_after(self, parts: Parts) -> Fact | None:
        """`4' x 8`: the second number takes the unit of the first."""
        (width, doubt), _, number = parts
        return None if number is None else Fact("sheet", width, by=Quantity(number, width.unit), doubt=doubt)

    def sheets_of(self, parts: Parts) -> Fact | None:
        """`sheets of 4 ft by 12 ft`; boxes and rolls have no two sides."""
        return parts[2] if parts[0].value == "sheet" else None

    def sheet_in_feet(self, parts: Parts) -> Fact | list[Fact] | None:
        """`4 x 12 sheets`: sizes that only feet can have."""
        width, _, length, noun = parts
        if layered := _in_millimetres(width, length):
            return layered
        if width is None or length is None or (noun.name == "CONTAINER" and noun.value != "sheet"):
            return None
        if not (_NARROW <= width <= _WIDE and 6 <= length <= 16) and (width, length) != _STRIP:
            return None
        return Fact("sheet", Quantity(width, UNITS["ft"]), by=Quantity(length, UNITS["ft"]))

    def sizes(self, parts: Parts) -> Fact | list[Fact] | None:
        """`4 x 12`, of which only the words around it can say that it is a sheet in feet."""
        width, _, length = parts
        if layered := _in_millimetres(width, length):
            return layered
        if width is None or length is None:
            return None
        return Fact("sizes", Quantity(width, UNITS["ft"]), by=Quantity(length, UNITS["ft"]))

    def sheet_in_feet_after(self, parts: Parts) -> Fact | list[Fact] | None:
        """`sheets 4 x 12`."""
        return self.sheet_in_feet([*parts[1:], parts[0]])
