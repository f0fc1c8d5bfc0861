"""The one import of a plugin author: all of it explained, and enough for whatever Darby itself shows as an example."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache

import pytest

import darby.api
from checkout import ROOT, tree_of
from darby.new_trade.api_page import said
from darby.text.explanation import PAGES

API = ROOT / "core/darby/api.py"
NOT_YET = {"Fact", "Quantity", "Reader", "Tag", "Vocabulary"}
"""Classes that have fields without a word on them; a class leaves this list with the last of them."""


def defined(module: str) -> ast.Module:
    return tree_of(ROOT / "core" / f"{module.replace('.', '/')}.py")


@cache
def origins() -> dict[str, str]:
    """Each name that the module imports, and the module that defines it."""
    imports = [node for node in tree_of(API).body if isinstance(node, ast.ImportFrom)]
    return {alias.name: str(node.module) for node in imports for alias in node.names if node.module != "__future__"}


def explained(name: str) -> tuple[str, ast.stmt]:
    return next((text, node) for known, text, node in said(defined(origins()[name]).body) if known == name)


def silent(name: str) -> list[str]:
    """What of a class nothing is said of: its public methods without a docstring, and fields that it does not name either."""
    text, node = explained(name)
    assert isinstance(node, ast.ClassDef)
    return [
        field
        for field, told, _ in said(node.body)
        if not field.startswith("_") and not told and not re.search(rf"`{field}`", text)
    ]


def test_all_that_it_imports_is_public_and_sorted() -> None:
    assert set(darby.api.__all__) == origins().keys()
    assert (
        sorted(darby.api.__all__, key=lambda name: (not name.isupper(), name[0].islower(), name)) == darby.api.__all__
    )
    assert all(hasattr(darby.api, name) for name in darby.api.__all__)


@pytest.mark.parametrize("name", darby.api.__all__)
def test_a_name_is_explained_where_it_is_defined(name: str) -> None:
    text, _ = explained(name)
    assert len(text.split()) >= 4
    assert text.rstrip().endswith((".", ":"))


@pytest.mark.parametrize("name", [name for name in darby.api.__all__ if isinstance(explained(name)[1], ast.ClassDef)])
def test_every_field_and_method_of_a_class_is_explained(name: str) -> None:
    assert bool(silent(name)) == (name in NOT_YET), silent(name)


@pytest.mark.parametrize("name", [n for n in darby.api.__all__ if isinstance(explained(n)[1], ast.FunctionDef)])
def test_a_function_names_what_it_raises(name: str) -> None:
    text, node = explained(name)
    raised = {
        getattr(one.exc.func if isinstance(one.exc, ast.Call) else one.exc, "id", "")
        for one in ast.walk(node)
        if isinstance(one, ast.Raise) and one.exc is not None
    }
    assert not {error for error in raised if f"{error}" not in text}


def shown() -> Iterator[tuple[str, str]]:
    """Every piece of plugin code that somebody may start from, and where it stands."""
    for guide in ("README.md", "DEVELOPERS.md"):
        for number, block in enumerate(
            re.findall(r"^```python\n(.*?)^```$", (ROOT / guide).read_text(encoding="utf-8"), re.MULTILINE | re.DOTALL)
        ):
            yield f"{guide} {number}", block
    for page in sorted((ROOT / "core/darby/text/explanations").glob("plugin*.md")):
        if "import" in (example := PAGES[page.stem].example):
            yield page.name, example
    for folder, pattern in (
        ("core/darby/new_trade/template", "*.py.tmpl"),
        ("plugins/darby_example", "*.py"),
        ("plugins/darby_ceilings", "*.py"),
        ("fixtures/plugins", "*.py"),
    ):
        for path in sorted((ROOT / folder).rglob(pattern)):
            text = path.read_text(encoding="utf-8")
            yield str(path.relative_to(ROOT)), re.sub(r"\{\{\w+\}\}", "filled_in", text)


SHOWN = dict(shown())


def test_the_guide_the_template_and_all_examples_are_looked_at() -> None:
    names = " ".join(SHOWN)
    assert "DEVELOPERS.md 0" in names
    assert "template/package/trade.py.tmpl" in names
    assert "darby_example/trade.py" in names
    assert "darby_ceilings/trade.py" in names
    assert "vapour_sheet.py" in names
    assert "plugin-hook.md" in names


@pytest.mark.parametrize("place", SHOWN)
def test_what_a_plugin_author_starts_from_imports_the_api_alone(place: str) -> None:
    own = {"darby_example", "darby_ceilings", "vapour_sheet", "filled_in"}
    for node in ast.walk(ast.parse(SHOWN[place])):
        if isinstance(node, ast.Import):
            assert not [alias.name for alias in node.names if alias.name.split(".")[0].startswith("darby")]
        if (
            isinstance(node, ast.ImportFrom)
            and (top := str(node.module).split(".")[0]).startswith("darby")
            and top not in own
        ):
            assert node.module == "darby.api"
            assert {alias.name for alias in node.names} <= set(darby.api.__all__)
