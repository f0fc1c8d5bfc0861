"""What lengths of one thing are told apart by: what each has to go through, and into. `25 mm at one layer, 41 mm at two layers.`

How many layers there are, and how thick one of them is, say for which work a length is. They stand behind it, or between a joint and it; what
opens the sentence holds for all of its lengths that have none of their own.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from darby.quantities.amounts import Amount
from darby.reading.binding.site.finding import Finding, Site, Tags
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.parsing.tagging.tag import Tag
from darby.rules.name_matching import OR

LAYERS, THICK = "layers", "thick"
"""Keys of a scope: `through 2` of them, and through what is `5/8 in thick`."""
INTO, WHERE, NOTE = "into", "where", "note"
"""What a word for supports says besides: what they are made of; and the keys of the scope that say so of lengths, and of distances apart."""
_KIND = "fastener length"
_MATERIALS = ("steel", "wood")
_WHERE = "says where something else holds"
_COUNTED = ("A_LAYER", "SINGLE")
"""Words that count layers by themselves: `a single layer`, `two-layer work`."""


def tell_apart(tags: Tags, findings: Sequence[Finding], lexicon: Lexicon, above: Sequence[Tags] = ()) -> None:
    """Have each length of a sentence hold where what it is said to go through is; distances apart by how thick that is. What the sentence
    stands under, the nearest first, is `above`.
    """
    taken = [f.fact for f in findings if f.stands]
    free = [t for t in tags if not any(fact.place <= t.start < fact.over for fact in taken)]
    spaced = [f for f in findings if f.kind == "spacing" and f.stands]
    if spaced:
        _tell_spacings(tags, spaced, findings, lexicon)
        _tell_supports(free, spaced, above, NOTE)
    lengths = [f for f in findings if f.kind == _KIND and f.stands]
    if not lengths:
        return
    thick = _thick(tags, findings, lexicon)
    _tell_supports(free, lengths, above, WHERE)
    opening = dict(_said([t for t in free if t.start < lengths[0].fact.place], thick))
    before: Mapping[str, str] = opening
    counts = False
    for finding, after in zip(lengths, [*lengths[1:], None], strict=True):
        end = after.fact.place if after is not None else tags[-1].end + 1
        behind, ahead = _parted([t for t in free if finding.fact.over <= t.start < end], last=after is None)
        own = dict(_said(behind, thick, counts=counts)) or before
        before = dict(_said(ahead, thick))
        counts = counts or LAYERS in own
        for key, said in {**opening, **own}.items():
            if key != LAYERS or "layer" not in finding.scope:
                finding.scope.setdefault(key, said)
    _hold_labelled(tags, lengths[0])


def _hold_labelled(tags: Tags, length: Finding) -> None:
    """`Outer layers of 15 mm sheets: 42 mm pins`: a label with a number in it says of which layer its one length is."""
    ahead = [t for t in tags if t.start < length.fact.place]
    colon = max((n for n, t in enumerate(ahead) if t.name == "COLON"), default=0)
    layers = {t.value for t in ahead[:colon] if t.name == "layer"}
    if len(layers) == 1 and any(t.name == "NUMBER" for t in ahead[:colon]):
        length.scope.setdefault("layer", layers.pop())


def _thick(tags: Tags, findings: Sequence[Finding], lexicon: Lexicon) -> dict[int, str]:
    """The thicknesses that say for what something is, by their places."""
    found = {
        f.fact.place: f"{Amount.of(f.amount.low, f.amount.unit).exact()} thick"
        for f in findings
        if f.aside == _WHERE and f.amount is not None and f.amount.size in lexicon.sizes("thickness")
    }
    return found | _listed(tags, found)


def _tell_spacings(tags: Tags, spaced: Sequence[Finding], findings: Sequence[Finding], lexicon: Lexicon) -> None:
    """`12 in. apart for 3/8 in. sheets, 8 in. for 5/8 in. sheets`: each holds where its sheets do, where every one has such behind it."""
    thick = _thick(tags, findings, lexicon)
    ends = [*(f.fact.place for f in spaced[1:]), tags[-1].end + 1 if tags else 0]
    behind = [
        [said for at, said in thick.items() if f.fact.over <= at < end] for f, end in zip(spaced, ends, strict=False)
    ]
    if len(spaced) > 1 and all(len(some) == 1 for some in behind):
        for finding, (said,) in zip(spaced, behind, strict=True):
            finding.scope.setdefault(THICK, said)


def _listed(tags: Tags, thick: Mapping[int, str]) -> dict[int, str]:
    """By the place of the last of several thicknesses that share a unit, all of them: `for 10, 13 and 16 mm` is any of these."""
    found = {}
    for n, tag in enumerate(tags):
        first, unit = n, tags[n + 1].unit if n + 1 < len(tags) else None
        while first > 1 and tags[first - 1].name in _JOINTS and tags[first - 2].name == "NUMBER":
            first -= 2
        numbers = [t.number for t in tags[first : n + 1 : 2]]
        if tag.start in thick and first < n and unit is not None and all(number is not None for number in numbers):
            found[tag.start] = OR.join(
                f"{Amount.of(number, unit).exact()} thick" for number in numbers if number is not None
            )
    return found


def _tell_supports(tags: Tags, found: Sequence[Finding], above: Sequence[Tags], key: str) -> None:
    """Have each length or distance hold at the supports that it is said to go into: those right behind it where these differ, `32 mm into iron ribs
    and 38 mm into the laths`; else the one sort that its sentence names, or what it stands under does: `Iron ribs` over `Pins: 25 mm`.
    """
    if key == WHERE and _told_by_supports(tags, found):
        return
    ends = [*(f.fact.place for f in found[1:]), tags[-1].end + 1 if tags else 0]
    ahead = _materials([t for t in tags if t.start < found[0].fact.place])
    for finding, end in zip(found, ends, strict=True):
        own = _materials([t for t in tags if finding.fact.over <= t.start < end]) or ahead
        if not own and not any(_material(t) for t in tags):
            own = next((made for some in above if (made := _materials(some))), set())
        if len(own) == 1:
            finding.scope.setdefault(key, *own)


def goes_into(out: Finding, site: Site) -> str:
    """What supports are made of that goods chosen with a word go into, where these have lengths and its words or what it stands under say so."""
    if not any(site.can(w.value, _KIND) for w in out.subjects):
        return ""
    words, here = site.sentence.tags, out.fact
    alike = [t.start for t in words if t.name == here.kind or t.name in ("SEMICOLON", "STOP")]
    before, end = (
        max((n for n in alike if n < here.place), default=0),
        min((n for n in alike if n >= here.over), default=here.over + _FAR),
    )
    if _materials([t for t in words if t.start < next((o.start for o in words if o.name == here.kind), here.place)]):
        own = _materials([t for t in words if before <= t.start < here.place])  # `Iron ribs: pins A; laths: pins B`
    elif not (own := _materials([t for t in words if here.over <= t.start < end])) and not _materials(words):
        own = next((made for a in site.context.all if (made := _materials(a.tags))), set())
    return own.pop() if len(own) == 1 else ""


_FAR = 200
"""Letters behind a choice in which what it goes into may be named."""


def _materials(tags: Tags) -> set[str]:
    """What some words say that supports are made of."""
    return {made for t in tags if (made := _material(t))}


def _told_by_supports(tags: Tags, lengths: Sequence[Finding]) -> bool:
    """Whether lengths are told apart by the supports right behind them. Of two the one whose supports are of something that is not said
    goes into the other material, which waits to be confirmed.
    """
    ends = [*(f.fact.place for f in lengths[1:]), tags[-1].end + 1 if tags else 0]
    behind = [[t for t in tags if f.fact.over <= t.start < end] for f, end in zip(lengths, ends, strict=True)]
    made = [next((m for t in some if (m := _material(t))), "") for some in behind]
    supported = [any(_material(t) or (t.name, t.value) == ("hint", "framing") for t in some) for some in behind]
    known = {one for one in made if one}
    starts = [tags[0].start if tags else 0, *(f.fact.over for f in lengths)]
    ahead = [[t for t in tags if at <= t.start < f.fact.place] for at, f in zip(starts, lengths, strict=False)]
    before = [next((m for t in some if (m := _material(t))), "") for some in ahead]
    labelled = len(lengths) >= _TWO or any(t.name == "COLON" for t in ahead[0])
    if not all(made) and all(before) and labelled:  # `Iron ribs: 25 mm pins`
        made, supported, known = before, [True], {*before, ""}
    if not known or not all(supported) or len(lengths) + ("" in known) < _TWO:
        return False
    for finding, material in zip(lengths, made, strict=True):
        if material:
            finding.scope[WHERE] = material
        elif len(known) == 1 and len(lengths) == _TWO:
            finding.scope[WHERE] = next(one for one in _MATERIALS if one not in known)
            finding.confirm = finding.confirm or "what its supports are made of is not said beside it"
    return True


_TWO = 2


def _material(tag: Tag) -> str:
    """What supports are made of by a word for them, or nothing."""
    if tag.name == "note" and tag.value in _MATERIALS:
        return tag.value
    return dict(tag.also).get(INTO, "") if tag.name == "hint" else ""


def _parted(tags: Tags, *, last: bool) -> tuple[Tags, Tags]:
    """What stands behind a length, and what ahead of the next: they are parted where the two are joined, `25 mm and at two layers 41 mm`."""
    joints = [n for n, t in enumerate(tags) if t.name in _JOINTS]
    if last or not joints:
        return tags, ()
    return tags[: joints[-1]], tags[joints[-1] + 1 :]


_JOINTS = ("AND", "COMMA", "SEMICOLON")


def _said(tags: Tags, thick: Mapping[int, str], *, counts: bool = False) -> Iterator[tuple[str, str]]:
    """What some words say that is gone through; nothing of what they say twice, and not alike.

    A bare number behind `through` counts layers where a length before it was told by these.
    """
    found: dict[str, set[str]] = {}
    for n, tag in enumerate(tags):
        behind = tags[n + 1].name if n + 1 < len(tags) else "STOP"
        if tag.name in _COUNTED and tag.value.isdecimal():
            found.setdefault(LAYERS, set()).add(f"through {tag.value}")
        elif tag.name == "LAYER" and n and tags[n - 1].name in ("BOTH", "LAYERING"):
            found.setdefault(LAYERS, set()).add("through 2")
        elif tag.name != "NUMBER" or tag.number is None:
            continue
        elif behind == "LAYER" or (counts and behind in _ENDS and n and tags[n - 1].name in ("THROUGH", "FOR")):
            if tag.number.denominator == 1:
                found.setdefault(LAYERS, set()).add(f"through {tag.number}")
        elif said := thick.get(tag.start):
            found.setdefault(THICK, set()).add(said)
    yield from ((key, said.pop()) for key, said in found.items() if len(said) == 1)


_ENDS = ("STOP", "COMMA", "SEMICOLON", "CLOSE", "AND")
