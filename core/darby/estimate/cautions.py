"""Dangers that the work of several trades has, in the same words wherever they are told, so that an estimate tells each once."""

from __future__ import annotations

from darby.estimate.trade import Caution

WORK_AT_HEIGHT = Caution(
    "Work at height",
    "Ceilings and high walls are work at height: lifts, ladders and scaffolds are set up and used as local law and a "
    "competent person on site require.",
    "common practice, no source",
)
"""For whatever goes on ceilings and high walls."""


def silica_dust(work: str) -> Caution:
    """For work that raises silica dust; `work` says which, and begins the sentence: `Grinding floors`."""
    return Caution(
        "Silica dust",
        f"{work} can raise respirable silica. The limit is 50 micrograms per cubic metre over a shift, "
        "with action from 25; wet or vacuum sanding keeps it down. Local rules may be stricter.",
        "29 CFR 1926.1153",
    )
