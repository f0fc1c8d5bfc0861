"""Files of word processors made for tests, and the rules that the command reads in a file."""

from __future__ import annotations

import io
import json
from pathlib import Path
from typing import Any

import docx
from click.testing import CliRunner

from darby.cli.read import read


def made(document: Any) -> bytes:
    out = io.BytesIO()
    document.save(out)
    return out.getvalue()


def words(*paragraphs: str) -> bytes:
    document = docx.Document()
    for text in paragraphs:
        document.add_paragraph(text)
    return made(document)


def run(path: Path, *more: str) -> Any:
    return CliRunner().invoke(read, [str(path), *more])


def rules_of(path: Path) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = json.loads(run(path, "--format", "json").stdout)["rules"]
    return found
