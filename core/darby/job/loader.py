"""The job file: TOML that a person wrote, to a Job; each mistake a diagnostic at its place, all of them in one run."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping
from fractions import Fraction
from typing import Any

from attrs import define, evolve, field

from darby.job.csv_schedules import Rows, read_schedule
from darby.job.model import Corner, Documents, Job, Opening, Price, Surface
from darby.job.surfaces import CEILING, COLUMN, CORNER, DOOR, ROOM, SOFFIT, TRIM, WALL, Made, Shapes
from darby.job.toml_row import Places, Row, Sheet, shown
from darby.quantities.amounts import Amount, Origin
from darby.quantities.gc_pause import in_bulk
from darby.text.diagnostics import Diagnostic, Label, is_error, problem
from darby.text.spans import Source, Span
from darby.text.toml_places import read_toml
from darby.text.toml_scanner import Path

_OPENING = "name wall width height count reveal sill".split()
_PRICE = "product package price".split()
_DOCUMENTS = "specification addenda house".split()

TABLES: dict[str, tuple[str, list[str]]] = {
    "walls": ("wall", WALL),
    "ceilings": ("ceiling", CEILING),
    "soffits": ("soffit", SOFFIT),
    "columns": ("column", COLUMN),
    "rooms": ("room", ROOM),
    "corners": ("corner", CORNER),
    "trim": ("trim", TRIM),
    "doors": ("door", DOOR),
}
"""The tables of what is measured, in the order in which they are read; openings come last, since they lie in these."""
KINDS = dict(TABLES.values()) | {"opening": _OPENING}
"""The keys of each kind of row, but for the marks of trades."""
_UNMARKED = {"corner", "opening"}
_TOP = list(
    dict.fromkeys(
        (
            "name",
            "units",
            "rules",
            "documents",
            "plugins",
            "walls",
            "ceilings",
            "openings",
            *TABLES,
            "schedules",
            "prices",
        )
    )
)

Open = Callable[[str, Span], tuple[Source | None, tuple[Diagnostic, ...]]]
"""Opens a file that the job names, at the place where it does: the source, or None, and what is wrong with it."""


@in_bulk()
def load(
    source: Source, marks: Collection[str] = (), open_file: Open | None = None
) -> tuple[Job | None, tuple[Diagnostic, ...]]:
    """The job that a job file describes, and what is to be said of it; the job is None if there is any error.

    `marks` are the keys that trades let a wall, a ceiling or a room carry (`Trade.marks`); their text is kept as it is.
    `open_file` opens the schedules that the job names; without it none is read, and that is said.

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
        job = _Reader(sheet, tuple(marks), open_file).job(data)
    found = tuple(sorted(sheet.found, key=lambda d: _order(d.span, source)))
    return (None if is_error(found) else job), found


def made_of(data: Mapping[str, Any], places: Places, marks: Collection[str] = ()) -> Job | None:
    """The job of tables that were read before, with their places; None where they make none."""
    sheet = Sheet(places)
    job = _Reader(sheet, tuple(marks), None).job(data)
    return None if is_error(sheet.found) else job


def kept_beside(schedules: Iterable[Source]) -> Open | None:
    """Opens the schedules of a job by name from among these; nothing where there are none."""
    by_name = {source.name: source for source in schedules}

    def opened(name: str, span: Span) -> tuple[Source | None, tuple[Diagnostic, ...]]:
        source = by_name.get(name)
        told = () if source else (problem("file-missing", f"{shown(name)} was not kept with the estimate.", span),)
        return source, told

    return opened if by_name else None


def _order(span: Span | None, main: Source) -> tuple[bool, str, int]:
    """The job file first, then its schedules, each from top to bottom."""
    if span is None or span.source is main:
        return (False, "", span.start if span else 0)
    return (True, span.source.name, span.start)


@define(eq=False)
class _Draft:
    """A named surface on its way; `surface` is None where it could not be measured."""

    surface: Surface | None
    twin: Surface | None = None
    """The other face, with the same openings."""
    openings: list[Opening] = field(factory=list)

    taken: Fraction = Fraction(0)
    """Size of the area its openings take of one face, in base units."""

    def finished(self) -> list[Surface]:
        """The surface with its openings, and its other face."""
        faces = [s for s in (self.surface, self.twin) if s is not None]
        if not self.openings:
            return faces
        return [evolve(s, openings=tuple(evolve(o, surface=s.name) for o in self.openings)) for s in faces]


def folded(name: str) -> str:
    """A name as names are compared."""
    return " ".join(name.casefold().split())


class _Reader:
    """Reads the tables of one job file, and the rows of its schedules."""

    def __init__(self, sheet: Sheet, marks: tuple[str, ...], open_file: Open | None) -> None:
        self.sheet = sheet
        self.marks = marks
        self.open_file = open_file
        self.shapes = Shapes(marks)
        self.drafts: list[_Draft] = []
        self.places: dict[str, list[_Draft]] = {}
        """By folded name, the surfaces an opening may lie in: one, or the four walls of a room."""
        self.names: dict[str, Span] = {}
        self.shown_names: list[str] = []
        self.corners: list[Corner] = []
        self.schedules: list[Source] = []
        self.keys = {kind: KINDS[kind] if kind in _UNMARKED else [*KINDS[kind], *marks] for kind in KINDS}

    def job(self, data: Mapping[str, Any]) -> Job:
        top = Row.of(self.sheet, (), data, what="the job file", keys=_TOP)
        name = top.text("name", 'Begin the file with name = "...", the name of the job.')
        units = self._units(top)
        documents = self._inner(top, "documents", _DOCUMENTS)
        plugins = self._inner(top, "plugins", ["files"])
        for table, (kind, _) in TABLES.items():
            for path, data_of_row in top.tables(table):
                self._measure(self._row(path, data_of_row, kind), kind)
        openings = [self._row(path, one, "opening") for path, one in top.tables("openings")]
        for schedule in self._schedules(top):
            for kind, row in schedule:
                if kind == "opening":
                    openings.append(row)
                else:
                    self._measure(row, kind)
        for number, row in enumerate(openings, 1):
            self._opening(row, number)
        prices = [self._price(self._row(path, one, "price", _PRICE)) for path, one in top.tables("prices")]
        if not is_error(self.sheet.found):
            self._doubts(top)
        surfaces = [s for draft in self.drafts for s in draft.finished()]
        main = self.sheet.places.source
        return Job(
            name=name,
            units=units,
            surfaces=tuple(sorted(surfaces, key=lambda s: _order(s.span, main))),
            corners=tuple(sorted(self.corners, key=lambda c: _order(c.span, main))),
            rules=top.texts("rules"),
            documents=Documents(**{key: documents.texts(key) for key in _DOCUMENTS}) if documents else Documents(),
            source=main,
            plugin_files=plugins.texts("files") if plugins else (),
            prices=tuple(p for p in prices if p is not None),
            schedules=tuple(self.schedules),
        )

    def _measure(self, row: Row, kind: str) -> None:
        """One row of what is measured: its surfaces, corners and names."""
        made: Made = getattr(self.shapes, kind)(row)
        twins = (*made.twins, *(None for _ in made.surfaces[len(made.twins) :]))
        drafts = [_Draft(surface, twin) for surface, twin in zip(made.surfaces, twins, strict=True)]
        self.drafts.extend(drafts)
        self.corners.extend(made.corners)
        for name, first, last in made.names:
            self._claim(name, row, *drafts[first : last + 1])

    def _schedules(self, top: Row) -> list[Rows]:
        found = []
        for name, span in top.texts("schedules"):
            if self.open_file is None:
                self.sheet.say(
                    "job-schedule-unopened", span, f"the schedule {shown(name)} was not opened",
                    "Here the job is read without the files beside it; put its rows into the job file itself.",
                )  # fmt: skip
                continue
            source, told = self.open_file(name, span)
            self.sheet.found.extend(told)
            if source is not None:
                self.schedules.append(source)
                found.append(read_schedule(source, self.sheet, KINDS, self.keys.__getitem__))
        return found

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
        if not self.drafts and not self.corners and "schedules" not in top:
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

    def _row(self, path: Path, table: Mapping[str, Any], kind: str, keys: list[str] | None = None) -> Row:
        name = table.get("name")
        if isinstance(name, str) and name.strip():
            what = f'{kind} "{shown(name)}"'
        else:
            what = f"{kind} {path[-1] + 1}" if isinstance(path[-1], int) else f"this {kind}"
        return Row.of(self.sheet, path, table, what=what, keys=keys or self.keys[kind])

    def _claim(self, name: str, row: Row, *drafts: _Draft) -> None:
        """Gives a name to what openings may lie in; a name belongs to one thing only."""
        key = folded(name)
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

    def _price(self, row: Row) -> Price | None:
        product = row.text("product", 'Write product = "...", as the order list calls it.')
        if "package" not in row:
            row.missing("package", 'Write package = "...", what one package holds, as in "5 gal".')
        if "price" not in row:
            row.missing("price", 'Write price = "...", the price of one package, without a currency.')
        package, price = row.content("package"), row.money("price")
        if not product or package is None or price is None:
            return None
        return Price(product, package, price, row.span("price"))

    def _opening(self, row: Row, number: int) -> None:
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
        drafts = self.places.get(folded(wall))
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
            self._place(Opening(name, "", width, height, count, row.span("name"), reveal, sill), row, drafts)

    def _place(self, opening: Opening, row: Row, drafts: list[_Draft]) -> None:
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
        self.sheet.say(
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
