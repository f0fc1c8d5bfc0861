"""What does not go together, what is due and what it weighs: sentences for whoever checks the order, never a quantity."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache

from attrs import frozen

from darby.api import AREA, DEFAULT, Amount, Answer, Aside, Consultation, Place, Surface

BOARD = "gypsum board"

_SUPPORTS = (
    # surface, thickness, most between supports across them, along them (None: not at all)
    ("ceiling", "3/8 in", "16 in", None),
    ("ceiling", "1/2 in", "24 in", "16 in"),
    ("ceiling", "5/8 in", "24 in", "16 in"),
    ("wall", "3/8 in", "16 in", "16 in"),
    ("wall", "1/2 in", "24 in", "24 in"),
    ("wall", "5/8 in", "24 in", "24 in"),
)
"""One layer on its own. IRC Table R702.3.5, seen second-hand; GA-216 / ASTM C840 Table 1, from memory."""

HUNG = {
    **dict.fromkeys("along parallel lengthwise vertical vertically upright".split(), "along"),
    **dict.fromkeys("across perpendicular crosswise horizontal horizontally".split(), "across"),
}
"""How a job says which way the board runs over its supports."""

_SLACK = Amount.read("13 mm")
"""Soft rounding between the two systems: supports at 600 mm are the 24 in of the table, and 610 mm are too."""

_JOINTS = {
    # longest run and largest area without a control joint: without, and with, relief at the perimeter
    "ceiling": (("30 ft", "900 sq ft"), ("50 ft", "2500 sq ft")),
    "wall": (("30 ft", ""), ("30 ft", "")),
}
"""ASTM C840 20.3.3 and 20.3.4, as quoted by the trade association; the 30 ft of walls is the weakest of them."""
_METRIC = {"30 ft": "9.1 m", "900 sq ft": "84 m2", "50 ft": "15.2 m", "2500 sq ft": "232 m2"}
"""The same as a metric job is told them: what the standard has beside its feet, from memory, and never more."""

_LOAD = Amount.read("0.55 lb") / Amount.read("1 sq ft")
"""Dead load of gypsum board for each eighth of an inch: ASCE 7-05 Table C3-1. Boards themselves are up to a quarter lighter."""
_EIGHTH = Amount.read("1/8 in")
_limit = cache(Amount.read)
_TON = {"us": Amount.read("2000 lb"), "metric": Amount.read("1000 kg")}


@frozen(eq=False)
class Hung:
    """Surfaces with one kind of board, as it is hung."""

    place: Place
    thickness: Answer
    layers: Answer
    type: str


def checks(hung: Sequence[Hung], sheet: Amount | None, need: Amount, units: str, book: Consultation) -> Iterator[str]:
    """Every sentence about one kind of board, each once."""
    told: dict[str, None] = {}
    for one in hung:
        if (warning := supports(one, book)) is not None:
            told[warning] = None
    told |= dict.fromkeys(control_joints([s for one in hung for s in one.place.surfaces], units))
    if (weight := weights(hung[0].thickness.amount, sheet, need, units)) is not None:
        told[weight] = None
    yield from told


def supports(hung: Hung, book: Consultation) -> str | None:
    """A warning where thickness, direction and spacing of supports do not go together; None where they do."""
    kind, thickness = hung.place.kind, hung.thickness.amount
    framing = book.book.ask("framing", BOARD, hung.place.about, take=("where",))
    if framing is None or hung.layers.amount.value != 1:
        return None
    if framing.layer > DEFAULT:
        book.use(framing)
    along = hung_along(hung.place.first)
    rows = [row for row in _SUPPORTS if row[0] == kind and _about(thickness, Amount.read(row[1]))]
    told = f"{thickness.exact()} board on {kind}s, supports at {framing.amount.exact()}"
    if not rows:
        thinnest = Amount.read("5/16 in")
        if thickness < thinnest:
            return f"{told}: board so thin is for covering other board, not for hanging on supports of its own."
        return None
    _, _, across, lengthwise = rows[0]
    most = lengthwise if along else across
    way = "along" if along else "across"
    if most is None:
        return f"{told}: the published table has no such board hung along its supports."
    if framing.amount > Amount.read(most) + _SLACK:
        return f"{told}: the published table allows {most} {way} the supports. Ask which of the two is meant."
    if not along and lengthwise is not None and framing.amount > Amount.read(lengthwise) + _SLACK:
        return f"{told}: allowed across the supports, and only {lengthwise} along them."
    return None


def hung_along(surface: Surface) -> bool:
    """Whether the job says that boards lie along their supports, as those that stand upright on a wall do."""
    words = surface.marks.get("hung", "").casefold().replace(",", " ").split()
    return any(HUNG.get(word) == "along" for word in words)


def control_joints(surfaces: Sequence[Surface], units: str) -> Iterator[str]:
    """Where control joints are due; `units` are those of the job."""
    told = (lambda limit: limit) if units == "us" else _METRIC.__getitem__
    for kind, ((run, area), (relieved_run, relieved_area)) in _JOINTS.items():
        over = [s for s in surfaces if s.kind == kind and _beyond(s, run, area)]
        if not over:
            continue
        names = ", ".join(s.name for s in over[:4]) + (f" and {len(over) - 4} more" if len(over) > 4 else "")
        if not area:
            yield f"Control joints at most {told(run)} apart on walls: {names}."
            continue
        far = [s for s in over if _beyond(s, relieved_run, relieved_area)]
        relief = "" if far else f" ({told(relieved_run)} or {told(relieved_area)} with perimeter relief)"
        yield f"Control joints on ceilings over {told(run)} or {told(area)}{relief}: {names}."


def weights(thickness: Amount, sheet: Amount | None, need: Amount, units: str) -> str | None:
    """What a sheet and the whole order weigh, and how many sheets make a lift of a ton; None where no sheet is known."""
    if sheet is None or need.unit.dimension != AREA or not need:
        return None
    unit, ton = ("lb", "short ton") if units == "us" else ("kg", "tonne")
    count = (need / sheet).round_up()
    one = _weight(sheet, thickness)
    lift = max(_TON[units].size // one.size, 1)
    lifts = -(-count.value // lift)
    whole = round((one * count.value).to(unit).value)
    return Aside(
        "Weight",
        f"{count.value} {'sheet' if count.value == 1 else 'sheets'}, up to {whole:,} {unit} ({round(one.to(unit).value)} {unit} a "
        f"sheet by the code's dead load), {'one lift' if lifts == 1 else f'{lifts} lifts'} of {lift} {'sheet' if lift == 1 else 'sheets'} (one {ton}) at most. "
        "Check floor and hoist capacity.",
    )


def _weight(sheet: Amount, thickness: Amount) -> Amount:
    area = Amount.of(sheet.value, sheet.unit.over[0])
    return area * (thickness / _EIGHTH) * _LOAD


def _about(one: Amount, other: Amount) -> bool:
    """Whether two thicknesses are one, the soft metric one among them: 12.5 and 13 mm are 1/2 in."""
    return abs(one.size / other.size - 1) * 20 <= 1


def _beyond(surface: Surface, run: str, area: str) -> bool:
    if surface.runs > 1:
        return False
    sides = [surface.length] if surface.kind == "wall" else [surface.length, surface.height]
    if any(side is not None and side > _limit(run) for side in sides):
        return True
    return bool(area) and surface.area > _limit(area)
