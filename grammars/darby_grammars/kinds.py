"""The kinds of fact a finishes specification states: what each measures and which way more is bought."""

from __future__ import annotations

from darby.api import AREA, CONTAINERS, LENGTH, MASS, NUMBER_ONLY, UNITS, VOLUME, Dimension, Kind


def _any(*dimensions: Dimension) -> frozenset[Dimension]:
    return frozenset(dimensions)


_CONTAINER = frozenset(UNITS[name].dimension for name in CONTAINERS)
_MEASURE = _any(MASS, VOLUME, LENGTH, NUMBER_ONLY)

COVERAGE = Kind(
    "coverage", _any(AREA), _any(VOLUME), "smaller", "What spreading rate for {subject}{where}?", "supplier"
)
CONSUMPTION = Kind(
    "consumption",
    _MEASURE | _CONTAINER,
    _any(AREA, LENGTH),
    "larger",
    "What usage rate of {subject}{where}?",
    "estimator",
)
COATS = Kind("coats", _any(NUMBER_ONLY), more="larger", wanted="How many coats of {subject}{where}?")
LAYERS = Kind("layers", _any(NUMBER_ONLY), more="larger", wanted="How many layers of {subject}{where}?")
SPACING = Kind("spacing", _any(LENGTH), more="smaller", wanted="What spacing of {subjects}{where}?")
THICKNESS = Kind("thickness", _any(LENGTH), more="larger", wanted="What thickness of {subject}{where}?")
SHEET = Kind("sheet", _any(LENGTH), wanted="What sheet size of {subject}{where}?", known_to="supplier")
PACKAGE = Kind(
    "package",
    _MEASURE | _any(AREA) | _CONTAINER,
    _CONTAINER,
    wanted="What package size of {subject}?",
    known_to="supplier",
)
FINISH_LEVEL = Kind("finish level", _any(NUMBER_ONLY), more="larger", wanted="What finish level of {subject}{where}?")
FILM = Kind("film", _any(LENGTH), more="larger", wanted="What film thickness of {subject}{where}?")
SOLIDS = Kind(
    "solids", _any(NUMBER_ONLY), more="smaller", wanted="What volume solids of {subject}?", known_to="supplier"
)
WASTE = Kind("waste", _any(NUMBER_ONLY), more="larger", wanted="What waste on {subject}{where}?", known_to="estimator")
DEDUCT = Kind(
    "deduct openings over", _any(AREA, NUMBER_ONLY), more=None, wanted="Above what size are openings deducted from {subject}{where}?",
    known_to="estimator",
)  # fmt: skip
FASTENER_LENGTH = Kind("fastener length", _any(LENGTH), wanted="What length of {subject}{where}?", more="larger")
FRAMING = Kind("framing", _any(LENGTH), more="smaller", wanted="What framing spacing for {subject}{where}?")

SPARE = Kind(
    "spare",
    _MEASURE | _any(AREA) | _CONTAINER,
    more="larger",
    wanted="How much spare {subject} is left with the owner?",
)

TYPE = Kind("type", _any(NUMBER_ONLY), wanted="What type of {subject}{where}?")
SHEEN = Kind("sheen", _any(NUMBER_ONLY), wanted="What sheen of {subject}{where}?")
REPLACED = Kind("replaced", _any(NUMBER_ONLY), wanted="What replaces {subject}{where}?")
CLASS = Kind("class", _any(NUMBER_ONLY), wanted="What class of {subject}{where}?")
COLOR = Kind("color", _any(NUMBER_ONLY), wanted="What color of {subject}{where}?")
SYSTEM = Kind("system", _any(NUMBER_ONLY), wanted="Which system of {subject}{where}?", assigns=True)

KINDS: dict[str, Kind] = {
    kind.name: kind
    for kind in (
        COVERAGE, CONSUMPTION, COATS, LAYERS, SPACING, THICKNESS, SHEET, PACKAGE, FINISH_LEVEL, FILM, SOLIDS, WASTE, DEDUCT,
        FASTENER_LENGTH, FRAMING, SPARE, TYPE, SHEEN, COLOR, CLASS, SYSTEM, REPLACED,
    )
}  # fmt: skip
"""Every kind by its name. Spelled `deduct openings over`, a share instead of an area means that share of every opening:
0 % is "do not deduct openings"."""
