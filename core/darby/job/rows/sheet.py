"""A file being read: where things stand in it, and what is wrong with it so far."""

from __future__ import annotations

import difflib
from collections.abc import Collection, Iterable
from typing import Protocol

from attrs import field, frozen

from darby.text.diagnostics import Diagnostic, Label, Severity, problem
from darby.text.spans import Source, Span
from darby.text.toml_scanner import Path, Place

_SUGGEST_WITHIN = 50
_SUGGEST_AMONG = 1_000


def shown(text: str) -> str:
    """A text of the file as it stands in a message: cut where it is long, on one line."""
    text = " ".join(text.split())
    return text if len(text) <= 60 else text[:60] + "..."


class Places(Protocol):
    """Where things stand in a file, by path."""

    @property
    def source(self) -> Source:
        """The file."""
        ...

    def at(self, path: Path) -> Place:
        """Where a key and its value stand."""
        ...

    def is_broken(self, path: Path) -> bool:
        """Whether what stands there was told to be no value already."""
        ...


@frozen(eq=False)
class Sheet:
    """A file being read: where things stand in it and what is wrong with it so far."""

    places: Places
    units: str = "us"
    """Which units to suggest."""
    found: list[Diagnostic] = field(factory=list, repr=False)

    def say(
        self, code: str, span: Span, message: str, help: str = "", more: Iterable[Label] = (), *, warn: bool = False
    ) -> None:
        """Notes a mistake."""
        severity = Severity.WARNING if warn else Severity.ERROR
        self.found.append(problem(code, message, span, severity=severity, help=help, more=more))

    def nearest(self, word: str, names: Collection[str], alike: float = 3 / 5) -> str:
        """The name that was probably meant, or nothing. `alike` says how much of the two has to be the same."""
        if len(self.found) >= _SUGGEST_WITHIN:
            return ""
        folded = {name.casefold(): name for name in list(names)[:_SUGGEST_AMONG]}
        close = difflib.get_close_matches(word[:60].casefold(), folded, 1, alike)
        return folded[close[0]] if close else ""
