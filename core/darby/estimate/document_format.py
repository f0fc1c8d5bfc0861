"""What leaves the desk: each document is made from the estimate alone, never from another document."""

from __future__ import annotations

from collections.abc import Callable

from attrs import frozen

from darby.estimate.model import Estimate


@frozen
class Document:
    """A format of the estimate: its name for `--format`, and the function that makes it."""

    name: str
    """Also the ending of the files for which it is meant: `csv`."""
    about: str
    """One line for `darby formats`."""
    make: Callable[[Estimate], str | bytes]
    """Text, which is written as UTF-8, or the bytes of a file."""
