"""What the pages show, as plain values."""

from __future__ import annotations

import re
from pathlib import Path

from attrs import evolve, frozen

from darby.desk.panes.grid import MEASURES, digest
from darby.desk.views import Asked, page
from darby.estimate.model import Estimate
from darby.job.loader import KINDS
from darby.text.diagnostics import Diagnostic
from desks import JOB, Visitor, bench, loft


@frozen
class Finished:
    """A job that was worked out."""

    estimate: Estimate | None
    problems: tuple[Diagnostic, ...]


def test_every_key_of_the_grid_is_one_that_a_job_may_have() -> None:
    for table, keys in MEASURES.items():
        known = KINDS[table.removesuffix("s")]
        assert {key for key, _, _ in keys} <= {*known, "condition"}, table


def test_rows_show_what_was_written_and_what_was_understood(tmp_path: Path) -> None:
    shown = page(bench(loft(tmp_path)), Asked(table="rooms"), "key")
    row = shown["measures"]["rows"][0]
    assert {key: said for key, said, _ in row["cells"]}["length"] == "10 ft"
    assert row["understood"] == ["wall 288 sq ft", "ceiling 80 sq ft"]  # (10 + 8) x 2 x 8; 10 x 8
    assert row["sketch"].said == "Plan: 10 ft by 8 ft"
    walls = page(bench(tmp_path), Asked(table="walls"), "key")["measures"]["rows"]
    assert walls[0]["understood"] == ["wall 345.17 sq ft"]  # 36 1/3 x 9 1/2


def test_what_a_cell_cannot_show_is_told_as_standing_in_the_file(tmp_path: Path) -> None:
    (loft(tmp_path) / "job.toml").write_text(
        JOB.replace('height = "8 ft"', 'height = "8 ft"\ncolor = "Fog"\nalso = ["parlour"]'), encoding="utf-8"
    )
    row = page(bench(tmp_path), Asked(), "key")["measures"]["rows"][0]
    assert row["more"] == ["color = Fog", "also = ['parlour']"]


def test_a_mistake_stands_at_its_row(tmp_path: Path) -> None:
    (loft(tmp_path) / "job.toml").write_text(JOB.replace('"10 ft"', '"ten"'), encoding="utf-8")
    shown = page(bench(tmp_path), Asked(), "key")
    assert shown["stale"]
    assert shown["measures"]["rows"][0]["problems"]
    assert shown["problems"][0]["row"] == {"table": "rooms", "number": 0, "name": "Stove room"}


def test_the_mark_of_a_row_moves_with_what_it_holds() -> None:
    assert digest({"a": 1}) == digest({"a": 1}) != digest({"a": 2})


def test_documents_are_shown_with_their_marks_and_unknown_names_fall_back(tmp_path: Path) -> None:
    here = bench(loft(tmp_path))
    shown = page(here, Asked(document="finishes.txt"), "key")["documents"]
    assert shown["open"] == "finishes.txt"
    assert shown["text"].startswith("GYPSUM")
    assert any(piece.mark for _, line in shown["marked"]["lines"] for piece in line)
    assert page(here, Asked(document="../x"), "key")["documents"]["open"] == "finishes.txt"


def test_points_that_say_the_same_have_fields_of_their_own(tmp_path: Path) -> None:
    visitor = Visitor(loft(tmp_path), doubted="two coats")
    made = visitor.bench.work_out()
    assert made.estimate is not None
    twice = evolve(made.estimate, confirmations=made.estimate.confirmations * 2)
    visitor.bench.work_out = lambda: Finished(twice, ())
    ids = re.findall(r'\bid="([^"]+)"', visitor.get("/").text)
    assert len([one for one in ids if re.fullmatch(r"c\w+-\d-l", one)]) == 2 * len(made.estimate.confirmations) > 0
    assert len(ids) == len(set(ids))


def test_a_large_job_stands_at_the_desk_in_full(tmp_path: Path) -> None:
    """The page of papers holds long lists as data, which no script of the desk lays out."""
    rooms = "".join(
        f'[[rooms]]\nname = "Berth {n}"\nlength = "{n + 10} ft"\nwidth = "10 ft"\nheight = "8 ft"\n\n'
        for n in range(200)
    )
    folder = loft(tmp_path)
    (folder / "job.toml").write_text(JOB + "\n" + rooms, encoding="utf-8")
    shown = page(bench(folder), Asked("job.toml", "rooms"), "k")
    lines = shown["documents"]["marked"]["lines"]
    assert len(lines) > 600
    assert {name for name, _ in lines} >= {str(number) for number in range(1, 600)}
    paint = next(item for item in shown["books"].items if item["product"] == "primer")
    worked = shown["books"].working(paint["id"])
    assert sum(step["label"].startswith("Berth ") for step in worked["steps"]) >= 1000
