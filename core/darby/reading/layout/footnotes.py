"""Footnotes of tables: the cells that cite them and the clauses that they are, each told of the other."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from attrs import evolve

from darby.reading.layout.clause import Apart, Cell, Citation, Clause, Table

_FAR = 80
"""Clauses below a table among which its footnotes are sought."""
_ONE = r"\((?:[a-z]|[ivx]{2,4}|[0-9]{1,2})\)|\[[0-9]{1,2}\]|\*{1,3}|[†‡§]|[¹⁴⁵⁶⁷⁸⁹]|(?<!m)(?<!ft)(?<!in)(?<!yd)[²³]"
_AND = r"(?:\s?(?:,|&|and)\s?|\s{0,2})"
_CITED = re.compile(rf"(?:(?<=\S)\s{{0,2}}|^)(?:{_ONE})(?:{_AND}(?:{_ONE})){{0,5}}$")
"""Marks at the end of a cell: `PT-1 *`, `Lobby (a)`, `(1)(2)`."""
_NOTED = re.compile(
    r"(?:\(?(?:see\s)?(?:notes?|remarks?)\s(?:no\.?\s)?)(?:[a-z]|[0-9]{1,2})(?:\s?(?:,|&|and)\s?(?:[a-z]|[0-9]{1,2})){0,5}\)?$",
    re.IGNORECASE,
)
"""`See notes 1 and 2` at the end of a cell."""
_BARE = re.compile(r"(?:[a-zA-Z]|[0-9]{1,2})(?:\s?(?:,|&|and)\s?(?:[a-zA-Z]|[0-9]{1,2})){0,5}\.?")
"""What a column of remarks may hold instead: `1, 3`."""
_KEY = re.compile(r"(?<![A-Za-z0-9])(?:[A-Za-z]|[ivx]{2,4}|[0-9]{1,2})(?![A-Za-z0-9])|\*{1,3}|[†‡§¹²³⁴⁵⁶⁷⁸⁹]")
_DEFINED = re.compile(
    r"(?:(?:note|remark)\s(?:no\.?\s)?(?P<note>[A-Za-z]|[0-9]{1,2})\s?[:.)–—-]|\((?P<bracket>[a-z]|[ivx]{2,4}|[0-9]{1,2})\)\s"
    r"|\[(?P<square>[0-9]{1,2})\]\s|(?P<equal>[a-z]|[0-9]{1,2})\s?[=:–—]\s|(?P<sign>\*{1,3}|[†‡§¹²³⁴⁵⁶⁷⁸⁹]))\s?(?=\S)",
    re.IGNORECASE,
)
"""What opens a footnote that has no label of its own: `Note 2: ...`, `(b) ...`, `¹ ...`."""
_LABEL = re.compile(r"[(\[]?(?:[a-z]|[ivx]{2,4}|[0-9]{1,2}|\*{1,3})[)\].:]{0,2}", re.IGNORECASE)
_TITLE = re.compile(r"(?:[a-z]+\s)?(?:notes?|remarks?)\s?:?", re.IGNORECASE)
_LONE = re.compile(r"(?P<key>[A-Z]|[0-9]{1,2})\s(?=[A-Z0-9])")
"""A mark that nothing parts from its footnote, below a title for them: `A Level 5 finish.`"""
_RAISED = str.maketrans("¹²³⁴⁵⁶⁷⁸⁹", "123456789")


def tell_footnotes(clauses: Sequence[Clause]) -> Iterator[Apart]:
    """Give the cells of tables the footnotes that they cite, and footnotes the rows that cite them; the marks in the cells
    are no part of what these say."""
    ends: dict[int, tuple[Table, int]] = {}
    for number, clause in enumerate(clauses):
        if clause.table is not None:
            ends[id(clause.table)] = clause.table, number
    for table, end in ends.values():
        cited = {key for row in table.rows for cell in row.cells for key in _cites(cell)[0]}
        cited |= {key for column in table.columns for head in column.heads[-1:] for key in _keys(head.text, False)[0]}
        notes = _definitions(clauses, end + 1, cited) if cited else {}
        if 2 * len(notes) >= len(cited):
            for row in table.rows if notes else ():
                yield from _told(row, notes)
            for note in notes.values():  # one footnote is no heading of the next
                note.parents = tuple(parent for parent in note.parents if not parent.cited_by)


def _keys(text: str, bare: bool) -> tuple[list[str], int]:
    """The footnotes that a text cites and where that begins; nothing and its end where it cites none."""
    found = _CITED.search(text) or _NOTED.search(text) or (_BARE.fullmatch(text) if bare else None)
    if found is None:
        return [], len(text)
    return [key.translate(_RAISED).lower() for key in _KEY.findall(found[0])], found.start()


def _cites(cell: Cell) -> tuple[list[str], int]:
    if cell.again:
        return [], len(cell.view.text)
    return _keys(cell.view.text, cell.column is not None and cell.column.role == "remarks")


def _definitions(clauses: Sequence[Clause], start: int, cited: set[str]) -> dict[str, Clause]:
    """The first clause below a table for each footnote that is cited."""
    notes: dict[str, Clause] = {}
    titled = False
    for clause in clauses[start : start + _FAR]:
        titled = titled or _TITLE.fullmatch(clause.text.strip()) is not None
        lone = _LONE.match(clause.text) if titled and not clause.cells and not clause.label else None
        key = lone["key"].lower() if lone is not None else _defines(clause)
        if key in cited:
            notes.setdefault(key, clause)
        if len(notes) == len(cited):
            break
    return notes


def _defines(clause: Clause) -> str:
    """The mark of the footnote that a clause may be, "" where it opens with none."""
    if clause.heading:
        return ""
    if clause.cells:
        key = clause.cells[0].view.text
        return key.strip("()[].: ").lower() if len(clause.cells) == 2 and _LABEL.fullmatch(key) else ""
    if _LABEL.fullmatch(clause.label):
        return clause.label.strip("()[].: ").lower()
    found = None if clause.label else _DEFINED.match(clause.text)
    return (found[found.lastgroup or 0]).translate(_RAISED).lower() if found else ""


def _told(row: Clause, notes: dict[str, Clause]) -> Iterator[Apart]:
    """A row's cells with their footnotes; marks are cut off the cells that say something besides."""
    cells: list[Cell] = []
    for number, cell in enumerate(row.cells):
        keys, start = _cites(cell)
        own = tuple(notes[key] for key in keys if key in notes)
        heads = cell.column.heads[-1:] if cell.column is not None else ()
        over = tuple(notes[key] for head in heads for key in _keys(head.text, False)[0] if key in notes)
        whole = number == 0 or (cell.column is not None and cell.column.role == "remarks")
        if own and whole:
            row.notes = (*row.notes, *own)
        if own:
            yield Apart(cell.view.span(start, len(cell.view.text)), "the mark of a footnote")
        cells.append(_without_marks(cell, start, over if whole else (*own, *over), cites=bool(own)))
    row.cells = tuple(cells)
    for cell in row.cells:
        for note in cell.notes:
            note.cited_by = (*note.cited_by, Citation(row, cell))
    for note in row.notes:
        note.cited_by = (*note.cited_by, Citation(row))


def _without_marks(cell: Cell, start: int, notes: tuple[Clause, ...], *, cites: bool) -> Cell:
    """A cell with its footnotes; its text ends before the marks, unless it holds nothing else."""
    said = cell.view.text[:start].rstrip(" ,") if cites else cell.view.text
    if not said:
        return evolve(cell, again=True, notes=notes)
    return evolve(cell, view=cell.view.cut(0, len(said)) if cites else cell.view, notes=notes)
