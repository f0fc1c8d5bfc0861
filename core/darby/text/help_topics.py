"""The pages of `darby help`: what a page of the README has no room for, a topic each.

A topic is a Markdown file of its name in `topics`: a heading, paragraphs, lists and examples, which the tests run.
"""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterator, Mapping

from attrs import frozen

from darby.text.explanation import Folder

_WIDTH = 78
_EXAMPLE = re.compile(r"^```\w*\n(.*?)^```$", re.MULTILINE | re.DOTALL)
_LIST = re.compile(r"^- ", re.MULTILINE)


@frozen
class Topic:
    """One page, as its file has it."""

    title: str
    text: str

    @classmethod
    def of(cls, text: str) -> Topic:
        """The topic that a Markdown file holds. Raises ValueError where it has no heading."""
        head, _, rest = text.strip().partition("\n\n")
        if not head.startswith("# ") or not rest:
            raise ValueError(f"a topic is a heading and what it says, and this is none: {text[:60]}")
        return cls(head.removeprefix("# "), rest)

    def __str__(self) -> str:
        return "\n\n".join((self.title, *self._parts()))

    def _parts(self) -> Iterator[str]:
        """Paragraphs and lists filled to the width, examples set in as they stand."""
        for number, part in enumerate(_EXAMPLE.split(self.text)):
            if number % 2:
                yield textwrap.indent(part.rstrip("\n"), "    ")
            else:
                yield from map(_filled, filter(None, re.split(r"\n{2,}", part.strip("\n"))))


def _filled(block: str) -> str:
    if block.startswith("## "):
        return block.removeprefix("## ")
    opening, *points = _LIST.split(block)
    lines = [_fill(opening)] if opening.strip() else []
    return "\n".join((*lines, *(_fill(point, "- ", "  ") for point in points)))


def _fill(text: str, first: str = "", later: str = "") -> str:
    whole = " ".join(text.replace("**", "").split())
    return textwrap.fill(
        whole, _WIDTH, initial_indent=first, subsequent_indent=later, break_long_words=False, break_on_hyphens=False
    )


TOPICS: Mapping[str, Topic] = Folder("topics", Topic.of)
"""Every topic by its name."""
