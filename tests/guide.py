"""The guide as text: its fenced blocks, and the trade with its cases that it shows."""

from __future__ import annotations

import re
from pathlib import Path

from checkout import ROOT

GUIDE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")


def blocks(text: str, language: str) -> list[str]:
    """The fenced blocks of one language, in order."""
    return re.findall(rf"^```{language}\n(.*?)^```$", text, re.MULTILINE | re.DOTALL)


def write_gasket(folder: Path) -> Path:
    """The guide's trade and its cases, written into one folder."""
    (code,) = blocks(GUIDE, "python")
    (held,) = (block for block in blocks(GUIDE, "toml") if "[[phrase]]" in block)
    (folder / "our_gasket.py").write_text(code, encoding="utf-8")
    (folder / "gasket.cases.toml").write_text(held, encoding="utf-8")
    return folder
