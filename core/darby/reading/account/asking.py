"""Questions and notes about one clause, each with its place: what could not be believed, words that nobody knows, goods of others."""

from __future__ import annotations

import re
from collections.abc import Sequence
from difflib import get_close_matches
from functools import cached_property

from attrs import define

from darby.reading.binding.in_place import OMITTED, limits
from darby.reading.binding.site.finding import Finding
from darby.reading.layout.clause import Clause
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.parsing.tagging.tag import Tag, sentence_bounds
from darby.text.diagnostics import Diagnostic, Severity, problem
from darby.text.spans import Span, View

_WORD = re.compile(r"(?<![A-Za-z0-9])[A-Za-z][A-Za-z'-]{0,40}")
STRICT_HELP = (
    "Defaults, house lines and your own lines must be understood whole. "
    'Write one plain fact, as in "Ceilings: two coats." or "12 in. on center."'
)
_NOT_SO = "Nothing to do if it is so; else give the place its own line in the job."
_QUOTED = 1_000
"""Letters of a clause that are looked at to quote its beginning."""


@define(eq=False, slots=False)
class Questions:
    """Adds what a document leaves open to its diagnostics."""

    lexicon: Lexicon
    diagnostics: list[Diagnostic]
    strict: bool = False
    """Whether all must be understood, so that a question is an error."""

    def ask(self, span: Span, why: str, clause: Clause, *, doubtful: bool = False) -> None:
        """A question with its place; in a file that must be understood whole, an error."""
        if self.strict:
            text = f"“{span.text}” is not understood: {why}"
            self.diagnostics.append(problem("line-not-understood", text, span, help=STRICT_HELP))
        elif doubtful:
            text = f"“{' '.join(span.text.split())}”: {why}"
            said = " ".join(clause.view.whole.text[:_QUOTED].split())
            shown = f"It says: {said[:160]}{'…' if len(said) > 160 else ''}"
            self.diagnostics.append(problem("unclear", text, span, severity=Severity.QUESTION, help=shown))

    def of_others(self, found: Sequence[Finding], tags: Sequence[Tag], view: View) -> None:
        """Tell that other goods take the place of ours somewhere."""
        tag, first = tags[found[0].fact.start], found[0]
        goods = ", ".join(f.subjects[0].value for f in found if f.choice)
        rooms = (
            list(dict.fromkeys(room for room, _ in first.places)) if first.choice == OMITTED else [first.places[0][0]]
        )
        where = " and ".join(dict.fromkeys(s.value for room, s in first.places if s and room == rooms[0]))
        where = f"the {where}" if where else ""
        of = " and ".join(filter(None, rooms)) or "".join(first.marks[:1])
        where += f"{' of ' if where else ''}{of}" if of else ""
        where += f", {first.scope['where']}" if "where" in first.scope else ""
        says = _sentence_of(first, tags, view.text) if first.choice == OMITTED else first.choice
        does = "leaves out" if first.choice == OMITTED or limits(tag) else "takes the place of"
        message = f"“{says}” {does} {goods}: none of it is ordered for {where}."
        span = view.span(tag.start, tag.end)
        self.diagnostics.append(problem("other-goods", message, span, severity=Severity.NOTE, help=_NOT_SO))

    def unknown_words(self, tags: Sequence[Tag], view: View) -> None:
        """In a line that must be understood whole a word that nobody knows may be a misspelt place or product."""
        at = 0
        for start, end in [*((t.start, t.end) for t in tags), (len(view.text),) * 2]:
            for match in _WORD.finditer(view.text, at, max(at, start)):
                word = match[0].lower()
                if word not in self.lexicon.plain:
                    span = view.span(match.start(), match.end())
                    near = [w for w in get_close_matches(word, self._known, 2, 0.75) if w != word]
                    help_ = f"Did you mean “{near[0]}”?" if near else STRICT_HELP
                    message = f"“{span.text}” is no word that is known here"
                    self.diagnostics.append(problem("line-not-understood", message, span, help=help_))
            at = max(at, end)

    @cached_property
    def _known(self) -> list[str]:
        return sorted({w for phrase in self.lexicon.stock.phrases for w in phrase.split()} | self.lexicon.plain)


def _sentence_of(finding: Finding, tags: Sequence[Tag], text: str) -> str:
    """The sentence that a finding stands in."""
    low, high = sentence_bounds(tags, finding.fact.place, len(text))
    return text[low + 1 : high].strip()
