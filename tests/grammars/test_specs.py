"""Whole documents of fixtures/specs and what each must mean, kept beside it in a file of the same name.

A `.means.toml` holds `rules`, each as `LINE: kind of subject (scope): amount`, and `unread`, each as `LINE: number`. Both
are whole: a rule too many fails as a rule that is missing does. What must be asked about stands in `asked`, as `LINE`.
"""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from checkout import ROOT
from darby.testing.cases import rule_said
from reads import read_text

SPECS = ROOT / "fixtures" / "specs"
DOCUMENTS = sorted(SPECS.glob("*.txt"))


@pytest.mark.parametrize("path", DOCUMENTS, ids=lambda path: path.stem)
def test_a_document_means_what_is_written_beside_it(path: Path) -> None:
    reading = read_text(path.read_text(encoding="utf-8"))
    means = tomllib.loads(path.with_suffix(".means.toml").read_text(encoding="utf-8"))
    assert [f"{rule.span.line}: {rule_said(rule)}" for rule in reading.rules] == means["rules"]
    assert [f"{n.span.line}: {n.span.text}" for n in reading.numbers if n.became == "unread"] == means["unread"]
    asked = {label.span.line for d in reading.diagnostics for label in d.labels}
    assert sorted(set(means["asked"]) - asked) == []


def test_every_document_has_its_meaning_beside_it_and_none_is_left_over() -> None:
    assert {p.stem for p in DOCUMENTS} == {p.name.removesuffix(".means.toml") for p in SPECS.glob("*.means.toml")}
