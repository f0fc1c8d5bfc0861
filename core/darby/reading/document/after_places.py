"""What stands behind the last of several places that a document takes one by one, and is of all of them.

`KITCHEN`, its lines, `STAIR`, its lines, and then, set off by a blank line that no place has inside its own lines, what the whole job has.
Where nothing sets it off, what is said of one place alone there, and of nothing in it, may be of all: that is told, and stays narrow.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Sequence

from attrs import field, frozen

from darby.reading.document.document_words import DocumentWords
from darby.reading.layout.clause import Clause
from darby.reading.parsing.tagging.tag import Tag
from darby.reading.parsing.whole_labels import HERE

_BLANK = re.compile(r"\n[ \t]*\n[ \t]*(?:[^\s]{1,8}[ \t]+)?\Z")
_REACH = 200
_OF_WORK = ("surface", "room", "mark", "where")
"""What a line names that is said of a part of its place."""


@frozen(eq=False)
class AfterPlaces:
    """The clauses of a document that stand behind its places."""

    beyond: frozenset[int] = field(factory=frozenset)
    """Those that are of none of the places that they stand under, by their `id`."""
    doubtful: frozenset[int] = field(factory=frozenset)
    """Of these, those that do not say so themselves."""
    unsure: frozenset[int] = field(factory=frozenset)
    """Those of the last place that name nothing in it."""

    @classmethod
    def of(cls, clauses: Sequence[Clause], words: DocumentWords) -> AfterPlaces:
        """Find them: in the last of each row of places."""
        beyond: set[int] = set()
        unsure: set[int] = set()
        for *earlier, last in _rows(clauses, words):
            tight = not any(_set_off(line) for place in earlier for line in place[1:])
            labelled = any(_of_all(line, words) for place in earlier for line in place)
            for at, line in enumerate(last):
                if tight and at > 0 and _set_off(line) and not _names_place(line, words):
                    beyond.update(map(id, last[at:]))
                    break
                if _of_all(line, words) and not labelled:
                    beyond.add(id(line))
                elif not (line.heading or line.cells or any(t.name in _OF_WORK for t in words.tags(line.view))):
                    unsure.add(id(line))
        doubtful = (id(c) for c in clauses if id(c) in beyond and not _told(c, beyond, words))
        return cls(frozenset(beyond), frozenset(doubtful), frozenset(unsure))


def _told(clause: Clause, beyond: Collection[int], words: DocumentWords) -> bool:
    """Whether what is of all says so itself, by a label or by the title that it stands under."""
    titled = any(parent.heading and id(parent) in beyond for parent in clause.parents)
    return titled or any(t.name == "EVERYWHERE" for t in words.tags(clause.view))


def _rows(clauses: Sequence[Clause], words: DocumentWords) -> Iterator[list[list[Clause]]]:
    """Places that stand in a row, under the same headings, each by what stands below it."""
    rows: dict[tuple[bool, tuple[int, ...]], list[list[Clause]]] = {}
    below: dict[int, list[Clause]] = {}
    title = clauses[0] if clauses and clauses[0].heading and words.places_in(clauses[0]) else None
    for clause in clauses:
        parents = clause.parents
        if title in parents and (
            words.places_in(clause) or any(p is not title and words.places_in(p) for p in parents)
        ):
            parents = tuple(p for p in parents if p is not title)  # the first of a row of places looks like a title
        above = tuple(map(id, parents))
        for parent in above:
            below.get(parent, []).append(clause)
        line = not (clause.heading or clause.cells or clause.text.rstrip().endswith((".", ":")))
        if words.places_in(clause) or (line and words.names_places(clause.view)):
            rows.setdefault((line, above), []).append(below.setdefault(id(clause), []))
        elif (True, above) in rows and not clause.heading:
            rows[True, above][-1].append(clause)  # below the bare name of a place
    return (row for row in rows.values() if len(row) > 1)


def _set_off(clause: Clause) -> bool:
    """Whether a blank line stands above a clause and the label of its paragraph."""
    span = clause.view.whole
    return _BLANK.search(span.source.text, max(0, span.start - _REACH), span.start) is not None


def _names_place(clause: Clause, words: DocumentWords) -> bool:
    return any(t.name == "room" for t in words.tags(clause.view))


def _of_all(clause: Clause, words: DocumentWords) -> bool:
    """Whether a clause opens with a label that is of all that it stands under."""
    first: Tag | None = next(iter(words.tags(clause.view)), None)
    return first is not None and (first.name, first.value) == ("EVERYWHERE", HERE)
