"""A firm's own rates as a report for the eye, and as files of lines to look through and put beside a job."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from darby.bid.history.own_rates import WASTE, OwnRate, figure
from darby.documents.exact_json.parts import Json, start_json
from darby.documents.letters.prose import Block, Heading, Paragraph, Prose, Table, entries
from darby.documents.words import listed, one_line, place
from darby.quantities.numerals import rounded

SCHEMA = "darby.history/1"
_HOW = "Nothing here is used until you put a line into a house file or a file of production rates yourself."


def write(rates: Sequence[OwnRate]) -> Prose:
    """The report."""
    return Prose("Own rates from finished jobs", tuple(_blocks(rates)))


def _blocks(rates: Sequence[OwnRate]) -> Iterator[Block]:
    if not rates:
        yield Paragraph("The files have no rows.")
        return
    yield Paragraph(_HOW)
    rows = [
        (called(one), one.form, str(one.jobs), figure(one.median) if one.jobs else "", *_spread(one), _left(one))
        for one in rates
    ]
    heads = ("", "Told as", "Jobs", "Median", "Middle half", "Least to most", "Left over")
    yield Table(heads, tuple(rows), frozenset({2, 3, 4, 5, 6}))
    for title, works in (("Lines for a house file", False), ("Production rates", True)):
        lines = [one.line for one in rates if one.line and one.works is works]
        if lines:
            yield Heading(title)
            yield entries(lines)
    told = list(_to_look_at(rates))
    if told:
        yield Heading("Look at these")
        yield entries(told)


def _to_look_at(rates: Iterable[OwnRate]) -> Iterator[str]:
    for one in rates:
        if one.far:
            jobs = listed(f"{one_line(f.job)} ({figure(f.value)}; {place(f.rows[0].span)})" for f in one.far)
            yield (
                f"{called(one)}: far from the others, and counted: {jobs}. If one is not like your work, write why into its column “leave out”."
            )
        if one.left_out:
            rows = listed(f"{one_line(row.job)} ({place(row.span)}): {one_line(row.left_out)}" for row in one.left_out)
            yield f"{called(one)}: not counted, {rows}."
        if one.why_not:
            yield f"{called(one)}: no line is proposed. {one.why_not}"


def called(one: OwnRate) -> str:
    """A thing and what is said of it."""
    return one_line(", ".join((one.name, *(f"{k} {v}" if v.isdigit() else v for k, v in one.about.items()))))


def _spread(one: OwnRate) -> tuple[str, str]:
    middle = f"{figure(one.middle[0])} to {figure(one.middle[1])}" if one.middle is not None else ""
    return middle, f"{figure(one.figures[0].value)} to {figure(one.figures[-1].value)}" if one.jobs > 1 else ""


def _left(one: OwnRate) -> str:
    return f"{rounded(one.left * 100, 1)} %" if one.left is not None else ""


def lines(rates: Iterable[OwnRate], *, works: bool) -> str:
    """A file of the lines that are proposed, each under a remark with its spread: production rates, or lines of the house."""
    out = [f"# {_HOW}"]
    for one in rates:
        if one.works is works and one.line:
            spread = "; ".join(
                f"{label} {text}" for label, text in zip(("middle half", "in all"), _spread(one), strict=True) if text
            )
            out += [
                "",
                f"# {called(one)}: {one.jobs} jobs, {spread}, {one.form if one.form != WASTE else '% waste'}",
                one.line,
            ]
    return "\n".join(out) + "\n"


def rates_json(rates: Iterable[OwnRate]) -> Json:
    """The same as plain data, figures as exact fractions."""
    return {"schema": SCHEMA, "rates": [_rate(one) for one in rates]}


def _rate(one: OwnRate) -> Json:
    middle = one.middle
    return {
        "name": one.name, "work": one.works, "about": dict(one.about), "form": one.form, "jobs": one.jobs,
        "median": str(one.median) if one.jobs else None,
        "middle": [str(value) for value in middle] if middle is not None else None,
        "left": str(one.left) if one.left is not None else None,
        "figures": [{"job": f.job, "value": str(f.value), "rows": [start_json(r.span) for r in f.rows]} for f in one.figures],
        "far": [f.job for f in one.far],
        "left_out": [{"job": row.job, "why": row.left_out, "row": start_json(row.span)} for row in one.left_out],
        "line": one.line, "why_not": one.why_not,
    }  # fmt: skip
