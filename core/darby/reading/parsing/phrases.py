"""Phrases of a part: which words stand close enough to a number to speak of it."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from attrs import frozen

from darby.reading.parsing.fact_parser import Fact
from darby.reading.parsing.sentence import Part, Phrase
from darby.reading.parsing.tagging.tag import Tag, comes_so
from darby.rules.name_matching import SORT

BREAKS = {"COMMA", "AND", "PLUS", "LARGER_THAN", "EITHER", "DASH", "INSTEAD_OF", "COLON", "EXCEPT"}
"""What parts one phrase from the next."""
COUNTED = ("coats", "layers")
"""Kinds that a number alone counts, with what is counted named behind it."""


@frozen
class _Run:
    """Tags between two breaks, with the facts among them and the break before."""

    tags: tuple[int, int]
    facts: tuple[Fact, ...]
    opened_by: str


def cut_phrases(part: Part, tags: Sequence[Tag], facts: Sequence[Fact], low: int, high: int, inside: set[int]) -> None:
    """Cut the tags of a part, from its label on, into phrases around its facts, and what is left over into its tail."""
    runs: list[_Run] = []
    start, opened = low, ""
    bracketed = _brackets_with_facts(tags, facts, low, high, inside)
    again = _begin_anew(tags, facts)
    joined = _joined_sorts(tags, facts, low, high)
    bracketed |= {n for n in range(low, high) if tags[n].name == "WHILE" and _counts_around(facts, n, low, high)}
    for n in range(low, high + 1):
        if n in joined:
            continue
        if n in again and start < n < high:
            runs.append(_Run((start, n), tuple(f for f in facts if start <= f.start and f.end <= n), opened))
            start, opened = n, ""
        if n == high or (n not in inside and (tags[n].name in BREAKS or tags[n].value == "/" or n in bracketed)):
            own = tuple(f for f in facts if start <= f.start and f.end <= n)
            runs.append(_Run((start, n), own, opened))
            start, opened = n + 1, tags[n].name.replace("WHILE", "COMMA") if n < high else ""
    phrase: Phrase | None = None
    waiting: list[Tag] = []
    for number, run in enumerate(runs):
        words = list(tags[run.tags[0] - (bool(run.opened_by) and (bool(waiting) or not run.facts)) : run.tags[1]])
        if run.facts:
            phrase = Phrase([*waiting, *words], list(run.facts), part)
            phrase.lead = [t for t in phrase.tags if t.start < tags[run.facts[0].start].start]
            part.phrases.append(phrase)
            waiting = []
        elif waiting and waiting[0].name == "EXCEPT" and all(t.name in _LISTED_PLACES for t in words):
            waiting.extend(words)  # `except in baths and kitchens`
        elif phrase is not None and not waiting and _looks_elsewhere(phrase, words, runs[number + 1 :]):
            continue  # `two coats eggshell, satin in the attic`
        elif phrase is not None and _of_the_whole_list(part, tags, runs[number:]):
            part.tail.extend(words)
        elif (
            phrase is not None
            and not waiting
            and not part.tail
            and _goes_on(phrase, words)
            and not _says_more(tags, runs[number:])
            and not _begins_list(phrase, words, run, runs[number + 1 :], tags)
        ):
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


def _joined_sorts(tags: Sequence[Tag], facts: Sequence[Fact], low: int, high: int) -> set[int]:
    """What stands between two words that both tell one sort of goods, `plain, silk paper`: not where an amount stands on
    either side, each with its own sort."""
    found = {n for n in range(low + 1, high - 1) if tags[n].name in _LISTING or tags[n].value == "/"}
    found = {
        n for n in found if tags[n - 1].name == tags[n + 1].name == SORT and tags[n - 1].value != tags[n + 1].value
    }
    breaks = [low, *(n for n in range(low, high) if tags[n].name in BREAKS and n not in found), high]
    counted = {n for n in found if _counts_twice(facts, n, breaks)}
    return found - counted


def _counts_twice(facts: Sequence[Fact], at: int, breaks: Sequence[int]) -> bool:
    """Whether facts of one kind stand on both sides of a sign, each up to the nearest break."""
    before, behind = max(n for n in breaks if n <= at), min(n for n in breaks if n > at)
    kinds = {f.kind for f in facts if before <= f.start < at}
    return any(f.kind in kinds for f in facts if at < f.start < behind)


_LISTING = ("COMMA", "AND")


def _counts_around(facts: Sequence[Fact], at: int, low: int, high: int) -> bool:
    """Whether something is counted before a word and behind it: `halls get two coats while attics get three`."""
    before = [f for f in facts if low <= f.start and f.end <= at]
    behind = [f for f in facts if at <= f.start and f.end <= high]
    return any(f.kind in COUNTED for f in before) and any(f.kind in COUNTED or _bare_count(f) for f in behind)


def _begin_anew(tags: Sequence[Tag], facts: Sequence[Fact]) -> set[int]:
    """Where a fact of the kind before it begins a phrase of its own: a second count at once behind the first (`two coats on one coat
    of wax` speaks of two products), a second bound behind a place (`not over 12 in. on walls nor over 8 in. on ceilings`)."""
    return {
        after.start
        for fact, after in pairwise(facts)
        if (fact.kind == after.kind or _bare_count(after)) and not (fact.why or after.why)
        if (fact.kind in COUNTED and after.start == fact.end)
        or (fact.kind in COUNTED and _placed_twice(tags, fact, after))
        or (fact.bound == after.bound != "exact" and any(t.name in _PLACED for t in tags[fact.end : after.start]))
    }


_PLACED = ("surface", "room")
LOOKS = ("sheen", "color")


def _placed_twice(tags: Sequence[Tag], fact: Fact, after: Fact) -> bool:
    """Whether a place stands behind each of two counts, and no break between them: `two coats on walls with three in attics`."""
    behind = next((t for t in tags[after.end : after.end + _PAIR] if t.name not in ("COAT", "OF")), None)
    between = tags[fact.end : after.start]
    return any(t.name in _PLACED for t in between) and behind is not None and behind.name == "room"


_PAIR = 2


def _bare_count(fact: Fact) -> bool:
    """Whether a fact is a number and no more: `two coats on 1 wax`."""
    return not fact.kind and fact.per is None and fact.amount is not None and fact.amount.unit.name == "each"


def _brackets_with_facts(tags: Sequence[Tag], facts: Sequence[Fact], low: int, high: int, inside: set[int]) -> set[int]:
    """Brackets that hold a fact and a place of its own: `16 in. on walls (12 in. on ceilings)` are two phrases."""
    found: set[int] = set()
    opened = -1
    for n in range(low, high):
        if tags[n].name == "OPEN" and n not in inside:
            opened = n
        elif tags[n].name == "CLOSE" and n not in inside and opened >= 0:
            placed = any(t.name in ("surface", "room", "where") for t in tags[opened:n])
            told = {t.name for t in tags[opened:n]}
            other = "room" in told and any(t.name in LOOKS and t.name in told for t in tags[low:opened])
            if placed and (other or any(opened < f.start and f.end <= n for f in facts)):
                found |= {opened, n}
            opened = -1
    return found


_LISTED_PLACES = ("room", "surface", "AND", "COMMA", "EITHER", "ALL")


def _of_the_whole_list(part: Part, tags: Sequence[Tag], runs: Sequence[_Run]) -> bool:
    """Whether the last words of a list say in which rooms all of it holds: `A on walls, B on ceilings, in toilets`."""
    run = runs[0]
    if run.opened_by != "COMMA" or any(later.facts for later in runs):
        return False
    words = tags[run.tags[0] : runs[-1].tags[1]]
    named = [t for t in words if t.name not in BREAKS and t.name not in ("ONLY", "ALL")]
    placed = all(
        any(t.name == "surface" for t in p.tags) and not any(t.name == "room" for t in p.tags) for p in part.phrases
    )
    rooms = bool(named) and all(t.name == "room" for t in named)
    return rooms and not named[0].loose and len(part.phrases) > 1 and placed


_CODED = ("CODE", "a mark")
_SAYS = ("mark", *LOOKS, "type", "REPLACED")


def _says_more(tags: Sequence[Tag], runs: Sequence[_Run]) -> bool:
    """Whether places behind a comma have something of their own: `.. on walls, ceilings PT-2`, `.. on walls, doors and frames gloss`."""
    if runs[0].opened_by != "COMMA":
        return False
    end = next((n for n, run in enumerate(runs) if n and run.opened_by != "AND"), len(runs))
    words = [t for run in runs[:end] for t in tags[run.tags[0] : run.tags[1]]]
    placed = next((n for n, t in enumerate(words) if t.name in _PLACED), len(words))
    described = {id(t) for t, behind in pairwise(words) if comes_so(t) and behind.name == "surface"}
    return not any(run.facts for run in runs[:end]) and any(
        (t.name in _SAYS and id(t) not in described) or (t.name, t.value) == _CODED for t in words[placed:]
    )


def _looks_elsewhere(phrase: Phrase, words: Sequence[Tag], later: Sequence[_Run]) -> bool:
    """Whether words give some place another look than a phrase has, behind its last fact: they are said of that place alone."""
    looks = {t.value for t in phrase.tags if t.name in LOOKS}
    own = [t for t in words if t.name not in BREAKS]
    others = {t.value for t in own if t.name in LOOKS} - looks
    which = ("room", "facing")
    placed = any(t.name in which or "facing" in dict(t.also) for t in own) and not any(run.facts for run in later)
    return bool(looks and others) and placed and all(t.name in _TOLD_THERE for t in own)


def _goes_on(phrase: Phrase, words: list[Tag]) -> bool:
    """Whether words carry on a list of places that the phrase ended in: `on walls` `and ceilings`."""
    named = [t for t in words if t.name not in BREAKS and t.name != "ITS" and not comes_so(t)]
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
    if waiting or _begins_list(phrase, words, run, later, tags):
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
    places = {kind for t in words for kind in _places(t)}
    if not places or run.opened_by not in ("COMMA", "AND", "DASH"):
        return False
    rooms = "room" in places and any(t.name == "room" for t in phrase.lead)
    kinds = {"surface", "room"} if rooms else {"surface"}
    has_own = any(not kinds.isdisjoint(_places(t)) for t in (*phrase.tags, *phrase.part.label))
    lacking = kinds & places if rooms else kinds  # `foyer (two coats on walls), attic (three coats on walls)`
    return has_own and all(lacking.isdisjoint(_places(t)) for t in behind)


def _begins_list(phrase: Phrase, words: Sequence[Tag], run: _Run, later: Sequence[_Run], tags: Sequence[Tag]) -> bool:
    """Whether places begin the list that the next fact is said of: `walls 300 mm, ceilings and soffits 200 mm`. The fact before has a
    place of its own; `300 mm on walls, ceilings and soffits 200 mm` joins the last two."""
    at = next((n for n, r in enumerate(later) if r.facts), len(later))
    if run.opened_by != "COMMA" or at == len(later) or later[at].opened_by != "AND":
        return False
    if not any(t.name in _PLACED for t in (*phrase.tags, *phrase.part.label)):
        return False
    first = tags[later[at].facts[0].start].start
    lists = [words, *(tags[r.tags[0] : r.tags[1]] for r in later[: at + 1])]
    led = [[t for t in one if t.name not in BREAKS and t.start < first] for one in lists]
    return all(any(t.name in _PLACED for t in one) and all(t.name in _NAMED for t in one) for one in led)


_NAMED = (*_PLACED, "ALL", "BOTH", "condition", "facing", "ITS", "OF")
_TOLD_THERE = (*LOOKS, *_NAMED, "ONLY", "INSTEAD_OF", "OPEN", "CLOSE")


def _places(tag: Tag) -> set[str]:
    """What of a place a word says; a support may be called by its surface."""
    called = [key for key, _ in tag.also if key == "surface"] if tag.name == "hint" else []
    return {tag.name, *called} & {"surface", "room"}
