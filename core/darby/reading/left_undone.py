"""Sentences that leave work of ours undone somewhere, and say nothing else: `Nothing in the boiler room.`

Read narrowly: goods or work that some vocabulary can put aside, kinds of surfaces, rooms, and nothing else. Whatever else stands in such a
sentence leaves it unread, and it is asked about.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import lru_cache
from itertools import pairwise, product

from attrs import evolve

from darby.reading.binding.in_place import IN_PLACE, OMITTED
from darby.reading.binding.places import chains, pairs
from darby.reading.binding.site.finding import Finding, Word
from darby.reading.parsing.fact_parser import Fact
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.parsing.naming.larger_places import holds_others
from darby.reading.parsing.tagging.tag import Tag, left_over
from darby.reading.parsing.vocabulary import Vocabulary, strings
from darby.rules.found_by import FoundBy

_EVERYWHERE = "it leaves this out on the whole job"
_SILENT = frozenset("OF AND COMMA STOP COLON ALL SEMICOLON HOLDS SHALL_BE PROVIDE_AT".split())
_VERBS = frozenset({"DEDUCT", "NO", "LEFT_OUT"})
_WORD = re.compile(r"[^\W\d_]+(?:-[^\W\d_]+)*|\d+")
_NOT, _STRUCK = ("INSTEAD_OF", "not"), ("CHANGED", "struck")
_WORK, _PLACES = "W(?:J?W)*", "[SR](?:J?[SR])*"
_SHAPES = re.compile(
    "|".join(
        shape.format(w=_WORK, p=_PLACES)
        for shape in (
            "U{p}",
            "{p}U",
            "D{w}(?:J?D{w})*{p}",
            "{p}D{w}(?:J?D{w})*",
            "D{p}{w}",
            "{p}{w}D",
            "{w}{p}D",
            "{w}D{p}",
        )
    )
)
"""Sentences that take work away once, in all the places that they name: what takes away D, work W, both in one U; rooms R, surfaces S."""
_BARE = re.compile(f"U|D{_WORK}|{_WORK}D")
"""Sentences that take work away and name no place."""
_PARTED = re.compile("[DU].*[DU]|;")
_MOST = 24
"""Tags of a sentence that says no more than this."""
_LETTERS = {
    "LEFT_OUT": "U", "DEDUCT": "D", "NO": "D", "CHANGED": "D", "INSTEAD_OF": "D", "APPLIED": "W", "subject": "W",
    "room": "R", "surface": "S", "SEMICOLON": ";", "AND": "J", "COMMA": "J",
}  # fmt: skip
Vocabularies = tuple[Vocabulary, ...]


def left_undone(tags: Sequence[Tag], text: str, lexicon: Lexicon, over: Sequence[str] = ()) -> list[Finding]:
    """What the sentences of a clause leave undone, each of the goods as a finding that makes a rule; `over` are the rooms that the clause
    stands under."""
    if not _denies(tags, text, lexicon.vocabularies):
        return []
    found: list[Finding] = []
    stops = [n for n, tag in enumerate(tags) if tag.name == "STOP"]
    for first, behind in pairwise([0, *(n + 1 for n in stops), len(tags)]):
        low = tags[first - 1].end if first else 0
        high = tags[behind].start if behind < len(tags) else len(text)
        if 0 < behind - first <= _MOST:
            found.extend(_undone(tags[first:behind], first, text[low:high], low, lexicon, over))
    told = set(map(_what, found))
    return [*found, *(f for f in _undone_where_labelled(tags, text, lexicon, over) if _what(f) not in told)]


def _named_there(tags: Sequence[Tag], over: Sequence[str]) -> list[tuple[str, str | None]]:
    """The rooms and surfaces that some words name, in pairs; surfaces of no room are those of the rooms that their clause stands under."""
    places: list[tuple[str, str | None]] = [pair for chain in chains(tags) for pair in pairs(chain)]
    if over and places and not any(room for room, _ in places):
        return list(product(over, dict.fromkeys(surface for _, surface in places)))
    return places


def _what(finding: Finding) -> tuple[object, ...]:
    """The goods that a finding leaves out, and where."""
    places = (item for room, surface in finding.places for item in (room, surface.value if surface else None))
    return (finding.subjects[0].value, *places)


def _undone_where_labelled(
    tags: Sequence[Tag], text: str, lexicon: Lexicon, over: Sequence[str]
) -> Iterator[Finding]:  # fmt: skip
    """What a part of a list leaves undone where its label says: `Attic walls: one coat of wax. No oil.`, `Loft: pegs only, no varnish`"""
    colon = next((n for n, tag in enumerate(tags[:_MOST]) if tag.name == "COLON"), 0)
    label, words = tags[:colon], lexicon.vocabularies
    named = all(tag.name in _LABELS for tag in label)
    whole = named and not "".join(left_over(label, text[: label[-1].end if label else 0])).strip()
    places = _named_there(label, over)
    if not whole or not places or any(holds_others(room, lexicon.names.numbered) for room, _ in places):
        return
    stops = [n for n, tag in enumerate(tags) if tag.name == "STOP" and n > colon]
    own = next((n for n in range(stops[0], len(tags)) if tags[n].name in ("room", "surface")), 0) if stops else 0
    tags = tags[: max(n for n in stops if n < own)] if own else tags  # `Doors: two coats. Sills are stone, no oil.`
    cuts = [colon, *(n for n in range(colon + 1, len(tags)) if tags[n].name in _CUTS), len(tags)]
    for first, behind in pairwise(cuts):
        part = tags[first + 1 : behind]
        low, high = tags[first].end, tags[behind].start if behind < len(tags) else len(text)
        moved = [evolve(tag, start=tag.start - low, end=tag.end - low) for tag in part]
        said = text[low:high]
        work = not says_more(moved, said, words) and re.fullmatch("D" + _WORK, _shape(moved, said, words))
        if not work or any(
            tag.name in ("room", "surface") or _narrower(tag, said[tag.start : tag.end], words) for tag in moved
        ):
            continue
        at = next((n for n, tag in enumerate(part) if tag.name in _VERBS), 0)
        for subject in goods_in(said, moved, words):
            one = first + 1 + at
            fact = Fact(IN_PLACE, start=one, end=one + 1, place=tags[one].start, over=tags[one].end, subject=subject)
            finding = Finding(fact, IN_PLACE, subjects=[Word(subject, FoundBy.FACT)], choice=OMITTED)
            finding.places = [(room, Word(surface, FoundBy.LABEL) if surface else None) for room, surface in places]
            finding.scope = {key: value for tag in label for key, value in tag.also if key in _WHICH}
            finding.confirm = "" if all(room for room, _ in places) else _EVERYWHERE
            yield finding


_LABELS = ("room", "surface", "AND", "COMMA", "OF", "ALL", "facing")
_CUTS = ("STOP", "COMMA", "SEMICOLON")
_WHICH = ("facing", "where", "condition")
"""What a word for a surface says besides of which one is meant."""


def _undone(
    own: Sequence[Tag], first: int, said: str, low: int, lexicon: Lexicon, over: Sequence[str]
) -> Iterator[Finding]:  # fmt: skip
    words = lexicon.vocabularies
    moved = [evolve(tag, start=tag.start - low, end=tag.end - low) for tag in own]
    if not takes_away(moved, said, words) or not (goods := goods_in(said, moved, words)):
        return
    places = _named_there(own, over)
    if not places and over and _BARE.fullmatch(_shape(moved, said, words)):
        places = [(room, None) for room in over]  # `Not decorated.` under the name of a room
    elif not once(moved, said, words):
        return
    larger = any(holds_others(room, lexicon.names.numbered) for room, _ in places)
    if not places or larger or says_more(moved, said, words):
        return
    at = next((n for n, tag in enumerate(own) if tag.name in _VERBS), 0)
    for subject in goods:
        fact = Fact(
            IN_PLACE, start=first + at, end=first + at + 1, place=own[at].start, over=own[at].end, subject=subject
        )
        finding = Finding(fact, IN_PLACE, subjects=[Word(subject, FoundBy.FACT)], choice=OMITTED)
        finding.places = [(room, Word(surface, FoundBy.PHRASE) if surface else None) for room, surface in places]
        finding.confirm = "" if all(room for room, _ in places) else _EVERYWHERE
        yield finding


def takes_away(tags: Iterable[Tag], text: str, vocabularies: Vocabularies) -> bool:
    """Whether some words take something away: `omit`, `do not`, `nothing`."""
    tags = [*tags]
    return any((tag.name, tag.value) == _STRUCK for tag in tags) or _denies(tags, text, vocabularies)


def _denies(tags: Iterable[Tag], text: str, vocabularies: Vocabularies) -> bool:
    return any(tag.name in _VERBS for tag in tags) or _found(text, _verbs(vocabularies)) != ""


def goods_in(text: str, tags: Sequence[Tag], vocabularies: Vocabularies) -> list[str]:
    """Goods that a text speaks of: by their names, or by the name of their work all that a vocabulary can put aside."""
    found: dict[str, None] = {}
    work = _work(vocabularies)
    known = {goods for names in work.values() for goods in names}
    for tag in tags:
        said = " ".join(text[tag.start : tag.end].casefold().split())
        if tag.name == "subject":
            found.update(dict.fromkeys(work.get(said, [tag.value] if tag.value in known else [])))
        elif tag.name in ("LEFT_OUT", "APPLIED"):
            found.update(dict.fromkeys(work.get(_found(said, work), ())))
    for said in left_over(tags, text):
        found.update(dict.fromkeys(work.get(_found(said, work), ())))
    return list(found)


def says_more(tags: Sequence[Tag], text: str, vocabularies: Vocabularies) -> bool:
    """Whether a text says more than which goods are left out, and where."""
    known = {"subject", "surface", "room", "APPLIED", *_SILENT, *_VERBS}
    undone = {id(no) for no, work in pairwise(tags) if (no.name, no.value) == _NOT and work.name == "APPLIED"}
    struck = {id(tag) for tag in tags if (tag.name, tag.value) == _STRUCK}
    if any(tag.name not in known and id(tag) not in undone | struck for tag in tags):
        return True
    meant = {part for word in (*_work(vocabularies), *_verbs(vocabularies)) for part in _WORD.findall(word)} | _filling(
        vocabularies, left=any(tag.name == "LEFT_OUT" for tag in tags)
    )
    return any(word not in meant for said in left_over(tags, text) for word in _WORD.findall(said.casefold()))


def once(tags: Sequence[Tag], text: str, vocabularies: Vocabularies) -> bool:
    """Whether a text takes away once, and in all the places that it names: of `work in the office, not in the store` nothing is known."""
    if any(_narrower(tag, text[tag.start : tag.end], vocabularies) for tag in tags):
        return False
    names = {tag.name for tag in tags}
    if "ALL" in names and names & {"LEFT_OUT", "INSTEAD_OF"}:
        return False  # `not all walls` are some
    shape = _shape(tags, text, vocabularies)
    # Two rooms that nothing joins are one that lies in the other, or a word that is no room; two surfaces are a part of one.
    return _SHAPES.fullmatch(shape) is not None and re.search("RS*R|SS", shape) is None


def _narrower(tag: Tag, said: str, vocabularies: Vocabularies) -> bool:
    """Whether words mean less than the value that they were given: a sort of the goods, one of several sides, a part of a surface."""
    if tag.name == "surface":
        return not said.casefold().startswith(tag.value) or len(said.split()) > len(tag.value.split())
    return tag.name == "subject" and " ".join(said.casefold().split()) not in _whole_names(vocabularies)


def _shape(tags: Sequence[Tag], text: str, vocabularies: Vocabularies) -> str:
    """What a text says in order, a letter for each; words that only fill stand for nothing."""
    loose = left_over(tags, text)
    shape = _said(loose[0], vocabularies)
    for tag, behind in zip(tags, loose[1:], strict=True):
        shape += _LETTERS.get(tag.name, "") + _said(behind, vocabularies)
    return shape


def _said(text: str, vocabularies: Vocabularies) -> str:
    """The work and the words that take away in a stretch between tags, in their order."""
    taken, work = set(_verbs(vocabularies)), _work(vocabularies)
    words, shape = _WORD.findall(text.casefold()), ""
    while words:
        length = next(
            (n for n in range(len(words), 0, -1) if " ".join(words[:n]) in taken or " ".join(words[:n]) in work), 0
        )
        shape += ("D" if " ".join(words[:length]) in taken else "W") if length else ""
        words = words[length or 1 :]
    return shape


def undone_at(text: str, tags: Sequence[Tag], vocabularies: Vocabularies) -> list[tuple[str, str, str]]:
    """Goods, surfaces and rooms, each with each, that a clause which takes away speaks of; none of one that says more."""
    goods = goods_in(text, tags, vocabularies)
    if not goods or says_more(tags, text, vocabularies) or _PARTED.search(_shape(tags, text, vocabularies)):
        return []
    surfaces, rooms = ([t.value for t in tags if t.name == name] or [""] for name in ("surface", "room"))
    return list(product(goods, surfaces, rooms))


@lru_cache(maxsize=8)
def _work(vocabularies: Vocabularies) -> Mapping[str, Sequence[str]]:
    """The names of work, each with the goods that go with it."""
    found: dict[str, list[str]] = {}
    for vocabulary in vocabularies:
        goods = list(vocabulary.tables.get("replaced", {}))
        named = (*strings(vocabulary.tables.get("sections", {}).get("work", ())), *vocabulary.words("left_out_work"))
        for word in named if goods else ():
            found.setdefault(word, goods)
    return found


@lru_cache(maxsize=8)
def _whole_names(vocabularies: Vocabularies) -> frozenset[str]:
    """The names of goods and of work."""
    return frozenset(word for v in vocabularies for word in v.words("subject")) | frozenset(_work(vocabularies))


@lru_cache(maxsize=8)
def _verbs(vocabularies: Vocabularies) -> Sequence[str]:
    return [word for v in vocabularies for word in strings(v.tables.get("alternates", {}).get("omit", ()))]


@lru_cache(maxsize=8)
def _filling(vocabularies: Vocabularies, *, left: bool) -> frozenset[str]:
    """The words beside what is left out that say nothing more; more of them where a word says what is left."""
    keys = ("filling", "filling_left") if left else ("filling",)
    return frozenset(
        w for v in vocabularies for key in keys for w in strings(v.tables.get("alternates", {}).get(key, ()))
    )


def _found(text: str, words: Iterable[str]) -> str:
    """The longest of some phrases that stands in a text; nothing where none does."""
    low = _parted(text.casefold())
    return max((word for word in words if _parted_phrase(word) in low), key=len, default="")


def _parted(text: str) -> str:
    """The words of a text with one blank before, between and behind them."""
    return f" {' '.join(_WORD.findall(text))} "


_parted_phrase = lru_cache(maxsize=1024)(_parted)
"""The same of a phrase of a vocabulary, which is looked for in every clause."""
