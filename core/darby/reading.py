"""A document to rules: every reader over every clause, overlaps settled, subjects bound, every number accounted for."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from functools import cached_property
from typing import Literal

from attrs import define, field, frozen

from darby.amounts import Amount, Origin
from darby.binding import Binder, Bound, Context
from darby.clauses import Clause, Layout, clauses
from darby.diagnostics import Diagnostic, Severity, problem
from darby.lexicon import Lexicon, Tag, Vocabulary
from darby.mending import mend
from darby.phrases import sentences
from darby.readers import Fact, Quantity, Reader
from darby.rules import Kind, Layer, Rule
from darby.text import Source, Span, View

Became = Literal["read", "set aside", "unread"]


@frozen
class Number:
    """A number of the text and what became of it; `why` says it in words ("a standard", "coverage of primer")."""

    span: Span
    became: Became
    why: str


@frozen(eq=False)
class Reading:
    """What one document says: its rules in order of place, every number once, and what could not be decided."""

    source: Source
    layer: Layer
    rules: tuple[Rule, ...]
    numbers: tuple[Number, ...]
    diagnostics: tuple[Diagnostic, ...]


@frozen(eq=False, slots=False)
class Language:
    """Readers and words, made ready once for any number of documents."""

    readers: tuple[Reader, ...]
    vocabularies: tuple[Vocabulary, ...]

    @classmethod
    def of(cls, readers: Iterable[Reader], vocabularies: Iterable[Vocabulary]) -> Language:
        """The language of some readers and vocabularies; cheap, since compiling waits for the first text."""
        return cls(tuple(readers), tuple(vocabularies))

    @cached_property
    def lexicon(self) -> Lexicon:
        """All words, ready to tag."""
        return Lexicon.of(self.vocabularies)

    @cached_property
    def kinds(self) -> dict[str, Kind]:
        """Every kind that some reader finds, by name."""
        return {kind.name: kind for reader in self.readers for kind in reader.kinds}

    @cached_property
    def _known_words(self) -> frozenset[str]:
        phrases = (*self.lexicon.phrases, *self.lexicon.after_number)
        return frozenset(w for p in phrases for w in re.findall(r"[a-z]+", p)) | frozenset(phrases)

    def known(self, word: str) -> bool:
        """Whether a lower-case word is one of the language's."""
        return word in self._known_words


def read(
    source: Source,
    layer: Layer,
    language: Language,
    *,
    strict: bool = False,
    subject: str = "",
    scope: Mapping[str, str] | None = None,
    within: View | None = None,
) -> Reading:
    """Read one document.

    `strict` is for defaults, house and override lines, where every number must be understood: what is not is an error.
    `subject` and `scope` hold for the whole text where it names none (a mark on a surface of the job). `within` reads
    only a part of the source, as a line of rules in a job file.
    """
    view = mend(source, language.known) if within is None else within
    layout = _lines_alone(view) if strict else clauses(view, language.known)
    desk = _Desk(language, layer, strict, subject, tuple((scope or {}).items()))
    desk.parents = {id(parent) for clause in layout.clauses for parent in clause.parents}
    for clause in layout.clauses:
        desk.clause(clause)
    for apart in layout.apart:
        desk.region(apart.span, apart.why)
    desk.rest(source, within.whole if within is not None else None)
    rules = sorted(desk.rules, key=lambda r: (r.span.start, r.span.end))
    numbers = sorted(desk.numbers, key=lambda n: n.span.start)
    return Reading(source, layer, tuple(rules), tuple(numbers), tuple(desk.diagnostics))


def _lines_alone(view: View) -> Layout:
    """Each line a clause of its own: how defaults and house lines are written."""
    out, at = [], 0
    for line in view.text.split("\n"):
        if line.strip() and not line.lstrip().startswith("#"):
            out.append(Clause(view.cut(at, at + len(line))))
        at += len(line) + 1
    return Layout(tuple(out), ())


_CITED = re.compile(r"\s*\[([^\[\]]{1,200})\]\s*$")


@define(eq=False)
class _Desk:
    """Collects rules, numbers and questions while clause after clause is read."""

    language: Language
    layer: Layer
    strict: bool
    subject: str
    scope: tuple[tuple[str, str], ...]
    rules: list[Rule] = field(factory=list)
    numbers: list[Number] = field(factory=list)
    diagnostics: list[Diagnostic] = field(factory=list)
    parents: set[int] = field(factory=set)
    """Clauses that others stand under."""
    tagged: dict[int, tuple[View, Sequence[Tag]]] = field(factory=dict)

    def clause(self, clause: Clause) -> None:
        """Read one clause, or each cell of a row."""
        cited = _CITED.search(clause.text) if self.strict else None
        if cited:
            self.region(clause.view.span(cited.start(1), cited.end(1)), "the source of the line")
            clause = Clause(clause.view.cut(0, cited.start()), clause.label, clause.parents)
        above = tuple((self._name(parent), self.tags(parent.view)) for parent in clause.parents)
        citation = cited[1] if cited else ""
        if not clause.cells:
            context = Context((), above, self.subject, self.scope)
            self._read(clause.view, context, clause, citation)
            return
        key = clause.cells[0]
        for number, cell in enumerate(clause.cells):
            if cell.again:
                continue
            heads = [(f"the head of the column, {h.text!r}", self.tags(h)) for h in cell.heads]
            if number and len(clause.cells) == 2 and not cell.heads:
                heads.append((f"the label, {key.view.text!r}", self.tags(key.view)))
            elif not number:
                heads += [(f"the row, {c.view.text!r}", self.tags(c.view)) for c in clause.cells[1:]]
            else:
                heads += [(f"the row, {c.view.text!r}", self.tags(c.view)) for c in clause.cells[:number]][::-1]
            self._read(
                cell.view,
                Context(tuple(heads), above, self.subject, self.scope),
                clause,
                citation,
                key=number == 0 and len(clause.cells) > 1,
            )

    def _name(self, clause: Clause) -> str:
        return f"the heading {clause.text!r}" if clause.heading else f"the lead-in {clause.text!r}"

    def tags(self, view: View) -> Sequence[Tag]:
        """The tags of a view, found once."""
        if id(view) not in self.tagged:
            self.tagged[id(view)] = view, self.language.lexicon.tags(view.text)
        return self.tagged[id(view)][1]

    def _read(self, view: View, context: Context, clause: Clause, cited: str, *, key: bool = False) -> None:
        tags = self.tags(view)
        facts = self._facts(tags, view.text)
        binder = Binder(self.language.lexicon, context)
        bounds = binder.bind(sentences(tags, facts))
        self._words_to_ask(view, tags, bounds, clause, context)
        used: set[int] = set()
        for bound in bounds:
            fact = bound.fact
            used.update(range(fact.start, fact.end))
            span = view.span(tags[fact.start].start, tags[fact.end - 1].end)
            if (
                clause.heading
                and id(clause) in self.parents
                and dict(fact.scope).get("coat") is None
                and not bound.aside
            ):
                bound.aside = "part of a heading"
            if key and bound.kind not in ("coats", "package", "layers") and not bound.aside:
                bound.aside = bound.aside or "the key of a row"
            became, why = self._settle(bound, span, clause, cited)
            self._account(view, tags[fact.start : fact.end], became, why, fact)
        for n, tag in enumerate(tags):
            if n not in used and tag.name in _NUMBERED:
                self._loose(view, tag)

    def _words_to_ask(
        self, view: View, tags: Sequence[Tag], bounds: Sequence[Bound], clause: Clause, context: Context
    ) -> None:
        """Questions that words raise by themselves, with or without a number."""
        said = [*tags, *(t for _, head in context.heads for t in head)]
        trade = any(t.name in ("subject", "COAT", "LAYER", "sheen") for t in said)
        for n, tag in enumerate(tags):
            why = ""
            if tag.name == "ASK":
                why = tag.value
            elif tag.name == "CARRIED" or (tag.name == "AS" and n + 1 < len(tags) and tags[n + 1].name == "room"):
                why = "taken over from elsewhere: see that it says what is meant"
            elif tag.name == "OPEN_ENDED" and trade and not any(b.doubt for b in bounds):
                why = "the text leaves it open"
            elif tag.name == "RELATIVE" and trade and not any(b.doubt for b in bounds):
                why = "relative to something said elsewhere"
            if why:
                self._ask(view.span(tag.start, tag.end), why, doubtful=True, clause=clause)

    def _facts(self, tags: Sequence[Tag], text: str) -> list[Fact]:
        """The facts of every reader; where two overlap the longer stays, and of equals the first reader's."""
        found = [fact for reader in self.language.readers for fact in reader.facts(tags, text)]
        if len(self.language.readers) < 2:
            return found
        kept: list[Fact] = []
        for fact in sorted(found, key=lambda f: (f.start - f.end, f.start)):
            if all(fact.end <= other.start or fact.start >= other.end for other in kept):
                kept.append(fact)
        return sorted(kept, key=lambda f: f.start)

    def _settle(self, bound: Bound, span: Span, clause: Clause, cited: str) -> tuple[Became, str]:
        """Make the rules of a bound fact, or say why it makes none."""
        if bound.aside:
            return "set aside", bound.aside
        kind = self.language.kinds.get(bound.kind)
        if bound.doubt or bound.unread or kind is None:
            why = bound.doubt or bound.unread or "nothing near it says what it is"
            self._ask(span, why, doubtful=bool(bound.doubt), clause=clause)
            return "unread", why
        for word in bound.subjects:
            for surface in [w.value for w in bound.surfaces] or [""]:
                rule = self._rule(bound, kind, word.value, surface, span, clause, cited)
                if rule is None:
                    why = "its units do not fit what it is said of"
                    self._ask(span, why, doubtful=False, clause=clause)
                    return "unread", why
                self.rules.append(rule)
        return "read", f"{kind.name} of {bound.subjects[0].value}"

    def _rule(
        self, bound: Bound, kind: Kind, subject: str, surface: str, span: Span, clause: Clause, cited: str
    ) -> Rule | None:
        quantity, per, by = bound.amount, bound.per, bound.fact.by
        assert quantity is not None
        if (
            quantity.unit.dimension not in kind.amount
            or (per is not None) != bool(kind.per)
            or (per is not None and per.unit.dimension not in kind.per)
        ):
            return None
        scope = dict(bound.scope)
        if surface:
            scope["surface"] = surface
        note = self.layer.name + (f", {cited}" if cited else "")
        origin = Origin(
            f"{span} {kind.name}" + (f" {surface}" if surface else ""), clause.view.whole.text.strip(), span, note
        )
        how = [("subject", next((w.how for w in bound.subjects if w.value == subject), ""))]
        if surface:
            how.append(("surface", next((w.how for w in bound.surfaces if w.value == surface), "")))
        return Rule(
            kind, subject, scope, _amount(quantity, origin), self.layer, span,
            per=_amount(per, origin) if per else None,
            upper=Amount.of(quantity.high, quantity.unit, origin) if quantity.high is not None else None,
            by=_amount(by, origin) if by else None,
            bound=bound.bound, cited=cited, bound_by=(*how, *bound.how),
        )  # type: ignore[arg-type]  # fmt: skip

    def _ask(self, span: Span, why: str, *, doubtful: bool, clause: Clause) -> None:
        """A question with its place; in a file that must be understood whole, an error."""
        if self.strict:
            self.diagnostics.append(
                problem("line-not-understood", f"{span.text!r} is not understood: {why}", span, help=_STRICT_HELP)
            )
        elif doubtful:
            self.diagnostics.append(
                problem("unclear", f"{span.text!r}: {why}", span, severity=Severity.QUESTION, help=_said(clause))
            )

    def _account(self, view: View, tags: Iterable[Tag], became: Became, why: str, fact: Fact) -> None:
        for tag in tags:
            if tag.name in _NUMBERED or (
                tag.name == "ORDINAL" and tag.number is None and view.text[tag.start].isdigit()
            ):
                said = became
                reason = why
                if tag.name == "DAMAGED":
                    said, reason = "unread", "a damaged number"
                elif (
                    became == "unread"
                    and tag.number is not None
                    and not any(c.isdigit() for c in view.text[tag.start : tag.end])
                    and fact.amount is not None
                    and not fact.kind
                    and fact.amount.unit.name == "each"
                ):
                    said, reason = "set aside", "a number word in running text"
                self.numbers.append(Number(view.span(tag.start, tag.end), said, reason))

    def _loose(self, view: View, tag: Tag) -> None:
        """A number that stands in no fact: a designation, a mark, or one that is damaged."""
        span = view.span(tag.start, tag.end)
        if tag.name == "CODE":
            self.numbers.append(Number(span, "set aside", tag.value))
        elif tag.name == "BLANK":
            self.diagnostics.append(problem("blank", "a value was left blank", span, severity=Severity.QUESTION))
        else:
            why = "a damaged number" if tag.name == "DAMAGED" else "a number without a unit"
            self.numbers.append(Number(span, "unread", why))
            self._ask(span, why, doubtful=tag.name == "DAMAGED", clause=Clause(view))

    def region(self, span: Span, why: str) -> None:
        """Set aside every number of a stretch that is no part of what the document says."""
        for match in _DIGITS.finditer(span.source.text, span.start, span.end):
            self.numbers.append(Number(span.source.span(match.start(), match.end()), "set aside", why))

    def rest(self, source: Source, within: Span | None) -> None:
        """Account for digits that no clause holds: markup, and numbers too long to be any."""
        taken = sorted((n.span.start, n.span.end) for n in self.numbers)
        kept: list[Number] = []
        end = -1
        for number in sorted(self.numbers, key=lambda n: (n.span.start, -n.span.end)):
            if number.span.start >= end:
                kept.append(number)
                end = number.span.end
        self.numbers = kept
        del taken
        low, high = (within.start, within.end) if within is not None else (0, len(source.text))
        at, stops = 0, [(n.span.start, n.span.end) for n in self.numbers]
        for match in _DIGITS.finditer(source.text, low, high):
            while at < len(stops) and stops[at][1] <= match.start():
                at += 1
            if at == len(stops) or stops[at][0] >= match.end():
                self.numbers.append(
                    Number(source.span(match.start(), match.end()), "set aside", _markup(source.text, match.start()))
                )


_NUMBERED = ("NUMBER", "CODE", "DAMAGED", "FEET_INCHES", "BLANK")
_DIGITS = re.compile(r"[0-9]{1,4000}")
_STRICT_HELP = 'Defaults, house and override lines must be understood whole. Write a plain line, as in "Joint filler: 14 lb per 100 sq ft."'


def _said(clause: Clause) -> str:
    text = " ".join(clause.view.whole.text.split())
    return f"It says: {text[:160]}{'…' if len(text) > 160 else ''}"


def _markup(text: str, at: int) -> str:
    before = text[max(0, at - 300) : at]
    in_tag = before.rfind("<") > before.rfind(">")
    return "markup" if in_tag or re.search(r"&#?\w{0,8}$", before) else "part of a longer run of signs"


def _amount(quantity: Quantity, origin: Origin) -> Amount:
    return Amount.of(quantity.low, quantity.unit, origin)
