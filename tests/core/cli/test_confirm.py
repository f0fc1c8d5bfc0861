"""A reading to confirm is no reason to stop, and reason enough for code 1 under --strict."""

from __future__ import annotations

from typing import Any

import pytest
from attrs import evolve
from click.testing import CliRunner

import made
from darby.cli import jobs
from darby.cli.estimate_output import put_out
from darby.cli.read import read
from darby.estimate.model import Confirmation
from darby.plugin_host.model import Plugins

DOUBTFUL = "A. Quorble the frobnic quux with grimbly sheenery: two coats finish paint upon walls.\n"
"""Four words that nobody knows beside a fact."""


@pytest.mark.parametrize(("doubted", "strict", "code"), [(True, True, 1), (True, False, 0), (False, True, 0)])
def test_an_estimate_ends_with_1_under_strict(
    doubted: bool, strict: bool, code: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    settled = made.estimate(questions=(), unread=())
    rule = settled.rules[0]
    one = Confirmation("what it is said of stands far from it", rule.span, (rule,))
    outcome = jobs.Outcome(evolve(settled, confirmations=(one,) if doubted else ()), (), Plugins())
    monkeypatch.setattr(jobs, "estimate_of", lambda _: outcome)
    assert put_out(jobs.Wanted("job.toml"), "terminal", None, longhand=False, strict=strict) == code


def printed(*arguments: str, given: str) -> Any:
    return CliRunner().invoke(read, arguments, input=given, standalone_mode=False)


def test_read_ends_with_1_under_strict_and_says_what_to_look_at() -> None:
    done = printed("-", "--strict", given=DOUBTFUL)
    assert done.return_value == 1
    assert "To confirm" in done.output
    assert ", 1 to confirm, " in done.output.splitlines()[-1]
    assert printed("-", given=DOUBTFUL).return_value == 0
    assert printed("-", "--strict", given="A. Walls: two coats finish paint.\n").return_value == 0
