"""The page of promises and limits in the guide says what is so: each test that it names is there, each figure is the program's."""

from __future__ import annotations

import ast
import importlib
import re

import pytest

from checkout import ROOT, tree_of
from guide import GUIDE

PAGE = GUIDE.partition("\n## What Darby promises\n")[2].partition("\n## ")[0]
HELD = re.findall(r"^\| (.+?) \| `(tests/[\w/]+\.py)::(test_\w+)` \|$", PAGE, re.MULTILINE)
LIMITS = re.findall(r"^\| (.+?) \| ([0-9,]+)(?: [\w ]+)? \| `([\w.]+)` \|$", PAGE, re.MULTILINE)


def test_every_row_of_the_page_is_understood_here() -> None:
    rows = [line for line in PAGE.splitlines() if line.startswith("| ") and "---" not in line]
    assert len(rows) == len(HELD) + len(LIMITS) + 2  # the heads of both tables
    assert len(HELD) > 25
    assert len(LIMITS) > 15


@pytest.mark.parametrize(("promise", "file", "name"), HELD, ids=lambda v: v[:50])
def test_a_promise_is_held_by_a_test_that_is_there_and_is_not_skipped(promise: str, file: str, name: str) -> None:
    tree = tree_of(ROOT / file)
    (found,) = (node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef) and node.name == name)
    marks = [ast.unparse(mark) for mark in found.decorator_list]
    assert not [mark for mark in marks if mark.startswith(("pytest.mark.slow", "pytest.mark.skip("))], promise
    assert any(isinstance(node, ast.Assert) for node in ast.walk(found)) or calls_a_check(found)


def calls_a_check(function: ast.FunctionDef) -> bool:
    """Whether a test leaves its asserting to a function of its file, or expects an error."""
    text = ast.unparse(function)
    return "pytest.raises" in text or re.search(r"\b(?:opens_again|check\w*|held)\(", text) is not None


@pytest.mark.parametrize(("what", "most", "place"), LIMITS, ids=lambda v: v[:50])
def test_a_limit_is_the_one_in_the_code(what: str, most: str, place: str) -> None:
    module, _, name = place.rpartition(".")
    assert getattr(importlib.import_module(module), name) == int(most.replace(",", "")), what
