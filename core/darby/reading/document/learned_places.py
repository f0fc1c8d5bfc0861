"""Places that a document names in one spot, known in the others: the rooms of a schedule in the notes below it.

Only where a word stands as a place does: before a colon or a surface, in a list of such, behind a preposition.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Iterable, Iterator, Sequence

from attrs import frozen

from darby.reading.document.sibling_places import Siblings
from darby.reading.layout.clause import Clause
from darby.reading.parsing.naming.names import ARTICLES, LEADING, Names
from darby.reading.parsing.tagging.room_names import singular
from darby.reading.parsing.tagging.tag import Tag, put, within

_NAME = re.compile(r"[A-Z][A-Za-z'’-]+(?: (?:[A-Za-z'’-]+|[0-9]{1,3}[A-Z]?)){0,3}")
_SHORTEST = 4
_MOST = 400
"""Names that one document can make known."""
_BEFORE = re.compile(
    rf"(?:^|[.;:,&(]\s?|\band\s|\b(?:{'|'.join(sorted(LEADING))})\s(?:(?:{'|'.join(sorted(ARTICLES))})\s)?)$",
    re.IGNORECASE,
)
_REACH = 24


@frozen(eq=False)
class Learned:
    """The names that a document makes known."""

    pattern: re.Pattern[str] | None = None

    def tagged(self, tags: Sequence[Tag], text: str) -> Sequence[Tag]:
        """The tags of a text with a room for each such name that stands as one."""
        if self.pattern is None:
            return tags
        new: list[Tag] = []
        for match in self.pattern.finditer(text):
            inside = within(tags, match.start(), match.end())
            whole = any(t.name == "room" and t.start <= match.start() and match.end() <= t.end for t in inside)
            if not whole and all(t.name in _WEAKER for t in inside) and _stands(match, tags, text):
                new.append(Tag(match.start(), match.end(), "room", singular(" ".join(match[0].lower().split()))))
        return put(new, tags) if new else tags


_WEAKER = ("room", "NUMBER", "color", "ROOM_HEAD")


def learned(clauses: Sequence[Clause], siblings: Siblings, names: Names) -> Learned:
    """The names that the tables, labels and headings of a document give to places."""
    found = dict.fromkeys(name for name in _names(clauses, siblings) if _usable(name, names))
    if not found:
        return Learned()
    either = "|".join(re.escape(name) for name in sorted(list(found)[:_MOST], key=lambda n: (-len(n), n)))
    return Learned(re.compile(rf"(?<![A-Za-z0-9'’-])(?:{either})(?![A-Za-z0-9'’-])"))


def _names(clauses: Sequence[Clause], siblings: Siblings) -> Iterator[str]:
    for view, tags in siblings.named.values():
        yield from (view.text[t.start : t.end] for t in tags)
    for clause in clauses:
        for cell in clause.cells:
            if cell.column is not None and cell.column.role == "places" and not cell.again:
                yield cell.view.text.strip()
            if cell.column is not None and cell.column.said_of == "place" and cell.heads:
                yield cell.heads[-1].text.strip()


def _usable(name: str, names: Names) -> bool:
    words: Iterable[str] = name.lower().split()
    return len(name) >= _SHORTEST and _NAME.fullmatch(name) is not None and not any(w in names.labels for w in words)


def _stands(match: re.Match[str], tags: Sequence[Tag], text: str) -> bool:
    """Whether a name stands as a place does."""
    before = _BEFORE.search(text[max(0, match.start() - _REACH) : match.start()])
    if before is None and text[max(0, match.start() - _REACH) : match.start()].strip():
        return False
    at = bisect_left(tags, match.end(), key=lambda t: t.start)
    after = tags[at] if at < len(tags) else None
    led = before is not None and before[0].split()[-1:] != [] and before[0].split()[-1].lower() in LEADING | ARTICLES
    near = after is not None and not text[match.end() : after.start].strip()
    return (
        led
        or (near and after is not None and after.name in _FOLLOWING)
        or not text[match.end() : match.end() + _REACH].strip(" .")
    )


_FOLLOWING = ("COLON", "surface", "COMMA", "AND", "DASH", "SEMICOLON", "STOP", "CLOSE", "condition")
