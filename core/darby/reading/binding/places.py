"""Where a fact holds: pairs of a place and a surface, and the systems it is said of.

`Level 5 on courtroom walls and on the rotunda soffit` holds on two pairs, not on two rooms times two surfaces; so places and
surfaces that stand in one chain of words are paired there, and only what one chain lacks is taken from further away.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise, takewhile, zip_longest

from darby.reading.binding.site.conditions import GOODS
from darby.reading.binding.site.finding import Finding, Site, Tags, Word
from darby.reading.binding.site.scope import PASSES, Around, Node, around
from darby.reading.parsing.fact_parser import Fact
from darby.reading.parsing.naming.larger_places import holds_others, lies_in
from darby.reading.parsing.tagging.tag import ENDS, Tag, comes_so, tells_one
from darby.reading.parsing.whole_labels import JOB, OTHER_PLACES, OTHER_SURFACES

_LISTED = ("mark", "AND", "COMMA", "PER", "SIGN", "surface")
_JOINED = ("mark", "AND", "COMMA", "PER", "SIGN")
LINKS = ("ITS", "AND", "COMMA", "PER", "SIGN", "OF", "BOTH", "ALL", "FULL", "condition", "type")
"""What may stand between the members of a chain of places."""
Pair = tuple[str, str]
"""A place and a surface; either may be empty."""


def chains(tags: Tags) -> list[list[Tag]]:
    """Stretches of rooms and surfaces that are named together: `walls of baths, ceilings in kitchens`. An `and` between them stays."""
    found: list[list[Tag]] = []
    joins: list[Tag] = []
    open_ = False
    for tag, behind in zip_longest(tags, tags[1:]):
        if tag.name in ("room", "surface"):
            if open_:
                found[-1].extend([*joins, tag])
            else:
                found.append([tag])
            open_ = True
            joins = []
        elif tag.name == "OPEN" and open_ and found[-1][-1].name == "room" and behind is not None:
            open_ = behind.name == "surface"  # `attics (ceilings only)`
        elif tag.name not in LINKS and tag.name not in ("CLOSE", "ONLY") and not comes_so(tag):
            open_ = False
        elif tag.name == "AND":
            joins = [tag]
    return found


def pairs(chain: Sequence[Tag]) -> list[Pair]:
    """The places and surfaces of a chain, paired: each run of rooms with the run of surfaces behind it, or before it where a
    surface opens the chain. Behind `and` surfaces that have a room of their own are of that one: `in the hall and on walls of the den`."""
    runs: list[tuple[str, list[str]]] = []
    joined: list[bool] = []
    for before, tag in pairwise([None, *chain]):
        if tag is None or tag.name not in ("room", "surface"):
            continue
        if runs and runs[-1][0] == tag.name:
            runs[-1][1].append(tag.value)
        else:
            runs.append((tag.name, [tag.value]))
            joined.append(before is not None and before.name == "AND")
    out: list[Pair] = []
    n = 0
    while n < len(runs):
        name, first = runs[n]
        alone = n + 1 == len(runs) or (name == "room" and joined[n + 1 : n + 3] == [True, False])
        second = [""] if alone else runs[n + 1][1]
        rooms, surfaces = (first, second) if name == "room" else (second, first)
        out.extend((room, surface) for room in rooms for surface in surfaces)
        n += 1 if alone else 2
    return list(dict.fromkeys(out))


def find_places(out: Finding, site: Site) -> list[tuple[str, Word | None]]:
    """The places of a fact, each with its surface; one without either where it holds everywhere."""
    surfaces: Sequence[Word | None] = out.surfaces or [None]
    told = dict(site.context.scope).get("room")
    if told:
        return [(told, surface) for surface in surfaces]
    if rooms := _of_same_room(site):
        return [(room, surface) for room in rooms for surface in surfaces]
    stretches = _as_labelled([s for s in around(site) if s.node in PASSES["room"]], site)
    for n, stretch in enumerate(stretches):
        if out.marks and stretch.node is Node.QUESTION:
            continue  # a system that an answer defines is the same wherever it is asked for
        found = [c for c in chains(_limiting(stretch, out)) if any(t.name == "room" for t in c)]
        if not found and stretch.node is Node.PHRASE and any(t.name == "ITS" for t in stretch.tags):
            found = _spoken_of_before(out, site)
        if not found:
            continue
        chain = _nearest(found, out) if stretch.node is Node.PHRASE else found[-1]
        beyond = [t.value for c in found if c is not chain for t in c if t.name == "room"]
        further = [beyond, *([t.value for t in _limiting(s, out) if t.name == "room"] for s in stretches[n + 1 :])]
        if out.surfaces and out.surfaces[0].how == stretch.name and any(t.name == "surface" for t in chain):
            how = out.surfaces[0].how
            return [
                (room, Word(surface, how) if surface else None)
                for one, surface in pairs(chain)
                for room in _in_larger([one], further, site)
            ]
        if stretch.node in (Node.HEADING, Node.TITLE) and _holds(chain, site):
            further = []  # one floor follows the other, or a room: no floor lies in a room
        rooms = _in_larger(list(dict.fromkeys(t.value for t in chain if t.name == "room")), further, site)
        return [(room, surface) for room in rooms for surface in surfaces]
    return [("", surface) for surface in surfaces]


_OWN = (Node.PHRASE, Node.TAIL, Node.LABEL, Node.LIST)


def _as_labelled(stretches: list[Around], site: Site) -> list[Around]:
    """The stretches that can say where: of what a label calls the whole job's, or that of all other places, the places above say
    nothing. The other rooms of a floor are that floor's."""
    inline = any((t.name, t.value) == ("ELSEWHERE", OTHER_PLACES) for t in (*site.phrase.tags, *site.part.tail))
    if inline:  # `Guest rooms: eggshell; rest of the building flat`
        return [s for s in stretches if s.node in (Node.PHRASE, Node.TAIL) or _holds(s.tags, site)]
    own = (*site.phrase.tags, *site.label)
    if any((t.name, t.value) == ("ELSEWHERE", OTHER_SURFACES) for t in own):
        # `Kitchen walls gloss, all other walls flat`, `Kitchen walls: gloss. Other walls: flat.`
        on = {t.value for t in own if t.name == "surface"}
        here = (Node.PHRASE, Node.LABEL)
        stretches = [
            s for s in stretches if s.node in here or tells_one(s.tags) or not any(_is_on(t, on) for t in s.tags)
        ]
    if any((t.name, t.value) == ("ELSEWHERE", "") for t in site.phrase.tags) and not any(
        tells_one(s.tags) for s in stretches
    ):
        # `Attic walls three coats, elsewhere two`
        stretches = [
            s for s in stretches if s.node is not Node.LIST and not (s.node is Node.LABEL and _is_spot(s.tags))
        ]
    of = next((t.value for t in site.label if t.name in ("EVERYWHERE", "ELSEWHERE")), "")
    if of == OTHER_PLACES:
        return [s for s in stretches if s.node in _OWN or _holds(s.tags, site)]
    return [s for s in stretches if s.node in _OWN] if of == JOB else stretches


def _is_spot(tags: Tags) -> bool:
    """Whether words name surfaces of rooms."""
    return {"room", "surface"} <= {t.name for t in tags}


def _is_on(tag: Tag, surfaces: set[str]) -> bool:
    return tag.name == "surface" and tag.value in surfaces


def _holds(chain: Sequence[Tag], site: Site) -> bool:
    """Whether some places hold others: floors, blocks."""
    return any(t.name == "room" and holds_others(t.value, site.lexicon.names.numbered) for t in chain)


def _in_larger(rooms: list[str], further: Sequence[Sequence[str]], site: Site) -> list[str]:
    """Places with what stands further away: the floor that a room is on, or the rooms of a floor: `Level 2` over `Corridors: ..`."""
    words = site.lexicon.names.numbered
    larger = [holds_others(room, words) for room in rooms]
    if any(larger) != all(larger) or not all(rooms):
        return rooms
    for said in further:
        found = [one for one in dict.fromkeys(said) if holds_others(one, words) != larger[0]]
        if found:
            holders, held = (rooms, found) if larger[0] else (found, rooms)
            return [lies_in(holder, one) for holder in holders for one in held]
    return rooms


def _spoken_of_before(out: Finding, site: Site) -> list[list[Tag]]:
    """`Kitchen ceiling satin; its walls semi-gloss`: the place that was spoken of last."""
    earlier = [t for t in site.sentence.tags if t.start < out.fact.place]
    for tags in (earlier, site.previous.tags if site.previous is not None else ()):
        found = [[t for t in chain if t.name == "room"] for chain in chains(tags)]
        if rooms := [chain for chain in found if chain]:
            return rooms[-1:]
    return []


def _of_same_room(site: Site) -> list[str]:
    """`Hall, north wall: blue; remaining walls: white`, `Hall north wall blue; east wall white`: where one wall of a room was spoken of,
    the others are of that room too."""
    own = (*site.phrase.tags, *site.label)
    others = any(t.name == "ELSEWHERE" and t.value != OTHER_PLACES for t in own) or _faces(own)
    if not others or not any(t.name == "surface" for t in own) or any(t.name == "room" for t in own):
        return []
    earlier = [t for t in site.sentence.tags if t.start < own[0].start]
    found = [[t.value for t in chain if t.name == "room"] for chain in chains(earlier)] if tells_one(earlier) else []
    return next((list(dict.fromkeys(rooms)) for rooms in reversed(found) if rooms), [])


def _faces(tags: Tags) -> bool:
    """Whether some words say where a wall faces."""
    return any(t.name == "facing" or "facing" in dict(t.also) for t in tags)


def _limiting(stretch: Around, out: Finding) -> Tags:
    """The words of a stretch that can say where: `in the longest lengths the stairs admit` is said of no stairs."""
    if out.kind in GOODS:
        return [t for t in stretch.tags if not t.loose]
    as_there = {id(t) for word, t in pairwise(stretch.tags) if word.name == "AS"}  # `the same coats as the hall`
    if as_there:
        return [t for t in stretch.tags if id(t) not in as_there and not t.loose]
    if stretch.node in (Node.HEADING, Node.TITLE):  # `ROOMS (lots 14 and 17. Lot 22 is another's)`
        return list(takewhile(lambda t: t.name != "STOP", stretch.tags))
    if stretch.node not in (Node.PHRASE, Node.TAIL):
        return stretch.tags
    denied = {id(t) for no, t in pairwise(stretch.tags) if no.name == "NO" and t.start - no.end <= 1}
    # `(doors and frames, no closet tracks)`
    return [t for t in stretch.tags if not (t.loose and t.start > out.fact.place) and id(t) not in denied]


def _nearest(found: list[list[Tag]], out: Finding) -> list[Tag]:
    return min(found, key=lambda c: _distance(c, out.fact.place))


def _distance(chain: Sequence[Tag], here: int) -> int:
    """How far a chain stands from a number; behind is nearer than before."""
    first, last = chain[0], chain[-1]
    return first.start - here if first.start > here else 2 * (here - last.end)


def joined_to_where(out: Finding, site: Site) -> bool:
    """Whether the phrase joins a place on the work and a room: `behind tile and in closets` is here and there, not where both are."""
    tags = [t for t in (*site.phrase.tags, *site.part.tail) if t.name in (*_PLACED, "where", "AND")]
    joined = any(
        both == "AND" and {one.name, other.name} == {"where", "room"} and "where" in out.scope
        for one, both, other in ((a, b.name, c) for a, b, c in zip(tags, tags[1:], tags[2:], strict=False))
    )
    return joined and any(room for room, _ in out.places)


_PLACED = ("surface", "room")


def in_definition(out: Finding, site: Site) -> list[tuple[str, Word | None]]:
    """The places that a fact in the definition of a system names itself. Whether the system differs there (`W1: one layer; at stores two`)
    or they only describe it (`W5, corridors: ..`), whoever joins systems to places finds out.
    """
    own = (*site.phrase.tags, *site.part.tail, *site.headed)
    rooms = [t.value for t in own if t.name == "room" and not t.loose]
    surfaces: Sequence[Word | None] = out.surfaces or [None]
    return [(room, surface) for room in dict.fromkeys(rooms) or [""] for surface in surfaces]


def is_defined(out: Finding, site: Site) -> bool:
    """Whether a fact stands in the definition of a system."""
    return bool(out.marks) and not any(
        t.name == "mark" and t.value in out.marks for t in (*site.phrase.tags, *site.part.tail)
    )


def find_marks(out: Finding, site: Site) -> list[str]:
    """The systems that a fact is said of: those of its own phrase, else the one whose definition it stands in."""
    for stretch in around(site):
        if stretch.node not in PASSES["mark"]:
            continue
        found = [t.value for t in stretch.tags if t.name == "mark"]
        if stretch.node in (Node.PHRASE, Node.TAIL):
            apart = {
                id(t) for no, t in pairwise(stretch.tags) if no.name == "EXCEPT"
            }  # `except PT-23, which takes three`
            led = [t for t in stretch.tags if t.name == "mark" and (not t.loose or id(t) in apart)]
            found = [t.value for t in led if t.start > out.fact.place] or [t.value for t in led]
        if found:
            several = all(t.name in _LISTED for t in stretch.tags) or stretch.node in (Node.PHRASE, Node.TAIL)
            return list(dict.fromkeys(found if several else _first_listed(stretch.tags)))
    # `Two layers on each side of wall type W1; 16 in. apart`
    before = dict.fromkeys(t.value for t in site.sentence.tags if t.name == "mark" and not t.loose)
    own = (*site.phrase.tags, *site.part.tail, *site.label)
    return list(before) if len(before) == 1 and not any(t.name in _PLACED for t in own) else []


def _first_listed(tags: Sequence[Tag]) -> Iterator[str]:
    """The first mark of some words, and those in one list with it: `Store walls, W1, W2 and W3`."""
    at = next(n for n, t in enumerate(tags) if t.name == "mark")
    for tag in takewhile(lambda t: t.name in _JOINED, tags[at:]):
        if tag.name == "mark":
            yield tag.value


def listed_marks(tags: Sequence[Tag], fact: Fact) -> list[str]:
    """`PT-11, PT-12 and PT-13 are matte`: the marks that stand in a list right before what they have in common."""
    end = fact.start - (fact.start > 0 and tags[fact.start - 1].name == "HOLDS")
    at = end
    while at and tags[at - 1].name in ("mark", "AND", "COMMA"):
        at -= 1
    marks = [t.value for t in tags[at:end] if t.name == "mark"]
    closed = end > 0 and tags[end - 1].name == "mark" and (at == 0 or tags[at - 1].name in ENDS)
    return marks if closed and len(marks) > 1 else []
