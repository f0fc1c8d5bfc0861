"""Every text of the program that a user can meet, with its place: `python tests/strings.py` lists them for review.

They are the texts of two words and more in code that are no docstrings, the pages of codes, the templates and the default lines.
Holes are shown as `{}`.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from checkout import ROOT, tree_of

FOLDERS = (ROOT / "core" / "darby", ROOT / "grammars" / "darby_grammars", *sorted((ROOT / "plugins").glob("darby_*")))
TEXTS = {".md", ".j2", ".tmpl"}
_INTERNAL = re.compile(r"^[\w\-./|:{} ,]*$|^\s*[<(\[\\^]|\(\?|\\[bsdw]")
"""What is no sentence: names in a row, markup, patterns."""
_SENTENCE = re.compile(r"[A-Za-z]+[ ,:]+(?:\S+ ){0,200}\S*[A-Za-z}]")


@cache
def strings() -> list[tuple[str, int, str]]:
    """File, line and text of each."""
    return list(_strings())


def _strings() -> Iterator[tuple[str, int, str]]:
    for folder in FOLDERS:
        for path in sorted(folder.rglob("*")):
            name = path.relative_to(ROOT).as_posix()
            if path.suffix == ".py" and "template" not in path.parts:
                yield from ((name, line, text) for line, text in in_code(tree_of(path)))
            elif path.suffix in TEXTS:
                for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
                    text = re.sub(r"\{[{%#].*?[}%#]\}|<[^>]*>", " ", line).strip()
                    if _SENTENCE.search(text):
                        yield name, number, text


def in_code(tree: ast.Module) -> Iterator[tuple[int, str]]:
    """The texts of some code that read like sentences or parts of one, in order."""
    skipped: set[int] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            skipped.add(id(node.value))  # docstrings
        if isinstance(node, ast.JoinedStr):
            skipped.update(id(part) for part in ast.walk(node) if part is not node)
        if isinstance(node, ast.Raise | ast.Assert):
            skipped.update(map(id, ast.walk(node)))  # faults of ours
    found = []
    for node in ast.walk(tree):
        if id(node) in skipped:
            continue
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            found.append((node.lineno, node.value))
        elif isinstance(node, ast.JoinedStr):
            parts = (p.value if isinstance(p, ast.Constant) else "{}" for p in node.values)
            found.append((node.lineno, "".join(map(str, parts))))
    for line, text in sorted(found):
        if (
            " " in text.strip()
            and _SENTENCE.search(text)
            and (not _INTERNAL.search(text) or text.rstrip().endswith("."))
        ):
            yield line, " ".join(text.split())


def main() -> None:
    """Print them all, file by file."""
    last: Path | str = ""
    for name, line, text in strings():
        if name != last:
            print(f"\n{name}")
            last = name
        print(f"{line:>5}  {text}")


if __name__ == "__main__":
    main()
