"""The kinds of fact a finishes specification states: what each measures and which way more is bought."""

from __future__ import annotations

from darby.api import AREA, CONTAINERS, LENGTH, MASS, NUMBER_ONLY, UNITS, VOLUME, Dimension, Kind


def _any(*dimensions: Dimension) -> frozenset[Dimension]:
    return frozenset(dimensions)


_CONTAINER = frozenset(UNITS[name].dimension for name in CONTAINERS)
_MEASURE = _any(MASS, VOLUME, LENGTH, NUMBER_ONLY)

COVERAGE = Kind(
    "coverage", _any(AREA), _any(VOLUME), "smaller", "what area a gallon or litre of {subject} covers", "supplier"
)
CONSUMPTION = Kind(
    "consumption",
    _MEASURE | _CONTAINER,
    _any(AREA, LENGTH),
    "larger",
    "how much {subject} is used over an area",
    "supplier",
)
COATS = Kind("coats", _any(NUMBER_ONLY), more="larger", wanted="how many coats of {subject} are wanted")
LAYERS = Kind("layers", _any(NUMBER_ONLY), more="larger", wanted="how many layers of {subject} are wanted")
SPACING = Kind("spacing", _any(LENGTH), more="smaller", wanted="how far apart each {subject} is set")
THICKNESS = Kind("thickness", _any(LENGTH), more="larger", wanted="how thick the {subject} is")
SHEET = Kind("sheet", _any(LENGTH), wanted="what sheet size of {subject} is wanted", known_to="supplier")
PACKAGE = Kind(
    "package",
    _MEASURE | _any(AREA) | _CONTAINER,
    _CONTAINER,
    wanted="what package the {subject} comes in",
    known_to="supplier",
)
FINISH_LEVEL = Kind("finish level", _any(NUMBER_ONLY), more="larger", wanted="to what level the {subject} is finished")
FILM = Kind("film", _any(LENGTH), more="larger", wanted="how thick a film of {subject} is wanted")
SOLIDS = Kind(
    "solids", _any(NUMBER_ONLY), more="smaller", wanted="what share of the {subject} is solids", known_to="supplier"
)
WASTE = Kind(
    "waste", _any(NUMBER_ONLY), more="larger", wanted="what waste is allowed on the {subject}", known_to="supplier"
)
DEDUCT = Kind(
    "deduct openings over", _any(AREA, NUMBER_ONLY), more=None, wanted="from what size openings come out of the {subject}",
    known_to="supplier",
)  # fmt: skip
FASTENER_LENGTH = Kind("fastener length", _any(LENGTH), wanted="how long each {subject} is", more="larger")
FRAMING = Kind("framing", _any(LENGTH), more="smaller", wanted="how far apart the supports of the {subject} are")

SPARE = Kind(
    "spare",
    _MEASURE | _any(AREA) | _CONTAINER,
    more="larger",
    wanted="how much spare {subject} is left with the owner",
)

TYPE = Kind("type", _any(NUMBER_ONLY), wanted="of what type the {subject} is")
SHEEN = Kind("sheen", _any(NUMBER_ONLY), wanted="of what sheen the {subject} is")
REPLACED = Kind("replaced", _any(NUMBER_ONLY), wanted="what takes the place of the {subject}")
CLASS = Kind("class", _any(NUMBER_ONLY), wanted="what the {subject} is made of")
COLOR = Kind("color", _any(NUMBER_ONLY), wanted="of what color the {subject} is")
SYSTEM = Kind("system", _any(NUMBER_ONLY), wanted="which system of {subject} is meant", assigns=True)

KINDS: dict[str, Kind] = {
    kind.name: kind
    for kind in (
        COVERAGE, CONSUMPTION, COATS, LAYERS, SPACING, THICKNESS, SHEET, PACKAGE, FINISH_LEVEL, FILM, SOLIDS, WASTE, DEDUCT,
        FASTENER_LENGTH, FRAMING, SPARE, TYPE, SHEEN, COLOR, CLASS, SYSTEM, REPLACED,
    )
}  # fmt: skip
"""Every kind by its name. Spelled `deduct openings over`, a share instead of an area means that share of every opening:
0 % is "do not deduct openings"."""
