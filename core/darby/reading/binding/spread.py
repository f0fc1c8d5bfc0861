"""What a list says beside one of its facts and holds for others: surfaces, places, sorts, once all of a sentence is bound."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import takewhile

from attrs import evolve

from darby.quantities.units import UNITS
from darby.reading.binding.list_places import EVERYWHERE, OF_GOODS, on_something, same_coat
from darby.reading.binding.places import LINKS
from darby.reading.binding.site.finding import Finding, Word
from darby.reading.binding.site.in_order import IN_PLACES, in_order
from darby.reading.binding.site.scope import TYPED
from darby.reading.parsing.sentence import Phrase, Sentence
from darby.reading.parsing.tagging.tag import is_extent
from darby.rules.found_by import FoundBy
from darby.rules.name_matching import SET, SORT

_NAMES_MORE = ("subject", "sheen", "type", "layer", "color", "class")
_PLACED = ("room", "mark", "where", "condition")
_PLAIN = "regular"
_APART = ("COMMA", "SEMICOLON", "COLON", "STOP")


def share(findings: Sequence[Finding], sentence: Sentence) -> None:
    """What is told once beside the first of several values holds wherever these do: `32 mm pins at 300 mm on walls, 230 mm on ceilings`.

    Only where the later ones name nothing else of their own, and no place but a surface.
    """
    phrases = [p for p in sentence.phrases if p.facts]
    if len(phrases) < 2 or any(t.name in _PLACED for p in phrases for t in p.tags):
        return
    stand = [f for f in findings if f.stands and not f.doubt]
    own = {id(phrase): [f for f in stand if f.fact in phrase.facts] for phrase in phrases}
    for n, phrase in enumerate(phrases):
        beside = [(p, f) for p in phrases[n + 1 :] for f in own[id(p)] if _beside(f)]
        for finding in own[id(phrase)]:
            if not _beside(finding) or any(f.kind == finding.kind for _, f in beside):
                continue
            before = {f.kind for f in own[id(phrase)] if f.fact.place < finding.fact.place}
            told = [f for p, f in beside if _alike(p, phrase) and (f.kind not in before or not _names(p))]
            repeated = {f.kind for f in own[id(phrase)]} & {f.kind for f in told}
            if repeated and repeated == {f.kind for _, f in beside}:
                surfaces = dict.fromkeys(w.value for f in (finding, *told) for w in f.surfaces)
                finding.surfaces = [Word(value, FoundBy.LIST) for value in surfaces]


def _names(phrase: Phrase) -> bool:
    """Whether a phrase names goods: then what stood behind the first of them is of those: `10 mm A with pins at 8 in. on walls, 12 mm A on ceilings`."""
    return any(t.name == "subject" for t in phrase.tags)


def spread_places(findings: Sequence[Finding], sentence: Sentence) -> None:
    """A place at the end of a list of goods holds for those before it: `two coats A over one coat B in Block C`."""
    phrases = [p for p in sentence.phrases if p.facts]
    if len(phrases) < 2 or len({id(p.part) for p in phrases}) > 1:
        return
    last = phrases[-1]
    told = next((f for f in findings if f.fact in last.facts and f.stands and f.fact is last.facts[0]), None)
    behind = [t for t in last.tags if told is not None and t.start >= told.fact.over]
    if (
        told is None
        or not any(t.name == "room" for t in behind)
        or any(t.name in ("room", *EVERYWHERE) for t in last.lead)
    ):
        return
    others = [f for f in findings if f.stands and f is not told and f.fact not in last.facts]
    of = {w.value for w in told.subjects}
    lean = all(
        f.kind == told.kind and of.isdisjoint(w.value for w in f.subjects) and not any(room for room, _ in f.places)
        for f in others
    )
    if lean and not any(t.name in ("room", "mark", "where", *EVERYWHERE) for p in phrases[:-1] for t in p.tags):
        for finding in others:
            if not _beside(finding) and not on_something(finding, sentence):
                finding.places = [
                    (room, surface or on) for _, on in finding.places[:1] for room, surface in told.places
                ]


def of_one_sort(findings: Sequence[Finding], sentence: Sentence) -> None:
    """What a label says of goods and what stands behind it are of one sort: `Standard panels: 5/8 in., type X, 4 ft by 12 ft` has such
    panels of 12 ft. Only where each kind of fact is stated once, since two are of two sorts.
    """
    for part in sentence.parts:
        names = {t.name for t in part.label}
        facts = [f for phrase in part.phrases for f in phrase.facts]
        own = [f for f in findings if f.stands and f.kind in TYPED and f.fact in facts]
        if not {"subject", SORT} <= names or len({f.kind for f in own}) < len(own):
            continue
        label = {t.value for t in part.label if t.name == SORT}
        said = {f.scope.get(SORT, "") for f in own}
        full = max(said, key=lambda types: len(set(types.split(SET)) - {_PLAIN, ""}), default="")
        for finding in own:
            types = set(finding.scope.get(SORT, "").split(SET)) - {""}
            if types <= label and types - {_PLAIN} <= set(full.split(SET)) and full:
                finding.scope[SORT] = full


def spread_extents(findings: Sequence[Finding], sentence: Sentence) -> None:
    """A part of a surface at the end of a list of coats is that of those before it: `one coat A over one coat B at patches`."""
    phrases = [p for p in sentence.phrases if p.facts]
    if len(phrases) < 2 or len({id(p.part) for p in phrases}) > 1:
        return
    last = phrases[-1]
    told = next((f for f in findings if f.fact is last.facts[0] and f.stands), None)
    part = next((t for t in last.tags if told is not None and t.start >= told.fact.over and is_extent(t)), None)
    if told is None or part is None or part.value != told.scope.get("where"):
        return
    of = {w.value for w in told.subjects}
    others = [f for f in findings if f.stands and f.fact not in last.facts]
    lean = all(f.kind == told.kind and of.isdisjoint(w.value for w in f.subjects) for f in others)
    if not lean or any(t.name in ("where", "surface", "ALL_OVER") for p in phrases[:-1] for t in p.tags):
        return
    for finding in others:
        joins = {t.name for t in sentence.tags if finding.fact.over <= t.start < told.fact.place}
        if joins.isdisjoint(_APART):
            finding.scope.setdefault("where", part.value)
            if "LARGER_THAN" not in joins:
                finding.confirm = (
                    finding.confirm or "a part of a surface that is named last may be of all that stands before it"
                )


def in_turn(findings: Sequence[Finding], sentence: Sentence) -> None:
    """Values that are said of several places in turn: `walls of halls and attics: two and three coats respectively`. Where there are not as
    many of one as of the other it is asked which is of which."""
    if not any(t.name == "RESPECTIVELY" for t in sentence.tags):
        return
    told = [f for f in findings if f.stands and not f.doubt]
    of = told[-1] if told else None
    if of is None or of.amount is None:
        return
    measured = of.amount.unit.dimension
    alone = [f for f in findings if f.unread and f.amount is not None and f.amount.unit.dimension == measured]
    same = [f for f in findings if f in alone or (f in told and f.kind == of.kind)]
    of_one = all(same_coat(f, of) for f in same if f not in alone)
    places = list(dict.fromkeys((room, surface.value if surface else "") for room, surface in of.places))
    if len(same) < _TWO or not of_one or len(same) != len(places):
        for finding in () if in_order(findings, sentence, {}, IN_PLACES) else told:
            finding.doubt = "said of several in turn: which is of which is not clear"
        return
    how = of.surfaces[0].how if of.surfaces else FoundBy.PHRASE
    for finding, (room, surface) in zip(same, places, strict=True):
        if finding in alone:
            finding.kind, finding.unread, finding.per = of.kind, "", of.per
            finding.subjects, finding.scope = [*of.subjects], {**of.scope}
            if finding.amount is not None and finding.amount.unit is UNITS["each"]:
                finding.amount = evolve(finding.amount, unit=of.amount.unit)
        finding.places = [(room, Word(surface, how) if surface else None)]
        finding.surfaces = [Word(surface, how)] if surface else []


_TWO = 2
_OPENS = ("ALL", "BOTH", "condition", "OF")
_SAYS = ("NUMBER", "A_COAT", "A_LAYER", "subject", "surface", "sheen", "type")
_AS_BEFORE = "its sentence names no place: it is taken to hold where the one before it does"


def opening_places(sentence: Sentence, before: Sequence[str] | None) -> Sequence[str] | None:
    """The places that a sentence speaks of from its first words on and no others (`Bedroom 1 walls get two coats.`), or else those that the
    sentence before it was about, where it names none and does not speak of everything. None behind a sentence that is of no place: what
    stands behind it may be of none either."""
    rooms = [t for t in sentence.tags if t.name == "room"]
    if before is None or any(t.name in EVERYWHERE for t in sentence.tags):
        return None
    if not rooms:
        return before or (None if any(t.name in _SAYS for t in sentence.tags) else before)
    first = next((n for n, t in enumerate(sentence.tags) if t.name not in _OPENS), 0)
    led = list(takewhile(lambda t: t.name in ("room", "surface", *LINKS), sentence.tags[first:]))
    opens = sentence.tags[first] is rooms[0] and all(any(t is room for t in led) for room in rooms)
    return list(dict.fromkeys(t.value for t in rooms)) if opens else []


def hold_there(findings: Sequence[Finding], sentence: Sentence, places: Sequence[str] | None) -> None:
    """Keep what a sentence says without a place to the places that the sentence before it speaks of, and have that confirmed:
    `Bedroom 1 walls get two coats. The ceiling gets one.`"""
    own = sentence.tags
    if not places or any(t.name in ("room", "mark", "ALL", "BOTH", *EVERYWHERE) for t in own):
        return
    for finding in findings:
        held = (finding.stands or finding.choice) and finding.kind not in OF_GOODS and not finding.marks
        if held and finding.places and not any(room for room, _ in finding.places):
            finding.places = [(room, surface) for room in places for _, surface in finding.places]
            finding.confirm = finding.confirm or _AS_BEFORE


def share_last_place(findings: Sequence[Finding], sentence: Sentence) -> None:
    """A place behind the last of two that `and` joins may be that of both: `two coats on walls and one on ceilings in the attic`. It is taken
    to be, and confirmed: what is said of a place is not to hold everywhere."""
    phrases = [p for p in sentence.phrases if p.facts]
    if len(phrases) < _TWO or len({id(p.part) for p in phrases}) > 1 or phrases[0].part.label:
        return
    last = phrases[-1]
    told = next((f for f in findings if f.fact is last.facts[0] and f.stands), None)
    joins = {t.name for t in sentence.tags if phrases[0].facts[0].over <= t.start < last.facts[0].place}
    behind = [t for t in last.tags if told is not None and t.start >= told.fact.over]
    rooms = [n for n, t in enumerate(behind) if t.name == "room"]
    led = bool(rooms) and not behind[rooms[0]].loose and any(t.name == "surface" for t in behind[: rooms[0]])
    if told is None or not led or "AND" not in joins or not joins.isdisjoint(_APART):
        return
    if any(t.name in (*_PLACED, *EVERYWHERE, "ALL", "EXCEPT") for p in phrases[:-1] for t in p.tags):
        return
    places = dict.fromkeys(room for room, _ in told.places)
    for finding in findings:
        own = finding.stands and finding.kind == told.kind and finding.fact not in last.facts
        if own and _beside(finding) and not any(room for room, _ in finding.places):
            finding.places = [(room, surface) for room in places for _, surface in finding.places]
            finding.confirm = finding.confirm or "a place that is named last may be of all that stands before it"


def _beside(finding: Finding) -> bool:
    """Whether a surface stands right beside a fact."""
    return bool(finding.surfaces) and finding.surfaces[0].how == FoundBy.PHRASE


def _alike(later: Phrase, first: Phrase) -> bool:
    """Whether a phrase names no goods, and no looks of them, but those that an earlier one has, and has no label of its own."""
    named = {(t.name, t.value) for t in later.tags if t.name in _NAMES_MORE}
    return named <= {(t.name, t.value) for t in first.tags} and (later.part is first.part or not later.part.label)
