"""Lines of a block that say where the others hold: their label, and the places or surfaces behind it."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from darby.reading.document.blocks.listed_places import listed_places
from darby.reading.layout.clause import Clause
from darby.reading.parsing.naming.names import Names
from darby.reading.parsing.tagging.tag import Tag
from darby.text.spans import View

Tags = Sequence[Tag]
LABEL = re.compile(r"\s*(?P<label>[A-Za-z][A-Za-z ]{1,23}?)\s*(?::|\s[–—-]\s)\s*(?=\S)")
"""The label of such a line: `Location: ..`, `Rooms - ..`."""


def plain(label: str) -> str:
    """A label in small letters, without the signs and blanks around it."""
    return " ".join(label.lower().split()).strip(" .:–—-")


def says_where(clause: Clause, heads: Mapping[str, str], what: str = "places") -> tuple[View, int] | None:
    """The view of a line that says where, or on `what`, and where its label ends."""
    if clause.cells:
        first, *rest = clause.cells
        pair = len(rest) == 1 and not any(c.heads for c in clause.cells)
        return (rest[0].view, 0) if pair and heads.get(plain(first.view.text)) == what else None
    found = LABEL.match(clause.view.text)
    named = found is not None and heads.get(plain(found["label"])) == what
    return (clause.view, found.end()) if named and found is not None else None


def named_places(tags: Tags, text: str, start: int, names: Names) -> Tags:
    """The tags of a line whose words behind its label name places, whatever they are elsewhere."""
    end = next((t.start for t in tags if t.start > start and t.name in ("STOP", "EXCEPT")), len(text))
    return listed_places(tags, text, end, names, sure=True, start=start)


def places_behind(said: Tags, view: View, start: int, names: Names) -> Tags:
    """The places behind a label; none where it speaks of what is left out: `All rooms other than the studio`."""
    if any(t.name in ("EXCEPT", "ELSEWHERE", "EVERYWHERE", "NO") for t in said):
        return ()
    found = [t for t in named_places(said, view.text, start, names) if t.start >= start]
    return found if any(t.name == "room" for t in found) else ()


def apart_from(one: Clause, other: Clause) -> bool:
    """Whether a blank line stands between two clauses, the first of which comes first."""
    first, second = one.view.whole, other.view.whole
    return first.source.text.count("\n", first.end, second.start) > 1
