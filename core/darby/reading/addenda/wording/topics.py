"""What a sentence of an addendum is about: the surfaces, rooms, goods and marks that it names, and whether a rule is of these."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence

from attrs import evolve, frozen

from darby.reading.document.marks.mark_spelling import any_of, names_any
from darby.reading.parsing.tagging.letters import capitals_of
from darby.reading.parsing.tagging.tag import Tag
from darby.rules.name_matching import stems
from darby.rules.rule import Layer, Rule

SURFACE, ROOM, GOODS = "surface", "room", "subject"
_LEADING = frozenset(
    "on to in at for of from with over onto throughout under within and or the all both any each every".split()
)
"""Words that only lead to a place."""
IS, WIDER = 2, 1
"""How a rule fits: it is of what is spoken of, or of more than that."""


@frozen(eq=False)
class Topic:
    """What a sentence is about, its old and new words aside."""

    text: str
    tags: Sequence[Tag]
    marks: frozenset[str]

    def said(self, key: str) -> set[str]:
        """Its surfaces, rooms or goods."""
        return {tag.value for tag in self.tags if tag.name == key}

    def __bool__(self) -> bool:
        return bool(self.marks) or any(map(self.said, (SURFACE, ROOM, GOODS)))

    def fits(self, rule: Rule, around: str = "") -> int:
        """Whether a rule is of what the sentence is about (`IS`), of more than that (`WIDER`), or of something else (0).

        `around` is the clause of a rule that is of one room: a row may tell it by its number too.
        """
        best = IS
        if "mark" in rule.scope or self.marks:
            if rule.scope.get("mark") not in self.marks:
                return 0
        elif (goods := self.said(GOODS)) and rule.subject not in goods:
            return 0
        for key in (SURFACE, ROOM):
            if not (wanted := self.said(key)):
                continue
            if key not in rule.scope:
                best = WIDER
            elif not self._meets(key, rule.scope[key], wanted) and not (key == ROOM and _numbered(wanted, around)):
                return 0
        return best

    def _meets(self, key: str, said: str, wanted: set[str]) -> bool:
        if key == SURFACE:
            return said in wanted
        named = set(stems(said))
        return named <= set(stems(self.text)) or any(set(stems(one)) <= named for one in wanted)

    def names(self) -> set[str]:
        """Words that no list knows and that stand where a place does, before a surface; the one that opens the sentence aside."""
        taken = {at for tag in self.tags for at in range(tag.start, tag.end)}
        befores = (
            re.search(r"(?<=\S)\s+([A-Za-z][\w'’-]*)\s+$", self.text[: tag.start])
            for tag in self.tags
            if tag.name == SURFACE
        )
        return {found[1].lower() for found in befores if found is not None and found.start(1) not in taken} - _LEADING

    def narrowed(self, rule: Rule, layer: Layer) -> Iterator[Rule]:
        """A rule of the part of its place that this names, in a layer."""
        scopes = [dict(rule.scope)]
        for key in (SURFACE, ROOM):
            if key not in rule.scope and self.said(key):
                scopes = [{**scope, key: value} for scope in scopes for value in sorted(self.said(key))]
        yield from (evolve(rule, scope=scope, layer=layer) for scope in scopes)


def _numbered(wanted: Iterable[str], around: str) -> bool:
    """Whether one of some rooms is told by a number alone, and a clause has that number."""
    have = set(stems(around))
    return any(all(word[0].isdigit() for word in stems(one)) and set(stems(one)) <= have for one in wanted)


_TITLES = re.compile(r"\b(?:\w+\s+)?(?:schedules?|legends?)\b", re.IGNORECASE)
"""What papers are called; the goods in such a name are not what is spoken of."""


def topic_in(texts: Iterable[str], tags: Callable[[str], Sequence[Tag]], marks: set[str]) -> Topic:
    """What the first of some texts is about that is about anything: a sentence, what stands before it, what it stands under."""
    for around in texts:
        text = _TITLES.sub(lambda match: " " * len(match[0]), around)
        if topic := Topic(text, tags(text), frozenset(marks_in(text, marks))):
            return topic
    return Topic("", (), frozenset())


def marks_in(text: str, marks: set[str]) -> Iterator[str]:
    """Those of some marks that a text names."""
    if marks and names_any(text, marks):
        yield from (mark for mark in marks if any_of([mark]).search(capitals_of(text)))
