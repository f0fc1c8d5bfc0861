"""Goods of ours that are left out somewhere: those of others take their place, or the work stops at what comes under them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import takewhile

from darby.reading.binding.site.finding import Finding, Site, Word, named
from darby.reading.parsing.fact_parser import Fact
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.parsing.limits import STOPS_AT, stops_of
from darby.reading.parsing.phrases import COUNTED
from darby.reading.parsing.tagging.tag import SET, Tag
from darby.rules.found_by import FoundBy

IN_PLACE = "replaced"
"""The kind of a rule that says that other goods take the place of ours."""
OMITTED = "omitted"
"""What a rule of this kind chooses where goods are left out, and nothing takes their place."""
REPLACED = "REPLACED"
_ELSEWHERE = "elsewhere"
"""What a tag says besides of goods of ours that are on a thing when it comes: the surfaces that may be so."""
_BEYOND = "where the work stops there is not said: nothing is left out"


def replaced(tag: Tag, at: int, lexicon: Lexicon) -> Iterable[Fact]:
    """The facts of a tag that leaves goods out, one for each of them."""
    for subject in tag.value.split(SET):
        if IN_PLACE in lexicon.kinds.get(subject, frozenset()):
            yield Fact(IN_PLACE, start=at, end=at + 1, place=tag.start, over=tag.end, subject=subject)


def limits(tag: Tag) -> bool:
    """Whether a tag says at what the work stops, and not which goods take the place of ours."""
    return any(key == STOPS_AT for key, _ in tag.also)


def doubt_limits(found: Iterable[Finding]) -> None:
    """Ask where it is not sure where the work stops: what is left out by mistake is missing on the job."""
    for finding in found:
        if finding.kind == IN_PLACE and finding.confirm and not finding.doubt:
            finding.doubt, finding.confirm = f"{finding.confirm}: nothing is left out", ""


def doubt_undone(choices: Sequence[Finding], findings: Sequence[Finding]) -> None:
    """Ask where a clause says of something that it has none of our goods, and then how many of them it gets: `Doors are unpainted. Two
    coats gloss.` It may come so, or stay so. What names nothing that it goes on may be of it, and is confirmed."""
    for choice in choices:
        if choice.kind != IN_PLACE or not choice.choice or choice.doubt or choice.aside:
            continue
        of, left = {w.value for w in choice.subjects}, _spots(choice)
        for finding in findings:
            counted = finding.stands and finding.kind in COUNTED and finding.fact.place > choice.fact.place
            if not counted or of.isdisjoint(w.value for w in finding.subjects):
                continue
            nowhere = not any(room or surface for room, surface in finding.places)
            if nowhere and not finding.confirm:
                finding.confirm = (
                    f"it may be of what stands before it alone ({' and '.join(s for _, s in sorted(left))})"
                )
            if nowhere or left & _spots(finding):
                for other in (c for c in choices if c.kind == IN_PLACE and c.fact.start == choice.fact.start):
                    other.aside = "goods of others beside ours"
                choice.doubt, choice.aside = _UNDONE, ""
                break


_UNDONE = "none of it, and then how many coats: whether it comes so or stays so is not said"


def _spots(finding: Finding) -> set[tuple[str, str]]:
    return {(room, surface.value) for room, surface in finding.places if surface is not None}


def weigh_replaced(out: Finding, tag: Tag, tags: Sequence[Tag], site: Site) -> None:
    """Set aside goods of others that no surface is named for, and ask where they stand beside ours."""
    may_be = dict(tags[out.fact.start].also).get(_ELSEWHERE, "").split()
    if may_be:
        joined = list(takewhile(lambda t: t.name in ("surface", "AND"), tags[out.fact.end :]))
        behind = {t.value for t in joined if t.name == "surface"}  # `shop oiled benches and shelves` are both so
        out.places = [
            (room, surface) for room, surface in out.places
            if surface is not None and surface.value in may_be and (not behind or surface.value in behind)
        ]  # fmt: skip
    if not any(surface for _, surface in out.places) or (out.marks and not may_be):
        out.aside = "goods that no trade here orders"
    elif dict(tag.also).get(IN_PLACE) in _nothing(site.lexicon) and named((tag,), REPLACED):
        if "where" in out.scope:
            out.aside = "there is no such part"  # `none` under the head of one wall of the room
        elif not _under_its_head(out, site):
            out.aside = "of other goods, which the head of its column names"
    elif any(t.name == "mark" for t in (site.phrase.tags if named(tags, "surface") else tags)):
        told = any(f.doubt and f.fact.start == out.fact.start for f in site.done)
        out.doubt = "" if told else "other goods beside ours: which part each takes is not said"
        out.aside = "goods of others beside ours" if told else ""


def _under_its_head(out: Finding, site: Site) -> bool:
    """Whether the head over a cell names no goods, or such as are of the same trade: `none` under `Wall varnish` leaves the panels there."""
    over = {t.value for head in site.context.heads if head.role == "column" for t in named(head.tags, "subject")}
    trades = [v.tables.get(IN_PLACE, {}) for v in site.lexicon.vocabularies]
    alike = {goods for trade in trades if not over.isdisjoint(trade) for goods in trade}
    return not alike or not alike.isdisjoint(w.value for w in out.subjects)


def _in_a_part(out: Finding, site: Site) -> bool:
    """Whether words beside it say that it holds in a part of a surface: `walls behind cupboards`."""
    names = {t.name for t in site.sentence.tags if t.name in _PARTS}
    return bool(names) and "where" not in out.scope


_PARTS = ("PLACE_BEHIND", "LARGER_THAN", "SMALLER_THAN")


def _nothing(lexicon: Lexicon) -> set[str]:
    """Words of a cell that say that there is nothing."""
    return {word for v in lexicon.vocabularies for word in v.words("nothing")}


def place_limit(out: Finding, tag: Tag, site: Site) -> bool:
    """Whether a tag says that the work stops at something; then where: on the surfaces that it goes on, where none is named. It is asked
    about where no place is said at all, since it cannot be meant of the whole job."""
    at = dict(tag.also).get(STOPS_AT)
    if at is None:
        return False
    out.choice = dict(tag.also)[IN_PLACE]
    everywhere = any(t.name in ("ELSEWHERE", "EVERYWHERE") for t in (*site.phrase.tags, *site.part.tail, *site.label))
    placed = bool(out.marks) or any(room or surface for room, surface in out.places) or "where" in out.scope
    if site.part.strange or not (placed or everywhere) or _in_a_part(out, site):
        out.doubt = _BEYOND
    elif not any(surface for _, surface in out.places):
        usual = next((stop.surfaces for stop in stops_of(site.lexicon.vocabularies) if stop.at == at), ())
        rooms = dict.fromkeys(room for room, _ in out.places)
        out.surfaces = [Word(surface, FoundBy.IMPLIED) for surface in usual]
        out.places = [(room, surface) for room in rooms for surface in out.surfaces]
    return True
