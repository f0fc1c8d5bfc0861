"""A line of her own, looked at before it is written."""

from __future__ import annotations

from pathlib import Path

from darby.desk.own_line import Heard, words_for
from darby.plugin_host.loader import load_plugins
from desks import Visitor, bench, loft, look


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


def test_a_line_is_completed_by_goods_surfaces_and_looks_each_as_it_is_usually_spelled() -> None:
    words = words_for(load_plugins())
    assert {"walls", "ceilings", "finish paint", "gypsum board", "eggshell", "satin"} <= set(words)
    assert not {"wall", "gyp. bd.", "gb", "e/s"} & set(words)
    assert len(words) == len(set(words))


def test_what_a_line_is_completed_by_is_understood_in_one() -> None:
    words = set(words_for(load_plugins()))
    for line in ("Walls: two coats eggshell finish paint.", "Gypsum board on ceilings: 2 layers."):
        assert not look()(line, None).wrong
        assert [word for word in words if word in line.lower()]


def test_the_rooms_of_the_job_complete_a_line_too(tmp_path: Path) -> None:
    assert {"Stove room", "walls"} <= set(Visitor(loft(tmp_path)).get("/words").json())
