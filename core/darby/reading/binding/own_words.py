"""Which words around a fact are its own, where a sentence has goods of several sorts on several surfaces.

`A on walls, ceilings PT-2` puts no A on ceilings, and `1/2 in. A, walls PT-2, ceilings PT-1` puts it on both.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import takewhile

from darby.reading.binding.site.finding import Finding, Site, Tags, Word, named, surface_groups
from darby.reading.parsing.tagging.tag import ENDS, Tag
from darby.rules.found_by import FoundBy
from darby.rules.name_matching import WIDE

_CHOICES = ("sheen", "color", "type", "system")
_COUNTS = ("NUMBER", "A_COAT", "A_LAYER")


def not_of_others(tags: Tags, out: Finding, site: Site) -> list[Tag]:
    """Words without the surfaces that are given a look or a system of other goods between the same commas."""
    return [
        t
        for stretch in _stretches(tags)
        for t in stretch
        if t.name != "surface" or not any(word.name != "subject" and _gives(word, out, site) for word in stretch)
    ]


def own_stretch(tags: Tags, out: Finding, site: Site) -> list[Tag]:
    """The words between the commas around a fact, where they name a surface and all others that do are of other goods; else none."""
    stretches = _stretches(tags)
    mine = next((s for s in stretches if s and s[0].start <= out.fact.place <= s[-1].end), [])
    beyond = [s for s in stretches if s is not mine and named(s, "surface")]
    alone = named(mine, "surface") and beyond and all(any(_gives(t, out, site) for t in s) for s in beyond)
    return mine if alone else []


def _gives(tag: Tag, out: Finding, site: Site) -> bool:
    """Whether a word says something of other goods than those of a finding, or states what a choice beside it does not."""
    of = tag.value if tag.name == "subject" else site.lexicon.chosen(tag)
    coded = tag.name == "mark" or (tag.name, tag.value) == ("CODE", "a mark")
    counted = tag.name in _COUNTS and out.kind in _CHOICES
    return coded or counted or (bool(of) and all(of != w.value for w in out.subjects))


def _stretches(tags: Tags) -> list[list[Tag]]:
    """Words between commas."""
    found: list[list[Tag]] = [[]]
    for tag in tags:
        if tag.name in ("COMMA", "SEMICOLON"):
            found.append([])
        found[-1].append(tag)
    return found


def opens_a_look(tags: Sequence[Tag], at: int) -> bool:
    """Whether a mark opens a sentence that says how it looks and nothing else: `PT-1: Moss. PT-2: Bone.`"""
    said = [t.name for t in takewhile(lambda t: t.name not in ENDS, tags[at + 1 :])]
    return (not at or tags[at - 1].name in ENDS) and said[:1] == ["COLON"] and set(said[1:]) in ({"color"}, {"sheen"})


def part_of_whole(out: Finding, site: Site) -> list[Word]:
    """The part of what a label names that closes its list: `Woodwork: one varnish and one wax on skirtings`."""
    whole = {part for _, values in surface_groups(site.label) for value in values for part in WIDE.get(value, ())}
    behind = [t for t in site.sentence.tags if t.start >= out.fact.over] if whole else []
    ends = next((n for n, t in enumerate(behind) if t.name in ENDS), len(behind))
    told = surface_groups(behind[:ends])
    part = told[0][1] if len(told) == 1 else []
    return [Word(value, FoundBy.LIST_TAIL) for value in part] if whole.issuperset(part) else []
