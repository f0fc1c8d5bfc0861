"""Systems joined to places: what is said under a mark (`PT-1: two coats eggshell`) holds wherever the mark is given.

A legend or a list of types defines a mark, a schedule, a sentence or a drawing note gives it to places; each place gets the rules of its
system, with both clauses as their source. A mark that nothing gives to any place goes where its own label says (`PT-4, doors: ..`), if no
other mark is for that: schedules by rooms have no column for doors.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence, Set

from attrs import evolve, frozen

from darby.rules.found_by import FoundBy, code_of
from darby.rules.name_matching import in_room, stems
from darby.rules.room_names import looks_to
from darby.rules.rule import Layer, Rule
from darby.text.diagnostics import Diagnostic, Label, Severity, problem

GIVEN = "given"
"""The scope key of a system that the job itself gives to surfaces; what is asked about a surface has all of its systems there."""

_PLACE = ("surface", "room", "condition", "name", "facing", GIVEN)
"""What an assignment says of where."""
SYSTEM = "system"
"""The scope key that keeps the mark of the system that a rule of a place comes from. It limits nothing."""


@frozen(eq=False)
class Twice:
    """Two clauses of equal weight that say different things: of one mark, or of one place."""

    mark: str
    """The mark; of a place that is given two, the one that was given first."""
    first: Rule
    second: Rule


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
    defined_twice: tuple[Twice, ...] = ()
    """Marks that two clauses define, and not alike: one rule of each."""
    given_twice: tuple[Twice, ...] = ()
    """Places that two clauses give different marks: both assignments."""


def join_systems(rules: Sequence[Rule]) -> Joined:
    """Every rule of a system said anew for each place that the system is given to. Linear in the rules that come out."""
    defined: dict[str, list[Rule]] = {}
    for rule in rules:
        if mark := rule.scope.get("mark"):
            defined.setdefault(plain_mark(mark), []).append(rule)
    defined = {mark: _where_it_differs(members) for mark, members in defined.items()}
    given = [rule for rule in rules if rule.kind.assigns and not _says_more(rule, defined)]
    given_to = [*given, *_by_label(defined, given)]
    made = [new for rule in given_to for new in _given(rule, defined.get(plain_mark(rule.choice), ()))]
    marks = {plain_mark(rule.choice) for rule in given_to}
    return Joined(
        tuple(made),
        tuple(rule for rule in given if plain_mark(rule.choice) not in defined),
        tuple(members[0] for mark, members in defined.items() if mark not in marks),
        tuple(_defined_twice(defined)),
        tuple(_given_twice(given)),
    )


def _where_it_differs(members: Sequence[Rule]) -> list[Rule]:
    """The rules of a system, with rooms where it differs: `W1: one layer of type X; at stores two layers` are of type X there too. Where
    one thing is said of it with a room and nothing else, the room only describes (`P-2: two coats in offices`).
    """
    alike: dict[tuple[object, ...], list[Rule]] = {}
    for rule in members:
        alike.setdefault((rule.kind.name, rule.subject, rule.scope.get("coat"), rule.scope.get("layer")), []).append(
            rule
        )
    out: list[Rule] = []
    for said in alike.values():
        base = [rule for rule in said if _ROOM not in rule.scope]
        if base:
            whole = base[0].scope if len(base) == 1 else {}
            of = {key: value for key, value in whole.items() if key in DESCRIBES}
            out += [evolve(rule, scope={**of, **rule.scope}) if _ROOM in rule.scope else rule for rule in said]
        elif len({rule.answer for rule in said}) == 1:
            out += [evolve(rule, scope={k: v for k, v in rule.scope.items() if k != _ROOM}) for rule in said]
        else:
            out += said
    order = {id(rule.span): n for n, rule in enumerate(members)}
    return sorted(out, key=lambda rule: order[id(rule.span)])


_ROOM = "room"
DESCRIBES = ("type", "sheen", "color", "class")
"""The scope keys that say what a thing is like, and not where it is."""


def _says_more(given: Rule, defined: Mapping[str, Sequence[Rule]]) -> bool:
    """Whether a clause that seems to give a system to a room says what the system is there: `W1 at stores: two layers`."""
    members = defined.get(plain_mark(given.choice), ())
    own = [rule for rule in members if _ROOM in rule.scope and _one_clause(rule, given)]
    return len(own) < len(members) and any(rule.scope[_ROOM] == given.scope.get(_ROOM) for rule in own)


def _by_label(defined: Mapping[str, Sequence[Rule]], given: Sequence[Rule]) -> Iterator[Rule]:
    """A rule of each system that nothing gives to any place, said of the surface that its own label names.

    Not where a second mark is for such surfaces, or one is given to them: the one that goes there is for the specifier to say.
    """
    marks = {plain_mark(rule.choice) for rule in given}
    taken = {(rule.subject, rule.scope.get("surface", "")) for rule in given}
    claims: dict[str, set[str]] = {}
    for mark, members in defined.items():
        for rule in members:
            if surface := rule.scope.get("surface"):
                claims.setdefault(surface, set()).add(mark)
    for mark, members in defined.items():
        placed = [rule for rule in members if any(key in rule.scope for key in _PLACE)]
        labelled = {rule.scope["surface"] for rule in placed if _labelled(rule)}
        if mark in marks or not all(_on_one_of(labelled, rule) for rule in placed):
            continue
        subjects = {rule.subject for rule in members}
        for surface, first in {rule.scope["surface"]: rule for rule in reversed(placed)}.items():
            if len(claims[surface]) == 1 and not any((of, surface) in taken for of in subjects):
                lowest = min(rule.layer for rule in members)
                yield evolve(first, scope={"surface": surface}, choice=first.scope["mark"], layer=lowest, confirm="")


_OWN_LABEL = (FoundBy.LABEL, FoundBy.ROW, FoundBy.KEY, FoundBy.HEADING)


def _on_one_of(surfaces: Set[str], rule: Rule) -> bool:
    """Whether a rule holds on one of some surfaces, and nowhere narrower."""
    return [key for key in _PLACE if key in rule.scope] == ["surface"] and rule.scope["surface"] in surfaces


def _labelled(rule: Rule) -> bool:
    """Whether a rule of a system holds on a surface by the label that its mark stands in."""
    how = next((how for what, how in rule.bound_by if what == "surface"), "")
    own = code_of(how) != FoundBy.HEADING or plain_mark(rule.scope["mark"]) in plain_mark(how)
    return "surface" in rule.scope and code_of(how) in _OWN_LABEL and own


def told(joined: Joined) -> Iterator[Diagnostic]:
    """What is to be asked about systems: marks that are defined twice, places that are given two. Each with both places."""
    for twice in joined.defined_twice:
        yield problem(
            "system-defined-twice",
            f"{twice.mark} is defined twice, and not alike.",
            twice.first.span,
            severity=Severity.QUESTION,
            help=_WHICH,
            more=(Label(twice.second.span, "the other definition"),),
        )
    for twice in joined.given_twice:
        place = _place(twice.first) or "a place"
        yield problem(
            "system-given-twice",
            f"{place[:1].upper()}{place[1:]} is given {twice.first.choice} and also {twice.second.choice}.",
            twice.first.span,
            severity=Severity.QUESTION,
            help=_WHICH,
            more=(Label(twice.second.span, "given again here"),),
        )


_WHICH = "What is said first, or buys more, was used. Ask which holds, or say it with a line of your own in the job."


def _place(rule: Rule) -> str:
    return " ".join(rule.scope[key] for key in ("room", "facing", "surface") if key in rule.scope)


def _given(given: Rule, members: Sequence[Rule]) -> Iterable[Rule]:
    place = {key: given.scope[key] for key in _PLACE if key in given.scope}
    which = given.scope.get("where", "")
    if len(which.split()) > 1 and which.split()[-1] == place.get("surface"):
        place["where"] = which  # `accent wall`: one of its kind, which others are not
    faced = GIVEN in given.scope  # the job knows which room each face of such a wall looks to
    sided = any(looks_to(rule.scope.get("where", "")) for rule in members)
    last: dict[tuple[object, ...], Layer] = {}
    for rule in members:
        last[_same(rule)] = max(rule.layer, last.get(_same(rule), rule.layer))
    for rule in members:
        if rule.layer < given.layer and rule.layer < last[_same(rule)]:
            continue  # an addendum has changed this of the system; raised to the layer of who gives it, it would hold again
        own = {key: said for key, said in rule.scope.items() if key != "mark"}
        if faced and (room := looks_to(own.get("where", ""))):
            own = {key: said for key, said in own.items() if key != "where"} | {"room": room}
        elif faced and (own.get("where") == _ANY_ROOM or (sided and own.get("where") in _HALVES)):
            own.pop("where")  # the face that looks to no room of its own name
        where = _one_room(own.pop(_ROOM, ""), place.get(_ROOM, ""))
        if where is None or any(own[key] != place[key] for key in own.keys() & place.keys()):
            continue  # `P3: walls two coats, ceilings one`, given to ceilings: the walls are none of it
        layer = max(rule.layer, given.layer)
        confirm = rule.confirm or given.confirm
        scope = {**own, **place, **({_ROOM: where} if where else {}), SYSTEM: given.choice}
        yield evolve(rule, scope=scope, layer=layer, assigned=given.span, confirm=confirm)


def _one_room(one: str, other: str) -> str | None:
    """The narrower of two names of a place, either of which may be empty; None where they are two places."""
    if not (one and other):
        return one or other
    return one if in_room(other, one) else other if in_room(one, other) else None


_ANY_ROOM, _HALVES = "room side", ("one side", "other side")
"""The side of whatever room a wall is seen from; sides that the job cannot tell apart, but beside one that is called after a room."""


def _same(rule: Rule) -> tuple[object, ...]:
    """What two rules of a system have in common where the later stands in for the earlier."""
    return (rule.kind.name, rule.subject, rule.scope)


def _defined_twice(defined: Mapping[str, Sequence[Rule]]) -> Iterator[Twice]:
    """Marks of which two clauses of one layer say different things of the same: `PT-2: satin`, and further on `PT-2: semi-gloss`."""
    for members in defined.values():
        first: dict[tuple[object, ...], Rule] = {}
        for rule in members:
            place = tuple((key, rule.scope.get(key, "")) for key in (*_PLACE, "where", "layer", "coat"))
            other = first.setdefault((rule.kind.name, rule.subject, rule.layer, place), rule)
            if other is not rule and not _one_clause(other, rule) and _differ(other, rule):
                yield Twice(rule.scope["mark"], other, rule)
                break


def _one_clause(one: Rule, other: Rule) -> bool:
    """Whether two rules stand in one clause, whose parts go on about one another."""
    first, second = one.amount.step.origin, other.amount.step.origin
    return first is not None and second is not None and first.text == second.text and one.span.line == other.span.line


def _differ(one: Rule, other: Rule) -> bool:
    return one.answer != other.answer or any(
        one.scope[key] != other.scope[key] for key in one.scope.keys() & other.scope.keys()
    )


def _given_twice(given: Iterable[Rule]) -> Iterator[Twice]:
    """Places that two clauses of one layer give different marks of one thing."""
    first: dict[tuple[object, ...], Rule] = {}
    for rule in given:
        room = stems(rule.scope.get("room", ""))
        place = (room, *((key, rule.scope.get(key, "")) for key in _PLACE if key != "room"))
        other = first.setdefault((rule.subject, rule.layer, place), rule)
        if plain_mark(other.choice) != plain_mark(rule.choice):
            yield Twice(other.choice, other, rule)


def plain_mark(mark: str) -> str:
    """A mark as marks are compared: `PT 1`, `PT-1` and `pt1` are one."""
    return "".join(filter(str.isalnum, mark.casefold()))
