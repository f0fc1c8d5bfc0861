"""Binding: of what, and where, a fact is said. Every rule is listed; what none of them reaches stays unread.

The order: whether the number is a quantity of ours at all (`worth`), which kind of fact it is (`deciding`), of what
(`subjects`), where (`surfaces`), and whether it can be believed (`doubts`).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from attrs import define, field

from darby.reading.binding.belief.ambiguity import doubt_sentence, plausible
from darby.reading.binding.belief.exclusions import worth_binding
from darby.reading.binding.belief.polarity import passes
from darby.reading.binding.kinds.kind import decide_kind
from darby.reading.binding.list_places import OF_GOODS, hold_excepted, share_places, spread
from darby.reading.binding.looks_by_place import listed_looks, put_in_places, shared_by_looks
from darby.reading.binding.places import (
    chains,
    find_marks,
    find_places,
    in_definition,
    is_defined,
    joined_to_where,
    pairs,
)
from darby.reading.binding.site.conditions import inherit_bound
from darby.reading.binding.site.finding import Context, Finding, Site, Word, named, reason
from darby.reading.binding.site.in_order import in_order
from darby.reading.binding.site.scope import find_scope
from darby.reading.binding.spread import (
    hold_there,
    in_turn,
    of_one_sort,
    opening_places,
    share,
    share_last_place,
    spread_extents,
    spread_places,
)
from darby.reading.binding.subject import find_subjects
from darby.reading.binding.surface import find_surfaces
from darby.reading.binding.through import tell_apart
from darby.reading.parsing.exceptions import unexcepted
from darby.reading.parsing.fact_parser import Fact
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.parsing.sentence import Phrase, Sentence
from darby.rules.found_by import FoundBy

_SIZES = ("sheet", "thickness")
_REACH = 40
"""Facts of the clause that a later one can lean on."""

_DENIES = ("NO", "NOT_PERMITTED", "INSTEAD_OF")
_CHOSEN = ("type", "sheen", "color")
"""What a sentence says of its own place, `Bath ceilings moisture resistant.`, so that it is not the place of the one before it."""


@define(eq=False)
class Binder:
    """Binds the facts of one clause, sentence by sentence."""

    lexicon: Lexicon
    context: Context
    row: Sequence[Finding] = ()
    done: list[Finding] = field(factory=list)
    _sites: list[tuple[Finding, Site]] = field(factory=list)

    def bind(self, sentences: Iterable[Sentence]) -> list[Finding]:
        """Every fact of the sentences, bound or explained."""
        previous: Sentence | None = None
        previous_own: Sequence[Finding] = ()
        spoken: Sequence[str] | None = []
        for sentence in sentences:
            earlier = len(self.done)
            shared = shared_by_looks(sentence, self.lexicon.chosen)
            for phrase in sentence.phrases:
                for fact in phrase.facts:
                    self.done.append(self._bind(fact, phrase, sentence, previous, self.done[earlier:]))
            previous = sentence
            own = self.done[earlier:]
            spread(own, sentence)
            share(own, sentence)
            of_one_sort(own, sentence)
            for finding, site in self._sites:
                if finding.stands:
                    finding.marks = find_marks(finding, site)
                    placed = in_definition if is_defined(finding, site) else find_places
                    finding.places = placed(finding, site)
                    finding.apart = joined_to_where(finding, site)
            share_places(self._sites)
            hold_excepted(self._sites)
            for finding, _ in self._sites:
                if shared is not None and finding.stands:
                    put_in_places(finding, shared)
            self._sites.clear()
            spread_places(own, sentence)
            share_last_place(own, sentence)
            if not in_order(own, sentence, self.lexicon.places_instead):
                in_turn(own, sentence)
            spread_extents(own, sentence)
            hold_there(own, sentence, spoken)
            spoken = opening_places(sentence, spoken)
            told = {t.name for t in sentence.tags}
            given = "PROVIDE_AT" in told and told.isdisjoint(_DENIES)
            placed_so = given or (sentence.places and told.isdisjoint(_CHOSEN))
            if not own and previous_own and placed_so:
                _bind_back(sentence, previous_own)
            elif not own and _leaves_open(sentence):
                for finding in previous_own:  # `Hall: Level 4. Architect to confirm.`
                    finding.doubt = finding.doubt or ("the text leaves it open" if finding.stands else "")
            previous_own = own or previous_own
            tell_apart(sentence.tags, own, self.lexicon, [a.tags for a in self.context.all])
            doubt_sentence(sentence, own)
        return self.done

    @staticmethod
    def _elsewhere(out: Finding, site: Site) -> bool:
        """Whether a size of an unnamed thing stands beside a place the thing that is guessed never goes, or an opening."""
        if out.kind == "sheet" and named(site.words_before(out.fact), "OPENINGS"):
            return True
        allowed = site.lexicon.surfaces.get(out.subjects[0].value)
        guessed = out.subjects[0].how.startswith(FoundBy.IMPLIED) and out.kind in _SIZES
        own = bool(out.surfaces) and out.surfaces[0].how in (FoundBy.PHRASE, FoundBy.LABEL)
        return guessed and own and allowed is not None and not allowed.issuperset(w.value for w in out.surfaces)

    @staticmethod
    def _of_another(out: Finding, site: Site) -> bool:
        """`10 % waste on all sheets and 5 % on skirtings`: the second is of something else, though no word names it."""
        allowed = site.lexicon.surfaces.get(out.subjects[0].value)
        near = (*named(site.phrase.tags, "subject"), *named(site.label, "subject"))
        if out.kind != "waste" or allowed is None or any(t.value == out.subjects[0].value for t in near):
            return False
        return bool(out.surfaces) and allowed.isdisjoint(w.value for w in out.surfaces)

    def _bind(
        self, fact: Fact, phrase: Phrase, sentence: Sentence, previous: Sentence | None, before: Sequence[Finding]
    ) -> Finding:
        out = Finding(fact, fact.kind, fact.amount, fact.per, choice=fact.choice, bound=fact.bound, doubt=fact.doubt)
        if fact.why:
            out.aside = fact.why
            return out
        site = Site(self.lexicon, self.context, sentence, phrase, before, self.done[-_REACH:], previous, self.row)
        if not worth_binding(out, site):
            return out
        if against := passes(out, site):
            out.aside = against
            return out
        decide_kind(out, site)
        if out.aside or out.unread:
            return out
        out.subjects = find_subjects(out, site)
        # of these a list names many, each with its own words; what is spaced may start at a distance from an edge
        counted = out.kind in ("finish level", "layers", "spacing")
        near = (*phrase.part.label, *phrase.tags) if counted else site.part_tags
        if out.subjects and out.subjects[0].how.startswith(FoundBy.IMPLIED) and reason(near):
            out.subjects = []
        if not out.subjects:
            out.aside = reason(near)
            out.unread = "" if out.aside else "nothing near it says what it is of"
            return out
        if plausible(out, site):
            out.surfaces = find_surfaces(out, site)
            if self._elsewhere(out, site):
                out.aside = "the size of something that no trade here orders"
            elif self._of_another(out, site):
                out.unread = "said of something that it is not put on"
            out.scope = find_scope(out, site)
            out.looks = listed_looks(out, site)
            self._sites.append((out, site))
            inherit_bound(out, site)
        return out


_SHORT = 3
"""Tags in a sentence that only says that what stands before it is open."""


def _leaves_open(sentence: Sentence) -> bool:
    names = [t.name for t in sentence.tags]
    return (
        "OPEN_ENDED" in names
        and len(names) <= _SHORT
        and not {"subject", "surface", "room", "sheen", "type"} & set(names)
    )


def _bind_back(sentence: Sentence, findings: Sequence[Finding]) -> None:
    """`.. 5/8 inch thick. Provide at toilet walls.`: where a sentence that states nothing itself puts what stands before it."""
    found = [pair for chain in chains(unexcepted(sentence.tags)) for pair in pairs(chain)]
    named = sentence.places and any(room for room, _ in found)
    for finding in findings:
        if sentence.places and (not named or finding.kind in OF_GOODS):
            continue
        if found and finding.stands and not any(room for room, _ in finding.places):
            finding.marks = (
                [*finding.marks, ""] if finding.marks else []
            )  # it holds there, and wherever else its mark is given
            own: list[Word | None] = [*finding.surfaces] if sentence.places else []
            finding.places = [
                (room, Word(surface, FoundBy.NEXT_SENTENCE) if surface else other)
                for room, surface in found
                for other in (own or [None] if not surface else [None])
            ]
