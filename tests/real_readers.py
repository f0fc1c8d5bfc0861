"""The programs that open what is handed over: a browser and a spreadsheet. Tests skip where they are absent, and say so.

With DARBY_ALL_READERS set, as `.ci/run` does, their absence is a failure.
"""

from __future__ import annotations

import os
import shutil
from pathlib import Path
from typing import NoReturn

import pytest

CHROMIUM = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
LIBREOFFICE = ("soffice", "libreoffice")


def _absent(reason: str) -> NoReturn:
    if os.environ.get("DARBY_ALL_READERS"):
        pytest.fail(f"{reason}, and DARBY_ALL_READERS asks for it")
    pytest.skip(reason)


def program(names: tuple[str, ...], what: str) -> Path:
    """The first of some programs that is installed."""
    found = next(filter(None, map(shutil.which, names)), None)
    if found is None:
        _absent(f"{what} is not installed")
    return Path(found)
