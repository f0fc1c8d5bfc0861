"""Of what the definition of a mark makes it a system: of what it speaks of first, what a label says that it goes on aside."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from darby.reading.parsing.lexicon import Lexicon
from darby.reading.parsing.tagging.tag import Tag

Tags = Sequence[Tag]


def subject_of(said: Tags, lexicon: Lexicon, kind: str) -> str:
    """Of what a definition is the system: what it speaks of first that can have a rule of some kind; nothing where it speaks of none.

    A label may only be what the system goes on (`New panels: one coat of wax`), so what stands behind its colon goes before it.
    """
    colon = next((n for n, t in enumerate(said) if t.name == "COLON"), -1)
    behind = _first(said[colon + 1 :], lexicon, kind)
    return behind or _first(said[: colon + 1], lexicon, kind)


def _first(said: Tags, lexicon: Lexicon, kind: str) -> str:
    # what stands right before a surface may only be what the system goes on: `brick walls, public`
    under = {
        id(t)
        for t, after in pairwise(said)
        if (t.name, after.name) == ("subject", "surface") and 0 <= after.start - t.end <= 1
    }
    said = [*(t for t in said if id(t) not in under), *(t for t in said if id(t) in under)]
    named = [
        t.value
        if t.name in ("subject", "REPLACED")
        else lexicon.choices.get((t.name, t.value), lexicon.implies.get(hint_kind(t), ""))
        for t in said
    ]
    return next((s for s in named if kind in lexicon.kinds.get(s, ())), "")


def hint_kind(tag: Tag) -> str:
    """The kind that a counting word speaks of."""
    return tag.value if tag.name == "hint" else {"LAYER": "layers", "THICK": "thickness"}.get(tag.name, "")
