"""Saved estimates of earlier days: they must load for ever, and order today what they ordered then.

Renew one with `pytest tests/core/saved/test_reader_golden.py --force-regen`, after reading what moved, which the failure tells.
"""

from __future__ import annotations

import pytest
from pytest_regressions.file_regression import FileRegressionFixture

from checkout import ROOT
from darby.saved.model import SCHEMA, Choices
from darby.saved.reader import reopen
from darby.saved.replay.file import Setup, office_for
from darby.saved.writer import text_of
from darby.testing.saved import again, same_order
from darby.text.bounded_json import parse
from darby.text.spans import Source

GOLDEN = ROOT / "fixtures" / "saved"
CLAIMED = ("net-loft.json",)


@pytest.mark.parametrize("name", CLAIMED)
def test_what_was_saved_then_orders_the_same_today(name: str, file_regression: FileRegressionFixture) -> None:
    saved = GOLDEN / name
    file_regression.check(again(saved), fullpath=saved, encoding="utf-8", check_fn=same_order)


@pytest.mark.parametrize("name", CLAIMED)
def test_a_saved_file_names_no_folder_and_no_date(name: str) -> None:
    data, mistake = parse(Source(name, (GOLDEN / name).read_text("utf-8")))
    assert mistake is None
    assert data["schema"] == SCHEMA
    assert [t["name"] for t in data["texts"]][:3] == ["job.toml", "house.txt", "spec.txt"]
    assert not [t["name"] for t in data["texts"] if t["name"].startswith("/")]


@pytest.mark.parametrize("name", CLAIMED)
def test_a_saved_file_is_canonical_read_back_it_is_the_same_text(name: str) -> None:
    text = (GOLDEN / name).read_text("utf-8")
    saved, told = reopen(Source(name, text), office_for(Setup(), Choices()).language.kinds)
    assert saved is not None, told
    assert text_of(saved) == text


def test_every_saved_file_is_claimed_by_a_test() -> None:
    assert {p.name for p in GOLDEN.iterdir()} == set(CLAIMED)
