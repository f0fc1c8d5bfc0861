"""Clauses that a mark opens, or a heading that ends in one: all that they say, or that stands below, is said of that system."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence

from darby.reading.document.marks.mark_spelling import PARTED
from darby.reading.layout.clause import Clause
from darby.reading.parsing.tagging.letters import capitals_of
from darby.reading.parsing.tagging.tag import Tag
from darby.text.spans import View

Tags = Sequence[Tag]

AT_END = re.compile(
    r"(?<!TYPES)(?<!LEGEND)(?<!SCHEDULE)(?<!NOTES)(?<!DETAILS)(?<!PLAN)(?<!KEY)(?<=[A-Za-z)])\s+"
    rf"(?P<code>{PARTED}|[A-Z]{{1,4}}[-.]?[0-9]{{1,3}}[A-Za-z]?|[A-Z]{{1,4}}/[A-Z0-9]{{1,2}})$"
)
"""The mark at the end of a heading: `METAL PARTITION W2`."""

NAMED = re.compile(
    r"(?:[A-Za-z]{3,12}\s+){0,1}(?:systems?|types?|formula|finish|code|mark)(?:\s+(?:(?:no\.?|nr\.?|number)\s+)?|:\s{1,8})"
    rf"(?P<code>{PARTED}|[A-Z]{{0,4}}[-.]?[0-9]{{1,3}}[A-Za-z]?|(?:[A-Z]{{1,3}}-)?[A-Z])(?![A-Za-z0-9'\"/])",
    re.IGNORECASE,
)
LABEL = re.compile(
    rf"(?P<code>{PARTED}|"
    r"[A-Z]{1,4}[-.]?[0-9]{1,3}[A-Za-z]?|[A-Z]{1,4}/[A-Z0-9]{1,2}|[A-Z]{1,3}-[A-Z]{1,2}(?=:|\s[–—=-]\s)|[0-9]{1,2}[A-Z]|[A-Z])"
    r"(?:\s*(?:[:–—|=]|\s-\s|\s{2,}|\s(?=[A-Z(]))|,?\s(?=[a-z][A-Za-z ,]{2,40}:))"
)
"""A mark as the label of a line, and what parts it from what is said of it."""
_IN_HEADING = re.compile(rf"(?:[A-Za-z-]{{2,16}}\s+){{2,5}}{NAMED.pattern}", re.IGNORECASE)
"""A mark among the words of a heading: `LIGHT METAL PARTITION TYPE P1 TO STORES`."""
_OPENED = re.compile(r"\s*(?:\([^()]{1,60}\)\s*:|,\s[A-Za-z][A-Za-z ,/'’-]{2,60}:\s|[:–—=-]|$)")
"""What stands behind a mark that opens its definition: a colon, or first, in brackets or between commas, what it is for."""
RUN_ON = re.compile(r"(?<=[A-Za-z)])\s+(?=[A-Za-z]{1,4}[-.]?[0-9]{1,3}[A-Za-z]?:\s)")
"""What stands before a further system on one line: `PT-1: oil, two coats PT-2: wax, two coats`."""

ONE_CODE = re.compile(rf"{PARTED}|" r"[A-Z]{1,4}-[0-9]{1,3}[A-Za-z]?|[A-Z]{1,4}[0-9]{1,3}[A-Za-z]?")
TITLED = re.compile(rf"(?P<code>{ONE_CODE.pattern})\s(?:[-–—]\s)?(?:[A-Z][A-Z/&-]{{2,16}}\s?){{1,4}}")
"""A code and what it is called, in a column of codes: `W4 CHASE`."""
CODES = rf"(?P<codes>(?:{ONE_CODE.pattern})(?:(?:,\s|,?\s(?i:and)\s|\s&\s)(?:{ONE_CODE.pattern})){{0,8}})"
ARE = re.compile(rf"(?:\A|(?<=[.;:,]\s)){CODES}\s(?i:is|are|to be|shall be)\s")
"""`PT-11, PT-12 and PT-13 are matte`: what some marks have in common."""

_ELIDED = re.compile(rf"(?<=;\s){CODES}\s(?=[A-Za-z])")
"""`..; PT-14 flat`: the same without its verb."""
_DESCRIBED = ("sheen", "color", "type", "COAT", "LAYER")
_FIRST = 2
"""Words within which it is said what a mark is."""


def common(text: str, tags: Tags) -> Iterator[tuple[str, Tags]]:
    """Each mark of which a sentence says what it is, and the words that say it."""
    told = list(ARE.finditer(text))
    for match in (*told, *(_ELIDED.finditer(text) if told else ())):
        end = text.find(";", match.end())
        said = [t for t in tags if match.end() <= t.start < (end if end >= 0 else len(text))]
        if any(t.name in _DESCRIBED for t in said[:_FIRST]):
            yield from ((code, said) for code in ONE_CODE.findall(match["codes"]))


_TYPE_BEFORE = re.compile(r"\b(?i:types?|systems?)\s\Z")
_GAP = re.compile(r"\s(?:(?i:types?|systems?|marks?)\s)?")
"""What stands between a surface and the mark that tells its sort: `partition type W1`, `W1 partitions`."""


def spoken_of(text: str, tags: Tags) -> Iterator[tuple[str, Tags]]:
    """The one mark of a sentence that says how much a surface of that sort has, and names no room: `Two layers on each side of partition
    type W1`."""
    counted = any(t.name in ("LAYER", "A_LAYER", "COAT", "A_COAT") for t in tags)
    if not counted or any(t.name == "room" for t in tags):
        return
    others = [t for t in tags if t.name == "CODE" and t.value != "a mark"]
    codes = [m for m in ONE_CODE.finditer(text) if not any(t.start <= m.start() < t.end for t in others)]
    surfaces = [t for t in tags if t.name == "surface"]
    told = [
        m
        for m in codes
        if _TYPE_BEFORE.search(text, max(0, m.start() - _NEAR), m.start())
        or any(_GAP.fullmatch(text, t.end, m.start()) or _GAP.fullmatch(text, m.end(), t.start) for t in surfaces)
    ]
    if told and len({m[0] for m in codes}) == 1:
        yield told[0][0], tags


_NEAR = 12


_LABEL_ENDS = re.compile(rf"\A[^:;.]{{0,60}}?(?<![A-Za-z0-9-]){CODES}\)?:\s")
"""A label that ends with codes: `Store walls, W1, W2 and W3: ..`"""


def labelled(clauses: Sequence[Clause], tags: Callable[[View], Tags]) -> Iterator[tuple[str, Tags]]:
    """Each code at the end of a label, and the words behind it. They are marks only if something else says so: a label may end with anything."""
    for clause in clauses:
        if not clause.cells and (label := _LABEL_ENDS.match(clause.view.text)):
            said = [t for t in tags(clause.view) if t.start >= label.end()]
            yield from ((code, said) for code in ONE_CODE.findall(label["codes"]))


_BRACKETED = re.compile(rf"\A[A-Z][^:;.()]{{1,80}}\s\((?P<code>{ONE_CODE.pattern})\)\s{{0,3}}:\s")


def bracketed(text: str, tags: Tags) -> re.Match[str] | None:
    """The mark in brackets behind what it is a system for: `Hollow Metal (MT-1): ..`. Behind a place alone it is that place's."""
    found = _BRACKETED.match(text)
    names = {t.name for t in tags if found is not None and t.end < found.start("code")}
    return found if "subject" in names or not names & {"room", "surface"} else None


_BROUGHT = re.compile(
    rf"(?:\A|(?<=[.;:]\s))(?:(?i:add|insert)\s(?:(?i:a\s)?(?i:new)\s)?[\"“]?(?P<added>{ONE_CODE.pattern})(?=[,:]\s)"
    r"|(?:[A-Za-z]{3,12}\s)?(?i:types?|systems?)\s(?P<called>[A-Z]{0,4}-?[0-9]{1,3}[A-Z]?|[A-Z])"
    r"(?=[,:]\s(?i:change|revise|add|delete|increase|reduce|replace|omit)\b))"
)


def brought(text: str) -> dict[int, str]:
    """The systems that a text adds or changes, each by where its mark stands: `Add PT-7, satin, two coats`, `Type 4B, change ..`"""
    return {m.start(m.lastgroup or 0): m[m.lastgroup or 0] for m in _BROUGHT.finditer(text)}


def names_goods(tags: Tags) -> bool:
    """Whether words name goods, and not only how they look."""
    return any(t.name in ("subject", "REPLACED", "COAT", "LAYER") for t in tags)


OPENS = re.compile(r"(?P<code>(?P<stem>(?:[A-Z]{1,4}[-.]){0,2}[A-Z]{1,4}[-.]?)[0-9]{1,3})(?=\s|,)")
"""A code that opens a clause."""


_LETTERED = re.compile(r"(?P<code>(?P<stem>[A-Z]{1,3}-)[A-Z]{1,2})\s+(?=[A-Z(])")


def lettered_heads(clauses: Sequence[Clause]) -> list[tuple[Clause, str]]:
    """Headings that open with a mark of letters alone and nothing that parts it from its words, `W-A Plaster walls`, each with its mark:
    several of one sort, since one alone may be a word."""
    opened = [(c, m) for c in clauses if c.heading and not c.cells and (m := _LETTERED.match(c.view.text)) is not None]
    codes = {m["code"]: m["stem"] for _, m in opened}
    return [(c, m["code"]) for c, m in opened if list(codes.values()).count(m["stem"]) > 1]


_LABELLED = re.compile(r"[A-Z][A-Za-z /&-]{2,30}(?::|\s[–—-])\s")


def over_labels(clauses: Sequence[Clause], below: Mapping[int, Sequence[Clause]]) -> set[str]:
    """Codes that stand alone over labelled lines, several of one sort: nobody numbers paragraphs so."""
    heads = {
        clause.view.text.strip().rstrip(":"): sum(
            len(c.cells) == _A_PAIR or bool(_LABELLED.match(c.view.text)) for c in own
        )
        for clause in clauses
        if clause.heading
        and (own := below.get(id(clause), ()))
        and ONE_CODE.fullmatch(clause.view.text.strip().rstrip(":"))
    }
    codes = [code for code, labels in heads.items() if labels >= _LABELS]
    stems = [code.rstrip("0123456789") for code in codes]
    return {code for code, stem in zip(codes, stems, strict=True) if stems.count(stem) > 1}


_A_PAIR = 2
"""Cells of a label and its value."""
_LABELS = 2
"""Labelled lines from which on what stands over them is what they are of."""


def titled(clause: Clause, tags: Tags) -> Tag | None:
    """The mark that the heading of a surface ends in: `CURVED PARTITION W2`."""
    text = clause.view.text.rstrip()
    last = tags[-1] if tags and clause.heading and AT_END.search(text.upper()) else None
    ends = last is not None and last.name == "mark" and last.end == len(text)
    return last if ends and any(t.name == "surface" for t in tags) else None


def titled_so(clause: Clause, titles: Collection[str]) -> bool:
    """Whether the title that a clause stands under tells that marks are defined there."""
    return bool(clause.parents) and not set(_TITLE_WORD.findall(clause.parents[0].view.text.lower())).isdisjoint(titles)


_TITLE_WORD = re.compile(r"[a-z]+")


def opens(clause: Clause, tags: Tags) -> Tag | None:
    """The mark that opens a clause which defines it: `W3 partition as W1, with ..` is all said of W3."""
    if tags and tags[0].name == "NEW_VALUE":  # `Add to 1.2: C-3: ..`
        tags = tags[next((n + 1 for n, t in enumerate(tags) if t.name == "COLON"), 0) :]
        first = tags[0] if tags and tags[0].name == "mark" and not clause.cells else None
        return first if first is not None and len(tags) > 1 and tags[1].name == "COLON" else None
    if len(ARE.findall(capitals_of(clause.view.text))) > 1:
        return None  # each of its sentences is said of marks of its own
    text = capitals_of(clause.view.text)
    named = None if clause.cells or clause.heading else bracketed(text, tags) or named_by(clause, text)
    if named is not None:
        return next((t for t in tags if t.name == "mark" and t.start == named.start("code")), None)
    first = tags[0] if tags and not clause.cells else None
    called = NAMED.match(text)
    at = called.start("code") if called is not None else 0
    told = first is not None and first.name == "mark" and first.start in (0, at)
    joined = len(tags) < 2 or (tags[1].name in ("mark", "AND", "PER", "SIGN", "COMMA") and tags[1].value != "=")
    return first if told and not joined else None


def defined_by(clause: Clause, tags: Tags) -> Tag | None:
    """The mark that a heading or an item is the definition of, at its end or its beginning."""
    mark = titled(clause, tags) or opens(clause, tags)
    named = named_by(clause, capitals_of(clause.view.text)) if mark is None and clause.heading else None
    return next((t for t in tags if named and t.name == "mark" and t.start == named.start("code")), mark)


def named_by(clause: Clause, text: str) -> re.Match[str] | None:
    """The mark that a clause is the definition of by calling it a type, a system or the like: `SYSTEM 3`, `Type B: ..`."""
    found = NAMED.match(text) or (_IN_HEADING.match(text) if clause.heading else None)
    opened = found is not None and (clause.heading or clause.leads_in or _OPENED.match(text, found.end()))
    return found if opened else None


_TYPED = re.compile(rf"{NAMED.pattern}(?=\s[A-Z0-9(])", re.IGNORECASE)


def typed(text: str, tags: Tags) -> re.Match[str] | None:
    """The mark that a line below a title of types opens with, which nothing parts from what is said of it: `TYPE A ONE LAYER ..`. A type
    that the trade knows by its letter is none."""
    found = _TYPED.match(text)
    known = found is not None and any(t.name == "type" and t.start <= found.start("code") < t.end for t in tags)
    return None if known else found


def told_apart(tags: Sequence[Tag], text: str) -> Sequence[Tag]:
    """The tags of a text in which every further system that it defines begins a part of its own, where nothing else parts them."""
    if not (len(tags) > 1 and tags[0].name == "mark" and tags[1].name == "COLON"):
        return tags
    ends = {match.end() for match in RUN_ON.finditer(text)}
    out: list[Tag] = []
    for tag in tags:
        if tag.name == "mark" and tag.start in ends and out and out[-1].name not in ("STOP", "SEMICOLON"):
            out.append(Tag(tag.start, tag.start, "SEMICOLON"))
        out.append(tag)
    return out


LED = re.compile(
    r"\b(?:on|at|in|for|to|of|only)\s+(?:(?:types?|partitions?|systems?|walls?|ceilings?)\s+){0,2}(?:[A-Z]{0,4}-?[0-9]{0,3}[A-Za-z]?(?:,\s|\sand\s|\s&\s|,\sand\s)){0,6}$",
    re.IGNORECASE,
)
OPENS_PART = re.compile(
    rf"(?:[.;]\s+|,\s(?=[A-Z]{{1,4}}-?[0-9]{{1,3}}\s(?i:is)\s))(?:(?:{ONE_CODE.pattern})(?:,\s|,?\s(?i:and)\s|\s&\s)){{0,8}}$"
)
"""What stands before a mark that a further part of a clause opens with, or that stands in its list: `.. flat; PT-2 and`."""
SORTED = re.compile(r"\A(?:[A-Za-z]{2,12}\s){0,2}(?i:types?|systems?|partitions?|walls?|ceilings?)\s\Z")
"""What opens a sentence that is said of a mark: `Wall type W1 has ..`"""

SINGLE_BEHIND = re.compile(r"\s*(?:$|[,.;:()|/]|[–—-]\s|(?:but|in|on|at|to|goes|throughout|and|or|over|elsewhere)\b)")
"""What stands behind a mark of one letter, and before it."""
SINGLE_BEFORE = re.compile(
    r"(?:^|[:;,(|–—/]|\b(?:finish|system|type|code|in|of|and|or|but|gets?|be|use|[a-z]{3,12}s))\s*$", re.IGNORECASE
)


def going_on(clauses: Sequence[Clause]) -> Iterator[tuple[Clause, Clause]]:
    """Each row that goes on with the key of a row above it, after that row."""
    keyed: Clause | None = None
    for clause in clauses:
        if clause.cells and not clause.cells[0].again:
            keyed = clause
        elif not clause.cells:
            keyed = None
        elif keyed is not None and clause.cells[0].view is keyed.cells[0].view:
            yield keyed, clause
