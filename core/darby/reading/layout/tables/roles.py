"""What the columns of a table are, each decided as a whole: what its cells are, and what its head says they are said of."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence

from attrs import define

from darby.reading.layout.tables.cells import most, shape
from darby.reading.layout.tables.heads import COMPASS, HOLDS, ONE_OF, PROPERTY, Means
from darby.reading.layout.tables.sheets import SAMPLE, Sheet
from darby.text.spans import View

_SPOKEN = re.compile(r"[A-Za-z]{2}")
_ORDER = ("surface", "place", "sheen", "product")
_OF_CELLS = {"surface": "surfaces", "place": "places", "sheen": "sheens", "color": "colors", "product": "products"}
_IN_ORDER = re.compile(
    r"[0-9]{1,2}(?:st|nd|rd|th)?|(?:first|second|third|fourth|prime|base|intermediate|finish|top|face|last|next)\b",
    re.IGNORECASE,
)
"""What tells heads of one series apart: `First coat`, `Coat 2`."""


@define(eq=False)
class Kind:
    """What the cells of a column are, and what its head says that they are said of; either may be "" where nothing tells."""

    role: str
    said_of: str


def kinds_of(sheet: Sheet, means: Means) -> list[Kind]:
    """The columns of a sheet with what they hold and what they are said of."""
    out = []
    for n, heads in enumerate(sheet.heads):
        cells = [row.cells[n].text for row in sheet.rows if n in row.cells and row.part == "row"][:SAMPLE]
        known = means(heads[-1].text) if heads else frozenset[str]()
        out.append(Kind(_role(known, cells, means), _said_of(heads, known)))
    if sheet.heads and any(kind.role == "quantities" for kind in out) and out[0].role in ("", "marks"):
        out[0].role = "numbers"  # the items of a bill
    _name_bill(out, sheet, means)
    _name_walls(out, sheet)
    _name_series(out, sheet)
    _name_places(out, sheet)
    _name_heads(out, sheet, means)
    _name_units(out, sheet)
    _name_colors(out, sheet, means)
    return out


LOOKS = ("sheens", "colors")


def looks_of(columns: Sequence[Kind], sheet: Sheet, means: Means) -> dict[int, int]:
    """Columns of looks and counts, each with the one before it whose surface they are of: `WALLS | COLOR | CEILING | COLOR`, `TRIM COLOR | SHEEN`,
    `WALL VARNISH | COATS`. Behind two surfaces that stand side by side the last of them may be of both."""
    known = [means(heads[-1].text) if heads else frozenset[str]() for heads in sheet.heads]
    faced = [n for n, what in enumerate(known) if n and "surface" in what]
    follows = (
        LOOKS if sheet.turned else (*LOOKS, "amounts", "")
    )  # what stood before rows of a page says by itself what they are of
    looks = [
        n
        for n, kind in enumerate(columns)
        if n and kind.role in follows and not kind.said_of and known[n] & PROPERTY and n not in faced
    ]
    found: dict[int, int] = {}
    texts = [heads[-1].text if heads else "" for heads in sheet.heads]
    for n in looks:
        before = found.get(n - 1, n - 1 if n - 1 in faced else 0)
        again = any(texts[other] == texts[n] for other in found)  # each surface has its own
        shared = before - 1 in faced and not any(other > n for other in faced) and not again
        if before and not shared:
            found[n] = before
    return found


_A_COLOR = re.compile(r"[A-Z][A-Za-z'’-]+(?:\s[A-Z][A-Za-z'’-]+){0,2}")
_NO_COLOR = frozenset({"product", "place", "places", "sheen", "type", "unit", "mark"})


def _name_colors(columns: Sequence[Kind], sheet: Sheet, means: Means) -> None:
    """The one column of a legend without heads that is names in capitals, which no list knows, beside marks and sheens: `P-1 | Oat Field | flat`."""
    if any(sheet.heads) or columns[0].role != "marks" or not any(c.role == "sheens" for c in columns):
        return
    named = []
    for n, column in enumerate(columns):
        cells = [row.cells[n].text for row in sheet.rows if n in row.cells and row.part == "row"]
        mere = all(_A_COLOR.fullmatch(text) and not means(text) & _NO_COLOR for text in cells)
        mere = mere and 2 * sum(means(text) <= {"color"} for text in cells) > len(cells)  # `Wet Slate` beside `Oat`
        if n and column.role in ("", "colors") and len(cells) > 1 and mere:
            named.append(column)
    if len(named) == 1:
        named[0].role = "colors"


def _name_units(columns: Sequence[Kind], sheet: Sheet) -> None:
    """Kinds of dwellings as keys: `Type A`, `Apartment 2B`."""
    if sheet.units:
        columns[0].role, columns[0].said_of = "units", ""


def _name_heads(columns: Sequence[Kind], sheet: Sheet, means: Means) -> None:
    """Heads that nobody knows are places beside others that are, where none names a property: `Sluice | Bay 1 | Ensuite 2`."""
    known = [means(heads[-1].text) if heads else frozenset[str]() for heads in sheet.heads]
    headed = [n for n, heads in enumerate(sheet.heads) if n and heads]
    if any(known[n] & PROPERTY for n in headed) or not any(columns[n].said_of == "place" for n in headed):
        return
    for n in headed:
        lettered = columns[n].said_of == "mark" and not any(c.isdigit() for c in sheet.heads[n][-1].text.split("(")[0])
        if (not columns[n].said_of or lettered) and not known[n]:
            columns[n].said_of = "place"


def _role(known: frozenset[str], cells: Sequence[str], means: Means) -> str:
    held = sorted(known & HOLDS)
    if held:
        return held[0]
    if not known and len(cells) > 1 and cells == [str(n) for n in range(1, len(cells) + 1)]:
        return "numbers"  # they count the rows
    kind = most(map(shape, cells))
    if known & {"measure", "unit"} and kind in ("number", "none"):
        return "amounts"
    if kind in ("mark", "number"):
        return "marks" if kind == "mark" else "amounts"
    found = Counter(what for text in cells for what in means(text) & {*_OF_CELLS, "measure", "unit"})
    if not found or 2 * max(found.values()) < len(cells):
        return ""
    if found["measure"] + found["unit"] >= max(found.values()):
        return "labels"
    return _OF_CELLS[max(_OF_CELLS, key=lambda what: found[what])]


def _said_of(heads: Sequence[View], known: frozenset[str]) -> str:
    if not heads or known & PROPERTY:
        return ""
    text = heads[-1].text
    if shape(text) == "mark" and "place" not in known:  # `W/C` is a room
        return "mark"
    return next((what for what in _ORDER if what in known), "place" if ONE_OF.match(text) else "")


_MEASURED = re.compile(
    r"[0-9][0-9,. ]{0,9}\s?(?:sf|s\.f\.|sq\.? ?ft\.?|lf|l\.f\.|sy|sq\.? ?m\.?|sqm|m2|m²|lm|m|ea\.?|nr\.?|no\.?|each|item|sum)",
    re.IGNORECASE,
)
"""A quantity as bills have it: `104 SF`, `240 m2`, `4 no.`"""


def _name_bill(columns: Sequence[Kind], sheet: Sheet, means: Means) -> None:
    """Statements and, behind each, how much of it is measured: `Varnish, new doors, one coat .... 104 SF`."""
    if any(sheet.heads) or len(columns) < 2:
        return
    said, last = ([row.cells[n].text for row in sheet.rows if n in row.cells] for n in (0, len(columns) - 1))
    measured = sum(_MEASURED.fullmatch(text) is not None for text in last)
    stated = sum(shape(text) == "counted" or bool(means(text) & {"measure"}) for text in said)
    if last and measured == len(last) and 2 * stated >= len(said) and any(" " in text for text in said):
        columns[-1].role, columns[0].role = "quantities", "statements"


_SIDES = 2
"""Heads by the compass that make each other the walls of a room; single letters have to be more."""


def _name_walls(columns: Sequence[Kind], sheet: Sheet) -> None:
    """`NORTH | EAST | SOUTH | WEST`: columns of the walls of rooms, by where they face."""
    heads = [heads[-1].text.strip() if heads else "" for heads in sheet.heads]
    sides = [n for n, text in enumerate(heads) if n and COMPASS.fullmatch(text)]
    if len(sides) >= _SIDES + any(len(heads[n].strip(".")) == 1 for n in sides):
        for n in sides:
            columns[n].said_of = "surface"


def _name_series(columns: Sequence[Kind], sheet: Sheet) -> None:
    """Columns whose heads differ by their place in an order only stand beside each other, one for each coat or layer."""
    stems = [_IN_ORDER.sub("", heads[-1].text).strip().lower() if heads else "" for heads in sheet.heads]
    texts = [heads[-1].text if heads else "" for heads in sheet.heads]
    for n, (stem, text) in enumerate(zip(stems, texts, strict=True)):
        alike = {texts[m] for m, other in enumerate(stems) if other == stem and m and texts[m] != text}
        if n and stem and stem != text.lower() and alike and not columns[n].said_of:
            columns[n].said_of = "series"


def _name_places(columns: Sequence[Kind], sheet: Sheet) -> None:
    """Keys that nobody knows are places where what stands beside them is given to surfaces by codes or looks."""
    if not columns or any(c.role == "places" for c in columns) or columns[0].role not in ("", "places"):
        return
    if sheet.turned and all(
        _SPOKEN.search(text) for text in (row.cells[0].text for row in sheet.rows if 0 in row.cells)
    ):
        columns[0].role = "places"  # what a table turned on its side says things of: its heads were the names
        return
    given = [c for c in columns[1:] if c.said_of == "surface" and c.role in ("marks", "sheens", "colors")]
    systems = [c for c in columns[1:] if c.role == "marks" and not c.said_of]
    if given or (systems and len(columns) == 2 and sheet.heads[0]):
        columns[0].role = "places"
