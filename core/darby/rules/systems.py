"""Systems joined to places: what is said under a mark (`PT-1: two coats eggshell`) holds wherever the mark is given.

A legend or a list of types defines a mark, a schedule, a sentence or a drawing note gives it to places; each place gets the rules of its
system, with both clauses as their source.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from attrs import evolve, frozen

from darby.rules.rule import Layer, Rule

GIVEN = "given"
"""The scope key of a system that the job itself gives to surfaces; what is asked about a surface has all of its systems there."""

_PLACE = ("surface", "room", "condition", "name", GIVEN)
"""What an assignment says of where."""

_TIERS, _BESIDE = ">", "+"


def asked_of(*tiers: Iterable[str]) -> str:
    """What is asked about a surface that the job gives systems, by their marks: those of the surface itself before those of its room."""
    plain = [_BESIDE.join(plain_mark(mark) for mark in tier) for tier in tiers]
    return _TIERS.join(tier for tier in plain if tier)


def tier_of(mark: str, asked: str) -> int:
    """How narrowly a mark is among those asked about: 0 where it is none of them, more where it is of the surface itself."""
    tiers = asked.split(_TIERS)
    return next((len(tiers) - n for n, tier in enumerate(tiers) if plain_mark(mark) in tier.split(_BESIDE)), 0)


@frozen(eq=False)
class Joined:
    """The rules of systems at their places, and what could not be joined."""

    rules: tuple[Rule, ...]
    undefined: tuple[Rule, ...]
    """Assignments of marks that nothing defines."""
    unassigned: tuple[Rule, ...]
    """One rule of each mark that is defined and given to no place."""


def join_systems(rules: Sequence[Rule]) -> Joined:
    """Every rule of a system said anew for each place that the system is given to. Linear in the rules that come out."""
    defined: dict[str, list[Rule]] = {}
    for rule in rules:
        if mark := rule.scope.get("mark"):
            defined.setdefault(plain_mark(mark), []).append(rule)
    given = [rule for rule in rules if rule.kind.assigns]
    made = [new for rule in given for new in _given(rule, defined.get(plain_mark(rule.choice), ()))]
    marks = {plain_mark(rule.choice) for rule in given}
    return Joined(
        tuple(made),
        tuple(rule for rule in given if plain_mark(rule.choice) not in defined),
        tuple(members[0] for mark, members in defined.items() if mark not in marks),
    )


def _given(given: Rule, members: Sequence[Rule]) -> Iterable[Rule]:
    place = {key: given.scope[key] for key in _PLACE if key in given.scope}
    last: dict[tuple[object, ...], Layer] = {}
    for rule in members:
        last[_same(rule)] = max(rule.layer, last.get(_same(rule), rule.layer))
    for rule in members:
        if rule.layer < given.layer and rule.layer < last[_same(rule)]:
            continue  # an addendum has changed this of the system; raised to the layer of who gives it, it would hold again
        own = {key: said for key, said in rule.scope.items() if key != "mark"}
        if any(own[key] != place[key] for key in own.keys() & place.keys()):
            continue  # `P3: walls two coats, ceilings one`, given to ceilings: the walls are none of it
        layer = max(rule.layer, given.layer)
        confirm = rule.confirm or given.confirm
        yield evolve(rule, scope={**own, **place}, layer=layer, assigned=given.span, confirm=confirm)


def _same(rule: Rule) -> tuple[object, ...]:
    """What two rules of a system have in common where the later stands in for the earlier."""
    return (rule.kind.name, rule.subject, rule.scope)


def plain_mark(mark: str) -> str:
    """A mark as marks are compared: `PT 1`, `PT-1` and `pt1` are one."""
    return "".join(filter(str.isalnum, mark.casefold()))
