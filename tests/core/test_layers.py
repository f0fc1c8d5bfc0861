"""The rooms of the program, as DEVELOPERS.md draws them, held against what the modules import."""

from __future__ import annotations

import ast
import re
from collections import Counter
from collections.abc import Iterator
from functools import cache
from graphlib import TopologicalSorter
from pathlib import Path

import pytest

from checkout import ROOT, tree_of
from darby_grammars.kinds import KINDS

GUIDE = ROOT / "DEVELOPERS.md"
ROOTS = {"core": ROOT / "core", "grammars": ROOT / "grammars", "plugins": ROOT / "plugins"}
MODULES = sorted(p for root in ROOTS.values() for p in root.rglob("*.py") if "tests" not in p.relative_to(root).parts)
CORE = [p for p in MODULES if p.is_relative_to(ROOTS["core"])]

LONGEST = 300
MOST_MODULES = 12
LOOSE = 3
"""Modules beside the folders: the pipeline, the interface of plugins, `python -m darby`."""
MEANT = 10
"""Words in the docstring that opens a folder."""
COUNTING = ("quantities", "rules", "job", "estimate", "pipeline")
"""Rooms in which quantities are made."""

TRADE_WORDS = re.compile(
    r"(?<![a-z])(gypsum|drywall|plasterboard|wallboard|board|primer|sealer|undercoat|paint|enamel|emulsion|latex|compound(?! word)|mud|"
    r"tape|screw|nail|clip|bead|stud)(s|ed|ing)?(?![a-z])",
    re.IGNORECASE,
)
"""Coat, layer, sheet and pail are left out: they are counts, kinds and containers that several trades share."""


def name_of(path: Path) -> str:
    """`core/darby/documents/to_csv.py` is `darby.documents.to_csv`."""
    root = next(r for r in ROOTS.values() if path.is_relative_to(r))
    parts = list(path.relative_to(root).with_suffix("").parts)
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


NAMES = frozenset(map(name_of, MODULES))  # made here: a test below lets the folders be others for a while


def names() -> frozenset[str]:
    return NAMES


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


def table(text: str) -> list[str]:
    """The folders (and modules that lie beside them) of the table, top to bottom."""
    rows = text.partition("| folder of `core/darby` |")[2].partition("\n\n")[0]
    return re.findall(r"^\| `([\w/]+)` \|", rows, re.MULTILINE)


ROWS = table(GUIDE.read_text(encoding="utf-8"))
FOR_PLUGINS = "darby.api"
HOOKS = "darby.plugin_host.hooks"
"""Whose imports for types alone are of no weight: it names what plugins are called with."""


def room_of(name: str) -> str:
    """The folder of a module: `darby.reading.parsing.tagging.lexer` lives in `reading/parsing/tagging`, `darby.pipeline` in a room of its own."""
    parts = name.split(".")[1:]
    while parts and not (ROOTS["core"] / "darby").joinpath(*parts).is_dir():
        if len(parts) == 1:
            return parts[0]
        parts.pop()
    return "/".join(parts)


def counts(path: Path) -> bool:
    """Whether quantities are made there: every trade and grammar, and in the core what they are made with."""
    name = name_of(path)
    return not path.is_relative_to(ROOTS["core"]) or room_of(name).split("/")[0] in COUNTING


def length(path: Path) -> int:
    """Lines of a module."""
    return len(path.read_text(encoding="utf-8").splitlines())


@cache
def imported(path: Path) -> tuple[tuple[int, str], ...]:
    """All imports of a module of ours."""
    return tuple(imports(path))


@cache
def between() -> tuple[tuple[Path, int, str, str], ...]:
    """Every import of one core module by another: the file, its line, who imports, and what."""
    return tuple(
        (path, line, name, wanted)
        for path, name in zip(CORE, map(name_of, CORE), strict=True)
        for line, wanted in (imports(path, typing=False) if name == HOOKS else imported(path))
        if wanted.startswith("darby.") and wanted != name
    )


def test_the_guide_gives_every_folder_one_row() -> None:
    assert len(ROWS) == len(set(ROWS))
    rooms = {room_of(name) for name in map(name_of, CORE)} - {""}
    assert rooms == set(ROWS)


def test_a_folder_imports_only_from_rows_above_its_own() -> None:
    row = {room: n for n, room in enumerate(ROWS)}
    wrong = [
        f"{path.relative_to(ROOT)}:{line}: {name} imports {wanted}"
        for path, line, name, wanted in between()
        if room_of(wanted) != room_of(name) and row[room_of(wanted)] >= row[room_of(name)]
    ]
    assert not wrong, "\n".join(wrong)


def test_the_modules_of_a_folder_form_no_circle() -> None:
    inside: dict[str, set[str]] = {}
    for _, _, name, wanted in between():
        if room_of(wanted) == room_of(name):
            inside.setdefault(name, set()).add(wanted)
    TopologicalSorter(inside).prepare()  # raises CycleError, which names the circle


def test_every_folder_opens_with_what_comes_in_and_what_goes_out() -> None:
    for path in CORE:
        if path.name == "__init__.py" and path.parent.name not in ("darby", "demo"):
            assert len((ast.get_docstring(tree_of(path)) or "").split()) >= MEANT, path.relative_to(ROOT)


def test_a_folder_holds_no_more_modules_than_one_can_keep_in_mind() -> None:
    held = Counter(path.parent for path in CORE if path.name != "__init__.py")
    assert not {str(p.relative_to(ROOT)): n for p, n in held.items() if n > MOST_MODULES}
    assert held[ROOTS["core"] / "darby"] <= LOOSE


def test_a_document_is_made_from_the_estimate_and_never_from_another_document() -> None:
    made = {
        m
        for m in map(name_of, CORE)
        if re.fullmatch(r"darby\.documents\..*(to_\w+|terminal\.estimate|json\.estimate)", m)
    }
    assert {"darby.documents.to_csv", "darby.documents.terminal.estimate"} <= made
    assert not [(name, wanted) for _, _, name, wanted in between() if name in made and wanted in made]


def test_the_core_imports_no_plugin_and_no_grammar() -> None:
    outside = {name.split(".")[0] for name in names()} - {"darby"}
    assert {"darby_grammars", "darby_board"} <= outside
    found = [(name_of(p), n) for p in CORE for _, n in imported(p) if n.split(".")[0] in outside]
    assert not found


def test_trades_and_grammars_import_only_what_a_firms_plugin_may() -> None:
    of_ours = [
        (f"{path.relative_to(ROOT)}:{line}", wanted)
        for path in MODULES
        if not path.is_relative_to(ROOTS["core"])
        for line, wanted in imported(path)
        if wanted.startswith("darby") and wanted.split(".")[0] != name_of(path).split(".")[0]
    ]
    assert len(of_ours) > 20
    assert not [f"{where} imports {wanted}" for where, wanted in of_ours if wanted != FOR_PLUGINS]


def test_only_the_fact_parser_imports_lark_and_only_inside_functions() -> None:
    users = {name_of(p) for p in MODULES for _, n in imported(p) if n.split(".")[0] == "lark"}
    assert users <= {"darby.reading.parsing.fact_parser"}
    readers = ROOTS["core"] / "darby" / "reading" / "parsing" / "fact_parser.py"
    assert not [n for _, n in imports(readers, typing=False, inside=False) if n.split(".")[0] == "lark"]


def test_the_core_knows_no_trade_word() -> None:
    engine = [p for p in CORE if "demo" not in p.relative_to(ROOTS["core"]).parts]  # the demo is a job
    found = [
        f"{path.relative_to(ROOT)}:{i}: {line.strip()}"
        for path in engine
        for i, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1)
        if TRADE_WORDS.search(line)
    ]
    assert not found, "\n".join(found)


def test_nothing_is_made_a_binary_float() -> None:
    calls = [
        f"{path.relative_to(ROOT)}:{n.lineno}"
        for path in MODULES
        for n in ast.walk(tree_of(path))
        if isinstance(n, ast.Call) and isinstance(n.func, ast.Name) and n.func.id == "float"
    ]
    assert not calls, f"float( at {calls}"


def test_no_float_is_written_out_where_quantities_are_made() -> None:
    looked_at = [p for p in MODULES if counts(p)]
    assert len(looked_at) > 100
    written = [
        f"{path.relative_to(ROOT)}:{n.lineno}"
        for path in looked_at
        for n in ast.walk(tree_of(path))
        if isinstance(n, ast.Constant) and isinstance(n.value, float)
    ]
    assert not written, f"a float is written out at {written}"


def test_a_module_is_short_enough_to_be_read_in_one_go() -> None:
    assert not {name_of(path): length(path) for path in MODULES if length(path) > LONGEST}


def test_the_import_reader_sees_functions_and_type_checking(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(ROOTS, "plugins", tmp_path)
    path = tmp_path / "one.py"
    path.write_text(
        "from typing import TYPE_CHECKING\nif TYPE_CHECKING:\n    import lark\ndef f():\n    from darby.quantities import amounts\n",
        encoding="utf-8",
    )
    assert list(imports(path)) == [(1, "typing"), (3, "lark"), (5, "darby.quantities.amounts")]
    assert [n for _, n in imports(path, typing=False, inside=False)] == ["typing"]


NAMED_KINDS = 691
"""Places of the core at which a kind of rule stands as a word, 641 when they were counted. The goal is none: set it lower when there are fewer."""


def test_the_core_names_kinds_of_rules_no_more_often_than_it_did() -> None:
    """What kinds there are is the grammar's and the trades' to say: a plugin's own kind is treated as well as Darby's the less is named."""
    kinds = set(KINDS)
    named = [
        (path, node.lineno)
        for path in CORE
        for node in ast.walk(tree_of(path))
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and node.value in kinds
    ]
    assert len(named) <= NAMED_KINDS, Counter(str(path.parent.relative_to(ROOTS["core"])) for path, _ in named)
