"""Changes told by what they are about, and by no paragraph: `Change the lobby walls from two coats to three.`

The sentence names a surface, a room, goods or a mark, and the specification has the old value somewhere under these. Where exactly one
place has it, that is changed; where the sentence speaks of less than the place does (one room of several), a narrower rule is made of it.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from attrs import evolve, frozen

from darby.reading.addenda.instructions import Instruction
from darby.reading.addenda.number_changes import NumberChanges, kinds_of, topic_of
from darby.reading.addenda.paragraphs import CHANGED, Placed, Said, overlap, part_of, short, told_rule
from darby.reading.addenda.plainness import doubted_by
from darby.reading.addenda.rewording import Place
from darby.reading.addenda.wording.topics import GOODS, IS, ROOM, SURFACE, WIDER, Topic, marks_in
from darby.reading.addenda.work import Work
from darby.rules.rule import Rule
from darby.text.diagnostics import Label
from darby.text.spans import Span

_LEADS = re.compile(r",?\s+(?:on|to|in|at|for|of|throughout|under|within)\s+(?:(?:the|all)\s+){0,2}", re.IGNORECASE)
_BEHIND = re.compile(
    r"[\s,]+(?:as\s+(?:specified|shown|noted|described|scheduled|before)\b|in\s+(?:its|their)\s+place|specified\b|throughout\b|\().*",
    re.IGNORECASE | re.DOTALL,
)
"""What says no more of a value than where it was."""
_PROPERTY = re.compile(
    r"(?:(?:the|its|their)\s+)?(?:(?P<color>colou?rs?)|(?P<sheen>sheens?)|thickness|spacing|quantity|number\s+of\s+(?:coats|layers))",
    re.IGNORECASE,
)
"""What is changed, and no value that it had: `Change the color of PT-2 to Fern`."""
_MOST = 12
"""Places that are tried: for each the document is read again."""
_FEW = 3
"""Places at which words are tried before their number is looked for."""
_SHOWN = 5


@frozen(eq=False)
class ByTopic:
    """Carries out the changes of one addendum that name no paragraph."""

    work: Work
    numbers: NumberChanges

    def change(self, said: Instruction) -> None:
        """Put new words in the place of old ones where exactly one place is spoken of; else say what is not clear."""
        one = self._trimmed(said)
        assert one.old is not None
        assert one.new is not None
        topic = topic_of(one, self.work)
        if said.loose and (named := _PROPERTY.fullmatch(one.old.text)):
            self._look(one, named.lastgroup or "", topic)
            return
        if said.loose and not self._is_value(one.old):
            return  # `amend the hall walls to three coats`: the place is named, and no old value
        ways = (self._words, self._number) if not said.loose or self._is_rare(one) else (self._number, self._words)
        if any(way(one, topic) for way in ways):
            return
        if not said.loose:
            self.numbers.words.reword(said)
        elif not any(overlap(r.span, one.new) and self._placed(r, topic) for r in self.work.reading.rules):
            self._ask(one, topic)

    def _look(self, one: Instruction, key: str, topic: Topic) -> None:
        """Change how something looks where the sentence names only what of it changes: what it was is what the specification has there."""
        fits = [p.rule for p in self.work.papers.standing.all() if topic and topic.fits(p.rule) == IS]
        looks = {rule.scope[key] for rule in fits if key in rule.scope}
        said = any(r.kind.name == key and overlap(r.span, one.span) for r in self.work.reading.rules)
        found = self.work.papers.texts.standing(next(iter(looks)), one) if len(looks) == 1 and not said else []
        if len(found) == 1:
            self._words(evolve(one, old=found[0].span), topic)

    def _is_value(self, span: Span) -> bool:
        """Whether words say what something is, and not where: no room and no surface alone, without a number or a look."""
        tags = self.work.papers.language.lexicon.tags(span.text)
        return not any(tag.name in (SURFACE, ROOM) for tag in tags) or any(
            tag.number is not None or (tag.name.islower() and tag.name not in (SURFACE, ROOM, GOODS)) for tag in tags
        )

    def _is_rare(self, one: Instruction) -> bool:
        """Whether the old words stand at few places, so that trying them all costs little."""
        assert one.old is not None
        return len(self.work.papers.texts.standing(one.old.text, one)) <= _FEW

    def _ask(self, one: Instruction, topic: Topic) -> None:
        assert one.old is not None
        assert one.new is not None
        found = self.work.papers.texts.standing(one.old.text, one)
        if found or topic.said(GOODS) or topic.marks:
            why = f"stand there {len(found)} times: which are meant?" if len(found) > 1 else "which was not understood"
            why = why if found else "and these words do not stand there"
            self.work.say(
                "amend-several" if len(found) > 1 else "amend-nothing",
                one,
                f"changes “{short(one.old)}” to “{short(one.new)}”, {'and these words ' if len(found) > 1 else ''}{why}",
                [Label(place.span) for place in found[:_SHOWN]],
            )

    @staticmethod
    def _placed(rule: Rule, topic: Topic) -> bool:
        """Whether the reader itself made of the new words a rule of what the sentence is about."""
        return bool(topic.fits(rule) == IS if topic else rule.scope)

    def _trimmed(self, one: Instruction) -> Instruction:
        """The old and the new words without what only says where they are: `two coats on the lobby walls`."""
        assert one.old is not None
        assert one.new is not None
        if not one.loose:
            return one
        return evolve(one, old=self._cut(one.old), new=self._cut(one.new))

    def _cut(self, span: Span) -> Span:
        text = span.text
        end = len(text)
        for match in _LEADS.finditer(text):
            tags = self.work.papers.language.lexicon.tags(text[match.end() :][:60])
            near = bool(tags) and (tags[0].name in (SURFACE, ROOM) or (tags[0].name == GOODS and " of" not in match[0]))
            coded = any(marks_in(text[match.end() :], self.work.marks())) and re.match(
                r"[A-Z]{1,4}-?\d", text[match.end() :]
            )
            if match.start() and (near or coded):
                end = match.start()
                break
        if behind := _BEHIND.search(text, 0, end):
            end = behind.start() or end
        doubted = doubted_by(self.work.papers.language.lexicon.vocabularies).search(text, 1, end)
        end = doubted.start() if doubted else end
        start = re.match(r"(?:(?:the|a)\s+)?", text, re.IGNORECASE)
        assert start is not None
        text = text[start.end() : end].rstrip(" .,;")
        return Span(span.source, span.start + start.end(), span.start + start.end() + len(text))

    # numbers

    def _number(self, one: Instruction, topic: Topic) -> bool:
        """Change a number in the one rule that has it under this topic; whether that was done, or asked about."""
        assert one.old is not None
        assert one.new is not None
        old, new = self.work.numbers(one.old), self.work.numbers(one.new)
        if len(old) != 1 or len(new) != 1 or not self.numbers.of_numbers(one.old, old, one.new, new):
            return False
        kinds, texts = kinds_of(one.old, self.work), self.work.papers.texts
        found = [
            p for p in self.work.papers.standing.placed_in(one)
            if part_of(p.rule, old[0]) and (not kinds or p.rule.kind.name in kinds) and texts.speaks_of(p.rule.span, topic.names())
        ]  # fmt: skip
        for grade in (IS, WIDER):
            here = [p for p in found if topic.fits(p.rule) == grade] if topic else found
            here = [p for p in here if self.numbers.may_be(one, p.rule)] or here
            if len({(p.rule.span.source.name, p.rule.span.start) for p in here}) == 1:
                return self._renumber(one, here, old[0], new[0], topic if grade == WIDER else None)
            if here:
                return False
        return False

    def _renumber(
        self, one: Instruction, here: Sequence[Placed], before: Said, after: Said, topic: Topic | None
    ) -> bool:
        assert one.old is not None
        assert one.new is not None
        made = []
        for placed in here:
            rule = self.numbers.changed(placed.rule, before, after, one)
            if rule is None:
                return False
            made += [rule] if topic is None else list(topic.narrowed(rule, self.work.reading.layer))
        if self.work.doubted(one, made):
            return True
        self.work.drop(one)
        for placed in here if topic is None else ():
            placed.holds = False
            if any(placed.rule.layer == rule.layer for rule in made):
                self.work.papers.standing.gone.append(placed.rule)
        for rule in made:
            self.work.made.append(rule)
            self.work.papers.standing.put(rule, here[0].section, here[0].path)
        if topic is None:
            self.work.papers.texts.note(one, before.span, after.span.text)
        self._done(one, here, made)
        return True

    # words

    def _words(self, one: Instruction, topic: Topic) -> bool:
        """Change words at the one place that has them under this topic; whether that was done, or asked about."""
        assert one.old is not None
        assert one.new is not None
        texts = self.work.papers.texts
        found = [p for p in texts.standing(one.old.text, one) if texts.speaks_of(p.span, topic.names())]
        if not topic:
            return len(found) == 1 and one.loose and self.numbers.words.reword(one, asking=False)
        if len(found) > _MOST or not found:
            return False
        graded: dict[int, list[tuple[Place, list[Rule]]]] = {}
        for place in found:
            turned = texts.turned(place, one.new.text)
            fits = [topic.fits(rule, _of_one_room(place, turned.gone)) for rule in turned.gone]
            if turned.unread or not turned.made or not any(fits):
                continue
            whole = 3 if min(fits) == IS else max(fits)
            graded.setdefault(whole, []).append((place, list(turned.made)))
        best = graded.get(max(graded, default=0), [])
        if len(best) != 1:
            return False
        if 3 in graded:
            return self.numbers.words.reword(one, asking=False, place=best[0][0])
        made = [
            evolve(new, span=one.new, bound_by=((CHANGED, "words of an addendum"), *rule.bound_by))
            for rule in best[0][1] if topic.fits(rule)
            for new in topic.narrowed(rule, self.work.reading.layer)
        ]  # fmt: skip
        if not made or self.work.doubted(one, made):
            return bool(made)
        self.work.drop(one)
        self.work.made.extend(made)
        for rule in made:
            self.work.papers.standing.put_at(rule, best[0][0].span)
        self._done(one, (), made)
        return True

    def _done(self, one: Instruction, was: Sequence[Placed], made: Sequence[Rule]) -> None:
        assert one.old is not None
        assert one.new is not None
        self.work.settled.append((one.old, "set aside", "the old value, which another takes the place of"))
        self.work.settled.append((one.new, "read", "the new value"))
        self.work.answered.append(one.span)
        told = " and ".join(dict.fromkeys(map(told_rule, made)))
        message = f"changes “{short(one.old)}” to “{short(one.new)}”: {told}"
        self.work.tell(one, message, [Label(p.rule.span, "was") for p in was])


def _of_one_room(place: Place, gone: Sequence[Rule]) -> str:
    """The clause in which some words stand, where all that is read there is of one room."""
    return place.text.clause_around(place) if len({r.scope.get("room") for r in gone}) == 1 else ""
