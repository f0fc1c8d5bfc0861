"""Lines that are names of records (`Room: Vestry`), and what stands below each of them.

Such a line holds for the lines right below it. Where a document is made of sheets, each with the name of its room near its top and
the same headings below it, the name holds for the whole sheet.
"""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import cached_property

from attrs import define

from darby.reading.document.blocks.block_lines import LABEL, apart_from, places_behind, plain, says_where
from darby.reading.layout.clause import Clause
from darby.reading.layout.tables.record_lines import numbered_name
from darby.reading.parsing.naming.larger_places import called
from darby.reading.parsing.naming.names import Names
from darby.reading.parsing.tagging.room_names import singular
from darby.reading.parsing.tagging.tag import Tag, within
from darby.text.spans import View

Tags = Sequence[Tag]
_LONGEST = 120
"""Letters in the name of a record, its label among them."""
_TOP = 8
"""Clauses within which the name of the only sheet stands."""
_SHEETS = 2
_NO_NAME = ("subject", "surface", "sheen", "type", "mark", "COAT", "LAYER", "LENGTH_UNIT", "color", "CODE")
_NUMBER = re.compile(r"[A-Z]{0,2}-?[0-9]{1,4}[A-Za-z]?")
_SPEAKS = ("subject", "surface", "sheen", "type", "mark", "COAT", "LAYER")


@define(eq=False, slots=False)
class Records:
    """The lines of a document that are names of records."""

    clauses: Sequence[Clause]
    tags: Callable[[View], Tags]
    names: Names
    heads: Mapping[str, str]
    labels: Mapping[str, str]

    def named(self, clause: Clause) -> Tags:
        """The places that a line names, or nothing. Words that no list knows are one behind a label that is of rooms alone, and where
        several lines with one label name different places: `Location: Riverside` by itself may be the town.
        """
        if clause.heading and not clause.cells and (numbered := numbered_name(clause.view.text)) is not None:
            return self._by_number(numbered, clause.view)
        found = self._found(clause)
        if found is None:
            return ()
        label, view, start = found
        said = self.tags(view)
        if self.labels.get(label) == "holding":
            one = called(label, view.text[start:].strip(" ."))
            return (Tag(0, len(view.text), "room", one),) if one else ()
        several = len(self._called[label]) > 1 and self.labels.get(label) != "known"
        if self.labels.get(label) != "rooms" and not several and not any(t.name == "room" for t in said):
            return ()
        return places_behind(said, view, start, self.names)

    def _by_number(self, match: re.Match[str], view: View) -> Tags:
        """The places of `Room 104 / 105 RESTROOMS`, each with its number; what a bracket says of them stays."""
        noun, name = match["noun"].lower(), singular(" ".join(match["name"].lower().split()))
        said = self.tags(view)
        inside = within(said, *match.span("name"))
        room = any(t.name == "room" for t in inside)
        if any(t.name in _NO_NAME for t in within(said, 0, match.end("name"))):
            return ()
        numbers = list(_NUMBER.finditer(view.text, *match.span("numbers")))
        beside = [t for t in said if t.start >= match.end("name")]
        if self.labels.get(noun) not in ("rooms", "holding") and noun not in self.names.numbered:
            # `Day 2 Hall`, `Alternate 1 Kitchen`: what counts them is no place
            before = [t for t in said if t.end <= match.start("name")]
            return (*before, Tag(*match.span("name"), "room", name), *beside) if room else ()
        if not room and not any(self.names.can_name(word, titled=True) for word in re.findall(r"[a-z'’]+", name)):
            return ()
        spans = [m.span() for m in numbers] if len(numbers) > 1 else [(0, match.end("name"))]
        own = [Tag(*span, "room", f"{noun} {m[0].lower()} {name}") for span, m in zip(spans, numbers, strict=True)]
        return (*own, *beside)

    def below(self, group: Sequence[Clause]) -> Iterator[tuple[Clause, Tags]]:
        """The lines of records, each with the places of its record. A blank line ends one, unless one stands between all of its lines. A name
        that ends a block of lines with labels (`Where: Vestry` below `Thickness: 13 mm`) is of the lines above it."""
        places: Tags = ()
        before, close = None, False
        block: list[Clause] = []
        several = False
        for clause in group:
            apart = before is not None and apart_from(before, clause)
            if apart:
                block, several = [], False
            if own := self.named(clause):
                ends = len(block) > 1 and not several
                several = True
                if ends:
                    yield from ((line, own) for line in block)
                places, close = () if ends else own, False
            elif places and before is not None:
                labelled = bool(clause.cells) or LABEL.match(clause.view.text) is not None
                places = () if apart and (close or not labelled) else places
                close = close or not apart
                if places:
                    yield clause, places
            if clause.cells or LABEL.match(clause.view.text):
                block.append(clause)
            else:
                block, several = [], False
            before = clause

    def sheets(self) -> Iterator[tuple[Clause, Tags]]:
        """What stands under the headings of sheets, each clause with the places of its own sheet: between the names of two rooms all of
        it; behind the last of them, what stands under headings that other sheets have too. A document may be one sheet."""
        starts = [(n, places) for n, clause in enumerate(self.clauses) if (places := self._names_sheet(clause))]
        if not starts or (len(starts) < _SHEETS and not self._on_top(starts[0][0])):
            return
        ends = [*(n for n, _ in starts[1:]), len(self.clauses)]
        often = Counter(head for (n, _), end in zip(starts, ends, strict=True) for head in self._heads(n, end))
        for (start, places), end in zip(starts, ends, strict=True):
            last, under = end == ends[-1] and len(starts) > 1, False
            for clause in self.clauses[start + 1 : end]:
                head = clause.heading and not clause.cells
                if last and head and often[plain(clause.view.text)] < _SHEETS:
                    break
                under = under or head
                if under:
                    yield clause, places

    def _names_sheet(self, clause: Clause) -> Tags:
        found = self._found(clause)
        return self.named(clause) if found is not None and self.labels.get(found[0]) == "rooms" else ()

    def _heads(self, start: int, end: int) -> set[str]:
        return {plain(c.view.text) for c in self.clauses[start:end] if c.heading and not c.cells}

    def _on_top(self, start: int) -> bool:
        """Whether a line and those around it are the top of a sheet: titles, labels with what they are of, and nothing of goods before
        the first heading below."""
        first = next((n for n, c in enumerate(self.clauses) if n > start and c.heading and not c.cells), 0)
        top = [c for c in self.clauses[:first] if not c.heading]
        plain_ = all(len(c.cells) == 2 or LABEL.match(c.view.text) for c in top)
        return 0 < first < _TOP and plain_ and not any(t.name in _SPEAKS for c in top for t in self.tags(c.view))

    def _found(self, clause: Clause) -> tuple[str, View, int] | None:
        """The label of a line that may name a record, in small letters, its view and where the label ends."""
        if clause.cells:
            found = says_where(clause, self.heads)
            return (plain(clause.cells[0].view.text), *found) if found is not None else None
        own = LABEL.match(clause.view.text) if len(clause.view.text) < _LONGEST and not clause.asks else None
        label = plain(own["label"]) if own is not None else ""
        named = label in self.labels or self.heads.get(label) == "places"
        return (label, clause.view, own.end()) if own is not None and named else None

    @cached_property
    def _called(self) -> Mapping[str, set[str]]:
        """What stands behind each label that says where."""
        out: defaultdict[str, set[str]] = defaultdict(set)
        for found in filter(None, map(self._found, self.clauses)):
            label, view, start = found
            out[label].add(plain(view.text[start:]))
        return out
