"""What limits or describes a fact beside its surface: type, sheen, color, layer, condition, the place on the work, the system.
One walk over everything a fact stands in and under, the nearest first. Which attribute passes which node is one table."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from enum import Enum, auto

from attrs import evolve, frozen

from darby.reading.binding.site.conditions import LIMITED_BY_WORK, is_conditional, is_sized, of_which_work
from darby.reading.binding.site.finding import Finding, Site, Tags, class_of, named
from darby.reading.binding.site.limiting_heads import passed_below
from darby.reading.binding.site.meant_places import as_meant
from darby.reading.binding.site.one_layer import nearest, of_one_layer
from darby.reading.parsing.tagging.tag import SET, Tag, is_extent
from darby.rules.found_by import FoundBy
from darby.rules.name_matching import SORT


class Node(Enum):
    """What a stretch of words is to a fact, the nearest first. A `SORT` says which sort of goods a row has."""

    PHRASE = auto()
    TAIL = auto()
    LABEL = auto()
    OPENING = auto()
    """The words that open the sentence, before its first fact."""
    LIST = auto()
    """The words before the first fact of a list."""
    COLUMN = auto()
    KEY = auto()
    SORT = auto()
    ROW = auto()
    LINE = auto()
    LEAD_IN = auto()
    QUESTION = auto()
    HEADING = auto()
    TITLE = auto()


_ROLES = {
    "column": Node.COLUMN, "key": Node.KEY, "row": Node.ROW, "sort": Node.SORT, "line": Node.LINE, "lead-in": Node.LEAD_IN, "question": Node.QUESTION, "heading": Node.HEADING,
}  # fmt: skip
_SENTENCE = frozenset({Node.PHRASE, Node.TAIL, Node.LABEL})
_OWN = _SENTENCE | {Node.COLUMN, Node.KEY, Node.ROW, Node.LINE, Node.LEAD_IN}
_ABOVE = _OWN | {Node.HEADING, Node.QUESTION}
_ALL = frozenset(Node) - {Node.OPENING, Node.LIST}
_EXTENTS_PASS = frozenset({Node.LIST, Node.HEADING, Node.TITLE})
"""What of all that says where on the work only a part of a surface passes."""

PASSES: dict[str, frozenset[Node]] = {
    "type": (_ALL | {Node.OPENING}) - {Node.ROW},
    "sheen": _ALL | {Node.OPENING},
    "color": _OWN | {Node.OPENING},
    "layer": _ABOVE,
    "condition": _ABOVE | {Node.LIST},
    "room": _ABOVE | {Node.LIST},
    "mark": (_ABOVE | {Node.LIST, Node.TITLE}) - {Node.COLUMN, Node.ROW},
    "where": _OWN | _EXTENTS_PASS,
    "note": _OWN,
    "coat": _OWN,
    "method": _ABOVE | {Node.LIST},
    "basis": _ALL,
    "facing": _OWN,
    "class": (_ALL | {Node.OPENING}) - {Node.TITLE},
}
"""Which attribute passes which node: a heading's joints are its title and no limit, a row's other cells name no type."""

TYPED = ("thickness", "sheet", "layers", "consumption", "package", "fastener length", "coats", "type", "system")
"""What is said of one type of goods and may not hold for another."""
_CLASSED = ("coats", "coverage", "consumption", "film", "solids")
"""What is said of one class of a product and may not hold for another."""
_UNPACKED = ("where", "coat", "method", "condition", "layer", "mark")
"""A package is the same wherever its content goes."""
_JOINED = ("AND", "COMMA")


@frozen
class Around:
    """One node around a fact: its words, what it is, and what it is called."""

    node: Node
    tags: Tags
    name: str = ""


def around(site: Site) -> Iterator[Around]:
    """Everything around a fact, the nearest first."""
    yield Around(Node.PHRASE, site.phrase.tags, FoundBy.PHRASE)
    yield Around(Node.TAIL, site.part.tail, FoundBy.TAIL)
    yield Around(Node.LABEL, site.label, FoundBy.LABEL)
    # `Last coat: oil, satin; two coats`: a look or type that opens the sentence holds for all of it
    opening = (p for p in site.sentence.parts if p.start < site.part.start and not p.phrases)
    yield Around(Node.OPENING, [t for p in opening for t in p.tail], FoundBy.OPENING)
    if site.earlier:
        # `Garage gets 5/8 in. throughout, taped to Level 2`: a room that opens the list holds for all of it
        yield Around(Node.LIST, site.earlier[0].lead, FoundBy.LIST_LEAD)
    places = site.context.all
    for number, above in enumerate(places):
        title = above.role == "heading" and number == len(places) - 1 and not above.numbered
        yield Around(Node.TITLE if title else _ROLES[above.role], above.tags, above.name)


def find_scope(out: Finding, site: Site) -> dict[str, str]:
    """What limits or describes a fact, rooms and surfaces aside; a condition limits it too."""
    scope = {**dict(site.context.scope), **dict(out.fact.scope), **out.scope}
    scope.pop("surface", None)
    for stretch in around(site):
        spoken = {"class", *(t.name for t in stretch.tags), *(k for t in stretch.tags for k, _ in t.also)}
        here = stretch.node in _SENTENCE
        for key, passed in PASSES.items():
            if key not in spoken or key in scope or key in ("room", "mark") or stretch.node not in passed:
                continue
            placed = stretch.node is Node.LIST and any(t.name in ("surface", "room") for t in site.phrase.tags)
            if placed and key in ("condition", "where"):
                continue  # `New work gets one coat A, then two coats B`, and not `New walls one coat, ceilings two`
            if key in ("facing", "where") and stretch.node is not Node.PHRASE and named(site.phrase.tags, "ELSEWHERE"):
                continue  # `North wall: eggshell, remaining walls flat`
            named_so = _classes(stretch, out, site) if key == "class" else stretch.tags
            if key in ("facing", "where"):
                words = ((t, _surface_behind(stretch.tags, n)) for n, t in enumerate(stretch.tags) if t.name == key)
                own = (as_meant(t, out, site, own=here) for t, surface in words if _of_it(surface, out))
                named_so = [
                    *own,
                    *(_carried(t, key, v) for t in stretch.tags for k, v in t.also if k == key and _of_it(t, out)),
                ]
            if key == "where" and stretch.node in _EXTENTS_PASS:
                head = (stretch.name, stretch.tags) if stretch.node is Node.HEADING else None
                named_so = [t for t in named_so if is_extent(t) or (head and passed_below(t, *head, out, site))]
            found = [t for t in named_so if t.name == key and _means(t, key, out, site)]
            if key in (SORT, "layer") and out.kind in TYPED:
                found = [t for t in found if not of_one_layer(t, out, site.sentence.tags)]
            if key in ("type", "where"):
                whole = site.sentence.tags if here else stretch.tags
                found = [t for t in found if not _of_one_side(t, out, whole, here=here)]
            if found:
                scope[key] = _chosen(found, key, stretch, out)
                if key == "type" and stretch.node in (Node.PHRASE, Node.TAIL):
                    scope[key] = _with_label(scope[key], site)
    subject = out.subjects[0].value
    for tag in (*site.phrase.tags, *site.label):
        if tag.name == "room" or (tag.name == "subject" and tag.value == subject):
            for key, value in tag.also:
                if key in PASSES and key != "class" and out.kind in site.lexicon.only_for.get(value, (out.kind,)):
                    scope.setdefault(key, value)
    hidden = ("PLACE_BEHIND", "SMALLER_THAN") if out.kind == "finish level" else ("PLACE_BEHIND",)
    stops = [f.place for p in site.part.phrases for f in p.facts if f.place > out.fact.place]
    behind = [t for t in site.sentence.tags if out.fact.over <= t.start < min(stops, default=t.start + 1)]
    lasts = next((n for n, t in enumerate(behind) if t.name == "SEMICOLON"), len(behind))
    if "where" not in scope and any(t.name in hidden and t.value not in _NOT_HIDDEN for t in behind[:lasts]):
        scope["where"] = "behind something"
    told = not scope.keys().isdisjoint(("condition", "where", "layer"))
    if is_sized(out.fact, site) and not told:
        scope["where"] = "under a condition"
    elif is_conditional(site.phrase) and not told:
        scope["where" if out.kind in LIMITED_BY_WORK and of_which_work(site) else "condition"] = "under a condition"
    return scope


_NOT_HIDDEN = ("inside", "reason")
"""What a place is said for that hides nothing: `due to the windows`."""


def _carried(tag: Tag, key: str, value: str) -> Tag:
    return evolve(tag, name=key, value=value)


def _surface_behind(tags: Tags, n: int) -> Tag:
    """The surface right behind a word that says which one is meant, `end wall`; else the word itself."""
    behind = tags[n + 1 : n + 2]
    beside = bool(behind) and behind[0].name == "surface" and behind[0].start - tags[n].end <= 1
    return behind[0] if beside else tags[n]


def _of_it(tag: Tag, out: Finding) -> bool:
    """Whether a word that says more than a surface speaks of one that a finding is of: a wall that faces north is no ceiling."""
    return tag.name != "surface" or not out.surfaces or any(w.value == tag.value for w in out.surfaces)


def _classes(stretch: Around, out: Finding, site: Site) -> list[Tag]:
    """What the names of a product say it is made of, each a word of its own: `oil stain`, or of the one labelled: `Stain: oil-based`."""
    if out.kind not in _CLASSED:
        return []
    of = out.subjects[0].value
    heads = [site.label, *(above.tags for above in site.context.heads if above.role in ("column", "key"))]
    labelled = {of} in ({t.value for t in named(tags, "subject")} for tags in heads)
    whole = site.sentence.tags if stretch.node in _SENTENCE else stretch.tags
    here = set(map(id, stretch.tags))
    said = ((tag, *class_of(whole, n)) for n, tag in enumerate(whole) if id(tag) in here)
    return [
        evolve(tag, name="class", value=what)
        for tag, product, what in said
        if what and (product == of or (labelled and ("weak", "material") in tag.also))
    ]


def _means(tag: Tag, key: str, out: Finding, site: Site) -> bool:
    """Whether a word says something of this fact."""
    subject = out.subjects[0].value
    if out.kind == "package" and key in _UNPACKED:
        return False
    leveled = key == "coat" and out.kind == "finish level"  # `skim coat, Level 5`: it says what the level takes
    if leveled or (key in ("sheen", "color") and subject != site.implied("sheen")):
        return False
    if key == "type" and (
        out.kind not in TYPED or (out.kind == "coats" and site.lexicon.chosen(tag) not in ("", subject))
    ):
        return False
    if key == "where" and (_both_places(tag, site) or (is_extent(tag) and _of_other_work(tag, out, site))):
        return False
    only = site.lexicon.only_for.get(tag.value) if key in ("where", "basis") else None
    return only is None or out.kind in only


def _of_other_work(tag: Tag, out: Finding, site: Site) -> bool:
    """Whether a part of a surface is that of other work in the sentence: `prime patches, two coats overall`. What is said to go all over
    is of no part.
    """
    if named(site.phrase.tags, "ALL_OVER"):
        return True
    own = [t for t in site.sentence.tags if t.start < out.fact.place]
    at = next((n for n, t in enumerate(own) if t.start == tag.start), len(own))
    parted = any(t.name in _JOINED or t.name == "PLUS" for t in own[at + 1 :])
    last = max((n for n, t in enumerate(own[:at]) if t.name in (*_JOINED, "COLON")), default=-1)
    worked = own[at : at + 1] if at < len(own) and own[at].name == "ASK" else own[last + 1 : at]
    return parted and any(t.name in ("subject", "APPLIED", "ASK") for t in worked)


def _of_one_side(tag: Tag, out: Finding, tags: Tags, *, here: bool) -> bool:
    """Whether a type behind a comma, or the side it is said of, is of that side alone: `one layer each side, moisture resistant on the
    side of the bath`. What is chosen itself is said of its side.
    """
    if (here and out.fact.place >= tag.start) or (tag.name == "where" and tag.value == _ALL_SIDES):
        return False
    # one that is carried is not among them
    at = next((n for n, t in enumerate(tags) if t.start == tag.start), len(tags))
    behind = [tag] if tag.name == "where" else [t for t in tags[at : at + 4] if t.name == "where"]
    side = next((n for n, t in enumerate(tags) if behind and t.start == behind[0].start), 0)
    led = tags[max(0, side - 5) : side]
    if not side or not behind[0].value.endswith(" side") or behind[0].value == _ALL_SIDES:
        return False
    types = [n for n, t in enumerate(led) if t.name == "type"]
    before = [t for t in led[: types[0]] if t.name != "AND"] if types else []
    return bool(before) and before[-1].name == "COMMA" and not (here and out.kind == "type")


_ALL_SIDES = "each side"


def _chosen(found: list[Tag], key: str, stretch: Around, out: Finding) -> str:
    """Of several words of one key the one that is meant: the nearest; several types of one thing are a set."""
    here = out.fact.place
    if key == "where" and stretch.node is Node.LABEL and len(found) > 1 and not _listed(found, stretch.tags):
        # `Corridor side of demising walls: ..` is where both hold
        return SET.join(dict.fromkeys(t.value for t in found))
    if key == "facing" and _listed(found, stretch.tags):
        return " or ".join(dict.fromkeys(t.value for t in found))  # `hall wall and party wall`
    if stretch.node is not Node.PHRASE and key != SORT:
        return found[0 if key == "layer" else -1].value  # `Base layer under a face layer: ..`
    near = min(found, key=lambda t: abs(t.start - here)) if stretch.node is Node.PHRASE else found[-1]
    near = nearest(found, stretch.tags, here) if key == "layer" else near
    if key == "where" and any(t.value == _ALL_SIDES for t in found):
        # `rated walls: two layers each side`: a word that tells which wall says the wall besides
        which = [t.value for t in found if len(t.value) > t.end - t.start and t.value != _ALL_SIDES]
        return SET.join((_ALL_SIDES, *which[:1])) if which else near.value
    if key != "type":
        return near.value
    at, values = stretch.tags.index(near), [near.value]
    for step in (-1, 1):
        n = at + step
        while 0 <= n < len(stretch.tags) and (stretch.tags[n].name in (*_JOINED, SORT) or stretch.tags[n].value == "/"):
            tag = stretch.tags[n]
            if tag.name == SORT and tag.value not in values:
                values = [tag.value, *values] if step < 0 else [*values, tag.value]
            n += step
    return SET.join(values)


def _listed(found: Sequence[Tag], tags: Tags) -> bool:
    """Whether words stand in a list, and not one on the other: `edges and field`."""
    return any(t.name in _JOINED and found[0].end <= t.start < found[-1].start for t in tags)


def _with_label(chosen: str, site: Site) -> str:
    """The properties of a phrase with that of its label: `Moisture resistant panels: 5/8 in. thick, type X core` are both."""
    label, own = [t.value for t in named(site.label, "type") if not t.loose], chosen.split(SET)
    lettered = all(any(v.startswith("type ") for v in some) for some in (label, own))
    if len(label) != 1 or lettered or "regular" in (*label, *own) or label[0] in own:
        return chosen
    return SET.join((*label, *own))


def _both_places(found: Tag, site: Site) -> bool:
    """Whether places on the work stand together at the end of a list: `in the field and along edges` is everywhere."""
    last = max((f.over for p in site.sentence.phrases for f in p.facts), default=0)
    ending = [t for t in site.sentence.tags if t.start >= last and t.name in ("where", *_JOINED)]
    places = {t.value for t in ending if t.name == "where"}
    return {"edge", "field"} <= places and found in ending
