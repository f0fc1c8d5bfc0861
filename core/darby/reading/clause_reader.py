"""The desk: clause after clause is read at it; rules, numbers and questions pile up on it."""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Mapping, Sequence
from functools import cached_property

from attrs import define, field, frozen

from darby.reading.account.asking import STRICT_HELP, Questions
from darby.reading.account.ledger import Became, Ledger
from darby.reading.account.names import names_of, works_of
from darby.reading.account.statements import Statement, statements
from darby.reading.account.word_questions import excepted, only_said, words_that_ask
from darby.reading.binding.belief.ambiguity import doubt_rates
from darby.reading.binding.belief.confidence import weigh, weigh_others, weigh_under
from darby.reading.binding.binder import Binder
from darby.reading.binding.choices import SYSTEM, bind_choices
from darby.reading.binding.in_place import IN_PLACE, OMITTED, doubt_limits, doubt_undone, limits
from darby.reading.binding.site.finding import Above, Context, Finding
from darby.reading.clause_net import Net
from darby.reading.document.after_places import AfterPlaces
from darby.reading.document.document_words import DocumentWords
from darby.reading.document.named_coats import listed
from darby.reading.document.neighbours import by_neighbour
from darby.reading.document.other_goods import OTHERS, REPLACED
from darby.reading.document.surroundings import Surroundings
from darby.reading.document.undefined_marks import is_undefined
from darby.reading.document.works.carried import Part, References
from darby.reading.layout.clause import Clause, Layout
from darby.reading.left_undone import left_undone
from darby.reading.parsing.chunker import sentences
from darby.reading.parsing.fact_parser import Fact, Reader
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.parsing.tagging.tag import NUMBERED, Tag, refers
from darby.reading.parsing.takers import with_takers
from darby.reading.rule_maker import RuleMaker
from darby.reading.spare import spares
from darby.reading.told_apart import weigh_after_places, weigh_tables
from darby.rules.rule import Kind, Layer, Rule
from darby.text.diagnostics import Diagnostic, problem
from darby.text.spans import Span, View

_CITED = re.compile(r"\s*\[([^\[\]]{1,200})\]\s*$")


@frozen(eq=False)
class _Text:
    """One text of a clause (the clause itself, or a cell) with what was found in it."""

    view: View
    tags: Sequence[Tag]
    findings: Sequence[Finding]
    context: Context
    key: bool = False
    choices: Sequence[Finding] = ()


@define(eq=False, slots=False)
class Desk:
    """Collects rules, numbers and questions while clause after clause is read."""

    lexicon: Lexicon
    readers: Sequence[Reader]
    kinds: Mapping[str, Kind]
    layer: Layer
    strict: bool
    subject: str
    scope: tuple[tuple[str, str], ...]
    elsewhere: Mapping[str, str] = field(factory=dict)
    """Marks that other documents define."""
    rules: list[Rule] = field(factory=list)
    diagnostics: list[Diagnostic] = field(factory=list)
    ledger: Ledger = field(factory=Ledger)
    statements: list[Statement] = field(factory=list)
    named: Mapping[str, Span] = field(factory=dict)
    """Goods that the document names as work, each with the first place that does."""
    _title: str = ""
    """The title of the section that is being read."""
    _asked_outside: bool = False
    """Whether a reader of somebody else's is at work: what goes wrong then is its own, and costs no clause."""
    _parents: set[int] = field(factory=set)
    _listed: Mapping[int, Fact] = field(factory=dict)
    """What clauses say by being members of a list, by the `id` of their views."""
    _references: References = field(factory=References)
    """What refers to other items of a schedule."""
    _excepted: list[tuple[Tag, Span, Clause]] = field(factory=list)
    """Places that exceptions name, of which something else may be said further on."""

    @cached_property
    def words(self) -> DocumentWords:
        """The words of the document."""
        return DocumentWords(self.lexicon, self.strict, elsewhere=self.elsewhere)

    @cached_property
    def _questions(self) -> Questions:
        return Questions(self.lexicon, self.diagnostics, self.strict)

    def tags(self, view: View) -> Sequence[Tag]:
        """The tags of a view, found once."""
        return self.words.tags(view)

    def read(self, layout: Layout) -> None:
        """Read every clause of a layout in order."""
        self._parents = {id(parent) for clause in layout.clauses for parent in clause.parents}
        self.words.learn(layout.clauses)
        after = AfterPlaces() if self.strict else AfterPlaces.of(layout.clauses, self.words)
        around = Surroundings(self.words, self._parents, after)
        self._listed = listed(layout.clauses, self.words.tags, self.lexicon, self.words.systems.subjects)
        for reader in self.readers if layout.clauses else ():
            _ = reader.begins  # a grammar that is none costs its reader, and no clause
        net = Net(self.strict, self.rules, self.diagnostics, self.ledger.entries, self.ledger.words, self._excepted)
        sibling: tuple[Clause, Sequence[Finding]] | None = None
        tables: dict[int, list[int]] = {}
        parts: list[Part] = []
        made: dict[int, Sequence[int]] = {}
        for number, clause in enumerate(layout.clauses):
            same = sibling is not None and sibling[0].parents == clause.parents and not clause.heading
            known, said = len(self.rules), len(self.diagnostics)
            before = tuple(sibling[1]) if same and sibling is not None else ()
            net.hold()
            try:
                findings = self._clause(clause, around, around.above(layout.clauses, number), before)
            except Exception as error:
                if self._asked_outside or isinstance(error, MemoryError):
                    raise
                findings = net.catch(error, clause)
            if clause.table is not None:
                tables.setdefault(id(clause.table), []).extend(range(known, len(self.rules)))
            made[id(clause)] = range(known, len(self.rules))
            parts.append((self.words.items.number_of(clause) or f"clause {number}", known, len(self.rules)))
            if self.strict and len(self.rules) == known and len(self.diagnostics) == said:
                message = "this line gives no rule"
                self.diagnostics.append(problem("line-not-understood", message, clause.view.whole, help=STRICT_HELP))
            if findings:
                sibling = clause, findings
        weigh_tables(self.rules, tables.values())
        weigh_after_places(self.rules, made, after)
        net.doubt(layout.clauses, made)
        self.rules, lost = self._references.carried(self.rules, parts, self.words.items.clauses)
        self.diagnostics += lost
        spoken = {(key, value) for rule in self.rules for key, value in rule.scope.items()}
        for place, span, clause in self._excepted:
            if (place.name, place.value) not in spoken:
                self._questions.ask(span, "an exception: what holds there is not said", clause, doubtful=True)
        for apart in layout.apart:
            self.ledger.set_aside(apart.span, apart.why)
        if not self.strict:
            self.statements.extend(statements(layout.clauses, self))
            self.named = names_of(layout.clauses, self, self.lexicon, works_of(self.lexicon.vocabularies))

    def _clause(
        self, clause: Clause, around: Surroundings, above: tuple[Above, ...], sibling: tuple[Finding, ...]
    ) -> Sequence[Finding]:
        cited = ""
        self._title = clause.section.title if clause.section is not None else ""
        source = _CITED.search(clause.text) if self.strict else None
        if source:
            cited = source[1]
            self.ledger.set_aside(clause.view.span(source.start(1), source.end(1)), "the source of the line")
            clause = Clause(clause.view.cut(0, source.start()), clause.label, clause.parents)
        texts: list[_Text] = []
        row: list[Finding] = []
        if clause.cells:
            for number, cell in enumerate(clause.cells):
                if not cell.again:
                    key = around.rows.key_of(clause)
                    if why := around.rows.no_part(clause, number, cell):
                        self.ledger.set_aside(cell.view.whole, why)
                        continue
                    states = cell.column is not None and cell.column.role == "statements"
                    heads = around.rows.heads(clause, number, cell)
                    context = Context(heads, above, self.subject, self.scope, sibling)
                    texts.append(
                        self._text(
                            cell.view,
                            context,
                            row,
                            key=number == key and len(clause.cells) > 1 and not states,
                            asks=clause.asks and cell is clause.cells[-1],
                        )
                    )
                    row.extend(texts[-1].findings)
        else:
            context = Context(around.opened(clause), above, self.subject, self.scope, sibling)
            texts.append(self._text(clause.view, context, row, asks=clause.asks))
            row.extend(texts[-1].findings)
        doubt_rates(row)
        for text in texts:
            own = set(map(id, text.findings))
            others = [f for f in row if id(f) not in own]
            choices = (
                []
                if clause.asks
                else bind_choices(
                    text.tags,
                    text.view.text,
                    text.findings,
                    others,
                    text.context,
                    self.lexicon,
                    self.words.systems,
                )
            )
            if not (clause.asks or clause.heading or clause.cells):
                choices = [*choices, *left_undone(text.tags, text.view.text, self.lexicon)]
            if not self.strict:
                believed = [c for c in choices if c.kind != IN_PLACE or limits(text.tags[c.fact.start])]
                weigh([*text.findings, *believed], text.tags, text.view.text, self.lexicon)
                weigh_under([*text.findings, *believed], self.words.above(clause), self.lexicon)
                weigh_others([*text.findings, *choices], text.context.sibling, text.tags)
                doubt_limits(believed)
                doubt_undone(choices, text.findings)
            self._settle_text(text, choices, clause, cited)
        return row

    def _text(
        self, view: View, context: Context, row: Sequence[Finding], *, key: bool = False, asks: bool = False
    ) -> _Text:
        tags = self.words.tags(view)
        if id(view) in self.words.torn:
            raise self.words.torn[id(view)]
        tags = tags if self.strict else by_neighbour(tags, view.text, context, self.words.names)
        binder = Binder(self.lexicon, context, tuple(row))
        facts = self._facts(tags, view.text)
        left = [] if self.strict or asks else spares(tags, self._above(tags, context), view.text, self.lexicon)
        facts = [f for f in facts if not any(s.fact.start < f.end and f.start < s.fact.end for s in left)]
        member = self._listed.get(id(view))
        if member is not None and not any(f.kind == member.kind and not f.why for f in facts):
            facts = [member, *(f for f in facts if f.start >= member.end)]
        taken = sentences(tags, facts, view.text)
        for sentence in taken:
            sentence.asks = sentence.asks or asks
        return _Text(view, tags, [*binder.bind(taken), *left], context, key)

    def _above(self, tags: Sequence[Tag], context: Context) -> list[Tag]:
        """The words that a clause stands under; of one that is set aside the title of its section among them."""
        title = self.lexicon.tags(self._title) if any(t.name == "ASIDE_ALL" for t in tags) else []
        return [*title, *(tag for above in context.all for tag in above.tags)]

    def _facts(self, tags: Sequence[Tag], text: str) -> list[Fact]:
        """The facts of every reader; where two overlap the longer stays, and of equals the first reader's."""
        found: list[Fact] = []
        for reader in self.readers:
            self._asked_outside = reader.outside
            found += reader.facts(tags, text)
        self._asked_outside = False
        found = with_takers(found, tags, text, self.lexicon.knows)
        if len(self.readers) < 2:
            return found
        kept: list[Fact] = []
        for fact in sorted(found, key=lambda f: (f.start - f.end, f.start)):
            at = bisect_left(kept, fact.start, key=lambda f: f.start)
            before, behind = kept[at - 1 : at] if at else [], kept[at : at + 1]
            if all(fact.end <= other.start or fact.start >= other.end for other in (*before, *behind)):
                kept.insert(at, fact)
        return kept

    def _settle_text(self, text: _Text, choices: Sequence[Finding], clause: Clause, cited: str) -> None:
        """Make rules of what was found, ask about what cannot be believed, and account for every number."""
        self._words_to_ask(text, clause, choices)
        if self.strict:
            self._questions.unknown_words(text.tags, text.view)
        used: set[int] = set()
        for finding in text.findings:
            fact = finding.fact
            used.update(range(fact.start, fact.end))
            coat = "coat" in dict(fact.scope)
            if clause.heading and id(clause) in self._parents and not coat and not finding.aside:
                finding.aside = "part of a heading"
            elif clause.heading and clause.table is not None and coat and not finding.aside:
                finding.aside = "the head of a column"
            elif text.key and finding.kind not in ("coats", "package", "layers") and not finding.aside:
                finding.aside = "the key of a row"
            span = text.view.span(text.tags[fact.start].start, text.tags[fact.end - 1].end)
            became, why = self._settle(finding, span, clause, cited)
            if became == "unread" and not finding.doubt and only_said(text.tags, fact):
                self._questions.ask(span, why, clause, doubtful=True)
            for tag in text.tags[fact.start : fact.end]:
                self._account(text.view, tag, became, why, finding)
        for finding in choices:
            tag = text.tags[finding.fact.start]
            if not (clause.heading or text.key):
                self._settle(finding, text.view.span(tag.start, tag.end), clause, cited)
            if finding.kind == SYSTEM and finding.choice in self.words.items.clauses:
                self._references.note(text.view.span(tag.start, tag.end).start, finding, text.tags, text.findings)
        for finding in (f for f in choices if f.kind == IN_PLACE and f.choice and f.stands and not f.doubt):
            alike = [f for f in choices if f.fact.start == finding.fact.start]
            if finding is alike[0]:
                self._questions.of_others(alike, text.tags, text.view)
        for n, tag in enumerate(text.tags):
            if n in used:
                continue
            if tag.name in NUMBERED:
                self._loose(text, n, clause)
            elif tag.name in ("mark", REPLACED, OTHERS):
                self.ledger.mark(text.view, tag, ours=tag.name == "mark")
            elif any(c.isdigit() for c in text.view.text[tag.start : tag.end]):
                self.ledger.name(text.view, tag)

    def _settle(self, finding: Finding, span: Span, clause: Clause, cited: str) -> tuple[Became, str]:
        """Make the rules of a finding, or say why it makes none."""
        if finding.aside:
            return "set aside", finding.aside
        kind = self.kinds.get(finding.kind)
        if finding.doubt or finding.unread or kind is None:
            why = finding.doubt or finding.unread or "nothing near it says what it is"
            self._questions.ask(span, why, clause, doubtful=bool(finding.doubt))
            return "unread", why
        made = RuleMaker(self.kinds, self.layer).rules(finding, kind, span, clause, cited)
        if made is None:
            why = "its units do not fit what it is said of"
            self._questions.ask(span, why, clause)
            return "unread", why
        self.rules.extend(made)
        if finding.summed:
            return "set aside", "the sum of what is said of each part"
        return "read", f"{kind.name} of {' and '.join(w.value for w in finding.subjects)}"

    def _words_to_ask(self, text: _Text, clause: Clause, choices: Sequence[Finding]) -> None:
        """Questions that words raise by themselves; what an exception names waits for the end of the document."""
        above = [t for a in text.context.heads for t in a.tags]
        chosen = [f for f in choices if f.choice and not f.aside]
        undone = {f.fact.place for f in chosen if f.choice == OMITTED}
        for tag, why in words_that_ask(
            text.tags, text.view.text, above, text.findings, self.lexicon, self.words.items.clauses, chosen
        ):
            if tag.start not in undone:
                self._questions.ask(text.view.span(tag.start, tag.end), why, clause, doubtful=True)
        for tag, place in excepted(text.tags, leads=clause.leads_in and id(clause) in self._parents):
            self._excepted.append((place, text.view.span(tag.start, place.end), clause))

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

    def _loose(self, text: _Text, number: int, clause: Clause) -> None:
        """A number that stands in no fact: a designation, a mark, a blank, or one that is damaged."""
        tag = text.tags[number]
        span = text.view.span(tag.start, tag.end)
        if tag.name == "CODE":
            self.ledger.enter(span, "set aside", tag.value)
            if tag.value == "a mark" and is_undefined(text.tags, number, text.view.text, text.context, self.words):
                self._questions.ask(span, "a mark that nothing in this document defines", clause, doubtful=True)
        elif (of := refers(text.tags, number)) and (not text.findings or "." in span.text):
            self.ledger.enter(span, "set aside", of)  # `Table 2: ..`; beside a fact it may say where that holds
        elif tag.name == "BLANK":
            self._questions.ask(span, "left blank", clause, doubtful=True)
        else:
            why = "a damaged number" if tag.name == "DAMAGED" else "a number without a unit"
            self.ledger.enter(span, "unread", why)
            self._questions.ask(span, why, clause, doubtful=tag.name == "DAMAGED")


def _only_a_word(finding: Finding) -> bool:
    """Whether a number word counts nothing that could be ordered: `three schools`."""
    return finding.fact.amount is not None and not finding.fact.kind and finding.fact.amount.unit.name == "each"
