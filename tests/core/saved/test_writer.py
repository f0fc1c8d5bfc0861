"""What is written of an estimate: each line to order in full, its longhand, its places; and files written in one step."""

from __future__ import annotations

import json
import os
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from attrs import evolve

from darby.saved.model import Choices, Line, Measure
from darby.saved.writer import checksums, laid_out, saved_json, text_of, write
from lofts import SPEC, kept, net_loft


def data() -> dict[str, Any]:
    found: dict[str, Any] = json.loads(net_loft())
    return found


def item(product: str) -> dict[str, Any]:
    (found,) = (i for i in data()["items"] if i["product"] == product)
    return dict(found)


def test_a_line_to_order_is_told_in_full_and_by_hand() -> None:
    compound = item("joint compound")
    # 799 sq ft at 13 lb per 100 are 103.87 lb: two pails of 64
    assert {k: compound[k] for k in ("id", "trade", "product", "pool", "need", "order")} == {
        "id": "joints:joint-compound",
        "trade": "joints",
        "product": "joint compound",
        "pool": {},
        "need": {"value": "10387/100", "unit": "lb"},
        "order": {"count": 2, "package": {"value": "64", "unit": "lb"}, "container": "pail"},
    }
    board = item("gypsum board")
    assert board["order"]["package"] == {"value": "32", "unit": "sq ft"}
    assert board["pool"] == {"thickness": "1/2 in", "sheet": "4 ft x 8 ft"}


def test_the_longhand_is_told_line_by_line_with_exact_values_and_places() -> None:
    lines = item("joint compound")["working"]
    assert all(set(line) == {"text", "value", "unit", "from"} for line in lines)
    assert lines[-1]["text"] == "order: 103.87 lb ÷ 64 lb per pail = 1.62 pails, rounded up = 2 pails"
    assert (lines[-1]["value"], lines[-1]["unit"], lines[-1]["from"]) == ("2", "pail", [])
    (rate,) = (line for line in lines if line["text"].startswith("joint compound consumption"))
    assert (Fraction(rate["value"]), rate["unit"], rate["from"]) == (Fraction(13, 100), "lb/sq ft", ["house.txt:1:17"])
    (sea,) = (line for line in lines if line["text"].startswith("sea wall"))
    assert (Fraction(sea["value"]), sea["unit"]) == (327, "sq ft")
    assert len(sea["from"]) == len(set(sea["from"])) == 3
    assert all(place.startswith("job.toml:") for place in sea["from"])


def test_rules_are_told_with_their_places_and_lines_name_the_rules_behind_them() -> None:
    rules = data()["rules"]
    (cover,) = (r for r in rules if r["kind"] == "coverage" and r["layer"] == "specification")
    start = SPEC.index("250 sq ft")
    assert cover["says"] == "250 sq ft per 1 gal"
    assert (cover["amount"], cover["per"]) == ({"value": "250", "unit": "sq ft"}, {"value": "1", "unit": "gal"})
    assert (cover["span"][0], cover["at"], cover["bound"], cover["cited"]) == (start, "spec.txt:2:12", "exact", "")
    assert data()["texts"][cover["source"]]["name"] == "spec.txt"
    assert "upper" not in cover
    assert "by" not in cover
    assert rules.index(cover) in item("primer")["rules"]
    for one in data()["items"]:
        assert len(one["rules"]) == len(set(one["rules"]))
        assert one["rules"]


def test_the_account_of_a_document_holds_what_was_not_read() -> None:
    (paper,) = (t for t in data()["texts"] if t["as"] == "specification")
    told = [(SPEC[a:b], became) for a, b, became, _ in paper["numbers"]]
    assert ("ASTM C840", "set aside") in told
    assert ("17", "unread") in told
    assert all(why for *_, why in paper["numbers"])
    for one in paper["told"]:
        assert set(one) == {"code", "severity", "message", "help", "at"}


def test_a_line_without_a_package_has_no_order_and_choices_are_told_as_chosen() -> None:
    saved, _ = kept()
    bare = Line("a", "t", "p", (("k", "v"),), Measure(Fraction(1, 3), "gal"))
    told = saved_json(evolve(saved, items=(bare,), choices=Choices("metric", ("x",), ("y",)), missing=("z",)))
    assert told["items"] == [
        {"id": "a", "trade": "t", "product": "p", "pool": {"k": "v"}, "need": {"value": "1/3", "unit": "gal"}, "order": None,
         "rules": [], "notes": [], "working": []}
    ]  # fmt: skip
    assert told["choices"] == {"units": "metric", "without": ["x"], "only": ["y"]}
    assert told["missing"] == ["z"]
    assert saved_json(saved)["choices"] == {"units": None, "without": [], "only": None}


def test_the_text_is_laid_out_part_by_part_and_line_by_line() -> None:
    lines = net_loft().split("\n")
    assert (lines[0], lines[-2], lines[-1]) == ("{", "}", "")
    for key, value in data().items():
        assert sum(line.startswith(f'"{key}": ') for line in lines) == 1
        if isinstance(value, list) and value:
            at = lines.index(f'"{key}": [')
            assert [json.loads(line.rstrip(",")) for line in lines[at + 1 : at + 1 + len(value)]] == value
    assert laid_out({"a": [], "b": "ä"}).startswith('{\n"a": [],\n"b": "ä",\n"checks": {\n')


def test_every_part_has_its_own_check_and_half_a_letter_does_no_harm() -> None:
    sums = checksums(net_loft())
    assert list(sums) == [key for key in data() if key != "checks"]
    assert data()["checks"] == sums
    assert checksums(net_loft().replace("\n", "\r\n")) == sums
    for key in ("name", "items"):
        changed = checksums(net_loft().replace('"name": "Net loft"', '"name": "Net left"')) if key == "name" else None
        if changed is not None:
            assert [k for k in sums if changed[k] != sums[k]] == ["name"]
    odd = laid_out({"name": "a\udc80b"})
    assert '"name": "a?b"' in odd
    assert json.loads(odd)["checks"] == checksums(odd)


def test_a_new_file_gets_the_rights_any_other_would_have(tmp_path: Path) -> None:
    before = os.umask(0o027)
    try:
        write(tmp_path / "new.json", "x")
        (tmp_path / "other").write_text("x")
        assert os.umask(0o027) == 0o027
    finally:
        os.umask(before)
    assert (tmp_path / "new.json").stat().st_mode == (tmp_path / "other").stat().st_mode


def test_text_and_bytes_are_written_as_they_are(tmp_path: Path) -> None:
    write(tmp_path / "a", "ä\r\n\udc80")
    assert (tmp_path / "a").read_bytes() == "ä\r\n?".encode()
    write(tmp_path / "a", b"\xff\x00")
    assert (tmp_path / "a").read_bytes() == b"\xff\x00"
    write(tmp_path / ("n" * 200), "x")
    assert sorted(p.name[:3] for p in tmp_path.iterdir()) == ["a", "nnn"]


def test_a_save_that_is_broken_off_leaves_no_part_behind(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def stop(*_: Any) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "replace", stop)
    with pytest.raises(KeyboardInterrupt):
        write(tmp_path / "a", "x")
    assert list(tmp_path.iterdir()) == []


def test_the_folder_is_made_to_last_as_well(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Only when the folder is on the disk does a new name outlast a power cut."""
    kept_: list[bool] = []
    sync = os.fsync
    monkeypatch.setattr(
        os, "fsync", lambda handle: (kept_.append(os.path.isdir(f"/proc/self/fd/{handle}")), sync(handle))[1]
    )
    write(tmp_path / "a", "x")
    assert kept_ == [False, True]
    assert text_of(kept()[0]) == net_loft()
