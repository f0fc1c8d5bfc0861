"""Making very many values at once."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def in_bulk() -> Iterator[None]:
    """Hold the collector of cycles back, inside the block or the function that this decorates.

    Values here are trees, of which it has nothing to collect, and with a hundred thousand rows it looks through millions of
    them again and again: half of all the time. Left as it is where somebody has switched it off for good.
    """
    if not gc.isenabled():
        yield
        return
    gc.disable()
    try:
        yield
    finally:
        gc.enable()
