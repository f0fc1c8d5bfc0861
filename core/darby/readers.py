"""Readers: a grammar over tags and what its trees mean. The only module that imports lark, inside functions."""

from __future__ import annotations

from attrs import frozen

from darby.rules import Kind


@frozen(eq=False)
class Reader:
    """A grammar and the kinds of fact it finds."""

    name: str
    kinds: tuple[Kind, ...]
