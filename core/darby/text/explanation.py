"""The page behind each diagnostic code: what it means, how to mend it, how it looks. Shown by `darby why CODE`.

A page is a Markdown file of its code's name in `explanations`: a heading, what it means, what to do, and an example or none.
"""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterator, Mapping
from functools import cached_property
from importlib.resources import files
from typing import Generic, TypeVar

from attrs import frozen

_WIDTH = 78
_TO_DO = "What to do: "

P = TypeVar("P")


@frozen
class Page:
    """What there is to say about one code."""

    title: str
    meaning: str
    mend: str
    example: str = ""

    @classmethod
    def of(cls, text: str) -> Page:
        """The page that a Markdown file holds. Raises ValueError where it is none."""
        parts = text.strip().split("\n\n", 3)
        if len(parts) < 3 or not parts[0].startswith("# ") or not parts[2].startswith(_TO_DO):
            raise ValueError(f"a page is a heading, what it means and what to do, and this is none: {text[:60]}")
        meaning, mend = (" ".join(part.split()) for part in parts[1:3])
        return cls(parts[0].removeprefix("# "), meaning, mend.removeprefix(_TO_DO), *map(textwrap.dedent, parts[3:]))

    def __str__(self) -> str:
        parts = [self.title, textwrap.fill(self.meaning, _WIDTH), textwrap.fill(_TO_DO + self.mend, _WIDTH)]
        if self.example:
            parts.append(textwrap.indent(self.example, "    "))
        return "\n\n".join(parts)


class Folder(Mapping[str, P], Generic[P]):
    """Pages by their names. Which there are is looked up when first asked for, and a page is read when it is wanted."""

    def __init__(self, name: str, read: Callable[[str], P]) -> None:
        self._folder = files("darby") / "text" / name
        self._read = read

    @cached_property
    def _names(self) -> tuple[str, ...]:
        names = (file.name for file in self._folder.iterdir())
        return tuple(sorted(name.removesuffix(".md") for name in names if name.endswith(".md")))

    def __getitem__(self, name: str) -> P:
        if name not in self._names:  # whatever else it may be, it is no name of a file here
            raise KeyError(name)
        return self._read((self._folder / f"{name}.md").read_text("utf-8"))

    def __iter__(self) -> Iterator[str]:
        return iter(self._names)

    def __len__(self) -> int:
        return len(self._names)


PAGES: Mapping[str, Page] = Folder("explanations", Page.of)
"""Every code that a diagnostic may have, and its page."""
