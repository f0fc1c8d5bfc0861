"""How one line of the order was worked out, for the eye: each number with the clause or the measured row behind it.

Where a line rests on very many measured rows they are added up room by room, and unfolded on request.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from attrs import frozen
from rich.console import Console
from rich.text import Text

from darby.documents.needs import Need, Stretch, added, by_room
from darby.documents.open_points import counted
from darby.documents.terminal import rows
from darby.documents.terminal.parts import clause, heading, places, safe, says, stands_in, tell
from darby.documents.words import order_of
from darby.estimate.model import Estimate
from darby.estimate.working import Line, rules_behind, told, working
from darby.quantities.amounts import Amount
from darby.quantities.gc_pause import in_bulk
from darby.rules.rule import Rule

_NARROW = 90
_IN_FULL = 60
"""Lines of working up to which every measured row is shown."""
_ROOMS = 24
"""Rooms that are told one by one; the rest are added up once more."""


@in_bulk()
def show(need: Need, estimate: Estimate, console: Console, *, in_full: bool = False) -> None:
    """Print the longhand of one need; with `in_full` every measured row, however many there are."""
    console.print(Text(safe(need.name), style="bold"))
    console.print(Text(f"{safe(need.order())}; needed: {_needed(need, estimate.job.units)}"))
    console.print()
    narrow = console.width < _NARROW
    lines = working(need.worked, estimate.rules)
    folded = not in_full and len(lines) > _IN_FULL
    shown = list(_by_room(lines, estimate)) if folded else list(lines)
    table = [_row(line, narrow, "bold" if line is shown[-1] else "") for line in shown]
    table += [_cells("and", [(safe(order_of(item)), "bold")], "", narrow) for item in need.items[:-1]]
    rows.show(table, console)
    if folded and len(shown) < len(lines):
        console.print()
        tell(console, Text("Measured rows are added up by room; --rows shows each one.", style="dim"))
    _also_said(rules_behind(need.worked, estimate.rules), estimate.rules, console)
    for note in need.notes:
        console.print()
        tell(console, safe(note))


def _row(line: Line | _Rows, narrow: bool, style: str) -> rows.Row:
    if isinstance(line, _Rows):
        return _cells(safe(line.label), [(line.made, "")], line.where, narrow)
    where = places(o.place for o in line.origins)
    quoted = f"{clause(line.rule)}, {_layer(line.rule)}" if line.rule else ""
    below = [(text, "dim") for text in (where if narrow else "", quoted) if text]
    return _cells(safe(line.label), [(safe(line.made), style), *below], where, narrow, style)


def _cells(label: str, made: Iterable[tuple[str, str]], where: str, narrow: bool, style: str = "") -> rows.Row:
    return ((label, style),), tuple(made), *(() if narrow else (((where, "dim"),),))


@frozen(eq=False)
class _Rows:
    """Measured rows of one room, added up."""

    label: str
    many: int
    amount: Amount
    where: str = ""

    @property
    def made(self) -> str:
        return f"{counted(self.many, 'row')} = {told(self.amount)}"


def _by_room(lines: Sequence[Line], estimate: Estimate) -> Iterator[Line | _Rows]:
    """The lines with each run of measured rows put together: a line a room, and one for all rooms beyond the first few."""
    run: list[Stretch] = []
    for stretch in by_room(lines, estimate):
        if stretch.rows:
            run.append(stretch)
            continue
        yield from _added(run)
        run = []
        yield from stretch.lines
    yield from _added(run)


def _added(run: Sequence[Stretch]) -> Iterator[Line | _Rows]:
    found: dict[tuple[str, str], list[Line]] = {}
    for stretch in run:
        for line in stretch.rows:
            found.setdefault((stretch.room, line.amount.unit.name), []).append(line)
    rest: dict[str, list[list[Line]]] = {}
    for number, ((room, unit), some) in enumerate(found.items()):
        if number >= _ROOMS:
            rest.setdefault(unit, []).append(some)
            continue
        name = room or (f"{some[0].label} to {some[-1].label}" if len(some) > 1 else some[0].label)
        where = places(o.place for line in some for o in line.origins[:1]) if room else ""
        yield _rows(name, some, where)
    for rooms in rest.values():
        yield _rows(f"{len(rooms):,} more rooms", [line for some in rooms for line in some])


def _rows(name: str, lines: Sequence[Line], where: str = "") -> _Rows:
    amount = added(line.amount for line in lines)
    assert amount is not None
    return _Rows(name, len(lines), amount, where)


def _layer(rule: Rule) -> str:
    return rule.layer.name + (f", {safe(rule.cited)}" if rule.cited else "")


def _also_said(used: Sequence[Rule], rules: Iterable[Rule], console: Console) -> None:
    """Rules that hold where those that are used do, say something else and were overridden."""
    by_name: dict[tuple[object, str], list[Rule]] = {}
    for rule in rules:
        by_name.setdefault((rule.kind, rule.subject), []).append(rule)
    same = ((rule, winner) for winner in used for rule in by_name.get((winner.kind, winner.subject), ()))
    found = {rule.key: (rule, winner) for rule, winner in same if _holds_too(rule, winner)}
    for rule in used:
        found.pop(rule.key, None)
    if not found:
        return
    heading(console, "Also said, and not used")
    for rule, winner in found.values():
        text = f"{rule.subject} {rule.kind.name}: {says(rule)}"
        tell(console, Text.assemble(text, (f"  [{stands_in(rule)}]", "dim")), 2, hang=2)
        tell(console, Text(f"overridden by {says(winner)} [{stands_in(winner)}]", style="dim"), 4, hang=2)


def _holds_too(rule: Rule, winner: Rule) -> bool:
    if rule is winner or rule.layer > winner.layer:
        return False
    return rule.answer != winner.answer and all(winner.scope.get(key) == value for key, value in rule.scope.items())


def _needed(need: Need, system: str) -> str:
    """The need in the job's own units; where its rules are in others, also as it was worked out from them."""
    shown = need.needed(system)
    if need.mixed:
        return shown
    worked = str(need.first.need)
    return shown if shown == worked else f"{shown} ({worked} as worked out)"
