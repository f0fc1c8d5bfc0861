"""What went wrong in a plugin, in words that name the author's own line."""

from __future__ import annotations

import os
import traceback
from pathlib import Path

import attrs


class BrokenError(Exception):
    """A plugin did not do what it was asked; the text goes on behind its name: `did not stop within 10 seconds`."""


class NonsenseError(Exception):
    """What a plugin gave cannot stand in an estimate; the text says why."""


_CORE = str(Path(__file__).parents[2] / "_")[:-1]  # with the separator: the trades live beside it, as darby_x
_NOT_THEIRS = (_CORE, str(Path(attrs.__file__).parents[1] / "lark"), str(Path(os.__file__).parent / "importlib"))
"""Code that comes between an author's own lines and what went wrong."""


def raised(error: BaseException) -> str:
    """What was raised and where in the plugin: `ValueError: no width (darby_x/trade.py, line 12)`."""
    try:
        said = f"{type(error).__name__}: {error}".rstrip(": ")
    except Exception:  # an error may fail to say what it is
        said = type(error).__name__
    frames = [f for f in traceback.extract_tb(error.__traceback__) if not f.filename.startswith((*_NOT_THEIRS, "<"))]
    if isinstance(error, SyntaxError) and error.filename:
        return f"{type(error).__name__}: {error.msg}{_place(error.filename, error.lineno or 0)}"
    return f"{said}{_place(frames[-1].filename, frames[-1].lineno or 0)}" if frames else said


def place_of(function: object, line: int = 0) -> str:
    """Where in the plugin a function stands, or a line of it: ` (darby_x/trade.py, line 12)`; nothing where nobody knows."""
    code = getattr(getattr(function, "func", function), "__code__", None)
    return "" if code is None else _place(code.co_filename, line or code.co_firstlineno)


def _place(file: str, line: int) -> str:
    path = Path(file)
    return f" ({path.parent.name}/{path.name}, line {line})"


def why(error: BaseException) -> str:
    """What a plugin did that failed, to go on behind its name: `raised ValueError: no width (darby_x/trade.py, line 12)`."""
    return str(error) if isinstance(error, BrokenError | NonsenseError) else f"raised {raised(error)}"
