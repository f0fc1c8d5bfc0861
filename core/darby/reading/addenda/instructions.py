"""What an addendum tells to do: sentences that name a paragraph and delete it, replace it, or change a number in it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Literal

from attrs import evolve, field, frozen

from darby.reading.addenda.wording.changes import INSERTS, IS_NOW, MAY, VALUE, WAS, beside, changes_in
from darby.reading.addenda.wording.paragraph_names import (
    DEEPER,
    DELETING,
    GONE,
    INSIDE,
    NUMBER,
    SIX,
    TELLS,
    WORD,
    Path,
    Stand,
    digits_of,
    path_named,
    pieces,
)
from darby.reading.layout.clause import Clause
from darby.text.spans import Span

_SECTION = re.compile(rf"\bSection\s{{1,3}}(?:No\.?\s)?({SIX})(?![0-9])", re.IGNORECASE)

_REF = re.compile(rf"(?<![0-9./]){NUMBER}{DEEPER}")
_TARGET = re.compile(
    rf"(?:{WORD})(?P<refs>{NUMBER}{DEEPER}(?:(?:,|,? and|\s?&)\s{{1,3}}(?:{WORD})?{NUMBER}{DEEPER}){{0,20}})"
    rf"|(?<![0-9./])(?P<bare>{NUMBER}(?:[ .]{{0,2}}[A-Z](?![A-Za-z])){DEEPER})",
    re.IGNORECASE,
)
_SINGLE = re.compile(rf"\b(?:{WORD})(?P<single>[A-Z]?[0-9]{{1,2}}[a-z]?)(?![\w./-])", re.IGNORECASE)
"""An item of a list that counts its items from one, or under a letter: `Item 5`, `Item C1`. Only its words are changed."""
_BEHIND_SECTION = re.compile(rf"[\s,:–-]{{1,4}}(?P<refs>{NUMBER}{DEEPER})(?![0-9])")
_QUOTED = re.compile(r"[\"“”]")
_THROUGH = re.compile(r"\s{0,3}(?:through|thru|to|[-–])\s{1,3}(?:[A-Z]\b|[0-9])")

_WHOLLY = r"(?:\s*(?:in\s+(?:its|their)\s+entirety|entirely|completely|in\s+full))?"
_DELETE_BEFORE = re.compile(
    rf"\b{DELETING}\s+(?:all\s+of\s+|the\s+)?(?:entire\s+|whole\s+)?(?:section\s+(?:{SIX})\W{{1,3}})?$", re.IGNORECASE
)
_TITLE = (
    r"(?:,?\s{1,3}(?:[–-]\s)?(?-i:[A-Z][A-Z0-9 ,&/'’-]{2,60}(?![a-z])|\"[^\"]{2,60}\"|“[^“”]{2,60}”)(?=\s?[:,.–-]))?"
)
"""What a paragraph is called, behind its number: in capitals or in quotation marks."""
_DELETE_BEHIND = re.compile(
    rf"{_TITLE}\W{{0,4}}(?:(?:is|are|shall\s+be|to\s+be|has\s+been|have\s+been)\s+)?(?:hereby\s+)?(?:{GONE}|{DELETING}(?:\s+(?:this|the|the\s+entire|the\s+whole)\s+(?:paragraph|article|clause|item))?){_WHOLLY}\s*(?:[.;]|$|(?=\s+and\s))",
    re.IGNORECASE,
)
_DELETE_SECTION = re.compile(
    rf"\b{DELETING}\s+(?:specification\s+)?(?:the\s+)?(?:entire\s+)?section\s+({SIX})\b", re.IGNORECASE
)
_REPLACE = re.compile(
    r"\b(?:now\s+reads?|(?:to|shall|should|will)\s+(?:now\s+)?read(?:\s+as\s+follows)?|reads?\s+as\s+follows|as\s+follows"
    r"|(?:replaced?|superseded|substituted?|insert(?:ed)?|add(?:ed)?)\s+(?:with|by|the\s+following|as\s+follows)(?:\s+the\s+following)?|(?:with|by)\s+the\s+following)\s*:?",
    re.IGNORECASE,
)
_DELETE_WORDS = re.compile(rf"\b{DELETING}\s+(?:the\s+)?(?P<old>{VALUE})(?=[.;]?\s*$|[.;]\s)", re.IGNORECASE)
_DELETE_TOO = re.compile(rf"(?:[,;]|\band)\s+{_DELETE_WORDS.pattern}", re.IGNORECASE)
"""The same beside a change."""
_ADD = re.compile(rf"\b(?:add|insert)\b[^.]{{0,60}}?(?:\b(?:following|new)\b|{NUMBER})", re.IGNORECASE)
_ELSEWHERE = re.compile(r"\b(?:in|of|under)\s{1,2}\S", re.IGNORECASE)
"""What may name another paragraph between two changes, in a way that is not followed."""


@frozen(eq=False)
class Instruction:
    """One thing to do. `old` and `new` are where the words stand that are taken away and put in; `region` is the text
    that may hold what takes a paragraph's place."""

    what: Literal["delete", "replace", "change", "delete words", "unclear"]
    section: str
    path: Path
    named: str
    """The paragraph as the addendum calls it."""
    span: Span
    clause: Clause = field(repr=False)
    item: str = ""
    """The item of a list in which words change, where no paragraph is named."""
    at: Span | None = None
    """Where the paragraph is named, if it is in the sentence itself."""
    old: Span | None = None
    new: Span | None = None
    beside: Literal["", "before", "behind"] = ""
    """On which side of the old words the new ones are put, where these stay."""
    region: tuple[int, int] = (0, 0)
    loose: bool = False
    """Whether old and new words stand in no quotation marks and no paragraph is named: they may hold more than what changes."""
    through: bool = False
    """Whether a run of paragraphs is named by its first and last, which is not followed."""


def instructions(found: Sequence[Stand], end: int) -> Iterator[Instruction]:
    """Everything an addendum, taken apart, tells to do; `end` is where its text ends."""
    paths: dict[int, tuple[str, Path, str]] = {}
    taken, heads = 0, dict[int, str]()
    for number, stand in enumerate(found):
        if stand.start < taken:
            continue  # new text of a paragraph
        clause = stand.clause
        section, named = stand.section, ""
        path: Path = ()
        for parent in reversed(clause.parents):
            section, path, named = paths.get(id(parent), (section, path, named))
        stop = _region_end(found, number, end)
        heads = _sides([c.view.text for c in clause.cells]) or (heads if clause.cells else {})
        if row := _of_row(clause, heads, section, path, named):
            yield row
            continue
        at = 0
        text = clause.text
        for piece in pieces(text):
            sentence, start = text[at:piece], at
            at = piece
            inline = _SECTION.search(sentence)
            if inline:
                section, path, named = digits_of(inline[1]), (), ""
            targets = list(_targets(sentence))
            if inline and not targets and (behind := _BEHIND_SECTION.match(sentence, inline.end())):
                ref = behind["refs"]
                targets = [(path_named(ref), " ".join(ref.split()), *behind.span("refs"), False)]
            if targets:
                path, named = targets[0][0], targets[0][1]
            if inline or targets:
                paths[id(clause)] = (section, path, named)
            tells, adds = TELLS.search(sentence), _ADD.search(sentence)
            inserts = any(pattern.search(sentence) for pattern in INSERTS)
            one = None
            quotes = bool(targets) and not adds and len(INSIDE.findall(sentence)) > 1
            quotes = quotes or (
                not tells and not adds and MAY.search(sentence) is not None and bool(changes_in(sentence))
            )
            if inserts or quotes or (tells and not (adds and adds.start() < tells.start())):
                for one in _of_sentence(clause, start, piece, section, targets or [(path, named, 0, 0, False)], stop):
                    yield one
            if (one is not None and one.what == "replace") or (one is None and adds and not inserts):
                taken = stop
                break


def _targets(sentence: str) -> Iterator[tuple[Path, str, int, int, bool]]:
    """The paragraphs that a sentence names, with where the naming stands, and whether it goes on to another."""
    for match in _TARGET.finditer(sentence):
        if match["bare"] and _SECTION.search(sentence[max(0, match.start() - 12) : match.end()]):
            continue
        through = _THROUGH.match(sentence, match.end()) is not None
        for ref in _REF.findall(match["refs"] or match["bare"]):
            yield path_named(ref), " ".join(ref.split()), match.start(), match.end(), through


def paragraph_before(clause: Clause, span: Span) -> Path:
    """The paragraph that a clause names before some words of it, where it names one alone."""
    at = clause.text.find(span.text)
    paths = {t[0] for t in _targets(clause.text[: max(at, 0)])}
    return paths.pop() if len(paths) == 1 else ()


def _of_sentence(
    clause: Clause, start: int, end: int, section: str, targets: list[tuple[Path, str, int, int, bool]], stop: int
) -> Iterator[Instruction]:
    sentence = clause.text[start:end]
    span = clause.view.span(start, start + len(sentence.rstrip()))
    base = Instruction("delete", section, (), "", span, clause)
    whole = _DELETE_SECTION.search(sentence)
    if whole and not targets[0][0]:
        yield evolve(base, section=digits_of(whole[1]), named=f"Section {whole[1]}")
        return
    path, named, low, high, through = targets[0]
    if not path:
        yield from _of_words(clause, start, sentence, base)
        return
    at = clause.view.span(start + low, start + high) if high else None
    base = evolve(base, path=path, named=named, through=through, at=at)
    behind = sentence[high:]
    gone = high > 0 and (_DELETE_BEFORE.search(sentence[:low]) or _DELETE_BEHIND.match(behind))
    rest = _blanked(sentence, low, high)
    changes = changes_in(rest)
    several = [t for t in targets if t[2] == low]  # `paragraphs 3.02.C and D` are named in one breath
    read = _REPLACE.search(behind) if high > 0 else None
    if gone or (read is not None and not any(c.start() < high + read.start() for c in changes)):
        new = _REPLACE.search(behind) or re.search(
            r"\band\s+(?:insert|substitute|add|replace)\b", behind, re.IGNORECASE
        )
        if new:
            region = (clause.view.span(start + high + new.end(), end).start, stop)
            yield evolve(base, what="replace", region=region)
        else:
            yield from (evolve(base, path=p, named=n, through=t) for p, n, _, _, t in several)
        return
    for change in changes:
        old, new_ = (_part(clause, start, *change.span(side), sentence) for side in ("old", "new"))
        clear = _is_of_first(change, changes, [t[2] for t in targets if t[2] != low])
        one = evolve(base, what="change" if clear else "unclear", old=old, new=new_, beside=beside(change))
        yield from (evolve(one, path=p, named=n, through=t) for p, n, _, _, t in several)
        rest = _blanked(rest, *change.span())
    words = (_DELETE_TOO if changes else _DELETE_WORDS).search(rest)
    if words and words["old"].strip():
        yield evolve(base, what="delete words", old=_part(clause, start, *words.span("old"), sentence))
    elif (quoted := list(INSIDE.finditer(rest))) and (not changes or TELLS.search(rest)):
        yield evolve(base, what="unclear", old=clause.view.span(start + quoted[0].start(), start + quoted[-1].end()))


def _sides(heads: Sequence[str]) -> dict[int, str]:
    """Which of some columns, by their heads, has what stood there and which what stands there now; nothing unless there is one of each."""
    sides = {
        n: "old" if WAS.fullmatch(head.strip()) else "new"
        for n, head in enumerate(heads)
        if WAS.fullmatch(head.strip()) or IS_NOW.fullmatch(head.strip())
    }
    return sides if sorted(sides.values()) == ["new", "old"] else {}


def _of_row(clause: Clause, heads: dict[int, str], section: str, path: Path, named: str) -> Instruction | None:
    """The change that a row tells in two columns, by the heads of its table or those of a row above it."""
    which = _sides([cell.heads[-1].text if cell.heads else "" for cell in clause.cells]) or heads
    cells = {side: clause.cells[n] for n, side in which.items() if n < len(clause.cells)}
    sides = {side: cell.view.whole for side, cell in cells.items() if cell.view.text.strip(" .-–—")}
    if any(WAS.fullmatch(cell.view.text.strip()) for cell in cells.values()):
        return None  # the heads themselves
    if len(sides) < 2:
        return None
    if inline := _SECTION.search(clause.text):
        section, path, named = digits_of(inline[1]), (), ""
    inside = sorted((clause.text.find(span.text.strip()), len(span.text)) for span in sides.values())
    targets = [t for t in _targets(clause.text) if not any(low <= t[2] < low + long for low, long in inside)]
    at = None
    if targets:
        path, named, low, high, _ = targets[0]
        at = clause.view.span(low, high)
    base = Instruction("change", section, path, named, clause.view.whole, clause, at=at, loose=not path)
    return evolve(base, old=sides["old"], new=sides["new"])


def _of_words(clause: Clause, start: int, sentence: str, base: Instruction) -> Iterator[Instruction]:
    """Changes of words in a sentence that names no paragraph as sections count them: of an item, or wherever the words stand.

    Words that stand in no quotation marks may be told of something else altogether, and are `loose`.
    """
    single = _SINGLE.search(sentence)
    for change in changes_in(sentence):
        loose = not all(_QUOTED.match(change[side]) for side in ("old", "new"))
        if not all(change[side].strip(" '\"“”.,") for side in ("old", "new")):
            continue
        old, new = (_part(clause, start, *change.span(side), sentence) for side in ("old", "new"))
        item, at = "", None
        if single is not None and single.end() <= change.start():
            item = single["single"]
            at = clause.view.span(start + single.start("single"), start + single.end("single"))
        yield evolve(base, what="change", item=item, at=at, old=old, new=new, beside=beside(change), loose=loose)


def _is_of_first(change: re.Match[str], changes: Sequence[re.Match[str]], others: Sequence[int]) -> bool:
    """Whether a change is of the paragraph that its sentence names first, and not of one of the `others`, named there or after."""
    before = [one for one in changes if one.end() <= change.start()]
    free = [at for at in others if not any(one.start() <= at < one.end() for one in changes)]
    if not before:
        return not any(at < change.start() for at in free)
    return not free and _ELSEWHERE.search(change.string, before[-1].end(), change.start()) is None


def _blanked(sentence: str, low: int, high: int) -> str:
    """The sentence without the naming of the paragraph, so that its number is not taken for one to change."""
    return sentence[:low] + " " * (high - low) + sentence[high:]


def _part(clause: Clause, start: int, low: int, high: int, sentence: str) -> Span:
    while low < high and sentence[low] in " \"'“”~":
        low += 1
    while high > low and sentence[high - 1] in " \"'.,“”~":
        high -= 1
    return clause.view.span(start + low, start + high)


def _region_end(found: Sequence[Stand], number: int, end: int) -> int:
    """Where the next item of an addendum begins: what stands before it may belong to the one at `number`."""
    clause = found[number].clause
    for later in found[number + 1 :]:
        if clause in later.clause.parents:
            continue
        if later.clause.label or later.clause.heading or _TARGET.search(later.clause.text):
            return later.start
    return end
