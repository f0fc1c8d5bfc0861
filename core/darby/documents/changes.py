"""What differs between two estimates, in words: a rule with its clause, a measured row, why a line moved."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from typing import Any

from darby.documents.words import one_line, place
from darby.quantities.numerals import rounded
from darby.quantities.plurals import plural, plural_of
from darby.quantities.units import UNITS
from darby.rules.rule import Rule
from darby.saved.comparison import Cause, Change, Comparison, Moved, RowChange, UnitsChange
from darby.saved.model import Line, Measure
from darby.saved.row_mixture import Row, differing


def measure(value: Measure) -> str:
    """A measure for the eye: `64 lb`, `2.67 gal`, of a plugin's own `2 squares`; a count stands alone."""
    number, unit = rounded(value.value), UNITS.get(value.unit)
    said = value.unit if unit is None or abs(value.value) == 1 else plural_of(unit)
    return number if value.unit == "each" else one_line(f"{number} {said}")


def order(line: Line | None) -> str:
    """`12 pails of 64 lb`; `nothing` where the line is not there."""
    if line is None:
        return "nothing"
    if line.count is None:
        return "package not known"
    if not line.container:
        return f"{line.count:,} each"
    content = "" if line.package is None else f" of {measure(line.package)}"
    return one_line(packages(line.count, line.container) + content)


def packages(count: int, container: str) -> str:
    """`3 pails`, `1 box`."""
    noun = container
    if container and abs(count) != 1:
        unit = UNITS.get(container)  # a plugin that is not here any more took its own along
        noun = plural_of(unit) if unit is not None else plural(container)
    return f"{count:,} {noun}".rstrip()


def more(count: int | None, container: str) -> str:
    """`+3 pails`, `-1 pail`; nothing where it cannot be said."""
    return "" if count is None else one_line(("+" if count > 0 else "") + packages(count, container))


def change_of(moved: Moved) -> str:
    """By how much a line moved: packages where the order did, else the need."""
    if moved.before is None:
        return "new"
    if moved.after is None:
        return "gone"
    if moved.ordered:
        return more(moved.packages, moved.line.container) or "other packages"
    if moved.before.need.unit != moved.after.need.unit:
        return "need in another unit"
    difference = moved.after.need.value - moved.before.need.value
    sign = "+" if difference > 0 else ""
    return f"need {sign}{measure(Measure(difference, moved.after.need.unit))}"


def percent(share: Fraction | None) -> str:
    """`+8 %`; nothing where there is no telling."""
    return "" if share is None else f"{'+' if share > 0 else ''}{rounded(share * 100)} %"


def name_of(line: Line) -> str:
    """Product, and what tells it from others of its name."""
    return one_line(", ".join((line.product, *(v for _, v in line.pool))))


def says(rule: Rule) -> str:
    """What a rule says, with what describes it: `250 sq ft per gal`, `2 (satin)`."""
    told = ", ".join(v for k, v in rule.scope.items() if k not in ("surface", "room", "name"))
    said = rule.says().replace(" per 1 ", " per ")
    return one_line(f"{said} ({told})" if told else said)


def about(rule: Rule) -> str:
    """What a rule is of: `coverage of varnish (wall)`."""
    where = ", ".join(rule.scope[k] for k in ("name", "room", "surface") if k in rule.scope)
    return one_line(f"{rule.kind.name} of {rule.subject}" + (f" ({where})" if where else ""))


def clause(rule: Rule | None) -> str:
    """The words of a rule and where they stand: `house.txt, line 4: “13 lb per 100 sq ft”`."""
    if rule is None:
        return ""
    words = one_line(rule.span.text)
    cut = words if len(words) <= 120 else words[:119].rstrip() + "…"
    return f"{place(rule.span)}: “{cut}”"


def told(change: Change) -> str:
    """A change in one line: `consumption of joint filler 13 to 15 lb per 100 sq ft, house.txt, line 4`."""
    if isinstance(change, UnitsChange):
        return f"units of the job {change.before} to {change.after}"
    if isinstance(change, RowChange):
        return _row(change)
    old, new = change.before, change.after
    rule = new or old
    assert rule is not None
    if old is None:
        return f"new: {about(rule)} {says(rule)}, {place(rule.span)}"
    if new is None:
        return f"no longer said: {about(rule)} {says(rule)}, {place(rule.span)} before"
    if says(old) == says(new):
        return f"{about(new)} {says(new)}, {place(new.span)}; it was {about(old)}, {place(old.span)}"
    return f"{about(new)} {_from_to(old, new)}, {place(new.span)}"


def _from_to(old: Rule, new: Rule) -> str:
    """`13 to 15 lb per 100 sq ft` where both are in one measure."""
    one, other = says(old), says(new)
    a, b = old.amount, new.amount
    if a.unit is b.unit and old.upper is None and new.upper is None and old.by is None and new.by is None:
        first = rounded(a.value)
        if one.startswith(first) and one.removeprefix(first) == other.removeprefix(rounded(b.value)):
            return f"{first} to {other}"
    return f"{one} to {other}"


def _row(change: RowChange) -> str:
    old, new = change.before, change.after
    row = new or old
    assert row is not None
    if old is None:
        return f"new: {_values(row)}, {place(row.span)}"
    if new is None:
        return f"gone: {_values(row)}, {place(row.span)} before"
    parts = [f"{k} {_value(a)} to {_value(b)}" for k, (a, b) in differing(old, new).items()]
    where, was = place(row.span), place(old.span)
    if was != where:
        where += f" ({old.span.where if old.source.name == row.source.name else was} before)"
    return one_line(f"{row.what}: {', '.join(parts)}, {where}")


def _values(row: Row) -> str:
    parts = (f"{key} {_value(value)}" for key, value in row.data if key not in ("name",))
    return one_line(f"{row.what} ({', '.join(parts)})")


def _value(value: Any) -> str:
    return "nothing" if value is None else str(value)


def cause(one: Cause, moved: Moved) -> str:
    """Why a line moved, in one sentence without its stop, and what that does by itself: `... house.txt, line 4 (+3 pails)`."""
    if one.why:
        return one_line(one.why)
    if len(one.changes) > 3:
        some = "; ".join(told(c) for c in one.changes[:2])
        return f"{len(one.changes)} changes together, among them {some}"
    text = " together with ".join(told(c) for c in one.changes)
    if len(one.changes) > 1 or one.alone is None:
        return text
    if moved.ordered and not one.alone.ordered:
        return f"{text} (only together with the others)"
    return f"{text} ({change_of(one.alone)})"


def plugins(comparison: Comparison) -> Iterable[str]:
    """Plugins that are not the same, a sentence each."""
    for change in comparison.plugins:
        if change.before is None:
            yield f"The plugin {change.name} {change.after} is new."
        elif change.after is None:
            yield f"The plugin {change.name} {change.before} is no longer there."
        else:
            yield f"The plugin {change.name} was {change.before} and is {change.after}."
