"""The report of a firm's own rates, and the files of lines that come of it."""

from __future__ import annotations

import json

import pytest
from jsonschema import ValidationError

from bids import lexicon, plugins
from commands import checked
from darby.bid.history import report
from darby.bid.sheet.bid_sheet import in_form
from darby.bid.tasks import operations_of
from darby.labor.rate_lines import read_rates, vocabulary
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.read import Language, read
from darby.rules.rule import HOUSE
from darby.text.spans import Source
from finished import found, hung

COMPOUND = "".join(f"job {n},joint compound,1000 sq ft,{w} lb,,,,,,,,\n" for n, w in enumerate((131, 134, 139)))
RATES = found(
    hung(10, 12, 14, 16, 18, 90)
    + COMPOUND
    + "pier,primer,1000 sq ft,4 gal,,,,,,,,\nmill,primer,9 sq ft,4 gal,,,,,,,*flooded*,\n"
)


def test_it_says_median_spread_jobs_and_what_to_look_at(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("COLUMNS", raising=False)  # as piped: a narrow terminal breaks the lines of a table
    text = " ".join(in_form(report.write(RATES), "terminal").split())
    assert "joint compound lb per 100 sq ft 3 13.4 13.1 to 13.9" in text
    assert "6 1.5 1.25 to 1.75 1 to 9" in text
    assert "far from the others, and counted: job 5 (9; jobs.csv, line 7)" in text
    assert "primer: no line is proposed. 3 jobs are wanted" in text
    assert "not counted, mill (jobs.csv, line 12): *flooded*" in text
    assert "\\*flooded\\*" in in_form(report.write(RATES), "md")
    assert "Nothing here is used until you put a line" in text


def test_the_files_are_read_as_a_firms_own_without_a_word() -> None:
    language = Language.of(plugins().readers, plugins().vocabularies)
    house = read(Source("house.txt", report.lines(RATES, works=False)), HOUSE, language, strict=True)
    assert not house.diagnostics
    assert [(r.subject, r.kind.name, r.cited) for r in house.rules] == [
        ("joint compound", "consumption", "median of our 3 finished jobs")
    ]
    words = Lexicon.of((vocabulary(), *lexicon().vocabularies))
    rates, told = read_rates(Source("labor.txt", report.lines(RATES, works=True)), operations_of(plugins()), words)
    assert not told
    assert [(r.operation, r.cited) for r in rates] == [("hang gypsum board", "median of our 6 finished jobs")]


def test_plain_data_has_exact_figures_and_keeps_to_its_schema() -> None:
    data = checked("history", json.dumps(report.rates_json(RATES)))
    (primer,) = (one for one in data["rates"] if one["name"] == "primer")
    assert [(row["job"], row["why"], row["row"]["line"]) for row in primer["left_out"]] == [("mill", "*flooded*", 12)]
    assert primer["line"] == ""
    (hang,) = (one for one in data["rates"] if one["work"])
    assert (hang["median"], hang["middle"], hang["far"], hang["jobs"]) == ("3/2", ["5/4", "7/4"], ["job 5"], 6)


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("schema",), "darby.history/2"),
        (("rates", 0, "median"), 1.5),
        (("rates", 0, "middle"), ["1"]),
        (("rates", 0, "figures", 0, "rows"), []),
        (("rates", 0, "line"), ""),
        (("rates", 0, "more"), "x"),
    ],
)
def test_the_schema_refuses_what_is_otherwise(path: tuple[str | int, ...], value: object) -> None:
    data = json.loads(json.dumps(report.rates_json(RATES)))
    at = data
    for step in path[:-1]:
        at = at[step]
    at[path[-1]] = value
    with pytest.raises(ValidationError):
        checked("history", json.dumps(data))


def test_no_rows_are_no_mistake() -> None:
    assert "The files have no rows." in in_form(report.write(()), "terminal")
