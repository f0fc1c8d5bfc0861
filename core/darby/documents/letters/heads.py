"""What stands at the head of a paper: dates, senders and recipients as the job file has them, and blanks to fill."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from darby.documents.letters.prose import Fields
from darby.documents.page.dates import dated
from darby.documents.words import one_line
from darby.estimate.model import Estimate
from darby.rules.rule import SPECIFICATION

BLANK = "_" * 20


def head(given: Mapping[str, str], labels: Iterable[str]) -> Fields:
    """A line for each label, as the job has it, else a blank to fill: `date`, `deliver to`."""
    return Fields(tuple((label.capitalize(), one_line(given.get(label, "")) or BLANK) for label in labels))


def documents_dated(estimate: Estimate) -> tuple[tuple[str, str, str, str], ...]:
    """The specification, its addenda and the answers to earlier questions: name, what it is, date and revision as they say them."""
    found = []
    for source, layer in estimate.papers:
        if layer.rank >= SPECIFICATION.rank:
            date, revision = dated(source)
            found.append((one_line(source.name), layer.name, one_line(date), one_line(revision)))
    return tuple(found)
