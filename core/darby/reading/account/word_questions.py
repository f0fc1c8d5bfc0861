"""Questions that words raise by themselves, with or without a number: what is not wanted, excepted, taken over or left open."""

from __future__ import annotations

from collections.abc import Container, Iterator, Sequence
from itertools import pairwise

from darby.reading.account.names import works_of
from darby.reading.binding.site.finding import Finding
from darby.reading.parsing.fact_parser import Fact
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.parsing.tagging.tag import NUMBERED, Tag, sentence_bounds

LEFT_AS_IT_IS = "says what is left as it is: no rule was made of it"
"""Why a clause is asked about that leaves something undone."""
_GOODS = ("subject", "COAT", "LAYER", "sheen")


def words_that_ask(
    tags: Sequence[Tag],
    text: str,
    above: Sequence[Tag],
    findings: Sequence[Finding],
    lexicon: Lexicon,
    items: Container[str] = (),
    chosen: Sequence[Finding] = (),
) -> Iterator[tuple[Tag, str]]:
    """Each word of a clause that raises a question, and the question. `above` are the words of its column and row; `items` are
    numbers of items whose words are taken over where they are named, `chosen` what the clause chooses with words."""
    goods = any(t.name in _GOODS for t in (*tags, *above))
    asked = any(f.doubt for f in findings)
    for n, tag in enumerate(tags):
        behind = tags[n + 1] if n + 1 < len(tags) else None
        next_ = behind.name if behind is not None else ""
        if tag.name == "ASK":
            yield tag, tag.value
        elif tag.name == "ASIDE_ALL" and tag.value.startswith("??"):
            if _matters(tags, n, text, above, findings, lexicon):
                yield tag, tag.value.lstrip("?")
        elif told := next((lexicon.confirm[value] for _, value in tag.also if value in lexicon.confirm), ""):
            if not any(
                f.fact.place <= tag.start < f.fact.over and f.subjects[:1] and f.subjects[0].value != tag.value
                for f in findings
            ):
                yield tag, told  # of what it is is not said behind it
        elif tag.name == "ELSEWHERE" and _goes_on_alone(tags, n, [*findings, *chosen]):
            yield tag, "what holds in all other places is said in words that are not understood"
        elif tag.name == "NO" and next_ == "surface" and _has_none(tags, n, [*findings, *chosen]):
            yield tag, "says what a place has none of: no rule was made of it"
        elif tag.name == "NO" and next_ == "room" and _part(tags, n, ("APPLIED",)):
            if not any(f.fact.place >= tag.start for f in chosen) and not _read(tags, n, findings):
                yield tag, LEFT_AS_IT_IS
        elif tag.name == "NO" and next_ == "subject" and _refusable(tags, n + 1, lexicon):
            yield tag, "says what is not wanted: no rule was made of it"
        elif tag.name == "LEFT_OUT" and any(t.name in _PLACES for t in tags):
            yield tag, LEFT_AS_IT_IS
        elif (tag.name, tag.value) == _SO:
            if _part(tags, n, _PLACES) and not _read(tags, n, findings):
                yield tag, "taken over from elsewhere: see that it says what is meant"
        elif tag.name == "CARRIED" and behind is not None and behind.name == "mark" and behind.value in items:
            continue
        elif tag.name in ("CARRIED", "AS_OTHER") or (tag.name == "AS" and _taken_over(tag, behind)):
            yield tag, "taken over from elsewhere: see that it says what is meant"
        elif tag.name == "EXCEPT" and goods and next_ not in _PLACES:
            if not any(f.fact.place > tag.start and f.stands for f in findings):
                yield tag, "an exception: what holds there is not said"
        elif tag.name == "MORE" and next_ in ("COAT", "LAYER") and not asked:
            yield tag, "more than what is said elsewhere: the total is open"
        elif tag.name == "OPEN_ENDED" and goods and not asked:
            yield tag, "the text leaves it open"
        elif tag.name == "RELATIVE" and goods and not asked:
            yield tag, "relative to something said elsewhere"


def _bounds(tags: Sequence[Tag], at: int) -> tuple[int, int]:
    """Where the part of a sentence that a tag stands in begins and ends."""
    return sentence_bounds(tags, tags[at].start, tags[-1].end, ("STOP", "SEMICOLON"))


def _part(tags: Sequence[Tag], at: int, names: Container[str]) -> list[Tag]:
    """The tags of some names in the part of a sentence that one stands in."""
    low, high = _bounds(tags, at)
    return [t for t in tags if low < t.start < high and t.name in names]


_SO = ("AS_OTHER", "so")


def _read(tags: Sequence[Tag], at: int, findings: Sequence[Finding]) -> bool:
    """Whether something was read in the run of words between commas that a tag stands in, or behind it in its part, or goods are named."""
    low, high = _bounds(tags, at)
    low = max([low, *(t.start for t in tags[:at] if t.name == "COMMA")])
    goods = any(low < t.start < high and t.name == "subject" for t in tags)
    return goods or any(low < f.fact.place < high for f in findings)


def _has_none(tags: Sequence[Tag], at: int, findings: Sequence[Finding]) -> bool:
    """Whether a part of a sentence says of a room that it has none of a surface, and nothing else."""
    low, high = _bounds(tags, at)
    return bool(_part(tags, at, ("room",))) and not any(low < f.fact.place < high for f in findings)


def _goes_on_alone(tags: Sequence[Tag], at: int, findings: Sequence[Finding]) -> bool:
    """Whether nothing was read of what all other places have, in a clause that says what some have: `Bath ceilings are A. Everything else is
    B.`"""
    low, high = _bounds(tags, at)
    read = any(low < f.fact.place < high for f in findings)
    some = any(t.name in ("room", "mark") for t in tags[:at]) and any(
        t.name in ("surface", "subject") for t in tags[:at]
    )
    return some and not read and not _part(tags, at, ("ASIDE", "NOT_PERMITTED", "NUMBER"))


def _matters(
    tags: Sequence[Tag], at: int, text: str, above: Sequence[Tag], findings: Sequence[Finding], lexicon: Lexicon
) -> bool:
    """Whether a sentence without a number of its own speaks of our work, or of what it goes on: a doubt is heard at its number else."""
    low, high = _bounds(tags, at)
    if any(low < f.fact.place < high for f in findings if f.kind):
        return False
    said = [t for t in tags if low < t.start < high]
    if any(t.name in ("ASIDE", "REFERENCE", "hint") for t in said):
        return False
    if works_of(lexicon.vocabularies).in_heading(text[max(low, 0) : high]):
        return True
    ours = {"subject": lexicon.kinds, "surface": {s for some in lexicon.surfaces.values() for s in some}}
    return any(t.value in ours.get(t.name, ()) or t.name in _WORK for t in (*said, *above))


_WORK = ("COAT", "LAYER", "sheen", "APPLIED", "LEFT_OUT")


def _taken_over(tag: Tag, behind: Tag | None) -> bool:
    """Whether a thing is as another: `as the hall`, `as W1`, `as item 5`."""
    close = behind is not None and behind.start - tag.end <= 1
    if tag.value:  # `see hall`, and not `see detail 5`
        names = ("room",) if tag.value == "see" else _PLACES
        return behind is not None and behind.name in names and behind.start - tag.end <= len(" the ")
    return behind is not None and (behind.name == "room" or (behind.name in ("mark", "REFERENCE") and close))


_PLACES = ("room", "surface")
_LEADS = ("THOSE", "OF", "ALL", "BOTH", "ITS", "COLON")
"""What may stand between an exception and its place: `other than those of the hall`."""


def excepted(tags: Sequence[Tag], *, leads: bool = False) -> Iterator[tuple[Tag, Tag]]:
    """Each exception that names a place, and the place: whether something else is said of it shows further on. `leads`: a list stands
    below, which is said of what is left."""
    if leads or any(t.name in _GOODS for t in tags):
        said = [t for t in tags if t.name not in _LEADS]
        yield from ((tag, place) for tag, place in pairwise(said) if tag.name == "EXCEPT" and place.name in _PLACES)


def only_said(tags: Sequence[Tag], fact: Fact) -> bool:
    """Whether a count that stands in no ledger, since a word says it, is said of a place: `a third coat to doors`."""
    numbered = any(t.name in NUMBERED for t in tags[fact.start : fact.end])
    return fact.kind in ("coats", "layers") and not numbered and any(t.name in _PLACES for t in tags)


def _refusable(tags: Sequence[Tag], at: int, lexicon: Lexicon) -> bool:
    """Whether a product is one that is left out when it is not wanted: put on in coats, or in layers somewhere."""
    kinds = lexicon.kinds.get(tags[at].value, frozenset())
    placed = at + 1 < len(tags) and tags[at + 1].name in _PLACES
    return "coats" in kinds or ("layers" in kinds and placed)
