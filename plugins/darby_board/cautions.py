"""The dangers of board, each with the rule behind it."""

from __future__ import annotations

from darby.api import WORK_AT_HEIGHT, Caution, silica_dust

CAUTIONS = (
    Caution(
        "Rated assemblies",
        "Build a fire- or sound-rated wall or ceiling exactly as its listing says: board, layers, framing and fasteners. "
        "Change nothing on the strength of this estimate; ask the licensed designer and the local building official.",
        "common practice, no source",
    ),
    Caution(
        "Stacked board",
        "Stack board flat on risers, since stacks that lean tip and crush. A lift of half-inch sheets can weigh a ton or "
        "more: have a licensed engineer check the floor first.",
        "CPWR; GA-801",
    ),
    silica_dust("Cutting board and sanding joints"),
    WORK_AT_HEIGHT,
)
