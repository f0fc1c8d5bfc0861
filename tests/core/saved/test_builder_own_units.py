"""A saved estimate whose trade measures in units of its own is opened where its plugin is not there, or has others today."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from commands import darby
from darby.quantities.units import UNITS
from darby.saved.model import Saved
from darby.saved.reader import Reopened, reopen
from darby.saved.writer import laid_out, text_of
from darby.text.spans import Source
from lofting import JOB, PLUGIN
from lofts import net_loft

HOD = {"hod": ["container", "hod", "hods"], "stone": ["14 lb", "stone"]}


def changed(own_units: dict[str, list[str]] | None, content: str = "stone", container: str = "hod") -> str:
    """The net loft with its compound in hods of so many stone, as a plugin would have it that is not here."""
    data: dict[str, Any] = json.loads(net_loft())
    del data["checks"]
    (rule,) = (
        r
        for r in data["rules"]
        if r["says"] == "64 lb per 1 pail" and r["subject"] == "joint compound" and r["layer"] == "house"
    )
    rule["amount"] = {"value": "4", "unit": content}
    rule["per"]["unit"] = container
    rule["says"] = f"4 {content} per 1 {container}"
    return laid_out(data | ({} if own_units is None else {"own_units": own_units}))


def opened(text: str) -> Reopened:
    return reopen(Source("net-loft.json", text))


def test_it_is_opened_by_what_stands_in_it_and_written_the_same() -> None:
    saved, told = opened(changed(HOD))
    assert saved is not None, told
    (rule,) = (r for r in saved.rules if r.per is not None and r.per.unit.name == "hod")
    assert rule.amount.to("lb").exact() == "56 lb"
    assert rule.says() == "4 stone per 1 hod"
    assert not {"hod", "stone"} & UNITS.keys()
    assert text_of(saved) == changed(HOD)


@pytest.mark.parametrize(
    ("own_units", "content", "said"),
    [
        (None, "stone", "it measures in hod, a unit of a plugin that is not here"),
        ({"hod": HOD["hod"]}, "lb/stone", "it measures in stone, a unit of a plugin that is not here"),
        ({**HOD, "lb": ["2 kg"]}, "lb", "its parts do not fit together"),
        ({**HOD, "stone": ["heavy"]}, "stone", "its parts do not fit together"),
        ({**HOD, "stone": []}, "stone", "own_units.stone is not what it should be"),
    ],
)
def test_one_that_does_not_say_what_they_are_or_takes_a_known_one_is_refused(
    own_units: dict[str, list[str]] | None, content: str, said: str
) -> None:
    saved, told = opened(changed(own_units, content))
    assert saved is None
    assert said in told[0].message


@pytest.fixture
def two_lofts(tmp_path: Path) -> Path:
    (tmp_path / "lofting.py").write_text(PLUGIN, encoding="utf-8")
    (tmp_path / "job.toml").write_text(JOB, encoding="utf-8")
    rows = "what,name,length,width\nloft,north,10 ft,9 ft\n"
    (tmp_path / "rows.csv").write_text(rows, encoding="utf-8")
    assert darby("estimate", "job.toml", "--run-plugins", "--save", "a.json", cwd=tmp_path).returncode == 0
    (tmp_path / "rows.csv").write_text(rows.replace("10 ft", "16 ft"), encoding="utf-8")
    assert darby("estimate", "job.toml", "--run-plugins", "--save", "b.json", cwd=tmp_path).returncode == 0
    return tmp_path


def kept(path: Path) -> Saved:
    saved, told = reopen(Source(path.name, path.read_text(encoding="utf-8")))
    assert saved is not None, told
    return saved


def test_an_estimate_keeps_what_the_units_of_its_plugins_are(two_lofts: Path) -> None:
    assert dict(kept(two_lofts / "a.json").own_units) == {
        "saved reel": ("container", "saved reel", "saved reels"),
        "saved square": ("100 sq ft", "saved square", "saved squares"),
    }


@pytest.mark.parametrize(
    ("command", "said"),
    [
        (("compare", "a.json", "b.json"), "the trade lofting cannot be asked today"),
        (("compare", "a.json", "job.toml", "--run-plugins"), "(need +54 sq ft)"),
    ],
)
def test_a_changed_row_of_a_schedule_is_told_with_the_plugin_and_without(
    two_lofts: Path, command: tuple[str, ...], said: str
) -> None:
    done = darby(*command, cwd=two_lofts)
    assert (done.returncode, done.stderr) == (1, "")
    assert said in done.stdout
    assert 'loft "north": length 10 ft to 16 ft, rows.csv, line 2' in done.stdout
    assert "works it out otherwise" not in done.stdout
