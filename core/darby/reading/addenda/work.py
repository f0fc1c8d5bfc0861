"""One addendum being carried out: the papers it changes, what it makes and drops, and what is to be said of it."""

from __future__ import annotations

from collections.abc import Sequence

from attrs import define, evolve, field

from darby.reading.account.ledger import Became, Number
from darby.reading.addenda.instructions import Instruction
from darby.reading.addenda.paragraphs import Placed, Said, Standing, numbers, overlap, plain, told_rule
from darby.reading.addenda.plainness import doubt
from darby.reading.addenda.rewording import Texts
from darby.reading.addenda.wording.topics import ROOM
from darby.reading.read import Language, Reading
from darby.rules.rule import Rule
from darby.text.diagnostics import Diagnostic, Label, Severity, problem
from darby.text.spans import Span

_FOUND = "Nothing to do, if that is what the addendum means. `darby why amended` says how paragraphs are found."
ASK = "Look both places up. When you know what is meant, say it in plain words as a line under rules in the job file."
"""What somebody should do about an instruction that could not be carried out."""


@define(eq=False)
class Papers:
    """The specification, and what has been done to it."""

    language: Language
    texts: Texts
    standing: Standing = field(factory=Standing)
    told: list[Diagnostic] = field(factory=list)


@define(eq=False)
class Work:
    """One addendum being carried out."""

    papers: Papers
    reading: Reading
    made: list[Rule] = field(factory=list)
    dropped: set[int] = field(factory=set)
    """Its own rules, by id, that a change bound better."""
    settled: list[tuple[Span, Became, str]] = field(factory=list)
    """Stretches whose numbers are accounted for: what became of them, and why."""
    answered: list[Span] = field(factory=list)
    """Sentences that need no question of the reader's any more."""
    regions: list[Span] = field(factory=list)
    """New texts of whole paragraphs."""

    def delete(self, one: Instruction, placed: Sequence[Placed], did: str) -> None:
        """Take rules of the specification away, and say so."""
        self.papers.standing.remove(placed)
        self.answered.append(one.span)
        if not placed:
            self.tell(one, f"{did}, where nothing had been read")
            return
        told = "; ".join(dict.fromkeys(told_rule(p.rule) for p in placed))
        self.tell(one, f"{did}, and with it: {told}", [Label(p.rule.span, "deleted") for p in placed])

    def touches(self, one: Instruction, words: str) -> bool:
        """Whether words stand in a clause of the paragraph that rules were made of."""
        said = plain(words)
        texts = (plain(p.rule.amount.step.origin.text) for p in self.papers.standing.placed_in(one))
        return bool(said) and any(said in text for text in texts)

    def numbers(self, span: Span) -> list[Said]:
        """The numbers of a stretch, each with the unit behind it."""
        tags = self.papers.language.lexicon.tags(span.text)
        return list(numbers(span, tags))

    def marks(self) -> set[str]:
        """The marks of systems that the specification defines."""
        return {p.rule.scope["mark"] for p in self.papers.standing.all() if "mark" in p.rule.scope}

    def tell(self, one: Instruction, said: str, more: Sequence[Label] = ()) -> None:
        """Say what was done."""
        message = f"{self.reading.layer.name} {said}."
        self.papers.told.append(problem("amended", message, one.span, severity=Severity.NOTE, help=_FOUND, more=more))

    def say(
        self,
        code: str,
        one: Instruction,
        said: str,
        more: Sequence[Label] = (),
        help: str = ASK,
        *,
        carried: bool = False,
    ) -> bool:
        """Ask about what could not be carried out, or was and to no effect that can be seen. Always False."""
        message = f"{self.reading.layer.name} {said}{'' if said.endswith('?') else '.'}"
        self.papers.told.append(Diagnostic(code, Severity.QUESTION, message, (Label(one.span), *more), help))
        self.answered.append(one.span)
        if (
            one.what in ("change", "unclear") and not carried
        ):  # what it would be said of is not known, and it is not to be said of everything
            self.drop(one)
            for words in filter(None, (one.old, one.new)):
                self.settled.append((words, "unread", "of a change that could not be carried out"))
        return False

    def doubted(self, one: Instruction, rules: Sequence[Rule], around: str = "") -> bool:
        """Ask about a change that a word beside it denies, conditions or limits; whether there is such a word."""
        word = doubt(one, rules, self.papers.language.lexicon, around)
        if word and (own := self._own_of(one, word, rules)):
            told = "; ".join(dict.fromkeys(map(told_rule, own)))
            self.answered.append(one.span)
            if one.old is not None:
                self.settled.append((one.old, "set aside", "the old value, which another takes the place of"))
            self.tell(one, f"says for a part of what stood there: {told}", [Label(r.span, "was") for r in rules])
        elif word:
            self.say(
                "amend-several", one, f"speaks of a change, and “{word}” may limit or deny it: it was not carried out"
            )
        return bool(word)

    def _own_of(self, one: Instruction, word: str, rules: Sequence[Rule]) -> list[Rule]:
        """The rules that the addendum's own sentence makes of the new words, where the word that limits it is their room, and what they
        say is what the changed rules say: `Clause 3.4: Toilet ceilings: two coats satin in place of flat` needs no old place.
        """
        if '"' in one.span.text or "“" in one.span.text:
            return []  # these very words change, wherever they stand
        rooms = {tag.value for tag in self.papers.language.lexicon.tags(word) if tag.name == ROOM}
        own = [r for r in self.reading.rules if one.new is not None and overlap(r.span, one.new)]
        said = {(r.kind.name, r.subject) for r in rules}
        ours = all(r.scope.get(ROOM) in rooms and (r.kind.name, r.subject) in said for r in own)
        return own if ours else []

    def drop(self, one: Instruction) -> None:
        """Leave out what the reader made of the words of an instruction alone, without the clause that they are of."""
        for words in filter(None, (one.old, one.new)):
            self.dropped.update(id(r) for r in self.reading.rules if overlap(r.span, words))

    def done(self) -> Reading:
        """The addendum's reading with what came of its instructions."""
        reading = self.reading
        if not (self.made or self.dropped or self.settled or self.answered):
            return reading
        own = [r for r in reading.rules if id(r) not in self.dropped]
        made = [r for r in self.made if not any(r is g for g in self.papers.standing.gone)]
        asked = (d for d in reading.diagnostics if d.code != "unclear" or not self._is_answered(d.span))
        return evolve(
            reading,
            rules=tuple(sorted((*own, *made), key=lambda r: (r.span.start, r.span.end))),
            numbers=tuple(self._accounted(n) for n in reading.numbers),
            diagnostics=tuple(asked),
        )

    def _is_answered(self, span: Span | None) -> bool:
        return span is not None and any(overlap(span, a) for a in self.answered)

    def _accounted(self, number: Number) -> Number:
        for span, became, why in self.settled:
            if overlap(number.span, span):
                return Number(number.span, became, why)
        return number
