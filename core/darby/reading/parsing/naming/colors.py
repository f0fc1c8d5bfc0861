"""Names of colors: words that no list can hold, told by where they stand, and kept as written.

A name stands beside the word `color`, in a column or under a label of that word, or it holds the word for a hue (`Signal Yellow`) and
stands where a color can: behind a surface, a look or `in`. Everything else in capitals is left alone.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterator, Sequence

from attrs import frozen

from darby.reading.parsing.tagging.tag import Tag, first_behind, put, within

SAYS = "COLOR_WORD"
WORD = re.compile(r"[A-Za-z](?:[A-Za-z'’-]*[A-Za-z])?")
_SMALL, _TITLE = 4, 5
"""Letters of a word that has a capital in a title, and how many such words make one."""
LONGEST = 4
"""Words in a name."""
_BEHIND = (
    "surface",
    "room",
    "ROOM_HEAD",
    "REFERENCE",
    "LEVEL",
    "sheen",
    "subject",
    "mark",
    "CODE",
    "COMMA",
    "COLON",
    "DASH",
    "color",
    "EITHER",
    "AND",
    SAYS,
)
"""What a name can stand right behind."""
_LISTED = ("COMMA", "sheen", "COLON")
_NOUNS = ("surface", "subject", "COAT", "LAYER", "room")
"""What is no color right behind a name: `White Oak doors`."""
_LOOKS = ("sheen", "subject")
_ENDS = ("COMMA", "STOP", "SEMICOLON")
_IN = re.compile(r"(?:\bin|\bpainted|\bbe|\bis|\bare)\s+\Z", re.IGNORECASE)
_PLACED = re.compile(r"\s+(?:on|in|at|to|for|elsewhere)\b", re.IGNORECASE)
_PART = re.compile(r" (?:[A-Z]|[0-9]{1,3}) ")
_QUOTED = re.compile(r" ?[\"“‘']")
_NUMBERED = re.compile(r"(?:[A-Z]|[0-9]{1,3})\Z")


@frozen
class _Name:
    """A run of words that nobody knows."""

    start: int
    end: int
    words: tuple[str, ...]
    titled: bool
    before: Tag | None
    """The tag right before it, with at most a sign or a blank between."""
    after: Tag | None
    led: bool
    """Whether `in` leads to it."""


def with_colors(
    tags: list[Tag],
    text: str,
    hues: Collection[str],
    plain: Callable[[str], bool],
    *,
    told: bool = False,
    legend: bool = False,
) -> list[Tag]:
    """The tags with one for each color that a text names. `told`: what it stands under says that colors follow; `legend`: it stands
    in the row of a code.
    """
    tags = put(list(_quoted(tags, text, hues, plain)), tags) if _QUOTE.search(text) else tags
    says = [t for t in tags if t.name == SAYS]
    coded = legend or (bool(tags) and tags[0].name in ("CODE", "mark"))
    legend = coded and any(_says_look(t) for t in tags)
    looked = _tells_look(tags)
    if not hues or not (legend or told or says or looked or any(word.lower() in hues for word in WORD.findall(text))):
        return tags
    told = told or any(_labels(tag, tags) for tag in says)
    names = list(_names(tags, text, plain, hues))
    sure = [
        name
        for name in names
        if _is_color(name, hues, told=told)
        or _is_said(name, tags)
        or (legend and _ends_looks(name, tags))
        or (looked and _follows_look(name, tags))
    ]
    if sure or told:
        sure = [name for name in names if name in sure or _is_another(name, text, told=told)]
    new = [_in_full(name, tags, text) for name in sure]
    return put(new, tags) if new else tags


_QUOTE = re.compile(
    r"(?<![0-9A-Za-z])[\"“'‘](?P<name>[A-Z][A-Za-z'’-]*(?:\s{1,3}[A-Za-z][A-Za-z'’-]*){0,3}(?<![^A-Za-z]))[\"”'’](?![A-Za-z])"
)
_OF_OTHERS = frozenset("subject type sheen class mark CODE LEVEL NUMBER COAT LAYER".split())
"""What a name in quotes holds that is a name of goods, and no color."""
_BEFORE_QUOTES = ("surface", "sheen", "color", SAYS)


def _quoted(
    tags: Sequence[Tag], text: str, hues: Collection[str], plain: Callable[[str], bool]
) -> Iterator[Tag]:  # fmt: skip
    """Names in quotes where a color stands, whatever their words mean elsewhere: `Walls "Linden Shade".`"""
    for match in _QUOTE.finditer(text):
        inside = within(tags, match.start(), match.end())
        before = within(tags, 0, match.start())
        after = first_behind(tags, match.end())
        led = (
            bool(before) and before[-1].name in _BEFORE_QUOTES and not text[before[-1].end : match.start()].strip(" :")
        )
        listed = (
            bool(before) and before[-1].name == "COMMA" and len(before) > 1 and _look_before(before, len(before) - 1)
        )
        led = led or listed or _IN.search(text, max(0, match.start() - 12), match.start()) is not None
        goods = after is not None and after.name in ("subject", "LAYER") and not text[match.end() : after.start].strip()
        held = [t for t in inside if t.name not in ("color", SAYS)]
        own = [w[0].lower() for w in WORD.finditer(text, *match.span("name")) if not within(held, *w.span())]
        said = listed or (bool(before) and before[-1].name in ("sheen", SAYS) and " " in match["name"])
        named = said or any(word in hues or not plain(word) for word in own)
        if led and named and not goods and _OF_OTHERS.isdisjoint(t.name for t in inside):
            yield Tag(*match.span("name"), "color", " ".join(match["name"].lower().split()))


_GOES_ON = re.compile(r"\s{1,3}[A-Z][a-z'’-]+(?![A-Za-z])")


def _in_full(name: _Name, tags: Sequence[Tag], text: str) -> Tag:
    """The tag of a name with what goes on with it in capitals (`color Linden Shade`), and speaks of nothing else (`Fern Walls`)."""
    end, left = name.end, LONGEST - len(name.words)
    while name.titled and left and (more := _GOES_ON.match(text, end)) is not None:
        if any(t.name not in (SAYS, "AND") for t in within(tags, end + 1, more.end())):
            break
        end, left = more.end(), left - 1
    return Tag(name.start, end, "color", " ".join(text[name.start : end].lower().split()))


def _labels(tag: Tag, tags: Sequence[Tag]) -> bool:
    """Whether `colors` is a label: `Colors: walls ..`"""
    at = tags.index(tag)
    return at + 1 < len(tags) and tags[at + 1].name in ("COLON", "DASH")


def _names(tags: Sequence[Tag], text: str, plain: Callable[[str], bool], hues: Collection[str]) -> Iterator[_Name]:
    """Runs of words between tags: in capitals, or (in small letters) up to two words; a hue in small letters closes one in capitals,
    `Moss green`."""
    shouted = text.upper() == text or _is_title(text)
    ends = [0, *(t.end for t in tags)]
    starts = [*(t.start for t in tags), len(text)]
    for n, (low, high) in enumerate(zip(ends, starts, strict=True)):
        run: list[re.Match[str]] = []
        for word in (*WORD.finditer(text, low, max(low, high)), None):
            joined = word is not None and (not run or text[run[-1].end() : word.start()] == " ")
            alike = word is not None and (not run or word[0][0].isupper() == run[-1][0][0].isupper() or word[0] in hues)
            if word is not None and joined and alike and not _NUMBERED.match(word[0]) and not plain(word[0].lower()):
                run.append(word)
                continue
            if run and len(run) <= LONGEST:
                yield _name(run, n, tags, text, shouted=shouted)
            fresh = word is not None and not _NUMBERED.match(word[0]) and not plain(word[0].lower())
            run = [word] if fresh and word is not None else []


def _is_title(text: str) -> bool:
    """Whether all words of a text but the small ones have capitals, so that these tell nothing."""
    words = [w[0] for w in WORD.finditer(text) if len(w[0]) >= _SMALL]
    return len(words) >= _TITLE and all(w[:1].isupper() for w in words) and not any(sign in text for sign in ".:;,")


def _name(run: Sequence[re.Match[str]], n: int, tags: Sequence[Tag], text: str, *, shouted: bool) -> _Name:
    start, end = run[0].start(), run[-1].end()
    gap = text[tags[n - 1].end : start] if n else ""
    before = tags[n - 1] if n and (len(gap) <= 1 or _PART.fullmatch(gap) or _QUOTED.fullmatch(gap)) else None
    after = tags[n] if n < len(tags) and tags[n].start - end <= 1 else None
    titled = run[0][0][0].isupper() and not shouted
    led = _IN.search(text, max(0, start - 12), start) is not None
    return _Name(start, end, tuple(m[0] for m in run), titled, before, after, led)


def _is_color(name: _Name, hues: Collection[str], *, told: bool) -> bool:
    """Whether a name can be nothing else."""
    before = name.before.name if name.before is not None else ""
    after = name.after.name if name.after is not None else ""
    if before == SAYS or (after == SAYS and name.titled and before in _LISTED):
        return name.titled or any(w.lower() in hues for w in name.words)
    if after in _NOUNS and not (before in _LOOKS and after == "subject"):
        return False
    if not any(w.lower() in hues for w in name.words):
        return False
    if name.titled or told:
        return name.led or before in _BEHIND
    ends = name.after is None or after in _ENDS
    return before in _LOOKS or after in _LOOKS or (before in ("COMMA", "surface") and ends and len(name.words) == 1)


def _is_said(name: _Name, tags: Sequence[Tag]) -> bool:
    """Whether a sentence says of a place that its color is the name: `The color of the Attic is Fern.`"""
    if not (name.titled and name.led) or (name.after is not None and name.after.name not in _ENDS):
        return False
    led = [t for t in tags if t.end <= name.start]
    opens = max((n + 1 for n, t in enumerate(led) if t.name in ("STOP", "SEMICOLON", "COLON")), default=0)
    own = [t.name for t in led[opens:]]
    return SAYS in own and not set(own) & _COUNTED and not set(own).isdisjoint(("room", "surface", "OF"))


_COUNTED = {"NUMBER", "COAT", "LAYER"}


def _ends_looks(name: _Name, tags: Sequence[Tag]) -> bool:
    """Whether a name in capitals closes the looks of a system in a legend: `PT-2: semi-gloss, Fern.`, `PT-2: semi-gloss. Fern.`"""
    behind = name.after is None or name.after.name in ("STOP", "SEMICOLON")
    if name.titled and behind and name.before is not None and name.before.name == "STOP":
        return True
    at = next((n for n, t in enumerate(tags) if t is name.before), 0)
    return name.titled and behind and at > 0 and tags[at].name == "COMMA" and _says_look(tags[at - 1])


def _tells_look(tags: Sequence[Tag]) -> bool:
    """Whether a text tells how something is to look: a look with a comma behind it, beside coats or a surface or alone."""
    names = {t.name for t in tags}
    told = not names.isdisjoint(("COAT", "A_COAT", "surface")) or names <= {"sheen", "subject", "COMMA", "STOP"}
    return told and any(n and t.name == "COMMA" and _look_before(tags, n) for n, t in enumerate(tags))


def _follows_look(name: _Name, tags: Sequence[Tag]) -> bool:
    """Whether a name in capitals stands behind a look and a comma and nothing goes on about it: `two coats satin, Fleece.`, `satin, "Fleece"`"""
    if (
        not name.titled
        or (name.after is not None and name.after.name not in _ENDS)
        or _TELLS_HOW.search(name.words[-1])
    ):
        return False
    at = next((n for n, t in enumerate(tags) if t is name.before), 0)
    return at > 0 and tags[at].name == "COMMA" and _look_before(tags, at)


_TELLS_HOW = re.compile(r"(?:[ai]ble|[a-z]{3}ed|['’]s)\Z")
"""The end of a word that says how something is done, what it stands or whose it is, and names no color: `Scrubbable`, `Rollered`."""


def _look_before(tags: Sequence[Tag], at: int) -> bool:
    """Whether a look stands right before a sign, or goods of a class, or a look before goods: `satin,`, `wax,`, `satin oil,`"""
    if any(key == "class" for key, _ in tags[at - 1].also):
        return True
    if tags[at - 1].name == "subject" and at > 1 and tags[at - 1].start - tags[at - 2].end <= 1:
        return _says_look(tags[at - 1]) or _says_look(tags[at - 2])
    return _says_look(tags[at - 1])


def _says_look(tag: Tag) -> bool:
    """Whether a word is a sheen, or goods that are called by theirs."""
    return tag.name == "sheen" or (tag.name == "subject" and any(key == "sheen" for key, _ in tag.also))


def _is_another(name: _Name, text: str, *, told: bool) -> bool:
    """Whether a name in capitals stands as colors do in a text that speaks of some."""
    if not name.titled or (name.after is not None and name.after.name in _NOUNS):
        return False
    before = name.before.name if name.before is not None else ""
    if told:
        return name.led or before in _BEHIND
    behind = name.after is None or name.after.name in _ENDS
    return (before == "surface" and behind) or (
        before in ("COMMA", "AND") and _PLACED.match(text, name.end) is not None
    )
