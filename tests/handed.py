"""The demo's estimate, for tests of what is handed over; and text that would do harm if a document let it."""

from __future__ import annotations

from functools import cache
from typing import Any

import made
from darby.cli.shared.jobs import DEMO, Wanted, estimate_of
from darby.documents.catalogue import documents
from darby.documents.exact_json.estimate import estimate_json
from darby.estimate.line_item import LineItem
from darby.estimate.model import Assumption, Estimate, Question
from darby.estimate.trade import Caution
from darby.job.model import Job
from darby.quantities.amounts import Amount
from darby.rules.answer import Answer, Asked
from darby.rules.rule import DEFAULT, SPECIFICATION, Scope
from darby.text.spans import Source


@cache
def demo() -> Estimate:
    made_of = estimate_of(Wanted(DEMO))
    assert made_of.estimate is not None, made_of.problems
    return made_of.estimate


@cache
def demo_json() -> dict[str, Any]:
    return estimate_json(demo())


def document(name: str, estimate: Estimate | None = None) -> str | bytes:
    """A document by the name `--format` takes."""
    (found,) = (d for d in documents() if d.name == name)
    return found.make(estimate or demo())


def text(name: str, estimate: Estimate | None = None) -> str:
    made_of = document(name, estimate)
    assert isinstance(made_of, str)
    return made_of


def table(name: str, estimate: Estimate | None = None) -> bytes:
    made_of = document(name, estimate)
    assert isinstance(made_of, bytes)
    return made_of


NASTY = (
    "<script>document.title='owned'</script>",
    "<img src=x onerror=\"document.title='owned'\">",
    '"><svg onload=document.title=1>',
    "</style></script><b>bold</b>",
    "{{ 7*7 }}{% raw %}",
    '=HYPERLINK("http://example.invalid","click")',
    "+1+cmd|' /C calc'!A0",
    "-2+3",
    "@SUM(A1:A9)",
    "\t=1+1",
    "\uff1d1+1",
    "'quoted",
    "[link](javascript:alert(1)) ![x](http://example.invalid/x.png) **loud** `code`",
    "\x1b[31mred\x1b]0;title\x07 \x9b2J",
    "\u202egnihtyna\u2066 zero\u200bwidth",
    "nul \x00 and bell \x07 and \ufffe and \ud800",
    "../../etc/passwd",
    "C:\\Windows\\system32",
    "line\r\nbreak\u2028here",
    "]]>&amp;<!--",
)
"""One text for each door: markup, script, templates, formulas, Markdown, terminal controls, direction marks, paths."""


def hostile(nasty: str) -> Estimate:
    """An estimate in which every text that comes from outside is one that would do harm."""
    source = Source(nasty, f"2.01 {nasty}\nA. Primer: 250 sq ft per gallon. {nasty}\nB. Apply 840 of {nasty}.\n")
    spread = made.said(source, "250 sq ft per gallon", "coverage", "primer", "250 sq ft", per="1 gal", where=nasty)
    assumed = made.said(made.DEFAULTS, "Primer: 1 gal cans.", "package", "primer", "1 gal", per="1 can", layer=DEFAULT)
    wall = made.surface("north wall", "24 ft", 1)
    need = (wall.area * Amount.of(1) / spread.rate).named(nasty)
    item = LineItem("primer " + nasty, need, {"room": nasty}, assumed.rate, nasty, (spread,), notes=(nasty,))
    at = source.text.index("840")
    place = source.span(at, at + 3)
    return made.estimate(
        job=Job(nasty, "us", (wall,), source=Source(nasty, made.JOB.text)),
        items=(item, LineItem(nasty, Amount.of(3), {}, None, "x")),
        rules=(spread, assumed),
        assumptions=(Assumption(nasty, Answer(Asked("package", "primer", Scope({"room": nasty})), assumed)),),
        questions=(
            Question(nasty, "specifier", assumed.span, (item.id,)),
            Question(nasty, "supplier", spread.span, (item.id,)),
        ),
        cautions=(Caution(nasty, nasty, nasty),),
        conflicts=(),
        missing=(nasty,),
        unread=((place, nasty),),
        set_aside=((source.span(0, 4), nasty),),
        papers=((source, SPECIFICATION),),
    )
