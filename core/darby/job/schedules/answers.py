"""A clarification log with nothing left in it but its answers, so that it can be read as one more document."""

from __future__ import annotations

import re

from darby.job.schedules.grid import cells, line_end, next_line
from darby.text.spans import Source

ANSWER = "answer"
"""The column that holds the answers."""
_BLANKED = re.compile(r"[^\r\n]")


def answers_in(source: Source) -> Source:
    """The log, each answer where it stands and all else blanked: what was asked and quoted is no rule of the job, an answer is."""
    text = source.text
    at = next_line(text, 0)
    if at is None:
        return source
    end = line_end(text, at)
    parting = max(",;\t", key=text[at:end].count)
    names = [text[a:b].strip("\ufeff ").casefold() for a, b in cells(text, at, end, parting)]
    number = names.index(ANSWER) if ANSWER in names else -1
    kept = []
    start = next_line(text, end)
    while start is not None and number >= 0:
        end = line_end(text, start)
        kept += list(cells(text, start, end, parting))[number : number + 1]
        start = next_line(text, end)
    told, last = [], 0
    for a, b in kept:
        told += [_BLANKED.sub(" ", text[last:a]), text[a:b].replace('"', " ")]
        last = b
    return Source(source.name, "".join([*told, _BLANKED.sub(" ", text[last:])]))
