"""Sections of a project manual: where each begins and ends, its number and title; running heads and feet.

A section is opened by a line that gives its number (`SECTION 09 29 00`, `09 91 23 - FLUID ROOFING`, `K10 LININGS`), by a
division's heading, by a running head with another number than the last, or by a title over a first part where the section
before it had one. The same number once more is a running head.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from attrs import define, field

from darby.reading.layout.clause import Section
from darby.reading.layout.lines import SENTENCE_END, Line
from darby.reading.layout.openings import (
    END,
    FIRST_PART,
    Opening,
    begins_below,
    digits,
    openings,
    set_apart_as,
    tell_contents,
    tell_lists,
    title_below,
)

_FURNITURE = 120


def tell_sections(lines: Sequence[Line]) -> None:
    """Give each line the section that it stands in, and set apart lists of sections, running heads and feet."""
    found = {opening.at: opening for opening in openings(lines)}
    several = len(found) > 1
    if not several and not any(o.number for o in found.values()) and not any(END.match(line.shape) for line in lines):
        return
    tell_lists(lines, found)
    tell_contents(lines)
    walk = _Walk(lines, found, parted=several)
    for at, line in enumerate(lines):
        walk.to(at)
        line.section = walk.now


@define(eq=False)
class _Walk:
    """Goes down the lines of a document and knows in which section it is."""

    lines: Sequence[Line]
    openings: Mapping[int, Opening]
    now: Section | None = None
    parted: bool = field(default=False)
    """Whether the section has had its first part, so that another first part is another section's."""

    def to(self, at: int) -> None:
        """Go on to a line."""
        line, opening = self.lines[at], self.openings.get(at)
        if line.kind == "apart":
            return
        if opening is not None and not opening.listed and self._opens(line, opening):
            return
        if END.match(line.shape):
            set_apart_as(line, "the end of a section")
            self.now = Section(self.now.number if self.now else "", self.now.title if self.now else "", ended=True)
        elif self.now is not None and _runs(line, self.now):
            set_apart_as(line)
        self.parted = self.parted or FIRST_PART.match(line.shape) is not None

    def _opens(self, line: Line, opening: Opening) -> bool:
        """Deal with a line that may open a section; False where it is none of that kind after all."""
        now, at = self.now, opening.at
        if not opening.number:
            if not self.parted and not (now is not None and now.ended):
                return False
        elif now is not None and _same(opening.number, now.number) and not (now.ended and not opening.head):
            if opening.head or opening.division or _runs(line, now):
                set_apart_as(line)
                below = self.lines[at + 1] if at + 1 < len(self.lines) else None
                if below is not None and below.shape == now.title:
                    set_apart_as(below)
            if now.ended:  # a running head behind the end of its section: a form, a table that belongs to it
                self.now = Section(now.number, now.title)
            return True
        elif opening.sure and now is not None and _interrupts(self.lines, at):
            set_apart_as(line)
            return True
        elif not opening.sure and not begins_below(self.lines, at):
            return False
        middle = now is None and (opening.page or _interrupts(self.lines, at))
        title = opening.title or title_below(self.lines, at, self.openings)
        self.now, self.parted = Section(opening.number, title, opening.division), False
        if opening.head or middle:
            set_apart_as(line)
        else:
            line.opens = opening.skip
        if middle:
            for above in self.lines[:at]:
                above.section = (
                    self.now
                )  # the text begins in the middle of a section, and this is its first running head
        return True


def _interrupts(lines: Sequence[Line], at: int) -> bool:
    """Whether a line stands in the middle of a sentence, as a page's turn leaves it."""
    if not at or lines[at - 1].text.endswith(SENTENCE_END) or lines[at - 1].flat:
        return False
    below = next((line for line in lines[at + 1 : at + 4] if not _turns(line)), None)
    return below is not None and below.text[:1].islower()


def _turns(line: Line) -> bool:
    return line.text[:1].isupper() and len(line.text) < _FURNITURE and not line.text.endswith(SENTENCE_END)


def _same(one: str, other: str) -> bool:
    """Whether two numbers are one section's, or one is the group of the other."""
    first, second = digits(one), digits(other)
    return bool(first) and bool(second) and (first.startswith(second) or second.startswith(first))


def _runs(line: Line, section: Section) -> bool:
    """Whether a line is the running head or foot of a section: its number, its title, a page, and nothing else."""
    if len(line.text) > _FURNITURE or not section.number:
        return False
    number = re.search(rf"(?<![0-9]){re.escape(section.number)}(?![0-9])", line.shape)
    if number is None:
        return False
    rest = f"{line.shape[: number.start()]} {line.shape[number.end() :]}".lower()
    words = re.findall(r"[a-z]+", rest)
    own = set(re.findall(r"[a-z]+", section.title.lower())) | {"section", "page", "of", "division", "end", "and"}
    strange = [word for word in words if word not in own and len(word) > 2]
    return not strange and not line.text.endswith((";", ":"))
