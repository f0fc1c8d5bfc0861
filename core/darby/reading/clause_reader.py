"""The desk: clause after clause is read at it; rules, numbers and questions pile up on it."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from difflib import get_close_matches
from fractions import Fraction
from functools import cached_property
from itertools import product

from attrs import define, field, frozen

from darby.quantities.amounts import Amount, Origin
from darby.quantities.units import EACH
from darby.reading.binding.ambiguity import doubt_rates
from darby.reading.binding.binder import Binder
from darby.reading.binding.choices import SYSTEM, bind_choices
from darby.reading.binding.confidence import weigh
from darby.reading.binding.finding import Above, Context, Finding, Word
from darby.reading.layout.clause import Cell, Clause, Layout
from darby.reading.ledger import Became, Ledger
from darby.reading.marks import Marks, marks_of
from darby.reading.named_coats import listed
from darby.reading.parsing.chunker import sentences, unexcepted
from darby.reading.parsing.colors import told_of_colors, whole_color, with_colors
from darby.reading.parsing.fact_parser import Fact, Quantity, Reader
from darby.reading.parsing.lexer import Tag
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.parsing.open_places import with_places
from darby.reading.parsing.takers import with_takers
from darby.reading.sibling_places import Siblings, siblings_of
from darby.reading.word_questions import excepted, words_that_ask
from darby.rules.rule import Kind, Layer, Rule
from darby.text.diagnostics import Diagnostic, Severity, problem
from darby.text.spans import Span, View

_WORD = re.compile(r"(?<![A-Za-z0-9])[A-Za-z][A-Za-z'-]{0,40}")
_CITED = re.compile(r"\s*\[([^\[\]]{1,200})\]\s*$")
_NUMBERED = ("NUMBER", "CODE", "DAMAGED", "FEET_INCHES", "BLANK")
_STRICT_HELP = (
    "Defaults, house lines and your own lines must be understood whole. "
    'Write one plain fact, as in "Ceilings: two coats." or "12 in. on center."'
)
_ROOM_BY_SURFACE = {("key", "room"), ("column", "surface")}
_IN_A_CELL = 4
"""Tags in a cell that gives a system and little else."""
_QUOTED = 1_000
"""Letters of a clause that are looked at to quote its beginning."""
_LINES_UP = 5
"""Clauses above one in which such a line is sought."""
_SHORT = 8
"""Words in a line that, standing bare under a heading, names what the lines below it are about."""


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
    rules: list[Rule] = field(factory=list)
    diagnostics: list[Diagnostic] = field(factory=list)
    ledger: Ledger = field(factory=Ledger)
    _tagged: dict[int, tuple[View, Sequence[Tag]]] = field(factory=dict)
    _parents: set[int] = field(factory=set)
    _marks: Marks = field(factory=lambda: Marks({}))
    _siblings: Siblings = field(factory=lambda: Siblings({}, {}))
    _systems: dict[str, str] = field(factory=dict)
    """Of what each mark is a system."""
    _colors: tuple[set[int], set[int]] = field(factory=lambda: (set(), set()))
    """Cells that are colors whole, and clauses under words that say that colors follow, by the `id` of their views."""
    _listed: Mapping[int, Fact] = field(factory=dict)
    """What clauses say by being members of a list, by the `id` of their views."""
    _excepted: list[tuple[Tag, Span, Clause]] = field(factory=list)
    """Places that exceptions name, of which something else may be said further on."""

    def read(self, layout: Layout) -> None:
        """Read every clause of a layout in order."""
        self._parents = {id(parent) for clause in layout.clauses for parent in clause.parents}
        if not self.strict:
            self._colors = told_of_colors(layout.clauses, lambda view: self.lexicon.tags(view.text))
            self._marks = marks_of(layout.clauses, self.tags)
            self._systems = self._marks.subjects(self.lexicon, SYSTEM)
            self._tagged.clear()
            self._siblings = siblings_of(layout.clauses, self.tags, self.lexicon.names)
            self._tagged.clear()
        self._listed = listed(layout.clauses, self.tags, self.lexicon)
        sibling: tuple[Clause, Sequence[Finding]] | None = None
        for number, clause in enumerate(layout.clauses):
            lines = self._lines_near(layout.clauses, number)
            same = sibling is not None and sibling[0].parents == clause.parents and not clause.heading
            known, said = len(self.rules), len(self.diagnostics)
            findings = self._clause(clause, lines, tuple(sibling[1]) if same and sibling is not None else ())
            if self.strict and len(self.rules) == known and len(self.diagnostics) == said:
                message = "this line gives no rule"
                self.diagnostics.append(problem("line-not-understood", message, clause.view.whole, help=_STRICT_HELP))
            if findings:
                sibling = clause, findings
        spoken = {(key, value) for rule in self.rules for key, value in rule.scope.items()}
        for place, span, clause in self._excepted:
            if (place.name, place.value) not in spoken:
                self._ask(span, "an exception: what holds there is not said", clause, doubtful=True)
        for apart in layout.apart:
            self.ledger.set_aside(apart.span, apart.why)

    def _lines_near(self, clauses: Sequence[Clause], number: int) -> list[Above]:
        """Bare lines that name what a clause is about: just above it under one heading, or just below a heading of a coat."""
        clause = clauses[number]
        if clause.cells:
            return []
        near: list[Above] = []
        if clause.heading and id(clause) in self._parents:
            below = clauses[number + 1 : number + 3]
            near = [self._line(c) for c in below if c.parents and c.parents[0] is clause and self._bare(c)][:1]
        elif clause.parents and clause.parents[0].heading:
            above = clauses[max(0, number - _LINES_UP) : number]
            near = [self._line(c) for c in above[::-1] if c.parents == clause.parents and self._bare(c)][:1]
        return near

    def _bare(self, clause: Clause) -> bool:
        tags = self.tags(clause.view)
        plain = not any(t.name in _NUMBERED or t.name == "ORDINAL" for t in tags)
        return (
            plain
            and not clause.heading
            and not clause.cells
            and not (clause.leads_in and id(clause) in self._parents)  # it holds for its own list
            and len(clause.text.split()) <= _SHORT
            and not clause.text.rstrip().endswith(".")
        )

    def _line(self, clause: Clause) -> Above:
        return Above(f"the line {clause.text!r}", self.tags(clause.view), "line")

    def tags(self, view: View) -> Sequence[Tag]:
        """The tags of a view, found once."""
        if id(view) not in self._tagged:
            tags = self._colored(view)
            if not self.strict:  # where all must be understood, a word that nobody knows is an error
                tags = with_places(self._marks.tagged(tags, view.text), view.text, self.lexicon.names)
                tags = list(self._siblings.tagged(tags, view))
            self._tagged[id(view)] = view, tags
        return self._tagged[id(view)][1]

    def _colored(self, view: View) -> list[Tag]:
        if id(view) in self._colors[0]:
            return whole_color(view.text)
        tags = self.lexicon.tags(view.text)
        told = id(view) in self._colors[1]
        return with_colors(tags, view.text, self.lexicon.hues, self.lexicon.says_nothing, told=told)

    def _clause(self, clause: Clause, lines: list[Above], sibling: tuple[Finding, ...]) -> Sequence[Finding]:
        cited = ""
        source = _CITED.search(clause.text) if self.strict else None
        if source:
            cited = source[1]
            self.ledger.set_aside(clause.view.span(source.start(1), source.end(1)), "the source of the line")
            clause = Clause(clause.view.cut(0, source.start()), clause.label, clause.parents)
        above = (*lines, *(self._parent(parent) for parent in clause.parents))
        texts: list[_Text] = []
        row: list[Finding] = []
        if clause.cells:
            for number, cell in enumerate(clause.cells):
                if not cell.again:
                    key = self._siblings.keys.get(id(clause), 0)
                    if number < key:
                        self.ledger.set_aside(cell.view.whole, "the number of a room")
                        continue
                    heads = self._heads(clause.cells, number, cell, key)
                    context = Context(heads, above, self.subject, self.scope, sibling)
                    texts.append(self._text(cell.view, context, row, key=number == key and len(clause.cells) > 1))
                    row.extend(texts[-1].findings)
        else:
            context = Context((), above, self.subject, self.scope, sibling)
            texts.append(self._text(clause.view, context, row, asks=clause.asks))
            row.extend(texts[-1].findings)
        doubt_rates(row)
        for text in texts:
            own = set(map(id, text.findings))
            others = [f for f in row if id(f) not in own]
            choices = (
                []
                if self.strict or clause.asks
                else bind_choices(
                    text.tags, text.view.text, text.findings, others, text.context, self.lexicon, self._systems
                )
            )
            if not self.strict:
                weigh([*text.findings, *choices], text.tags, text.view.text, self.lexicon)
            self._settle_text(text, choices, clause, cited)
        return row

    def _parent(self, clause: Clause) -> Above:
        role = "heading" if clause.heading else "question" if clause.asks else "lead-in"
        tags = unexcepted(self.tags(clause.view))
        if role == "question":  # `No spacing on the drawings.` forbids nothing
            tags = [t for t in tags if t.name != "NO"]
        return Above(f"the {role} {clause.text!r}", tags, role)

    def _heads(self, cells: Sequence[Cell], number: int, cell: Cell, at: int) -> tuple[Above, ...]:
        """What a cell stands under: its column's head, its row's key, then the other cells of the row."""
        heads = [Above(f"the head of the column, {h.text!r}", self.tags(h), "column") for h in cell.heads]
        if number > at:
            labelled = cells[number - 1].view.text.rstrip().endswith(":")  # a second label and value in one row
            key = self._named_tags(cells[number - 1 if labelled else at])
            role = "row" if any(t.name in _NUMBERED or t.name == "ORDINAL" for t in key) else "key"
            heads.append(Above(f"the key of the row, {cells[at].view.text!r}", key, role))
        others = (*cells[at + 1 : number][::-1], *cells[number + 1 :]) if number > at else cells[at + 1 :]
        return (*heads, *(Above(f"the row, {c.view.text!r}", self._named_tags(c), "row") for c in others))

    def _named_tags(self, cell: Cell) -> Sequence[Tag]:
        """A cell's tags; under a head that says so, its words are the name of a room, whatever they are."""
        tags = self.tags(cell.view)
        names = any(
            t.name == "ROOM_HEAD" or (t.name == "room" and t.value == "room") for h in cell.heads for t in self.tags(h)
        )
        told = any(t.name == "room" for t in tags) or (
            len(tags) == 1 and tags[0].name == "surface" and _whole(tags[0], cell)
        )
        if not names or told:
            return tags
        return [*tags, Tag(0, len(cell.view.text), "room", " ".join(cell.view.text.lower().split()))]

    def _text(
        self, view: View, context: Context, row: Sequence[Finding], *, key: bool = False, asks: bool = False
    ) -> _Text:
        tags = self.tags(view)
        binder = Binder(self.lexicon, context, tuple(row))
        facts = self._facts(tags, view.text)
        member = self._listed.get(id(view))
        if member is not None and not any(f.kind == member.kind and not f.why for f in facts):
            facts = [member, *(f for f in facts if f.start >= member.end)]
        taken = sentences(tags, facts, view.text)
        for sentence in taken:
            sentence.asks = sentence.asks or asks
        return _Text(view, tags, binder.bind(taken), context, key)

    def _facts(self, tags: Sequence[Tag], text: str) -> list[Fact]:
        """The facts of every reader; where two overlap the longer stays, and of equals the first reader's."""
        found = [fact for reader in self.readers for fact in reader.facts(tags, text)]
        found = with_takers(found, tags, text, self.lexicon.knows)
        if len(self.readers) < 2:
            return found
        kept: list[Fact] = []
        for fact in sorted(found, key=lambda f: (f.start - f.end, f.start)):
            if all(fact.end <= other.start or fact.start >= other.end for other in kept):
                kept.append(fact)
        return sorted(kept, key=lambda f: f.start)

    def _settle_text(self, text: _Text, choices: Sequence[Finding], clause: Clause, cited: str) -> None:
        """Make rules of what was found, ask about what cannot be believed, and account for every number."""
        self._words_to_ask(text, clause)
        if self.strict:
            self._unknown_words(text)
        used: set[int] = set()
        for finding in text.findings:
            fact = finding.fact
            used.update(range(fact.start, fact.end))
            coat = "coat" in dict(fact.scope)
            if clause.heading and id(clause) in self._parents and not coat and not finding.aside:
                finding.aside = "part of a heading"
            elif text.key and finding.kind not in ("coats", "package", "layers") and not finding.aside:
                finding.aside = "the key of a row"
            span = text.view.span(text.tags[fact.start].start, text.tags[fact.end - 1].end)
            became, why = self._settle(finding, span, clause, cited)
            for tag in text.tags[fact.start : fact.end]:
                self._account(text.view, tag, became, why, finding)
        for finding in choices:
            tag = text.tags[finding.fact.start]
            if not (clause.heading or text.key):
                self._settle(finding, text.view.span(tag.start, tag.end), clause, cited)
        for n, tag in enumerate(text.tags):
            if n in used:
                continue
            if tag.name in _NUMBERED:
                self._loose(text, n, clause)
            elif tag.name == "mark":
                self._marked(text.view, tag)
            elif any(c.isdigit() for c in text.view.text[tag.start : tag.end]):
                self.ledger.pass_over(text.view.span(tag.start, tag.end))

    def _settle(self, finding: Finding, span: Span, clause: Clause, cited: str) -> tuple[Became, str]:
        """Make the rules of a finding, or say why it makes none."""
        if finding.aside:
            return "set aside", finding.aside
        kind = self.kinds.get(finding.kind)
        if finding.doubt or finding.unread or kind is None:
            why = finding.doubt or finding.unread or "nothing near it says what it is"
            self._ask(span, why, clause, doubtful=bool(finding.doubt))
            return "unread", why
        made: list[Rule] = []
        places = finding.places or [("", surface) for surface in (*finding.surfaces,)] or [("", None)]
        for word, (room, surface), mark in product(finding.subjects, places, finding.marks or [""]):
            rule = self._rule(finding, kind, word, surface, room, mark, span, clause, cited)
            if rule is None:
                why = "its units do not fit what it is said of"
                self._ask(span, why, clause)
                return "unread", why
            made.append(rule)
        self.rules.extend(made)
        return "read", f"{kind.name} of {' and '.join(w.value for w in finding.subjects)}"

    def _rule(
        self,
        finding: Finding,
        kind: Kind,
        subject: Word,
        surface: Word | None,
        room: str,
        mark: str,
        span: Span,
        clause: Clause,
        cited: str,
    ) -> Rule | None:
        quantity, per, by = finding.amount or _ONE, finding.per, finding.fact.by
        fits = quantity.unit.dimension in kind.amount and (per is not None) == bool(kind.per)
        if not fits or (per is not None and per.unit.dimension not in kind.per):
            return None
        scope, how = dict(finding.scope), [("subject", subject.how)]
        where = ""
        scope |= {key: said for key, said in (("room", room), ("mark", mark)) if said}
        if surface is not None:
            where = scope["surface"] = surface.value
            how.append(("surface", surface.how))
        note = self.layer.name + (f", {cited}" if cited else "")
        key = f"{span} {kind.name} {where}".strip()
        origin = Origin(key, clause.view.whole.text.strip(), span, note)
        return Rule(
            kind, subject.value, scope, _amount(quantity, origin), self.layer, span,
            per=_amount(per, origin) if per else None,
            upper=Amount.of(quantity.high, quantity.unit, origin) if quantity.high is not None else None,
            by=_amount(by, origin) if by else None,
            bound=finding.bound, cited=cited, bound_by=(*how, *finding.how), choice=finding.choice, confirm=finding.confirm,
        )  # fmt: skip

    def _words_to_ask(self, text: _Text, clause: Clause) -> None:
        """Questions that words raise by themselves; what an exception names waits for the end of the document."""
        above = [t for a in text.context.heads for t in a.tags]
        for tag, why in words_that_ask(text.tags, above, text.findings, self.lexicon):
            self._ask(text.view.span(tag.start, tag.end), why, clause, doubtful=True)
        for tag, place in excepted(text.tags):
            self._excepted.append((place, text.view.span(tag.start, place.end), clause))

    def _unknown_words(self, text: _Text) -> None:
        """In a line that must be understood whole a word that nobody knows may be a misspelt place or product."""
        at = 0
        for start, end in [*((t.start, t.end) for t in text.tags), (len(text.view.text),) * 2]:
            for match in _WORD.finditer(text.view.text, at, max(at, start)):
                word = match[0].lower()
                if word not in self.lexicon.plain:
                    span = text.view.span(match.start(), match.end())
                    near = [w for w in get_close_matches(word, self._known, 2, 0.75) if w != word]
                    help_ = f"Did you mean “{near[0]}”?" if near else _STRICT_HELP
                    message = f"“{span.text}” is no word that is known here"
                    self.diagnostics.append(problem("line-not-understood", message, span, help=help_))
            at = max(at, end)

    @cached_property
    def _known(self) -> list[str]:
        return sorted({w for phrase in self.lexicon.phrases for w in phrase.split()} | self.lexicon.plain)

    def _ask(self, span: Span, why: str, clause: Clause, *, doubtful: bool = False) -> None:
        """A question with its place; in a file that must be understood whole, an error."""
        if self.strict:
            text = f"“{span.text}” is not understood: {why}"
            self.diagnostics.append(problem("line-not-understood", text, span, help=_STRICT_HELP))
        elif doubtful:
            text = f"“{' '.join(span.text.split())}”: {why}"
            said = " ".join(clause.view.whole.text[:_QUOTED].split())
            shown = f"It says: {said[:160]}{'…' if len(said) > 160 else ''}"
            self.diagnostics.append(problem("unclear", text, span, severity=Severity.QUESTION, help=shown))

    def _account(self, view: View, tag: Tag, became: Became, why: str, finding: Finding) -> None:
        digits = any(c.isdigit() for c in view.text[tag.start : tag.end])
        if tag.name not in _NUMBERED and not (tag.name == "ORDINAL" and digits):
            if digits:
                self.ledger.pass_over(view.span(tag.start, tag.end))
            return
        if tag.name == "DAMAGED":
            became, why = "unread", "a damaged number"
        elif became == "unread" and not digits and _only_a_word(finding):
            became, why = "set aside", "a number word in running text"
        self.ledger.enter(view.span(tag.start, tag.end), became, why)

    @staticmethod
    def _assigned(text: _Text) -> bool:
        """Whether a cell stands in the row of a room and under the name of a surface."""
        roles = {a.role for a in text.context.heads for t in a.tags if (a.role, t.name) in _ROOM_BY_SURFACE}
        return {"key", "column"} <= roles and len(text.tags) <= _IN_A_CELL

    def _marked(self, view: View, tag: Tag) -> None:
        """The number in the mark of a system."""
        if any(c.isdigit() for c in tag.value):
            self.ledger.enter(view.span(tag.start, tag.end), "set aside", "a mark")

    def _loose(self, text: _Text, number: int, clause: Clause) -> None:
        """A number that stands in no fact: a designation, a mark, a blank, or one that is damaged."""
        tag, before = text.tags[number], text.tags[number - 1] if number else None
        span = text.view.span(tag.start, tag.end)
        if tag.name == "CODE":
            self.ledger.enter(span, "set aside", tag.value)
            if tag.value == "a mark" and self._assigned(text):
                self._ask(span, "a mark that nothing in this document defines", clause, doubtful=True)
        elif tag.name == "NUMBER" and before is not None and before.name == "REFERENCE" and not text.findings:
            self.ledger.enter(
                span, "set aside", before.value
            )  # `Table 2: ..`; beside a fact it may say where that holds
        elif tag.name == "BLANK":
            self._ask(span, "left blank", clause, doubtful=True)
        else:
            why = "a damaged number" if tag.name == "DAMAGED" else "a number without a unit"
            self.ledger.enter(span, "unread", why)
            self._ask(span, why, clause, doubtful=tag.name == "DAMAGED")


_ONE = Quantity(Fraction(1), EACH)
"""What a choice counts: itself."""


def _whole(tag: Tag, cell: Cell) -> bool:
    """Whether a tag is all that a cell says: `Ceilings` under `Location` is no room."""
    return not (cell.view.text[: tag.start] + cell.view.text[tag.end :]).strip()


def _only_a_word(finding: Finding) -> bool:
    """Whether a number word counts nothing that could be ordered: `three schools`."""
    return finding.fact.amount is not None and not finding.fact.kind and finding.fact.amount.unit.name == "each"


def _amount(quantity: Quantity, origin: Origin) -> Amount:
    return Amount.of(quantity.low, quantity.unit, origin)
