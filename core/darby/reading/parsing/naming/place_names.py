"""Names of places that a text builds of words: rooms with what belongs to their name, numbered parts of a building.

`Law Library`, `Stair 2`, `Level 2 corridors`, `Blocks B and C`, `Type C apartments`: the words around a room, and the numbers and letters that make
a place of a word.
"""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence

from attrs import evolve, frozen

from darby.reading.parsing.naming.larger_places import holds_others
from darby.reading.parsing.naming.names import ARTICLES, LEADING, Names
from darby.reading.parsing.naming.room_numbers import with_room_numbers
from darby.reading.parsing.naming.storeys import is_storey
from darby.reading.parsing.tagging.room_names import singular
from darby.reading.parsing.tagging.tag import Tag, first_behind, put, within

_WORD = re.compile(
    r"[^\W\d_][\w'’]{0,30}(?:-[^\W\d_][\w'’]{0,30}){0,3}|[0-9]{1,4}[A-Za-z]?(?![0-9A-Za-z/'\"“”]|\.[0-9]|\s?(?:mm|in|ft)\b)"
)
MOST_WORDS = 4
"""Words in a name."""


@frozen(eq=False)
class Word:
    """A word of a text: where it stands, and the tag that holds it, if any."""

    start: int
    end: int
    text: str
    tag: Tag | None

    @property
    def low(self) -> str:
        """The word in small letters."""
        return self.text.lower()

    @property
    def titled(self) -> bool:
        """Whether it begins with a capital."""
        return self.text[:1].isupper()


def words_of(text: str, tags: Sequence[Tag]) -> Iterator[Word]:
    """The words of a text and the tags that hold them."""
    starts = [t.start for t in tags]
    for match in _WORD.finditer(text):
        n = bisect_right(starts, match.start()) - 1
        tag = tags[n] if n >= 0 and tags[n].end > match.start() else None
        yield Word(match.start(), match.end(), match[0], tag)


def with_whole_names(tags: Sequence[Tag], text: str, names: Names) -> tuple[list[Tag], list[Word]]:
    """The tags of a text with every known room under its whole name and every numbered place, and the words of the text."""
    tags = with_room_numbers(_numbered(_called_rooms(tags, text), text, names), text, names)
    words = list(words_of(text, tags))
    found = [_grown(tag, words, names) if tag.name == "room" else tag for tag in tags]
    rooms = [t for t in found if t.name == "room"]
    found = [t for t in found if t.name == "room" or not _held(t, rooms)]
    return _merged(found, names), words


def _held(tag: Tag, rooms: Sequence[Tag]) -> bool:
    """Whether a tag stands in the name of one of the rooms, which are in order."""
    return any(r.start <= tag.start and tag.end <= r.end for r in within(rooms, tag.start, tag.end))


def _called_rooms(tags: Sequence[Tag], text: str) -> list[Tag]:
    """`Holding Rooms`, `Drying Room`: two words in capitals are a room, whatever the first may mean elsewhere; a room right
    before a product is part of its name (`shower fittings`)."""
    new: list[Tag] = []
    for match in _CALLED.finditer(text):
        inside = within(tags, match.start(), match.end())
        titled = match[0].rpartition(" ")[2][:1].isupper()
        if any(t.name in ("EVERYWHERE", "ELSEWHERE", "CHANGED", "NEW_VALUE") for t in inside):
            continue  # `Remaining rooms: ..`, `Add Room 106: ..`
        if inside and all(t.name.isupper() or (titled and t.name in ("hint", "subject")) for t in inside):
            new.append(Tag(match.start(), match.end(), "room", singular(match[0].lower())))
    new.extend(
        Tag(match.start(), match.end(), "room", singular(match[0].lower()))
        for match in (_SPELLED if text.isupper() else _ABBREVIATED).finditer(text)
    )
    out = put(new, tags)
    named = [
        tag.name == "room" and n + 1 < len(out) and out[n + 1].name == "subject" and out[n + 1].start == tag.end + 1
        for n, tag in enumerate(out)
    ]
    return [evolve(tag, loose=True) if inside else tag for tag, inside in zip(out, named, strict=True)]


_SPELLED = re.compile(r"(?<![A-Za-z.-])(?:[A-Z]\.){2,4}\s(?:[Rr]ooms?|ROOMS?|[Rr]ms?|RMS?)(?![A-Za-z])")
_ABBREVIATED = re.compile(
    r"(?<![A-Za-z.-])(?:(?:[A-Z]\.){2,4}|[A-Z]{2,4})\s(?:[Rr]ooms?|ROOMS?|[Rr]ms?|RMS?)(?![A-Za-z])"
)
"""Rooms that are called by letters: `I.T. rooms`, `AV room`; among capitals only those with full stops can be told from words."""
_CALLED = re.compile(
    r"(?<![A-Za-z-])(?!(?:Each|Every|All|The|This|Any|Other|These|Both|For|Per|Such|Same|And|With|In|At|To|Of|No)\s)"
    r"(?!(?:One|Two|Three|Four|Five|Six|New|Existing|Which|Whole|Entire|Large|Small)\s)"
    r"[A-Z][a-z]{2,20}\s{1,8}(?:[Rr]ooms?|[Rr]ms?|[Oo]ffices?|Areas?)(?![A-Za-z])"
)


def _numbered(tags: Sequence[Tag], text: str, names: Names) -> list[Tag]:
    """`Blocks B and C`, `Level 2`, `Type C apartments`: one place for each number or letter."""
    if not names.numbered:
        return list(tags)
    out: list[Tag] = list(tags)
    for match in _numbered_pattern(tuple(names.numbered)).finditer(text):
        word = singular(match["word"].lower())
        members = [
            match.span("first"),
            *(m.span() for m in _MEMBER.finditer(text, match.end("first"), match.end("rest"))),
        ]
        if match["first"].islower() or not _stands_as_place(match, members, word, out, names):
            continue
        noun = f" {singular(match['noun'].lower())}" if match["noun"] else ""
        spans = _ranges([(match.start(), members[0][1]), *members[1:]], text)
        values = [_RUNS.sub(" to ", text[s:e], count=1) for s, e in [(match.start("first"), spans[0][1]), *spans[1:]]]
        out = [t for t in out if not any(s < t.end and t.start < e for s, e in spans) or t.name in ("AND", "COMMA")]
        if match["noun"]:
            out = [t for t in out if not (match.start("noun") < t.end and t.start < match.end("noun"))]
            spans[-1] = (spans[-1][0], match.end("noun"))
        out.extend(Tag(s, e, "room", f"{word} {v.lower()}{noun}") for (s, e), v in zip(spans, values, strict=True))
        out.sort(key=lambda t: t.start)
    return out


def _ranges(spans: Sequence[tuple[int, int]], text: str) -> list[tuple[int, int]]:
    """`Floors 3 to 12` is one place, which rooms on any floor between meet; its numbers count up."""
    out = [spans[0]]
    for start, end in spans[1:]:
        low, high = _LAST.search(text, out[-1][0], out[-1][1]), text[start:end]
        runs = _RUNS.fullmatch(text, out[-1][1], start) is not None and low is not None
        if runs and low is not None and low[0].isdigit() == high.isdigit() and _counted(low[0]) < _counted(high):
            out[-1] = (out[-1][0], end)
        else:
            out.append((start, end))
    return out


def _counted(member: str) -> int:
    """Where a number or a letter stands in its order."""
    return int(member) if member.isdigit() else ord(member[0])


_RUNS = re.compile(r"\s(?:to|thru|through)\s|[–-]", re.IGNORECASE)
_LAST = re.compile(r"(?:[0-9]{1,3}|(?<![A-Za-z])[A-Z])\Z")


def _stands_as_place(
    match: re.Match[str], members: Sequence[tuple[int, int]], word: str, tags: Sequence[Tag], names: Names
) -> bool:
    """Whether `Level 2` is a storey and `Type C` a kind of dwelling, as both words mean something else as often, and `Flat 12` a
    dwelling: `flat 0 to 5` is how it shines, and `flat 350 sq ft/gal` how far it goes."""
    if word == "level":
        return is_storey(match, len(members), tags, names)
    if word == "type":  # `Type X` of goods beside `Type A: 12 units`
        held = any(t.name == "type" and t.start <= match.start() < t.end for t in tags)
        return bool(match["noun"]) or (names.kinds and not held)
    numbers = [t for t in within(tags, match.start(), match.end()) if t.name in ("NUMBER", "LENGTH_UNIT")]
    after = first_behind(tags, match.end("rest"))
    if match["first"] == "0" or (after and after.name.endswith("_UNIT") and after.start - match.end("rest") <= 1):
        return False
    return not any(s <= t.start < e < t.end for t in numbers for s, e in members)


_MEMBER = re.compile(r"(?<![A-Za-z0-9])(?:[A-Z]|[0-9]{1,3}[A-Z]?)(?![A-Za-z0-9'\"/])")
_patterns: dict[tuple[str, ...], re.Pattern[str]] = {}


def _numbered_pattern(words: tuple[str, ...]) -> re.Pattern[str]:
    if words not in _patterns:
        member = r"(?:[A-Z]|[0-9]{1,3}[A-Z]?)(?![A-Za-z0-9'\"/]|\.[0-9]|\s?[xX×]\s?[0-9]|\s(?:coats?|layers?|in\.|inch|ft|mm|lbs?|kg|gal|litres?|sq|m2)\b)"
        either = "|".join(sorted(map(re.escape, words), key=len, reverse=True))
        _patterns[words] = re.compile(
            rf"(?<![A-Za-z-])(?P<word>(?i:{either}))[sS]?\s(?P<first>{member})"
            rf"(?P<rest>(?:(?i:,\s|\sand\s|,\sand\s|\s&\s|\sor\s|\sto\s|\sthru\s|\sthrough\s|[–-]){member}){{0,8}})"
            r"(?:\s(?P<noun>(?i:apartments?|flats?|units?|homes?|houses?|suites?|rooms?|bedrooms?|dwellings?|villas?)))?"
        )
    return _patterns[words]


def _grown(tag: Tag, words: Sequence[Word], names: Names) -> Tag:
    """A room with the words before it that belong to its name (`Law Library`) and the number behind it (`Stair 2`)."""
    inside = [n for n in range(*_between(words, tag.start, tag.end)) if words[n].tag is tag]
    if not inside:
        return tag
    first, last = inside[0], inside[-1]
    start, end, low, n = tag.start, tag.end, first, first - 1
    while n >= 0 and first - n < MOST_WORDS and words[n].tag is None and words[n].end + 1 == words[low].start:
        word = words[n]
        listed = n == 0 or _listed(words, n, names)
        called = word.titled and tag.start == word.end + 1 and words[first].titled and _opens_name(words, n)
        beside = tag.start == word.end + 1
        if not called and (
            not names.can_name(word.low, titled=beside) or not (word.titled or listed or after_lead(words, n))
        ):
            break
        low, n = n, n - 1
    if low < first:
        start = words[low].start
    after = words[last + 1] if last + 1 < len(words) else None
    if after is not None and after.start == end + 1 and re.fullmatch(r"[0-9]{1,4}[A-Za-z]?|[A-Z]", after.text):
        number = after.tag is not None and after.tag.name == "NUMBER" and after.tag.end == after.end
        close = (
            last + 2 < len(words) and words[last + 2].start == after.end + 1
        )  # `Bedroom 1: two coats` counts no bedroom
        counts = (close and _counts(words, last + 2)) or _counts_goods(words, last + 2)
        if (after.tag is None or (number and not counts)) and not tag.value.endswith("s"):
            end = after.end
    if (start, end) == (tag.start, tag.end):
        return tag
    said = " ".join(words[n].text for n in range(*_between(words, start, end))).lower()
    return evolve(tag, start=start, end=end, value=singular(said), loose=tag.loose and start == tag.start)


def _between(words: Sequence[Word], low: int, high: int) -> tuple[int, int]:
    """The words that begin in a stretch of the text: the first of them, and the one behind the last."""
    first = bisect_left(words, low, key=lambda w: w.start)
    return first, bisect_left(words, high, lo=first, key=lambda w: w.start)


def _listed(words: Sequence[Word], n: int, names: Names) -> bool:
    """Whether a word stands beside a place that is listed before it: `baths, separate WCs`, `gyms and band halls`, `garage + boiler closet`."""
    before, apart = words[n - 1], words[n].start - words[n - 1].end
    if before.low in ("and", "or") and n > 1:
        return apart == 1 and (
            _is_room(words[n - 2]) or (words[n - 2].tag is None and names.can_name(words[n - 2].low))
        )
    return (apart == 2 and before.tag is not None) or (apart == 3 and _is_room(before))


def _is_room(word: Word) -> bool:
    return word.tag is not None and word.tag.name == "room"


def _opens_name(words: Sequence[Word], n: int) -> bool:
    """Whether a word with a capital stands where a name begins, though it means something else too: `in the Long Passage`."""
    if n == 0:
        return False
    before = words[n - 1]
    return before.end + 1 == words[n].start and not before.titled and (before.low in LEADING or before.low in ARTICLES)


def _merged(tags: Sequence[Tag], names: Names) -> list[Tag]:
    """`restroom chase`: rooms right behind each other are one place; of a floor and what is on it more is to be said."""
    out: list[Tag] = []
    for tag in tags:
        last = out[-1] if out else None
        beside = last is not None and last.name == tag.name == "room" and tag.start == last.end + 1
        if last is not None and beside and not any(holds_others(t.value, names.numbered) for t in (last, tag)):
            out[-1] = evolve(last, end=tag.end, value=f"{last.value} {tag.value}")
        else:
            out.append(tag)
    return out


_GOES_ON = frozenset("AND EITHER OF FOR PER HOLDS EXCEPT CONDITION ALL ONLY BOTH PROVIDE_AT RANGE".split())
"""What stands behind a number that it neither counts nor measures."""


def _counts(words: Sequence[Word], at: int) -> bool:
    """Whether the word at `at` is one that a number counts or measures."""
    tag = words[at].tag if at < len(words) else None
    return tag is not None and tag.name.isupper() and tag.name not in _GOES_ON and not _spelled(words[at])


def _spelled(word: Word) -> bool:
    """Whether a word is a number in letters, which no number counts: `Office 3 two coats`."""
    return word.tag is not None and word.tag.name in ("NUMBER", "A_COAT", "A_LAYER") and word.text[0].isalpha()


def _counts_goods(words: Sequence[Word], at: int) -> bool:
    """Whether goods stand at `at`, and right behind them others with a number of their own: `Office 1 varnish + 2 wax`."""
    goods = words[at].tag if at < len(words) else None
    if goods is None or goods.name != "subject":
        return False
    behind = [w for w in words[at : at + MOST_WORDS + 3] if w.tag is not goods and w.low not in ("and", "plus")][:2]
    tags = [w.tag for w in behind if w.tag is not None]
    return len(tags) > 1 and tags[0].name == "NUMBER" and tags[1].name in ("subject", "COAT", "sheen")


def after_lead(words: Sequence[Word], n: int) -> bool:
    """Whether a word or an article that leads to a place stands before a word."""
    return n > 0 and (words[n - 1].low in LEADING or words[n - 1].low in ARTICLES)
