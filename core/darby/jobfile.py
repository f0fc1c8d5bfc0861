"""The job file: TOML that a person wrote, to a Job; each mistake a diagnostic at its place, all of them in one run."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from fractions import Fraction
from typing import Any

from attrs import define, evolve, field

from darby.amounts import Amount, Origin
from darby.diagnostics import Diagnostic, Label, is_error, problem
from darby.job import Corner, Documents, Job, Opening, Surface
from darby.rows import Row, Sheet, shown
from darby.text import Source, Span
from darby.toml_text import Path, read_toml

_TOP = "name units rules documents plugins walls ceilings openings corners rooms".split()
_WALL = "name length height faces area room".split()
_CEILING = "name length width area room".split()
_OPENING = "name wall width height count".split()
_CORNER = "kind count height room".split()
_ROOM = "name length width height".split()
_DOCUMENTS = "specification addenda house".split()

_FACES = "An outside wall has 1 face inside, a partition 2."
_NAME = 'Give it a name that appears once in the job: name = "..."'


def load(source: Source, marks: Collection[str] = ()) -> tuple[Job | None, tuple[Diagnostic, ...]]:
    """The job that a job file describes, and what is to be said of it; the job is None if there is any error.

    `marks` are the keys that trades let a wall, a ceiling or a room carry (`Trade.marks`); their text is kept as it is.

    A room gives four walls (`Office wall 1` to `Office wall 4`: the first and third as long as its length, the others as
    its width), a ceiling (`Office ceiling`) and four inside corners. An opening names a wall or a ceiling, or a room: then
    it lies in the first walls of the room that have space for it.
    """
    data, places, mistakes = read_toml(source)
    said = data.get("units") if data else None
    sheet = Sheet(places, said if isinstance(said, str) and said in ("us", "metric") else "us")
    sheet.found.extend(problem("job-syntax", m.message, m.span, help=m.help) for m in mistakes)
    job = None
    if data is not None:
        job = _Reader(sheet, tuple(marks)).job(data)
    found = tuple(sorted(sheet.found, key=lambda d: d.span.start if d.span else 0))
    return (None if is_error(found) else job), found


@define(eq=False)
class _Draft:
    """A named surface on its way; `surface` is None where it could not be measured."""

    surface: Surface | None
    openings: list[Opening] = field(factory=list)

    taken: Fraction = Fraction(0)
    """Size of the area its openings take of one face, in base units."""


def _folded(name: str) -> str:
    return " ".join(name.casefold().split())


class _Reader:
    """Reads the tables of one job file."""

    def __init__(self, sheet: Sheet, marks: tuple[str, ...]) -> None:
        self.sheet = sheet
        self.marks = marks
        self.drafts: list[_Draft] = []
        self.places: dict[str, list[_Draft]] = {}
        """By folded name, the surfaces an opening may lie in: one, or the four walls of a room."""
        self.names: dict[str, Span] = {}
        self.shown_names: list[str] = []
        self.corners: list[Corner] = []

    def job(self, data: Mapping[str, Any]) -> Job:
        top = Row.of(self.sheet, (), data, what="the job file", keys=_TOP)
        name = top.text("name", 'Begin the file with name = "...", the name of the job.')
        units = self._units(top)
        documents = self._inner(top, "documents", _DOCUMENTS)
        plugins = self._inner(top, "plugins", ["files"])
        for path, table in top.tables("walls"):
            self._wall(self._row(path, table, "wall", [*_WALL, *self.marks]))
        for path, table in top.tables("ceilings"):
            self._ceiling(self._row(path, table, "ceiling", [*_CEILING, *self.marks]))
        for path, table in top.tables("rooms"):
            self._room(self._row(path, table, "room", [*_ROOM, *self.marks]))
        for path, table in top.tables("corners"):
            self._corner(self._row(path, table, "corner", _CORNER))
        for number, (path, table) in enumerate(top.tables("openings"), 1):
            self._opening(self._row(path, table, "opening", _OPENING), number)
        if not is_error(self.sheet.found):
            self._doubts(top)
        surfaces = [evolve(d.surface, openings=tuple(d.openings)) for d in self.drafts if d.surface is not None]
        return Job(
            name=name,
            units=units,
            surfaces=tuple(sorted(surfaces, key=lambda s: s.span.start)),
            corners=tuple(sorted(self.corners, key=lambda c: c.span.start)),
            rules=top.texts("rules"),
            documents=Documents(**{key: documents.texts(key) for key in _DOCUMENTS}) if documents else Documents(),
            source=self.sheet.places.source,
            plugin_files=plugins.texts("files") if plugins else (),
        )

    def _doubts(self, top: Row) -> None:
        """What is said of a job without mistakes."""
        if "units" not in top:
            self.sheet.say(
                "job-units-assumed",
                top.span("name"),
                "the job does not say its units; us is used",
                'Write units = "us" or units = "metric" below the name. Lengths may be in either, whatever it says.',
                warn=True,
            )
        if not self.drafts and not self.corners:
            self.sheet.say(
                "job-nothing-measured",
                top.span(),
                "nothing is measured in this job, so there is nothing to order",
                "Give its walls, ceilings or rooms: [[walls]], [[ceilings]], [[rooms]].",
                warn=True,
            )

    def _units(self, top: Row) -> str:
        units = top.text("units")
        if units and units not in ("us", "metric"):
            near = {"imperial": "us", "feet": "us", "usa": "us", "si": "metric", "m": "metric", "metres": "metric"}.get(
                units.casefold()
            ) or self.sheet.nearest(units, ["us", "metric"])
            self.sheet.say(
                "job-units",
                top.span("units"),
                f'units is "{shown(units)}"; it is us or metric',
                (f"Did you mean {near}? " if near else "") + 'Write units = "us" or units = "metric".',
            )
            return "us"
        return units or "us"

    def _inner(self, top: Row, key: str, keys: list[str]) -> Row | None:
        table = top.table(key)
        return None if table is None else Row.of(self.sheet, top.way(key), table, what=f"[{key}]", keys=keys)

    def _row(self, path: Path, table: Mapping[str, Any], kind: str, keys: list[str]) -> Row:
        name = table.get("name")
        if isinstance(name, str) and name.strip():
            what = f'{kind} "{shown(name)}"'
        else:
            what = f"{kind} {path[-1] + 1}" if isinstance(path[-1], int) else f"this {kind}"
        return Row.of(self.sheet, path, table, what=what, keys=keys)

    def _claim(self, name: str, row: Row, *drafts: _Draft) -> None:
        """Gives a name to what openings may lie in; a name belongs to one thing only."""
        key = _folded(name)
        if not key:
            return
        if key in self.names:
            self.sheet.say(
                "job-duplicate-name",
                row.span("name"),
                f'the name "{shown(name)}" is taken',
                "Give each wall, ceiling and room a name of its own, so that an opening can say where it is.",
                [Label(self.names[key], "taken here")],
            )
            return
        self.names[key] = row.span("name")
        self.places[key] = list(drafts)
        self.shown_names.append(name)

    def _marks(self, row: Row) -> dict[str, Any]:
        kept = {mark: row.text(mark, f"Say what it is, or leave {mark} out.") for mark in self.marks if mark in row}
        kept = {mark: text for mark, text in kept.items() if text}
        return {"marks": kept, "mark_places": {mark: row.span(mark) for mark in kept}}

    def _wall(self, row: Row) -> None:
        name, room = row.text("name", _NAME), row.text("room")
        if "faces" not in row and not room and "area" not in row:
            row.missing("faces", f"Write faces = 1 or faces = 2. {_FACES}")
        faces = (
            self._faces(row)
            if "faces" in row
            else Amount.of(1, "each", Origin(f"{name} faces", "", row.span(), "one face"), "faces")
        )
        area, length, height = self._sides(row, "length", "height")
        surface = None
        if area is not None and faces is not None:
            surface = Surface(
                name, "wall", area, faces, row.span("name"), room, length, height, **self._marks(row)
            )  # fmt: skip
        else:
            self._marks(row)
        draft = _Draft(surface)
        self.drafts.append(draft)
        self._claim(name, row, draft)

    def _ceiling(self, row: Row) -> None:
        name, room = row.text("name", _NAME), row.text("room")
        area, length, width = self._sides(row, "length", "width")
        kept = self._marks(row)
        surface = None
        if area is not None:
            surface = Surface(
                name, "ceiling", area, self._one(name, row), row.span("name"), room, length, width, **kept
            )
        draft = _Draft(surface)
        self.drafts.append(draft)
        self._claim(name, row, draft)

    @staticmethod
    def _one(name: str, row: Row) -> Amount:
        return Amount.of(1, "each", Origin(f"{name} faces", "", row.span(), "one face"), "faces")

    def _faces(self, row: Row) -> Amount | None:
        value = row.value("faces")
        if value is None:
            return None
        if not isinstance(value, int) or isinstance(value, bool) or value not in (1, 2):
            self.sheet.say(
                "job-faces",
                row.span("faces"),
                f"faces of {row.what} is {shown(row.span('faces').text)}; it is 1 or 2",
                f"{_FACES} Write faces = 1 or faces = 2, without quotes.",
            )
            return None
        return row.count("faces")

    def _sides(self, row: Row, first: str, second: str) -> tuple[Amount | None, Amount | None, Amount | None]:
        """Area, length and the other side; the area is None where something is wrong with it."""
        has = [key for key in (first, second) if key in row]
        if "area" in row:
            area = row.area("area")
            for key in has:
                row.length(key)
            if has:
                self.sheet.say(
                    "job-area-and-sides",
                    row.span("area"),
                    f"{row.what} has an area and also a {' and a '.join(has)}",
                    f"Keep {first} and {second}, or keep the area alone.",
                    [Label(row.span(key), key) for key in has],
                )
            return area, None, None
        if not has:
            row.missing(f"{first} and {second}", f'Write {first} = "..." and {second} = "...", or area = "..." alone.')
        elif len(has) == 1:
            lacking = second if has == [first] else first
            row.missing(lacking, f'Write {lacking} = "...", as in "8 ft" or "2.4 m".')
        one, other = row.length(first), row.length(second)
        return (one * other if one is not None and other is not None else None), one, other

    def _room(self, row: Row) -> None:
        name = row.text("name", _NAME)
        for key in ("length", "width", "height"):
            if key not in row:
                row.missing(key, f'Write {key} = "...", as in "12 ft" or "3.6 m".')
        length, width, height = (row.length(key) for key in ("length", "width", "height"))
        kept, span = self._marks(row), row.span("name")
        walls = [_Draft(None) for _ in range(4)]
        ceiling = _Draft(None)
        if length is not None and width is not None and height is not None:
            one = self._one(name, row)
            for number, draft in enumerate(walls):
                side = (length, width)[number % 2]
                draft.surface = Surface(
                    f"{name} wall {number + 1}", "wall", side * height, one, span, name, side, height, **kept
                )
            ceiling.surface = Surface(
                f"{name} ceiling", "ceiling", length * width, one, span, name, length, width, **kept
            )
            four = Amount.of(4, "each", Origin(f"{name} corners", "", row.span(), "a room has four"), "corners")
            self.corners.append(Corner("inside", four, height, span, name))
        self.drafts.extend((*walls, ceiling))
        if name:
            self._claim(name, row, *walls)
            for number, draft in enumerate(walls, 1):
                self._claim(f"{name} wall {number}", row, draft)
            self._claim(f"{name} ceiling", row, ceiling)

    def _corner(self, row: Row) -> None:
        kind = row.text("kind", 'Write kind = "inside" or kind = "outside".')
        if kind and kind not in ("inside", "outside"):
            near = self.sheet.nearest(kind, ["inside", "outside"])
            self.sheet.say(
                "job-corner-kind",
                row.span("kind"),
                f'{row.what} is of the kind "{shown(kind)}"; a corner is inside or outside',
                (f"Did you mean {near}? " if near else "") + 'Write kind = "inside" or kind = "outside".',
            )
        for key, sample in (("count", "4"), ("height", '"8 ft"')):
            if key not in row:
                row.missing(key, f"Write {key} = {sample}.")
        count, height, room = row.count("count"), row.length("height"), row.text("room")
        if kind and count is not None and height is not None:
            self.corners.append(Corner(kind, count, height, row.span("kind"), room))

    def _opening(self, row: Row, number: int) -> None:
        name = row.text("name") or f"opening {number}"
        wall = row.text("wall", 'Write wall = "...", the name of the wall, ceiling or room it is in.')
        for key, sample in (("width", '"3 ft"'), ("height", '"7 ft"')):
            if key not in row:
                row.missing(key, f"Write {key} = {sample}.")
        width, height = row.length("width"), row.length("height")
        count = (
            row.count("count")
            if "count" in row
            else Amount.of(1, "each", Origin(f"{name} count", "", row.span()), "count")
        )
        if not wall:
            return
        drafts = self.places.get(_folded(wall))
        if drafts is None:
            near = self.sheet.nearest(wall, self.shown_names)
            known = ", ".join(shown(n) for n in self.shown_names[:8])
            self.sheet.say(
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
        if width is not None and height is not None and count is not None:
            self._place(Opening(name, "", width, height, count, row.span("name")), row, drafts)

    def _place(self, opening: Opening, row: Row, drafts: list[_Draft]) -> None:
        """Puts an opening, or as many of its count as fit in each, into the surfaces it may lie in."""
        if any(d.surface is None for d in drafts):
            return
        to_place = opening.count.value
        misfit = ""
        for draft in drafts:
            surface = draft.surface
            assert surface is not None
            misfit = _misfit(opening, surface)
            if misfit:
                continue
            fit = min(to_place, Fraction((surface.area.size - draft.taken) // opening.each.size))
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
        surface = drafts[-1].surface
        assert surface is not None
        where = surface.name if len(drafts) == 1 else f"the walls of {surface.room}"
        key = misfit or "count"
        self.sheet.say(
            "job-opening-too-large",
            row.span(key if key in row else ""),
            f"{row.what} is larger than {where}"
            if misfit
            else f"{row.what} does not fit into {where} beside the other openings there",
            f"{where} is {_size(surface)}; {'the opening' if misfit else 'each opening'} is "
            f"{opening.width.exact()} by {opening.height.exact()}.",
            [Label(surface.span, where)],
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
