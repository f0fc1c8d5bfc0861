"""Sheets of rows and heads, laid so that every row is of one thing: turned, with its key first, one label and value to a row."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from attrs import define

from darby.reading.layout.tables.cells import DITTO, Shape, most, shape
from darby.reading.layout.tables.heads import COMPASS, DWELLINGS, ONE_OF, PROPERTY, THING, Means
from darby.reading.layout.tables.rows import Row
from darby.text.spans import View

SAMPLE = 12
"""Rows looked at to say what the cells of a column are."""
_NUMBER = re.compile(r"[A-Z]{0,3}-?[0-9]{1,4}(?:\.[0-9]{1,3})?[A-Za-z]?")
_BARE = re.compile(r"\[?[0-9]{1,2}\]?(?:\s?\[[0-9]{1,2}\])?")


@define(eq=False)
class Sheet:
    """The rows of a table and the heads over their columns, whichever way it lay on the page."""

    heads: list[tuple[View, ...]]
    rows: list[Row]
    turned: bool = False
    units: bool = False
    """Whether its keys are kinds of dwellings: `Unit type | Kitchen walls | Bath walls`."""


def settled(sheet: Sheet, means: Means, over: View | None = None) -> Sheet:
    """A sheet whose rows are things: turned where its rows were properties, its key in the first column. `over` is the
    heading that the table stands under."""
    corner = _corner(sheet, means)
    named = sheet.heads[0][-1].text if sheet.heads and sheet.heads[0] else ""
    units = DWELLINGS.search(named) is not None
    sheet = _turned(sheet) if _lies_down(sheet, means) or (units and _lettered(sheet)) else sheet
    units = units and (sheet.turned or not _lettered(sheet))
    _fill(sheet)
    sheet = _amounts_last(_in_pairs(_named(sheet, means), means), means, over)
    if corner is not None:
        sheet.heads = [() if n == 0 else (corner, *heads) for n, heads in enumerate(sheet.heads)]
    sheet.units = units
    return sheet


def _lettered(sheet: Sheet) -> bool:
    """Whether its columns are one of several each: `S | J | K`, `Type A | Type B`."""
    heads = _heads(sheet)
    return len(heads) > 1 and all(shape(text) == "mark" or ONE_OF.fullmatch(text) for text in heads)


def _corner(sheet: Sheet, means: Means) -> View | None:
    """The head over the keys, where it names a measure, the other heads name things, and the keys are no numbers."""
    if len(sheet.heads) < 2 or not all(sheet.heads):
        return None
    first, *rest = (means(heads[-1].text) for heads in sheet.heads)
    measured = first & {"measure", "unit"} and not first & {"places", "surfaces"}
    things = all(what & THING and not what & PROPERTY for what in rest)
    return sheet.heads[0][-1] if measured and things and most(map(shape, _texts(sheet, 0))) == "words" else None


def _texts(sheet: Sheet, column: int) -> list[str]:
    return [row.cells[column].text for row in sheet.rows if column in row.cells and row.part != "head"]


def _heads(sheet: Sheet) -> list[str]:
    """The nearest heads of all columns but the first."""
    return [heads[-1].text for heads in sheet.heads[1:] if heads]


def _share(texts: Sequence[str], of: Iterable[bool]) -> float:
    return sum(of) / len(texts) if texts else 0.0


def _lies_down(sheet: Sheet, means: Means) -> bool:
    """Whether the rows of a table are properties and its columns things, so that it has to be turned."""
    heads = _heads(sheet)
    keys = [row.cells[0].text for row in sheet.rows if row.part == "row" and 0 in row.cells]
    whole = all(0 in row.cells and row.part != "child" for row in sheet.rows)
    if len(heads) < 2 or len(heads) + 1 < len(sheet.heads) or len(keys) < 2 or not whole:
        return False
    across = [means(text) for text in heads]
    faced = sum(COMPASS.fullmatch(text) is not None for text in keys) > 1
    down = [means(text) | ({"surface"} if faced and COMPASS.fullmatch(text) else set()) for text in keys]
    if any(what & PROPERTY for what in across):
        return False
    things = [
        bool(w & THING) or shape(t) == "mark" or bool(ONE_OF.match(t)) for t, w in zip(heads, across, strict=True)
    ]
    properties = _share(
        keys, (bool(what & PROPERTY) and not ONE_OF.fullmatch(key) for key, what in zip(keys, down, strict=True))
    )
    if properties >= 0.4 and _share(heads, things) >= 0.5:
        return True
    if properties >= 0.6 and any("unit" in what for what in down):
        return True
    if _share(heads, (bool(what & {"surface", "product"}) for what in across)) >= 0.3:
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
    named = most(map(shape, names)) in ("words", "counted") or "marks" in over[1]
    if not numbered or not named or over[0] & (PROPERTY - {"numbers", "places"}):
        return sheet
    if over[1] & {"remarks", "numbers"} or "surface" in over[1]:
        return sheet
    shared = sheet.heads[0] == sheet.heads[1] != ()
    if "places" in over[1] and numbers == [str(n) for n in range(1, len(numbers) + 1)] and len({*names}) == len(names):
        return _exchanged(sheet)  # they count its rows, and name no room
    rooms = "places" in over[1] or (shared and "places" in over[0]) or (not over[1] and _given_to_places(sheet, means))
    if rooms:
        rows = [_with_number(row) for row in sheet.rows]
        return Sheet([sheet.heads[1] or sheet.heads[0], *sheet.heads[2:]], rows, sheet.turned)
    if not (over[0] & PROPERTY or all(text.isdigit() for text in numbers)):
        return sheet  # codes that their rows define, also below the name of what they are codes of
    return _exchanged(sheet)


def _exchanged(sheet: Sheet) -> Sheet:
    """A sheet with its second column first."""
    order = {0: 1, 1: 0}
    for row in sheet.rows:
        row.cells = dict(sorted((order.get(n, n), view) for n, view in row.cells.items()))
        row.carried = dict(sorted((order.get(n, n), view) for n, view in row.carried.items()))
    return Sheet([sheet.heads[1], sheet.heads[0], *sheet.heads[2:]], sheet.rows, sheet.turned)


def _amounts_last(sheet: Sheet, means: Means, over: View | None) -> Sheet:
    """A sheet of two columns whose amounts stand behind the places that they are said of. Bare numbers take the heading of the
    table for their head, where that names a measure and they do not merely count its rows."""
    if len(sheet.heads) != 2 or any(row.part != "row" or row.carried for row in sheet.rows):
        return sheet
    amounts, places = _texts(sheet, 0), _texts(sheet, 1)
    if any(sheet.heads):
        first, second = (means(heads[-1].text) if heads else frozenset[str]() for heads in sheet.heads)
        return _exchanged(sheet) if first & {"measure", "unit"} and "places" in second else sheet
    if len(amounts) != len(places) or len(places) < 2 or most(map(shape, places)) != "words":
        return sheet
    if all(_BARE.fullmatch(text) for text in amounts):
        counted = amounts == [str(n) for n in range(1, len(amounts) + 1)]
        if over is None or counted or not means(over.text) & {"measure", "unit"}:
            return sheet
        sheet = _exchanged(sheet)
        sheet.heads[1] = (over,)
        return sheet
    where = [what for what in map(means, places) if what & {"surface", "place"} and not what & {"measure", "product"}]
    said = [
        what
        for what in map(means, amounts)
        if what & {"measure", "unit"} and not what & {"surface", "place", "product"}
    ]
    return _exchanged(sheet) if len(said) == len(amounts) and len(where) == len(places) else sheet


def _given_to_places(sheet: Sheet, means: Means) -> bool:
    """Whether the columns behind the first two are surfaces, or hold codes."""
    heads = [means(heads[-1].text) for heads in sheet.heads[2:] if heads]
    shapes = [most(map(shape, _texts(sheet, n)[:SAMPLE])) for n in range(2, len(sheet.heads))]
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
