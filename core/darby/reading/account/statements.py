"""The ledger of statements, beside that of numbers: what names our goods, or gives a place something, and made no rule.

A sentence is heard where a rule, a question or a number that is shown as unread stands in it; of the others, those that speak of what is
ordered here are kept, so that nothing said without a number is lost from sight.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Sequence
from typing import Protocol

from attrs import frozen

from darby.reading.account.ledger import Ledger, digits_in
from darby.reading.layout.clause import Clause
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.parsing.tagging.tag import Tag
from darby.rules.rule import Rule
from darby.text.diagnostics import Diagnostic, Severity
from darby.text.spans import Span, View

_PLACES = ("surface", "room")
_BARE = 3
"""Words besides the names of goods from which on a sentence says something of them: a name alone is a title."""

_LONGEST = 6
"""Characters of a code that may be the mark of a system, `PT-12A`; what is longer is the number of an article."""
_MOST = 3
"""Names told in one place."""


@frozen
class Statement:
    """A sentence that speaks of what is ordered here and made no rule; `why` says so in words."""

    span: Span
    why: str
    gives: bool
    """Whether it gives a place something, or chooses: an order may hang on it. Else it only names goods."""


class Heard(Protocol):
    """What was made of some clauses."""

    @property
    def lexicon(self) -> Lexicon:
        """The words."""
        ...

    @property
    def rules(self) -> list[Rule]:
        """The rules they made."""
        ...

    @property
    def diagnostics(self) -> list[Diagnostic]:
        """What was asked about them."""
        ...

    @property
    def ledger(self) -> Ledger:
        """Their numbers."""
        ...

    def tags(self, view: View) -> Sequence[Tag]:
        """The known words of a view."""
        ...


@frozen
class _Said:
    """A sentence, or a cell of a table, with the words that say where it holds."""

    view: View
    start: int
    end: int
    tags: Sequence[Tag]
    over: Sequence[Tag] = ()


@frozen
class _Spans:
    """Stretches in order that do not hold one another, for finding those that touch another stretch."""

    starts: Sequence[int]
    ends: Sequence[int]

    @classmethod
    def of(cls, spans: Iterable[Span]) -> _Spans:
        """Some spans of one source; of two that overlap the one that reaches further counts from where the first begins."""
        starts: list[int] = []
        ends: list[int] = []
        for span in sorted(spans, key=lambda s: s.start):
            if ends and span.start < ends[-1]:
                ends[-1] = max(ends[-1], span.end)
            else:
                starts.append(span.start)
                ends.append(span.end)
        return cls(starts, ends)

    def touch(self, span: Span) -> bool:
        """Whether one of them lies in a stretch, or a part of one."""
        at = bisect_left(self.ends, span.start + 1)
        return at < len(self.starts) and self.starts[at] < span.end


def statements(clauses: Sequence[Clause], heard: Heard) -> Iterator[Statement]:
    """What some clauses say that nothing was made of, in order. Headings and what leads in a list are heard by what stands below."""
    parents = {id(parent) for clause in clauses for parent in clause.parents}
    asked = [d.span for d in heard.diagnostics if d.span is not None and d.severity is not Severity.NOTE]
    numbers = [n.span for n in heard.ledger.entries if n.became != "set aside"]
    taken = _Spans.of([*(rule.span for rule in heard.rules), *asked, *numbers])
    rules = sorted(heard.rules, key=lambda rule: rule.span.start)
    begins = [rule.span.start for rule in rules]
    for clause in clauses:
        if clause.heading or (clause.leads_in and id(clause) in parents):
            continue
        whole = clause.view.whole
        own = rules[bisect_left(begins, whole.start) : bisect_left(begins, whole.end)]
        told = {
            part for rule in own for _, said in (*rule.scope.items(), ("", rule.choice)) for part in said.split(", ")
        }
        for said in _said(clause, heard):
            span = said.view.span(said.start, said.end)
            if not taken.touch(span) and (found := _statement(said, span, told, heard.lexicon)) is not None:
                yield found


def _said(clause: Clause, heard: Heard) -> Iterator[_Said]:
    """The sentences of a clause, or the cells of a row behind its key."""
    if clause.cells:
        key = heard.tags(clause.cells[0].view)
        for cell in clause.cells[1:]:
            if not cell.again:
                over = [*key, *(t for head in cell.heads for t in heard.tags(head))]
                yield _Said(cell.view, 0, len(cell.view.text), heard.tags(cell.view), over)
        return
    above = heard.tags(clause.parents[0].view) if clause.parents else ()
    start, own = 0, list[Tag]()
    for tag in (*heard.tags(clause.view), Tag(len(clause.view.text), len(clause.view.text), "STOP")):
        if tag.name != "STOP":
            own.append(tag)
            continue
        start += len(clause.view.text[start : tag.start]) - len(clause.view.text[start : tag.start].lstrip())
        if own and tag.start > start:
            yield _Said(clause.view, start, tag.start, own, above)
        start, own = tag.end, []


def _statement(said: _Said, span: Span, told: set[str], lexicon: Lexicon) -> Statement | None:
    """What a sentence that was not heard says of our goods; None where it says nothing of them, or why it is none of ours."""
    if any(t.name == "ASIDE_ALL" and not t.value.startswith("?") for t in said.tags):
        return None
    goods = _named(t.value for t in said.tags if t.name == "subject" and t.value in lexicon.kinds)
    named = [pair for t in said.tags for pair in ((t.name, t.value), *t.also)]
    places = _named(value for name, value in named if name in _PLACES)
    over = _named(t.value for t in said.over if t.name in _PLACES)
    chosen = [t for t in said.tags if (_is_mark(t) or _of(t, lexicon)) and t.value not in told]
    choices = _named(t.value for t in chosen)
    codes = (said.view.text[t.start : t.end] for t in said.tags if t.name == "CODE" and t.value == "a mark")
    choices += _named(code for code in codes if code[0].isalpha() and len(code) <= _LONGEST)
    if not choices and places and any(t.name == "COLOR_WORD" for t in said.tags) and _speaks(said):
        choices = ["a color"]  # by a name that nobody knows
    where = places or over or [one for one in goods if any(_of(t, lexicon) == one for t in chosen)]
    if choices and where:
        return Statement(span, f"no rule was made of {_listed(choices)} for {_listed(where)}", gives=True)
    if goods and places and _speaks(said):
        return Statement(span, f"no rule was made of {_listed(goods)} at {_listed(places)}", gives=True)
    if goods and _speaks(said) and not any(digits_in(said.view.text, said.start, said.end)):
        return Statement(span, f"names {_listed(goods)}, and no rule was made of it", gives=False)
    return None


def _is_mark(tag: Tag) -> bool:
    """Whether a word is the mark of a system; a bare number is one only where the words before it say so."""
    return tag.name == "mark" and not (tag.loose and tag.value.isdigit())


def _of(tag: Tag, lexicon: Lexicon) -> str:
    """Of which goods a word chooses a sort, or nothing."""
    return lexicon.choices.get((tag.name, tag.value), "")


def _speaks(said: _Said) -> bool:
    """Whether a sentence has more than the names of goods and places in it."""
    names = [t for t in said.tags if t.name in ("subject", *_PLACES)]
    words = len(said.view.text[said.start : said.end].split())
    return words - sum(len(said.view.text[t.start : t.end].split()) for t in names) >= _BARE


def _named(values: Iterable[str]) -> list[str]:
    return list(dict.fromkeys(values))


def _listed(names: Sequence[str]) -> str:
    """Up to three names: `wall and ceiling`, `wall, ceiling, trim ...`."""
    if len(names) > _MOST:
        return f"{', '.join(names[:_MOST])} ..."
    return " and ".join(filter(None, (", ".join(names[:-1]), names[-1])))
