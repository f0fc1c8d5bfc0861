"""Where things lie in the checkout, from wherever a test stands."""

from __future__ import annotations

import ast
from functools import cache
from pathlib import Path

ROOT = Path(__file__).parents[1]
FIXTURES = ROOT / "fixtures"


@cache
def tree_of(path: Path) -> ast.Module:
    """The syntax tree of a module, made once for all that look at it; nobody may change it."""
    return ast.parse(path.read_text(encoding="utf-8"))
