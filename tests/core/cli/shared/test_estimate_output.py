"""Documents in the formats there are, and in those that plugins bring."""

from __future__ import annotations

from pathlib import Path

import pytest
from attrs import evolve

import made
from commands import JOB, darby
from darby.cli.shared import jobs
from darby.cli.shared.estimate_output import Shown, put_out
from darby.estimate.model import Confirmation
from darby.plugin_host.model import Plugins


def test_an_unknown_format_names_those_there_are(folder: Path) -> None:
    done = darby("estimate", "job.toml", "--format", "jsno", cwd=folder)
    assert done.returncode == 2
    assert "json" in done.stderr


def test_a_document_without_a_word_for_the_trades_is_said_to_be_one(folder: Path) -> None:
    (folder / "section.txt").write_text("The lift shall carry eight persons.\n", encoding="utf-8")
    done = darby("estimate", "job.toml", cwd=folder)
    assert done.returncode == 0
    assert "section.txt says nothing" in " ".join(done.stdout.split())


DOCUMENTS = """\
from darby.estimate.document_format import Document
from darby.plugin_host.hooks import hookimpl

DARBY_API = 1


def broken(estimate):
    return estimate.no_such_thing


@hookimpl
def darby_documents():
    return [
        Document("count", "how many lines", lambda estimate: f"{len(estimate.items)} lines\\n"),
        Document("bytes", "raw", lambda estimate: bytes([0, 255])),
        Document("broken", "fails", broken),
        Document("nothing", "gives none", lambda estimate: None),
    ]
"""


@pytest.fixture
def with_documents(folder: Path) -> Path:
    (folder / "extra.py").write_text(DOCUMENTS, encoding="utf-8")
    (folder / "job.toml").write_text(JOB + '\n[plugins]\nfiles = ["extra.py"]\n', encoding="utf-8")
    return folder


def test_a_format_that_a_plugin_brings_is_written_as_it_is(with_documents: Path) -> None:
    count = darby("estimate", "job.toml", "--run-plugins", "--format", "count", cwd=with_documents)
    assert count.returncode == 0, count.stderr
    assert count.stdout.endswith(" lines\n")
    raw = darby("estimate", "job.toml", "--run-plugins", "--format", "bytes", cwd=with_documents)
    assert (raw.returncode, raw.written) == (0, bytes([0, 255]))


@pytest.mark.parametrize("form", ["broken", "nothing"])
def test_a_format_that_fails_is_told_and_ends_with_3(with_documents: Path, form: str) -> None:
    done = darby("estimate", "job.toml", "--run-plugins", "--format", form, cwd=with_documents)
    assert (done.returncode, done.stdout) == (3, "")
    assert "document-failed" in done.stderr
    assert "Traceback" not in done.stderr


def test_longhand_follows_each_line_when_asked(tmp_path: Path) -> None:
    done = darby("demo", "--longhand", cwd=tmp_path)
    assert done.stdout.count("rounded up =") >= 5


@pytest.mark.parametrize(("doubted", "strict", "code"), [(True, True, 1), (True, False, 0), (False, True, 0)])
def test_an_estimate_ends_with_1_under_strict(
    doubted: bool, strict: bool, code: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    settled = made.estimate(questions=(), unread=())
    rule = settled.rules[0]
    one = Confirmation("what it is said of stands far from it", rule.span, (rule,))
    outcome = jobs.Outcome(evolve(settled, confirmations=(one,) if doubted else ()), (), Plugins())
    monkeypatch.setattr(jobs, "estimate_of", lambda _: outcome)
    assert put_out(jobs.Wanted("job.toml"), "terminal", None, shown=Shown(), strict=strict) == code
