"""How one line of the estimate was worked out, for the eye: each number with the clause or the measured row behind it."""

from __future__ import annotations

from collections.abc import Iterable

from rich.console import Console
from rich.table import Table
from rich.text import Text

from darby.documents.terminal.parts import clause, heading, places, safe, says, stands_in, tell
from darby.documents.words import kind_of, need_of, order_of
from darby.estimate.line_item import LineItem
from darby.estimate.model import Estimate
from darby.estimate.working import rules_behind, working
from darby.rules.rule import Rule

_NARROW = 90


def show(item: LineItem, estimate: Estimate, console: Console) -> None:
    """Print the longhand of one line item."""
    kept = f", {kind_of(item)}" if item.pool else ""
    console.print(Text(f"{safe(item.product)}{kept}", style="bold"))
    console.print(Text(f"{safe(order_of(item))}; needed: {_need(item, estimate.job.units)}"))
    console.print()
    table = Table.grid(padding=(0, 2, 0, 0))
    narrow = console.width < _NARROW
    table.add_column(max_width=max(12, console.width // 3))
    table.add_column(ratio=None)
    if not narrow:
        table.add_column(style="dim", no_wrap=True)
    lines = working(item, estimate.rules)
    for number, line in enumerate(lines):
        last = "bold" if number == len(lines) - 1 else ""
        where = places(o.place for o in line.origins)
        made = Text(safe(line.made), style=last)
        quoted = f"{clause(line.rule)}, {_layer(line.rule)}" if line.rule else ""
        for below in (where if narrow else "", quoted):
            if below:
                made.append(f"\n{below}", style="dim")
        table.add_row(Text(safe(line.label), style=last), made, *([] if narrow else [Text(where)]))
    console.print(table)
    _also_said(item, estimate.rules, console)
    for note in item.notes:
        console.print()
        console.print(Text(safe(note)))


def _layer(rule: Rule) -> str:
    return rule.layer.name + (f", {safe(rule.cited)}" if rule.cited else "")


def _also_said(item: LineItem, rules: Iterable[Rule], console: Console) -> None:
    """Rules that hold here too, say something else and were beaten."""
    rules = tuple(rules)
    used = rules_behind(item, rules)
    found = {rule.key: (rule, winner) for winner in used for rule in rules if _holds_too(rule, winner)}
    for rule in used:
        found.pop(rule.key, None)
    if not found:
        return
    heading(console, "Also said, and not used")
    for rule, winner in found.values():
        text = f"{rule.subject} {rule.kind.name}: {says(rule)}"
        tell(console, Text.assemble(text, (f"  [{stands_in(rule)}]", "dim")), 2, hang=2)
        tell(console, Text(f"gives way to {says(winner)} [{stands_in(winner)}]", style="dim"), 4, hang=2)


def _holds_too(rule: Rule, winner: Rule) -> bool:
    if rule is winner or rule.kind is not winner.kind or rule.subject != winner.subject or rule.layer > winner.layer:
        return False
    return rule.answer != winner.answer and all(winner.scope.get(key) == value for key, value in rule.scope.items())


def _need(item: LineItem, system: str) -> str:
    """The need in the job's own units; where its rules are in others, also as it was worked out from them."""
    told, worked = need_of(item, system), str(item.need)
    return told if told == worked else f"{told} ({worked} as worked out)"
