"""A clause's tags to sentences, parts and phrases: which words stand close enough to a number to speak of it."""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Iterator, Sequence

from attrs import define, evolve, field, frozen

from darby.reading.parsing.fact_parser import Fact
from darby.reading.parsing.lexer import Tag

_BREAKS = {"COMMA", "AND", "PLUS", "LARGER_THAN", "EITHER", "DASH", "INSTEAD_OF", "COLON", "EXCEPT"}


_COUNTERS = ("LEVEL", "COAT", "LAYER")
_LONGEST = 160
"""Tags in one sentence; real ones have a quarter of that."""


@define(eq=False)
class Phrase:
    """A stretch around one fact (or facts that follow each other closely): what is said in it belongs together."""

    tags: list[Tag]
    facts: list[Fact]
    part: Part
    lead: list[Tag] = field(factory=list)
    """Tags before its first fact."""

    def named(self, name: str) -> list[Tag]:
        """Its tags of one name."""
        return [t for t in self.tags if t.name == name]


@define(eq=False)
class Part:
    """A sentence or its stretch up to a semicolon: a label before a colon, phrases, and words after the last fact."""

    label: list[Tag]
    sentence: Sentence
    phrases: list[Phrase] = field(factory=list)
    tail: list[Tag] = field(factory=list)
    strange: bool = False
    """Whether it has a label none of whose words is known."""
    start: int = 0
    """Where it begins in the clause's text, behind its label."""


@define(eq=False)
class Sentence:
    """What stands between two full stops."""

    tags: list[Tag]
    parts: list[Part] = field(factory=list)
    asks: bool = False
    """Whether it ends in a question mark."""

    @property
    def phrases(self) -> Iterator[Phrase]:
        """Its phrases in order."""
        return (phrase for part in self.parts for phrase in part.phrases)


@frozen
class _Run:
    """Tags between two breaks, with the facts among them and the break before."""

    tags: tuple[int, int]
    facts: tuple[Fact, ...]
    opened_by: str


def sentences(tags: Sequence[Tag], facts: Sequence[Fact], text: str = "") -> list[Sentence]:
    """Take the tags of one clause apart. Facts carry the tags they span; a break inside a fact is none."""
    facts = _three_sizes(tags, facts)
    inside = {n for fact in facts for n in range(fact.start, fact.end)}
    uncut = {n for fact in facts for n in range(fact.start + 1, fact.end)}
    starts = [fact.start for fact in facts]
    out: list[Sentence] = []
    for low, high in _split(tags, 0, len(tags), {"STOP"}, inside):
        for start, end in _windows(tags, low, high, uncut):
            own = facts[bisect_left(starts, start) : bisect_left(starts, end)]
            if out and not own and tags[start].name == "OPEN" and tags[end - 1].name == "CLOSE":
                out[-1].parts[-1].tail.extend(tags[start:end])  # a remark in brackets is on the sentence before it
                continue
            out.append(_sentence(tags, own, start, end, inside, text))
        if out and high < len(tags):
            mark = tags[high].start
            out[-1].asks = re.match(r"\w\?(?!\w)", text[mark - 1 : mark + 2]) is not None
    return out


def _three_sizes(tags: Sequence[Tag], facts: Sequence[Fact]) -> list[Fact]:
    """`5/8 in. x 4 ft x 12 ft`: of three lengths the first, far smaller one is the thickness of a sheet of the other two."""
    out: list[Fact] = []
    for fact in facts:
        last = out[-1] if out else None
        if last is None or not _follows(last, fact, tags):
            out.append(fact)
            continue
        by = next(n for n in range(last.start, last.end) if tags[n].name in _BY)
        place, over = tags[by + 1].start, fact.over
        out[-1] = evolve(last, kind="thickness", by=None, end=by, over=tags[by - 1].end)
        out.append(evolve(last, amount=last.by, by=fact.amount, start=by + 1, end=fact.end, place=place, over=over))
    return out


_BY = ("BY", "BY_X")


def _follows(size: Fact, fact: Fact, tags: Sequence[Tag]) -> bool:
    """Whether a bare length goes on with a size that is far longer than wide."""
    one, other, third = size.amount, size.by, fact.amount
    if size.kind != "sheet" or size.twin or one is None or other is None or third is None or fact.kind or fact.per:
        return False
    joined = fact.start == size.end + 1 and tags[size.end].name in _BY
    alike = one.unit.dimension == third.unit.dimension
    once = [tags[n].name in _BY for n in range(size.start, size.end)].count(True) == 1
    return joined and alike and once and one.size * 10 <= other.size


def _sentence(
    tags: Sequence[Tag], facts: Sequence[Fact], start: int, end: int, inside: set[int], text: str
) -> Sentence:
    sentence = Sentence(list(tags[start:end]))
    label: list[Tag] = []
    for low, high in _split(tags, start, end, {"SEMICOLON"}, inside):
        part = Part([], sentence)
        begin = _label_end(tags, facts, low, high)
        part.label = unexcepted(tags[low : max(low, begin - 1)]) if begin > low else list(label)
        part.start = tags[begin].start if begin < high else tags[low].start
        part.strange = _strange(tags, low, begin, text)
        if low == start:
            label = part.label
        _phrases(part, tags, facts, begin, high, inside)
        for phrase in part.phrases:
            phrase.tags, phrase.lead = unexcepted(phrase.tags), unexcepted(phrase.lead)
        sentence.parts.append(part)
    return sentence


def _strange(tags: Sequence[Tag], low: int, begin: int, text: str) -> bool:
    """Whether a colon closes a label of a few words of which none says anything here: `Skim filler: ..`"""
    if begin <= low or tags[begin - 1].name != "COLON":
        first = tags[low] if low < len(tags) else None
        if first is None or first.name != "COLON":
            return False
        begin = low + 1
    if any(t.name not in _SILENT for t in tags[low : begin - 1]):
        return False
    before = text[: tags[begin - 1].start]
    words = before[max(before.rfind("."), before.rfind(";"), before.rfind("|")) + 1 :].split()
    return 0 < len(words) <= _LABEL_WORDS and words[0][:1].isalpha()


_PLACES = ("surface", "room", "where")
_NAMED = (*_PLACES, "subject", "type", "sheen")


def unexcepted(tags: Sequence[Tag]) -> list[Tag]:
    """Words without the places that an exception among them takes out: what is said holds everywhere but there.

    `Walls, except in baths: two coats` is not said of baths; `except in baths: one coat` by itself is.
    """
    kept: list[Tag] = []
    out = False
    for tag in tags:
        if tag.name == "PLACE_BEHIND" or (tag.name == "EXCEPT" and any(t.name in _NAMED for t in kept)):
            out = True  # `the wall behind the base cabinets` is said of no base
        elif tag.name not in (*_PLACES, "AND", "EITHER"):
            out = False
        if not out:
            kept.append(tag)
    return kept


_SILENT = ("COMMA", "AND", "OPEN", "CLOSE", "DASH", "SIGN", "OF")
_LABEL_WORDS = 4


def _windows(tags: Sequence[Tag], low: int, high: int, uncut: set[int]) -> Iterator[tuple[int, int]]:
    """A sentence whole, or one of monstrous length in pieces cut at its commas: reading stays linear whatever the text."""
    while high - low > _LONGEST:
        end = next(
            (n for n in range(low + _LONGEST, low + _LONGEST // 2, -1) if tags[n].name in _BREAKS and n not in uncut),
            0,
        )
        end = end or next((n for n in range(low + _LONGEST, high) if n not in uncut), high)
        yield low, end
        low = end
    yield low, high


def _split(tags: Sequence[Tag], low: int, high: int, at: set[str], inside: set[int]) -> Iterator[tuple[int, int]]:
    start = low
    for n in range(low, high):
        if tags[n].name in at and n not in inside:
            if n > start:
                yield start, n
            start = n + 1
    if high > start:
        yield start, high


def _label_end(tags: Sequence[Tag], facts: Sequence[Fact], low: int, high: int) -> int:
    """Behind the last colon (or spaced dash) before the first fact that may be a rule; `low` where there is no label."""
    first = next(
        (
            f.start
            for f in facts
            if f.start >= low and (_may_rule(f) or _colon_in(f, tags)) and not _names_work(f, tags, high)
        ),
        high,
    )
    first_colon = next((n for n in range(low, min(first, high)) if tags[n].name == "COLON"), 0)
    counted = any(t.name in _COUNTERS for t in tags[low:first_colon]) if first_colon else False
    if counted and any(f.start > first_colon and not f.why for f in facts if f.start < first):
        return first_colon + 1  # `Finish level: 4 (lobby: 5)`
    ends = [
        n
        for n in range(low, min(first, high))
        if tags[n].name == "COLON" or (tags[n].name == "DASH" and tags[n].value != "-")
    ]
    return ends[-1] + 1 if ends and ends[-1] > low else low


def _may_rule(fact: Fact) -> bool:
    united = fact.amount is not None and fact.amount.unit.name != "each"
    return not fact.why and bool(fact.kind or fact.per or united)


def _names_work(fact: Fact, tags: Sequence[Tag], high: int) -> bool:
    """Whether a fact in words is a label: `Walls, single layer: screws ..`"""
    return tags[fact.start].name == "A_LAYER" and fact.end < high and tags[fact.end].name == "COLON"


def _colon_in(fact: Fact, tags: Sequence[Tag]) -> bool:
    """Whether a fact holds its own colon: `Solids by weight: 53 %`."""
    return any(tags[n].name == "COLON" for n in range(fact.start, fact.end))


def _phrases(part: Part, tags: Sequence[Tag], facts: Sequence[Fact], low: int, high: int, inside: set[int]) -> None:
    runs: list[_Run] = []
    start, opened = low, ""
    bracketed = _brackets_with_facts(tags, facts, low, high, inside)
    for n in range(low, high + 1):
        if n == high or (n not in inside and (tags[n].name in _BREAKS or tags[n].value == "/" or n in bracketed)):
            own = tuple(f for f in facts if start <= f.start and f.end <= n)
            runs.append(_Run((start, n), own, opened))
            start, opened = n + 1, tags[n].name if n < high else ""
    phrase: Phrase | None = None
    waiting: list[Tag] = []
    for number, run in enumerate(runs):
        words = list(tags[run.tags[0] - (bool(run.opened_by) and (bool(waiting) or not run.facts)) : run.tags[1]])
        if run.facts:
            phrase = Phrase([*waiting, *words], list(run.facts), part)
            phrase.lead = [t for t in phrase.tags if t.start < tags[run.facts[0].start].start]
            part.phrases.append(phrase)
            waiting = []
        elif phrase is not None and not waiting and not part.tail and _goes_on(phrase, words):
            phrase.tags.extend(words)
        elif (
            phrase is None
            or _leads_on(phrase, words, run, runs[number + 1 :], waiting, tags)
            or run.opened_by == "EXCEPT"
        ):
            waiting.extend(words)
        elif any(later.facts for later in runs[number + 1 :]):
            phrase.tags.extend(words)
        else:
            part.tail.extend(words)
    if not any(t.name == "EXCEPT" for t in waiting):
        part.tail.extend(waiting)


def _brackets_with_facts(tags: Sequence[Tag], facts: Sequence[Fact], low: int, high: int, inside: set[int]) -> set[int]:
    """Brackets that hold a fact and a place of its own: `16 in. on walls (12 in. on ceilings)` are two phrases."""
    found: set[int] = set()
    opened = -1
    for n in range(low, high):
        if tags[n].name == "OPEN" and n not in inside:
            opened = n
        elif tags[n].name == "CLOSE" and n not in inside and opened >= 0:
            placed = any(t.name in ("surface", "room") for t in tags[opened:n])
            if placed and any(opened < f.start and f.end <= n for f in facts):
                found |= {opened, n}
            opened = -1
    return found


def _goes_on(phrase: Phrase, words: list[Tag]) -> bool:
    """Whether words carry on a list of places that the phrase ended in: `on walls` `and ceilings`."""
    named = [t for t in words if t.name not in _BREAKS]
    last = phrase.tags[-1] if phrase.tags else None
    places = ("surface", "room", "where")
    return last is not None and last.name in places and bool(named) and named[0].name in places


def _leads_on(
    phrase: Phrase, words: list[Tag], run: _Run, later: Sequence[_Run], waiting: list[Tag], tags: Sequence[Tag]
) -> bool:
    """Whether words between two facts belong to the one behind: they name a place and the fact before has its own."""
    following = next((r for r in later if r.facts), None)
    if following is None:
        return False
    if waiting:
        return True
    product = any(t.name == "subject" for t in words)
    if (
        product
        and any(t.name == "subject" for t in phrase.tags)
        and not any(t.name == "subject" for t in tags[following.tags[0] : following.tags[1]])
    ):
        return run.opened_by in ("COMMA", "AND", "PLUS")
    led = any(t.name in ("subject", "sheen") for t in phrase.lead) and phrase.part.label != phrase.lead
    product = any(t.name in ("subject", "sheen") for t in words)
    behind = tags[following.tags[0] : following.tags[1]]
    if (
        led
        and product
        and run.opened_by in ("COMMA", "AND")
        and not any(t.name in ("subject", "sheen") for t in behind)
    ):
        return True  # `varnish, 1 coat, and gloss, 2 coats`
    places = [t for t in words if t.name in ("surface", "room")]
    if not places or run.opened_by not in ("COMMA", "AND", "DASH"):
        return False
    rooms = any(t.name == "room" for t in places)
    kinds = ("surface", "room") if rooms and any(t.name == "room" for t in phrase.lead) else ("surface",)
    has_own = any(t.name in kinds for t in (*phrase.tags, *phrase.part.label))
    return has_own and not any(t.name in kinds for t in behind)
