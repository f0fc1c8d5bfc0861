"""Every mistake of a job file as it is told, word for word: `mistakes.toml` beside this file."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from darby.job.loader import load
from darby.text.diagnostics import Diagnostic
from darby.text.spans import Source

TABLE = Path(__file__).with_name("mistakes.toml")
MISTAKES: list[dict[str, Any]] = tomllib.loads(TABLE.read_text(encoding="utf-8"))["mistake"]


def told(found: Diagnostic) -> str:
    assert found.span is not None
    more = "".join(f" | {label.text}: {label.span.text}" for label in found.labels[1:])
    return f'{found.code} | {found.span.where} "{found.span.text}" | {found.message} | {found.help}{more}'


@pytest.mark.parametrize("mistake", MISTAKES, ids=lambda m: m["why"])
def test_a_mistake_is_told_in_these_words_at_this_place(mistake: dict[str, Any]) -> None:
    made, found = load(Source("job.toml", mistake["text"]), ("paint",))
    assert [told(d) for d in found] == mistake["told"]
    assert (made is not None) is mistake.get("stands", False)
    assert all(d.file == "" for d in found)


def test_no_mistake_is_listed_twice() -> None:
    assert len({m["why"] for m in MISTAKES}) == len({m["text"] for m in MISTAKES}) == len(MISTAKES)
