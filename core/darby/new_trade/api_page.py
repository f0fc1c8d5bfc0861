"""The page of everything that a plugin may take from Darby, made from `darby.api` itself: each name as its own module explains it."""

from __future__ import annotations

import ast
from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from importlib.resources import files

API = "darby.api"


def page(names: Iterable[str] = ()) -> str:
    """Markdown on all names, or on those given; a name that is none is left out."""
    known = origins()
    wanted = [name for name in names if name in known] or list(known)
    return "\n".join(part for name in wanted for part in _told(name, known[name]))


def origins() -> Mapping[str, str]:
    """Each public name, in the order of the interface, with the module that defines it."""
    tree = _tree(API)
    imported = {
        a.name: str(n.module) for n in tree.body if isinstance(n, ast.ImportFrom) for a in n.names if n.level == 0
    }
    listed = next(v for name, _, v in said(tree.body) if name == "__all__")
    assert isinstance(listed, ast.Assign)
    return {name: imported[name] for name in ast.literal_eval(listed.value)}


def _told(name: str, module: str) -> Iterator[str]:
    text, node = next((text, node) for said, text, node in said(_tree(module).body) if said == name)
    if isinstance(node, ast.FunctionDef):
        yield f"## `{name}{_signature(node)}`\n"
    elif isinstance(node, ast.ClassDef):
        yield f"## class `{name}`\n"
    else:
        yield f"## `{name}`\n"
    yield f"{_unwrapped(text)}\n"
    if isinstance(node, ast.ClassDef):
        rows = [
            row for said, told, one in said(node.body) if not said.startswith("_") and (row := _member(said, told, one))
        ]
        yield "\n".join(rows) + "\n" * bool(rows)


def _member(name: str, told: str, node: ast.stmt) -> str:
    """A field or a method, with what is said of it; fields that the class itself explains have their type alone."""
    if isinstance(node, ast.FunctionDef):
        property_ = any(isinstance(d, ast.Name) and "property" in d.id for d in node.decorator_list)
        head = (
            f"{name}: {ast.unparse(node.returns) if node.returns else ''}" if property_ else f"{name}{_signature(node)}"
        )
    elif isinstance(node, ast.AnnAssign):
        default = (
            f" = {ast.unparse(node.value)}"
            if node.value is not None and "field(" not in ast.unparse(node.value)
            else ""
        )
        head = f"{name}: {ast.unparse(node.annotation)}{default}"
    else:
        return ""
    return f"- `{head}`" + (f": {_unwrapped(told)}" if told else "")


def _signature(node: ast.FunctionDef) -> str:
    own = [a for a in node.args.args if a.arg not in ("self", "cls")]
    shown = ast.unparse(
        ast.arguments(
            node.args.posonlyargs,
            own,
            node.args.vararg,
            node.args.kwonlyargs,
            node.args.kw_defaults,
            node.args.kwarg,
            node.args.defaults,
        )
    )
    return f"({shown})" + (f" -> {ast.unparse(node.returns)}" if node.returns else "")


def _unwrapped(text: str) -> str:
    """Its paragraphs, each on one line."""
    return "\n\n".join(" ".join(part.split()) for part in text.split("\n\n"))


def said(body: list[ast.stmt]) -> Iterator[tuple[str, str, ast.stmt]]:
    """Each name that is defined in a body, what is said of it there, and the statement."""
    for node, after in zip(body, [*body[1:], ast.Pass()], strict=True):
        if isinstance(node, ast.ClassDef | ast.FunctionDef):
            yield node.name, ast.get_docstring(node) or "", node
        elif isinstance(node, ast.Assign | ast.AnnAssign):
            below = after.value if isinstance(after, ast.Expr) else None
            text = below.value if isinstance(below, ast.Constant) and isinstance(below.value, str) else ""
            for target in node.targets if isinstance(node, ast.Assign) else [node.target]:
                if isinstance(target, ast.Name):
                    yield target.id, text, node


@cache
def _tree(module: str) -> ast.Module:
    package, *parts = module.split(".")
    found = files(package)
    for part in parts:
        found = found / part
    inner = found / "__init__.py" if found.is_dir() else files(".".join((package, *parts[:-1]))) / f"{parts[-1]}.py"
    return ast.parse(inner.read_text(encoding="utf-8"))
