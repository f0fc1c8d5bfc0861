"""Facts of the documents that no trade had a use for: told, since what was read and not used may have been meant for something here."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from functools import cache

from darby.estimate.open_points import quoted
from darby.job.model import Job
from darby.plugin_host.trade_runner import Run
from darby.reading.binding.in_place import IN_PLACE, OMITTED
from darby.rules.room_names import OWN, Rooms
from darby.rules.rule import DEFAULT, HOUSE, Rule
from darby.rules.systems import GIVEN
from darby.text.diagnostics import Diagnostic, Label, Severity, problem
from darby.text.spans import Span

_FACING = "facing"
_ROOMS = 3
"""Rooms that are named where one thing is said of several; of more, how many."""


def unused(rules: Iterable[Rule], runs: Iterable[Run], left_out: Collection[str], job: Job) -> Iterator[Diagnostic]:
    """Facts of the specification, the addenda and the job's own lines that no trade had a use for, each once with all its rooms and
    places; but for those of goods whose trades are left out, which is told by itself.

    What is said of several rooms together may be of use in one and not in another, which the job may call otherwise.
    """

    def said(rule: Rule) -> tuple[Span, str]:
        return rule.span, rule.scope.get("room", "")

    heard = [rule for run in runs for rule in run.consultation.heard]
    told = {said(rule) for rule in heard}
    by_wall: dict[str, list[Rule]] = {}
    rooms = Rooms.of(job.places)
    meant = cache(lambda room: tuple(one.name for one in job.places if rooms.meant(room, one.name) == OWN))
    joined = {span for rule in heard if rule.assigned is not None for span in (rule.span, rule.assigned)}
    same: dict[tuple[str, ...], list[Rule]] = {}
    for rule in rules:
        if (
            rule.layer in (DEFAULT, HOUSE)
            or said(rule) in told
            or rule.assigned is not None
            or rule.subject in left_out
        ):
            continue
        if GIVEN in rule.scope:  # the job's own; where no document defines it, that is asked
            continue
        if rule.span in joined and ("mark" in rule.scope or rule.kind.assigns):
            continue
        told.add(said(rule))
        if _FACING in rule.scope and (names := meant(rule.scope.get("room", ""))):
            for name in names:
                by_wall.setdefault(name, []).append(rule)
            continue
        same.setdefault(_but_for_the_room(rule), []).append(rule)
    yield from map(_idle, same.values())
    measured = {name for rule in heard if _FACING in rule.scope for name in meant(rule.scope.get("room", ""))}
    yield from (_untold(name, walls) for name, walls in by_wall.items() if name not in measured)


def _but_for_the_room(rule: Rule) -> tuple[str, ...]:
    """What a fact says, and of what, whichever room it is said of, if of any, and wherever it stands."""
    of = (rule.scope.get(key, "") for key in ("surface", "where", "mark"))
    return (quoted(rule).casefold(), rule.kind.name, rule.subject, rule.says(), str("room" in rule.scope), *of)


def _idle(rules: Sequence[Rule]) -> Diagnostic:
    """One fact that no trade used, in all its rooms."""
    rule, scope = rules[0], rules[0].scope
    rooms = dict.fromkeys(one.scope["room"] for one in rules if "room" in one.scope)
    where = f" on the {scope['surface']}" if "surface" in scope else ""
    where += f" in the {_listed(list(rooms))}" if rooms else ""
    where += f", {scope['where']}" if "where" in scope else ""
    where += f", of {scope['mark']}" if "mark" in scope else ""
    if rule.kind.name == IN_PLACE:
        does = "leaves out" if rule.choice == OMITTED else "stands in place of"
        said = f"No trade used {quoted(rule)}, which {does} {rule.subject}{where}."
    else:
        said = (
            f"No trade used {quoted(rule)}, which was read as {rule.kind.name} of {rule.subject}{where}: {rule.says()}."
        )
    places = dict.fromkeys(one.span for one in rules)
    return problem(
        "rule-unused",
        said,
        rule.span,
        severity=Severity.NOTE,
        help="Nothing to do if this job has none of it; else check how it is worded, or which trades are loaded.",
        more=map(Label, list(places)[1:]),
    )


def _listed(names: Sequence[str]) -> str:
    """Some names, of many the first few and how many more: `lobby, passage, kitchen and 9 more`."""
    if len(names) > _ROOMS + 1:
        return f"{', '.join(names[:_ROOMS])} and {len(names) - _ROOMS:,} more"
    return " and ".join(filter(None, (", ".join(names[:-1]), names[-1])))


def _untold(room: str, rules: Sequence[Rule]) -> Diagnostic:
    """Walls of a room that documents tell apart by where they face, and the job does not."""
    walls = dict.fromkeys(f"{rule.scope[_FACING]} {rule.says()}" for rule in rules)
    return problem(
        "walls-untold",
        f"The documents tell the walls of {room} apart by where they face ({', '.join(walls)}), and the job has no walls of it by these words. "
        "They are ordered by what is said of all walls there.",
        rules[0].span,
        severity=Severity.QUESTION,
        help=f'Measure its walls one by one, each with its room and its side: name = "{room} {rules[0].scope[_FACING]} wall".',
    )
