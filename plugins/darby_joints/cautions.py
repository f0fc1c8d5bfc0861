"""The dangers of finishing joints, each with the rule behind it."""

from __future__ import annotations

from darby.api import Caution, silica_dust

CAUTIONS = (
    silica_dust("Cutting board and sanding joints"),
    Caution(
        "Asbestos in old joints",
        "Have old joint compound and board sampled by a licensed inspector before you sand, cut or tear them out. They may hold "
        "asbestos, and are tested together, as one wall.",
        "40 CFR 61.141; 59 FR 542",
    ),
)
