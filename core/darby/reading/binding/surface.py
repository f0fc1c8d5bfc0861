"""On which surfaces a fact holds."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise

from darby.reading.binding.own_words import not_of_others, own_stretch, part_of_whole
from darby.reading.binding.site.finding import Finding, Site, Tags, Word, named, surface_groups
from darby.reading.parsing.phrases import COUNTED
from darby.reading.parsing.tagging.tag import Tag
from darby.rules.found_by import FoundBy

_BUILT = ("layers", "thickness", "framing", "type", "sheet")
"""What the words `each side` beside it say where it goes."""
_OF_GOODS = ("package", "waste", "deduct openings over", "solids")
"""What is said of goods wherever they go."""
_EACH_SIDE, _SIDE = "each side", " side"
_AND_A_WORD = 4
"""Letters that a word for supports has at least, the space before it aside."""


def find_surfaces(out: Finding, site: Site) -> list[Word]:
    """The surfaces that a fact holds on, each with the rule that found it; none where it holds everywhere."""
    return (
        _in_phrase(out, site)
        or _words(surface_groups(not_of_others(site.part.tail, out, site))[-1:], FoundBy.TAIL)
        or (_before(out, site) if any(t.loose for t in named(site.label, "surface")) else [])
        or part_of_whole(out, site)
        or _led(_words(surface_groups(_own(site.label, out))[-1:], FoundBy.LABEL), out, site)
        or _carried(site.label, out, FoundBy.OWN_NAME)
        or _before(out, site)
        or _of_others_before(out, site)
        or _above_or_below(out, site)
        or _by_where(out, site, columns=True)
        or _under(out, site)
        or _by_where(out, site)
    )


def _by_where(out: Finding, site: Site, *, columns: bool = False) -> list[Word]:
    """`one layer each side`, or a cell under `Side 1`: both sides can only be those of a wall. Such a head of a `column` says so whatever
    other cells name: `CLG + 6 in.` is how high it goes."""
    on = site.lexicon.where_surface
    headed = [t for a in site.context.heads if a.role == "column" for t in a.tags]
    said = headed if columns else [*site.sentence.tags, *headed]
    sided = on.get(_EACH_SIDE, "")
    told = [on.get(t.value, sided if t.value.endswith(_SIDE) else "") for t in named(said, "where")]
    found = [surface for surface in told if surface]
    return _goes_there([Word(found[0], FoundBy.PLACE)], out, site) if found and out.kind in _BUILT else []


def _above_or_below(out: Finding, site: Site) -> list[Word]:
    """`walls eggshell, two coats, to the rail; matt, two coats, above it`: the other part of the same surface."""
    said = [
        t for t in (*site.phrase.tags, *site.part.tail) if t.name == "where" and t.value in ("above it", "below it")
    ]
    last = next((f for f in reversed(site.before) if f.stands and f.surfaces), None)
    if not said or last is None or last.kind != out.kind:
        return []
    return _goes_there([Word(w.value, FoundBy.FACT_BEFORE) for w in last.surfaces], out, site)


def _own(label: Tags, out: Finding) -> Tags:
    """The words of a label that hold for a fact: a package is the same wherever the sentence before it was."""
    return [t for t in label if not t.loose] if out.kind in _OF_GOODS else label


def _words(groups: Iterable[tuple[list[Tag], list[str]]], how: str) -> list[Word]:
    return [Word(value, how) for _, values in groups for value in values]


def _carried(tags: Tags, out: Finding, how: str) -> list[Word]:
    """A surface inside a product's or a room's own name (`wet walls`), or in that of a support."""
    speaks = ("subject", "room", "hint") if out.kind == "framing" else ("subject", "room")
    found = [v for t in tags if t.name in speaks for k, v in t.also if k == "surface"]
    if not found and out.kind == "spacing":
        # `16 in. apart along wall framing`: only of supports that are called by their surface
        called = [(t, v) for t in tags if t.name == "hint" for k, v in t.also if k == "surface"]
        if how == FoundBy.OWN_NAME and any(t.name == "INTO" for t in tags) and _told_apart(out, tags, called):
            return [Word(called[-1][1], how)]
        found = [v for t, v in called if t.end - t.start > len(v) + _AND_A_WORD]
    return [Word(value, how) for value in (_joined(tags, speaks) if out.kind == "framing" else found[-1:])]


def _joined(tags: Tags, speaks: Sequence[str]) -> list[str]:
    """The surfaces of the last names that `and` joins, each of which has one in it."""
    found: list[str] = []
    for n, tag in enumerate(tags):
        own = [v for k, v in tag.also if k == "surface"] if tag.name in speaks else []
        if own:
            found = [*found, *own] if n and tags[n - 1].name == "AND" else own
    return list(dict.fromkeys(found))


def _told_apart(out: Finding, tags: Tags, called: list[tuple[Tag, str]]) -> bool:
    """Whether what something goes into right behind its number says where: `12 in. apart into battens and 8 in. on ceilings`."""
    behind = [t for t in tags if t.start >= out.fact.over]
    return bool(called) and [t.name for t in behind[:2]] == ["INTO", "hint"] and behind[1] is called[-1][0]


def _in_phrase(out: Finding, site: Site) -> list[Word]:
    tags = _without_names(site.phrase.tags) if surface_groups(site.label) else site.phrase.tags
    groups = surface_groups(tags)
    if len(groups) > 1 or len(named(tags, "surface")) > 1:
        groups = surface_groups(own_stretch(tags, out, site)) or groups
    if out.kind == "package":
        # `5 gal pails trim two coats`: what stands behind a package is another's, but for `for walls`
        led = {tag.start for led, tag in pairwise(tags) if led.name in ("FOR", "OF", "PER")}
        groups = [g for g in groups if g[0][0].start < out.fact.place or g[0][0].start in led]
    if groups:
        return _words([min(groups, key=lambda g: _distance(g[0], out.fact.place))], FoundBy.PHRASE)
    if named(tags, "BOTH"):
        said = dict.fromkeys(
            w.value for f in (*site.done, *site.context.sibling) for w in f.surfaces if f.kind == out.kind
        )
        if len(said) > 1:
            return [Word(value, FoundBy.BOTH) for value in said]
    return _carried(tags, out, FoundBy.OWN_NAME)


def _before(out: Finding, site: Site) -> list[Word]:
    """Surfaces named before the first number of a list hold for all of it; else those of the phrase before, once."""
    earlier = site.earlier
    if not earlier or out.kind in ("package", "solids"):
        return []
    first = earlier[0]
    lead = surface_groups(first.lead)
    other_product = bool(out.subjects) and all(
        {w.value for w in f.subjects}.isdisjoint({w.value for w in out.subjects})
        for f in site.before
        if f.kind == out.kind
    )
    carried = [] if lead else _carried(first.lead, out, FoundBy.LIST_LEAD)
    if carried and not surface_groups([t for p in earlier for t in p.tags]):
        return _goes_there(carried, out, site)
    if (
        lead
        and len(surface_groups([t for p in earlier for t in p.tags])) == 1
        and (other_product or out.kind not in ("spacing", "framing"))
    ):
        return _words(lead, FoundBy.LIST_LEAD)
    if named(site.phrase.tags, "ELSEWHERE"):
        last = site.last  # `on ceilings 8 in. at ends, 12 in. elsewhere`: elsewhere on them
        on_it = last is not None and last.kind == out.kind and "where" in last.scope and _same_product(out, last)
        return [Word(w.value, FoundBy.FACT_BEFORE) for w in last.surfaces] if last is not None and on_it else []
    if listed := _of_whole_list(out, site):
        return listed
    if ("kind", FoundBy.FACT_BEFORE) in out.how and site.last is not None and _same_product(out, site.last):
        # `ceiling battens 600 mm, 450 mm where ..`
        return [Word(w.value, FoundBy.FACT_BEFORE) for w in site.last.surfaces]
    if surface_groups(earlier[-1].lead) and _another_of_its_kind(out, site.last):
        # `walls 1 coat A, 2 coats B, ceilings 1 coat A, 1 coat B`: place after place, each with its products
        return _words(surface_groups(earlier[-1].lead)[-1:], FoundBy.LIST_LEAD)
    again = any(f.kind == out.kind and not f.aside and not f.unread for f in site.before) and not named(
        site.phrase.tags, "where"
    )
    if (
        named(site.phrase.tags, "layer")
        and site.last is not None
        and site.last.kind == out.kind
        and "layer" in site.last.scope
    ):
        return _goes_there([Word(w.value, FoundBy.FACT_BEFORE) for w in site.last.surfaces], out, site)
    again = again and not named(site.phrase.tags, "layer")
    if named(site.phrase.tags, "where") and _corner_of_several(out, site):
        return []  # `300 mm on walls, 230 mm on ceilings, 200 mm at external angles`
    if again and not other_product and not named(site.phrase.lead, "NEW_VALUE"):
        return []
    found = _words(surface_groups(earlier[-1].tags)[-1:], FoundBy.PHRASE_BEFORE) or _carried(
        [t for p in earlier for t in p.tags] if out.kind == "framing" else earlier[-1].tags,
        out,
        FoundBy.OWN_NAME,
    )
    placed = [groups for p in earlier if (groups := surface_groups(p.tags))] if not found else []
    if len(placed) == 1:  # `panels to walls, one layer, pins 300 mm apart`: the one place of the list
        found = _words(placed[0][-1:], FoundBy.PHRASE_BEFORE)
    return _goes_there(found, out, site)


def _of_others_before(out: Finding, site: Site) -> list[Word]:
    """`Walls two coats; three in the attic`, `Attic walls three coats; two elsewhere`: what is told of another place, and names no surface, is
    of those that stand before it. Of another sentence that is confirmed."""
    own = (*site.phrase.tags, *site.part.tail)
    rooms = {t.value for t in (*own, *site.label) if t.name == "room"}
    if out.kind not in COUNTED[:1] or any(t.name in ("ALL", "where", "mark", "OF_WHICH") for t in own):
        return []
    others = named(own, "ELSEWHERE") or named(site.label, "ELSEWHERE")
    near = rooms and not others and ("kind", FoundBy.SENTENCE_BEFORE) not in out.how
    earlier = [f for f in (site.before if near else site.done) if f.stands and f.kind == out.kind]
    last = earlier[-1] if (rooms or others) and earlier else None
    if last is None or not last.surfaces or not _same_product(out, last) or not rooms.isdisjoint(_rooms(last)):
        return []
    if last not in site.before:
        out.confirm = out.confirm or "it names no surface: taken to be of those that stand before it"
    return _goes_there([Word(w.value, FoundBy.FACT_BEFORE) for w in last.surfaces], out, site)


def _rooms(finding: Finding) -> set[str]:
    return {room for room, _ in finding.places if room}


def _corner_of_several(out: Finding, site: Site) -> bool:
    """Whether a place on the work that is no part of one surface follows facts of several surfaces."""
    corner = any(t.value in site.lexicon.implied_where for t in named(site.phrase.tags, "where"))
    corner = corner or any(one.name == "ALL" and other.name == "where" for one, other in pairwise(site.phrase.tags))
    told = {tuple(w.value for w in f.surfaces) for f in site.before if f.stands and f.kind == out.kind and f.surfaces}
    return corner and len(told) > 1


def _of_whole_list(out: Finding, site: Site) -> list[Word]:
    """`1/2 in. on walls, 5/8 in. on ceilings, in sheets 4 ft wide`: a tail without a place of its own holds for the whole list."""
    earlier = [f for f in site.before if f.stands and f.surfaces]
    if any(f.kind == out.kind for f in earlier) or len({f.kind for f in earlier}) != 1:
        return []
    places = dict.fromkeys(w.value for f in earlier for w in f.surfaces)
    told = len({tuple(w.value for w in f.surfaces) for f in earlier}) > 1
    return _goes_there([Word(value, FoundBy.LIST) for value in places], out, site) if told else []


def _goes_there(found: list[Word], out: Finding, site: Site) -> list[Word]:
    """Surfaces that stand around a fact, unless its product never goes there: then the words speak of something else."""
    return found if _fits((w.value for w in found), out, site) else []


def _fits(surfaces: Iterable[str], out: Finding, site: Site) -> bool:
    """Whether a finding's product goes on all of some surfaces; True where nothing is known of where it goes."""
    allowed = site.lexicon.surfaces.get(out.subjects[0].value) if out.subjects else None
    return allowed is None or allowed.issuperset(surfaces)


def _led(found: list[Word], out: Finding, site: Site) -> list[Word]:
    """Surfaces in a label. A package is held to where its goods go; what else stands beside a strange place is strange."""
    carried = any(t.loose for t in named(site.label, "surface"))  # `All doors PT-5. Joints to Level 4.`
    return _goes_there(found, out, site) if out.kind == "package" or carried else found


def _another_of_its_kind(out: Finding, last: Finding | None) -> bool:
    """Whether the fact before is the same of another product."""
    if last is None or last.kind != out.kind or not last.stands:
        return False
    return {w.value for w in last.subjects}.isdisjoint(w.value for w in out.subjects)


def _same_product(out: Finding, last: Finding) -> bool:
    return [w.value for w in last.subjects] == [w.value for w in out.subjects]


def _under(out: Finding, site: Site) -> list[Word]:
    if named(site.phrase.lead, "NEW_VALUE") and named(site.sentence.tags, "CHANGED"):
        # `delete "1/2 inch" for ceilings; insert "5/8 inch"`
        said = [t for t in site.sentence.tags if t.start < out.fact.place]
        new = _words(surface_groups(said)[-1:], FoundBy.CHANGE) or _carried(said, out, FoundBy.CHANGE)
        if new:
            return new
    for part in site.sentence.parts:
        # `On ceilings, run panels across; space them ..`: what a sentence opens with holds for all of it
        if part is site.part or part.phrases:
            break
        groups = surface_groups([*part.label, *part.tail])
        if len(groups) == 1 and (opening := _led(_words(groups, FoundBy.OPENING), out, site)):
            return opening
    surface = dict(site.context.scope).get("surface")
    if surface:
        return [Word(surface, FoundBy.UNDER)]
    places = site.context.all
    for number, above in enumerate(places):
        groups = surface_groups(above.tags)
        found = [v for _, values in groups for v in values] or [w.value for w in _carried(above.tags, out, "")]
        if not _fits(found, out, site):
            continue
        title = number == len(places) - 1 and above.role == "heading"
        several = len(set(found)) > 1 or (
            len(named(above.tags, "surface")) < 2 and any(t.name in _ADDS for t in above.tags)
        )
        if found and not (title and several):
            return [Word(v, above.name) for v in dict.fromkeys(groups[-1][1] if groups else found)]
    return []


_ADDS = ("AND", "PLUS")


def _without_names(tags: Tags) -> list[Tag]:
    """Words without a surface that only says what sort of goods stand right behind it, where the label has one: `Store ceilings: deck oil`."""
    behind = dict(zip(map(id, tags), tags[1:], strict=False))
    return [
        t
        for t in tags
        if t.name != "surface"
        or (after := behind.get(id(t))) is None
        or after.name != "subject"
        or after.start - t.end > 1
    ]


def _distance(group: list[Tag], here: int) -> int:
    """How far a group stands from a number; behind is nearer than before."""
    first, last = group[0], group[-1]
    return first.start - here if first.start > here else 2 * (here - last.end)
