"""Gypsum board in sheets: area times layers, pooled by thickness, type and sheet size."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from attrs import evolve, frozen

from darby.api import (
    REVEALS,
    Amount,
    Answer,
    Consultation,
    Course,
    Deduct,
    Job,
    LineItem,
    Operation,
    Piece,
    Place,
    RoomColumn,
    Rule,
    Side,
    Surface,
    Task,
    Trade,
    Work,
    alike,
    area_of,
    chosen,
    dashed,
    deduction,
    defaults_of,
    grouped,
    net_area,
    places,
    reveals_left,
    ruled_by,
    rules_of,
    sides_on,
    spare_lines,
    tasks_on,
    total,
    with_waste,
)
from darby_board.cautions import CAUTIONS
from darby_board.checks import BOARD, HUNG, Hung, checks
from darby_board.counting import BY_AREA, Counted, area_of_sheet, by_layout_instead, how_counted, sorts_laid

SURFACES = ("wall", "ceiling")
HANG = Operation(
    "hang gypsum board",
    ("surface", "thickness", "type", "layer", "height", "condition"),
    about="Cutting, lifting and fastening board, every layer counted, openings out as the order has them; not its waste.",
)


@frozen(eq=False)
class _Share:
    """One course of a place: the answers that say which board it gets, and how many layers of it."""

    side: Side
    course: Course
    thickness: Answer
    type: str
    chosen: Answer | None
    """What chooses its type, where its thickness does not say it."""
    sheet: Answer | None
    deduct: Deduct
    waste: Answer | None
    counted: Counted
    """Whether its sheets are counted by area or by layout, and how they are laid."""

    @property
    def place(self) -> Place:
        """Where it is hung."""
        return self.side.place

    @property
    def bought(self) -> tuple[object, ...]:
        """What must agree for two places to be cut from one stack."""
        sheet = self.sheet.rule if self.sheet else None
        sizes = self.counted.sizes or ((sheet.amount if sheet else None, sheet.by if sheet else None),)
        return (self.thickness.amount, dashed(self.type), *sizes)

    @property
    def spacing(self) -> Amount | None:
        """How far apart the supports are that boards lie across."""
        return self.counted.framing.amount if self.counted.framing is not None else None

    @property
    def offcuts(self) -> str:
        """Where offcuts are used again."""
        return self.counted.reused

    @property
    def note(self) -> str:
        """What to look at where a word chooses another type than the board of the place has."""
        stated = self.thickness["type"] if self.chosen is not None else ""
        if not stated or stated == self.type:
            return ""
        where = " ".join(filter(None, (self.place.first.room, self.place.kind)))
        return f"{where}: {self.type} takes the place of {stated}. A rated assembly is built as listed: is {stated} wanted there too?"

    @property
    def alike(self) -> tuple[object, ...]:
        """Places of one kind under the same rules are measured together."""
        answers = (self.course.said, *ruled_by(self.deduct), self.waste)
        return (self.place.kind, self.course.many.value, *(id(a.rule) if a else None for a in answers))

    @property
    def rules(self) -> tuple[Rule, ...]:
        answers = (self.thickness, self.chosen, self.course.said, self.sheet, *ruled_by(self.deduct), self.waste)
        return rules_of(*answers, *self.counted.answers)

    def said_of(self, surface: Surface) -> dict[str, str]:
        """What it is to hang it, as production rates tell it apart."""
        said = {"surface": surface.kind, "thickness": self.thickness.amount.exact(), "type": self.type}
        said |= {key: self.course.about.get(key, "") for key in ("layer", "condition")}
        return {key: value for key, value in said.items() if value}

    @property
    def hung(self) -> Hung:
        """What is checked of it."""
        return Hung(self.place, self.thickness, self.side.layers, self.type)


@frozen(eq=False)
class _Pool:
    """Places whose board is bought together."""

    members: Sequence[_Share]

    @property
    def key(self) -> dict[str, str]:
        """The pool as shown, in the words of its first place."""
        first = self.members[0]
        shown = {"thickness": first.thickness.amount.exact(), "type": first.type, "sheet": _size(first.sheet)}
        return {key: value for key, value in shown.items() if value}

    @property
    def package(self) -> Amount | None:
        """Area of one sheet; None where no size, or only a width, is known."""
        sheet = self.members[0].sheet
        return None if sheet is None or sheet.rule.by is None else area_of_sheet(sheet.rule.amount, sheet.rule.by)

    def items(self, units: str, book: Consultation) -> Iterator[LineItem]:
        """What is ordered of it: by area, or by layout where a line says so, with the other figure in a note."""
        laid = [share for share in self.members if share.counted.by_layout]
        rest = [share for share in self.members if not share.counted.by_layout]
        areas = [_subtotal(group, units) for group in alike(rest)]
        package = self.package
        rules = tuple(dict.fromkeys(rule for share in self.members for rule in share.rules))
        if not laid:
            need = total(areas, f"{BOARD} needed")
            notes = (*by_layout_instead(rest, package, units), *self.notes(package, need, units, book))
            yield LineItem(BOARD, need, self.key, package, rules=rules, notes=notes)
            return
        net = [_subtotal(group, units, waste=False) for group in alike(laid)]
        for number, sort in enumerate(sorts_laid(laid, net, areas, units)):
            told = () if number else tuple(self.notes(sort.package, sort.need, units, book))
            yield LineItem(
                BOARD, sort.need, {**self.key, "sheet": sort.size}, sort.package, rules=rules, notes=(*sort.notes, *told),
                attachments=sort.attachments,
            )  # fmt: skip

    def notes(self, package: Amount | None, need: Amount, units: str, book: Consultation) -> Iterator[str]:
        """What whoever checks the order should know."""
        if package is None:
            yield "No full sheet size is known, so the sheets are not counted."
        if any(reveals_left(share.place.surfaces, share.deduct) for share in self.members):
            yield REVEALS
        yield from dict.fromkeys(note for share in self.members for note in (*share.side.notes, share.note) if note)
        yield from checks([share.hung for share in self.members], package, need, units, book)


def line_items(job: Job, book: Consultation) -> Iterator[LineItem]:
    """One item for each thickness, type and sheet size, whatever surfaces and layers it goes on."""
    pools = map(_Pool, grouped(_shares(job, book), lambda share: share.bought).values())
    found = (item for pool in pools for item in pool.items(job.units, book))
    items = [_together(some) for some in grouped(found, lambda item: tuple(item.pool.items())).values()]
    yield from items
    yield from spare_lines(BOARD, items, book)


def _together(items: Sequence[LineItem]) -> LineItem:
    """One item of several for the same sheets: of two places one may have sizes on sale that the other has not."""
    if len(items) == 1:
        return items[0]
    return evolve(
        items[0], need=total((item.need for item in items), f"{BOARD} needed"),
        rules=tuple(dict.fromkeys(rule for item in items for rule in item.rules)),
        notes=tuple(dict.fromkeys(note for item in items for note in item.notes)),
        attachments=lambda: (one for item in items for one in item.attachments()),
    )  # fmt: skip


def labor(job: Job, book: Consultation) -> Iterator[Task]:
    """Board to be hung: the net area of every layer."""
    pieces = [
        Piece(
            surface, ((net_area(surface, share.deduct) * share.course.many).named(f"board on {surface.name}"),),
            share.said_of(surface), share.rules,
        )
        for share in _shares(job, book)
        for surface in share.place.surfaces
    ]  # fmt: skip
    yield from tasks_on(HANG.name, pieces, job)


def _shares(job: Job, book: Consultation) -> list[_Share]:
    sides = [side for place in places(job.surfaces, book, SURFACES) for side in sides_on(place, BOARD, book)]
    return [share for side in sides for course in side.courses if (share := _share(side, course, book))]


def _share(side: Side, course: Course, book: Consultation) -> _Share | None:
    about = dict(course.about)
    stated = book.book.ask("thickness", BOARD, about, take=("type",))
    listed = _listed(course, stated, about, book)
    kind, choice = chosen("type", BOARD, (listed or stated, course.said), about, book)
    own = book.book.ask("thickness", BOARD, about | {"type": kind}) if choice else None
    if (choice is None and listed is not None) or (
        choice is not None and own is not None and (stated is None or own.layer >= stated.layer)
    ):
        thickness = book.ask("thickness", BOARD, about | {"type": kind})
    else:  # nothing but a default says how thick this type is: as thick as the board that it takes the place of
        thickness = book.ask("thickness", BOARD, about, take=("type",))
    if thickness is None:
        return None
    known = about | {"type": kind}
    counted = how_counted(known, side.place.about, book)
    sheet = counted.sheets[0] if counted.sheets else book.ask("sheet", BOARD, known)
    if sheet is not None and sheet.rule.by is None:
        book.miss("sheet", BOARD, known)
    deduct = deduction(book, (BOARD,), side.place.about)
    waste = counted.waste if counted.by_layout else book.ask("waste", BOARD, known | {"method": BY_AREA})
    return _Share(side, course, thickness, kind, choice, sheet, deduct, waste, counted)


def _listed(course: Course, stated: Answer | None, about: Mapping[str, str], book: Consultation) -> Answer | None:
    """The thickness of the board that the layers of a place name by its type alone (`Walls: Type X board, one layer`), where a list
    of the boards says how thick that is and nothing of the place itself does.
    """
    named = course.said["type"]
    if not named or (stated is not None and not book.book.outranks(course.said.rule, stated.rule, about)):
        return None
    found = book.book.ask("thickness", BOARD, dict(about) | {"type": named})
    return found if found is not None and found["type"] == named else None


def _subtotal(group: Sequence[_Share], units: str, *, waste: bool = True) -> Amount:
    first = group[0]
    kind = f"{first.place.kind}s"
    need = area_of(group, f"area of {kind}", units) * first.course.many
    return with_waste(need, first.waste if waste else None, kind)


def _size(sheet: Answer | None) -> str:
    if sheet is None:
        return ""
    width, long = sheet.rule.amount, sheet.rule.by
    return f"{width.exact()} x {long.exact()}" if long is not None else f"{width.exact()} wide"


_ASKED = ("thickness", "sheet", "layers", "type", "system")
"""Rules by which documents ask for board. A level of finish, its supports, waste and deductions are said of board that others hang, too."""


TRADE = Trade(
    name="board",
    title="Board",
    line_items=line_items,
    defaults=defaults_of("darby_board"),
    cautions=CAUTIONS,
    operations=(HANG,),
    labor=labor,
    marks={"board": BOARD, "hung": ""},
    mark_words={"hung": HUNG},
    columns=(
        RoomColumn("Board", (("thickness", BOARD), ("type", BOARD)), SURFACES, take=("type",), order=10),
        RoomColumn("Layers", (("layers", BOARD),), SURFACES, {"where": "each side"}, take=("type",), order=20),
    ),
    work=(Work((BOARD,), _ASKED, ("layers",)),),
    about="Gypsum board for walls and ceilings, in sheets, pooled by thickness, type and sheet size.",
)
