"""Rooms with their numbers: `Toilet 108, Staff Toilet 204 and Sterilization 107`, `Corridors 103 and 201`.

A number of three or four digits behind a name in capitals is that of a room where the two stand as a place does: behind a word that
leads to one, beside another room, in a label. A known room in the plural takes smaller numbers too, where several are listed.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from attrs import evolve

from darby.reading.parsing.naming.names import ARTICLES, LEADING, Names
from darby.reading.parsing.tagging.room_names import singular
from darby.reading.parsing.tagging.tag import Tag, first_behind, put, within

_PLAIN = r"(?![0-9A-Za-z/.\"'”“-]*[0-9A-Za-z\"'”“])"
_NUMBER = rf"[0-9]{{3,4}}[A-Z]?{_PLAIN}"
_REST = r"(?P<rest>(?:(?:,\s|\sand\s|,\sand\s|\s&\s|\sor\s|\sAND\s){number}){{0,12}})"
_NAMED = re.compile(
    rf"(?<![A-Za-z0-9.-])(?P<name>[A-Z][A-Za-z'’/&-]{{1,24}}\.?(?: [A-Z][A-Za-z'’/&-]{{1,24}}\.?){{0,3}})\s(?P<first>{_NUMBER})"
    + _REST.format(number=_NUMBER)
)
_SMALL = rf"[0-9]{{1,4}}[A-Z]?{_PLAIN}"
_SHORT_NUMBER = rf"[0-9]{{1,2}}[A-Z]?{_PLAIN}"
_LOW = r"[0-9]{1,4}[A-Z]?(?![0-9A-Za-z/\"'”“]|\.[0-9])"
_FEW = re.compile(
    rf"(?<![A-Za-z0-9.-])(?P<name>[A-Z][a-z'’-]{{2,24}}(?: [A-Z][a-z'’-]{{1,24}}){{0,2}})\s(?P<first>{_SHORT_NUMBER})"
    + _REST.format(number=_SHORT_NUMBER)
)
"""A name with a small number, which is a room's only where a word leads into it: `in Exam 2`."""
_SHORTENED = re.compile(
    rf"(?<![A-Za-z0-9.-])(?P<name>[A-Z][A-Za-z]{{1,11}}\.)\s(?P<first>{_LOW})" + _REST.format(number=_LOW)
)
"""A shortened name with a number of any length: `Lab. 3`, `Bed. 2 and 3`."""
_LISTED = re.compile(rf"\s(?P<first>{_SMALL})" + _REST.format(number=_SMALL))
_RANGE = re.compile(
    rf"\s(?P<first>{_SMALL.replace('“-]', '“]')})\s?(?:to|thru|through|–|-)\s?(?P<rest>{_SMALL})", re.IGNORECASE
)
_LETTERED = re.compile(r"\s(?P<first>[A-Z])(?P<rest>(?:,\s[A-Z]){0,8},?\s(?:and|&)\s[A-Z])(?![A-Za-z0-9.'’-])")
_MEMBER = re.compile(r"[0-9]{1,4}[A-Z]?|\b[A-Z]\b")
_LED = re.compile(rf"\s(?:of|in)\s(?P<first>{_NUMBER})" + _REST.format(number=_NUMBER))
"""Numbers that are all of the names of the rooms whose surface stands before: `walls of 112 and 114`."""
_WORD = re.compile(r"[A-Za-z'’/&-]+")
_BEFORE = re.compile(r"([A-Za-z]+|[.,;:(|&+/])\s*\Z")
_REACH = 16
_JOINS = ("and", "or", "&", "+", "/", ",")
_BREAKS = (".", ";", ":", "(", "|")
_ENDS = re.compile(
    r"\s*(?:[.,;:)|–—&]|-\s|$|(?:and|or|walls?|ceilings?|doors?|to|only|is|are|gets?|has|have|receives?|takes?|where)\b)",
    re.IGNORECASE,
)
_INTO = ("in", "at", "within", "inside", "throughout")
_MEAN_LITTLE = ("room", "ROOM_HEAD", "WET", "DRY", "HIGH", "subject", "FOREIGN", "KEEP", "LEAVE")
"""What words of a name may mean elsewhere."""
_LENIENT = ("room", "ROOM_HEAD", "NUMBER")
_GOES_ON = (
    "AND",
    "EITHER",
    "OF",
    "FOR",
    "HOLDS",
    "EXCEPT",
    "CONDITION",
    "ALL",
    "ONLY",
    "BOTH",
    "PROVIDE_AT",
    "COMMA",
    "SIGN",
    "NEW_VALUE",
)
_COUNTS = ("NUMBER", "A_COAT", "A_LAYER")
"""Another number right behind, which no number counts: `Rooms 4 and 5 two coats`."""
_FACES = ("surface", "where")
"""What a room has, right behind its number: `Reading 105 north wall`."""
_SHORT = 4
"""Letters of what may be the name of a standard: `BS 476`."""


def with_room_numbers(tags: Sequence[Tag], text: str, names: Names) -> list[Tag]:
    """The tags of a text with one `room` tag for each numbered room."""
    new: list[Tag] = [one for tag in tags if _is_surface(tag) for one in _led(tag, tags, text)]
    for match in _NAMED.finditer(text):
        new.extend(_named(match, tags, new, text, names))
    for match in _FEW.finditer(text):
        if not within(new, match.start(), match.end()) and _led_into(match, tags, new, text, names):
            new.extend(_rooms(match.start(), match["name"], match, text))
    for tag in tags:
        if tag.name == "room" and (span := _RANGE.match(text, tag.end)) and not _counted(span, tags):
            called = f"{singular(text[tag.start : tag.end].lower())} {span['first'].lower()}-{span['rest'].lower()}"
            new.append(Tag(tag.start, span.end(), "room", called))
        elif tag.name == "room":
            listed = _LISTED.match(text, tag.end) or _LETTERED.match(text, tag.end)
            several = listed is not None and bool(listed["rest"]) and not _counted(listed, tags)
            if listed is not None and several and not within(new, tag.start, listed.end()):
                new.extend(_rooms(tag.start, text[tag.start : tag.end], listed, text))
    for match in _BARE.finditer(text):
        if not within(new, match.start(), match.end()) and not _counted(match, tags):
            new.extend(_bare(match))
    for match in _SHORTENED.finditer(text):
        if not within(new, match.start(), match.end()):
            new.extend(_named(match, tags, new, text, names))
    return put(new, tags) if new else list(tags)


_FEW_ROOMS = 40
_NO_COUNT = ("COAT", "LAYER", "COLON", "room", "LEVEL")
"""What stands before a number that is no count of the rooms behind it: `Coats: 2 kitchens, 3 baths`."""


def with_counted_rooms(tags: Sequence[Tag], text: str) -> list[Tag]:
    """The tags of a text with the number of several rooms as a part of their name, so that it counts nothing else: `the two bathrooms`."""
    out: list[Tag] = []
    for n, tag in enumerate(tags):
        number = out[-1] if out else None
        several = tag.name == "room" and text[tag.start : tag.end].lower().endswith("s") and not tag.value.endswith("s")
        if number is not None and number.name == "NUMBER" and several and not text[number.end : tag.start].strip():
            before = tags[n - 2] if n > 1 else None
            led = before is None or before.name not in _NO_COUNT or text[before.end : number.start].strip()
            if led and number.number is not None and 1 < number.number <= _FEW_ROOMS:
                out[-1] = evolve(tag, start=number.start)
                continue
        out.append(tag)
    return out


def _named(match: re.Match[str], tags: Sequence[Tag], new: Sequence[Tag], text: str, names: Names) -> list[Tag]:
    start = _begins(match, tags, text, names)
    if start is None or not _stands(start, match, tags, new, text, names):
        return []
    return list(_rooms(start, _in_full(text[start : match.end("name")], names), match, text))


def _led_into(match: re.Match[str], tags: Sequence[Tag], new: Sequence[Tag], text: str, names: Names) -> bool:
    """Whether a word leads into a name with a small number, or it is the next of some: `in Exam 1, Exam 2 and Exam 4`."""
    words = [word[0].lower() for word in _WORD.finditer(match["name"])]
    meant = within(tags, match.start(), match.end("name"))
    if meant or not all(names.can_name(w, titled=True) for w in words) or any(w in names.labels for w in words):
        return False
    before = _BEFORE.search(text[max(0, match.start() - _REACH) : match.start()])
    led = before[1].lower() if before is not None else ""
    of = led == "of" and _of_surface(match.start(), tags)
    beside = led in _JOINS and _room_before(match.start(), tags, new, text)
    papers = any(w in names.papers for w in words)
    closes = _ENDS.match(text, match.end()) is not None
    return not papers and closes and not _counted(match, tags) and (led in _INTO or of or beside)


_BARE = re.compile(
    rf"(?<![A-Za-z0-9-])(?i:room|rm\.?)(?P<several>[sS]?\.?)\s(?:(?i:nos?\.?|nrs?\.?|numbers?)\s)?(?P<first>{_LOW})"
    rf"(?:\s?(?P<run>(?i:to|thru|through)\s|–|-)\s?(?P<last>{_LOW})|(?P<rest>(?:(?:,\s|,?\s(?i:and|or|&)\s){_LOW}){{0,12}}))",
)
"""Rooms that have numbers and no names."""


def _bare(match: re.Match[str]) -> Iterator[Tag]:
    if match["last"]:
        join = "-" if match["run"] in "–-" and not match["several"].strip(".") else " to "
        yield Tag(match.start(), match.end(), "room", f"room {match['first']}{join}{match['last']}".lower())
        return
    yield Tag(match.start(), match.end("first"), "room", f"room {match['first']}".lower())
    for one in _MEMBER.finditer(match.string, match.end("first"), match.end("rest")):
        yield Tag(one.start(), one.end(), "room", f"room {one[0]}".lower())


def _is_surface(tag: Tag) -> bool:
    return tag.name == "surface" or any(key == "surface" for key, _ in tag.also)


def _led(surface: Tag, tags: Sequence[Tag], text: str) -> Iterator[Tag]:
    match = _LED.match(text, surface.end)
    if match is None or _counted(match, tags) or not _ENDS.match(text, match.end()):
        return
    if surface.name == "room":  # `wet walls of 112`: some walls there, and no other place
        yield evolve(surface, name="surface", value=dict(surface.also)["surface"], also=(("where", surface.value),))
    for one in _MEMBER.finditer(text, match.start("first"), match.end()):
        yield Tag(one.start(), one.end(), "room", f"room {one[0]}".lower())


def _in_full(name: str, names: Names) -> str:
    """A name with the words that drawings shorten written out: `Elec.` is electrical."""
    return " ".join(names.short.get(word.lower().rstrip("."), word.rstrip(".")) for word in name.split())


def _rooms(start: int, name: str, match: re.Match[str], text: str) -> Iterator[Tag]:
    """One tag for each number; the first holds the name as well."""
    several = bool(match["rest"])
    called = " ".join(name.lower().split())
    called = singular(called) if several else called
    yield Tag(start, match.end("first"), "room", f"{called} {match['first'].lower()}")
    for one in _MEMBER.finditer(text, match.end("first"), match.end("rest")):
        yield Tag(one.start(), one.end(), "room", f"{called} {one[0].lower()}")


def _begins(match: re.Match[str], tags: Sequence[Tag], text: str, names: Names) -> int | None:
    """Where the name itself begins, behind words that mean something else; None where nothing of it is left."""
    start: int | None = None
    called = True
    labels = text[match.end() : match.end() + 1] == ":" and text[: match.start()].rstrip()[-1:] in ("", *_BREAKS, ",")
    for word in _WORD.finditer(text, match.start("name"), match.end("name")):
        inside = within(tags, word.start(), word.end())
        called = called and word[0].lower() not in names.labels and all(t.name in _MEAN_LITTLE for t in inside)
        short = word[0].lower() in names.short or _labels(match, inside, text, names)
        held = any(t.name not in _LENIENT for t in inside) or (not inside and word[0].lower() in names.plain)
        if text[word.end()] == "." and not short:
            start = None  # a sentence ends there
        elif held and not inside and labels and start is not None:
            pass  # `Cash Count 108: ..`: a plain word closes a name that is all of a label
        elif (held and not short) or word[0].lower() in LEADING or word[0].lower() in ARTICLES:
            start = None
        elif start is None:
            start = word.start()
    before = _BEFORE.search(text[max(0, match.start() - _REACH) : match.start()])
    if start is None and called and before is not None and before[1].lower() in _INTO:
        start = match.start("name")  # `in Mechanical 109`, whatever the word means elsewhere
    return None if _counted(match, tags) else start


def _labels(match: re.Match[str], inside: Sequence[Tag], text: str, names: Names) -> bool:
    """Whether a name of one word and its number are all of a label: then a full stop behind the name shortens it and ends no sentence."""
    word = match["name"].lower().rstrip(".")
    if " " in word:
        return False
    named = any(t.name == "room" for t in inside) or (names.can_name(word) and word not in names.labels)
    return (
        named and text[match.end() : match.end() + 1] == ":" and text[: match.start()].rstrip()[-1:] in ("", *_BREAKS)
    )


def _counted(match: re.Match[str], tags: Sequence[Tag]) -> bool:
    """Whether the last of the numbers counts or measures what stands behind it, or is no plain number."""
    here = within(tags, match.start("first"), match.end())
    after = first_behind(tags, match.end())
    plain = all(t.name in ("NUMBER", "AND", "COMMA", "SIGN", "EITHER", "RANGE", "DASH", "THROUGH") for t in here)
    another = after is not None and after.name in _COUNTS
    counts = (
        after is not None
        and not another
        and after.name.isupper()
        and after.name not in _GOES_ON
        and after.start - match.end() <= 1
    )
    stop = after is not None and after.name in ("STOP", "SEMICOLON", "COLON", "CLOSE", "OPEN", "BREAK", "CELL", "DASH")
    return not plain or (counts and not stop)


def _stands(start: int, match: re.Match[str], tags: Sequence[Tag], new: Sequence[Tag], text: str, names: Names) -> bool:
    """Whether a name and its number stand where a place does."""
    name = text[start : match.end("name")]
    known = any(t.name == "room" for t in within(tags, start, match.end("name")))
    known = known or all(w[0].lower() in names.short for w in _WORD.finditer(name))
    words = [w[0].lower() for w in _WORD.finditer(name)]
    opens = not text[:start].strip(" -•*")
    if (
        not known
        and len(name) <= _SHORT
        and name.isupper()
        and not (opens and text[match.end() : match.end() + 1] == ":")
    ):
        return False
    before = _BEFORE.search(text[max(0, start - _REACH) : start])
    led = before[1].lower() if before is not None else ""
    beside = _room_before(start, tags, new, text) if led in _JOINS else False
    plain = any(w not in names.described and w not in names.labels for w in words)
    if beside or (known and (led in LEADING or not led or led in _BREAKS)):
        return True
    called = led in _INTO and not any(w in names.labels or w in names.papers for w in words)
    if led in LEADING or led == "of":
        return (plain or called) and (
            _ENDS.match(text, match.end()) is not None or (led == "of" and _of_surface(start, tags))
        )
    after = first_behind(tags, match.end())
    faced = after is not None and after.name in _FACES and not text[match.end() : after.start].strip()
    closes = faced or _ENDS.match(text, match.end()) is not None
    if led == ":":
        return closes and not text[match.end() :].strip(" .")
    return (opens or led in _BREAKS) and plain and closes and text[match.end() :].strip(" .") != ""


def _of_surface(start: int, tags: Sequence[Tag]) -> bool:
    """Whether the word before a name ties it to a surface: `walls of Conference 105`."""
    ahead = [t for t in within(tags, start - _REACH, start) if t.end < start and t.name != "OF"]
    return bool(ahead) and _is_surface(ahead[-1])


def _room_before(start: int, tags: Sequence[Tag], new: Sequence[Tag], text: str) -> bool:
    """Whether a room ends just before, with no more than a joining word between: one of the text's tags, or the last of the new ones."""
    last = next(
        (t.end for t in reversed(within(tags, start - _REACH, start)) if t.name == "room" and t.end <= start), -1
    )
    last = max(last, new[-1].end if new else -1)
    between = text[last:start].strip(" ,").lower() if last >= 0 else "x"
    return between in ("", "and", "or", "&", "+", "/", "and the")
