"""The rooms of the program, as DEVELOPERS.md draws them, held against what the modules import."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
GUIDE = ROOT / "DEVELOPERS.md"
ROOTS = {"core": ROOT / "core", "grammars": ROOT / "grammars", "plugins": ROOT / "plugins"}
MODULES = sorted(p for root in ROOTS.values() for p in root.rglob("*.py") if "tests" not in p.parts)
CORE = [p for p in MODULES if p.is_relative_to(ROOTS["core"])]

LONGEST = 400
QUANTITIES = "numerals units amounts rules job rulebook line_items packing measuring estimating saving".split()

TRADE_WORDS = re.compile(
    r"(?<![a-z])(gypsum|drywall|plasterboard|wallboard|board|primer|sealer|undercoat|paint|enamel|emulsion|latex|compound(?! word)|mud|"
    r"tape|screw|nail|clip|bead|stud)(s|ed|ing)?(?![a-z])",
    re.IGNORECASE,
)
"""Coat, layer, sheet and pail are left out: they are counts, kinds and containers that several trades share."""


def name_of(path: Path) -> str:
    """`core/darby/documents/to_json.py` is `darby.documents.to_json`."""
    root = next(r for r in ROOTS.values() if path.is_relative_to(r))
    parts = list(path.relative_to(root).with_suffix("").parts)
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


@cache
def names() -> frozenset[str]:
    return frozenset(map(name_of, MODULES))


@cache
def tree_of(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


def imports(path: Path, *, typing: bool = True, inside: bool = True) -> Iterator[tuple[int, str]]:
    """Line and dotted name of every import; without those under TYPE_CHECKING, or inside functions, where not wanted."""
    package = name_of(path) if path.name == "__init__.py" else name_of(path).rpartition(".")[0]

    def visit(node: ast.AST) -> Iterator[tuple[int, str]]:
        if isinstance(node, ast.If) and "TYPE_CHECKING" in ast.dump(node.test) and not typing:
            for child in node.orelse:
                yield from visit(child)
            return
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.Lambda) and not inside:
            return
        if isinstance(node, ast.Import):
            yield from ((node.lineno, alias.name) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = node.module or ""
            if node.level:
                stem = package.split(".")[: len(package.split(".")) - node.level + 1]
                base = ".".join([*stem, *([base] if base else [])])
            for alias in node.names:
                deep = f"{base}.{alias.name}"
                yield node.lineno, deep if deep in names() else base
        for child in ast.iter_child_nodes(node):
            yield from visit(child)

    yield from visit(tree_of(path))


def table(text: str) -> list[list[str]]:
    """The rows of the module table, top to bottom, each the modules it names."""
    rows = re.findall(r"^\| \d \| (.*?) \|", text, re.MULTILINE)
    return [re.findall(r"`(\w+)`", row) for row in rows]


def allowed(text: str, opening: str) -> set[str]:
    """The core modules named in the paragraph of the guide that begins with `opening`."""
    paragraph = next(p for p in text.split("\n\n") if p.startswith(opening))
    return {f"darby.{name}" for name in re.findall(r"`(\w+)`", paragraph)}


GUIDE_TEXT = GUIDE.read_text(encoding="utf-8")
ROWS = table(GUIDE_TEXT)
ROW = {f"darby.{name}": i for i, row in enumerate(ROWS) for name in row}
FOR_TRADES = allowed(GUIDE_TEXT, "A trade imports")
FOR_GRAMMARS = FOR_TRADES | allowed(GUIDE_TEXT, "A grammar imports")


def room_of(name: str) -> str:
    """`darby.documents.to_json` lives in the room `darby.documents`."""
    return ".".join(name.split(".")[:2])


def counts(path: Path) -> bool:
    """Whether quantities are made there: every trade and grammar, and in the core what they are made with."""
    name = name_of(path)
    return not path.is_relative_to(ROOTS["core"]) or name in {f"darby.{m}" for m in QUANTITIES}


def identify(path: Path) -> str:
    return name_of(path)


def test_the_guide_gives_every_module_one_row() -> None:
    placed = [name for row in ROWS for name in row]
    assert sorted(placed) == sorted(set(placed))
    rooms = {room_of(name) for name in map(name_of, CORE)} - {"darby", "darby.demo", "darby.schemas"}
    assert rooms <= set(ROW), f"give these a row in {GUIDE.name}: {sorted(rooms - set(ROW))}"


def test_a_core_module_imports_only_from_rows_above_its_own() -> None:
    wrong = []
    for path in CORE:
        name = name_of(path)
        room = room_of(name)
        for line, wanted in imports(path, typing=room != "darby.hooks"):
            if wanted.split(".")[0] != "darby" or wanted == "darby":
                continue
            if room_of(wanted) == room:
                continue  # within one package; what documents may share is a test of its own
            if name == "darby" or ROW.get(room_of(wanted), len(ROWS)) >= ROW[room]:
                wrong.append(f"{path.relative_to(ROOT)}:{line}: {name} imports {wanted}")
    assert not wrong, "\n".join(wrong)


def test_a_document_is_made_from_the_estimate_and_never_from_another_document() -> None:
    made = "darby.documents.to_"
    found = [(name_of(p), n) for p in CORE if name_of(p).startswith(made) for _, n in imports(p) if n.startswith(made)]
    assert not found


def test_the_core_imports_no_plugin_and_no_grammar() -> None:
    outside = {name.split(".")[0] for name in names()} - {"darby"}
    assert {"darby_grammars", "darby_board"} <= outside
    found = [(name_of(p), n) for p in CORE for _, n in imports(p) if n.split(".")[0] in outside]
    assert not found


@pytest.mark.parametrize("path", [p for p in MODULES if p.is_relative_to(ROOTS["plugins"])], ids=identify)
def test_a_trade_imports_only_what_a_firms_plugin_may(path: Path) -> None:
    own = name_of(path).split(".")[0]
    for line, wanted in imports(path):
        top = wanted.split(".")[0]
        if top.startswith("darby") and top != own:
            assert wanted in FOR_TRADES, f"{path.relative_to(ROOT)}:{line} imports {wanted}"


@pytest.mark.parametrize("path", [p for p in MODULES if p.is_relative_to(ROOTS["grammars"])], ids=identify)
def test_a_grammar_imports_only_what_a_firms_reader_may(path: Path) -> None:
    for line, wanted in imports(path):
        top = wanted.split(".")[0]
        if top.startswith("darby") and top != "darby_grammars":
            assert wanted in FOR_GRAMMARS, f"{path.relative_to(ROOT)}:{line} imports {wanted}"


def test_only_the_readers_import_lark_and_only_inside_functions() -> None:
    users = {name_of(p) for p in MODULES for _, n in imports(p) if n.split(".")[0] == "lark"}
    assert users <= {"darby.readers"}
    readers = ROOTS["core"] / "darby" / "readers.py"
    assert not [n for _, n in imports(readers, typing=False, inside=False) if n.split(".")[0] == "lark"]


@pytest.mark.parametrize("path", CORE, ids=identify)
def test_the_core_knows_no_trade_word(path: Path) -> None:
    if "demo" in path.relative_to(ROOTS["core"]).parts:
        pytest.skip("the demo is a job, not the engine")
    lines = path.read_text(encoding="utf-8").splitlines()
    found = [
        f"{path.relative_to(ROOT)}:{i}: {line.strip()}" for i, line in enumerate(lines, 1) if TRADE_WORDS.search(line)
    ]
    assert not found, "\n".join(found)


@pytest.mark.parametrize("path", MODULES, ids=identify)
def test_nothing_is_made_a_binary_float(path: Path) -> None:
    calls = [
        n.lineno
        for n in ast.walk(tree_of(path))
        if isinstance(n, ast.Call) and isinstance(n.func, ast.Name) and n.func.id == "float"
    ]
    assert not calls, f"float( on lines {calls}"


@pytest.mark.parametrize("path", [p for p in MODULES if counts(p)], ids=identify)
def test_no_float_is_written_out_where_quantities_are_made(path: Path) -> None:
    written = [n.lineno for n in ast.walk(tree_of(path)) if isinstance(n, ast.Constant) and isinstance(n.value, float)]
    assert not written, f"a float is written out on lines {written}"


@pytest.mark.parametrize("path", MODULES, ids=identify)
def test_a_module_stays_below_400_lines(path: Path) -> None:
    assert len(path.read_text(encoding="utf-8").splitlines()) <= LONGEST


def test_the_import_reader_sees_functions_and_type_checking(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(ROOTS, "plugins", tmp_path)
    path = tmp_path / "one.py"
    path.write_text(
        "from typing import TYPE_CHECKING\nif TYPE_CHECKING:\n    import lark\ndef f():\n    from darby import amounts\n",
        encoding="utf-8",
    )
    assert list(imports(path)) == [(1, "typing"), (3, "lark"), (5, "darby.amounts")]
    assert [n for _, n in imports(path, typing=False, inside=False)] == ["typing"]
