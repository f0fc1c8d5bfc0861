"""The page behind a diagnostic code: what it means, how to mend it, how it looks."""

from __future__ import annotations

import textwrap

from attrs import frozen

_WIDTH = 78


@frozen
class Page:
    """What there is to say about one code."""

    title: str
    meaning: str
    mend: str
    example: str = ""

    def __str__(self) -> str:
        parts = [self.title, textwrap.fill(self.meaning, _WIDTH), "What to do: " + self.mend]
        parts[2] = textwrap.fill(parts[2], _WIDTH)
        if self.example:
            parts.append(textwrap.indent(self.example, "    "))
        return "\n\n".join(parts)
