"""A line of her own, looked at before it is written."""

from __future__ import annotations

from pathlib import Path

from darby.desk.own_line import Heard
from desks import bench, loft, look


def test_a_line_says_what_it_would_be_read_as() -> None:
    assert look()("Walls: two coats semi-gloss.", None) == Heard(("finish paint, semi-gloss, wall: 2 coats",))


def test_a_line_that_is_not_understood_says_why() -> None:
    for line in ("", "Paint it nicely.", "Walls: two cotas.", "x" * 401):
        heard = look()(line, None)
        assert heard.wrong, line
        assert not heard.says


def test_rooms_of_the_job_are_known_in_it(tmp_path: Path) -> None:
    (loft(tmp_path) / "job.toml").write_text(
        'name = "x"\nunits = "us"\n[[rooms]]\nname = "Quibbery"\nlength = "9 ft"\nwidth = "9 ft"\nheight = "8 ft"\n', encoding="utf-8"
    )  # fmt: skip
    made = bench(tmp_path).look().estimate
    assert made is not None
    assert look()("Quibbery walls: two coats semi-gloss.", made.job).says == (
        "finish paint, quibbery, semi-gloss, wall: 2 coats",
    )
