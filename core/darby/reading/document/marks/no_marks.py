"""Codes that look like marks of systems and number something else: clauses, notes, sheets, the items of an addendum, sections."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from itertools import pairwise

from darby.reading.document.marks.mark_openings import LABEL, ONE_CODE, OPENS, SINGLE_BEFORE, SINGLE_BEHIND
from darby.reading.layout.clause import Clause
from darby.reading.parsing.tagging.letters import capitals_of
from darby.reading.parsing.tagging.tag import Tag
from darby.text.spans import View

Tags = Sequence[Tag]


def itemised(code: str, clauses: Sequence[Clause], tags: Callable[[View], Tags]) -> bool:
    """Whether codes of one sort only number the items of an addendum: those that open with them speak of sections and sheets."""
    stem = OPENS.match(code + " ")
    if stem is None:
        return False
    opened = [c.cells[:2][-1].view if c.cells else c.view for c in clauses if _opens(c) == stem["stem"]]
    return len(opened) > 1 and 2 * sum(_cites(tags(v)[:_EARLY]) for v in opened) > len(opened)


def _cites(tags: Tags) -> bool:
    """Whether words name a section, a sheet or the like; `on concrete block` names none, as no number stands behind it."""
    numbered = any(
        one.name == "REFERENCE" and other.start - one.end <= 1 and other.name in ("NUMBER", "CODE", "RANGE")
        for one, other in pairwise(tags)
    )
    return numbered or any((t.name, t.value) == _SECTION for t in tags)


def _opens(clause: Clause) -> str:
    """The letters of the code that a clause opens with."""
    text = capitals_of((clause.cells[0].view if clause.cells else clause.view).text)
    found = OPENS.match(text + " ")
    return found["stem"] if found is not None else ""


_SECTION = ("CODE", "a section number")
_EARLY = 5


_LISTED = r"(?:[A-Z]{1,4}[-.]?[0-9]{1,3}[A-Za-z]?(?:,\s|,?\s(?:and|or|to)\s|\s&\s)){0,8}"
_REFERS = re.compile(
    r"(?:\b(?:unless|except|save|other than)\b[^.;]{0,80}\b(?:given|listed|stated|shown|said|noted|named|set out|described|specified|scheduled)"
    rf"\s(?:in|under|at|by)\s|\bnotes?\s){_LISTED}\Z",
    re.IGNORECASE,
)
_FAR = 160


def cites_clause(text: str, at: int) -> bool:
    """Whether what stands at a place of a text is the number of a clause that says what is excepted, or of a note: `unless another is given in B3`, `as note N2`."""
    return _REFERS.search(text, max(0, at - _FAR), at) is not None


def numbers_of_clauses(codes: Iterable[str], clauses: Sequence[Clause]) -> set[str]:
    """Those of some codes that number clauses, `B2`, `B3`: one of their letters is referred to as such, and none of these is used."""
    told = {
        match[0].rstrip("0123456789")
        for text in (capitals_of(clause.view.text) for clause in clauses)
        for match in ONE_CODE.finditer(text)
        if cites_clause(text, match.start())
    }
    alike = {code for code in codes if code.rstrip("0123456789") in told}
    spoken = {code.rstrip("0123456789") for code in alike if used(code, clauses)}
    return {code for code in alike if code.rstrip("0123456789") not in spoken}


def used(code: str, clauses: Sequence[Clause]) -> bool:
    """Whether a code stands elsewhere than at the start of a clause, in a cell, a list, a sentence, is given to a place there, or is the
    key of a row under heads."""
    pattern = re.compile(rf"(?<![A-Za-z0-9'’-]){re.escape(code)}(?![A-Za-z0-9'’-])")
    given = re.compile(rf"{re.escape(code)}\s(?:on|at|in|to|is used|goes)\s")
    for clause in clauses:
        if not clause.cells and given.match(clause.view.text):
            return True  # `P1 on walls in the hall.`
        if len(clause.cells) > 1 and clause.cells[1].heads:
            key, column = clause.cells[0].view.text.strip(), clause.cells[0].column
            if capitals_of(key) == code and column is not None and column.role == "marks":
                return True
        views = [c.view for c in clause.cells[1:] if not c.again] or [clause.view]
        start = 0 if clause.cells else 1
        for view in views:
            text = capitals_of(view.text)
            match = next((m for m in pattern.finditer(text, start) if not cites_clause(text, m.start())), None)
            if match is None or not (not code.isalpha() or SINGLE_BEHIND.match(text, match.end())):
                continue
            if (
                len(code) == 1
                or not code.isalpha()
                or SINGLE_BEFORE.search(text, max(0, match.start() - 16), match.start())
            ):
                return True
    return False


_SHEET = re.compile(r"[A-Z]{1,3}-?[0-9]{3}[A-Z]?")


def of_a_sheet(code: str, clauses: Sequence[Clause]) -> bool:
    """Whether a code is the number of a drawing, `A-010`: it stands in a title or a heading once, and nowhere else."""
    if not _SHEET.fullmatch(code):
        return False
    holders = [n for n, clause in enumerate(clauses) if code in capitals_of(clause.view.text)]
    return len(holders) == 1 and (holders[0] == 0 or clauses[holders[0]].heading)


_NOTE = re.compile(r"(?P<stem>[A-Z]{1,4}[-./]?)(?P<number>[0-9]{1,3})\s*[:.–—-]?\s")
_NOTES = 3
"""Of so many notes one at least says nothing of goods."""


def numbers_of_notes(
    clauses: Sequence[Clause], speaks: Callable[[View], bool], below: Mapping[int, Sequence[Clause]] = {}
) -> set[str]:
    """Codes that only number the notes of a document, `P/3`, `P/4`: they open its lines, many of which say nothing of goods that a system
    is of, and none of them is used elsewhere. What stands `below` a heading it says too."""
    series: dict[str, list[tuple[str, bool]]] = {}
    for clause in clauses:
        note = _note(clause)
        if note is not None:
            opened, view = note
            said = speaks(view) or (clause.heading and any(speaks(c.view) for c in below.get(id(clause), ())))
            series.setdefault(opened["stem"], []).append((opened["stem"] + opened["number"], said))
    return {
        code
        for notes in series.values()
        if len(notes) >= _NOTES and len(notes) <= _NOTES * sum(not said for _, said in notes)
        if len({one for one, _ in notes}) == len(notes)  # each number counts one note
        if not any(used(one, clauses) for one, _ in notes)
        for code, _ in notes
    }


def _note(clause: Clause) -> tuple[re.Match[str], View] | None:
    """The number that may only count a note, and the text of that note; a row below no heads may be one too."""
    if not clause.cells:
        found = _NOTE.match(capitals_of(clause.view.text))
        return (found, clause.view) if found is not None else None
    if len(clause.cells) != _A_PAIR or clause.cells[1].heads:
        return None
    found = _NOTE.match(capitals_of(clause.cells[0].view.text) + " ")
    return (found, clause.cells[1].view) if found is not None else None


_A_PAIR = 2


_PARAGRAPH = re.compile(r"(?P<top>[A-Z]{1,3}[0-9]{1,3})\.[0-9]{1,3}\b")
"""A paragraph numbered under a lettered chapter, `C4.1`: the chapter's `C4` is no mark."""


_NUMBERED = re.compile(r"[0-9]{3}[A-Z]?")


def numbers_of_sections(
    clauses: Sequence[Clause], below: Mapping[int, Sequence[Clause]], sections: Iterable[str] = ()
) -> set[str]:
    """Codes that number chapters: `C4` over `C4.1`, and `K20 CEILINGS` over `110 ..` and `120 ..`; `below` are the clauses under each,
    by its `id`. Those of known `sections` are none of systems either, unless a cell gives one to something."""
    numbers = {m["top"] for clause in clauses if (m := _PARAGRAPH.match(clause.view.text))}
    given = {capitals_of(cell.view.text.strip()) for clause in clauses for cell in clause.cells[1:]}
    numbers |= {*sections} - given
    return numbers | {
        m["code"]
        for clause in clauses
        if clause.heading
        and sum(c.heading and _NUMBERED.fullmatch(c.label) is not None for c in below.get(id(clause), ())) > 1
        and (m := LABEL.match(capitals_of(clause.view.text)))
    }
