"""The page behind each diagnostic code: what it means, how to mend it, how it looks. Shown by `darby why CODE`.

A page is a Markdown file of its code's name in `explanations`: a heading, what it means, what to do, and an example or none.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping
from functools import cached_property
from importlib.resources import files

from attrs import frozen

_WIDTH = 78
_TO_DO = "What to do: "


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


class Pages(Mapping[str, Page]):
    """The pages by their code. Which there are is looked up when first asked for, and a page is read when it is wanted."""

    def __init__(self) -> None:
        self._folder = files("darby") / "text" / "explanations"

    @cached_property
    def _codes(self) -> tuple[str, ...]:
        names = (file.name for file in self._folder.iterdir())
        return tuple(sorted(name.removesuffix(".md") for name in names if name.endswith(".md")))

    def __getitem__(self, code: str) -> Page:
        if code not in self._codes:  # whatever else it may be, it is no name of a file here
            raise KeyError(code)
        return Page.of((self._folder / f"{code}.md").read_text("utf-8"))

    def __iter__(self) -> Iterator[str]:
        return iter(self._codes)

    def __len__(self) -> int:
        return len(self._codes)


PAGES: Mapping[str, Page] = Pages()
"""Every code that a diagnostic may have, and its page."""
