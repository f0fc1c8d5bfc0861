"""Plain lines of production rates, read strictly: what is not understood is an error with a place, never a guess.

`Lay underlay: 1.8 hours per 100 sq ft on walls above 10 ft. [our jobs]` is an operation that a trade declares, a rate, what limits
it, and a source. `60 sq ft per hour` says a rate the other way round. Words are those of the documents, and those of labor.toml.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from itertools import product

from attrs import evolve, frozen

from darby.job.rows.sheet import shown
from darby.labor.task import Operation
from darby.quantities.amounts import Amount, Origin
from darby.quantities.units import EACH, LENGTH, Dimension, Unit
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.parsing.tagging.tag import Tag
from darby.reading.parsing.vocabulary import Vocabulary
from darby.rules.rule import Scope
from darby.text.diagnostics import Diagnostic, problem
from darby.text.files import nearest
from darby.text.spans import Source, Span

HOUR = Unit("hour", (("hour", 1),), Fraction(1))
"""The unit of labor. It stands in no table of units: no document orders hours."""
_CITED = re.compile(r"\s{0,8}\[(?P<cited>[^\[\]]{0,300})\]\s*$")
_UNITS = frozenset("LENGTH_UNIT AREA_UNIT VOLUME_UNIT MASS_UNIT".split())
_SILENT = frozenset("COMMA STOP SEMICOLON FILLING PLACE EACH_COAT A_COAT BY THICK HIGH AND".split())
_FROM, _UPTO = "LARGER_THAN", frozenset({"AT_MOST", "SMALLER_THAN", "BANDED"})
_HOW = 'Write it as "Operation: 1.8 hours per 100 sq ft on walls above 10 ft. [source]".'


@frozen(eq=False)
class RateLine:
    """How long one operation takes, under which conditions, and who says so."""

    operation: str
    rate: Amount
    """Hours for one of what it is told over."""
    conditions: Scope
    span: Span
    text: str
    cited: str = ""
    low: Amount | None = None
    """The band of heights that it is for begins here; None where it begins at the floor."""
    high: Amount | None = None
    """And ends here; None where it has no end."""
    rank: int = 0
    """0 for a line of a file; a line of the job itself beats it, and is beaten by one of a way of doing the work."""

    @property
    def per(self) -> Dimension:
        """The dimension that it is told over."""
        return _under(self.rate)

    @property
    def banded(self) -> bool:
        """Whether it is for a band of heights."""
        return self.low is not None or self.high is not None

    @property
    def weight(self) -> tuple[int, int]:
        """Whose line it is, and then how many things limit it: of the rates that fit, the weightiest holds."""
        return self.rank, len(self.conditions) + self.banded


class _Refused(Exception):  # noqa: N818 - it is no fault of ours: a line says what nobody understands
    """Why a line is not understood, and the stretch of it that is not."""

    def __init__(self, why: str, start: int, end: int) -> None:
        super().__init__(why)
        self.start, self.end = start, end


def vocabulary() -> Vocabulary:
    """The words of production rates."""
    return Vocabulary("labor", Source.shipped("darby.labor", "labor.toml"))


def plain_name(text: str, lexicon: Lexicon) -> str:
    """The name of an operation with the goods in it called as orders call them, so that either spelling names it."""
    out, at = [], 0
    for tag in lexicon.tags(text):
        if tag.name == "subject":
            out += [text[at : tag.start], tag.value]
            at = tag.end
    return " ".join("".join([*out, text[at:]]).casefold().split())


def read_rates(
    source: Source, operations: Mapping[str, Operation], lexicon: Lexicon
) -> tuple[tuple[RateLine, ...], tuple[Diagnostic, ...]]:
    """The rates of a file, a line each; lines that begin with # are remarks. `operations` by their name.

    A line that is not understood in full is an error, and so is one for an operation that no trade has.
    """
    return _all_of(((source, start, line) for start, line in _lines(source.text)), operations, lexicon)


def read_said_rates(
    said: Iterable[tuple[str, Span]], operations: Mapping[str, Operation], lexicon: Lexicon, rank: int
) -> tuple[tuple[RateLine, ...], tuple[Diagnostic, ...]]:
    """The rates that a job file has in quotes, each with its place, as `read_rates`; `rank` as `RateLine.rank`."""
    placed = []
    for text, span in said:
        line = text.strip()
        start = span.source.text.find(line, span.start, span.end)
        placed.append((span.source, start, line) if start >= 0 else (Source(str(span), line), 0, line))
    rates, found = _all_of(placed, operations, lexicon)
    return tuple(evolve(rate, rank=rank) for rate in rates), found


def _all_of(
    lines: Iterable[tuple[Source, int, str]], operations: Mapping[str, Operation], lexicon: Lexicon
) -> tuple[tuple[RateLine, ...], tuple[Diagnostic, ...]]:
    named = {plain_name(name, lexicon): operation for name, operation in operations.items()}
    rates: list[RateLine] = []
    found: list[Diagnostic] = []
    for source, start, line in lines:
        try:
            rates += _read(source, start, line, named, lexicon)
        except _Refused as refused:
            first = max(min(refused.start, len(line) - 1), 0)
            at = source.span(start + first, start + max(refused.end, first + 1))
            found.append(problem("labor-line", str(refused), at, help=_help(line, operations)))
    return tuple(rates), tuple(found)


def _lines(text: str) -> Iterator[tuple[int, str]]:
    at = 0
    for whole in text.splitlines(keepends=True):
        line = whole.strip("\ufeff \t\r\n")
        if line and not line.startswith("#"):
            yield at + whole.index(line), line
        at += len(whole)


def _help(line: str, operations: Mapping[str, Operation]) -> str:
    label = line.partition(":")[0].strip()
    if label.casefold() in operations:
        return _HOW
    near = nearest(label, operations)
    return (f"Did you mean {near}? " if near else "") + f"A line begins with one of: {'; '.join(sorted(operations))}."


def _read(
    source: Source, start: int, line: str, named: Mapping[str, Operation], lexicon: Lexicon
) -> Iterator[RateLine]:
    """The rates of one line: one, or one for each of several surfaces."""
    cited = _CITED.search(line)
    text = (line[: cited.start()] if cited else line).rstrip()
    label, _, said = text.partition(":")
    operation = named.get(plain_name(label.strip(), lexicon))
    if operation is None:
        raise _Refused(f"no trade has an operation {shown(label)}", 0, len(label))
    begin = len(label) + 1
    tags = lexicon.tags(said)
    for at, word in lexicon.strangers(tags, said):
        raise _Refused(f"the word {shown(word)} is not understood here", begin + at, begin + at + len(word))
    hours, per, unit, rest = _rate(tags, begin, len(text))
    limits = _limits(rest, operation, said, begin)
    span = source.span(start, start + len(text))
    source_said = cited["cited"].strip() if cited else ""
    origin = Origin(str(span), text, span, "labor" + (f", {source_said}" if source_said else ""))
    rate = Amount.of(hours, HOUR, origin) / Amount.of(per, unit, origin)
    if _under(rate) not in operation.per:
        raise _Refused(f"{operation.name} is not measured in {unit.name}", begin, len(text))
    low, high = limits.low, limits.high
    for values in product(*limits.conditions.values()):
        conditions = Scope(dict(zip(limits.conditions, values, strict=True)))
        yield RateLine(
            operation.name, rate.named(f"{operation.name}, rate"), conditions, span, text, source_said, low, high
        )


def _under(rate: Amount) -> Dimension:
    return tuple((name, -power) for name, power in rate.unit.dimension if name != "hour")


def _rate(tags: Sequence[Tag], begin: int, end: int) -> tuple[Fraction, Fraction, Unit, Sequence[Tag]]:
    """Hours, for how much, and the tags behind it."""
    names = [tag.name for tag in tags[:5]] + [""] * 5
    first, second = (tags[n].number if n < len(tags) else None for n in (0, 3))
    unit = next((tag.unit for tag in tags[1:5] if tag.name in _UNITS and tag.unit is not None), EACH)
    if names[0] == "NUMBER" and first is not None and first > 0:
        if names[1] == "HOUR" and names[2] == "EACH":
            return first, Fraction(1), EACH, tags[3:]
        if names[1:3] == ["HOUR", "PER"]:
            if names[3] == "NUMBER" and second and (names[4] in _UNITS):
                return first, second, unit, tags[5:]
            if names[3] in _UNITS:
                return first, Fraction(1), unit, tags[4:]
            if names[3] in ("surface", "EACH", "PIECES"):
                return first, Fraction(1), EACH, tags[3 + (names[3] != "surface") :]
        if names[1] in _UNITS and names[2] == "PER_HOUR":
            return Fraction(1), first, unit, tags[3:]
        if names[1] in _UNITS and names[2:4] == ["PER", "HOUR"]:  # `an hour`, `/hr`
            return Fraction(1), first, unit, tags[4:]
    at = tags[0].start if tags else 0
    raise _Refused("a rate is wanted here: so many hours per so much, or each", begin + at, end)


@frozen(eq=False)
class _Limits:
    conditions: Mapping[str, Sequence[str]]
    low: Amount | None
    high: Amount | None


def _limits(tags: Sequence[Tag], operation: Operation, said: str, begin: int) -> _Limits:
    """What limits a rate. Raises _Refused for a tag that limits nothing that the operation is told apart by."""
    conditions: dict[str, list[str]] = {}
    low = high = None
    at = 0
    while at < len(tags):
        tag, key, end, value = tags[at], "", at + 1, ""
        if tag.name in _SILENT:
            at = end
            continue
        if tag.name == _FROM or tag.name in _UPTO:
            length, end = _length(tags, at + 1)
            key = "height" if length is not None else ""
            low, high = (length, high) if tag.name == _FROM else (low, length)
        elif _follows(tags, at, "LEVEL", "NUMBER"):
            key, end, value = "level", at + 2, str(tags[at + 1].number)
        elif _follows(tags, at, "NUMBER", "RANGE") or _follows(tags, at, "NUMBER", "DASH"):
            high, end = _length(tags, at + 2)
            key = "height" if high is not None else ""
            low = Amount.of(tag.number or 0, high.unit) if high is not None else None
        elif (band := _band(tags, at)) is not None:
            key, (low, high, end) = "height", band
        elif (found := _length(tags, at))[0] is not None:
            key, end, value = "thickness", found[1], found[0].exact() if found[0] else ""
        elif tag.name.islower() and tag.name != "subject":
            key, value = tag.name, tag.value
        if key not in operation.by:
            word = said[tag.start : tags[end - 1].end]
            why = f"{operation.name} is not told apart by {key}" if key else f"{shown(word)} is not understood here"
            raise _Refused(why, begin + tag.start, begin + tag.start + len(word))
        if value:
            conditions.setdefault(key, []).append(value)
        at = end
    return _Limits(conditions, low, high)


def _follows(tags: Sequence[Tag], at: int, *names: str) -> bool:
    return [tag.name for tag in tags[at : at + len(names)]] == list(names)


def _band(tags: Sequence[Tag], at: int) -> tuple[Amount, Amount, int] | None:
    """Two lengths of which the second is the end of a band, and the place behind them; None where there is none."""
    low, end = _length(tags, at)
    if low is None or end >= len(tags) or tags[end].name not in ("RANGE", "DASH", "AND"):
        return None
    high, end = _length(tags, end + 1)
    return None if high is None else (low, high, end)


def _length(tags: Sequence[Tag], at: int) -> tuple[Amount | None, int]:
    """The length that is spelled at a place, and the place behind it."""
    if at < len(tags) and tags[at].name == "FEET_INCHES" and tags[at].number is not None:
        return Amount.of(tags[at].number or 0, "ft"), at + 1
    if at + 1 < len(tags) and tags[at].name == "NUMBER" and tags[at].number is not None:
        unit = tags[at + 1].unit
        if tags[at + 1].name == "LENGTH_UNIT" and unit is not None and unit.dimension == LENGTH:
            return Amount.of(tags[at].number or 0, unit), at + 2
    return None, at
