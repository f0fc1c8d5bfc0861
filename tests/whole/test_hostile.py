"""Texts at which something once broke: each is answered in a sentence, loses no digit, and what comes of it can be kept and opened."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any

import pytest

from checkout import ROOT
from commands import darby
from reads import read_text

CORPUS: dict[str, Any] = {
    name: one for name, (one,) in tomllib.loads((ROOT / "fixtures/hostile/texts.toml").read_text("utf-8")).items()
}
"""What is given, by what is wrong with it."""
JOB = """\
name = "Lamp Street"
units = "us"
schedules = ["rooms.csv"]

[documents]
specification = ["spec.txt"]
house = ["house.txt"]
addenda = ["addendum.txt"]

[bid]
currency = "USD"
prices = ["prices.csv"]
"""
FILES = {
    "job": ("job.toml", JOB),
    "specification": ("spec.txt", "A. Walls: one coat primer.\n"),
    "house": ("house.txt", "Primer comes in 5 gal pails. [our supplier]\n"),
    "addendum": ("addendum.txt", "Walls: two coats primer.\n"),
    "schedule": ("rooms.csv", "name,length,width,height\nLobby,12 ft,9 ft,8 ft\n"),
    "prices": ("prices.csv", "product,package,price\nprimer,5 gal pail,$80.00\n"),
    "saved": ("kept.json", "{}"),
}


def text_of(one: dict[str, Any]) -> str:
    return str(one["text"]) * one.get("times", 1)


@pytest.mark.parametrize("name", CORPUS)
def test_every_command_answers_in_a_sentence(name: str, tmp_path: Path) -> None:
    for file, text in FILES.values():
        (tmp_path / file).write_text(text, encoding="utf-8")
    given = CORPUS[name]
    kind = given.get("as", "specification")
    (tmp_path / FILES[kind][0]).write_text(text_of(given), encoding="utf-8", newline="")
    commands = [
        ("estimate", "job.toml", "--save", "made.json"),
        ("estimate", "job.toml", "--format", "json"),
        ("bid", "job.toml"),
        ("rooms", "job.toml"),
        ("read", FILES[kind][0], "--explain"),
        ("compare", "kept.json", "kept.json"),
    ]
    wanted = {"saved": commands[-1:], "prices": commands[2:3], "schedule": commands[:4], "job": commands[:4]}
    for command in wanted.get(kind, commands[:5]):
        done = darby(*command, cwd=tmp_path)
        assert done.returncode in (0, 1, 2), (command, done.stderr)
        assert done.returncode == 0 or done.stdout + done.stderr, command
        assert "Traceback" not in done.stderr, command
        assert len(done.stderr) < 200_000, command
    if (tmp_path / "made.json").exists():
        (tmp_path / "kept").mkdir()
        (tmp_path / "made.json").rename(tmp_path / "kept" / "made.json")
        again = darby("replay", "kept", cwd=tmp_path)
        assert (again.returncode, again.stderr) == (0, ""), again.stdout


@pytest.mark.parametrize("name", [n for n, one in CORPUS.items() if one.get("as", "specification") == "specification"])
def test_every_digit_of_a_text_is_accounted_for(name: str) -> None:
    text = text_of(CORPUS[name])
    told = {at for n in read_text(text).numbers for at in range(n.span.start, n.span.end)}
    plain = [m for m in re.finditer(r"(?<![^\W_])[0-9]+(?![^\W_])", text) if not set(range(*m.span())) & told]
    assert not plain, [m[0][:20] for m in plain[:3]]


def test_the_corpus_is_told_apart_and_some_of_each_kind() -> None:
    assert len(CORPUS) >= 25
    assert {one.get("as", "specification") for one in CORPUS.values()} == FILES.keys()
    assert all(len(name) > 10 for name in CORPUS)
