"""The programs that open what is handed over: a browser and a spreadsheet. Tests skip where they are absent, and say so.

With DARBY_ALL_READERS set, as `.ci/run` does, their absence is a failure.
"""

from __future__ import annotations

import atexit
import os
import shutil
import subprocess
import tempfile
from collections.abc import Sequence
from functools import cache
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


_ALWAYS = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>
"""
"""LibreOffice's setting to calculate every formula anew when it opens a file."""


@cache
def _profile() -> Path:
    """LibreOffice's own folder, one for all that these tests open: it takes longer to make than most books to calculate."""
    folder = Path(tempfile.mkdtemp(prefix="darby-office-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    (folder / "user").mkdir()
    (folder / "user" / "registrymodifications.xcu").write_text(_ALWAYS, encoding="utf-8")
    return folder


def calculated(books: Sequence[bytes], form: str, folder: Path) -> list[Path]:
    """What LibreOffice makes of some books, all in one go, each calculated anew."""
    office = program(LIBREOFFICE, "LibreOffice Calc")
    for number, data in enumerate(books):
        (folder / f"{number}.xlsx").write_bytes(data)
    done = subprocess.run(
        (
            str(office), "--headless", f"-env:UserInstallation={_profile().as_uri()}", "--convert-to", form,
            "--outdir", str(folder / "out"), *(str(folder / f"{n}.xlsx") for n in range(len(books))),
        ),
        capture_output=True, stdin=subprocess.DEVNULL, timeout=300, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    return [folder / "out" / f"{number}.{form}" for number in range(len(books))]
