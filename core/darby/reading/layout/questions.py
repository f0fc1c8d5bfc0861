"""Questions over their answers: what an answer is said of stands in the question above it, or in the line that names the two.

In letters and messages (`> 4) Which varnish in the kitchen?`) an answer goes on to the next question; elsewhere the one clause below a question
is its answer. Labels (`Query:`, `Response:`) may stand in their lines or above them, and a line that names the matter before them.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise

from attrs import define, field

from darby.reading.layout.clause import Apart, Clause
from darby.reading.layout.lines import SENTENCE_END, Line

ASKED = re.compile(r"(?P<label>(?:Q|A)(?P<number>[0-9]{1,3}))(?:[.:)]\s*|\s+)(?=\S)")
"""The label of a question or an answer."""
_QUOTED = re.compile(r"\s*>+\s*(?:Q?\d{1,3}[.):]|Q[.:]|[a-z][.)])?\s*(?=\S)")
_ASKED = r"(?:Question|Query|Enquiry|Inquiry)"
_GIVEN = r"(?:Response|Answer|Reply|Clarification|Ans)"
_LABELLED = re.compile(
    rf"{_ASKED}\s?[0-9]{{0,3}}\s?[.:)–—-]\s|Q\s?[0-9]{{0,3}}[.:)]\s.{{0,400}}?\?(?:\s|$)", re.IGNORECASE
)
"""A question with its label, whatever it says behind its question mark."""
_ANSWER = re.compile(rf"(?:{_GIVEN}\s?[0-9]{{0,3}}\.?|A[0-9]{{0,3}})\s?[.:)–—-]\s", re.IGNORECASE)
_LABEL_OF_QUESTION = re.compile(rf"(?:{_ASKED}\s?[0-9]{{0,3}}|Q)\s?[.:)–—-]\s+", re.IGNORECASE)
_MARKED = re.compile(r">{1,5}\s*(?=\S)")
_NUMBERED = re.compile(r"\s*>+\s*(?:Q?\d{1,3}[.):]|Q[.:])")
BARE_LABEL = re.compile(
    rf"(?:(?P<asked>{_ASKED})|(?P<given>{_GIVEN}))\s?(?:no\.?\s)?[0-9]{{0,3}}\s?[.:)]?", re.IGNORECASE
)
"""A line that is the label of a question or an answer and nothing else."""
_SHORT = 9
"""Words in a line that names the matter of a question."""


def answers_under_questions(clauses: Sequence[Clause]) -> list[Apart]:
    """Mark the questions of a document, and put each answer under its question. What comes back are labels with numbers."""
    pairing = _Pairing(clauses)
    pairing.run()
    return pairing.apart


_Q, _A, _R = (re.compile(rf"{letter}\s?[0-9]{{0,3}}[.:)]\s", re.IGNORECASE) for letter in "QAR")
_ANSWERS = ("A", "R")
"""Letters that stand for an answer, a response or a reply."""


def _is_pair(clause: Clause, text: str, below: Clause, after: str) -> bool:
    """`Q: ..` over `A: ..`, whatever sign the question ends in."""
    asks = clause.label[:-1] == "Q" or (not clause.label and _Q.match(text))
    if clause.cells:
        asks = _Q.match(last := _last(clause)) or _LABELLED.match(last)
    elif below.label[:-1] == "R":
        asks = asks and "?" in text  # letters of a list go on from Q to R
    return bool(asks) and (below.label[:-1] in _ANSWERS or any(sign.match(_last(below, after)) for sign in (_A, _R)))


def _last(clause: Clause, text: str = "") -> str:
    """What the last cell of a row says; the text of what is no row."""
    own = [c for c in clause.cells if not c.again]
    return own[-1].view.text if own else text


@define(eq=False)
class _Pairing:
    """What is open while the clauses of a document are gone through."""

    clauses: Sequence[Clause]
    question: Clause | None = None
    lasts: bool = False
    """Whether the answer goes on to the next question."""
    topic: Clause | None = None
    """The line that names what the question and its answer are about."""
    label: str = ""
    """`asked` or `given` behind a line that is such a label."""
    marked: bool = False
    """Whether answers are marked as quotations are, and questions are numbered."""
    apart: list[Apart] = field(factory=list)

    def run(self) -> None:
        texts = [c.view.text.rstrip() for c in self.clauses]
        self.marked = any(
            one.endswith("?") and not _QUOTED.match(one) and _QUOTED.match(two) for one, two in pairwise(texts)
        )
        for number, clause in enumerate(self.clauses):
            self._take(clause, texts[number], self.clauses[number + 1] if number + 1 < len(texts) else None)

    def _take(self, clause: Clause, text: str, below: Clause | None) -> None:
        after = below.view.text.rstrip() if below is not None else ""
        quoted = _QUOTED.match(text) is not None
        paired = ASKED.match(clause.label + " .") if clause.label else None
        bare = BARE_LABEL.fullmatch(text) if not clause.cells else None
        label, self.label = self.label, ""
        if bare is not None:
            self.label = bare.lastgroup or ""
            self.question = None if self.label == "asked" else self.question
        elif paired is not None and clause.label.startswith("Q"):
            self._ask(clause, lasts=False)
        elif paired is not None and self.question is not None and self.question.label[1:] == clause.label[1:]:
            self._answer(clause)
            self.question = None
        elif (label == "asked" and not clause.cells) or (below is not None and _is_pair(clause, text, below, after)):
            self._ask(clause, lasts=False)
        elif self.question is not None and (label == "given" or clause.label[:-1] in _ANSWERS or _ANSWER.match(text)):
            self._answer(clause)
            self.lasts = False
        elif self._names_the_matter(clause, text, after):
            self.topic, self.question = clause, None
            clause.heading = True
        elif clause.cells or (clause.heading and not text.endswith("?")):
            self.question = self.topic = None
        elif self._is_asked(clause, text, after, quoted=quoted):
            self._ask(clause, lasts=quoted)
        elif (quoted and not (self.marked and self.question is not None)) or (
            self.question is not None and self._goes_on(clause)
        ):
            self.question = None
        elif self.question is not None:
            self._answer(clause)
            self.question = self.question if self.lasts else None

    def _is_asked(self, clause: Clause, text: str, after: str, *, quoted: bool) -> bool:
        if text.endswith("?") or _LABELLED.match(text) or (quoted and _NUMBERED.match(text)):
            return not (quoted and self.marked and self.question is not None)
        return self.marked and bool(clause.label) and not quoted and _QUOTED.match(after) is not None

    def _goes_on(self, clause: Clause) -> bool:
        """Whether a clause is the next item of a list that a question only stands in: `- hall: grey, one coat perhaps?`"""
        asked = self.question
        at = next(n for n, one in enumerate(self.clauses) if one is asked) if asked is not None else 0
        items = {one.label for one in (*self.clauses[max(0, at - 1) : at + 1], clause)}
        return (
            at > 0
            and len(items) == 1
            and not items.pop().strip("-–—•*")
            and bool(clause.label)
            and not self.clauses[at - 1].asks
        )

    def _names_the_matter(self, clause: Clause, text: str, after: str) -> bool:
        """`RFI 31  Stack Tower` right above `Question: ..`."""
        asked = _LABELLED.match(after) or ((found := BARE_LABEL.fullmatch(after)) and found.lastgroup == "asked")
        plain = not text.endswith((*SENTENCE_END, ",")) and len(text.split()) <= _SHORT and not clause.asks
        return bool(asked) and plain and not clause.cells and not _LABELLED.match(text)

    def _ask(self, clause: Clause, *, lasts: bool) -> None:
        clause.asks, self.question, self.lasts = True, clause, lasts
        clause.heading = False
        self._unlabel(clause, _LABEL_OF_QUESTION)
        if self.topic is not None and self.topic not in clause.parents:
            clause.parents = (self.topic, *clause.parents)
        self.topic = None

    def _unlabel(self, clause: Clause, label: re.Pattern[str]) -> None:
        """Take `Reply 4:` off what it labels: it is no name of what the clause is about."""
        found = label.match(clause.view.text)
        if found is None or clause.label or clause.cells:
            return
        number = re.search(r"[0-9]+", found[0])
        if number is not None:
            self.apart.append(Apart(clause.view.span(*number.span()), "the number of a question"))
        clause.label = found[0].strip()
        clause.view = clause.view.cut(found.end(), len(clause.view.text))

    def _answer(self, clause: Clause) -> None:
        assert self.question is not None
        self._unlabel(clause, _ANSWER)
        self._unlabel(clause, _MARKED)
        above = [p for p in self.question.parents[:1] if p.heading and p not in clause.parents]
        clause.parents = (self.question, *above, *(p for p in clause.parents if p is not self.question))


def paired_questions(lines: list[Line]) -> set[str]:
    """The numbers that a question and an answer both have, where several do: `Q1 ..` over `A1 ..`."""
    asked: dict[str, set[str]] = {"Q": set(), "A": set()}
    for line in lines:
        if found := ASKED.match(line.shape):
            asked[found["label"][0]].add(found["number"])
    pairs = asked["Q"] & asked["A"]
    return pairs if len(pairs) > 1 else set()
