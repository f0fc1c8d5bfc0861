"""Choices that are made with a word and no number: a type, a sheen, a color, a system by its mark, said of a place.

In a sentence that states an amount of the same product such a word only describes the amount (`two coats eggshell`); elsewhere it is a
fact of its own (`eggshell in offices`). A word that is said of no place chooses nothing: products are listed by their looks too.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Collection, Container, Iterable, Mapping, Sequence
from itertools import pairwise, takewhile

from attrs import field, frozen

from darby.reading.binding.belief.exclusions import CONDITIONAL, reason_against
from darby.reading.binding.belief.telling_marks import MARK, labels, only_tells
from darby.reading.binding.belief.unmade import NOWHERE, SYSTEM, hold_open
from darby.reading.binding.in_place import IN_PLACE, place_limit, replaced, weigh_replaced
from darby.reading.binding.list_places import WHICH
from darby.reading.binding.own_words import opens_a_look
from darby.reading.binding.places import chains, find_marks, find_places, in_definition, is_defined, listed_marks, pairs
from darby.reading.binding.site.finding import Context, Finding, Site, Word, class_of
from darby.reading.binding.site.scope import find_scope
from darby.reading.binding.spread import hold_there, opening_places
from darby.reading.binding.surface import find_surfaces
from darby.reading.binding.through import NOTE, goes_into
from darby.reading.parsing.chunker import sentences
from darby.reading.parsing.fact_parser import Fact
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.parsing.tagging.tag import ENDS, OPENS_DEFINITION, SET, Tag
from darby.reading.parsing.vocabulary import strings
from darby.rules.found_by import FoundBy, code_of
from darby.rules.name_matching import SORT

REPLACED = "REPLACED"
CLASS = "class"
"""What a product is made of, which its name says: `oil stain`."""
_JOINED = ("AND", "COMMA")


@frozen
class Systems:
    """What the definitions of a document's systems say of them."""

    subjects: Mapping[str, str] = field(factory=dict)
    """Of what each mark is a system."""
    alone: frozenset[str] = frozenset()
    """Marks that no other one shares a surface with."""
    surfaces: Mapping[str, tuple[str, ...]] = field(factory=dict)
    """Where each goes by its definition."""
    items: frozenset[str] = frozenset()
    """Of the marks those that are numbers of items, which others take over."""

    def defined_here(self, elsewhere: Container[str]) -> dict[str, str]:
        """The marks of the document itself, each with what it is a system of."""
        return {mark: of for mark, of in self.subjects.items() if mark not in elsewhere and mark not in self.items}


def bind_choices(
    tags: Sequence[Tag], text: str, findings: Sequence[Finding], row: Sequence[Finding], context: Context, lexicon: Lexicon,
    systems: Systems,
) -> list[Finding]:  # fmt: skip
    """The choices of one clause or cell. `row` holds what is stated in the other cells."""
    facts = list(_facts(tags, findings, row, lexicon, systems))
    if not facts:
        return []
    out: list[Finding] = []
    spoken: Sequence[str] | None = []
    for sentence in sentences(tags, facts, text):
        before = len(out)
        for phrase in sentence.phrases:
            for fact in phrase.facts:
                site = Site(lexicon, context, sentence, phrase, out[before:], out, None, row)
                out.append(_bound(fact, tags, site, systems))
        _on_all(tags, out[before:])
        hold_open(sentence, tags, out[before:])
        _two_systems(out[before:])
        hold_there(out[before:], sentence, spoken)
        spoken = opening_places(sentence, spoken)
    return [f for f in out if f.choice]


def _facts(
    tags: Sequence[Tag], findings: Sequence[Finding], row: Sequence[Finding], lexicon: Lexicon,
    systems: Systems,
) -> Iterable[Fact]:  # fmt: skip
    ends = [t.start for t in tags if t.name == "STOP"]
    inside = {n for f in findings for n in range(f.fact.start, f.fact.end)}

    def sentence_of(place: int) -> int:
        return bisect_left(ends, place)

    described = {
        (sentence_of(f.fact.place), key, value)
        for f in findings if f.kind and not f.aside
        for key, said in f.scope.items() for value in said.split(SET)
    }  # fmt: skip
    stated = {(sentence_of(f.fact.place), w.value) for f in findings if f.stands for w in f.subjects}
    in_row = {w.value for f in row for w in f.subjects if f.stands}
    for n, tag in enumerate(tags):
        if tag.name == REPLACED:
            yield from replaced(tag, n, lexicon)
            continue
        kind, value = tag.name, tag.value
        subject = systems.subjects.get(value, "") if kind == MARK else lexicon.chosen(tag)
        if tag.name == "subject":
            kind, (subject, value) = CLASS, class_of(tags, n)
            # beside an amount of the product it only describes that
            if CLASS not in lexicon.kinds.get(subject, ()) or (sentence_of(tag.start), subject) in stated:
                subject = ""
        told = (sentence_of(tag.start), kind, value) in described
        alone = kind == MARK and all(
            t.name in (MARK, "AND", "COMMA") for t in tags
        )  # `PT-1` beside `2 coats` of a room
        told = told or any(
            (sentence_of(tag.start), kind, tags[m].value) in described and tags[m].name == kind
            for join, m in ((n - 1, n - 2), (n + 1, n + 2))
            if 0 <= m < len(tags) and tags[join].name == "EITHER"
        )  # `two coats satin or eggshell`: neither of the two is chosen
        if not subject or n in inside or (subject in in_row and not alone) or told:
            continue
        if tag.name == SORT and _of_a_set(tags, n):
            continue
        if tag.name == "type" and _of_others(tags, n, subject):
            continue
        if kind == MARK and (only_tells(tag, findings, tags) or labels(tags, n)):
            continue
        defines = findings and value not in systems.items and _defines(tags, n, systems.alone)
        if tag.name == MARK and (defines or opens_a_look(tags, n) or OPENS_DEFINITION in tag.also):
            continue
        kind = SYSTEM if tag.name == MARK else kind
        yield Fact(kind, start=n, end=n + 1, place=tag.start, over=tag.end, subject=subject)


def _of_a_set(tags: Sequence[Tag], at: int) -> bool:
    """Whether a sort is the first of two that tell one product, `plain, silk paper`: the last of them says the set."""
    behind = next((n for n in (at + 1, at + 2) if n < len(tags) and tags[n].name == SORT), 0)
    if behind == at + 1:
        return tags[behind].start - tags[at].end <= 1
    return behind > 0 and (tags[at + 1].name in _JOINED or tags[at + 1].value == "/")


def _of_others(tags: Sequence[Tag], at: int, subject: str) -> bool:
    """Whether a word says what sort of another product is wanted, which stands right behind it."""
    behind = next((t for t in tags[at + 1 : at + 2] if t.start - tags[at].end <= 1), None)
    return behind is not None and behind.name == "subject" and behind.value != subject


def _defines(tags: Sequence[Tag], at: int, alone: Collection[str]) -> bool:
    """Whether a mark only opens its own definition; `PT-1 WALLS: two coats` gives it to the walls besides, unless another
    mark is for walls too."""
    if at == 0 and tags[at].value not in alone:
        return True
    first = at + 2 if at + 1 < len(tags) and tags[at + 1].name == "COLON" else at  # `D-1: doors: ..`
    colon = next((n for n in range(first, len(tags)) if tags[n].name == "COLON"), at)
    led = sum(t.name != "condition" for t in tags[:at])  # `New partition P4: ..`
    return led < 2 and not any(t.name in ("surface", "room") for t in tags[at + 1 : colon])


def _bound(fact: Fact, tags: Sequence[Tag], site: Site, systems: Systems) -> Finding:
    tag = tags[fact.start]
    out = Finding(fact, fact.kind, subjects=[Word(fact.subject, FoundBy.FACT)])
    against = reason_against(out, site)
    excepted = _excepted(site, fact)
    if against is not None and not (excepted and against == CONDITIONAL):
        out.aside = against
        return out
    defined = systems.surfaces.get(tag.value, ()) if fact.kind == SYSTEM else ()
    out.surfaces = find_surfaces(out, site) or _above_it(tags, fact)
    if fact.kind == "color" and not out.surfaces and _OF_A_ROOM in " ".join(t.name for t in tags[: fact.start]):
        out.surfaces = [Word(s, FoundBy.PLACE) for k, s in site.lexicon.where_surface.items() if k == "color of a room"]
    if defined and (not out.surfaces or code_of(out.surfaces[0].how) == FoundBy.HEADING):
        out.surfaces = [Word(surface, FoundBy.DEFINITION) for surface in defined]
    out.scope = find_scope(out, site)
    if into := goes_into(out, site):
        out.scope[NOTE] = into
    out.places, out.marks = find_places(out, site), listed_marks(tags, fact) or find_marks(out, site)
    if fact.kind != SYSTEM and is_defined(out, site):
        out.places = in_definition(out, site)
    if excepted:
        # `.., except in baths, where moisture resistant is used`
        usual = next(iter(out.surfaces), None)
        out.places = [(room, Word(surface, FoundBy.EXCEPTION) if surface else usual) for room, surface in excepted]
    own = list(takewhile(lambda t: t.name not in ENDS, reversed(tags[: fact.start])))
    led = any(t.name == MARK and t.value != tag.value for t in own)  # `P2: as P1, in stores`
    alone = out.marks != [tag.value] and not any(room for room, _ in out.places)
    as_another = bool(own) and own[0].name in ("AS", "CARRIED") and (led or alone)
    if as_another and fact.kind == SYSTEM and tag.value not in systems.items:
        out.doubt = "one system is defined by another, and what they share is not carried over"
    if fact.kind in (SYSTEM, IN_PLACE):  # it is defined elsewhere, and looks as it is said there
        out.marks = [] if fact.kind == SYSTEM else out.marks
        described = {key for key, _ in site.lexicon.choices} | {CLASS}
        out.scope = {key: said for key, said in out.scope.items() if key not in described}
    out.scope.pop(fact.kind, None)
    if place_limit(out, tag, site):
        return out
    general = any(t.name in ("ELSEWHERE", "EVERYWHERE") for t in (*site.phrase.tags, *site.part.tail, *site.label))
    if not (
        general
        or _labelled(fact, tags, site)
        or any(room for room, _ in out.places)
        or _stated(out, site)
        or out.marks
        or not out.scope.keys().isdisjoint(("where", NOTE))
    ):
        out.aside = NOWHERE
        return out
    if fact.kind == IN_PLACE:
        weigh_replaced(out, tag, tags, site)
    out.choice = _set_of(tags, fact.start) if fact.kind == "type" else dict(tag.also).get(fact.kind, tag.value)
    return out


_OF_A_ROOM = "COLOR_WORD OF room"
"""`The color of the hall is Fern`, which is said of those of its surfaces that a vocabulary says."""


def _labelled(fact: Fact, tags: Sequence[Tag], site: Site) -> bool:
    """Whether the label names goods of which there is one sort on a job, so that the one word behind it holds everywhere."""
    tag = tags[fact.start]
    alone = sum(t.name == fact.kind for t in tags) == 1
    labelled = any((t.name, t.value) == ("subject", fact.subject) for t in site.label)
    tables = (v.tables.get("by_label", {}) for v in site.lexicon.vocabularies) if alone and labelled else ()
    return any(tag.value in strings(table.get(fact.kind, [])) for table in tables)


_NEAR = (FoundBy.PHRASE, FoundBy.TAIL, FoundBy.LABEL, FoundBy.LIST_LEAD, FoundBy.OPENING, FoundBy.PHRASE_BEFORE)  # fmt: skip


def _stated(out: Finding, site: Site) -> bool:
    """Whether a surface stands in the sentence itself, or is what its row or column is about."""
    how = out.surfaces[0].how if out.surfaces else ""
    over = {a.name for a in site.context.all if a.role in ("column", "key", "lead-in", "line")}
    return how in _NEAR or how in over


def _excepted(site: Site, fact: Fact) -> list[tuple[str, str]]:
    """The places of an exception that a choice is made for, where it stands behind them and no other fact between."""
    tags = [t for t in site.sentence.tags if t.end <= fact.place]
    at = next((n for n in range(len(tags) - 1, -1, -1) if tags[n].name == "EXCEPT"), None)
    if at is None or any(t.name in ("NUMBER", "sheen", "type") for t in tags[at:]):
        return []
    return [pair for chain in chains(tags[at:])[:1] for pair in pairs(chain)]


def _above_it(tags: Sequence[Tag], fact: Fact) -> list[Word]:
    """`Walls: two coats. Eggshell in offices.`: the label of the clause holds for the choices in its later sentences."""
    colon = next((n for n, t in enumerate(tags) if t.name == "COLON"), 0)
    stop = next((t.start for t in tags if t.name == "STOP"), fact.place)
    if not colon or stop >= fact.place or any(t.name == "COLON" and t.start > stop for t in tags[: fact.start]):
        return []
    return [Word(t.value, FoundBy.LABEL) for t in tags[:colon] if t.name == "surface"]


def _set_of(tags: Sequence[Tag], at: int) -> str:
    """A type and those that stand with it: `moisture resistant, type X` is both."""
    values = [tags[at].value]
    n = at - 1
    while n >= 0 and (tags[n].name == "type" or (tags[n].name in _JOINED and n and tags[n - 1].name == "type")):
        if tags[n].name == "type" and tags[n].value not in values:
            values.insert(0, tags[n].value)
        n -= 1
    return SET.join(values)


def _on_all(tags: Sequence[Tag], found: Sequence[Finding]) -> None:
    """`eggshell in offices, flat on all ceilings`: what holds on all surfaces of a kind holds in the rooms beside it too."""
    rooms = dict.fromkeys(room for f in found if f.choice for room, surface in f.places if room and surface is None)
    for finding in found:
        said = [t.name for t in tags[finding.fact.end : finding.fact.end + 3]]
        if rooms and "ALL" in said and not any(room for room, _ in finding.places):
            finding.places = [
                *finding.places,
                *((room, s) for room in rooms for _, s in finding.places if s is not None),
            ]


def _two_systems(found: Sequence[Finding]) -> None:
    """`walls P-1 (plan tags them P-8)`: one place cannot have two systems, and which it has is not said."""
    systems = [f for f in found if f.kind == SYSTEM and f.choice]
    for first, second in pairwise(systems):
        same = first.places == second.places and all(first.scope.get(k) == second.scope.get(k) for k in WHICH)
        if same and first.choice != second.choice and first.subjects[0].value == second.subjects[0].value:
            for finding in (first, second):
                finding.doubt = finding.doubt or "two systems for one place, and which it has is not said"
