"""Lines of a document: what each is (heading, label, running text), and which are no part of what it says."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator, Sequence

from attrs import define

from darby.reading.layout.clause import Apart, Section
from darby.reading.layout.tables.record_lines import tell_records
from darby.text.spans import View

LABEL = re.compile(
    r"(?P<part>PART\s+[0-9]{1,2}|SECTION\s+[0-9][0-9O .]{0,12}[0-9O])(?:\s*[-–:]\s*|\s+|$)"
    r"|(?P<clause>[0-9]{3}|[0-9]{2}\s[0-9]{2}\s[0-9]{2})\s{2,}(?=[A-Z])"
    r"|(?P<decimal>(?:[0-9]{1,3}|[A-Z](?=\.[0-9]{1,2}\s))(?:\.[0-9]{1,3}){1,5}\.?)\s+(?!(?i:mm|cm|um|m2?|in|ft|sq|kg|lbs?|gal|litres?|l|mils?)\b)(?=[A-Z(\"'*]|[0-9]{1,2} (?:coats?|layers?)\b)"
    r"|(?P<whole>[0-9]{1,3}[.)])\s+"
    r"|(?P<point>\.[0-9]{1,2})\s+(?!(?:mm|cm|um|in|inch|ft|mils?)\b)"
    r"|(?P<upper>(?:[A-Z]|[IVX]{2,4})[.)])\s+"
    r"|(?P<lower>(?:[a-z]|[ivx]{2,4})[.)]|\((?:[a-z0-9]{1,2}|[ivx]{3,4})\)(?=\s+(?:[A-Z]|[0-9]{1,2} (?:coats?|layers?)\b))(?!\s+(?:LAYER|Layer|COAT|Coat|PLY|Ply|PLIES|Plies)))\s+"
    r"|(?P<hash>#{1,6})\s+"
    r"|(?P<bullet>[-–—•*▪◦·o])\s+(?=\S)"
)
_RULE = re.compile(r"\s*([*_=~-])\1{9,}\s*$")
_UNDER = re.compile(r"[A-Z](?!.*(?:\||\s{2,}|[.;,]\n)).{1,58}\n([=_~-])\1{2,59}")
"""A title and the signs below that underline it; rows of tables and sentences have none."""
_PAGE = re.compile(
    r"\bpage\s+[0-9IlOo][0-9A-Z-]{0,8}(?:\s+(?:of|0f)\s+[0-9IlOo]{1,5})?\s*$|^\s*-?\s*[0-9]{1,4}\s*-?\s*$|\bp\.\s*[0-9]{1,4}\s*$",
    re.IGNORECASE,
)
_RUNNING_TITLE = re.compile(
    r"\b(?:page|section|record|project|issue|volume|bid set|revision|draft|rev)\b.{0,60}[0-9]|[0-9].{0,60}\b(?:page|section|record|project|issue|volume|bid set|revision|draft)\b",
    re.IGNORECASE,
)
_SMALL = 3
_SENTENCE = 3
"""Words of more than three small letters from which on a line is no title."""
_MOSTLY = 0.6
_FULL = 45
"""Letters in a line that may be full, so that its sentence goes on in the next one."""
_LEADS_ON = frozenset(
    "a an the of to on in at and or per with for by from as into than over under not be is are shall will must each every "
    "which that their its least most".split()
)
"""Words that end no sentence and no heading."""
_GOES_ON = frozenset("& + of and or than per to be is are shall o.c on-center which that".split())
"""Words that begin no sentence."""
_COUNTED_ON = re.compile(r"[0-9]{1,3},")
"""What begins no sentence either: the number of the word before it, `Level` `4, except ..`"""
_NUMBER = re.compile(r"[0-9]{1,5}(?:[./-][0-9]{1,5}){0,3}|[½¼¾⅛⅜⅝⅞]|one|two|three|four|five|six")
_UNIT = re.compile(r"(?:in|inch|inches|ft|feet|mm|cm|m|m2|m²|sq|lbs?|kg|gal|gallons?|mils?|um|coats?|layers?)\b")
LABELLED = re.compile(r"(?:[A-Z][A-Za-z /,&-]{2,30}|(?i:side|face)\s[0-9A-D])(?::\s|\s[–—-]\s)")
"""A label and what it is of on one line."""
NAME = re.compile(r"[A-Z][\w'’.-]*(?:\s?[ /&,-]\s?(?:(?:and|of|the)\s)?[A-Z0-9][\w'’.-]*){0,4}(?<!\.)")
"""A few words that all begin with capitals, as the name of a room has."""
SENTENCE_END = (".", ";", ":", "!", "?")


@define(eq=False)
class Line:
    """A line that is not empty, where its text stands in the view, and what is known about it."""

    start: int
    end: int
    text: str
    indent: int
    shape: str
    """Its text as patterns look at it: in a document of small letters throughout, in capitals."""
    flat: bool = False
    """Whether it stands in a document whose letters are of one size, so that capitals tell nothing."""
    kind: str = "text"
    label: str = ""
    style: str = ""
    blank_before: bool = False
    alone: bool = False
    """Whether it goes on with nothing: a line of notes, one to a line."""
    why: str = ""
    section: Section | None = None
    opens: int = -1
    """Of a line that opens a section: where its title begins."""
    before: str = ""
    """The blank before it."""


_CAPITALS = re.compile(r"[A-Z]{4,}(?:\s|$)")
_TITLES = 2
"""Lines of words in capitals that show that they tell something, however many of the others are written small."""


def split_lines(text: str) -> list[Line]:
    """The lines of a text that are not empty. Whether capitals tell anything is decided once, for all of them."""
    lines: list[Line] = []
    at, blank = 0, True
    for raw in text.split("\n"):
        stripped = raw.strip()
        if stripped:
            indent = len(raw) - len(raw.lstrip())
            start, before = at + indent, raw[:indent]
            line = Line(start, start + len(stripped), stripped, indent, stripped, blank_before=blank, before=before)
            lines.append(line)
            blank = False
        else:
            blank = True
        at += len(raw) + 1
    capitals = sum(line.text.isupper() for line in lines) > _MOSTLY * len(lines)
    titled = sum(_CAPITALS.match(line.text) is not None and line.text.isupper() for line in lines) >= _TITLES
    small = not titled and sum(line.text.islower() for line in lines) > _MOSTLY * len(lines)
    for line in lines:
        line.flat = capitals or small
        line.shape = _upper(line.text) if small else line.text
    return lines


def _upper(text: str) -> str:
    """Capitals, letter for letter: the few letters that become two stay as they are."""
    high = text.upper()
    return high if len(high) == len(text) else "".join(c.upper() if len(c.upper()) == 1 else c for c in text)


_TITLED = 6
"""Words that a title in capitals has at the most."""


def leads_on(line: Line) -> bool:
    """Whether the last word of a line ends no sentence and no heading."""
    last = line.text.rpartition(" ")[2]
    if line.text.endswith(("-", ",", "&", "/")):
        return True
    if last == "A" and not line.flat and line.text.count(" ") < _TITLED:
        return False  # `SYSTEM A` is the first of several
    return (last.lower() if line.flat or line.text.isupper() else last) in _LEADS_ON


def runs_on(line: Line, after: Line) -> bool:
    """Whether a line breaks off in the middle of a sentence that the next one goes on with."""
    if after.blank_before or after.alone or LABEL.match(after.shape + " ") or line.text.endswith(SENTENCE_END):
        return False
    last, first = line.text.rpartition(" ")[2], after.text.partition(" ")[0]
    if line.flat or (line.text.isupper() and after.text.isupper()):
        last, first = last.lower(), first.lower()
    if (
        leads_on(line)
        or first.rstrip(".") in _GOES_ON
        or _COUNTED_ON.fullmatch(first)
        or (_NUMBER.fullmatch(last) and _UNIT.match(first))
    ):
        return True
    return len(line.text) > _FULL and not line.flat and after.text[:1].islower()


def goes_on_small(first: Line, line: Line) -> bool:
    """Whether a line with a comma goes on in small letters right below: a sentence that was broken, and no title."""
    begins = first.text[:1].isupper() and not first.text.isupper()
    return begins and "," in first.text and line.text[:1].islower() and not line.blank_before


COUNTED = re.compile(rf"\(?(?:{_NUMBER.pattern})\)?\s(?:{_UNIT.pattern})", re.IGNORECASE)
"""How a line opens that says how many of something, `Two coats ..`, or how long, `12 in. ..`."""


def counts_anew(first: Line, last: Line, line: Line) -> bool:
    """Whether a line says how many of something as the first one of its clause does, and none of them breaks off before it: one to a line."""
    anew = line.text[:1].isupper() or line.text[:1] in "(0123456789"
    return anew and not runs_on(last, line) and all(COUNTED.match(one.text) for one in (first, line))


def breaks_off(line: Line, after: Line) -> bool:
    """Whether the next line goes on with a line's sentence, by its words or by its small letters."""
    return runs_on(line, after) or goes_on_small(line, after)


def set_apart(lines: list[Line], view: View) -> Iterator[Apart]:
    """Page furniture and notes to the writer of the specification; their lines become `apart`."""
    shapes = Counter(re.sub(r"[0-9]+", "#", line.text.lower()) for line in lines)
    note = False
    for number, line in enumerate(lines):
        if line.opens >= 0:
            continue
        if line.kind == "apart" and line.why:
            yield Apart(view.span(line.start, line.end), line.why)
            continue
        if _RULE.match(line.text):
            if line.text[0] == "*":
                note = not note and any(_RULE.match(after.text) for after in lines[number + 1 : number + 60])
            line.kind, line.why = "apart", "a rule between paragraphs"
        elif number and not line.blank_before and _UNDER.fullmatch(f"{lines[number - 1].text}\n{line.text}"):
            line.kind, line.why = "apart", "a rule between paragraphs"
            lines[number - 1].kind, lines[number - 1].blank_before = "heading", True
        elif note:
            line.kind, line.why = "apart", "a note to the writer of the specification"
        elif _furniture(lines, number, shapes) or line.kind == "apart":
            line.kind, line.why = "apart", "a page header or footer"
        else:
            for other in lines[number + 1 : number + 1 + _interruption(lines, number)]:
                other.kind = "apart"
        if line.kind == "apart":
            yield Apart(view.span(line.start, line.end), line.why)


def _furniture(lines: list[Line], number: int, shapes: Counter[str]) -> bool:
    """Whether a line is a page's header or footer: a page number alone, or a line that comes back and names the book."""
    line = lines[number]
    if len(line.text) > 120:
        return False
    after = lines[number + 1] if number + 1 < len(lines) else None
    page = _PAGE.search(line.text)
    if page:
        if line.text.strip(" -").isdigit():
            above = lines[number - 1].text.isdigit() and not line.blank_before if number else False
            below = after is not None and after.text.isdigit() and not after.blank_before
            return not (above or below) and (line.blank_before or after is None or after.blank_before)
        alone = page.start() == 0 or line.text[: page.start()].endswith("  ")
        return alone and not re.search(r"[.;:]\s", line.text[: page.start()])
    repeated = shapes[re.sub(r"[0-9]+", "#", line.text.lower())] > 1
    return repeated and bool(_RUNNING_TITLE.search(line.text)) and not line.text.endswith(SENTENCE_END)


def _interruption(lines: list[Line], number: int) -> int:
    """How many lines behind one stand in the middle of its sentence and name a section or a page: a page's turn."""
    line = lines[number]
    if line.text.rstrip("\"')").endswith((*SENTENCE_END, ",")):
        return 0
    for count, after in enumerate(lines[number + 1 : number + 5]):
        if after.text[:1].islower():
            between = lines[number + 1 : number + 1 + count]
            turned = any(_turns_page(other.text) for other in between)
            said = any(LABEL.match(o.text + " ") or o.text[:1].islower() or _says(o.text) for o in between)
            return count if turned and not said else 0
    return 0


def _says(text: str) -> bool:
    """Whether a line is more than titles and numbers of pages: it has words of small letters as sentences do."""
    return sum(word[:1].islower() and len(word) > _SMALL for word in text.split()) >= _SENTENCE


def _turns_page(text: str) -> bool:
    if ":" in text or '"' in text:
        return False
    letters = [c for c in text if c.isalpha()]
    titled = len(letters) > 5 and sum(c.isupper() for c in letters) > 0.5 * len(letters)
    numbered = re.search(r"[0-9]{1,4}$", text) is not None
    return (titled and numbered) or re.search(r"(?<![0-9])[0-9]{2} [0-9]{2} [0-9]{2}(?![0-9])", text) is not None


_LETTERED = re.compile(
    r"(?P<label>[A-Z]|[0-9]{1,2})(?:[.:)]\s*|\s*[–—-]\s+|\s+)"
    r"(?=[A-Z][A-Za-z]+(?:,? (?:[A-Za-z'’-]+|&)| [0-9]{1,3}[A-Za-z]?|\s?/\s?[A-Za-z]+){0,7}(?: \([^()]{1,30}\))?:?$)"
)
"""The letter of a chapter of a schedule whose items are numbered after it, `B1` under `B  MAIN HALL`."""


def lettered(lines: list[Line], number: int) -> re.Match[str] | None:
    """The letter of a chapter whose first item stands right below it."""
    found = _LETTERED.match(lines[number].shape)
    below = lines[number + 1].text if found is not None and number + 1 < len(lines) else ""
    first = re.match(r"(?:\|\s*)?(?P<letter>[A-Z]|[0-9]{1,2}(?=\.))[-.]?0{0,2}1[.:)]?\s", below)
    return found if found is not None and first is not None and first["letter"] == found["label"] else None


def tell_sizes(lines: Sequence[Line], view: View, means: Callable[[str], frozenset[str]]) -> Iterator[Apart]:
    """Have lines that name a place over what is said of it name it alone: its number and its size are set apart."""

    def says(line: Line) -> bool:
        return LABELLED.match(line.shape) is not None or LABEL.match(line.shape + " ") is not None

    for start, end, why in tell_records(lines, means, says):
        yield Apart(view.span(start, end), why)


STATES = re.compile(r"(?::\s|\s[–—-]\s)\(?[0-9]")
"""What a line in capitals has that says how many: `WALLS: 2 COATS GLOSS`."""


def labelled_heading(line: Line) -> bool:
    """Whether a numbered line in capitals is a heading."""
    return (
        line.text.isupper()
        and not line.flat
        and not line.text.endswith(SENTENCE_END)
        and not STATES.search(line.text)
        and len(line.text) < 60
        and line.style != "bullet"
    )


def goes_over(above: Line | None, line: Line) -> bool:
    """Whether the line above goes on with one."""
    return above is not None and (runs_on(above, line) or above.text.endswith((",", "&", "-", "and")))
