"""The tables: one stated dialect, exact values that come back, nothing a spreadsheet would run."""

from __future__ import annotations

import csv
import io
from fractions import Fraction

import pytest

import decks
import handed
from darby.documents.exact_json.estimate import estimate_json
from darby.documents.tables import BOM, read_csv

TABLES = ("csv", "working.csv", "measured.csv", "rules.csv", "open.csv", "order.csv")
LETHAL = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20")


def by_hand(data: bytes) -> list[list[str]]:
    """What Python's own reader makes of a table, told nothing of ours."""
    return list(csv.reader(io.StringIO(data.decode("utf-8-sig"), newline="")))


@pytest.mark.parametrize("name", TABLES)
def test_a_table_is_utf_8_with_a_mark_and_ends_its_lines_as_rfc_4180_has_it(name: str) -> None:
    data = handed.table(name)
    assert data.startswith(BOM.encode())
    assert data.endswith(b"\r\n")
    assert data.count(b"\r\n") == data.count(b"\n")
    assert len({len(row) for row in by_hand(data)}) == 1


def test_the_lines_of_the_demo_are_those_of_its_json() -> None:
    rows = read_csv(handed.table("csv"))
    items = handed.demo_json()["items"]
    assert [(r["id"], Fraction(r["needed exact"]), r["unit"], r["order"], r["package"]) for r in rows] == [
        (i["id"], Fraction(i["need"]["value"]), i["need"]["unit"], str(i["order"]["count"]), i["order"]["container"])
        for i in items
    ]
    assert [(Fraction(r["holds exact"]), r["holds unit"]) for r in rows] == [
        (Fraction(i["order"]["package"]["value"]), i["order"]["package"]["unit"]) for i in items
    ]


def test_the_working_of_the_demo_is_that_of_its_json() -> None:
    rows = read_csv(handed.table("working.csv"))
    steps = [(i["id"], w) for i in handed.demo_json()["items"] for w in i["working"]]
    assert [(r["id"], Fraction(r["value exact"]), r["unit"]) for r in rows] == [
        (name, Fraction(w["value"]), w["unit"]) for name, w in steps
    ]


def test_the_measured_rows_of_the_demo_are_those_of_its_json() -> None:
    rows = read_csv(handed.table("measured.csv"))
    job = handed.demo_json()["job"]
    surfaces = rows[: len(job["surfaces"])]
    assert [(r["name"], Fraction(r["area of one (sq ft) exact"]), r["line"]) for r in surfaces] == [
        (s["name"], Fraction(s["area"]["value"]), str(s["line"])) for s in job["surfaces"]
    ]
    assert len(rows) == sum(len(job[part]) for part in ("surfaces", "openings", "corners"))


def test_the_order_of_the_demo_is_that_of_its_json() -> None:
    rows = read_csv(handed.table("order.csv"))
    assert sorted((r["product"], int(r["order"]), r["package"], r["holds exact"]) for r in rows) == sorted(
        (i["product"], i["order"]["count"], i["order"]["container"], i["order"]["package"]["value"])
        for i in handed.demo_json()["items"]
    )
    assert "needed" not in rows[0]


def test_every_question_assumption_and_number_not_read_has_a_row() -> None:
    rows, data = read_csv(handed.table("open.csv")), handed.demo_json()
    counted = {
        what: sum(r["what"] == what for r in rows) for what in ("question", "assumption", "conflict", "not read")
    }
    assert list(counted.values()) == [len(data[k]) for k in ("questions", "assumptions", "conflicts", "unread")]
    assert all(counted.values())


def test_every_rule_has_a_row_with_its_clause() -> None:
    rows = read_csv(handed.table("rules.csv"))
    assert len(rows) == len(handed.demo().rules)
    spread = next(r for r in rows if r["says"] == "350 sq ft per gal")
    assert (spread["clause"], spread["amount"], spread["per unit"]) == ("09 91 23, 3.02 D", "350", "gal")


@pytest.mark.parametrize("nasty", handed.NASTY)
@pytest.mark.parametrize("name", TABLES)
def test_no_cell_of_a_hostile_job_starts_a_formula_or_hides_a_sign(name: str, nasty: str) -> None:
    rows = by_hand(handed.table(name, handed.hostile(nasty)))
    for cell in (c for row in rows for c in row):
        assert not cell.lstrip(" \u00a0").startswith(LETHAL), cell
        assert not [
            c
            for c in cell
            if (ord(c) < 32 and c not in "\t\r\n") or 127 <= ord(c) < 160 or c in "\u202e\u2066\u200b\ufffe"
        ]


def test_equal_estimates_give_equal_tables() -> None:
    assert estimate_json(handed.demo()) == handed.demo_json()
    assert handed.table("working.csv") == handed.table("working.csv")


def test_what_was_measured_stands_in_the_units_of_the_heads_and_tables_of_trades_with_all_that_their_keys_say() -> None:
    rows = by_hand(handed.table("measured.csv", decks.estimate()))
    head = [name.removesuffix(" exact").strip("'") for name in rows[0]]
    kept = [n for n, name in enumerate(rows[0]) if name not in ("file",) and not name.endswith(" exact")]
    assert [head[n] for n in kept[4:8]] == [
        "length or width (ft)", "height or second side (ft)", "area of one (sq ft)", "faces or count",
    ]  # fmt: skip
    assert [[row[n] for n in kept] for row in rows[1:]] == [
        ["wall", "north", "", "", "12", "8", "96", "1", "5"],
        ["deck", "roof", "Attic", "", "20", "12", "240", "1", "11"],
        ["opening", "skylight", "Attic", "roof", "2", "3", "6", "1", "22"],
        ["outside corner", "", "", "", "", "8", "", "3", "33"],
        ["laid", "diagonal", "Attic", "roof", "", "", "", "", "15"],
        ["side", "", "Attic", "roof", "1.5", "", "", "", "16"],
        ["shade", "", "Attic", "roof", "", "", "9", "", "17"],
        ["hatches", "", "Attic", "roof", "", "", "", "2", "18"],
        ["heated", "yes", "Attic", "roof", "", "", "", "", "19"],
        ["vents", "'=V1", "", "", "", "", "", "", "28"],
        ["size", "", "", "'=V1", "0.5", "", "", "", "29"],
        ["maker", "Vale", "", "'=V1", "", "", "", "", "30"],
    ]
