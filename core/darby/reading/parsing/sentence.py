"""A sentence taken apart: its parts, each with a label, and the phrases around their facts."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import define, field

from darby.reading.parsing.fact_parser import Fact
from darby.reading.parsing.tagging.tag import Tag


@define(eq=False)
class Phrase:
    """A stretch around one fact (or facts that follow each other closely): what is said in it belongs together."""

    tags: list[Tag]
    facts: list[Fact]
    part: Part
    lead: list[Tag] = field(factory=list)
    """Tags before its first fact."""

    def named(self, name: str) -> list[Tag]:
        """Its tags of one name."""
        return [t for t in self.tags if t.name == name]


@define(eq=False)
class Part:
    """A sentence or its stretch up to a semicolon: a label before a colon, phrases, and words after the last fact."""

    label: list[Tag]
    sentence: Sentence
    phrases: list[Phrase] = field(factory=list)
    tail: list[Tag] = field(factory=list)
    strange: bool = False
    """Whether it has a label none of whose words is known."""
    start: int = 0
    """Where it begins in the clause's text, behind its label."""


@define(eq=False)
class Sentence:
    """What stands between two full stops."""

    tags: list[Tag]
    parts: list[Part] = field(factory=list)
    asks: bool = False
    """Whether it ends in a question mark."""
    places: bool = False
    """Whether it is the last of its clause, and only names places."""

    @property
    def phrases(self) -> Iterator[Phrase]:
        """Its phrases in order."""
        return (phrase for part in self.parts for phrase in part.phrases)
