"""Every rule of binding stands in the list of DEVELOPERS.md, under the name that `darby read --explain` shows."""

from __future__ import annotations

import ast
from collections.abc import Iterator

from checkout import ROOT

NAMED = {"Word", "joined_subjects", "_words", "_carried"}
"""What is called with the name of a binding rule as its last argument."""


def names() -> Iterator[str]:
    """The names of binding rules in the code."""
    for path in sorted((ROOT / "core" / "darby" / "reading").rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not isinstance(node, ast.Call) or not node.args:
                continue
            name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
            last = node.args[-1]
            if name == "append" and isinstance(last, ast.Tuple) and ast.unparse(node.func).endswith("how.append"):
                last = last.elts[-1]
            elif name not in NAMED:
                continue
            if isinstance(last, ast.Constant) and isinstance(last.value, str) and last.value:
                yield last.value


def listed() -> set[str]:
    """The names in the list."""
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    table = text.partition("## How a fact is bound")[2].partition("\n## ")[0]
    rows = [line.split("|")[1].strip() for line in table.splitlines() if line.startswith("|")]
    return {name.strip() for row in rows for name in row.split(";")}


def test_names_are_found_in_the_code_at_all() -> None:
    assert {"the label", "the words of the phrase", "the number before it"} <= set(names())


def test_every_binding_rule_is_in_the_list() -> None:
    assert not set(names()) - listed()
