"""Questions over their answers: what an answer is said of stands in the question above it.

In letters and messages (`> 4) Which varnish in the kitchen?`) an answer goes on to the next question; elsewhere the one clause below a question
is its answer.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from darby.reading.layout.clause import Clause
from darby.reading.layout.headings import ASKED

_QUOTED = re.compile(r"\s*>+\s*(?:Q?\d{1,3}[.):]|Q[.:]|[a-z][.)])?\s*(?=\S)")
_LABELLED = re.compile(r"Question\s?[0-9]{0,3}[.:)]\s|Q\s?[0-9]{0,3}[.:)]\s.{0,400}?\?(?:\s|$)", re.IGNORECASE)
"""A question with its label, whatever it says behind its question mark."""
_ANSWER = re.compile(r"(?:Response|Answer|Reply|Ans\.?|A[0-9]{0,3})\s?[.:)]\s", re.IGNORECASE)
_NUMBERED = re.compile(r"\s*>+\s*(?:Q?\d{1,3}[.):]|Q[.:])")


def answers_under_questions(clauses: Sequence[Clause]) -> None:
    """Mark the questions of a document, and put each answer under its question."""
    question: Clause | None = None
    lasts = False
    for clause in clauses:
        text = clause.view.text.rstrip()
        quoted = _QUOTED.match(text) is not None
        answers = question is not None and _ANSWER.match(text) is not None
        paired = ASKED.match(clause.label + " .") if clause.label else None
        if paired is not None and clause.label.startswith("Q"):
            clause.asks, question, lasts = True, clause, False
        elif paired is not None and question is not None and question.label[1:] == clause.label[1:]:
            clause.parents, question = (question, *clause.parents), None
        elif answers and question is not None:
            clause.parents, lasts = (question, *clause.parents), False
        elif clause.heading or clause.cells:
            question = None
        elif text.endswith("?") or _LABELLED.match(text) or (quoted and _NUMBERED.match(text)):
            clause.asks, question, lasts = True, clause, quoted
        elif quoted:
            question = None
        elif question is not None:
            clause.parents = (question, *clause.parents)
            question = question if lasts else None
