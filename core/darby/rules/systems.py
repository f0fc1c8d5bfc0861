"""Systems joined to places: what is said under a mark (`PT-1: two coats eggshell`) holds wherever the mark is given.

A legend or a list of types defines a mark, a schedule, a sentence or a drawing note gives it to places; each place gets the rules of its
system, with both clauses as their source.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from attrs import evolve, frozen

from darby.rules.rule import Rule

_PLACE = ("surface", "room", "condition", "name")
"""What an assignment says of where."""


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
            defined.setdefault(_plain(mark), []).append(rule)
    given = [rule for rule in rules if rule.kind.assigns]
    made = [new for rule in given for new in _given(rule, defined.get(_plain(rule.choice), ()))]
    marks = {_plain(rule.choice) for rule in given}
    return Joined(
        tuple(made),
        tuple(rule for rule in given if _plain(rule.choice) not in defined),
        tuple(members[0] for mark, members in defined.items() if mark not in marks),
    )


def _given(given: Rule, members: Iterable[Rule]) -> Iterable[Rule]:
    place = {key: given.scope[key] for key in _PLACE if key in given.scope}
    for rule in members:
        own = {key: said for key, said in rule.scope.items() if key != "mark"}
        if any(own[key] != place[key] for key in own.keys() & place.keys()):
            continue  # `P3: walls two coats, ceilings one`, given to ceilings: the walls are none of it
        layer = max(rule.layer, given.layer)
        confirm = rule.confirm or given.confirm
        yield evolve(rule, scope={**own, **place}, layer=layer, assigned=given.span, confirm=confirm)


def _plain(mark: str) -> str:
    """A mark as marks are compared: `PT 1`, `PT-1` and `pt1` are one."""
    return "".join(filter(str.isalnum, mark.casefold()))
