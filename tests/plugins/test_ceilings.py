"""Suspended ceilings: the example that declares a table, settings, a unit and surfaces of its own. Its cases run beside the other examples'."""

from __future__ import annotations

import pytest

from darby.saved.comparison import moved
from darby.saved.reader import reopen
from darby.saved.replay.one import Office
from darby.saved.writer import text_of, with_longhand
from darby.testing import Bench
from darby.text.spans import Source
from outsiders import outsiders, own


@pytest.fixture(scope="module")
def bench() -> Bench:
    return Bench.of("ceilings", "Ceilings: suspended ceiling.", entries=[*outsiders(), *own()])


def test_a_ceiling_of_its_own_table_is_saved_opened_and_worked_out_again(bench: Bench) -> None:
    text = 'name = "j"\nunits = "us"\n[settings.ceilings]\npanel_length = "4 ft"\n[[clouds]]\nname = "c"\nlength = "8 ft"\nwidth = "4 ft"\n'
    office = Office.of(bench.plugins)
    worked = office.work(Source("job.toml", text), [])
    assert worked.estimate is not None
    assert worked.saved is not None
    kept = text_of(with_longhand(worked.saved, worked.estimate))
    opened, wrong = reopen(Source("j.json", kept), bench.language.kinds)
    assert opened is not None, wrong
    assert text_of(opened) == kept
    again = office.again(opened)
    assert again.saved is not None
    assert not moved(opened, again.saved)
    assert {i.product for i in worked.estimate.items} >= {"lay-in panel", "hanger wire"}


def test_a_panel_that_is_cut_is_a_whole_one(bench: Bench) -> None:
    hall = '[[ceilings]]\nname = "hall"\nlength = "{}"\nwidth = "{}"\n'
    for sides, count in ((("10 ft", "8 ft"), 20), (("10 ft 1 in", "8 ft"), 24), (("10 ft 1 in", "8 ft 1 in"), 30)):
        made = bench.estimate(bench.job(hall.format(*sides)))
        (panels,) = (i for i in made.items if i.product == "lay-in panel")
        assert panels.need.value == count, sides


def test_an_unusual_box_waits_to_be_confirmed(bench: Bench) -> None:
    (usual,) = bench.read("Lay-in panels come in boxes of 12.").rules
    assert usual.confirm == ""
    (rule,) = bench.read("Lay-in panels come in boxes of 160.").rules
    assert "usual is 4 to 40 (common practice" in rule.confirm
