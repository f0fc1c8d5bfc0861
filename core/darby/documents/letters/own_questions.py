"""Questions of the estimator's own for the letter, each kept in one line of the job with the clause it is about:

`Who primes the frames? [09-91-23.txt, line 40: “Frames: two coats.”]`. The words are looked up in the document; the line tells
which of several places is meant.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from attrs import frozen

from darby.documents.words import clause_number, one_line
from darby.job.model import Job
from darby.text.diagnostics import Diagnostic, Severity, problem
from darby.text.spans import Source, Span

_ABOUT = re.compile(r"\s*\[(?P<at>[^\[\]“”\"]*?):?\s*[“\"](?P<words>.+)[”\"]\s*\]\s*$")
_BRACKETS = re.compile(r"[\[\]]")
_LONGEST = 240
"""Letters of a clause that are kept; they find it, and the letter quotes it from the document."""


@frozen
class OwnQuestion:
    """One question: what it asks, the place as the line tells it, and the words of the clause; both may be missing."""

    text: str
    at: str = ""
    words: str = ""

    @classmethod
    def of(cls, line: str) -> OwnQuestion:
        """The question of a line of the job."""
        line = one_line(line)
        about = _ABOUT.search(line)
        if about is None or not about.start():
            return cls(line)
        return cls(line[: about.start()], about["at"].strip(), about["words"].removesuffix("…").rstrip())

    @classmethod
    def about(cls, text: str, at: str, words: str) -> OwnQuestion:
        """A question that was typed, about words of a document; longer ones are kept by their beginning."""
        words, at = one_line(words), re.sub(r"[\[\]“”\"]", "", one_line(at))
        cut = words if len(words) <= _LONGEST else words[:_LONGEST].rpartition(" ")[0] or words[:_LONGEST]
        return cls(_BRACKETS.sub("", one_line(text)), at, cut)

    def __str__(self) -> str:
        """The line of the job."""
        if not self.words:
            return self.text
        return f"{self.text} [{self.at}{': ' if self.at else ''}“{self.words}”]"

    def place(self, sources: Iterable[Source]) -> Span | None:
        """Where its clause stands: at the place that the line tells if the words are there, else where they stand first."""
        first = None
        for source in sources:
            name = one_line(source.name)
            if self.words and (not self.at or self.at == name or self.at.startswith(f"{name},")):
                for span in _found(source, self.words):
                    if self.at == f"{name}, {span.where}" or self.at == clause_number(span):
                        return span
                    first = first or span
        return first


def _found(source: Source, words: str) -> Iterator[Span]:
    """Where words stand in a document, however its lines are broken; a sign that cannot be shown was kept as a replacement sign."""
    pattern = r"\s+".join(re.escape(word).replace("\ufffd", ".") for word in words.split())
    for match in re.finditer(pattern, source.text):
        yield source.span(match.start(), match.end())


def questions_of(job: Job) -> tuple[OwnQuestion, ...]:
    """The questions of her own that a job has, each once."""
    found: dict[str, OwnQuestion] = {}
    for one in map(OwnQuestion.of, job.sending.questions):
        found.setdefault(one.text, one)
    return tuple(found.values())


def adrift(job: Job, papers: Iterable[tuple[Source, object]]) -> list[Diagnostic]:
    """Questions whose clause is in no document in these words."""
    sources = [source for source, _ in papers]
    return [
        problem(
            "question-clause",
            f"The question “{one.text}” is about words that stand in no document of the job: “{one.words[:120]}”",
            severity=Severity.WARNING,
            help="Copy the words as they stand there, or take the brackets with them out of the question under [letter].",
            file=job.source.name,
        )
        for one in questions_of(job)
        if one.words and one.place(sources) is None
    ]
