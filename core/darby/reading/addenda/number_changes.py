"""Numbers that an addendum puts in the place of others: each found in the rule it was read in, and changed there."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Sequence
from itertools import pairwise
from typing import Any

from attrs import evolve, frozen

from darby.quantities.amounts import Amount, Origin
from darby.reading.addenda.instructions import Instruction, paragraph_before
from darby.reading.addenda.paragraphs import CHANGED, Placed, Said, overlap, part_of, plain, short, told_rule, where_of
from darby.reading.addenda.word_changes import WordChanges
from darby.reading.addenda.wording.paragraph_names import Stand
from darby.reading.addenda.wording.topics import IS, Topic, topic_in
from darby.reading.addenda.work import ASK, Work
from darby.reading.document.marks.mark_spelling import names_any
from darby.reading.layout.clause import Clause
from darby.reading.parsing.tagging.tag import Tag
from darby.rules.cascade import NARROWING
from darby.rules.rule import Rule, Scope
from darby.text.diagnostics import Label
from darby.text.spans import Span


@frozen(eq=False)
class NumberChanges:
    """Carries out what one addendum says of numbers; where words change with them, or alone, these are changed instead."""

    work: Work
    words: WordChanges

    def change(self, one: Instruction) -> None:
        """Put numbers, or words, in the place of others."""
        assert one.old is not None
        assert one.new is not None
        old, new = self.work.numbers(one.old), self.work.numbers(one.new)
        if one.beside or not one.path or not self.of_numbers(one.old, old, one.new, new):
            self.words.reword(one)
            return
        if len(old) != len(new):
            self.work.say("amend-several", one, f"changes “{short(one.old)}” to “{short(one.new)}”: which for which?")
            return
        pairs = [(a, b) for a, b in zip(old, new, strict=True) if (a.value, a.unit) != (b.value, b.unit)]
        alike = {
            p.rule.span for p in self.work.papers.standing.placed_in(one) if any(part_of(p.rule, a) for a, _ in pairs)
        }
        if len(alike) > 1 and len(pairs) < len(old) and len(self.work.papers.texts.holding(one)) == 1:
            self.words.reword(one)  # which of the numbers is meant is told by those beside it
            return
        done = False
        for before, after in pairs:
            if (before.aside or after.aside) and done:
                continue  # the same said again in other units
            if not self._change_number(one, before, after):
                return
            done = True
        self.work.settled.append((one.old, "set aside", "the old value, which another takes the place of"))
        self.work.settled.append((one.new, "read", f"the new value in {where_of(one)}"))
        self.work.answered.append(one.span)

    def _change_number(self, one: Instruction, before: Said, after: Said) -> bool:
        assert one.new is not None
        where = where_of(one)
        said = f"changes {short(before.span)} to {short(after.span)} in {where}"
        found = [
            p for p in self.work.papers.standing.placed_in(one) if part_of(p.rule, before) and self.may_be(one, p.rule)
        ]
        places = {(p.rule.span.source.name, p.rule.span.start) for p in found}
        if len(places) > 1:
            found = self._named(one, found)
            places = {(p.rule.span.source.name, p.rule.span.start) for p in found}
        if not found and one.old is not None and self._beside(one.old) and self.words.reword(one, asking=False):
            return False
        if not found:
            there = "; ".join(dict.fromkeys(told_rule(p.rule) for p in self.work.papers.standing.placed_in(one)))
            read = f"What was read there: {there}." if there else "Nothing was read there."
            return self.work.say(
                "amend-nothing", one, f"{said}, and no such number was read there", help=f"{read} {ASK}"
            )
        if len(places) > 1:
            message = f"{said}, where that number stands {len(places)} times: which is meant?"
            return self.work.say("amend-several", one, message, [Label(p.rule.span, told_rule(p.rule)) for p in found])
        if self.work.doubted(one, [p.rule for p in found]):
            return False
        changed = [(p, self.changed(p.rule, before, after, one)) for p in found]
        for placed, rule in changed:
            if rule is None:
                message = f"{said}, which {placed.rule.kind.name} of {placed.rule.subject} cannot be"
                return self.work.say("amend-nothing", one, message, [Label(placed.rule.span)])
        self.work.drop(one)
        for placed, rule in changed:
            assert rule is not None
            self.work.made.append(rule)
            placed.holds = False
            self.work.papers.standing.put(rule, placed.section, placed.path)
            if placed.rule.layer == rule.layer:
                self.work.papers.standing.gone.append(placed.rule)
        self.work.papers.texts.note(one, before.span, after.span.text)
        told = " and ".join(dict.fromkeys(told_rule(rule) for _, rule in changed if rule is not None))
        self.work.tell(one, f"{said}: {told}", [Label(p.rule.span, "was") for p, _ in changed])
        return True

    def changed(self, rule: Rule, before: Said, after: Said, one: Instruction) -> Rule | None:
        """The rule with one number of it changed, or None where the new one cannot stand there."""
        part = part_of(rule, before)
        old: Amount = getattr(rule, part)
        unit = after.unit or old.unit
        if unit.dimension != old.unit.dimension or (not after.value and old.value):
            return None
        where = rule.scope.get("surface", "")
        key = f"{after.span} {rule.kind.name} {where}".strip()
        origin = Origin(key, one.span.text.strip(), after.span, self.work.reading.layer.name)
        new = Amount.of(after.value, unit, origin)
        whole = part == "amount" and rule.kind.name in self.work.papers.language.lexicon.bands
        if whole and not self.work.papers.language.lexicon.in_band(rule.kind.name, new.size):
            return None
        how = ((CHANGED, f"{where_of(one)}, where it was {old.exact()}".removeprefix(", ")), *rule.bound_by)
        parts: dict[str, Any] = {part: new}
        # What the old number gave way to, a narrower rule beside it, the new one gives way to as well.
        layer = rule.layer if self.work.papers.standing.narrowed(rule, rule.layer) else self.work.reading.layer
        made: Rule = evolve(rule, layer=layer, span=after.span, cited="", bound_by=how, **parts)
        return made if made.upper is None or made.amount < made.upper else None

    def _named(self, one: Instruction, found: list[Placed]) -> list[Placed]:
        """Of several, those that the instruction's own words speak of: by mark, by product, by place, by the words themselves."""
        assert one.old is not None
        found = [p for p in found if names_any(one.span.text, filter(None, [p.rule.scope.get("mark")]))] or found
        tags = self.work.papers.language.lexicon.tags(one.span.text)
        said = {(t.name, t.value) for t in tags}
        found = [p for p in found if ("subject", p.rule.subject) in said] or found
        found = [p for p in found if ("surface", p.rule.scope.get("surface")) in said] or found
        found = [p for p in found if not said.isdisjoint(p.rule.scope.items())] or found
        words = plain(one.old.text)
        return [p for p in found if words in plain(p.rule.span.text)] or found

    def may_be(self, one: Instruction, rule: Rule) -> bool:
        """Whether the old words do not speak of another product, surface, sheen or the like than a rule does."""
        assert one.old is not None
        spoken: dict[str, set[str]] = {}
        for tag in self.work.papers.language.lexicon.tags(one.old.text):
            spoken.setdefault(tag.name, set()).add(tag.value)
        said = {"subject": rule.subject, **rule.scope}
        return all(value in spoken[key] for key, value in said.items() if key in spoken)

    def of_numbers(self, old: Span, olds: Sequence[Said], new: Span, news: Sequence[Said]) -> bool:
        """Whether a change is one of numbers alone: the words beside them are the same, or only one side has any."""
        if not olds or not news:
            return False
        before, after = self._beside(old), self._beside(new)
        return before == after or not before or not after

    def _beside(self, span: Span) -> list[str]:
        """The words of a stretch that are no number and no unit, the plural aside."""
        text = span.text
        for tag in reversed(self.work.papers.language.lexicon.tags(text)):
            if tag.number is not None or tag.unit is not None:
                text = f"{text[: tag.start]} {text[tag.end :]}"
        return [word.removesuffix("s") for word in re.findall(r"[a-z]+", text.lower())]

    def delete_words(self, one: Instruction) -> None:
        """Take away what some words of a paragraph say."""
        assert one.old is not None
        numbers = self.work.numbers(one.old)
        tags = self.work.papers.language.lexicon.tags(one.old.text)
        coats = {t.value for t in tags if t.name == "ORDINAL"}
        here = self.work.papers.standing.placed_in(one)
        if numbers:
            found = [p for p in here if part_of(p.rule, numbers[0])]
        elif coats:
            found = [p for p in here if coats & set(p.rule.scope.values())]
        else:
            if self.work.touches(one, one.old.text):
                self.words.reword(one)
            return
        found = self._named(one, found)
        said = f"deletes “{short(one.old)}” in {where_of(one)}"
        if not found:
            there = "; ".join(dict.fromkeys(told_rule(p.rule) for p in here)) or "nothing"
            self.work.say("amend-nothing", one, f"{said}, and nothing of the kind was read there; what was: {there}")
        elif len({p.rule.span.start for p in found}) > 1:
            labels = [Label(p.rule.span, told_rule(p.rule)) for p in found]
            self.work.say("amend-several", one, f"{said}, which may be more than one thing", labels)
        else:
            self.work.delete(one, found, said)
            self.work.settled.append((one.old, "set aside", "deleted by the addendum"))


def kinds_of(span: Span, work: Work) -> set[str]:
    """The kinds of rule that the words of a value choose: what is counted in the thing that a kind is called after."""
    names = {tag.name for tag in work.papers.language.lexicon.tags(span.text)}
    return {kind for kind in work.papers.language.kinds if _word_of(kind) in names}


def kinds_of_word(tag: Tag, kinds: set[str]) -> bool:
    """Whether a word is what rules of one of some kinds count."""
    return tag.name in map(_word_of, kinds)


def _word_of(kind: str) -> str:
    """The word that a kind is called after: `COAT` of coats."""
    return kind.removesuffix("s").upper()


def topic_of(one: Instruction, work: Work) -> Topic:
    """What an instruction is about: by its own words, else by what stands before it in its clause, else by what it stands under."""
    clause = one.clause
    before = clause.text[: max(0, clause.text.find(one.span.text[:30]))]
    texts = (without_values(one), before, *(f"{p.label} {p.text}" for p in clause.parents))
    return topic_in(texts, work.papers.language.lexicon.tags, work.marks())


def without_values(one: Instruction) -> str:
    """The sentence without the old words and the new."""
    text = one.span.text
    for part in (one.old, one.new):
        if part is not None:
            start, end = part.start - one.span.start, part.end - one.span.start
            text = text[:start] + " " * (end - start) + text[end:]
    return text


@frozen(eq=False)
class BareNumbers:
    """Numbers of an addendum that say no goods: `Lobby walls to be three coats`."""

    work: Work
    numbers: NumberChanges

    def complete(self, found: Sequence[Stand]) -> None:
        """Let each have the goods of the one rule that the specification has at the same place, to be confirmed; where there are
        several, or none, it stays unread.
        """
        starts = [stand.start for stand in found]
        settled = [span for span, _, _ in self.work.settled]
        for number in self.work.reading.numbers:
            at = bisect_right(starts, number.span.start)
            if number.became == "unread" and at and not any(overlap(number.span, span) for span in settled):
                self._complete(number.span, found[at - 1].clause)
        for rule in self.work.reading.rules:
            at = bisect_right(starts, rule.span.start)
            if at and not any(overlap(rule.span, span) for span in settled) and id(rule) not in self.work.dropped:
                self._put_in_paragraph(rule, found[at - 1])

    def _put_in_paragraph(self, rule: Rule, stand: Stand) -> None:
        """Of a rule that says no place, behind the number of a paragraph (`Item 1.1: two layers`): it is of what stands there."""
        named = paragraph_before(stand.clause, rule.span)
        if not named or any(key in rule.scope for key in NARROWING) or "mark" in rule.scope:
            return
        one = Instruction("change", stand.section, named, "", rule.span, stand.clause)
        here = [
            p
            for p in self.work.papers.standing.placed_in(one)
            if (p.rule.kind, p.rule.subject) == (rule.kind, rule.subject)
        ]
        scopes = {Scope({k: v for k, v in p.rule.scope.items() if k in (*NARROWING, "mark")}) for p in here}
        if scopes and Scope() not in scopes:
            self.work.dropped.add(id(rule))
            self.work.made.extend(evolve(rule, scope={**rule.scope, **scope}) for scope in sorted(scopes, key=str))

    def _complete(self, span: Span, clause: Clause) -> None:
        whole = clause.view.whole
        kinds = kinds_of(whole, self.work)
        tags = self.work.papers.language.lexicon.tags(whole.text)
        counts = {whole.start + a.start for a, b in pairwise(tags) if a.number is not None and kinds_of_word(b, kinds)}
        said = [n for n in self.work.numbers(whole) if n.span.start in counts]
        if clause.asks or clause.cells or len(said) != 1 or not overlap(said[0].span, span) or len(kinds) != 1:
            return
        one = Instruction("change", "", (), "", whole, clause, new=said[0].span, loose=True)
        topic = topic_of(one, self.work)
        here = [
            p for p in self.work.papers.standing.placed_in(one)
            if p.rule.kind.name in kinds and topic.fits(p.rule) == IS and p.rule.upper is None
            and self.work.papers.texts.speaks_of(p.rule.span, topic.names())
        ]  # fmt: skip
        if not topic or len({(p.rule.span.source.name, p.rule.span.start) for p in here}) != 1:
            return
        before = [evolve(said[0], value=p.rule.amount.value, unit=p.rule.amount.unit) for p in here]
        made = [self.numbers.changed(p.rule, was, said[0], one) for p, was in zip(here, before, strict=True)]
        if any(rule is None for rule in made) or self.work.doubted(one, [rule for rule in made if rule is not None]):
            return
        for placed, rule in zip(here, made, strict=True):
            assert rule is not None
            new = evolve(rule, confirm=f"it says no goods: {rule.subject} is what the specification has there")
            self.work.made.append(new)
            self.work.papers.standing.put(new, placed.section, placed.path)
            placed.holds = False
            if placed.rule.layer == new.layer:
                self.work.papers.standing.gone.append(placed.rule)
        self.work.settled.append((said[0].span, "read", "with the goods of the specification at the same place"))
        self.work.answered.append(whole)
