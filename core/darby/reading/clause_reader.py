"""The desk: clause after clause is read at it; rules, numbers and questions pile up on it."""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Mapping, Sequence
from functools import cached_property

from attrs import define, field

from darby.reading.account.asking import STRICT_HELP, Questions
from darby.reading.account.ledger import Ledger
from darby.reading.account.names import names_of, works_of
from darby.reading.account.statements import Statement, statements
from darby.reading.account.undone import undone
from darby.reading.binding.belief.ambiguity import doubt_rates
from darby.reading.binding.belief.confidence import weigh, weigh_others, weigh_under
from darby.reading.binding.binder import Binder
from darby.reading.binding.choices import bind_choices
from darby.reading.binding.in_place import IN_PLACE, doubt_limits, doubt_undone, limits
from darby.reading.binding.site.finding import Above, Context, Finding
from darby.reading.clause_net import Net
from darby.reading.document.after_places import AfterPlaces
from darby.reading.document.blocks.places_below import hold_below, lists_below
from darby.reading.document.blocks.product_sheets import sheet_of
from darby.reading.document.document_words import DocumentWords
from darby.reading.document.named_coats import listed
from darby.reading.document.neighbours import by_neighbour
from darby.reading.document.surroundings import Surroundings
from darby.reading.document.works.carried import Part, References
from darby.reading.layout.clause import Clause, Layout
from darby.reading.left_undone import left_undone
from darby.reading.parsing.chunker import sentences
from darby.reading.parsing.fact_parser import Fact, Reader
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.parsing.tagging.tag import Tag
from darby.reading.parsing.takers import with_takers
from darby.reading.settling import Settler, Text
from darby.reading.spare import spares
from darby.reading.told_apart import weigh_after_places, weigh_heads, weigh_tables
from darby.rules.rule import Kind, Layer, Rule
from darby.text.diagnostics import Diagnostic, problem
from darby.text.spans import Span, View

_CITED = re.compile(r"\s*\[([^\[\]]{1,200})\]\s*$")


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
    _below: Mapping[int, Sequence[Clause]] = field(factory=dict)
    """The lines of the list below a clause, by its `id`."""
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

    @cached_property
    def _settler(self) -> Settler:
        return Settler(
            self.kinds, self.layer, self.strict, self.words, self._parents,
            self.rules, self.ledger, self._questions, self._references, self._excepted,
        )  # fmt: skip

    def tags(self, view: View) -> Sequence[Tag]:
        """The tags of a view, found once."""
        return self.words.tags(view)

    def read(self, layout: Layout) -> None:
        """Read every clause of a layout in order."""
        self._below = lists_below(layout.clauses)
        self._parents = {id(parent) for clause in layout.clauses for parent in clause.parents}
        self.words.learn(layout.clauses)
        after = AfterPlaces() if self.strict else AfterPlaces.of(layout.clauses, self.words)
        sheet = None if self.strict else sheet_of(layout.clauses, self.words.tags, self.lexicon.heads)
        around = Surroundings(self.words, self._parents, after, sheet)
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
                if self._asked_outside or isinstance(error, MemoryError | SystemError):
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
        texts: list[Text] = []
        row: list[Finding] = []
        if clause.cells:
            for number, cell in enumerate(clause.cells):
                if not cell.again:
                    key = around.rows.key_of(clause)
                    if why := around.rows.no_part(clause, number, cell):
                        self.ledger.set_aside(cell.view.whole, why)
                        continue
                    states = cell.column is not None and cell.column.role == "statements"
                    states = states or self._keyless(clause)
                    heads = around.rows.heads(clause, number, cell)
                    context = Context(heads, above, self.subject, self.scope, sibling, around.sheet)
                    texts.append(
                        self._text(
                            cell.view,
                            context,
                            row,
                            key=number == key
                            and len(clause.cells) > 1
                            and not (states or around.rows.gives(clause, number)),
                            asks=clause.asks and cell is clause.cells[-1],
                        )
                    )
                    row.extend(texts[-1].findings)
        else:
            context = Context(around.opened(clause), above, self.subject, self.scope, sibling, around.sheet)
            texts.append(self._text(clause.view, context, row, asks=clause.asks))
            hold_below(texts[-1].findings, texts[-1].tags, self._below.get(id(clause), ()), self.words.tags)
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
                over = self.words.rooms_over(clause)
                choices = [
                    *choices,
                    *left_undone(text.tags, text.view.text, self.lexicon, over),
                    *undone(text.tags, text.findings, text.context.sibling, self.lexicon, over),
                ]
            if not self.strict:
                believed = [c for c in choices if c.kind != IN_PLACE or limits(text.tags[c.fact.start])]
                weigh([*text.findings, *believed], text.tags, text.view.text, self.lexicon)
                weigh_under([*text.findings, *believed], self.words.above(clause), self.lexicon)
                weigh_others([*text.findings, *choices], text.context.sibling, text.tags)
                weigh_heads(text.findings, text.context.heads, self.lexicon)
                doubt_limits(believed)
                doubt_undone(choices, text.findings)
            self._settler.settle(text, choices, clause, cited)
        return row

    def _keyless(self, clause: Clause) -> bool:
        """Whether the only row of a table says of one thing how much of each property it has: none of its cells is a key."""
        measured = all(c.heads and c.column is not None and c.column.role == "amounts" for c in clause.cells)
        alone = clause.table is not None and len(clause.table.rows) == 1
        return measured and alone and not any(t.name == "subject" for t in self.tags(clause.cells[0].heads[-1]))

    def _text(
        self, view: View, context: Context, row: Sequence[Finding], *, key: bool = False, asks: bool = False
    ) -> Text:
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
        return Text(view, tags, [*binder.bind(taken), *left], context, key)

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
