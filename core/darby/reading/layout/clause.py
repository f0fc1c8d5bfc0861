"""What a document is taken apart into: clauses, cells of tables, and stretches that say nothing."""

from __future__ import annotations

import re

from attrs import define, frozen

from darby.text.spans import Span, View

LEADER = re.compile(r"\s?\.{3,}\s?|\s?(?:\. ){3,}")
"""Dots that lead from a label to its value."""


@frozen(eq=False)
class Cell:
    """One cell of a table row and the heads of its column, the nearest last."""

    view: View
    heads: tuple[View, ...] = ()
    again: bool = False
    """Whether it is carried down from a row above, and its numbers were counted there."""


@frozen(eq=False)
class Section:
    """A section of a project manual, by its number and title; either may be empty."""

    number: str
    title: str
    division: bool = False
    """Whether it is a whole division, under no section's own heading."""
    ended: bool = False
    """Whether this is what stands behind its end."""

    def __str__(self) -> str:
        return f"{self.number} {self.title}".strip()


@define(eq=False)
class Clause:
    """A stretch of text that says one thing or a few, and what it stands under, nearest first."""

    view: View
    label: str = ""
    parents: tuple[Clause, ...] = ()
    cells: tuple[Cell, ...] = ()
    """Of a table row: its cells; the first one is the row's key."""
    heading: bool = False
    asks: bool = False
    """Whether it is a question, so that nothing in it is an order and the answer is said of what it speaks of."""
    leads_in: bool = False
    """Whether it ends in a colon, so that what follows hangs on it."""
    section: Section | None = None
    """The section of a manual that it stands in."""

    @property
    def text(self) -> str:
        """The clause's mended text, without its label."""
        return self.view.text


@frozen
class Apart:
    """A stretch of the document that is no part of what it says, and why."""

    span: Span
    why: str


@frozen(eq=False)
class Layout:
    """A document taken apart."""

    clauses: tuple[Clause, ...]
    apart: tuple[Apart, ...]
