"""The dangers of fastening, each with the rule behind it."""

from __future__ import annotations

from darby.api import WORK_AT_HEIGHT, Caution

CAUTIONS = (
    Caution(
        "Fasteners in rated assemblies",
        "Fasten a fire-rated wall or ceiling with the kind, length and spacing of its listing, and any other by the local "
        "code. The counts here are for ordering and prove no spacing.",
        "common practice, no source",
    ),
    WORK_AT_HEIGHT,
)
