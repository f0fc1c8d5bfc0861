"""Settling: what was found in a text becomes rules; what cannot be believed is asked about, and every number is accounted for."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

from attrs import frozen

from darby.reading.account.asking import Questions
from darby.reading.account.ledger import Became, Ledger
from darby.reading.account.word_questions import excepted, only_said, words_that_ask
from darby.reading.binding.belief.unmade import SYSTEM
from darby.reading.binding.in_place import IN_PLACE, OMITTED
from darby.reading.binding.site.finding import Context, Finding
from darby.reading.document.document_words import DocumentWords
from darby.reading.document.other_goods import OTHERS, REPLACED
from darby.reading.document.undefined_marks import is_undefined
from darby.reading.document.works.carried import References
from darby.reading.layout.clause import Clause
from darby.reading.parsing.tagging.tag import NUMBERED, Tag, refers
from darby.reading.rule_maker import RuleMaker
from darby.rules.rule import Kind, Layer, Rule
from darby.text.spans import Span, View


@frozen(eq=False)
class Text:
    """One text of a clause (the clause itself, or a cell) with what was found in it."""

    view: View
    tags: Sequence[Tag]
    findings: Sequence[Finding]
    context: Context
    key: bool = False
    choices: Sequence[Finding] = ()


@frozen(eq=False)
class Settler:
    """Settles one text after another of a document; what comes of them goes into the lists and books that it was given."""

    kinds: Mapping[str, Kind]
    layer: Layer
    strict: bool
    words: DocumentWords
    parents: Collection[int]
    """The `id` of every clause that others stand under."""
    rules: list[Rule]
    ledger: Ledger
    questions: Questions
    references: References
    excepted: list[tuple[Tag, Span, Clause]]

    def settle(self, text: Text, choices: Sequence[Finding], clause: Clause, cited: str) -> None:
        """Make rules of what was found, ask about what cannot be believed, and account for every number."""
        self._words_to_ask(text, clause, choices)
        if self.strict:
            self.questions.unknown_words(text.tags, text.view)
        used: set[int] = set()
        for finding in text.findings:
            fact = finding.fact
            used.update(range(fact.start, fact.end))
            coat = "coat" in dict(fact.scope)
            if clause.heading and id(clause) in self.parents and not coat and not finding.aside:
                finding.aside = "part of a heading"
            elif clause.heading and clause.table is not None and coat and not finding.aside:
                finding.aside = "the head of a column"
            elif text.key and finding.kind not in ("coats", "package", "layers") and not finding.aside:
                finding.aside = "the key of a row"
            span = text.view.span(text.tags[fact.start].start, text.tags[fact.end - 1].end)
            became, why = self._rules_of(finding, span, clause, cited)
            if became == "unread" and not finding.doubt and only_said(text.tags, fact):
                self.questions.ask(span, why, clause, doubtful=True)
            for tag in text.tags[fact.start : fact.end]:
                self._account(text.view, tag, became, why, finding)
        for finding in choices:
            tag = text.tags[finding.fact.start]
            if not (clause.heading or text.key):
                self._rules_of(finding, text.view.span(tag.start, tag.end), clause, cited)
            if finding.kind == SYSTEM and finding.choice in self.words.items.clauses:
                self.references.note(text.view.span(tag.start, tag.end).start, finding, text.tags, text.findings)
        for finding in (f for f in choices if f.kind == IN_PLACE and f.choice and f.stands and not f.doubt):
            alike = [f for f in choices if f.fact.start == finding.fact.start]
            if finding is alike[0]:
                self.questions.of_others(alike, text.tags, text.view)
        for n, tag in enumerate(text.tags):
            if n in used:
                continue
            if tag.name in NUMBERED:
                self._loose(text, n, clause)
            elif tag.name in ("mark", REPLACED, OTHERS):
                self.ledger.mark(text.view, tag, ours=tag.name == "mark")
            elif any(c.isdigit() for c in text.view.text[tag.start : tag.end]):
                self.ledger.name(text.view, tag)

    def _rules_of(self, finding: Finding, span: Span, clause: Clause, cited: str) -> tuple[Became, str]:
        """Make the rules of a finding, or say why it makes none."""
        if finding.aside:
            return "set aside", finding.aside
        kind = self.kinds.get(finding.kind)
        if finding.doubt or finding.unread or kind is None:
            why = finding.doubt or finding.unread or "nothing near it says what it is"
            self.questions.ask(span, why, clause, doubtful=bool(finding.doubt))
            return "unread", why
        maker = RuleMaker(self.kinds, self.layer)
        made = maker.rules(finding, kind, span, clause, cited)
        for other in finding.also if made is not None else ():
            other.confirm = other.confirm or finding.confirm
            made = [*(made or ()), *(maker.rules(other, kind, span, clause, cited) or ())]
        if made is None:
            why = "its units do not fit what it is said of"
            self.questions.ask(span, why, clause)
            return "unread", why
        self.rules.extend(made)
        if finding.summed:
            return "set aside", "the sum of what is said of each part"
        return "read", f"{kind.name} of {' and '.join(w.value for w in finding.subjects)}"

    def _words_to_ask(self, text: Text, clause: Clause, choices: Sequence[Finding]) -> None:
        """Questions that words raise by themselves; what an exception names waits for the end of the document."""
        above = [t for a in text.context.heads for t in a.tags]
        chosen = [f for f in choices if f.choice and not f.aside]
        undone = {f.fact.place for f in chosen if f.choice == OMITTED}
        for tag, why in words_that_ask(
            text.tags, text.view.text, above, text.findings, self.words.lexicon, self.words.items.clauses, chosen
        ):
            if tag.start not in undone:
                self.questions.ask(text.view.span(tag.start, tag.end), why, clause, doubtful=True)
        for tag, place in excepted(text.tags, leads=clause.leads_in and id(clause) in self.parents):
            self.excepted.append((place, text.view.span(tag.start, place.end), clause))

    def _account(self, view: View, tag: Tag, became: Became, why: str, finding: Finding) -> None:
        digits = any(c.isdigit() for c in view.text[tag.start : tag.end])
        if tag.name not in NUMBERED and not (tag.name == "ORDINAL" and digits):
            if digits:
                self.ledger.pass_over(view.span(tag.start, tag.end))
            return
        if tag.name == "DAMAGED":
            became, why = "unread", "a damaged number"
        elif became == "unread" and not digits and _only_a_word(finding):
            became, why = "set aside", "a number word in running text"
        self.ledger.enter(view.span(tag.start, tag.end), became, why)

    def _loose(self, text: Text, number: int, clause: Clause) -> None:
        """A number that stands in no fact: a designation, a mark, a blank, or one that is damaged."""
        tag = text.tags[number]
        span = text.view.span(tag.start, tag.end)
        if tag.name == "CODE":
            self.ledger.enter(span, "set aside", tag.value)
            if tag.value == "a mark" and is_undefined(text.tags, number, text.view.text, text.context, self.words):
                self.questions.ask(span, "a mark that nothing in this document defines", clause, doubtful=True)
        elif (of := refers(text.tags, number)) and (not text.findings or "." in span.text):
            self.ledger.enter(span, "set aside", of)  # `Table 2: ..`; beside a fact it may say where that holds
        elif tag.name == "BLANK":
            self.questions.ask(span, "left blank", clause, doubtful=True)
        else:
            why = "a damaged number" if tag.name == "DAMAGED" else "a number without a unit"
            self.ledger.enter(span, "unread", why)
            self.questions.ask(span, why, clause, doubtful=tag.name == "DAMAGED")


def _only_a_word(finding: Finding) -> bool:
    """Whether a number word counts nothing that could be ordered: `three schools`."""
    return finding.fact.amount is not None and not finding.fact.kind and finding.fact.amount.unit.name == "each"
