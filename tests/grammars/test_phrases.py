"""Every phrase of fixtures/phrases, read as a specification: what it must mean, what must stay open, what is no quantity.

[[phrase]]
why = "what the case shows"
text = "Screws on walls 12 in. o.c., not 16 in."
rules = ["spacing of screw (surface wall): 12 in"]     # all rules, in any order; none unless said
unread = ["12"]                                        # all numbers that must stay open, in order of place
aside = ["16", "C840 = a standard"]                    # all that are set aside; behind `=` how the reason begins
asked = ["which gallon"]                               # parts of questions that must be asked; not all of them
open = "why it is not read so yet"                     # must fail as things stand, and be struck out once it holds
"""

from __future__ import annotations

import tomllib
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
from reads import read_text

from darby.diagnostics import Severity
from darby.testing.cases import rule_said

PHRASES = Path(__file__).parents[2] / "fixtures" / "phrases"
KEYS = {"why", "text", "rules", "unread", "aside", "asked", "open"}


def cases() -> list[Any]:
    """A pytest parameter for each phrase."""
    found = []
    for path in sorted(PHRASES.glob("*.toml")):
        for case in tomllib.loads(path.read_text(encoding="utf-8"))["phrase"]:
            marks = [pytest.mark.xfail(reason=case["open"], strict=True)] if "open" in case else []
            found.append(pytest.param(case, id=f"{path.stem}: {case['why']}", marks=marks))
    return found


CASES = cases()


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
    texts = Counter(param.values[0]["text"] for param in CASES)
    assert [text for text, times in texts.items() if times > 1] == []


def test_no_case_holds_a_key_that_nobody_checks() -> None:
    assert [p.id for p in CASES if not KEYS >= p.values[0].keys()] == []


def test_the_cases_cover_every_kind_of_the_contract() -> None:
    from darby_grammars.kinds import KINDS

    said = {rule.partition(" of ")[0] for p in CASES for rule in p.values[0].get("rules", ())}
    assert said >= KINDS.keys()
