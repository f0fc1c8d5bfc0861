"""What an item of a schedule takes over from another: `as B1, but color Charcoal` is all that B1 says, and the color its own.

The rule that refers is one of a system whose mark is the other item's number. In its place come the rules of that item, at the
place and surface of the one that refers; what the same clause says besides stands in the place of what it names.
"""

from __future__ import annotations

from collections.abc import Container, Mapping, Sequence
from typing import Literal

from attrs import define, evolve, field

from darby.reading.binding.choices import CLASS
from darby.reading.binding.site.finding import Finding
from darby.reading.parsing.tagging.tag import Tag
from darby.rules.rule import Rule
from darby.text.diagnostics import Diagnostic, Severity, problem

_CHOSEN = ("color", "sheen", "type", CLASS)
"""What a word of the clause that refers changes of what it takes over."""
_PLACE = ("room", "surface")
_UNREAD = "what stands beside the item that it refers to may change this, and could not be read"
Part = tuple[str, int, int]
"""The number of an item, or what a clause without one goes by, and which of the rules are its own: from, up to."""


@define(eq=False)
class References:
    """What is noted of the references to other items while clauses are read, by the place of each."""

    only: dict[int, str] = field(factory=dict)
    unread: dict[int, frozenset[str]] = field(factory=dict)

    def note(self, at: int, finding: Finding, tags: Sequence[Tag], beside: Sequence[Finding]) -> None:
        """Note the product that a reference is limited to, and the kinds of what stands beside it and could not be read."""
        first = finding.fact.start
        before = [t for t in tags[max(0, first - 2) : first] if t.name == "subject"]
        if before:
            self.only[at] = before[-1].value
        self.unread[at] = frozenset(f.kind for f in beside if not (f.stands or f.aside))

    def carried(
        self, rules: list[Rule], parts: Sequence[Part], items: Container[str]
    ) -> tuple[list[Rule], list[Diagnostic]]:
        """The rules with what each item takes over, and a question for each reference that nothing is taken over from."""
        if not any(rule.kind.assigns and rule.choice in items for rule in rules):
            return rules, []
        carrier = Carrier(rules, parts, self.only, self.unread)
        return carrier.carried(), [
            problem("unclear", f"“{rule.span.text}”: nothing could be taken over from {rule.choice} here", rule.span,
                    severity=Severity.QUESTION, help="Say in a line of your own what holds there.")
            for rule in carrier.lost
        ]  # fmt: skip


@define(eq=False)
class Carrier:
    """Carries rules from item to item. `parts` say whose each rule is, `only` which product a reference is limited to, by the place
    where it stands."""

    rules: Sequence[Rule]
    parts: Sequence[Part]
    only: Mapping[int, str] = field(factory=dict)
    unread: Mapping[int, frozenset[str]] = field(factory=dict)
    """The kinds of what stands beside a reference and could not be read, by the place of the reference."""
    lost: list[Rule] = field(factory=list)
    """References to what says nothing that could be taken over."""
    _done: dict[str, list[Rule] | Literal["open"]] = field(factory=dict)
    _own: dict[str, list[Rule]] = field(factory=dict)
    """The rules of each item."""

    def carried(self) -> list[Rule]:
        """All rules, with those that refer replaced by what they refer to."""
        out: list[Rule] = []
        at = 0
        cited = {rule.choice for rule in self.rules if rule.kind.assigns}
        for code, first, last in self.parts:
            self._own.setdefault(code, []).extend(self.rules[first:last])
        for code, first, last in self.parts:
            out += self.rules[at:first]
            # `1.3 Overlaying: ..`, which rooms take over, is said of them where it does not say well of what else
            out += [
                rule for rule in self._of(code) if not (code in cited and rule.confirm and "room" not in rule.scope)
            ]
            at = last
        return [*out, *self.rules[at:]]

    def _of(self, code: str) -> list[Rule]:
        """The rules of an item, once what it takes over is carried."""
        done = self._done.get(code)
        if done == "open":  # it refers to itself
            return []
        if done is not None:
            return done
        self._done[code] = "open"
        own, known = self._own[code], self._own
        stated = [rule for rule in own if not (rule.kind.assigns and rule.choice in known)]
        used: set[int] = set()
        out: list[Rule] = []
        for rule in own:
            if not (rule.kind.assigns and rule.choice in known):
                continue
            taken = list(self._taken(rule, self._of(rule.choice), stated, used))
            if not taken:
                self.lost.append(rule)
            out += taken
        self._done[code] = result = [*out, *(rule for rule in stated if id(rule) not in used)]
        return result

    def _taken(self, given: Rule, others: Sequence[Rule], stated: Sequence[Rule], used: set[int]) -> list[Rule]:
        """What a rule that refers takes over of the rules of another item."""
        room, surface = given.scope.get("room"), given.scope.get("surface")
        only = self.only.get(given.span.start)
        named = {rule.scope["surface"] for rule in others if "surface" in rule.scope}
        out: list[Rule] = []
        for rule in others:
            its = rule.scope.get("surface")
            if (only and rule.subject != only) or (room is None and "room" in rule.scope):
                continue
            if surface is not None and its not in (None, surface) and (surface in named or len(named) > 1):
                continue
            scope = {key: said for key, said in rule.scope.items() if key != "room"}
            scope |= {key: given.scope[key] for key in (*_PLACE, "facing", "condition") if key in given.scope}
            own = [
                one
                for one in stated
                if one.subject == rule.subject and one.scope.get("surface") in (None, scope.get("surface"))
            ]
            scope |= {one.kind.name: one.choice for one in own if one.kind.name in _CHOSEN and one.kind.name in scope}
            instead = next((one for one in own if one.kind == rule.kind and not one.choice), None)
            new = evolve(rule, scope=scope, assigned=given.span, confirm=rule.confirm or given.confirm)
            if rule.kind.name in self.unread.get(given.span.start, ()):
                new = evolve(new, confirm=_UNREAD)
            if instead is not None:
                used.add(id(instead))
                said = {key: value for key, value in instead.scope.items() if key not in _PLACE}
                new = evolve(instead, scope={**scope, **said}, assigned=rule.span)
            elif rule.kind.name in _CHOSEN and any(one.kind == rule.kind for one in own):
                continue
            out.append(new)
        return list({(r.kind.name, r.subject, r.scope, r.answer): r for r in out}.values())
