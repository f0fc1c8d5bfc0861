"""What the desk's pages show, as plain values by name: the job's files, its estimate and what was just done, put together."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import Any

from attrs import field, frozen

from darby.desk.bench import ROLES, Bench, Shown, gone, moves
from darby.desk.files.cells import shown
from darby.desk.files.folder import RefusedError, stamp_of
from darby.desk.files.job_text import JobText
from darby.desk.kept import kept_moves
from darby.desk.panes.bid import begin_view
from darby.desk.panes.books import Books
from darby.desk.panes.grid import HOLDS, digest, measures, row_named, stretch
from darby.desk.panes.holds import holds
from darby.desk.panes.otherwise import may_open_alternates
from darby.desk.panes.problems import told_problems
from darby.documents.catalogue import documents
from darby.documents.letters.own_questions import OwnQuestion
from darby.documents.needs import needs
from darby.documents.rooms import unmet_places
from darby.documents.words import one_line
from darby.estimate.model import Estimate
from darby.job.loader import LISTS, SENDING
from darby.quantities.gc_pause import in_bulk
from darby.saved.model import Saved
from darby.text.files import decode

View = dict[str, Any]

ROLE_NAMES = {"specification": "Specification", "addenda": "Addendum", "house": "Our rates"}
PAPERS = {"order": "order list", "letter": "letter of questions", "scope": "scope note"}
"""What leaves the house, by the table of the job file that says who sends it to whom."""
BIDS = {"bid.html": "a page", "bid.xlsx": "a workbook with live formulas", "bid.md": "markdown", "bid.csv": "a table"}
"""The forms of the bid sheet."""
_OF = {"clarifications": "letter"}
_NAME = 60
"""Letters of a name that is proposed for a room."""


@frozen(eq=False)
class Asked:
    """What a page was asked to show, and what came of the deed before it."""

    document: str = ""
    table: str = "rooms"
    first: int = 0
    """The row of the table from which it is shown, or thereabouts."""
    told: str = ""
    """What was done, in a sentence."""
    refused: str = ""
    """Why it was not done."""
    new: str = ""
    """The name of a room that is to be measured next."""
    typed: Mapping[str, str] = field(factory=dict)
    """What was typed into the form that was refused, so that nothing of it is lost."""


books_of = lru_cache(2)(Books)


@in_bulk()
def page(bench: Bench, asked: Asked, form_key: str, kept: Saved | None = None) -> View:
    """All of a page."""
    state = bench.look()
    now = state.estimate
    books = books_of(now, state.prices) if now is not None else None
    files = bench.files()
    job = _job(bench)
    grid = measures(job, now, state.problems, asked.table, asked.first)
    held = (
        holds(now, books.shelf, asked.first)
        if books is not None and now is not None and grid["table"] == HOLDS
        else None
    )
    return {
        "key": form_key,
        "asked": asked,
        "version": state.version,
        "stamp": state.stamp,
        "exists": bench.folder.read(bench.folder.job) is not None,
        "name": (one_line(str(job.data.get("name", ""))) if job else "") or "Unnamed job",
        "named": bool(job and one_line(str(job.data.get("name", "")))),
        "units": str(job.data.get("units", "us")) if job else "us",
        "estimate": now,
        "stale": state.stale,
        "problems": list(told_problems(state.problems, job)),
        "books": books,
        "counts": {**_counts(now), "aside": len(books.aside) if books is not None else 0},
        "undo": bench.folder.done[-1].what if bench.folder.done else "",
        "redo": bench.folder.undone[-1].what if bench.folder.undone else "",
        "pinned": kept is not None,
        "documents": _documents(bench, files, books, asked),
        "unmeasured": _unmeasured(now) if now is not None and grid["table"] == "rooms" else [],
        "measures": {**grid, **(stretch(held["first"], held["many"]) if held else {})},
        "holds": held,
        "own": list(enumerate(job.items("rules"))) if job else [],
        "asking": list(_asking(job, books)) if job else [],
        "excluded": list(enumerate(job.items("scope", "excluded"))) if job else [],
        "has_bid": job is not None and _has_bid(job),
        "bid_begin": begin_view(now) if now is not None else None,
        "otherwise": _otherwise(job, now),
        "schedules": job.items("schedules") if job else [],
        **_moved(state, kept),
    }


def found_row(bench: Bench, table: str, said: str) -> int | None:
    """The row of a table that is called so."""
    job = _job(bench)
    return row_named(job, table, said) if job is not None else None


def papers(bench: Bench, asked: Asked, form_key: str) -> View:
    """What the page of papers shows: those that leave the house, each with what it says besides the order; then the others."""
    state, job = bench.look(), _job(bench)
    found: dict[str, list[tuple[str, str]]] = {}
    for document in documents():
        first = document.name.partition(".")[0]
        paper = _OF.get(first, first)
        found.setdefault(paper if paper in PAPERS else "", []).append((document.name, document.about))
    sent = []
    for paper, name in PAPERS.items():
        said = job.table(paper) if job else {}
        typed = asked.typed if asked.typed.get("paper") == paper else {}
        fields = [(key, key.replace("_", " ").capitalize(), one_line(typed.get(key, shown(said.get(key, ""))))) for key in SENDING[paper] if key not in LISTS]  # fmt: skip
        sent.append({"paper": paper, "name": name, "was": digest(said), "fields": fields, "kinds": found[paper]})
    return {
        "key": form_key, "asked": asked, "sent": sent, "others": found[""], "bids": BIDS if job is not None and _has_bid(job) else {}, "there": state.estimate is not None,
        "name": one_line(state.estimate.job.name) or "Unnamed job" if state.estimate is not None else "Unnamed job",
        "stale": state.stale, "problems": [one_line(f"{d.message}. {d.help}") for d in state.problems],
    }  # fmt: skip


def _has_bid(job: JobText) -> bool:
    """Whether the job states any terms of a bid."""
    return bool(job.table("bid").keys() - {"take"})


def _job(bench: Bench) -> JobText | None:
    try:
        return JobText.of(bench.folder.text(bench.folder.job))
    except RefusedError:
        return None


def _asking(job: JobText, books: Books | None) -> Iterator[View]:
    """The questions of her own as the job file has them, each with what is known of it."""
    known = books.own_questions if books is not None else {}
    for number, line in enumerate(job.items("letter", "questions")):
        one = OwnQuestion.of(line)
        rest = known.get(one.text, {"field": f"y{number}", "at": None, "gone": False, "answer": ""})
        yield {"number": number, "line": line, "text": one.text, "words": one.words, **rest}


@lru_cache(2)
def _unmeasured(now: Estimate) -> list[str]:
    """Places that documents speak of and nobody has measured yet, as a room may be called."""
    return [f"{place[:1].upper()}{place[1:]}" for place in map(one_line, unmet_places(now)) if len(place) <= _NAME]


def _otherwise(job: JobText | None, now: Estimate | None) -> str:
    """What may be made otherwise and held beside the order: alternates of the documents, ways that the job names, or both."""
    ways = job is not None and bool(job.table("bid").get("ways"))
    alternates = now is not None and may_open_alternates(now)
    return " and ".join(filter(None, ("alternates" * alternates, "other ways of doing the work" * ways))).capitalize()


def _counts(now: Estimate | None) -> View:
    if now is None:
        return {"lines": 0, "questions": 0, "confirm": 0, "conflicts": 0, "unread": 0}
    return {
        "lines": len(needs(now)), "questions": len(now.questions), "confirm": len(now.confirmations),
        "conflicts": len(now.conflicts), "unread": len(now.unread),
    }  # fmt: skip


def _moved(state: Shown, kept: Saved | None) -> View:
    """What moved since the page before, and since the order that was kept, by line."""
    now = state.estimate
    last, pin = moves(state.before, now), kept_moves(kept, now)
    first = state.before is None or now is None or not state.before.items  # a first order is no change of one
    if first:
        last = {}
    lines = [[item.id for item in need.items] for need in books_of(now, state.prices).needs] if now is not None else []
    return {
        "moved": [next((last[name] for name in ids if name in last), None) for ids in lines],
        "since": [next((pin[name] for name in ids if name in pin), None) for ids in lines],
        "gone": gone(last.values(), now) if now is not None else [],
        "gone_since": gone(pin.values(), now) if now is not None else [],
        "moved_told": "" if state.stale or now is None else _told_first(now) if first else _told_moves(len(last)),
    }


def _told_first(now: Estimate) -> str:
    """What is said of an order where there was none before."""
    many = len(needs(now))
    return f"{many} line{'s' * (many > 1)} to order now." if many else ""


def _told_moves(count: int) -> str:
    return "No line of the order moved." if not count else f"{count} line{'s' * (count > 1)} of the order moved."


def _documents(bench: Bench, files: list[tuple[str, str]], books: Books | None, asked: Asked) -> View:
    """The tabs of the documents, and the one that is shown, with its marks and its text."""
    names = [(name, ROLE_NAMES[role], role) for name, role in files]
    names.append((bench.folder.job, "The job file", "job"))
    known = [name for name, _, _ in names]
    open_now = asked.document if asked.document in known else known[0]
    found: View = {"tabs": names, "open": open_now, "role": next(r for n, _, r in names if n == open_now), "text": None, "stamp": "", "error": ""}  # fmt: skip
    try:
        data = bench.folder.read(open_now)
        source, _ = decode(data, open_now) if data else (None, ())
        found["stamp"] = stamp_of(data)
        if data is None or (source is not None and source.unit == "line"):
            found["text"] = bench.folder.text(open_now)
    except RefusedError as refused:
        found["error"] = str(refused)
    found["marked"] = books.marked(open_now) if books is not None else None
    found["roles"] = [(role, ROLE_NAMES[role]) for role in ROLES]
    return found
