"""Places that no list knows: words that say where, by where they stand. What is found limits a rule and is kept as written.

Only where a sentence leaves little doubt: before a surface (`Entry Portal walls`), in a label beside a room or a surface, behind a
preposition and in capitals, or with a number behind a word for a part of a building (`Block B`). A word that merely
describes a surface (`exposed walls`) is no place; which words those are is data, the lexicon's `[no_place]`.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Container, Iterator, Sequence

from attrs import evolve, frozen

from darby.reading.parsing.lexer import Tag
from darby.reading.parsing.room_names import singular

_WORD = re.compile(
    r"[^\W\d_][\w'’]{0,30}(?:-[^\W\d_][\w'’]{0,30}){0,3}|[0-9]{1,4}[A-Za-z]?(?![0-9A-Za-z/'\"“”.]|\s?(?:mm|in|ft)\b)"
)
_MOST = 4
"""Words in a name."""
_LEADING = frozenset("in at of on throughout within inside for to".split())
_WEAK_LEADING = frozenset("for to".split())
_ARTICLES = frozenset("the all each both every any other our these those three two four".split())
_BREAK = ("STOP", "SEMICOLON", "CELL", "BREAK")
_GIVING = re.compile(r"\s+(?:gets?|receives?|has|have|takes?|only\b)", re.IGNORECASE)


@frozen(eq=False)
class _Word:
    """A word of a text: where it stands, and the tag that holds it, if any."""

    start: int
    end: int
    text: str
    tag: Tag | None

    @property
    def low(self) -> str:
        return self.text.lower()


@frozen(eq=False)
class Names:
    """Which words can name a place: all that mean nothing else here and do not merely describe."""

    plain: Container[str]
    parts: Container[str]
    """The words of all known phrases."""
    described: Container[str]
    """`[no_place]`: words that describe a surface, and nouns of documents."""
    numbered: Sequence[str]
    """`[numbered_place]`: words that a number or letter makes a place of."""

    def can_name(self, word: str) -> bool:
        """Whether a lower-case word can be (part of) the name of a place."""
        return word not in self.plain and word not in self.described and word not in self.parts and len(word) > 1


def with_places(tags: Sequence[Tag], text: str, names: Names) -> list[Tag]:
    """The tags of a text with a `room` tag for every place in it that no list knows; rooms with words that belong to their name."""
    tags = _numbered(_called_rooms(tags, text), text, names)
    words = list(_words(text, tags))
    if not words:
        return tags
    shouted = text.upper() == text
    found = [_grown(tag, words, names, shouted=shouted) if tag.name == "room" else tag for tag in tags]
    found = _merged(found)
    taken = [(t.start, t.end) for t in found]
    new = [
        t
        for t in _unknown(words, found, text, names, shouted=shouted)
        if all(t.end <= s or t.start >= e for s, e in taken)
    ]
    return sorted([*found, *new], key=lambda t: t.start) if new or found != tags else tags


def _called_rooms(tags: Sequence[Tag], text: str) -> list[Tag]:
    """`Holding Rooms`, `Drying Room`: two words in capitals are a room, whatever the first may mean elsewhere; a room right
    before a product is part of its name (`shower fittings`)."""
    out = list(tags)
    for match in _CALLED.finditer(text):
        inside = [t for t in out if t.start < match.end() and match.start() < t.end]
        if inside and all(t.name.isupper() or t.name in ("hint", "subject") for t in inside):
            out = [t for t in out if t not in inside]
            out.append(Tag(match.start(), match.end(), "room", singular(match[0].lower())))
            out.sort(key=lambda t: t.start)
    return [
        evolve(tag, loose=True)
        if tag.name == "room" and n and n + 1 < len(out) and out[n + 1].name == "subject" and out[n + 1].start == tag.end + 1 and out[n - 1].name not in _BREAK
        else tag
        for n, tag in enumerate(out)
    ]  # fmt: skip


_CALLED = re.compile(
    r"(?<![A-Za-z-])(?!(?:Each|Every|All|The|This|Any|Other|These|Both|For|Per|Such|Same|And|With|In|At|To|Of|No)\s)[A-Z][a-z]{2,20}\s(?:Rooms?|Offices?|Areas?)(?![A-Za-z])"
)


def _words(text: str, tags: Sequence[Tag]) -> Iterator[_Word]:
    starts = [t.start for t in tags]
    for match in _WORD.finditer(text):
        n = bisect_right(starts, match.start()) - 1
        tag = tags[n] if n >= 0 and tags[n].end > match.start() else None
        yield _Word(match.start(), match.end(), match[0], tag)


def _numbered(tags: Sequence[Tag], text: str, names: Names) -> list[Tag]:
    """`Blocks B and C`, `Level 2`, `Type C apartments`: one place for each number or letter."""
    if not names.numbered:
        return list(tags)
    out: list[Tag] = list(tags)
    for match in _numbered_pattern(tuple(names.numbered)).finditer(text):
        word = singular(match["word"].lower())
        if match["first"].islower() or not _stands_as_place(match, text, word, out):
            continue
        noun = f" {singular(match['noun'].lower())}" if match["noun"] else ""
        spans = [
            (match.start(), match.end("first")),
            *(m.span() for m in _MEMBER.finditer(text, match.end("first"), match.end("rest"))),
        ]
        values = [match["first"], *(text[s:e] for s, e in spans[1:])]
        ends = [*(s for s, _ in spans[1:]), match.end()]
        out = [t for t in out if not any(s < t.end and t.start < e for s, e in spans) or t.name in ("AND", "COMMA")]
        if match["noun"]:
            out = [t for t in out if not (match.start("noun") < t.end and t.start < match.end("noun"))]
            spans[-1] = (spans[-1][0], match.end("noun"))
        del ends
        out.extend(Tag(s, e, "room", f"{word} {v.lower()}{noun}") for (s, e), v in zip(spans, values, strict=True))
        out.sort(key=lambda t: t.start)
    return out


def _stands_as_place(match: re.Match[str], text: str, word: str, tags: Sequence[Tag]) -> bool:
    """Whether `Level 2` is a storey and `Type C` a kind of dwelling: both words mean something else as often."""
    if word == "level":
        before = text[max(0, match.start() - 12) : match.start()].lower()
        before_room = any(t.name == "room" and t.start == match.end() + 1 for t in tags)  # `Level 2 corridors`
        return before_room or re.search(r"\b(?:on|at|throughout)\s+(?:the\s+)?$", before) is not None
    if word == "type":
        return bool(match["noun"])
    return not any(
        t.name in ("NUMBER", "LENGTH_UNIT") and t.start >= match.start("first") and t.end > match.end("first")
        for t in tags
        if t.start < match.end()
    )


_MEMBER = re.compile(r"(?<![A-Za-z0-9])(?:[A-Z]|[0-9]{1,3}[A-Z]?)(?![A-Za-z0-9'\"/])")
_patterns: dict[tuple[str, ...], re.Pattern[str]] = {}


def _numbered_pattern(words: tuple[str, ...]) -> re.Pattern[str]:
    if words not in _patterns:
        member = r"(?:[A-Z]|[0-9]{1,3}[A-Z]?)(?![A-Za-z0-9'\"/]|\.[0-9]|\s(?:coats?|layers?|in\.|mm)\b)"
        either = "|".join(sorted(map(re.escape, words), key=len, reverse=True))
        _patterns[words] = re.compile(
            rf"(?<![A-Za-z-])(?P<word>(?i:{either}))s?\s(?P<first>{member})"
            rf"(?P<rest>(?:(?:,\s|\sand\s|,\sand\s|\s&\s|\sor\s){member}){{0,8}})"
            r"(?:\s(?P<noun>(?i:apartments?|flats?|units?|homes?|houses?|suites?|rooms?|bedrooms?|dwellings?|villas?)))?"
        )
    return _patterns[words]


def _grown(tag: Tag, words: Sequence[_Word], names: Names, *, shouted: bool) -> Tag:
    """A room with the words before it that belong to its name (`Law Library`) and the number behind it (`Stair 2`)."""
    inside = [n for n, w in enumerate(words) if w.tag is tag]
    if not inside:
        return tag
    first, last = inside[0], inside[-1]
    start, end = tag.start, tag.end
    low, n = first, first - 1
    while n >= 0 and first - n <= _MOST - 1 and words[n].tag is None and words[n].end + 1 == words[low].start:
        word = words[n]
        titled = word.text[:1].isupper()
        if not names.can_name(word.low) or not (titled or _after_lead(words, n)):
            break
        low, n = n, n - 1
    if low < first and (shouted or words[low].text[:1].isupper() or _after_lead(words, low)):
        start = words[low].start
    after = words[last + 1] if last + 1 < len(words) else None
    if after is not None and after.start == end + 1 and re.fullmatch(r"[0-9]{1,4}[A-Za-z]?|[A-Z]", after.text):
        numbered = after.tag is None or (
            after.tag.name == "NUMBER" and after.tag.end == after.end and not _counts(words, last + 2)
        )
        if numbered and not tag.value.endswith(("s",)):
            end = after.end
    if (start, end) == (tag.start, tag.end):
        return tag
    said = " ".join(w.text for w in words if start <= w.start < end).lower()
    return evolve(tag, start=start, end=end, value=singular(said), loose=tag.loose and start == tag.start)


def _merged(tags: Sequence[Tag]) -> list[Tag]:
    """`Level 2 corridors` is one place: a numbered part of a building right before a room."""
    out: list[Tag] = []
    for tag in tags:
        last = out[-1] if out else None
        if (
            last is not None
            and last.name == tag.name == "room"
            and tag.start == last.end + 1
            and last.value[-1:].isdigit()
        ):
            out[-1] = evolve(last, end=tag.end, value=f"{last.value} {tag.value}")
        else:
            out.append(tag)
    return out


def _counts(words: Sequence[_Word], at: int) -> bool:
    """Whether the word at `at` is one that a number counts or measures."""
    return at < len(words) and words[at].tag is not None and words[at].tag.name.isupper()  # type: ignore[union-attr]


def _after_lead(words: Sequence[_Word], n: int) -> bool:
    return n > 0 and (words[n - 1].low in _LEADING or words[n - 1].low in _ARTICLES)


def _unknown(words: Sequence[_Word], tags: Sequence[Tag], text: str, names: Names, *, shouted: bool) -> Iterator[Tag]:
    """Runs of words that are nobody's, where they stand as a place."""
    n = 0
    while n < len(words):
        word = words[n]
        if word.tag is not None or not names.can_name(word.low) or word.text[0].isdigit():
            n += 1
            continue
        last = n
        while (
            last + 1 < len(words)
            and last - n < _MOST
            and words[last + 1].tag is None
            and words[last + 1].start == words[last].end + 1
            and names.can_name(words[last + 1].low)
        ):
            last += 1
        start, end = word.start, words[last].end
        if last - n < _MOST and _is_place(words, n, last, tags, text, shouted=shouted):
            yield Tag(start, end, "room", singular(text[start:end].lower()))
        n = last + 1


def _is_place(words: Sequence[_Word], n: int, last: int, tags: Sequence[Tag], text: str, *, shouted: bool) -> bool:
    start, end = words[n].start, words[last].end
    before = next((t for t in reversed(tags) if t.end <= start), None)
    after = next((t for t in tags if t.start >= end), None)
    near = after is not None and not text[end : after.start].strip()
    lead = words[n - 1] if n and words[n - 1].tag is None and words[n - 1].end + 1 == start else None
    if lead is not None and lead.low in _ARTICLES and n > 1:
        lead = words[n - 2]
    opens = not text[:start].strip(" -•*") or (
        before is not None and before.name in _BREAK and not text[before.end : start].strip()
    )
    titled = not shouted and all(w.text[:1].isupper() for w in words[n : last + 1])
    if near and after is not None and after.name == "surface":
        # `Entry Portal walls`, `the Rotunda soffit`; a small word before a surface mostly describes it
        return opens or titled or (lead is not None and lead.low in _LEADING and last > n)
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
    region = _label_region(start, tags) if opens or (before is not None and before.name in ("COMMA", "AND")) else None
    if region is not None and _names_places(region) and near:
        return after is not None and after.name in ("COMMA", "AND", "COLON", "DASH", "PER")
    if lead is not None and lead.low in _LEADING - _WEAK_LEADING and titled and not opens:
        closed = after is None or (
            text[end : after.start].strip() == ""
            and after.name in ("COMMA", "AND", "STOP", "SEMICOLON", "CLOSE", "COLON")
        )
        return closed or not text[end:].strip(" .")
    joined = before is not None and before.name in ("AND", "COMMA") and not text[before.end : start].strip(" ")
    if (
        joined
        and titled
        and near
        and after is not None
        and after.name in ("COMMA", "AND", "STOP", "SEMICOLON", "COLON")
    ):
        # the next of a list of rooms: `in the Kitchen, Boot Room and Gallery`
        at = next(k for k, t in enumerate(tags) if t is before)
        return at > 0 and tags[at - 1].name == "room"
    return False


_GOODS = ("subject", "sheen", "type", "mark")


def _sentence_behind(colon: Tag, tags: Sequence[Tag]) -> Iterator[Tag]:
    for tag in tags:
        if tag.start >= colon.end:
            if tag.name == "STOP":
                return
            yield tag


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


def _label_region(start: int, tags: Sequence[Tag]) -> list[Tag] | None:
    """The tags of a label that a stretch stands in: all up to the colon or dash that closes it, if all can name places."""
    region: list[Tag] = []
    for tag in reversed([t for t in tags if t.end <= start]):
        if tag.name in _BREAK:
            break
        if tag.name not in _LABEL_TAGS:
            return None
        region.insert(0, tag)
    for tag in (t for t in tags if t.start >= start):
        if tag.name == "COLON" or (tag.name == "DASH" and tag.value != "-"):
            return region
        if tag.name not in _LABEL_TAGS:
            return None
        region.append(tag)
    return None


def _names_places(region: Sequence[Tag]) -> bool:
    return any(t.name in ("surface", "room") for t in region)
