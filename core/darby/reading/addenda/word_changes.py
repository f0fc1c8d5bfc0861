"""Words that an addendum puts in the place of others: found in the specification, and read where they stand."""

from __future__ import annotations

from typing import Any

from attrs import evolve, frozen

from darby.quantities.amounts import Amount, Origin
from darby.reading.addenda.instructions import Instruction
from darby.reading.addenda.paragraphs import CHANGED, short, told_rule, where_of
from darby.reading.addenda.rewording import Place, touches
from darby.reading.addenda.work import Work
from darby.rules.rule import Rule
from darby.text.diagnostics import Label
from darby.text.spans import Span

_SHOWN = 5


@frozen(eq=False)
class WordChanges:
    """Carries out what one addendum says of words."""

    work: Work

    def reword(self, one: Instruction, *, asking: bool = True, place: Place | None = None) -> bool:
        """Put the new words where the old ones stand, and take what is then read there; whether anything came of it.

        Where it is known at which `place` they are meant, it is changed there.
        """
        assert one.old is not None
        words = one.new.text if one.new is not None else ""
        said = (
            f"changes “{short(one.old)}” to “{short(one.new)}”"
            if one.new is not None
            else f"deletes “{short(one.old)}”"
        )
        if one.beside and one.new is not None:
            said = f"puts “{short(one.new)}” {one.beside} “{short(one.old)}”"
        where = where_of(one)
        said = f"{said} in {where}" if where else said
        found = [place] if place is not None else self.work.papers.texts.holding(one)
        if len(found) != 1:
            if found or asking:
                why = f"stand there {len(found)} times: which are meant?" if found else "do not stand there"
                labels = [Label(place.span) for place in found[:_SHOWN]]
                self.work.say(
                    "amend-several" if found else "amend-nothing", one, f"{said}, and these words {why}", labels
                )
            return bool(found)
        joined = f"and {words}" if self._two_rooms(one) else words
        turned = self.work.papers.texts.turned(found[0], _with(found[0].words, joined, one))
        if self.work.doubted(one, turned.gone, found[0].text.clause_around(found[0])):
            return True
        if turned.unread or (turned.gone and not turned.made and words):
            was = [Label(rule.span, told_rule(rule)) for rule in turned.gone]
            return not self.work.say(
                "amend-nothing", one, f"{said}, which could not be followed; what stood there was kept", was
            )
        turned.put()
        self.work.drop(one)
        for rule in turned.gone:
            self.work.papers.standing.take_away(rule)
        for rule in turned.made:
            new = self._worded(rule, one, turned.touched)
            self.work.made.append(new)
            self.work.papers.standing.put_at(new, rule.span)
        kept = "words beside which others are put" if one.beside else "the old words, which others take the place of"
        self.work.settled.append((one.old, "set aside", kept))
        if one.new is not None:
            self.work.settled.append((one.new, "read", f"the new words in {where}" if where else "the new words"))
        self.work.answered.append(one.span)
        told = "; ".join(dict.fromkeys(told_rule(rule) for rule in (turned.made or turned.gone)))
        if told or not turned.speaks:
            none = "where nothing is read"
            self.work.tell(
                one, f"{said}: {told}" if told else f"{said}, {none}", [Label(r.span, "was") for r in turned.gone]
            )
        else:
            self.work.say(
                "amend-nothing", one, f"{said}, and nothing that was read there changes with it", carried=True
            )
        return True

    def _two_rooms(self, one: Instruction) -> bool:
        """Whether a room is put behind another, and no word between them: `insert “Store” after “Hall”`."""

        def is_room(words: Span | None) -> bool:
            tags = self.work.papers.language.lexicon.tags(words.text) if words is not None else ()
            return [t.name for t in tags] == ["room"]

        return one.beside == "behind" and is_room(one.old) and is_room(one.new)

    def _worded(self, rule: Rule, one: Instruction, touched: Span) -> Rule:
        """A rule of the words as they now stand: in the place and of the rank of what stood there; its clause is the addendum's."""
        how = ((CHANGED, where_of(one) or "the words of an addendum"), *rule.bound_by)
        if one.new is None or not touches(rule.span, touched):
            return evolve(rule, bound_by=how)
        parts: dict[str, Any] = {}
        for name in ("amount", "per", "upper", "by"):
            part: Amount | None = getattr(rule, name)
            if part is not None and part.step.origin.place is not None and touches(part.step.origin.place, touched):
                origin = Origin(
                    f"{one.new} {rule.kind.name}", one.span.text.strip(), one.new, self.work.reading.layer.name
                )
                parts[name] = Amount.of(part.value, part.unit, origin, part.label)
        return evolve(rule, span=one.new, bound_by=how, **parts)


def _with(old: str, new: str, one: Instruction) -> str:
    """The new words, with the old ones where these stay."""
    if one.beside == "before":
        return f"{new} {old}"
    return f"{old}{'' if new[:1] in ',;:' else ' '}{new}" if one.beside else new
