"""Alternates that only take away: `Alternate 3: Omit underlay in hall.` What they leave out is ordered nowhere they speak of.

Read narrowly: goods or work that some vocabulary can put aside, kinds of surfaces, rooms, and nothing else. Whatever else stands in such a
clause leaves it unread, and it is asked about as before.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from itertools import product

from attrs import evolve, frozen

from darby.quantities.amounts import Amount
from darby.reading.parsing.tagging.tag import Tag
from darby.reading.parsing.vocabulary import strings
from darby.reading.read import Language, Reading
from darby.rules.rule import Layer, Rule
from darby.text.spans import View

KIND = "replaced"
CHOICE = "omitted"
_SILENT = frozenset("OF AND COMMA STOP COLON ALL SEMICOLON".split())
_VERBS = frozenset({"DEDUCT", "NO", "LEFT_OUT"})
_FILLING = frozenset("the a an of on in at to from all and for any work".split())
_WORD = re.compile(r"[^\W\d_]+(?:-[^\W\d_]+)*|\d+")


@frozen(eq=False)
class PutIn:
    """A clause of an alternate that is taken, and whether the alternate is one that deducts by its name."""

    view: View
    layer: Layer
    deducts: bool = False


def with_omissions(put_in: Sequence[PutIn], readings: Sequence[Reading], language: Language) -> list[Reading]:
    """The readings of these clauses; of those of which nothing was read, what they leave out.

    A word that chooses (`satin`) in a clause that takes away chooses nothing.
    """
    out = []
    for one, reading in zip(put_in, readings, strict=True):
        tags = language.lexicon.tags(one.view.text)
        away = _takes_away(tags, one.view.text, language)
        found = [rule for rule in reading.rules if rule.kind.name == KIND or not (rule.choice and away)]
        rules = tuple(found) or tuple(_omitted(one, tags, language, away=away or one.deducts))
        out.append(evolve(reading, rules=rules, statements=() if rules else reading.statements))
    return out


def _omitted(one: PutIn, tags: Sequence[Tag], language: Language, *, away: bool) -> Iterable[Rule]:
    kind = language.kinds.get(KIND)
    text = one.view.text
    goods = goods_in(text, tags, language)
    if kind is None or not goods or not away or _anything_else(tags, text, language):
        return
    surfaces, rooms = ([t.value for t in tags if t.name == name] or [""] for name in ("surface", "room"))
    for subject, surface, room in product(goods, surfaces, rooms):
        scope = {key: value for key, value in (("surface", surface), ("room", room)) if value}
        yield Rule(kind, subject, scope, Amount.of(1), one.layer, one.view.whole, choice=CHOICE)


def _takes_away(tags: Iterable[Tag], text: str, language: Language) -> bool:
    if any(tag.name in _VERBS or (tag.name, tag.value) == ("CHANGED", "struck") for tag in tags):
        return True
    return _found(text, _verbs(language)) != ""


def _verbs(language: Language) -> list[str]:
    return [word for v in language.vocabularies for word in strings(v.tables.get("alternates", {}).get("omit", ()))]


def goods_in(text: str, tags: Sequence[Tag], language: Language) -> list[str]:
    """Goods that a text speaks of: by their names, or by the name of their work all that a vocabulary can put aside."""
    found: dict[str, None] = {}
    work = _work(language)
    known = {goods for names in work.values() for goods in names}
    for tag in tags:
        said = " ".join(text[tag.start : tag.end].casefold().split())
        if tag.name == "subject":
            found.update(dict.fromkeys(work.get(said, [tag.value] if tag.value in known else [])))
        elif tag.name == "LEFT_OUT":
            found.update(dict.fromkeys(work.get(_found(said, work), ())))
    for said in _loose(tags, text):
        found.update(dict.fromkeys(work.get(_found(said, work), ())))
    return list(found)


def _work(language: Language) -> dict[str, list[str]]:
    """The names of work, each with the goods that go with it."""
    found: dict[str, list[str]] = {}
    for vocabulary in language.vocabularies:
        goods = list(vocabulary.tables.get("replaced", {}))
        for word in strings(vocabulary.tables.get("sections", {}).get("work", ())) if goods else ():
            found.setdefault(word, goods)
    return found


def _found(text: str, words: Iterable[str]) -> str:
    """The longest of some phrases that stands in a text; nothing where none does."""
    low = f" {' '.join(_WORD.findall(text.casefold()))} "
    return max((word for word in words if f" {' '.join(_WORD.findall(word))} " in low), key=len, default="")


def _loose(tags: Iterable[Tag], text: str) -> list[str]:
    """The stretches of a text between its tags."""
    at, out = 0, []
    for tag in tags:
        out.append(text[at : tag.start])
        at = max(at, tag.end)
    return [*out, text[at:]]


def _anything_else(tags: Sequence[Tag], text: str, language: Language) -> bool:
    known = {"subject", "surface", "room", *_SILENT, *_VERBS}
    if any(tag.name not in known and (tag.name, tag.value) != ("CHANGED", "struck") for tag in tags):
        return True
    meant = {part for word in (*_work(language), *_verbs(language)) for part in _WORD.findall(word)} | _FILLING
    return any(word not in meant for said in _loose(tags, text) for word in _WORD.findall(said.casefold()))
