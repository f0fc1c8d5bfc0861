"""What a code means, which trades there are and what they assume."""

from __future__ import annotations

import json

import pytest

from commands import darby


def test_why_shows_a_page_and_lists_them_all() -> None:
    assert "one face or two" in darby("why", "job-faces").stdout
    assert len(darby("why").stdout.splitlines()) > 20


def test_why_names_the_nearest_of_an_unknown_code() -> None:
    done = darby("why", "job-face\x1b[2J")
    assert done.returncode == 2
    assert "job-faces" in done.stderr
    assert "\x1b" not in done.stderr


def test_help_lists_the_topics_and_shows_one() -> None:
    listed = darby("help").stdout
    assert "papers" in listed
    assert "Measured lists from a spreadsheet" in listed
    assert "CRLF" in darby("help", "papers").stdout


def test_help_names_the_nearest_of_an_unknown_topic() -> None:
    done = darby("help", "shape\x1b[2J")
    assert done.returncode == 2
    assert "shapes" in done.stderr
    assert "\x1b" not in done.stderr
    assert "`darby help` lists them all" in darby("help", "../explanations/unclear").stderr


@pytest.mark.parametrize(
    ("typed", "offered"),
    [
        ("darby es", "estimate"),
        ("darby help sch", "schedules"),
        ("darby why job-fa", "job-faces"),
        ("darby explain --ro", "--rows"),
    ],
)
def test_a_shell_completes_commands_topics_codes_and_options(typed: str, offered: str) -> None:
    asked = {"_DARBY_COMPLETE": "bash_complete", "COMP_WORDS": typed, "COMP_CWORD": str(typed.count(" "))}
    done = darby(**asked)
    assert done.returncode == 0, done.stderr
    assert done.stdout == f"plain,{offered}\n"


def test_the_line_of_the_readme_sets_completion_up() -> None:
    done = darby(_DARBY_COMPLETE="zsh_source")
    assert done.returncode == 0
    assert "#compdef darby" in done.stdout


def test_trades_lists_the_default_lines_with_their_sources() -> None:
    done = darby("trades")
    assert done.returncode == 0, done.stderr
    assert "coatings" in done.stdout
    assert "Primer: one coat." in done.stdout
    assert "common practice" in done.stdout


def test_trades_as_json_give_each_default_line_its_place() -> None:
    data = json.loads(darby("trades", "--format", "json").stdout)
    coatings = next(t for t in data["trades"] if t["name"] == "coatings")
    assert coatings["defaults"]["us"][0]["line"] == 1


def test_why_shows_a_caution_of_a_trade_in_full() -> None:
    done = darby("why", "silica-dust")
    assert done.returncode == 0
    text = " ".join(done.stdout.split())
    assert "The limit is 50 micrograms per cubic metre" in text
    assert "(29 CFR 1926.1153)" in text
