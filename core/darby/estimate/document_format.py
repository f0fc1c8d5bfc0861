"""What leaves the desk: each document is made from the estimate alone, never from another document."""

from __future__ import annotations

from collections.abc import Callable

from attrs import frozen

from darby.estimate.model import Estimate


@frozen
class Document:
    """A format of the estimate: its name for `--format`, and the function that makes it."""

    name: str
    about: str
    make: Callable[[Estimate], str | bytes]
