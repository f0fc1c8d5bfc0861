"""Alternates that only take away: `Alternate 3: Omit underlay in hall.` What they leave out is ordered nowhere they speak of.

Read narrowly: whatever stands in such a clause beside goods, surfaces and rooms leaves it unread, and it is asked about as before.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from attrs import evolve, frozen

from darby.quantities.amounts import Amount
from darby.reading.binding.in_place import OMITTED
from darby.reading.left_undone import takes_away, undone_at
from darby.reading.parsing.tagging.tag import Tag
from darby.reading.read import Language, Reading
from darby.rules.rule import Layer, Rule
from darby.text.spans import View

KIND = "replaced"


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
        away = takes_away(tags, one.view.text, language.vocabularies)
        found = [rule for rule in reading.rules if rule.kind.name == KIND or not (rule.choice and away)]
        rules = tuple(found) or tuple(_omitted(one, tags, language, away=away or one.deducts))
        out.append(evolve(reading, rules=rules, statements=() if rules else reading.statements))
    return out


def _omitted(one: PutIn, tags: Sequence[Tag], language: Language, *, away: bool) -> Iterable[Rule]:
    kind = language.kinds.get(KIND)
    if kind is None or not away:
        return
    for subject, surface, room in undone_at(one.view.text, tags, language.vocabularies):
        scope = {key: value for key, value in (("surface", surface), ("room", room)) if value}
        yield Rule(kind, subject, scope, Amount.of(1), one.layer, one.view.whole, choice=OMITTED)
