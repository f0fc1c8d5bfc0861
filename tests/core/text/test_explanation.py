"""Every code that is used has a page, every page is used, and each page can be read by somebody in a hurry."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache

import pytest

from checkout import ROOT, tree_of
from darby.text.explanation import PAGES, Page

FOLDER = ROOT / "core/darby/text/explanations"
MADE_BY = {"problem", "say", "_tell", "check", "Diagnostic"}
"""What a diagnostic is made with; its first text that looks like a code is one."""
CODE = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")


def texts(node: ast.AST) -> Iterator[str]:
    """Texts that an argument may come to, through `a if b else c`."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
    elif isinstance(node, ast.IfExp):
        yield from texts(node.body)
        yield from texts(node.orelse)


@cache
def used() -> dict[str, str]:
    """Each code in the source, and where."""
    found: dict[str, str] = {}
    for folder in ("core", "grammars", "plugins"):
        for path in sorted((ROOT / folder).rglob("*.py")):
            for node in ast.walk(tree_of(path)):
                if not isinstance(node, ast.Call):
                    continue
                name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
                if name.lstrip("_") not in {n.lstrip("_") for n in MADE_BY}:
                    continue
                arguments = [*node.args[:1], *(k.value for k in node.keywords if k.arg == "code")]
                for code in (text for argument in arguments for text in texts(argument)):
                    if CODE.fullmatch(code):
                        found.setdefault(code, f"{path.relative_to(ROOT)}:{node.lineno}")
    return found


def test_codes_are_found_in_the_source_at_all() -> None:
    assert {"file-missing", "job-unknown-key", "job-unknown-table", "plugin-broken"} <= used().keys()


def test_every_code_that_is_used_has_a_page() -> None:
    assert not {code: where for code, where in used().items() if code not in PAGES}


def test_no_page_is_orphaned() -> None:
    assert not PAGES.keys() - used().keys()


def test_a_page_is_a_file_that_reads_as_it_is_printed() -> None:
    written = {path.stem: path.read_text(encoding="utf-8") for path in FOLDER.iterdir()}
    assert written == {code: f"# {page}\n" for code, page in PAGES.items()}


@pytest.mark.parametrize("name", ["../__init__", "/etc/hostname", "file-missing.md", "", "."])
def test_what_is_no_code_is_never_looked_up_as_a_file(name: str) -> None:
    assert name not in PAGES
    assert PAGES.get(name) is None


@pytest.mark.parametrize(
    "text", ["# Title\n\nMeaning.", "Title\n\nMeaning.\n\nWhat to do: Nothing.", "# Title\n\nMeaning.\n\nNothing."]
)
def test_a_file_that_is_no_page_says_so(text: str) -> None:
    with pytest.raises(ValueError, match="page"):
        Page.of(text)


@pytest.mark.parametrize("code", PAGES)
def test_a_page_is_short_and_ends_its_sentences(code: str) -> None:
    page = PAGES[code]
    assert CODE.fullmatch(code)
    assert len(page.title) <= 60
    assert not page.title.endswith(".")
    assert page.meaning.endswith(".")
    assert page.mend.endswith(".")
    assert max(map(len, str(page).splitlines())) <= 80
