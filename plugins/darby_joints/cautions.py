"""The dangers of finishing joints, each with the rule behind it."""

from __future__ import annotations

from darby.api import Caution, silica_dust

CAUTIONS = (
    silica_dust("Cutting board and sanding joints"),
    Caution(
        "Asbestos in old joints",
        "Old joint compound and wallboard may hold asbestos and are tested together, as one wall. Have them sampled by a "
        "licensed inspector before they are sanded, cut or torn out.",
        "40 CFR 61.141; 59 FR 542",
    ),
)
