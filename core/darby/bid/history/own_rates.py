"""A firm's own rates from its finished jobs: of each thing one figure a job, their median and spread, and the line that would say so.

The median is not moved by a job that went wrong. Jobs far from the others are named and counted all the same: far is beyond one and a half
times the middle half on either side of it (Tukey's fences, Exploratory Data Analysis, 1977), and of fewer than five jobs none is.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from fractions import Fraction
from statistics import median, quantiles

from attrs import evolve, frozen

from darby.bid.history.finished_jobs import JobRow, by_job
from darby.documents.words import one_line
from darby.labor.rate_lines import read_rates
from darby.labor.task import Operation
from darby.quantities.amounts import Amount, total
from darby.quantities.plurals import plural
from darby.quantities.units import AREA, UnitError
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.read import Language, read
from darby.rules.rule import HOUSE, Scope
from darby.text.diagnostics import is_error
from darby.text.spans import Source

WASTE = "% waste"
LEAST = 3
"""Jobs of which a line is proposed."""
_FENCED = 5
_DIGITS = 3
"""Digits of a figure that is proposed; no job measures finer."""
_BEFORE = frozenset({"type", "sheen", "class", "color"})
"""What stands beside the name of goods and not behind the figure."""


@frozen(eq=False)
class JobFigure:
    """What one job came to."""

    job: str
    value: Fraction
    rows: tuple[JobRow, ...]


@frozen(eq=False)
class OwnRate:
    """What all jobs together say of one thing."""

    name: str
    works: bool
    """Whether it is work: its line is a production rate, else one of the house."""
    about: Scope
    form: str
    """What the figures are: `hours per 100 sq ft`, `lb per 100 sq ft`, `sq ft per gal`, `% waste`."""
    figures: tuple[JobFigure, ...]
    """By job, the least first."""
    scale: Fraction = Fraction(1)
    """What a figure in base units is multiplied by to be told so."""
    line: str = ""
    """The line that is proposed; nothing where none is."""
    why_not: str = ""
    """Why none is, in a sentence."""
    left: Fraction | None = None
    """The median part of what was ordered that was left over; None where no job tells."""
    left_out: tuple[JobRow, ...] = ()
    """Rows that do not count, since somebody says so."""

    @property
    def jobs(self) -> int:
        """How many jobs."""
        return len(self.figures)

    @property
    def median(self) -> Fraction:
        """The figure in the middle."""
        return median(one.value for one in self.figures)

    @property
    def middle(self) -> tuple[Fraction, Fraction] | None:
        """Between which the middle half of the jobs lies; None of fewer than four."""
        if self.jobs < 4:
            return None
        low, _, high = quantiles([one.value for one in self.figures], n=4, method="inclusive")
        return Fraction(low), Fraction(high)

    @property
    def far(self) -> tuple[JobFigure, ...]:
        """Jobs far from the others."""
        middle = self.middle
        if middle is None or self.jobs < _FENCED:
            return ()
        reach = (middle[1] - middle[0]) * 3 / 2
        return tuple(one for one in self.figures if not middle[0] - reach <= one.value <= middle[1] + reach)


def own_rates(
    rows: Iterable[JobRow], operations: Mapping[str, Operation], lexicon: Lexicon, language: Language
) -> tuple[OwnRate, ...]:
    """One rate for each thing under the same conditions, by name: goods before work."""
    found: dict[tuple[bool, str, Scope], list[JobRow]] = {}
    for row in rows:
        found.setdefault((row.works, row.name, row.about), []).append(row)
    keys = sorted(found, key=lambda key: (key[0], key[1], tuple(key[2].items())))
    return tuple(_rate(found[key], operations, lexicon, language) for key in keys)


def _rate(rows: Sequence[JobRow], operations: Mapping[str, Operation], lexicon: Lexicon, language: Language) -> OwnRate:
    first = rows[0]
    counted = [row for row in rows if not row.left_out]
    kinds = language.lexicon.kinds.get(first.name, frozenset())
    alike = [row for row in counted if _measures(row) == _measures(counted[0])]
    form, scale, turned = _form(alike[0], kinds) if alike else ("", Fraction(1), False)
    figures = []
    for some in by_job(alike).values():
        measured, spent = total(row.measured for row in some), total(row.spent for row in some)
        if form == WASTE:
            value = (spent - measured).size / measured.size * 100
        else:
            over = sum((row.measured.size * row.coats for row in some), Fraction(0))
            value = (over / spent.size if turned else spent.size / over) * scale
        figures.append(JobFigure(some[0].job, value, tuple(some)))
    figures.sort(key=lambda one: (one.value, one.job))
    made = OwnRate(
        first.name, first.works, first.about, form, tuple(figures), scale, left=_left(alike),
        left_out=tuple(row for row in rows if row.left_out),
    )  # fmt: skip
    return _proposed(made, len(counted) - len(alike), operations, lexicon, language)


def _measures(row: JobRow) -> tuple[object, object]:
    return row.measured.unit.dimension, row.spent.unit.dimension


def _form(row: JobRow, kinds: frozenset[str]) -> tuple[str, Fraction, bool]:
    """What figures are told in, what a figure in plain units is multiplied by for it, and whether it is so much measured for one used."""
    measured, spent = row.measured.unit, row.spent.unit
    if not row.works and measured.dimension == spent.dimension and "waste" in kinds:
        return WASTE, Fraction(100), False
    if not row.works and "coverage" in kinds and measured.dimension == AREA:
        return f"{measured.name} per {spent.name}", spent.factor / measured.factor, True
    told = plural(spent.name) if row.works else spent.name if spent.dimension else ""
    if not measured.dimension:
        return f"{told} each".strip(), 1 / spent.factor, False
    many = 100 if measured.system == "us" else 1
    per = f"per {many} {measured.name}" if many > 1 else f"per {measured.name}"
    return f"{told} {per}".strip(), measured.factor * many / spent.factor, False


def _proposed(
    made: OwnRate, strange: int, operations: Mapping[str, Operation], lexicon: Lexicon, language: Language
) -> OwnRate:
    """With its line, read back by the same reader that reads the firm's lines; or why there is none."""
    if strange:
        return evolve(made, why_not=f"{strange} rows are in another measure than the first; give all of them in one.")
    if made.jobs < LEAST:
        return evolve(made, why_not=f"{LEAST} jobs are wanted for a line of one's own, and there are {made.jobs}.")
    said = figure(made.median)
    if made.form == WASTE and made.median < 0:
        return evolve(made, why_not="More was measured than was used: look at the rows.")
    line = f"{_called(made)}: {said} {made.form}{_limits(made)}."
    if made.form == WASTE:
        line = f"{made.name.capitalize()} waste{_limits(made)}: {said} %."
    source = Source("proposed line", line)
    right = _worked(source, made, operations, lexicon) if made.works else _ordered(source, made, language)
    if not right:
        return evolve(made, why_not=f"“{one_line(line)}” is not understood as a line of the firm's own.")
    return evolve(made, line=f"{line} [{cited(made)}]")


def _called(made: OwnRate) -> str:
    return ", ".join(
        (made.name.capitalize(), *(value for key, value in made.about.items() if key in _BEFORE and not made.works))
    )


def _limits(made: OwnRate) -> str:
    """The conditions behind a figure, as the lines of the firm have them."""
    before = () if made.works else _BEFORE
    parts = [f" on {plural(value)}" for key, value in made.about.items() if key == "surface"]
    parts += [f" by {value}" for key, value in made.about.items() if key == "method"]
    rest = [(key, value) for key, value in made.about.items() if key not in ("surface", "method", *before)]
    return "".join(parts) + "".join(f", {key} {value}" if value.isdigit() else f", {value}" for key, value in rest)


def _worked(source: Source, made: OwnRate, operations: Mapping[str, Operation], lexicon: Lexicon) -> bool:
    rates, told = read_rates(source, operations, lexicon)
    if told or len(rates) != 1:
        return False
    (rate,) = rates
    same = {key: _plain(value) for key, value in rate.conditions.items()} == {
        k: _plain(v) for k, v in made.about.items()
    }
    return rate.operation == made.name and same and rate.rate.size == _size(made)


def _ordered(source: Source, made: OwnRate, language: Language) -> bool:
    reading = read(source, HOUSE, language, strict=True)
    if is_error(reading.diagnostics) or len(reading.rules) != 1:
        return False
    (rule,) = reading.rules
    said = rule.rate if rule.per is not None else rule.amount
    same = {key: _plain(value) for key, value in rule.scope.items()} == {k: _plain(v) for k, v in made.about.items()}
    return rule.subject == made.name and same and said.size == _size(made)


def _size(made: OwnRate) -> Fraction:
    """The size of the figure that is proposed, in base units, as the reader must find it again."""
    return shortened(made.median) / made.scale


def _plain(text: str) -> str:
    try:
        return str(Amount.read(text).size)
    except UnitError:
        return " ".join(text.casefold().split())


def cited(made: OwnRate) -> str:
    """What a line of one's own rests on, as it stands behind it."""
    days = sorted(row.finished for one in made.figures for row in one.rows if row.finished is not None)
    when = f", {days[0].isoformat()} to {days[-1].isoformat()}" if days else ""
    return f"median of our {made.jobs} finished jobs{when}"


def shortened(value: Fraction) -> Fraction:
    """A figure rounded half up to as many digits as it is worth."""
    if not value:
        return value
    power = 0
    while abs(value) * Fraction(10) ** power < 10 ** (_DIGITS - 1):
        power += 1
    step = Fraction(10) ** power
    while abs(value) * step >= 10**_DIGITS:
        step /= 10
    doubled = abs(value) * step * 2 + 1
    whole = doubled.numerator // (doubled.denominator * 2)
    return Fraction(whole if value > 0 else -whole) / step


def figure(value: Fraction) -> str:
    """A figure for the eye and for a line: `13.1`, `1,020`, `0.064`."""
    short = shortened(value)
    if short.denominator == 1:
        return f"{short.numerator:,}"
    places = next(n for n in range(1, 40) if (short * 10**n).denominator == 1)
    return f"{Decimal(int(short * 10**places)).scaleb(-places):,.{places}f}"


def _left(rows: Iterable[JobRow]) -> Fraction | None:
    parts = [
        (row.ordered.size - row.spent.size) / row.ordered.size
        for row in rows
        if row.ordered is not None and row.ordered.unit.dimension == row.spent.unit.dimension
    ]
    return median(parts) if parts else None
