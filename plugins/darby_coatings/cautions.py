"""The dangers of putting on paint, each with the rule behind it."""

from __future__ import annotations

from darby.api import WORK_AT_HEIGHT, Caution

CAUTIONS = (
    Caution(
        "Lead in old paint",
        "In a building from before 1978, have paint tested before you sand, scrape or cut it. Work on more than 6 sq ft in a "
        "room, or 20 sq ft outside, needs a certified firm and lead-safe methods; local rules may ask more.",
        "40 CFR 745.83",
    ),
    Caution(
        "Ventilation",
        "Keep fresh air moving and flames and sparks away while coatings are put on and while they dry. Follow the safety "
        "data sheet of the product and the local fire code.",
        "common practice, no source",
    ),
    WORK_AT_HEIGHT,
)
