"""What the size of a sheet means, in one unit or two, in words or with a cross."""

from __future__ import annotations

from fractions import Fraction

from darby.api import UNITS, Fact, Quantity
from darby_grammars.parts import Parts, twin_sheet


class Sheets:
    """One method for each rule of the grammar that is the size of a sheet."""

    def sheet(self, parts: Parts) -> Fact:
        """`4 ft by 12 ft`."""
        (width, doubt), _, (length, other) = parts
        return Fact("sheet", width, by=length, doubt=doubt or other)

    def sheet_worded(self, parts: Parts) -> Fact:
        """`48 inches wide by 10 feet long`."""
        (width, twin, doubt), (length, _, other) = (p for p in parts if isinstance(p, tuple))
        return Fact("sheet", width, by=length, twin=(twin, None) if twin else None, doubt=doubt or other)

    def sheet_twin(self, parts: Parts) -> Fact:
        """`4 ft x 12 ft (1220 x 3660 mm)`: one size in both systems."""
        return twin_sheet(*(p for p in parts if isinstance(p, tuple)))

    def sheet_each(self, parts: Parts) -> Fact:
        """`48 in. (1220 mm) x 12 ft (3660 mm)`."""
        width, second_width, length, second_length = (p for p in parts if isinstance(p, tuple))
        return twin_sheet(width, length, second_width, second_length)

    def sheet_shared(self, parts: Parts) -> Fact | None:
        """`1200 x 2700 mm`: one unit for both."""
        number, _, (length, doubt) = parts
        return None if number is None else Fact("sheet", Quantity(number, length.unit), by=length, doubt=doubt)

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

    def sheet_in_feet(self, parts: Parts) -> Fact | None:
        """`4 x 12 sheets`: sizes that only feet can have."""
        width, _, length, noun = parts
        if width is None or length is None or (noun.name == "CONTAINER" and noun.value != "sheet"):
            return None
        if not (Fraction(2) <= width <= Fraction(9, 2) and 6 <= length <= 16):
            return None
        return Fact("sheet", Quantity(width, UNITS["ft"]), by=Quantity(length, UNITS["ft"]))

    def sizes(self, parts: Parts) -> Fact | None:
        """`4 x 12`, of which only the words around it can say that it is a sheet in feet."""
        width, _, length = parts
        if width is None or length is None:
            return None
        return Fact("sizes", Quantity(width, UNITS["ft"]), by=Quantity(length, UNITS["ft"]))

    def sheet_in_feet_after(self, parts: Parts) -> Fact | None:
        """`sheets 4 x 12`."""
        return self.sheet_in_feet([*parts[1:], parts[0]])
