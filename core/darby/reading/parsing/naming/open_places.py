"""Places that no list knows: words that say where, by where they stand. What is found limits a rule and is kept as written.

Only where a sentence leaves little doubt: before a surface (`Entry Portal walls`), in a label beside a room or a surface, behind a
preposition and in capitals, or as the label of a sentence that speaks of goods. A word that merely describes a surface
(`exposed walls`) is no place; which words those are is data, the lexicon's `[no_place]`.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import islice, takewhile

from darby.reading.parsing.naming.names import ARTICLES, LEADING, Names
from darby.reading.parsing.naming.place_lists import with_listed_places
from darby.reading.parsing.naming.place_names import MOST_WORDS, Word, with_whole_names
from darby.reading.parsing.naming.place_nouns import with_dividers, with_headed_places
from darby.reading.parsing.naming.room_numbers import with_counted_rooms
from darby.reading.parsing.tagging.room_names import singular
from darby.reading.parsing.tagging.tag import Tag, begun_by, ended_by, first_behind, put, within

_OF_SEVERAL = re.compile(r"\s(?P<number>[0-9]{1,3}[A-Z]?|[A-Z])(?=\s*:|\s+(?:walls?|ceilings?|doors?|floors?)\b)")
"""The number behind the name of one of several places."""
_WEAK_LEADING = frozenset("for to".split())
_BREAK = ("STOP", "SEMICOLON", "CELL", "BREAK")
_GIVING = re.compile(r"\s+(?:gets?|receives?|has|have|takes?|only\b)", re.IGNORECASE)


def with_places(tags: Sequence[Tag], text: str, names: Names) -> list[Tag]:
    """The tags of a text with a `room` tag for every place in it, known or not."""
    return with_listed_places(_with_open(with_counted_rooms(tags, text), text, names), text, names)


def _with_open(tags: Sequence[Tag], text: str, names: Names) -> list[Tag]:
    """The tags with the places that stand by themselves."""
    found, words = with_whole_names(tags, text, names)
    found = with_headed_places(
        _called(with_dividers(_sides(found, text, names), text, names), text, names), text, names
    )
    if not words:
        return found
    taken = [t for t in found if t.name != "NUMBER"]
    shouted = text.upper() == text
    new = [t for t in _unknown(words, found, text, names, shouted=shouted) if not within(taken, t.start, t.end)]
    if not new:
        return found
    return put(new, found)


_SIDE = re.compile(r"(?<![A-Za-z-])(?P<of>[A-Za-z][A-Za-z'’-]{1,30})\s(?P<noun>side|face)(?![A-Za-z-])", re.IGNORECASE)


def _sides(tags: Sequence[Tag], text: str, names: Names) -> list[Tag]:
    """`corridor side`, `wet side`: the side of a wall that something is said of, by the room it looks to or by a word."""
    new: list[Tag] = []
    for match in _SIDE.finditer(text):
        inside = within(tags, match.start(), match.end())
        building = _OF_BUILDING.match(text, match.end())
        faced = building is not None and any(
            t.name == "surface" for t in within(tags, building.end(), building.end() + 2)
        )
        if building is not None and building["noun"].lower() in names.numbered and not faced:
            said = " ".join(text[match.start() : building.end()].lower().split())
            new.append(Tag(match.start(), building.end(), "room", said))
            continue
        of = match["of"].lower()
        named = all(t.name in _FACED for t in inside) and (inside or names.can_name(of) or of in names.sided)
        if named or _faces(match, tags, inside, text, names):
            kept = within(tags, match.start() - 2, match.start()) if inside and inside[0].name == "ROOM_HEAD" else []
            led = [t for t in kept if t.name == "room" and t.end == match.start() - 1]  # `pump room side`
            start = min([match.start(), *(t.start for t in (*inside, *led))])
            new.append(Tag(start, match.end(), "where", " ".join(text[start : match.end()].lower().split())))
    for match in _SIDE_OF.finditer(text):
        room = next(
            (t for t in within(tags, match.end(), match.end() + 1) if t.name == "room" and t.start == match.end()), None
        )
        wall = room is not None and (
            any(key == "surface" for key, _ in room.also)
            or any(t.name == "surface" and t.start == room.end + 1 for t in within(tags, room.end, room.end + 2))
        )
        if room is not None and not wall:  # `each side of the stair wall` are both of its sides
            new.append(Tag(match.start(), room.end, "where", f"{room.value} side"))
    return put(new, tags) if new else list(tags)


def _faces(match: re.Match[str], tags: Sequence[Tag], inside: Sequence[Tag], text: str, names: Names) -> bool:
    """Whether a word that means something else elsewhere says which side of a wall is meant: `on the unit side`, `back side of partitions`.
    A sheet has sides of its own, which are long or bound, and not all sides are some."""
    of = match["of"].lower()
    if match["noun"].lower() != "side" or of in names.no_sides or any(t.end > match.end("of") for t in inside):
        return False
    to = _OF_IT.match(text, match.end())
    wall = to is not None and any(
        t.name == "surface" and t.start == to.end() for t in within(tags, to.end(), to.end() + 1)
    )
    of_it = any(
        t.name == "surface" and text[t.end : match.start()] == ", "
        for t in within(tags, match.start() - 3, match.start() - 2)
    )
    return wall or of_it or _ON_IT.search(text, max(0, match.start() - _NEAR), match.start()) is not None


_OF_IT = re.compile(r"\sof\s(?:the\s|each\s|every\s|all\s|such\s)?")
_ON_IT = re.compile(r"(?<![A-Za-z])(?:on|at|to|for)\s(?:the\s)?\Z", re.IGNORECASE)
_NEAR = 12
_OF_BUILDING = re.compile(r"\sof\s(?:the\s|each\s)?(?P<noun>[A-Za-z]+)")
"""A side of a building is a place, and no side of a wall; a side of the house wall is one."""
_SIDE_OF = re.compile(
    r"(?<![A-Za-z-])(?:(?:on|to|at|for)\s(?:the\s)?)?(?:side|face)s?\s(?:of|in|facing|towards?|to|next\sto|nearest|adjoining|exposed\sto|looking\sto)\s(?:the\s)?",
    re.IGNORECASE,
)
"""What leads to the room that a side of a wall looks to: `on the side of the laundry`."""
_FACED = ("room", "WET", "ROOM_HEAD", "DRY")


def _unknown(words: Sequence[Word], tags: Sequence[Tag], text: str, names: Names, *, shouted: bool) -> Iterator[Tag]:
    """Runs of words that are nobody's, where they stand as a place."""
    n = 0
    while n < len(words):
        word = words[n]
        if word.tag is not None or not names.can_name(word.low, titled=word.titled) or word.text[0].isdigit():
            n += 1
            continue
        last = n
        while (
            last + 1 < len(words)
            and last - n < MOST_WORDS
            and words[last + 1].tag is None
            and words[last + 1].start == words[last].end + 1
            and names.can_name(words[last + 1].low, titled=word.titled and words[last + 1].titled)
        ):
            last += 1
        start, end = word.start, words[last].end
        number = _OF_SEVERAL.match(text, end) if word.titled else None
        if number is not None:
            # `Ensuite 2: ..`, `Ward 3 ceilings`
            last, end = last + 1, number.end()
        unsure = number is None and any(w.low in names.parts for w in words[n : last + 1])
        label = text[end : end + 1] == ":" and any(w.low in names.labels for w in words[n : last + 1])
        if (
            not label
            and last - n < MOST_WORDS
            and _is_place(words, n, last, tags, text, shouted=shouted, unsure=unsure)
        ):
            yield Tag(start, end, "room", singular(text[start:end].lower()))
        n = last + 1


def _is_place(
    words: Sequence[Word], n: int, last: int, tags: Sequence[Tag], text: str, *, shouted: bool, unsure: bool
) -> bool:
    start, end = words[n].start, words[last].end
    ahead, behind = ended_by(tags, start), begun_by(tags, end)
    before = tags[ahead - 1] if ahead else None
    after = tags[behind] if behind < len(tags) else None
    near = after is not None and not text[end : after.start].strip()
    lead = words[n - 1] if n and _leads(words[n - 1]) and words[n - 1].end + 1 == start else None
    if lead is not None and lead.low in ARTICLES and n > 1:
        lead = words[n - 2]
    opens = not text[:start].strip(" -•*>") or (
        before is not None and before.name in _BREAK and not text[before.end : start].strip()
    )
    titled = not shouted and all(w.text[:1].isupper() for w in words[n : last + 1])
    if unsure and (before is None or before.name not in ("AND", "COMMA", "PER")):
        return False  # a word of a known phrase names a place only beside others: `Toilet Rooms and Janitor:`
    if near and after is not None and after.name == "surface":
        # `Entry Portal walls`, `the Rotunda soffit`; a small word before a surface mostly describes it
        return opens or titled or (lead is not None and lead.low in LEADING and last > n)
    if opens and near and after is not None and after.name == "STOP" and titled:
        # `Parlours. Ceilings: two coats ..`: a name that is a sentence by itself, before what is said of it
        return text[:start].strip(" -•*") == "" and _says_at_once(after, tags)
    if opens and near and after is not None and _GIVING.match(text, end):
        return titled and last > n
    if (
        opens
        and near
        and after is not None
        and (after.name == "COLON" or (after.name == "DASH" and after.value != "-"))
    ):
        # `Ensuite: two coats eggshell`: nothing else that the sentence speaks of can bear this name
        return text[start].isupper() and any(t.name in _GOODS for t in _sentence_behind(after, tags))
    beside = opens or (before is not None and before.name in ("COMMA", "AND"))
    if near and beside and _in_label_of_places(tags[max(0, ahead - _LABEL) : ahead], tags[behind : behind + _LABEL]):
        return after is not None and after.name in ("COMMA", "AND", "COLON", "DASH", "PER")
    if lead is not None and lead.low in LEADING - _WEAK_LEADING and titled and not opens:
        closed = after is None or (
            text[end : after.start].strip() == ""
            and after.name in ("COMMA", "AND", "STOP", "SEMICOLON", "CLOSE", "COLON")
        )
        return closed or not text[end:].strip(" .")
    if before is not None and before.name == "AND" and after is None and titled and not text[end:].strip(" .)"):
        return ahead > 1 and tags[ahead - 2].name == "room" and not text[before.end : start].strip(" ")
    joined = before is not None and before.name in ("AND", "COMMA") and not text[before.end : start].strip(" ")
    if (
        joined
        and titled
        and near
        and after is not None
        and after.name in ("COMMA", "AND", "STOP", "SEMICOLON", "COLON")
    ):
        # the next of a list of rooms: `in the Kitchen, Boot Room and Gallery`
        return ahead > 1 and tags[ahead - 2].name == "room"
    return False


def _leads(word: Word) -> bool:
    """Whether a word can lead to a place: `of` is one of the language besides."""
    return word.tag is None or word.tag.name == "OF"


_GOODS = ("subject", "sheen", "type", "mark")
_AT_ONCE = ("surface", "NUMBER", "A_COAT", "sheen", "condition")


def _says_at_once(stop: Tag, tags: Sequence[Tag]) -> bool:
    """Whether the sentence behind a name opens with a surface or a count."""
    behind = first_behind(tags, stop.end)
    return behind is not None and behind.name in _AT_ONCE


_CALLED = re.compile(r"[A-Z][\w'’-]{2,}(?: (?:of the|of|and|the|&|[A-Z][\w'’-]+)){1,4}(?=:\s)")
_JOINED = re.compile(r" (?:and|&) ")
_WEAKEST = (
    "HOLDS",
    "ROOM_HEAD",
    "FOREIGN",
    "REFERENCE",
    "KEEP",
    "LEAVE",
    "WASTE",
    "PACK_SIZE",
    "ASIDE",
    "AND",
    "HIGH",
    "room",
)


def _called(tags: Sequence[Tag], text: str, names: Names) -> list[Tag]:
    """`Baggage Hold: two layers ..`: words in capitals before a colon that opens a clause about goods are a place, though one of
    them means something else elsewhere."""
    found = _CALLED.match(text) if not text.isupper() else None
    if found is None:
        return list(tags)
    inside = within(tags, 0, found.end())
    words = [w for w in found[0].lower().split() if w not in ("of", "and", "the", "&")]
    colon = first_behind(tags, found.end())
    known = any(t.name not in _WEAKEST for t in inside) or any(
        t.name == "room" and (t.end == found.end() or _JOINED.match(text, t.end)) for t in inside
    )  # `Restroom and Janitor: ..` are two places
    if known or colon is None or colon.name != "COLON" or any(w in names.labels for w in words):
        return list(tags)
    if all(w in names.described for w in words) or not any(t.name in _SPOKEN for t in _sentence_behind(colon, tags)):
        return list(tags)
    return put([Tag(0, found.end(), "room", singular(found[0].lower()))], tags)


_SPOKEN = ("subject", "sheen", "type", "mark", "COAT", "LAYER", "LEVEL", "surface")


def _sentence_behind(colon: Tag, tags: Sequence[Tag]) -> Iterator[Tag]:
    return takewhile(lambda t: t.name != "STOP", islice(tags, begun_by(tags, colon.end), None))


_LABEL_TAGS = (
    "surface",
    "room",
    "AND",
    "COMMA",
    "PER",
    "condition",
    "where",
    "SIGN",
    "OF",
    "ALL",
    "BOTH",
    "EXCEPT",
    "ONLY",
)


_LABEL = 400
"""Tags of a label on either side of a word, at most."""


def _in_label_of_places(before: Sequence[Tag], behind: Sequence[Tag]) -> bool:
    """Whether what stands before and behind a stretch is a label up to the colon or dash that closes it, can name places all of
    it, and names one."""
    own = list(takewhile(lambda t: t.name not in _BREAK, reversed(before)))
    closing = next(
        (n for n, t in enumerate(behind) if t.name == "COLON" or (t.name == "DASH" and t.value != "-")), None
    )
    if closing is None:
        return False
    region = [*own, *behind[:closing]]
    return all(t.name in _LABEL_TAGS for t in region) and any(t.name in ("surface", "room") for t in region)
