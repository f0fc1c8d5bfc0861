"""Price lists know the units that a trade brought: goods are priced by its packages, by its measures, or by what these are worth."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from commands import darby
from lofting import JOB, PLUGIN


@pytest.mark.parametrize(
    ("package", "asked", "sum_"),
    [
        ("saved reel of 2 saved squares", "80", "160.00"),
        ("saved reel", "79", "158.00"),
        ("2 saved squares", "81", "162.00"),
        ("per saved square", "45", "180.00"),
        ("200 sq ft saved reel", "83", "166.00"),
        ("per 100 sq ft", "82", "328.00"),
        ("3 saved squares", "81", None),
    ],
)
def test_goods_are_priced_in_units_of_their_trade(tmp_path: Path, package: str, asked: str, sum_: str | None) -> None:
    (tmp_path / "lofting.py").write_text(PLUGIN, encoding="utf-8")
    (tmp_path / "rows.csv").write_text("what,name,length,width\nloft,north,10 ft,9 ft\n", encoding="utf-8")
    (tmp_path / "job.toml").write_text(f'{JOB}[bid]\nprices = ["prices.csv"]\n', encoding="utf-8")
    (tmp_path / "prices.csv").write_text(f"product,package,price\nsaved felt,{package},{asked}\n", encoding="utf-8")
    done = darby("bid", "job.toml", "--run-plugins", "--format", "json", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    (goods,) = (g for g in json.loads(done.stdout)["material"] if g["item"] == "lofting:saved-felt")
    assert (goods["order"], goods["package"]) == (2, "saved reel")
    assert (goods["offer"] and goods["offer"]["sum"]) == sum_
