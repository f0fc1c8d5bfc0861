"""The three trades that were written as outsiders would, loaded from where they lie, without an installation."""

from __future__ import annotations

import importlib
import sys
from functools import partial
from pathlib import Path
from typing import Any

from checkout import ROOT
from darby.plugin_host.discovery import Entry, installed
from rogues import Entry as Made
from rogues import Release

EXAMPLE = ROOT / "plugins" / "darby_example"
CEILINGS = ROOT / "plugins" / "darby_ceilings"
VAPOUR = ROOT / "fixtures" / "plugins" / "vapour-sheet"


def module(name: str, folder: Path) -> Any:
    """A module from a folder of its own."""
    sys.path.insert(0, str(folder))
    try:
        loaded = sys.modules.get(name)
        if loaded is not None and not getattr(loaded, "DARBY_API", 0):  # the folder beside it, taken for a package
            del sys.modules[name]
        return importlib.import_module(name)
    finally:
        sys.path.remove(str(folder))


def own() -> list[Entry]:
    """Darby's own entry points."""
    return [e for e in installed() if getattr(getattr(e, "dist", None), "name", "") == "darby"]


def outsiders() -> list[Entry]:
    """All three trades, as entry points of distributions of their own."""
    return [
        Made("ceilings", partial(module, "darby_ceilings", CEILINGS), Release("1.0", "darby-ceilings")),
        Made("insulation", partial(module, "darby_example", EXAMPLE), Release("1.0", "darby-example")),
        Made("vapour-sheet", partial(module, "vapour_sheet", VAPOUR), Release("2.1", "vapour-sheet")),
    ]
