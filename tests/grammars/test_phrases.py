"""Every phrase of fixtures/phrases, read as a specification, means what its case says."""

from __future__ import annotations

from collections import Counter
from typing import Any

import pytest

from darby.testing.cases import rule_said
from darby.text.diagnostics import Severity
from phrase_cases import KEYS, phrases
from reads import read_text

CASES = [
    pytest.param(case, id=name, marks=[pytest.mark.xfail(reason=case["open"], strict=True)] if "open" in case else [])
    for name, case in phrases().items()
]


@pytest.mark.parametrize("case", CASES)
def test_a_phrase_means_what_its_case_says(case: dict[str, Any]) -> None:
    reading = read_text(case["text"])
    assert differences(case.get("rules", ()), [rule_said(rule) for rule in reading.rules]) == []
    unread = [n.span.text for n in reading.numbers if n.became == "unread"]
    assert unread == case.get("unread", [])
    aside = [(n.span.text, n.why) for n in reading.numbers if n.became == "set aside"]
    wanted = [entry.partition(" = ")[::2] for entry in case.get("aside", ())]
    assert [text for text, _ in aside] == [text for text, _ in wanted]
    assert [why for (_, why), (_, begins) in zip(aside, wanted, strict=True) if not why.startswith(begins)] == []
    messages = [d.message for d in reading.diagnostics]
    assert [part for part in case.get("asked", ()) if not any(part in message for message in messages)] == []
    assert not any(d.severity is Severity.ERROR for d in reading.diagnostics)


def differences(wanted: list[str], got: list[str]) -> list[str]:
    """What is missing from `got`, and what is too much in it."""
    want, have = Counter(wanted), Counter(got)
    return [f"missing: {w}" for w in (want - have).elements()] + [f"too much: {g}" for g in (have - want).elements()]


def test_every_phrase_has_a_text_of_its_own() -> None:
    texts = Counter(case["text"] for case in phrases().values())
    assert [text for text, times in texts.items() if times > 1] == []


def test_no_case_holds_a_key_that_nobody_checks() -> None:
    assert [name for name, case in phrases().items() if not case.keys() <= KEYS] == []


def test_the_cases_cover_every_kind_of_the_contract() -> None:
    from darby_grammars.kinds import KINDS

    said = {rule.partition(" of ")[0] for case in phrases().values() for rule in case.get("rules", ())}
    assert said >= KINDS.keys()
