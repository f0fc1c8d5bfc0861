"""Beside each module its tests: `tests/core/rules/test_cascade.py`, or several by aspect, `test_cascade_*.py`.

A trade is one thing from outside, and its modules are held together: `plugins/darby_board` by `tests/plugins/test_board.py`. The
grammars are held by the phrases they read, as data.
"""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from checkout import FIXTURES, ROOT

CORE, TESTS = ROOT / "core" / "darby", ROOT / "tests" / "core"
GRAMMARS, PLUGINS = ROOT / "grammars" / "darby_grammars", ROOT / "plugins"

BY_OTHERS = {
    # what holds it: the test file, from tests/
    "cli/compare": "core/saved/test_comparison.py",
    "cli/desk": "core/desk/test_server.py",
    "desk/own_words": "core/desk/test_deeds.py",
    "desk/parts": "core/desk/panes/test_books.py",
    "desk/writing": "core/desk/test_deeds.py",
    "cli/shared/keeping": "core/desk/test_kept.py",
    "cli/shared/priced": "core/desk/panes/test_money.py",
    "bid/sheet/sections": "core/bid/sheet/test_bid_sheet.py",
    "cli/new_trade": "core/new_trade/test_template.py",
    "documents/rooms": "core/documents/test_room_table.py",
    "cli/rooms": "core/documents/test_room_table.py",
    "documents/exact_json/rooms": "core/documents/test_room_table.py",
    "documents/terminal/rooms": "core/documents/test_room_table.py",
    "documents/workbook/rooms_sheet": "core/documents/test_room_table.py",
    "job/listed": "core/job/test_loader_mistakes.py",
    "job/settling": "core/job/test_where.py",
    "plugin_host/job_lines": "whole/test_places_of_jobs.py",
    "reading/document/marks/mark_openings": "whole/test_finishes.py",
    "reading/document/marks/mark_spelling": "whole/test_finishes.py",
    "reading/document/other_goods": "whole/test_finishes.py",
    "reading/parsing/naming/layers": "whole/test_finishes.py",
    "cli/replay": "core/saved/replay/test_workers.py",
    "documents/changes": "core/saved/test_comparison.py",
    "documents/differences": "core/documents/letters/test_to_letter.py",
    "documents/open_points": "core/documents/terminal/test_open_points.py",
    "documents/letters/asked": "core/documents/letters/test_to_letter.py",
    "documents/letters/prose_page": "core/documents/letters/test_forms.py",
    "documents/page/parts": "core/desk/panes/test_books.py",
    "documents/page/templates": "core/documents/page/test_to_html.py",
    "documents/terminal/replay": "core/saved/replay/test_file.py",
    "documents/workbook/open_points_sheet": "core/documents/workbook/test_sheets.py",
    "documents/workbook/order_sheet": "core/documents/workbook/test_to_xlsx.py",
    "documents/workbook/rules_sheet": "core/documents/workbook/test_sheets.py",
    "plugin_host/isolation/bounds": "core/plugin_host/isolation/test_guest_rogues.py",
    "plugin_host/isolation/failures": "core/plugin_host/isolation/test_guest_rogues.py",
    "plugin_host/isolation/inside": "core/plugin_host/isolation/test_guest_rogues.py",
    "plugin_host/isolation/item_checks": "core/plugin_host/test_trade_runner.py",
    "plugin_host/isolation/limits": "core/plugin_host/isolation/test_child.py",
    "plugin_host/isolation/sending": "core/plugin_host/isolation/test_guest.py",
    "text/toml_mistakes": "core/job/test_loader.py",
    "text/toml_scanner": "core/text/test_toml_places.py",
    "testing/bench": "plugins/test_example.py",
    "reading/addenda/number_changes": "core/reading/addenda/test_addenda.py",
    "reading/addenda/word_changes": "core/reading/addenda/test_rewording.py",
    "reading/addenda/work": "core/reading/addenda/test_addenda.py",
    "reading/clause_reader": "core/reading/test_read.py",
    "reading/rule_maker": "core/reading/test_read.py",
    "reading/settling": "core/reading/test_read.py",
}
"""Modules that are part of something larger and are held by its tests, since alone they say nothing."""

VALUES = {
    "bid/model",
    "estimate/document_format",
    "estimate/model",
    "estimate/trade",
    "plugin_host/hooks",
    "plugin_host/model",
    "saved/model",
    "reading/parsing/tagging/tag",
}
"""Modules of frozen values and texts, in which nothing is decided."""

PHRASES = {
    # what each grammar reads: the phrases, from fixtures/phrases/
    "counts": "coats layers one_of_each several_products counted_in_words counts_behind",
    "facts": "attacked numbers ranges spacing fastener_sizes finish_level",
    "kinds": "conditions waste_and_openings",
    "measures": "numbers twin_units ranges",
    "openings": "deductions waste_and_openings",
    "packages": "package per_bag_and_kg",
    "parts": "numbers twin_units",
    "rates": "consumption coverage film_and_solids",
    "sheets": "sheet",
}


def modules_of(root: Path) -> set[str]:
    """The modules of a folder as `rules/cascade`, without those that only say what a package is or start it."""
    found = (p for p in root.rglob("*.py") if p.name not in ("__init__.py", "__main__.py") and "tests" not in p.parts)
    return {p.relative_to(root).with_suffix("").as_posix() for p in found}


MODULES = modules_of(CORE)


def files_of(name: str) -> list[Path]:
    folder, _, stem = name.rpartition("/")
    return [p for p in (TESTS / folder).glob("test_*.py") if _is_of(p, stem)]


def _is_of(path: Path, stem: str) -> bool:
    return path.stem == f"test_{stem}" or path.stem.startswith(f"test_{stem}_")


def test_a_module_has_tests_beside_it_or_a_reason_for_none() -> None:
    excused = BY_OTHERS.keys() | VALUES
    assert not {name for name in MODULES - excused if not files_of(name)}, "no tests beside"
    assert not {name for name in excused if files_of(name)}, "tests beside, and a reason for none"


def test_an_excuse_is_for_a_module_and_tests_that_there_are() -> None:
    assert {*BY_OTHERS, *VALUES} <= MODULES
    assert not BY_OTHERS.keys() & VALUES
    for name, held_by in BY_OTHERS.items():
        assert "def test_" in (ROOT / "tests" / held_by).read_text(encoding="utf-8"), name


def test_every_file_of_tests_holds_tests() -> None:
    for path in (ROOT / "tests").rglob("test_*.py"):
        assert "def test_" in path.read_text(encoding="utf-8"), path


def test_tests_lie_in_the_folders_of_what_they_hold() -> None:
    for path in TESTS.rglob("test_*.py"):
        folder = path.parent.relative_to(TESTS).as_posix()
        if folder in (".", "new_trade"):  # the checkout as a whole; the template, which is no module
            continue
        assert any(_is_of(path, m.rpartition("/")[2]) for m in MODULES if m.rpartition("/")[0] == folder), path


@pytest.mark.parametrize("folder", sorted(p.name for p in PLUGINS.iterdir() if p.name.startswith("darby_")))
def test_a_trade_has_tests_that_are_named_for_it(folder: str) -> None:
    path = ROOT / "tests" / "plugins" / f"test_{folder.removeprefix('darby_')}.py"
    assert "def test_" in path.read_text(encoding="utf-8")
    assert modules_of(PLUGINS / folder)


def test_each_grammar_has_phrases_that_it_reads() -> None:
    assert PHRASES.keys() == modules_of(GRAMMARS)
    for files in PHRASES.values():
        for name in files.split():
            said = tomllib.loads((FIXTURES / "phrases" / f"{name}.toml").read_text(encoding="utf-8"))
            assert any(one["rules"] for one in said["phrase"] if "rules" in one), name
