"""The sheet of rooms: what holds in each, where it is said, and what is open about it."""

from __future__ import annotations

from darby.documents.rooms import ROOM_HEADS, Told, before, name_of, places_behind, short
from darby.documents.workbook.sheets import Page


def rooms_heads(told: Told) -> tuple[str, ...]:
    """The heads of the sheet: those of the trades, then the clauses and what is open."""
    return (*ROOM_HEADS, *told.heads(), "Clauses", "Open")


def write_rooms(page: Page, told: Told) -> None:
    """A row a room, and one for the walls that differ from its others."""
    heads = rooms_heads(told)
    says = "What holds in each room, and in walls that differ from its others. The clauses stand in the order of the columns."
    page.start("Rooms", says, heads, us=told.estimate.job.units == "us")
    for line in told.table.lines:
        cells = told.cells(line)
        held = [one for cell in cells for one in cell]
        clauses = dict.fromkeys(short(span) for one in held for _, span in places_behind(one))
        doubts = dict.fromkeys(doubt for one in held if (doubt := told.doubt(one)))
        page.texts((name_of(line), *before(line), *map(told.text, cells), "; ".join(clauses), " ".join(doubts)))
    page.filter(len(heads))
