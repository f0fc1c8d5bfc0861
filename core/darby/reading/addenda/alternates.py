"""Alternates: work that documents ask a price for, to be added to what is bid or taken from it; none of it counts until it is taken.

`Alternate No. 2: ...` opens one; what stands below it is its body, but for what says again what is bid anyway. One that is taken is read
like any clause, above the addenda and below the estimator's own lines.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from attrs import evolve, frozen

from darby.job.rows.sheet import shown
from darby.reading.addenda.omissions import PutIn
from darby.reading.layout.clause import Clause
from darby.reading.layout.normalize import mend
from darby.reading.layout.segmenter import clauses
from darby.reading.read import Language, Reading
from darby.rules.rule import alternate
from darby.text.diagnostics import Diagnostic, Severity, problem
from darby.text.files import nearest
from darby.text.spans import Source, Span, View

_OPENS = re.compile(
    r"(?:(?:add|additive|deduct|deductive|bid)\s{1,3})?(?:alternate|alternative|alt\.?)\s{1,3}(?:bid\s{1,3}|item\s{1,3})?"
    r"(?:no\.?\s{0,3}|number\s{1,3}|#\s{0,3})?(?P<number>[0-9]{1,3}[a-z]?|[a-z])(?![\w])\s{0,3}(?:[:.)\-\u2013\u2014]\s{0,3}){0,2}",
    re.IGNORECASE,
)
_AGAIN = re.compile(r"(?:base\s{1,3}(?:bid|work|contract)|as\s{1,3}bid)\b", re.IGNORECASE)
"""Opens what says again what is bid without it."""
_ITSELF = re.compile(
    r"(?:(?:add|deduct)\s{1,3})?(?:alternate|alternative|alt\.)\s{0,3}[:\-\u2013\u2014]\s{0,3}", re.IGNORECASE
)


@frozen(eq=False)
class Alternate:
    """One alternate of a document."""

    number: str
    """As it is told apart: `2`, `A`."""
    title: str
    """Its opening words, without its number."""
    span: Span
    body: tuple[View, ...]
    """What it says, clause by clause."""
    deducts: bool = False
    """Whether it is called one that deducts."""

    @property
    def name(self) -> str:
        """What it goes by: `Alternate 2`."""
        return f"Alternate {self.number}"


def alternates_in(source: Source, language: Language) -> tuple[Alternate, ...]:
    """The alternates of a document, in its order; of one that is opened twice the bodies come together."""
    if "alt" not in source.text.casefold():
        return ()
    layout = clauses(mend(source, language.known), language.known, language.means)
    found: dict[str, Alternate] = {}
    for clause in layout.clauses:
        opened = _OPENS.match(clause.text)
        if opened is None:
            continue
        body, own = _body(clause, layout.clauses), clause.view.cut(opened.end(), len(clause.view))
        title = " ".join(own.text.split())
        if not body and title:
            body = (own,)
        number = opened["number"].upper()
        first = found.get(number)
        if first is None:
            found[number] = Alternate(number, title, clause.view.whole, body, _deducts(opened[0]))
        else:
            found[number] = evolve(first, title=first.title or title, body=(*first.body, *body))
    return tuple(found.values())


def _deducts(opening: str) -> bool:
    return opening.casefold().startswith("deduct")


def _body(opening: Clause, every: Iterable[Clause]) -> tuple[View, ...]:
    out = []
    for clause in every:
        if (
            not any(parent is opening for parent in clause.parents)
            or _AGAIN.match(clause.text)
            or _OPENS.match(clause.text)
        ):
            continue
        again = any(_AGAIN.match(parent.text) for parent in clause.parents)
        itself = _ITSELF.match(clause.text)
        if not again:
            out.append(clause.view.cut(itself.end() if itself else 0, len(clause.view)))
    return tuple(view for view in out if view.text.strip())


def named(text: str) -> str:
    """The number of the alternate that a text names: `Alternate No. 2`, `alt. 2` and `2` are `2`; nothing where it names none."""
    match = _OPENS.fullmatch(text.strip()) or _OPENS.fullmatch(f"alternate {text.strip()}")
    return match["number"].upper() if match else ""


def taken(
    wanted: Sequence[tuple[str, Span]], sources: Iterable[Source], language: Language
) -> tuple[list[PutIn], list[Diagnostic]]:
    """What the alternates that are taken say, clause by clause; an error for one that no document has."""
    if not wanted:
        return [], []
    there: dict[str, list[Alternate]] = {}
    for source in sources:
        for one in alternates_in(source, language):
            there.setdefault(one.number, []).append(one)
    out: list[PutIn] = []
    told: list[Diagnostic] = []
    for text, span in wanted:
        found = there.get(named(text), [])
        if not found:
            known = [f"Alternate {number}" for number in there]
            near = nearest(text, known)
            help_ = (f"Did you mean {near}? " if near else "") + f"The documents have: {', '.join(known) or 'none'}."
            told.append(
                problem(
                    "alternate-unknown", f"no document opens an alternate of the name {shown(text)}", span, help=help_
                )
            )
        elif not any(one.body for one in found):
            told.append(
                problem(
                    "alternate-silent",
                    f"{found[0].name} says nothing besides its name",
                    span,
                    severity=Severity.WARNING,
                    help="Say what it changes in a plain line of your own under rules in the job file.",
                )
            )
        out += [PutIn(view, alternate(one.number), one.deducts) for one in found for view in one.body]
    return out, told


def silent(put_in: Sequence[PutIn], readings: Sequence[Reading]) -> Iterator[Diagnostic]:
    """Clauses of alternates that are taken and of which no rule was made: what they ask for is not in the order."""
    for one, reading in zip(put_in, readings, strict=True):
        if not reading.rules:
            said = " ".join(one.view.text.split())[:160]
            yield problem(
                "alternate-silent",
                f"Nothing that an order could follow was read from “{said}”, of {one.layer.name}.",
                one.view.whole,
                severity=Severity.WARNING,
                help="Say what it changes in a plain line of your own under rules in the job file.",
            )
