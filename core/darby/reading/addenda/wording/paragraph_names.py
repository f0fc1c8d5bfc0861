"""How paragraphs are named, by the section and the labels they stand under, `3.02.C.1`, and items of lists by their own, `F1`; and where
what is told of one of them ends."""

from __future__ import annotations

import re
from collections.abc import Iterator

from attrs import frozen

from darby.reading.layout.clause import Clause, Layout
from darby.text.spans import Source

Path = tuple[str, ...]
"""A paragraph as its labels count it: `3.02.C.1` is ("3", "2", "C", "1")."""

WORD = r"(?:sub-?paragraphs?|paragraphs?|paras?\.?|pars?\.|articles?|art\.|clauses?|items?)\s{1,3}"
"""A word that says that a number behind it is one of a paragraph or an item."""

NUMBER = r"[0-9]{1,2}(?:\.[0-9]{1,2}){1,4}"
DEEPER = r"(?:(?:[ .]{0,2}[A-Z]|\s?\([A-Z]\))(?![A-Za-z]))?(?:(?:\.\s?[0-9]{1,2}|\s?\([0-9]{1,2}\))(?![0-9/]|\.[0-9]))?(?:(?:\.\s?[a-z]|\s?\([a-z]\))(?![A-Za-z]))?"
"""How deeper labels follow on that number: `3.02.C(1)`."""
SIX = r"[0-9]{2}[ .-]?[0-9]{2}[ .-]?[0-9]{2}|[0-9]{5}"
_HEADING = 90
"""Characters of a line that does no more than name a section."""
_SECTION_LINE = re.compile(rf"\W{{0,4}}(?:SECTION\s{{1,3}})?({SIX})(?![0-9])", re.IGNORECASE)
_SECTION_IN_FURNITURE = re.compile(r"(?<![0-9])([0-9]{2} [0-9]{2} [0-9]{2})(?![0-9])")
_SECTION_IN_NAME = re.compile(r"(?<![0-9])([0-9]{2}[ ._-]?[0-9]{2}[ ._-]?[0-9]{2})(?![0-9])")


@frozen(eq=False)
class Stand:
    """A clause of a document: where it begins, the section it stands in, its paragraph."""

    start: int
    section: str
    path: Path
    clause: Clause


def stands(source: Source, layout: Layout) -> list[Stand]:
    """Every clause of a document with its section and paragraph, in order of place."""
    events: list[tuple[int, int, str, Clause | None]] = []
    for apart in layout.apart:
        pattern = _SECTION_LINE if apart.span.text.lstrip().upper().startswith("SECTION") else _SECTION_IN_FURNITURE
        found = pattern.search(apart.span.text)
        if found and "number of a paragraph" not in apart.why:
            events.append((apart.span.start, 0, digits_of(found[1]), None))
    for clause in layout.clauses:
        found = _SECTION_LINE.match(f"{clause.label} {clause.text[:60]}" if clause.label else clause.text[:60])
        bare = not clause.label and len(clause.text) <= _HEADING and not clause.text.endswith(".")
        heads = clause.label.upper().startswith("SECTION") or (bare and clause.text[:7].upper() == "SECTION")
        section = digits_of(found[1]) if found and (heads or clause.heading) else ""
        if clause.section is not None and re.fullmatch(SIX, clause.section.number):
            section = digits_of(clause.section.number)
        events.append((clause.view.whole.start, 1, section, clause))
    events.sort(key=lambda e: e[:2])
    named = _SECTION_IN_NAME.search(source.name.replace("\\", "/").rpartition("/")[2])
    section = digits_of(named[1]) if named else ""
    out: list[Stand] = []
    for start, _, begins, here in events:
        section = begins or section
        if here is not None:
            out.append(Stand(start, section, path_of(here), here))
    return out


def path_of(clause: Clause) -> Path:
    """The paragraph of a clause, as the labels of all it stands under count it."""
    path: Path = ()
    for one in (*reversed(clause.parents), clause):
        label = one.label.strip().rstrip(".)").lstrip("(.")
        if re.fullmatch(r"[0-9]{1,3}(?:\.[0-9]{1,3})+", label):
            path = tuple(str(int(n)) for n in label.split("."))
        elif re.fullmatch(r"[0-9]{1,2}|[A-Za-z]", label):
            path = (*path, str(int(label)) if label.isdigit() else label)
    return path


def begins_with(clause: Clause, item: str) -> bool:
    """Whether a clause is the item of a list that goes by that number or letter."""
    if clause.label.strip(" .)(").upper() == item.upper():
        return True
    return re.match(rf"(?:{WORD})?{re.escape(item)}(?![\w/-]|\.[0-9])", clause.text, re.IGNORECASE) is not None


def is_item(clause: Clause, *, lettered: bool) -> bool:
    """Whether a clause begins with a letter and a number, `B1`, or else as an item by its number, `Item 3`."""
    opens = f"{clause.label} {clause.text[:_HEADING]}".lstrip()
    number = rf"(?:{WORD})?[A-Z][0-9]{{1,2}}\b" if lettered else rf"(?:{WORD})[0-9]{{1,2}}\b"
    return re.match(number, opens, re.IGNORECASE) is not None


def path_named(ref: str) -> Path:
    """The paragraph that a reference names: `3.02 C(1)` is ("3", "2", "C", "1")."""
    path: Path = ()
    for part in re.findall(r"[0-9]{1,3}|[A-Za-z]", ref):
        first = part.isalpha() and all(p.isdigit() for p in path)
        path = (*path, str(int(part)) if part.isdigit() else part.upper() if first else part)
    return path


def digits_of(text: str) -> str:
    """The number of a section by its digits alone."""
    return re.sub(r"[^0-9]", "", text)


DELETING = r"(?:delete|omit|remove|strike(?:\s+out)?|withdraw|cancel|rescind|disregard)"
GONE = (
    r"(?:deleted|omitted|removed|struck(?:\s+out)?|withdrawn|cancell?ed|rescinded|disregarded|not\s+used|void"
    r"|(?:does\s+not|do\s+not|no\s+longer)\s+appl(?:y|ies)|no\s+longer\s+(?:required|needed|used|applicable))"
)
_SENTENCE = re.compile(r"(?<=\.)\s{1,9}(?=[A-Z\"])|(?<=;)\s{1,9}(?!(?i:add|insert|substitute|write|provide|use)\b)")
INSIDE = re.compile(r"(?<![0-9])\"[^\"]{1,400}\"|“[^“”]{1,400}”")
"""Words in quotation marks, which no sentence of the addendum ends in; a mark behind a digit is one of inches."""
_LETTERED = rf"{NUMBER}[ .]{{0,2}}[A-Z](?![A-Za-z])"
_NEXT = re.compile(
    rf"(?:[,;]\s+(?:and\s+)?|\sand\s+)(?=(?:(?:in\s+)?{WORD}{NUMBER}{DEEPER}|in\s+{_LETTERED}{DEEPER})[:,]?\s+(?:change|revise|replace|delete|substitute|insert|add)\b"
    rf"|(?:{DELETING}|change|revise|amend|modify)\s+(?:(?:the\s+)?{WORD}{NUMBER}|{_LETTERED}))",
    re.IGNORECASE,
)
"""What stands before another paragraph of which something is told."""
TELLS = re.compile(
    rf"\b(?:{DELETING}|{GONE}|change[sd]?|revised?|amend(?:ed)?|correct|modify|replaced?|superseded?|substituted?|in\s+lieu\s+of|instead\s+of|becomes|reads?)\b",
    re.IGNORECASE,
)
_TOLD = re.compile(rf"{TELLS.pattern}|\b(?:insert|add)", re.IGNORECASE)


def pieces(text: str) -> Iterator[int]:
    """Where the sentences of a clause end, those in quotation marks aside, and what one sentence tells of another paragraph begins.

    Two paragraphs of which one thing is told stay together: `in 3.02.A and in 3.02.B change ..`.
    """
    bare = INSIDE.sub(lambda match: "x" * len(match[0]), text)
    last = 0
    for match in sorted((*_SENTENCE.finditer(bare), *_NEXT.finditer(bare)), key=lambda m: m.start()):
        if match.end() <= last:
            continue
        if match.re is _SENTENCE:
            last = match.end()
            yield last
        elif _TOLD.search(bare, last, match.start()):
            last = match.end()
            yield from match.span()
    if last < len(text):
        yield len(text)
