"""How long code of a plugin may take, and where what it prints goes."""

from __future__ import annotations

import contextlib
import os
import sys
from collections.abc import Iterator

SECONDS = 10
"""How long a plugin may take for one thing, by the clock; DARBY_ALLOWANCE, in whole seconds, takes its place."""


def allowance() -> int:
    """Seconds that a plugin may take for one thing."""
    said = os.environ.get("DARBY_ALLOWANCE", "").strip()
    return int(said) if said.isdecimal() and 0 < len(said) < 6 and int(said) else SECONDS


@contextlib.contextmanager
def quiet() -> Iterator[None]:
    """What is printed meanwhile goes to standard error: on standard output it would spoil the document."""
    with contextlib.redirect_stdout(sys.stderr):
        yield
