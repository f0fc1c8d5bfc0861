"""What lengths of one thing are told apart by: what each has to go through. `25 mm at one layer, 41 mm at two layers.`

How many layers there are, and how thick one of them is, say for which work a length is. They stand behind it, or between a joint and it; what
opens the sentence holds for all of its lengths that have none of their own.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from darby.quantities.amounts import Amount
from darby.reading.binding.site.finding import Finding, Tags
from darby.reading.parsing.lexicon import Lexicon

LAYERS, THICK = "layers", "thick"
"""Keys of a scope: `through 2` of them, and through what is `5/8 in thick`."""
_KIND = "fastener length"
_WHERE = "says where something else holds"
_COUNTED = ("A_LAYER", "SINGLE")
"""Words that count layers by themselves: `a single layer`, `two-layer work`."""


def tell_apart(tags: Tags, findings: Sequence[Finding], lexicon: Lexicon) -> None:
    """Have each length of a sentence hold where what it is said to go through is."""
    lengths = [f for f in findings if f.kind == _KIND and f.stands]
    if not lengths:
        return
    taken = [f.fact for f in findings if f.stands]
    free = [t for t in tags if not any(fact.place <= t.start < fact.over for fact in taken)]
    thick = {
        f.fact.place: f"{Amount.of(f.amount.low, f.amount.unit).exact()} thick"
        for f in findings
        if f.aside == _WHERE and f.amount is not None and f.amount.size in lexicon.sizes("thickness")
    }
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
