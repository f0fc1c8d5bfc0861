"""What the words of a table's heads and keys are, for whoever has to say what a column is before anything is read."""

from __future__ import annotations

from collections.abc import Callable

from darby.reading.parsing.lexicon import Lexicon

_THINGS = {
    "surface": "surface",
    "room": "place",
    "sheen": "sheen",
    "color": "color",
    "subject": "product",
    "type": "type",
}
_UNITS = frozenset({"LENGTH_UNIT", "AREA_UNIT", "VOLUME_UNIT", "MASS_UNIT", "THIN_UNIT", "PERCENT"})
_MEASURES = frozenset(
    {
        "COAT",
        "LAYER",
        "ON_CENTER",
        "SPACED",
        "THICK",
        "WIDE",
        "LONG",
        "LENGTHS",
        "WET",
        "DRY",
        "LEVEL",
        "SOLIDS",
        "WASTE",
    }
)
_END = " .,:;#*"


def head_words(lexicon: Lexicon) -> Callable[[str], frozenset[str]]:
    """A function from a short text to what its words are; each text is looked at once."""
    seen: dict[str, frozenset[str]] = {}

    def means(text: str) -> frozenset[str]:
        if text not in seen:
            seen[text] = frozenset(_means(lexicon, text))
        return seen[text]

    return means


def _means(lexicon: Lexicon, text: str) -> set[str]:
    whole = " ".join(text.lower().split())
    held = lexicon.heads.get(whole) or lexicon.heads.get(whole.strip(_END))
    if held:
        return {held}
    tags = lexicon.tags(text)
    out = {_THINGS[t.name] for t in tags if t.name in _THINGS}
    out |= {_THINGS.get(name, "") for t in tags for name, _ in t.also} - {""}
    if any(t.name in _UNITS for t in tags):
        out.add("unit")
    if any(t.name in _MEASURES or t.name == "hint" for t in tags):
        out.add("measure")
    if any(t.name == "ROOM_HEAD" for t in tags) and "place" not in out:
        out.add("places")
    return out
