from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from darby.cli.shared import again
from darby.cli.shared.again import Again
from darby.cli.shared.jobs import Wanted, estimate_of
from darby.documents.exact_json import estimate as to_json
from darby.reading.cache import read_once
from darby.rules.rule import DEFAULT
from darby.text.files import decode

JOB = """name = "Rope walk"
units = "us"
[documents]
specification = ["board.txt", "paint.txt"]
[[walls]]
name = "long side"
length = "40 ft"
height = "9 ft"
faces = 1
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "job.toml").write_text(JOB, encoding="utf-8")
    (tmp_path / "board.txt").write_text("Gypsum board: 5/8 in. thick, in 4 ft by 12 ft sheets.\n", encoding="utf-8")
    (tmp_path / "paint.txt").write_text("Walls: one coat primer, two coats satin.\n", encoding="utf-8")
    return tmp_path


@pytest.fixture
def met(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """What is opened and read, in order."""
    found: list[str] = []

    def opened(data: bytes, name: str, *args: Any, **how: Any) -> Any:
        found.append(f"opened {name}")
        return decode(data, name, *args, **how)

    def read(source: Any, layer: Any, *args: Any, **how: Any) -> Any:
        if layer != DEFAULT:
            found.append(f"read {source.name}")
        return read_once(source, layer, *args, **how)

    monkeypatch.setattr(again, "decode", opened)
    monkeypatch.setattr(again, "read_once", read)
    return found


def work(folder: Path, known: Again | None) -> str:
    outcome = estimate_of(Wanted(str(folder / "job.toml"), again=known))
    assert outcome.estimate is not None, outcome.problems
    return to_json.make(outcome.estimate)


def test_what_is_as_it_was_is_neither_opened_nor_read_again(folder: Path, met: list[str]) -> None:
    known = Again()
    work(folder, known)
    assert met == ["opened board.txt", "opened paint.txt", "read board.txt", "read paint.txt"]
    met.clear()
    (folder / "job.toml").write_text(JOB.replace("40 ft", "44 ft"), encoding="utf-8")
    made = work(folder, known)
    assert not met
    assert made == work(folder, None)


def test_a_changed_document_alone_is_read_again(folder: Path, met: list[str]) -> None:
    known = Again()
    work(folder, known)
    met.clear()
    (folder / "paint.txt").write_text("Walls: one coat primer, three coats satin.\n", encoding="utf-8")
    made = work(folder, known)
    assert met == ["opened paint.txt", "read paint.txt"]
    assert made == work(folder, None)


def test_a_new_name_in_the_job_has_the_documents_read_again_that_may_speak_of_it(folder: Path, met: list[str]) -> None:
    (folder / "paint.txt").write_text(
        "Walls: one coat primer, two coats satin. Slip hall: three coats.\n", encoding="utf-8"
    )
    known = Again()
    work(folder, known)
    room = '\n[[rooms]]\nname = "{}"\nlength = "9 ft"\nwidth = "9 ft"\nheight = "9 ft"\n'
    (folder / "job.toml").write_text(JOB + room.format("Tarring yard"), encoding="utf-8")
    met.clear()
    assert work(folder, known) == work(folder, None)  # which reads all of it
    assert met[:1] == ["opened board.txt"]  # of the second: the first has read nothing
    (folder / "job.toml").write_text(JOB + room.format("Slip hall"), encoding="utf-8")
    met.clear()
    assert work(folder, known) == work(folder, None)
    assert [one for one in met[: met.index("opened board.txt")] if one.endswith(".txt")] == ["read paint.txt"]


def test_a_mark_that_another_document_comes_to_define_is_heard(folder: Path) -> None:
    known = Again()
    (folder / "board.txt").write_text("PT-1: two coats satin.\n", encoding="utf-8")
    (folder / "paint.txt").write_text("Long side: PT-1.\nPrimer: one coat.\n", encoding="utf-8")
    for coats in ("two", "three"):
        (folder / "board.txt").write_text(f"PT-1: {coats} coats satin finish paint.\n", encoding="utf-8")
        assert work(folder, known) == work(folder, None)


def test_a_document_that_is_named_twice_is_two_documents(folder: Path) -> None:
    (folder / "job.toml").write_text(JOB.replace('"paint.txt"', '"paint.txt", "paint.txt"'), encoding="utf-8")
    known = Again()
    for _ in range(2):
        outcome = estimate_of(Wanted(str(folder / "job.toml"), again=known))
        assert outcome.estimate is not None
        assert len({id(source) for source, _ in outcome.estimate.papers}) == 3


def test_what_cannot_be_opened_is_told_each_time_at_its_place(folder: Path) -> None:
    (folder / "paint.txt").write_bytes(b"")
    known = Again()
    for _ in range(2):
        outcome = estimate_of(Wanted(str(folder / "job.toml"), again=known))
        assert [d.code for d in outcome.problems] == ["file-empty"]
        assert outcome.problems[0].span is not None
        assert outcome.problems[0].span.text == "paint.txt"


PLUGIN = """
from darby.api import Document, hookimpl

DARBY_API = 1


@hookimpl
def darby_documents():
    return (Document("NAME", "a word", lambda estimate: "NAME"),)
"""


def test_a_plugin_is_loaded_again_where_its_file_is_another(folder: Path) -> None:
    (folder / "ours.py").write_text(PLUGIN.replace("NAME", "first"), encoding="utf-8")
    (folder / "job.toml").write_text(JOB + '[plugins]\nfiles = ["ours.py"]\n', encoding="utf-8")
    known = Again()
    wanted = Wanted(str(folder / "job.toml"), run_plugins=True, again=known)
    plugins = [estimate_of(wanted).plugins for _ in range(2)]
    assert plugins[0] is plugins[1]
    (folder / "ours.py").write_text(PLUGIN.replace("NAME", "another"), encoding="utf-8")
    assert {one.name for one in estimate_of(wanted).plugins.documents} == {"cuts.csv", "another"}
