"""Addenda carried out: what they delete leaves the specification, what they change takes the place of the old number.

Rules of an addendum beat those below it by their layer alone. Here is what a cascade cannot know: that a paragraph is
gone, and which number is meant by "change 12 to 8". What cannot be found, or is found more than once, is asked about.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from attrs import define, evolve, field

from darby.quantities.amounts import Amount, Origin
from darby.reading.addenda.instructions import Instruction, Stand, instructions, may_instruct, stands
from darby.reading.addenda.paragraphs import (
    Placed,
    Said,
    Standing,
    covers,
    numbers,
    overlap,
    part_of,
    plain,
    section_name,
    short,
    told_rule,
    where_of,
)
from darby.reading.layout.normalize import mend
from darby.reading.layout.segmenter import clauses
from darby.reading.ledger import Number
from darby.reading.read import Language, Reading
from darby.rules.rule import SPECIFICATION, Layer, Rule, addendum
from darby.text.diagnostics import Diagnostic, Label, Severity, problem
from darby.text.spans import Source, Span

_ADDENDA = addendum(1).rank
_FOUND = "Nothing to do, if that is what the addendum means. `darby why amended` says how paragraphs are found."
_ASK = "Look both places up. When you know what is meant, say it in plain words as a line under rules in the job file."


def _amends(source: Source, layer: Layer) -> bool:
    """Whether a document is an addendum that may tell to delete or change something."""
    return layer.rank == _ADDENDA and may_instruct(source.text)


def amend(readings: Sequence[Reading], language: Language) -> tuple[list[Reading], list[Diagnostic]]:
    """Readings of documents with all addenda carried out, in the order of their numbers, and what came of it.

    Readings keep their order. A changed rule keeps kind, subject, scope and bound; its layer and place are the addendum's.
    Where a narrower rule stands beside it, its layer stays what it was, so that it does not beat what it never spoke of.
    """
    addenda = sorted((r for r in readings if _amends(r.source, r.layer)), key=lambda r: r.layer)
    if not addenda:
        return list(readings), []
    desk = _Desk(language)
    for reading in readings:
        if reading.layer == SPECIFICATION:
            desk.standing.put_down(reading.rules, desk.stands(reading))
    changed = {id(reading): desk.carry_out(reading) for reading in addenda}
    out = [changed.get(id(reading), reading) for reading in readings]
    gone = {id(rule) for rule in desk.standing.gone}
    return [evolve(r, rules=tuple(rule for rule in r.rules if id(rule) not in gone)) for r in out], desk.told


@define(eq=False)
class _Desk:
    """The specification, and what has been done to it."""

    language: Language
    standing: Standing = field(factory=Standing)
    told: list[Diagnostic] = field(factory=list)

    def stands(self, reading: Reading) -> list[Stand]:
        """The clauses of a document, each with its section and paragraph."""
        known = self.language.known
        return stands(reading.source, clauses(mend(reading.source, known), known))

    def carry_out(self, reading: Reading) -> Reading:
        """Do what one addendum tells; gives its reading with the rules it makes by changing others."""
        work = _Work(self, reading)
        elsewhere: dict[str, Span] = {}
        for one in instructions(self.stands(reading), len(reading.source.text)):
            if one.section and not self.standing.has_section(one.section):
                elsewhere.setdefault(one.section, one.span)
            else:
                work.do(one)
        if elsewhere:
            named = ", ".join(map(section_name, sorted(elsewhere)))
            several = "s" if len(elsewhere) > 1 else ""
            message = f"{reading.layer.name} also changes section{several} {named}, which this job does not hold."
            place = next(iter(elsewhere.values()))
            self.told.append(problem("amend-nothing", message, place, severity=Severity.NOTE, help="Nothing to do."))
        return work.done()


@define(eq=False)
class _Work:
    """One addendum being carried out."""

    desk: _Desk
    reading: Reading
    made: list[Rule] = field(factory=list)
    dropped: set[int] = field(factory=set)
    """Its own rules, by id, that a change bound better."""
    settled: list[tuple[Span, str, str]] = field(factory=list)
    """Stretches whose numbers are accounted for: what became of them, and why."""
    answered: list[Span] = field(factory=list)
    """Sentences that need no question of the reader's any more."""

    def do(self, one: Instruction) -> None:
        homes = self.desk.standing.homes(one)
        where = where_of(one)
        if one.at is not None:
            self.settled.append((one.at, "set aside", "a paragraph number"))
        if one.through:
            self._say("amend-several", one, f"names a run of paragraphs from {where} on, which is not followed")
        elif not homes:
            self._say("amend-nothing", one, f"speaks of {where}, and there is none")
        elif len(homes) > 1:
            named = " and ".join(sorted(section_name(section) or file for file, section in homes))
            self._say("amend-several", one, f"speaks of {where}, and there is one in {named}")
        elif one.what == "delete":
            self._delete(one, self.desk.standing.placed_in(one), f"deletes {where}")
        elif one.what == "replace":
            self._replace(one)
        elif one.what == "change":
            self._change(one)
        else:
            self._delete_words(one)

    def _delete(self, one: Instruction, placed: Sequence[Placed], did: str) -> None:
        self.desk.standing.remove(placed)
        self.answered.append(one.span)
        if not placed:
            self._tell(one, f"{did}, where nothing had been read")
            return
        told = "; ".join(dict.fromkeys(told_rule(p.rule) for p in placed))
        self._tell(one, f"{did}, and with it: {told}", [Label(p.rule.span, "deleted") for p in placed])

    def _replace(self, one: Instruction) -> None:
        low, high = one.region
        new = [r for r in self.reading.rules if low <= r.span.start < high]
        old = self.desk.standing.placed_in(one)
        unread = [n for n in self.reading.numbers if low <= n.span.start < high and n.became == "unread"]
        if old and not new and unread:
            message = f"gives {where_of(one)} a new text whose numbers could not be read; the old one was kept"
            self._say("amend-nothing", one, message)
            return
        left = [p for p in old if not any(covers(r, p.rule) for r in new)]
        for placed in old:
            placed.holds = placed in left
        for said in new:
            rule = self._in_place(said, old)
            self.desk.standing.put(rule, one.section, one.path)
        if left:
            self._delete(one, left, f"gives {where_of(one)} a new text")
        self.answered.append(one.span)

    def _in_place(self, rule: Rule, old: Sequence[Placed]) -> Rule:
        """A rule of a new text. Where the old one gave way to a narrower rule so does this: it then stays in its layer."""
        was = [p for p in old if not p.holds and covers(rule, p.rule)]
        layer = next((p.rule.layer for p in was if self.desk.standing.narrowed(rule, p.rule.layer)), None)
        if layer is None or layer == rule.layer:
            return rule
        self.dropped.add(id(rule))
        self.desk.standing.gone.extend(p.rule for p in was)
        kept = evolve(rule, layer=layer)
        self.made.append(kept)
        return kept

    def _change(self, one: Instruction) -> None:
        assert one.old is not None
        assert one.new is not None
        old, new = self._numbers(one.old), self._numbers(one.new)
        if not old or not new:
            if self._touches(one, one.old.text):
                message = f"changes “{short(one.old)}” to “{short(one.new)}” in {where_of(one)}: words are not changed"
                self._say("amend-nothing", one, message)
            return
        if len(old) != len(new):
            self._say("amend-several", one, f"changes “{short(one.old)}” to “{short(one.new)}”: which for which?")
            return
        pairs = [(a, b) for a, b in zip(old, new, strict=True) if (a.value, a.unit) != (b.value, b.unit)]
        done = False
        for before, after in pairs:
            if (before.aside or after.aside) and done:
                continue  # the same said again in other units
            if not self._change_number(one, before, after):
                return
            done = True
        self.settled.append((one.old, "set aside", "the old value, which another takes the place of"))
        self.settled.append((one.new, "read", f"the new value in {where_of(one)}"))
        self.answered.append(one.span)

    def _change_number(self, one: Instruction, before: Said, after: Said) -> bool:
        assert one.new is not None
        where = where_of(one)
        said = f"changes {short(before.span)} to {short(after.span)} in {where}"
        found = [p for p in self.desk.standing.placed_in(one) if part_of(p.rule, before)]
        places = {(p.rule.span.source.name, p.rule.span.start) for p in found}
        if len(places) > 1:
            found = self._named(one, found)
            places = {(p.rule.span.source.name, p.rule.span.start) for p in found}
        if not found:
            there = "; ".join(dict.fromkeys(told_rule(p.rule) for p in self.desk.standing.placed_in(one)))
            read = f"What was read there: {there}." if there else "Nothing was read there."
            return self._say("amend-nothing", one, f"{said}, and no such number was read there", help=f"{read} {_ASK}")
        if len(places) > 1:
            message = f"{said}, where that number stands {len(places)} times: which is meant?"
            return self._say("amend-several", one, message, [Label(p.rule.span, told_rule(p.rule)) for p in found])
        changed = [(p, self._changed(p.rule, before, after, one)) for p in found]
        for placed, rule in changed:
            if rule is None:
                message = f"{said}, which {placed.rule.kind.name} of {placed.rule.subject} cannot be"
                return self._say("amend-nothing", one, message, [Label(placed.rule.span)])
        self.dropped.update(id(r) for r in self.reading.rules if overlap(r.span, one.new))
        for placed, rule in changed:
            assert rule is not None
            self.made.append(rule)
            placed.holds = False
            self.desk.standing.put(rule, placed.section, placed.path)
            if placed.rule.layer == rule.layer:
                self.desk.standing.gone.append(placed.rule)
        told = " and ".join(dict.fromkeys(told_rule(rule) for _, rule in changed if rule is not None))
        self._tell(one, f"{said}: {told}", [Label(p.rule.span, "was") for p, _ in changed])
        return True

    def _changed(self, rule: Rule, before: Said, after: Said, one: Instruction) -> Rule | None:
        """The rule with one number of it changed, or None where the new one cannot stand there."""
        part = part_of(rule, before)
        old: Amount = getattr(rule, part)
        unit = after.unit or old.unit
        if unit.dimension != old.unit.dimension or (not after.value and old.value):
            return None
        where = rule.scope.get("surface", "")
        key = f"{after.span} {rule.kind.name} {where}".strip()
        origin = Origin(key, one.span.text.strip(), after.span, self.reading.layer.name)
        new = Amount.of(after.value, unit, origin)
        whole = part == "amount" and rule.kind.name in self.language.lexicon.bands
        if whole and not self.language.lexicon.in_band(rule.kind.name, new.size):
            return None
        how = (("change", f"{where_of(one)}, where it was {old.exact()}"), *rule.bound_by)
        parts: dict[str, Any] = {part: new}
        # What the old number gave way to, a narrower rule beside it, the new one gives way to as well.
        layer = rule.layer if self.desk.standing.narrowed(rule, rule.layer) else self.reading.layer
        made: Rule = evolve(rule, layer=layer, span=after.span, cited="", bound_by=how, **parts)
        return made if made.upper is None or made.amount < made.upper else None

    @property
    def language(self) -> Language:
        return self.desk.language

    def _named(self, one: Instruction, found: list[Placed]) -> list[Placed]:
        """Of several, those that the instruction's own words speak of: by product, by place, by the words themselves."""
        assert one.old is not None
        tags = self.language.lexicon.tags(one.span.text)
        said = {(t.name, t.value) for t in tags}
        found = [p for p in found if ("subject", p.rule.subject) in said] or found
        found = [p for p in found if ("surface", p.rule.scope.get("surface")) in said] or found
        found = [p for p in found if not said.isdisjoint(p.rule.scope.items())] or found
        words = plain(one.old.text)
        return [p for p in found if words in plain(p.rule.span.text)] or found

    def _delete_words(self, one: Instruction) -> None:
        assert one.old is not None
        numbers = self._numbers(one.old)
        tags = self.language.lexicon.tags(one.old.text)
        coats = {t.value for t in tags if t.name == "ORDINAL"}
        here = self.desk.standing.placed_in(one)
        if numbers:
            found = [p for p in here if part_of(p.rule, numbers[0])]
        elif coats:
            found = [p for p in here if coats & set(p.rule.scope.values())]
        else:
            if self._touches(one, one.old.text):
                self._say("amend-nothing", one, f"deletes “{short(one.old)}” in {where_of(one)}: words are not changed")
            return
        found = self._named(one, found)
        said = f"deletes “{short(one.old)}” in {where_of(one)}"
        if not found:
            there = "; ".join(dict.fromkeys(told_rule(p.rule) for p in here)) or "nothing"
            self._say("amend-nothing", one, f"{said}, and nothing of the kind was read there; what was: {there}")
        elif len({p.rule.span.start for p in found}) > 1:
            labels = [Label(p.rule.span, told_rule(p.rule)) for p in found]
            self._say("amend-several", one, f"{said}, which may be more than one thing", labels)
        else:
            self._delete(one, found, said)
            self.settled.append((one.old, "set aside", "deleted by the addendum"))

    def _touches(self, one: Instruction, words: str) -> bool:
        """Whether words stand in a clause of the paragraph that rules were made of."""
        said = plain(words)
        texts = (plain(p.rule.amount.step.origin.text) for p in self.desk.standing.placed_in(one))
        return bool(said) and any(said in text for text in texts)

    def _numbers(self, span: Span) -> list[Said]:
        """The numbers of a stretch, each with the unit behind it."""
        tags = self.language.lexicon.tags(span.text)
        return list(numbers(span, tags))

    def _tell(self, one: Instruction, said: str, more: Sequence[Label] = ()) -> None:
        message = f"{self.reading.layer.name} {said}."
        self.desk.told.append(problem("amended", message, one.span, severity=Severity.NOTE, help=_FOUND, more=more))

    def _say(self, code: str, one: Instruction, said: str, more: Sequence[Label] = (), help: str = _ASK) -> bool:
        """Ask about what could not be carried out. Always False."""
        message = f"{self.reading.layer.name} {said}{'' if said.endswith('?') else '.'}"
        self.desk.told.append(Diagnostic(code, Severity.QUESTION, message, (Label(one.span), *more), help))
        self.answered.append(one.span)
        return False

    def done(self) -> Reading:
        """The addendum's reading with what came of its instructions."""
        reading = self.reading
        own = [r for r in reading.rules if id(r) not in self.dropped]
        made = [r for r in self.made if not any(r is g for g in self.desk.standing.gone)]
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
                return Number(number.span, "read" if became == "read" else "set aside", why)
        return number
