"""What trades let a job say: the keys of a surface or a room, how far each reaches, closed lists that some choose from, and tables."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Mapping
from typing import Any

from darby.job.rows.declared import JobTable, Key
from darby.job.rows.measured_row import Row
from darby.job.rows.sheet import shown
from darby.job.where import GIVES

CONDITION = "condition"
"""The key that says whether a surface is new or was there before; a trade may know other words for it."""
_STATES = {"new": "new", "existing": "existing"}
_SHORT = 3
"""Letters that a slip of one of a few words has more than."""
_WORD = re.compile(r"[^\W\d_]+")


class Marks(dict[str, tuple[str, ...]]):
    """The keys that surfaces may carry, each with the kinds of surface that it holds for where a room has it, none for all."""

    def __init__(
        self, keys: Mapping[str, Collection[str]], words: Mapping[str, Mapping[str, str]] | None = None,
        tables: Mapping[str, JobTable] | None = None, aside: Iterable[str] = (),
        settings: Mapping[str, tuple[Key, ...]] | None = None,
    ) -> None:  # fmt: skip
        super().__init__({key: tuple(kinds) for key, kinds in keys.items()})
        self.words = dict(words or {})
        """Of keys that choose from a closed list, the words that may stand there, each with what it means."""
        self.tables = dict(tables or {})
        """Tables of the job that trades bring, by name."""
        self.settings = dict(settings or {})
        """The settings of trades, by name of the trade."""
        self.aside = frozenset(aside)
        """Tables of the job that may be for a plugin that is away, and are not looked at."""

    @classmethod
    def of(cls, marks: Collection[str], more: Iterable[str] = ()) -> Marks:
        """The keys as a mapping, and further ones that hold for all kinds."""
        keys = dict(marks) if isinstance(marks, Mapping) else dict.fromkeys(marks, ())
        for key in more:
            keys.setdefault(key, ())
        return (
            cls(keys, marks.words, marks.tables, marks.aside, marks.settings) if isinstance(marks, Marks) else cls(keys)
        )


def marks_by_kind(row: Row, marks: Collection[str]) -> dict[str, dict[str, Any]]:
    """What the row of a room tells trades of its walls and of its ceiling: keywords of `Surface` for each kind.

    A table says it for each (`color = { walls = "Fog", ceiling = "White" }`); a text holds for the kinds that the key reaches.
    """
    found: dict[str, dict[str, Any]] = {kind: {"marks": {}, "mark_places": {}} for kind in GIVES.values()}
    for mark in (mark for mark in marks if mark in row):
        value = row.value(mark)
        if isinstance(value, Mapping):
            inner = Row.of(row.sheet, row.way(mark), value, what=f"{mark} of {row.what}", keys=list(GIVES))
            said = {
                kind: (told(inner, key, marks, mark), inner.span(key)) for key, kind in GIVES.items() if key in inner
            }
        else:
            reached = reaches(marks, mark)
            text = told(row, mark, marks)
            said = {kind: (text, row.span(mark)) for kind in found if not reached or kind in reached}
        for kind, (text, span) in said.items():
            if text:
                found[kind]["marks"][mark], found[kind]["mark_places"][mark] = text, span
    return found


def reaches(marks: Collection[str], mark: str) -> Collection[str]:
    """The kinds of surface that a key of a room holds for; none where it holds for all."""
    return marks.get(mark, ()) if isinstance(marks, Mapping) else ()


def told(row: Row, key: str, marks: Collection[str], mark: str = "") -> str:
    """The text of a mark that stands under a key. One of a closed list has a word of it, and none that means something else."""
    mark = mark or key
    text = row.text(key, f"Say what it is, or leave {key} out.")
    if mark == CONDITION and text.casefold() in _STATES:
        return text.casefold()
    words = marks.words.get(mark, {}) if isinstance(marks, Marks) else {}
    if text and (words or mark == CONDITION):
        _choose(row, key, mark, text, words)
    return text


def _choose(row: Row, key: str, mark: str, text: str, words: Mapping[str, str]) -> None:
    """Tells where a text is none of a closed list; a condition that is like no known one may be a word of the documents."""
    known = {**_STATES, **words} if mark == CONDITION else words
    said = _WORD.findall(text.casefold())
    meant = list(dict.fromkeys(known[word] for word in said if word in known))
    if len(meant) == 1:
        return
    if len(meant) > 1:
        row.sheet.say(
            "job-mark", row.span(key), f'{mark} of {row.what} is "{shown(text)}", which says {" and ".join(meant)}', f'Write one: {mark} = "{meant[0]}".'
        )  # fmt: skip
        return
    near = next(
        (near for word in (text, *said) if len(word) > _SHORT and (near := row.sheet.nearest(word, list(known)))), ""
    )
    if mark == CONDITION and not near:
        return
    choices = ", ".join(dict.fromkeys(known.values()))
    row.sheet.say(
        "job-condition" if mark == CONDITION else "job-mark", row.span(key), f'{mark} of {row.what} is "{shown(text)}"',
        (f"Did you mean {near}? " if near else "") + (f'Write condition = "{near}".' if mark == CONDITION else f"It is one of: {choices}."),
    )  # fmt: skip
