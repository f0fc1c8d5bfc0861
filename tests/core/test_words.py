"""The texts that a user can meet are listed for whoever reviews them; words that nobody in the trade says are in none."""

from __future__ import annotations

import ast
import re

import strings

NOBODYS = re.compile(
    r"\bnought\b|\bunsays?\b|\bis dear\b|\bgives? way to\b|\bSaid in two ways\b|\bPlease state (?:how|what|from|to|of)\b"
    r"|\bwhat the floor and the hoist bear\b|\bsingly\b|\bnot their orders?\b|\bnone now\b|\bhangs? on it\b"
)
"""Phrases that a first reader of the papers stumbled over, each replaced by the words of the trade."""
GEOMETRY = {"plugins/darby_fasteners/counting.py"}
"""Where `singly` says how fasteners stand, as published tables have it."""


def test_every_text_that_a_user_can_meet_is_listed() -> None:
    listed = strings.strings()
    files = {name for name, _, _ in listed}
    assert len(listed) > 900
    assert {
        "core/darby/estimate/open_points.py",
        "core/darby/text/explanations/unclear.md",
        "plugins/darby_joints/trade.py",
    } <= files
    assert "core/darby/documents/templates/page.html.j2" in files


def test_docstrings_and_patterns_are_no_texts_of_a_user() -> None:
    code = '"""A docstring here."""\nimport re\nX = re.compile(r"\\ba b+ c\\b")\nprint("Say what it is.", f"Take {X}, and a box.")\n'
    assert [text for _, text in strings.in_code(ast.parse(code))] == ["Say what it is.", "Take {}, and a box."]


def test_no_text_has_words_that_nobody_says() -> None:
    found = [
        f"{name}:{line}: {text}"
        for name, line, text in strings.strings()
        if NOBODYS.search(text) and name not in GEOMETRY
    ]
    assert not found, "\n".join(found)
