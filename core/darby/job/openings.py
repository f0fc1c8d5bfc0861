"""Openings put into the surfaces that they name: one wall or ceiling, or whichever walls of a room have space for them."""

from __future__ import annotations

from fractions import Fraction

from attrs import define, evolve, field

from darby.job.model import Opening, Surface
from darby.job.rows.measured_row import Row
from darby.job.rows.sheet import Sheet, shown
from darby.quantities.amounts import Amount, Origin
from darby.text.diagnostics import Label
from darby.text.spans import Span

OPENING = "name wall width height count reveal sill".split()
"""The keys of an opening's row."""


@define(eq=False)
class Draft:
    """A named surface on its way; `surface` is None where it could not be measured."""

    surface: Surface | None
    twin: Surface | None = None
    """The other face, with the same openings."""
    openings: list[Opening] = field(factory=list)

    taken: Fraction = Fraction(0)
    """Size of the area its openings take of one face, in base units."""
    copies: int = 1
    """How many there are, each with these openings: those of rooms that are alike."""

    def finished(self) -> list[Surface]:
        """The surface with its openings, and its other face; the same again for each copy."""
        faces = [s for s in (self.surface, self.twin) if s is not None]
        if not self.openings and self.copies == 1:
            return faces
        tails = ["", *(f" ({number} of {self.copies})" for number in range(2, self.copies + 1))]
        return [
            evolve(
                s, name=(name := s.name + tail), copy=copy, openings=tuple(evolve(o, surface=name) for o in self.openings)
            )
            for copy, tail in enumerate(tails, 1)
            for s in faces
        ]  # fmt: skip


def folded(name: str) -> str:
    """A name as names are compared."""
    return " ".join(name.casefold().split())


class Placement:
    """The names that openings may lie in, and what lies there so far."""

    def __init__(self, sheet: Sheet) -> None:
        self._sheet = sheet
        self._drafts: dict[str, list[Draft]] = {}
        """By folded name, the surfaces an opening may lie in: one, or the four walls of a room."""
        self._names: dict[str, Span] = {}
        self._shown_names: list[str] = []

    def claim(self, name: str, row: Row, *drafts: Draft, quiet: bool = False) -> bool:
        """Gives a name to what openings may lie in; a name belongs to one thing only. False where it is taken, which is told unless `quiet`."""
        key = folded(name)
        if not key:
            return True
        if key in self._names:
            if quiet:
                return False
            self._sheet.say(
                "job-duplicate-name",
                row.span("name"),
                f'the name "{shown(name)}" is taken',
                "Give each wall, ceiling and room a name of its own, so that an opening can say where it is.",
                [Label(self._names[key], "taken here")],
            )
            return False
        self._names[key] = row.span("name")
        self._drafts[key] = list(drafts)
        self._shown_names.append(name)
        return True

    def place(self, row: Row, number: int) -> None:
        """Puts the opening of a row where it says; `number` calls it where it has no name."""
        name = row.text("name") or f"opening {number}"
        wall = row.text("wall", 'Write wall = "...", the name of the wall, ceiling or room it is in.')
        for key, sample in (("width", '"3 ft"'), ("height", '"7 ft"')):
            if key not in row:
                row.missing(key, f"Write {key} = {sample}.")
        width, height, reveal = row.length("width"), row.length("height"), row.length("reveal")
        sill = row.flag("sill")
        count = (
            row.count("count")
            if "count" in row
            else Amount.of(1, "each", Origin(f"{name} count", "", row.span()), "count")
        )
        if not wall:
            return
        drafts = self._drafts.get(folded(wall))
        if drafts is None:
            near = self._sheet.nearest(wall, self._shown_names)
            known = ", ".join(shown(n) for n in self._shown_names[:8])
            self._sheet.say(
                "job-opening-nowhere",
                row.span("wall"),
                f'{row.what} is in "{shown(wall)}", and no wall, ceiling or room has that name',
                f"Did you mean {shown(near)}?"
                if near
                else f"The names are: {known}."
                if known
                else "There is none yet.",
            )
            return
        if not drafts:
            self._sheet.say(
                "job-opening-nowhere", row.span("wall"), f'{row.what} is in "{shown(wall)}", a room without walls of its own',
                "Name the wall it is in, one of those that are listed for this room.",
            )  # fmt: skip
            return
        if width is not None and height is not None and count is not None:
            self._fit(Opening(name, "", width, height, count, row.span("name"), reveal, sill), row, drafts)

    def _fit(self, opening: Opening, row: Row, drafts: list[Draft]) -> None:
        """Puts an opening, or as many of its count as fit in each, into the surfaces it may lie in."""
        surfaces = [d.surface for d in drafts if d.surface is not None]
        if len(surfaces) < len(drafts):
            return
        to_place = opening.count.value
        misfits = [_misfit(opening, surface) for surface in surfaces]
        for draft, surface, misfit in zip(drafts, surfaces, misfits, strict=True):
            fit = Fraction(0) if misfit else (surface.area.size - draft.taken) // opening.each.size
            fit = min(to_place, Fraction(fit))
            if not fit:
                continue
            count = (
                opening.count
                if fit == opening.count.value
                else Amount.of(fit, "each", opening.count.step.origin, "count")
            )
            draft.openings.append(evolve(opening, surface=surface.name, count=count))
            draft.taken += fit * opening.each.size
            to_place -= fit
            if not to_place:
                return
        last, one = surfaces[-1], len(surfaces) == 1
        where = f'{last.kind} "{shown(last.name)}"' if one else f'the walls of "{shown(last.room)}"'
        misfit = misfits[-1] if all(misfits) else ""
        key = misfit or "count"
        sizes = " and ".join(dict.fromkeys(map(_size, surfaces)))
        self._sheet.say(
            "job-opening-too-large",
            row.span(key if key in row else ""),
            f"{row.what} is larger than {where}"
            if misfit
            else f"{row.what} does not fit into {where} beside the other openings there",
            f"{where} {'is' if one else 'are'} {sizes}; {'the opening' if misfit else 'each opening'} is "
            f"{opening.width.exact()} by {opening.height.exact()}.",
            [Label(last.span, where)],
        )


def _misfit(opening: Opening, surface: Surface) -> str:
    """The side by which an opening is too large for a surface, or nothing. In a ceiling it may lie either way round."""
    if surface.length is None or surface.height is None:
        return "width" if opening.each > surface.area else ""
    if surface.kind == "ceiling" and (opening.width > opening.height) is not (surface.length > surface.height):
        across, along = surface.height, surface.length
    else:
        across, along = surface.length, surface.height
    return "width" if opening.width > across else "height" if opening.height > along else ""


def _size(surface: Surface) -> str:
    if surface.length is None or surface.height is None:
        return surface.area.exact()
    return f"{surface.length.exact()} by {surface.height.exact()}"
