"""Whose a section of a project manual is: its number and title, held against what the vocabularies declare as theirs.

The table `[sections]` of a vocabulary may have: `numbers` (a section's or a group's, as written), `titles` (words in a title),
`near` (numbers of sections that may hold something of ours), `work` (words by which a heading names the work), `grounds` (goods that
other work goes on), `covers` (not empty where its work goes over others'), `vague` (names of goods that mean other things too), `outside` (numbers and words of a title: the same work, out of
doors), `elsewhere` (words of divisions that are nobody's here), and `outright` (words so much ours that a clause with one counts
wherever it stands).
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from enum import Enum

from attrs import field, frozen

from darby.reading.layout.clause import Section
from darby.reading.layout.openings import digits
from darby.reading.parsing.vocabulary import strings

_SHORT = 3
"""Letters of a name that may stand for anything."""
_KEYS = ("numbers", "titles", "near", "outside", "elsewhere", "outright")


class Owner(Enum):
    """Whose a section is."""

    OURS = "ours"
    OUTSIDE = "ours, out of doors"
    UNKNOWN = "not said"
    OTHER = "another trade's"


@frozen(eq=False, slots=False)
class Ownership:
    """What vocabularies declare as theirs, ready to look up."""

    declared: Mapping[str, tuple[str, ...]] = field(repr=False)
    _patterns: dict[str, re.Pattern[str]] = field(factory=dict, init=False, repr=False)

    @classmethod
    def of(cls, vocabularies: Iterable[Mapping[str, Mapping[str, object]]]) -> Ownership:
        """Join the `[sections]` tables of vocabularies; one that has none owns its goods by their names, wherever they stand."""
        declared: dict[str, list[str]] = {key: [] for key in _KEYS}
        for tables in vocabularies:
            for key, words in tables.get("sections", {}).items():
                if key in declared:
                    declared[key].extend(word.lower() for word in strings(words))
            if "sections" not in tables:
                named = (word for words in tables.get("subject", {}).values() for word in strings(words))
                declared["outright"].extend(word.lower() for word in named if len(word) > _SHORT)
        return cls({key: tuple(words) for key, words in declared.items()})

    def owner(self, section: Section) -> Owner:
        """Whose a section is; where nothing is declared everything is ours."""
        if not self.declared["numbers"] and not self.declared["titles"]:
            return Owner.OURS
        found = self._by_number(section.number)
        titled = self._in_title("titles", section)
        outside = self._in_title("outside", section) and "interior" not in section.title.lower()
        if found is Owner.OURS:
            found = Owner.OUTSIDE if outside else Owner.OURS
        elif found is None and titled:
            home = not section.number or self._at_home(section.number)
            found = (Owner.OUTSIDE if outside else Owner.OURS) if home else Owner.UNKNOWN
        elif found is None and (section.division or not section.number):
            found = Owner.OTHER if self._in_title("elsewhere", section) else Owner.UNKNOWN
        found = found or (Owner.OTHER if section.number else Owner.UNKNOWN)
        return Owner.UNKNOWN if section.ended else found

    def outright(self, text: str) -> bool:
        """Whether a text names goods of ours by a word that is nobody else's."""
        return self._pattern("outright").search(text.lower()) is not None

    def _by_number(self, number: str) -> Owner | None:
        """What the number alone says: the longest number declared that it begins with; a group that holds ours is ours."""
        own = digits(number).lower()
        if not own:
            return None
        kinds = (("numbers", Owner.OURS), ("outside", Owner.OUTSIDE), ("near", Owner.UNKNOWN))
        held = [
            (len(digits(one)), owner)
            for key, owner in kinds
            for one in self._numbers(key)
            if own.startswith(digits(one))
        ]
        if held:
            return max(held, key=lambda one: one[0])[1]
        return Owner.OURS if any(digits(one).startswith(own) for one in self._numbers("numbers")) else None

    def _numbers(self, key: str) -> list[str]:
        return [one for one in self.declared[key] if re.fullmatch(r"[a-z]?[0-9][0-9 .]*", one)]

    def _at_home(self, number: str) -> bool:
        """Whether a number belongs to a division in which some of ours do."""
        return digits(number)[:2].lower() in {digits(one)[:2] for one in self._numbers("numbers")}

    def _in_title(self, key: str, section: Section) -> bool:
        return self._pattern(key).search(section.title.lower()) is not None

    def _pattern(self, key: str) -> re.Pattern[str]:
        if (found := self._patterns.get(key)) is None:
            words = [re.escape(word) for word in self.declared[key] if not word[:1].isdigit()]
            either = "|".join(sorted(words, key=len, reverse=True)) or "(?!)"
            found = self._patterns[key] = re.compile(rf"(?<![a-z])(?:{either})(?![a-z])")
        return found
