"""Small breaks of a module, each of one line: what a slip of the hand might leave behind and a test should notice."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

from attrs import frozen

_COMPARED = {
    ast.Lt: "<=", ast.LtE: "<", ast.Gt: ">=", ast.GtE: ">", ast.Eq: "!=", ast.NotEq: "==",
    ast.In: "not in", ast.NotIn: "in", ast.Is: "is not", ast.IsNot: "is",
}  # fmt: skip
_RECKONED = {
    ast.Add: "-",
    ast.Sub: "+",
    ast.Mult: "/",
    ast.Div: "*",
    ast.FloorDiv: "*",
    ast.BitOr: "&",
    ast.BitAnd: "|",
}
_CALLED = {"min": "max", "max": "min", "any": "all", "all": "any", "startswith": "endswith", "endswith": "startswith"}
_LOOKED_UP = {"get", "pop", "setdefault", "startswith", "endswith", "removesuffix", "removeprefix"}
_LOOSE = {"strict", "repr", "default", "exclude"}
"""Keywords that a sound program never feels: whether a zip checks itself, what a repr shows, what argparse would print."""
_SMALL = 100
"""Constants up to here are put off by one; a larger one is a limit, and one more or less of it is no mistake."""


@frozen
class Break:
    """One change of one line. `start` and `end` count bytes of the file."""

    file: str
    """From the root of the checkout."""
    line: int
    start: int
    end: int
    new: str
    was: str
    """The whole line as it stands, without its indent."""
    becomes: str
    """The whole line as it would be."""
    inside: tuple[int, int]
    """First and last line of the function it lies in; of the whole module where it lies in none."""

    def of(self, text: bytes) -> bytes:
        """The text of the module with the break in it."""
        return text[: self.start] + self.new.encode() + text[self.end :]

    def __str__(self) -> str:
        return f"{self.file}:{self.line}\n    - {self.was}\n    + {self.becomes}"


def breaks_of(root: Path, path: Path) -> tuple[Break, ...]:
    """Every break of a module, in order of place, each once."""
    return tuple(dict.fromkeys(_Finder(str(path.relative_to(root)), path.read_bytes()).found()))


class _Finder:
    def __init__(self, file: str, text: bytes) -> None:
        self.file, self.text = file, text
        self.lines = text.splitlines(keepends=True)
        self.starts = [0]
        for line in self.lines:
            self.starts.append(self.starts[-1] + len(line))
        self.inside = (1, len(self.lines))

    def found(self) -> Iterator[Break]:
        tree = ast.parse(self.text)
        yield from sorted(self._visited(tree), key=lambda b: (b.start, b.end, b.new))

    def _visited(self, node: ast.AST) -> Iterator[Break]:
        outside = self.inside
        if isinstance(node, ast.FunctionDef):
            first = min([node.lineno, *(d.lineno for d in node.decorator_list)])
            self.inside = (first, node.end_lineno or first)
        yield from self._breaks(node)
        for child in _worth_breaking(node):
            yield from self._visited(child)
        self.inside = outside

    def _breaks(self, node: ast.AST) -> Iterator[Break]:
        match node:
            case ast.Compare(left=left, ops=[op], comparators=[right]):
                yield from self._between(left, right, _COMPARED[type(op)])
                yield from self._keys(
                    right.elts if isinstance(right, ast.Set | ast.Tuple | ast.List) else [left, right]
                )
            case ast.BoolOp(op=op, values=[first, second, *_]):
                yield from self._between(first, second, "or" if isinstance(op, ast.And) else "and")
            case ast.BinOp(left=left, op=op, right=right) if type(op) in _RECKONED and not _holds_text(left, right):
                yield from self._between(left, right, _RECKONED[type(op)])
            case ast.If(test=ast.Name(id="TYPE_CHECKING")):
                pass
            case ast.UnaryOp(op=ast.Not()):
                yield from self._put(self._at(node), self._at(node) + len("not "), "")
            case ast.Constant(value=bool(value)):
                yield from self._instead(node, str(not value))
            case ast.Constant(value=int(value)) if value < _SMALL:
                yield from self._instead(node, str(value + 1))
            case ast.Subscript(slice=ast.Constant() as key):
                yield from self._keys([key])
            case ast.Dict(keys=keys):
                yield from self._keys([key for key in keys if key is not None])
            case ast.If(test=test) | ast.IfExp(test=test) | ast.While(test=test):
                if isinstance(test, ast.Name | ast.Attribute | ast.Call | ast.Subscript | ast.NamedExpr | ast.BoolOp):
                    yield from self._instead(test, f"not ({self._said(test)})")
            case ast.comprehension(ifs=[test]):
                yield from self._instead(test, "True")
            case ast.Call():
                yield from self._calls(node)
            case ast.Return(value=ast.expr() as value) if not _is_nothing(value):
                yield from self._instead(value, "None")
            case ast.Expr(value=ast.Call() | ast.Yield() | ast.YieldFrom()) | ast.AugAssign() | ast.Raise():
                yield from self._instead(node, "pass")
            case ast.Assign(targets=[ast.Attribute() | ast.Subscript()]) | ast.Continue() | ast.Break():
                yield from self._instead(node, "pass")

    def _calls(self, node: ast.Call) -> Iterator[Break]:
        name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
        if name in _CALLED:
            end = self._end(node.func)
            yield from self._put(end - len(name), end, _CALLED[name])
        if name == "sorted" and len(node.args) == 1 and not node.keywords:
            yield from self._instead(node.func, "list")
        if name in _LOOKED_UP:
            yield from self._keys(node.args[:1])
        for keyword in node.keywords:
            if keyword.arg and keyword.arg not in _LOOSE and len(node.args) + len(node.keywords) > 1:
                yield from self._without(keyword)

    def _without(self, keyword: ast.keyword) -> Iterator[Break]:
        """The call without this argument: from the comma or bracket before it, to the comma behind it."""
        start, end = self._at(keyword), self._end(keyword)
        before = self.text[:start].rstrip()
        if before.endswith(b","):
            yield from self._put(len(before) - 1, end, "")
        elif self.text[end : end + 2] == b", ":
            yield from self._put(start, end + 2, "")

    def _keys(self, nodes: list[ast.expr]) -> Iterator[Break]:
        for node in nodes:
            if isinstance(node, ast.Constant) and isinstance(node.value, str) and node.value:
                yield from self._instead(node, repr(node.value + "_"))

    def _between(self, left: ast.expr, right: ast.expr, new: str) -> Iterator[Break]:
        """Another sign between two operands: what stands there besides are blanks and brackets."""
        start, end = self._end(left), self._at(right)
        between = self.text[start:end]
        sign = between.strip(b"() \n\t")
        if sign and b"#" not in sign:
            at = start + between.index(sign)
            yield from self._put(at, at + len(sign), new)

    def _instead(self, node: ast.AST, new: str) -> Iterator[Break]:
        yield from self._put(self._at(node), self._end(node), new)

    def _put(self, start: int, end: int, new: str) -> Iterator[Break]:
        """The break, where it lies within one line."""
        line = self.text.count(b"\n", 0, start) + 1
        first, last = self.starts[line - 1], self.starts[line]
        if end <= last:
            was = self.text[first:last].decode().strip()
            becomes = (self.text[first:start] + new.encode() + self.text[end:last]).decode().strip()
            yield Break(self.file, line, start, end, new, was, becomes, self.inside)

    def _said(self, node: ast.AST) -> str:
        return self.text[self._at(node) : self._end(node)].decode()

    def _at(self, node: ast.AST) -> int:
        return self.starts[node.lineno - 1] + node.col_offset  # type: ignore[attr-defined, no-any-return]

    def _end(self, node: ast.AST) -> int:
        return self.starts[node.end_lineno - 1] + node.end_col_offset  # type: ignore[attr-defined, no-any-return]


def _worth_breaking(node: ast.AST) -> Iterator[ast.AST]:
    """What lies in a node, without what is only for the eye or for a type checker.

    Left out: annotations, decorators and bases, texts for people (f-strings, and what an exception is told), `__all__`.
    """
    match node:
        case ast.FunctionDef(args=args, body=body):
            yield from [*args.defaults, *(d for d in args.kw_defaults if d is not None), *body]
        case ast.ClassDef(body=body):
            yield from body
        case ast.AnnAssign(value=value):
            yield from [value] if value is not None else []
        case ast.Assign(targets=[ast.Name(id=name)]) if name.startswith("__"):
            pass
        case ast.Assign(value=ast.Call(func=ast.Name(id="TypeVar"))):
            pass
        case ast.If(test=ast.Name(id="TYPE_CHECKING")) | ast.JoinedStr() | ast.Raise() | ast.Assert():
            pass
        case ast.keyword(arg=arg) if arg in _LOOSE:
            pass
        case _:
            yield from ast.iter_child_nodes(node)


def _holds_text(*nodes: ast.expr) -> bool:
    """Whether an operand is plainly no number: taking one text from another only fails, whoever looks."""
    return any(
        isinstance(n, ast.JoinedStr | ast.List | ast.Tuple)
        or (isinstance(n, ast.Constant) and isinstance(n.value, str))
        for n in nodes
    )


def _is_nothing(node: ast.expr) -> bool:
    """None, and what stands for it where it is asked whether there is anything."""
    return isinstance(node, ast.Constant) and not node.value
