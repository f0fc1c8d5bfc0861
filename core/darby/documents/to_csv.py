"""Everything tabular of the estimate as CSV, one table a document; `tables` states the dialect."""

from __future__ import annotations

from darby.documents import checks
from darby.documents.confirmations import read_as, without
from darby.documents.rooms import ROOM_HEADS, Told, before, name_of, places_behind, short
from darby.documents.tables import Cell, Column, Sheet, csv_document
from darby.documents.words import clause_number, content_of, kind_of, one_line, says, sentence
from darby.estimate.model import Estimate
from darby.estimate.working import working
from darby.job.model import Job
from darby.job.own_tables import said
from darby.quantities.amounts import Amount
from darby.quantities.units import AREA, LENGTH, NUMBER_ONLY, preferred
from darby.text.spans import Span

_PLACE = ("file", "line")
_KINDS = (LENGTH, AREA, NUMBER_ONLY)
"""What an amount under a key of a trade's table measures, in the order of the columns."""


def lines(estimate: Estimate) -> Sheet:
    """What to order: one row a line, the need before rounding and the packages."""
    rows: list[tuple[Cell, ...]] = []
    for number, item in enumerate(estimate.items, 1):
        need, content = item.need.in_system(estimate.job.units), content_of(item)
        rows.append(
            (
                number, item.id, item.trade, item.product, kind_of(item), need.value, need.unit.name, item.count, item.container,
                content.value if content is not None else None, content.unit.name if content is not None else "", " ".join(item.notes),
            )
        )  # fmt: skip
    names = "no.|id|trade|product|kind|needed|unit|order|package|holds|holds unit|notes".split("|")
    return _sheet("lines", names, rows, exact=("needed", "holds"))


def steps(estimate: Estimate) -> Sheet:
    """The longhand of every line, one row a step."""
    rows: list[tuple[Cell, ...]] = []
    for item in estimate.items:
        for number, line in enumerate(working(item, estimate.rules), 1):
            places = [o.place for o in line.origins if o.place is not None]
            told = "; ".join(
                f"{p.source.name}:{p.line}" if p.source.unit == "line" else f"{p.source.name}, {p.where}"
                for p in places
            )
            by = line.rule.layer.name if line.rule is not None else ""
            rows.append((item.id, number, line.label, line.text, line.amount.value, line.amount.unit.name, told, by))
    names = "id|step|label|made of|value|unit|from|layer".split("|")
    return _sheet("working", names, rows, exact=("value",))


def measured(estimate: Estimate) -> Sheet:
    """What was measured: surfaces, openings and corners, and what tables of trades say, with the line of the job that gives each."""
    rows: list[tuple[Cell, ...]] = []
    job = estimate.job
    for s in job.measured:
        sides = (s.length, s.height, s.area)
        rows.append((s.kind, s.name, s.room, "", *(_value(a, job) for a in sides), s.faces.value, *_place(s.span)))
    for s in job.measured:
        for o in s.openings:
            sides = (o.width, o.height, o.each)
            rows.append(
                ("opening", o.name, s.room, s.name, *(_value(a, job) for a in sides), o.count.value, *_place(o.span))
            )
    rows += [
        (f"{c.kind} corner", "", c.room, "", None, _value(c.height, job), None, c.count.value, *_place(c.span))
        for c in job.corners
    ]
    for e in job.own:
        if e.surface is None:
            rows.append((e.table, e.name, e.room, "", None, None, None, None, *_place(e.span)))
        for key, words, amount, span in said(e):
            cells = [_value(amount if amount is not None and amount.unit.dimension == d else None, job) for d in _KINDS]
            rows.append((key, words, e.room, e.name, cells[0], None, *cells[1:], *_place(span)))
    length, area = ("ft", "sq ft") if job.units == "us" else ("m", "m2")
    sides_named = (f"length or width ({length})", f"height or second side ({length})", f"area of one ({area})")
    names = ("what", "name", "room", "in", *sides_named, "faces or count", *_PLACE)
    return _sheet("measured", names, rows, exact=sides_named)


def rules(estimate: Estimate) -> Sheet:
    """Every rule read for the job, used or not, with its clause."""
    rows: list[tuple[Cell, ...]] = []
    for rule in estimate.rules:
        parts: list[Cell] = []
        for amount in (rule.amount, rule.upper, rule.by, rule.per):
            parts += [amount.value, amount.unit.name] if amount is not None else [None, ""]
        rows.append(
            (
                rule.kind.name, rule.subject, str(rule.scope), rule.bound, *parts, says(rule), rule.layer.name, rule.cited,
                clause_number(rule.span), one_line(rule.span.text), *_place(rule.span),
            )
        )  # fmt: skip
    amounts = "amount|unit|up to|up to unit|by|by unit|per|per unit".split("|")
    names = ("kind", "subject", "scope", "bound", *amounts, "says", "layer", "source", "clause", "words", *_PLACE)
    return _sheet("rules", names, rows, exact=("amount", "up to", "by", "per"))


def open_points(estimate: Estimate) -> Sheet:
    """Measures to check, readings to confirm, questions, assumptions, conflicts and numbers not read, each with its place."""
    rows: list[tuple[Cell, ...]] = [
        ("measure to check", "", f"{checks.told(d)} {d.help}", *_place(d.span), "") for d in estimate.checks
    ]
    for one in estimate.confirmations:
        text = f"{read_as(one)}. {sentence(one.why)} {without(one, estimate)}"
        rows.append(("to confirm", one.rules[0].layer.name, text, *_place(one.place), " ".join(one.items)))
    rows += [("question", q.to, q.text, *_place(q.place), " ".join(q.items)) for q in estimate.questions]
    rows += [("assumption", a.answer.layer.name, a.text, *_place(a.answer.rule.span), "") for a in estimate.assumptions]
    for c in estimate.conflicts:
        said = " / ".join(f"{says(r)} ({r.span})" for r in (c.used, *c.others))
        rows.append(
            ("conflict", "", f"{c.asked.subject}, {c.asked.kind}: {said}; the first is used", *_place(c.used.span), "")
        )
    for span, why in estimate.unread:
        rows.append(("not read", "", f"{span.text}: {why}", *_place(span), ""))
    return _sheet("open", ("what", "to or from", "text", *_PLACE, "lines it moves"), rows)


def rooms(estimate: Estimate) -> Sheet:
    """The rooms, one row each, and the walls that differ; behind each column where it is said, and what is open about it."""
    told = Told(estimate)
    rows: list[tuple[Cell, ...]] = []
    for line in told.table.lines:
        cells: list[Cell] = [name_of(line), *before(line)]
        for cell in told.cells(line):
            places = dict.fromkeys(short(span) for held in cell for _, span in places_behind(held))
            doubts = dict.fromkeys(doubt for held in cell if (doubt := told.doubt(held)))
            cells += [told.text(cell), "; ".join(places), " ".join(doubts)]
        rows.append(tuple(cells))
    heads = [name for head in told.heads() for name in (head, f"{head}: clause", f"{head}: open")]
    return _sheet("rooms", [*ROOM_HEADS, *heads], rows)


def _sheet(
    name: str, columns: tuple[str, ...] | list[str], rows: list[tuple[Cell, ...]], exact: tuple[str, ...] = ()
) -> Sheet:
    return Sheet(name, tuple(Column(c, exact=c in exact) for c in columns), tuple(rows))


def _value(amount: Amount | None, job: Job) -> Cell:
    """An amount in the unit that the heads name, whatever it was measured in: 144 in. are 12 ft."""
    if amount is None:
        return None
    usual = preferred(amount.unit.dimension, job.units)
    return amount.to(usual).value if usual is not None else amount.value


def _place(span: Span | None) -> tuple[Cell, Cell]:
    return (span.source.name, span.line) if span is not None else ("", None)


DOCUMENTS = (
    csv_document("csv", "the lines to order, a table", lines),
    csv_document("working.csv", "the working of every line, a table", steps),
    csv_document("measured.csv", "what was measured, a table", measured),
    csv_document("rooms.csv", "the rooms and what holds in each, a table", rooms),
    csv_document("rules.csv", "every rule read, a table", rules),
    csv_document(
        "open.csv",
        "measures to check, readings to confirm, questions, assumptions, conflicts and numbers not read, a table",
        open_points,
    ),
)
