"""What the columns of a table are, each decided as a whole; a table is turned so that every row is of one thing."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Sequence

from attrs import define

from darby.reading.layout.tables.cells import DITTO, Shape, most, shape
from darby.reading.layout.tables.heads import HOLDS, PROPERTY, THING, Means
from darby.reading.layout.tables.rows import Row
from darby.text.spans import View

_SAMPLE = 12
"""Rows looked at to say what the cells of a column are."""
_NUMBER = re.compile(r"[A-Z]{0,3}-?[0-9]{1,4}(?:\.[0-9]{1,3})?[A-Za-z]?")
_ONE_OF = re.compile(r"[A-Za-z]{2,12}\s(?:[A-Z]|[0-9]{1,3}[A-Z]?)(?![A-Za-z0-9])")
"""One of several alike: `Type A`, `Block 2`."""
_ORDER = ("surface", "place", "sheen", "product")
_OF_CELLS = {"surface": "surfaces", "place": "places", "sheen": "sheens", "color": "colors", "product": "products"}


@define(eq=False)
class Kind:
    """What the cells of a column are, and what its head says that they are said of; either may be "" where nothing tells."""

    role: str
    said_of: str


@define(eq=False)
class Sheet:
    """The rows of a table and the heads over their columns, whichever way it lay on the page."""

    heads: list[tuple[View, ...]]
    rows: list[Row]
    turned: bool = False


def settled(sheet: Sheet, means: Means) -> Sheet:
    """A sheet whose rows are things: turned where its rows were properties, its key in the first column."""
    sheet = _turned(sheet) if _lies_down(sheet, means) else sheet
    _fill(sheet)
    return _in_pairs(_named(sheet, means), means)


def kinds_of(sheet: Sheet, means: Means) -> list[Kind]:
    """The columns of a sheet with what they hold and what they are said of."""
    out = []
    for n, heads in enumerate(sheet.heads):
        cells = [row.cells[n].text for row in sheet.rows if n in row.cells and row.part == "row"][:_SAMPLE]
        known = means(heads[-1].text) if heads else frozenset[str]()
        out.append(Kind(_role(known, cells, means), _said_of(heads, known)))
    _name_places(out, sheet)
    return out


def _role(known: frozenset[str], cells: Sequence[str], means: Means) -> str:
    held = sorted(known & HOLDS)
    if held:
        return held[0]
    if known & {"measure", "unit"}:
        return "amounts"
    kind = most(map(shape, cells))
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
    if shape(text) == "mark":
        return "mark"
    return next((what for what in _ORDER if what in known), "place" if _ONE_OF.match(text) else "")


def _name_places(columns: Sequence[Kind], sheet: Sheet) -> None:
    """Keys that nobody knows are places where what stands beside them is given to surfaces by codes or looks."""
    if not columns or columns[0].role:
        return
    given = [c for c in columns[1:] if c.said_of == "surface" and c.role in ("marks", "sheens", "colors")]
    systems = [c for c in columns[1:] if c.role == "marks" and not c.said_of]
    if given or (systems and len(columns) == 2 and sheet.heads[0]):
        columns[0].role = "places"


def _texts(sheet: Sheet, column: int) -> list[str]:
    return [row.cells[column].text for row in sheet.rows if column in row.cells and row.part != "head"]


def _heads(sheet: Sheet) -> list[str]:
    """The nearest heads of all columns but the first."""
    return [heads[-1].text for heads in sheet.heads[1:] if heads]


def _share(texts: Sequence[str], of: Iterable[bool]) -> float:
    return sum(of) / len(texts) if texts else 0.0


def _lies_down(sheet: Sheet, means: Means) -> bool:
    """Whether the rows of a table are properties and its columns things, so that it has to be turned."""
    heads, keys = _heads(sheet), _texts(sheet, 0)
    whole = all(0 in row.cells and row.part != "child" for row in sheet.rows)
    if len(heads) < 2 or len(heads) + 1 < len(sheet.heads) or len(keys) < 2 or not whole:
        return False
    across = [means(text) for text in heads]
    down = [means(text) for text in keys]
    if any(what & PROPERTY for what in across):
        return False
    things = [
        bool(w & THING) or shape(t) == "mark" or bool(_ONE_OF.match(t)) for t, w in zip(heads, across, strict=True)
    ]
    properties = _share(keys, (bool(what & PROPERTY) for what in down))
    if properties >= 0.4 and _share(heads, things) >= 0.5:
        return True
    if properties >= 0.6 and any("unit" in what for what in down):
        return True
    if any(what & {"surface", "product"} for what in across):
        return False
    cells: list[Shape] = [shape(view.text) for row in sheet.rows for n, view in row.cells.items() if n > 0]
    surfaces = _share(keys, ("surface" in what for what in down))
    return surfaces >= 0.5 and (any(things) or most(cells) == "mark")


def _turned(sheet: Sheet) -> Sheet:
    """A table with rows for columns; the name of a group of its rows becomes an outer head."""
    heads: list[tuple[View, ...]] = [()]
    rows = [Row({0: View.join(over, " ")}) for over in sheet.heads[1:]]
    group: tuple[View, ...] = ()
    for row in sheet.rows:
        if row.part == "group":
            group = (row.cells[0],)
        elif row.part == "row":
            for n, turned in enumerate(rows, 1):
                if n in row.cells:
                    turned.cells[len(heads)] = row.cells[n]
            heads.append((*group, row.cells[0]))
    return Sheet(heads, rows, turned=True)


def _fill(sheet: Sheet) -> None:
    """Put what ditto marks stand for into their cells, at the marks' own places: the cell above. Where a table was turned
    that is the cell to the left on its page; it is meant where marks stand in the first line of the page, else it is open."""
    marked = [n for row in sheet.rows for n, view in row.cells.items() if DITTO.fullmatch(view.text)]
    if sheet.turned and min(marked, default=0) > 1:
        return
    above: dict[int, View] = {}
    for row in sheet.rows:
        for n, view in row.cells.items():
            if n in above and DITTO.fullmatch(view.text):
                row.cells[n] = view.replace([(0, len(view.text), above[n].text)])
        if row.part == "row":
            above = {**row.carried, **row.cells}


def _named(sheet: Sheet, means: Means) -> Sheet:
    """A sheet whose numbers before names are one key with them, or, where they only count its rows, stand behind it."""
    numbers, names = _texts(sheet, 0), _texts(sheet, 1) if len(sheet.heads) > 1 else []
    if len(sheet.heads) < 3 or not names or any(row.part in ("child", "head") for row in sheet.rows):
        return sheet
    over = [means(heads[-1].text) if heads else frozenset[str]() for heads in sheet.heads[:2]]
    numbered = sum(bool(_NUMBER.fullmatch(text)) for text in numbers) >= 0.8 * len(numbers) > 0
    if (
        not numbered
        or most(map(shape, names)) not in ("words", "counted")
        or over[0] & (PROPERTY - {"numbers", "places"})
    ):
        return sheet
    if over[1] & (HOLDS - {"places", "products"}) or "surface" in over[1]:
        return sheet
    shared = sheet.heads[0] == sheet.heads[1] != ()
    rooms = "places" in over[1] or (shared and "places" in over[0]) or (not over[1] and _given_to_places(sheet, means))
    if rooms:
        rows = [_with_number(row) for row in sheet.rows]
        return Sheet([sheet.heads[1] or sheet.heads[0], *sheet.heads[2:]], rows, sheet.turned)
    if not (over[0] or all(text.isdigit() for text in numbers)):
        return sheet  # codes that their rows define
    swapped = {0: 1, 1: 0}
    for row in sheet.rows:
        row.cells = dict(sorted((swapped.get(n, n), view) for n, view in row.cells.items()))
        row.carried = dict(sorted((swapped.get(n, n), view) for n, view in row.carried.items()))
    return Sheet([sheet.heads[1], sheet.heads[0], *sheet.heads[2:]], sheet.rows, sheet.turned)


def _given_to_places(sheet: Sheet, means: Means) -> bool:
    """Whether the columns behind the first two are surfaces, or hold codes."""
    heads = [means(heads[-1].text) for heads in sheet.heads[2:] if heads]
    shapes = [most(map(shape, _texts(sheet, n)[:_SAMPLE])) for n in range(2, len(sheet.heads))]
    return any("surface" in what for what in heads) or "mark" in shapes


def _with_number(row: Row) -> Row:
    """A row whose number and name are one cell."""
    for cells in (row.cells, row.carried):
        key = [cells.pop(n) for n in (0, 1) if n in cells]
        moved = {n - 1: view for n, view in cells.items()}
        cells.clear()
        if key:
            cells[0] = View.join(key, " ")
        cells.update(moved)
    return row


def _in_pairs(sheet: Sheet, means: Means) -> Sheet:
    """Labels and values that stand in several columns side by side, one pair to a row."""
    width = len(sheet.heads)
    if width < 4 or width % 2 or any(sheet.heads) or any(row.part != "row" or row.carried for row in sheet.rows):
        return sheet
    kinds: list[frozenset[str]] = []
    for n in range(0, width, 2):
        labels = _texts(sheet, n)
        known = [means(text) for text in labels]
        if not labels or any(shape(text) not in ("words", "counted") for text in labels):
            return sheet
        named = _share(labels, (t.endswith(":") or bool(w & PROPERTY) for t, w in zip(labels, known, strict=True)))
        kinds.append(frozenset({"label"}) if named >= 0.5 else frozenset.intersection(*known) & THING)
    if not frozenset.intersection(*kinds):
        return sheet
    rows = [
        Row({n - first: row.cells[n] for n in (first, first + 1) if n in row.cells}, indent=row.indent)
        for row in sheet.rows
        for first in range(0, width, 2)
        if first in row.cells
    ]
    return Sheet([(), ()], rows)
