"""The phrases of fixtures/phrases, as data: what each must mean, what must stay open, what is no quantity."""

from __future__ import annotations

import tomllib
from functools import cache
from typing import Any

from checkout import ROOT

# How a case is written:
#
# [[phrase]]
# why = "what the case shows"
# text = "Screws on walls 12 in. o.c., not 16 in."
# rules = ["spacing of screw (surface wall): 12 in"]     # all rules, in any order; none unless said
# unread = ["12"]                                        # all numbers that must stay open, in order of place
# aside = ["16", "C840 = a standard"]                    # all that are set aside; behind `=` how the reason begins
# asked = ["which gallon"]                               # parts of questions that must be asked; not all of them
# open = "why it is not read so yet"                     # must fail as things stand, and be struck out once it holds

PHRASES = ROOT / "fixtures" / "phrases"
KEYS = {"why", "text", "rules", "unread", "aside", "asked", "open"}


@cache
def phrases() -> dict[str, dict[str, Any]]:
    """Every case by its name: the file's, and what it shows."""
    found: dict[str, dict[str, Any]] = {}
    for path in sorted(PHRASES.glob("*.toml")):
        for case in tomllib.loads(path.read_text(encoding="utf-8"))["phrase"]:
            name = f"{path.stem}: {case['why']}"
            assert name not in found, f"two cases are called {name!r}"
            found[name] = case
    return found
