"""The workbook: the order as live formulas over named cells of what was measured and what the clauses say.

Sheets: the order, the working step by step, the measured rows, the rules with their clauses, the open points, the rooms, and what
trades hand over beside their lines. There are no macros and no links to outside. Formulas carry Darby's own values, so that a viewer that does not calculate shows them.
"""

from __future__ import annotations

import io

from darby.documents.page.dates import inputs as dated
from darby.documents.rooms import Told
from darby.documents.words import one_line
from darby.documents.workbook.attached_sheet import DRAWINGS, attached, heads_of, write_drawings, write_table
from darby.documents.workbook.follows import alert
from darby.documents.workbook.formulas import Inputs, numbers_said
from darby.documents.workbook.measured_sheet import measured_heads, write_measured, write_others
from darby.documents.workbook.open_points_sheet import OPEN, write_open_points
from darby.documents.workbook.order_sheet import ORDER, WORKING, write_order
from darby.documents.workbook.rooms_sheet import rooms_heads, write_rooms
from darby.documents.workbook.rules_sheet import RULES, write_rules
from darby.documents.workbook.sheets import Page, styles
from darby.estimate.document_format import Document
from darby.estimate.model import Estimate
from darby.estimate.working import working
from darby.quantities.gc_pause import in_bulk


@in_bulk()
def make(estimate: Estimate) -> bytes:
    """The workbook as a file."""
    from datetime import datetime  # noqa: PLC0415

    from xlsxwriter import Workbook  # noqa: PLC0415 - dear, and wanted by nobody else

    stream = io.BytesIO()
    book = Workbook(
        stream,
        {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False},
    )
    # Equal estimates give equal files, so that a file says nothing but what the estimate says: no clock is read.
    made_from = "; ".join(f"{one['name']} ({one['checksum']})" for one in dated(estimate))
    title = one_line(estimate.job.name)[:200]
    book.set_properties({"title": title, "comments": f"Made from {made_from}"[:2000], "created": datetime(1980, 1, 1)})
    looks = styles(book)
    order, steps, measured, rules, open_points = (
        Page(book, name, looks) for name in ("Order", "Working", "Measured", "Rules", "Open_points")
    )
    open_points.widest = 90
    inputs, said = Inputs(), numbers_said(estimate)
    worked = {id(item): working(item, estimate.rules) for item in estimate.items}
    rows = write_measured(measured, estimate, inputs)
    of_rules = write_rules(rules, estimate, inputs, said)
    write_others(measured, inputs, said)
    measured.filter(len(measured_heads(estimate.job)))
    of_lines = write_order(order, steps, estimate, inputs, worked, rows, looks)
    alert(order, 2, (of_lines, rows.follows, of_rules))
    write_open_points(open_points, estimate)
    told = Told(estimate)
    if told.table.used:
        rooms = Page(book, "Rooms", looks)
        write_rooms(rooms, told)
        rooms.finish(rooms_heads(told))
    us = estimate.job.units == "us"
    tables, drawings = attached(estimate)
    for number, (line, table) in enumerate(tables, 1):
        page = Page(book, f"Table_{number}", looks)
        write_table(page, table, line, us=us)
        page.finish(heads_of(table))
    if drawings:
        page = Page(book, "Drawings", looks)
        write_drawings(page, drawings, us=us)
        page.finish(DRAWINGS)
    for page, heads in (
        (order, ORDER),
        (steps, WORKING),
        (measured, measured_heads(estimate.job)),
        (rules, RULES),
        (open_points, OPEN),
    ):
        page.finish(heads)
    book.close()
    return stream.getvalue()


DOCUMENT = Document("xlsx", "a workbook with live formulas", make)
