"""A document to rules: every reader over every clause, overlaps settled, subjects and surfaces bound, numbers accounted for."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Literal

from attrs import frozen

from darby.diagnostics import Diagnostic
from darby.lexicon import Vocabulary
from darby.readers import Reader
from darby.rules import Layer, Rule
from darby.text import Source, Span


@frozen
class Number:
    """A number of the text and what became of it; `why` says it in words ("a standard", "coverage of primer")."""

    span: Span
    became: Literal["read", "set aside", "unread"]
    why: str


@frozen(eq=False)
class Reading:
    """What one document says: its rules in order of place, every number once, and what could not be decided."""

    source: Source
    layer: Layer
    rules: tuple[Rule, ...]
    numbers: tuple[Number, ...]
    diagnostics: tuple[Diagnostic, ...]


@frozen(eq=False)
class Language:
    """Readers and words, made ready once for any number of documents."""

    readers: tuple[Reader, ...]
    vocabularies: tuple[Vocabulary, ...]

    @classmethod
    def of(cls, readers: Iterable[Reader], vocabularies: Iterable[Vocabulary]) -> Language:
        """The language of some readers and vocabularies; cheap, since compiling waits for the first text."""
        return cls(tuple(readers), tuple(vocabularies))


def read(
    source: Source,
    layer: Layer,
    language: Language,
    *,
    strict: bool = False,
    subject: str = "",
    scope: Mapping[str, str] | None = None,
) -> Reading:
    """Read one document.

    `strict` is for defaults, house and override lines, where every word and number must be understood: what is not is
    an error. `subject` and `scope` hold for the whole text where it names none (a mark on a surface of the job).
    """
    raise NotImplementedError
