"""The estimate for the eye: what is open, what to look at before anything is ordered, the order, then all that it rests on."""

from __future__ import annotations

from rich.console import Console
from rich.text import Text

from darby.documents.needs import needs
from darby.documents.open_points import OpenPoints, counted
from darby.documents.rooms import strangers
from darby.documents.terminal import open_points
from darby.documents.terminal.order import show_order
from darby.documents.terminal.parts import plain, safe, tell, written
from darby.estimate.document_format import Document
from darby.estimate.model import Estimate


def show(estimate: Estimate, console: Console, *, notes: bool = False, defaults: bool = False) -> None:
    """Print the whole estimate; with `notes` what explains its lines, with `defaults` what stood in for the documents."""
    points = OpenPoints(estimate)
    if estimate.job.name:
        console.print(Text(safe(estimate.job.name), style="bold"))
    if not estimate.complete:
        missing = ", ".join(estimate.missing)
        text = f"Incomplete: the lines of {missing} are missing, since that part failed. The reason stands below."
        console.print(Text(safe(text), style="bold red"))
    counts = ", ".join(points.counts())
    tell(console, Text(f"Open: {counts}." if counts else "Nothing is open.", style="bold yellow" if counts else ""))
    for line in strangers(estimate):
        tell(console, line)
    open_points.to_check(estimate, console)
    open_points.to_look_at(points, console)
    open_points.to_confirm(estimate, console)
    open_points.not_read(estimate, console)
    show_order(estimate, console, notes=notes)
    open_points.conflicts(estimate, console)
    open_points.questions(points, console)
    open_points.supplied(points, console, listed=defaults)
    open_points.to_know(points, console)
    open_points.take_care(estimate, console)
    console.print()
    tell(console, tally(estimate))


def make(estimate: Estimate) -> str:
    """The same as plain text, 100 columns wide."""
    console, stream = plain()
    show(estimate, console)
    return written(stream)


DOCUMENT = Document("terminal", "the order list and all that is open, for the eye", make)


def tally(estimate: Estimate) -> str:
    """One line that counts everything."""
    points = OpenPoints(estimate)
    parts = (
        counted(len(needs(estimate)), "line to order", "lines to order"),
        *(points.counts() or ("nothing open",)),
        *([counted(len(points.house), "house line used", "house lines used")] if points.house else []),
        *([counted(len(points.defaults), "default used", "defaults used")] if points.defaults else []),
        *([counted(len(points.notes), "remark")] if points.notes else []),
    )
    return ", ".join(parts) + "."
