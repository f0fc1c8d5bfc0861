"""What stands in a cell of the grid, as a value of the job file and back."""

from __future__ import annotations

import json
from typing import Any

from darby.desk.files.folder import RefusedError

_WHOLE = frozenset("count faces sides ends outside_corners".split())
_YES_OR_NO = {"true": True, "false": False}
_FLAGS = frozenset({"sill", "ceiling"})


def value_of(key: str, said: str) -> str | int | bool | None:
    """What is written for a key: a whole number, yes or no where the key takes one, else text; None for nothing."""
    said = " ".join(said.split())
    if not said:
        return None
    if key in _WHOLE and said.isascii() and said.isdigit() and len(said) < 10:
        return int(said)
    if key in _FLAGS and said.lower() in _YES_OR_NO:
        return _YES_OR_NO[said.lower()]
    return said


def shown(value: Any) -> str:
    """A value as a cell shows it, and as `value_of` takes it back."""
    return str(value).lower() if isinstance(value, bool) else str(value)


def is_plain(value: Any) -> bool:
    """Whether a value can be shown and changed in one cell."""
    return isinstance(value, str | int | bool)


def written(value: str | int | bool | list[str]) -> str:
    """A value as TOML writes it."""
    if isinstance(value, list):
        return f"[{', '.join(map(written, value))}]"
    if isinstance(value, bool | int):
        return str(value).lower()
    return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")


def number_of(said: str) -> int:
    """The number of a row or line, as a form sends it."""
    if not (said.isascii() and said.isdigit() and len(said) < 8):
        raise RefusedError("That row is no longer there.")
    return int(said)


def copied(value: Any) -> Any:
    """Tables and lists of their own with the same values in them, which nobody changes."""
    if isinstance(value, dict):
        return {key: copied(one) for key, one in value.items()}
    return [copied(one) for one in value] if isinstance(value, list) else value
