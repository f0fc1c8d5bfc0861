"""Cells of a table that are colors whole, and what stands under words that say that colors follow."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence

from darby.reading.document.marks.mark_spelling import CODE
from darby.reading.layout.clause import Clause
from darby.reading.parsing.naming.colors import LONGEST, SAYS, WORD
from darby.reading.parsing.tagging.letters import capitals_of
from darby.reading.parsing.tagging.tag import Tag
from darby.text.spans import View

_PAIR = 2
"""Cells of a row that is a place and its color."""


def told_of_colors(
    clauses: Sequence[Clause], tags: Callable[[View], Iterable[Tag]]
) -> tuple[set[int], set[int], set[int]]:
    """By the `id` of their views: the cells that are colors whole, the clauses that stand under words that say so, and the cells
    behind a code."""
    cells: set[int] = set()
    coded = (c for c in clauses if len(c.cells) > 1 and CODE.fullmatch(capitals_of(c.cells[0].view.text.strip())))
    legend = {id(cell.view) for clause in coded for cell in clause.cells[1:]}
    under: set[int] = set()
    for clause in clauses:
        for cell in clause.cells:
            sheens = cell.column is not None and cell.column.role == "sheens"
            colors = cell.column is not None and cell.column.role == "colors" and not cell.heads
            if colors or (not sheens and any(_only_says(tags(head)) for head in cell.heads)):
                cells.add(id(cell.view))
        if clause.parents and any(t.name == SAYS for t in tags(clause.parents[0].view)):
            under.update(id(view) for view in (clause.view, *(cell.view for cell in clause.cells)))
            if len(clause.cells) == _PAIR and not any(cell.heads for cell in clause.cells):
                cells.update(id(c.view) for c in clause.cells[1:] if _may_name(c.view.text, tags(c.view)))
    return cells, under, legend


def _may_name(text: str, tags: Iterable[Tag]) -> bool:
    """Whether a cell can be a color whole: a few words in capitals that say nothing else."""
    words = WORD.findall(text)
    plain = (
        all(t.name in ("color", "NUMBER") for t in tags)
        and not text.rstrip().endswith((".", ":", ";"))
        and "," not in text
    )
    return 0 < len(words) <= LONGEST and plain and all(word[0].isupper() for word in words)


def whole_color(text: str) -> list[Tag]:
    """The one tag of a cell that names a color, whatever words it is made of."""
    said = text.strip()
    if not said or not said[0].isalpha() or _ELSEWHERE.match(said) or not _WHOLE.fullmatch(said):
        return []  # a code, or words that say where the color is said
    start = text.index(said)
    either = _EITHER.fullmatch(said)
    if either is not None:  # a choice that nobody has made
        join, low = either.span("join"), start
        first, second = (Tag(low + s, low + e, "color", said[s:e].lower()) for s, e in map(either.span, (1, 3)))
        return [first, Tag(low + join[0], low + join[1], "EITHER"), second]
    return [Tag(start, start + len(said), "color", " ".join(said.lower().split()))]


_EITHER = re.compile(r"(\S.{0,40}?)\s(?P<join>or)\s(.{0,40}\S)", re.IGNORECASE)
"""Two names, of which one will do: `Slate or Fern`."""


_WHOLE = re.compile(r"[^0-9]+|(?=[A-Za-z'’ &-]*[A-Za-z]{4})[A-Za-z][A-Za-z'’ &-]{2,40}\s#?[0-9][0-9A-Z-]{0,11}")
"""The name of a color, with or without its number: `Pewter 3317`."""
_ELSEWHERE = re.compile(
    r"(?:t\.?b\.?[adc]\b|n/?a\b|none\b|nil\b|see\b|as\b|per\b|by\b|to\b|match|select|varies\b|note|refer|same\b|clear\b|"
    r"existing\b|unpainted|natural\b(?!\s[A-Za-z])|colou?rs?\b|sheets?\b|type\b)",
    re.IGNORECASE,
)
"""What is no name of a color: `TBD`, `see note 3`, `by the owner`."""


def _only_says(tags: Iterable[Tag]) -> bool:
    names = {t.name for t in tags}
    return SAYS in names and not names & {"NUMBER", "COAT", "LAYER"}
