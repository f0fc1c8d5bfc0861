"""Finished jobs, as a table tells them: a row for each thing of a job, with how much was measured, ordered and used, or how long it took.

The first line names the columns: `job`, `product`, `measured`, and of the others what there is: `finished` (a date), `ordered`, `used`,
`package` (where these two count packages), `coats`, `hours`, `leave out` (why a row does not count), `note`. Under `product` stand goods,
with what was used, or an operation, with its hours. Any further column says what they were: surface, level, thickness, method.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from fractions import Fraction

from attrs import frozen

from darby.bid.prices.meaning import Meanings
from darby.bid.prices.table import GoodsTable, Said
from darby.job.rows.sheet import shown
from darby.labor.rate_lines import HOUR, plain_name
from darby.labor.task import Operation
from darby.quantities.amounts import Amount
from darby.quantities.numerals import value_of
from darby.quantities.units import UnitError
from darby.reading.parsing.lexicon import Lexicon
from darby.rules.rule import Scope
from darby.text.diagnostics import Diagnostic
from darby.text.files import nearest
from darby.text.spans import Source, Span

NEEDED = ("job", "product", "measured")
OWN = (*NEEDED, *"finished ordered used package coats hours leave_out note".split())


@frozen(eq=False)
class JobRow:
    """One thing of one finished job."""

    job: str
    name: str
    """The goods as orders call them, or the operation."""
    works: bool
    """Whether it is work, and `spent` are hours."""
    about: Scope
    measured: Amount
    spent: Amount
    """What was used, or the hours it took."""
    coats: Fraction
    ordered: Amount | None
    span: Span
    finished: date | None = None
    left_out: str = ""
    """Why it does not count; nothing where it does."""


def read_finished(
    sources: Iterable[Source], meanings: Meanings, operations: Mapping[str, Operation], lexicon: Lexicon
) -> tuple[tuple[JobRow, ...], tuple[Diagnostic, ...]]:
    """The rows of all files, and what is wrong with them. `lexicon` has the words of production rates besides all others."""
    rows: list[JobRow] = []
    found: list[Diagnostic] = []
    named = {plain_name(name, lexicon): operation for name, operation in operations.items()}
    for source in sources:
        reader = _Reader(source, meanings, named, lexicon)
        rows += reader.read()
        found += reader.told()
    return tuple(rows), tuple(found)


class _Reader(GoodsTable):
    def __init__(
        self, source: Source, meanings: Meanings, operations: Mapping[str, Operation], lexicon: Lexicon
    ) -> None:
        super().__init__(source, meanings, "history-row")
        self.operations = operations
        self.lexicon = lexicon

    def read(self) -> list[JobRow]:
        return [row for said, span in self.rows_with(NEEDED) if (row := self._row(said, span)) is not None]

    def _row(self, said: Said, span: Span) -> JobRow | None:
        wanting = [key for key in NEEDED if key not in said]
        if wanting:
            self.say(
                span,
                f"this row has no {' and no '.join(wanting)}",
                "A row is one thing of one job, and how much was measured.",
            )
            return None
        operation = self.operations.get(plain_name(said["product"], self.lexicon))
        name, about = self._thing(said, span, operation)
        if not name:
            return None
        measured = self._amount(said, "measured", span)
        spent = self._hours(said, span) if operation is not None else self._amount(said, "used", span)
        if measured is None or spent is None or (operation and not self._fits(operation, measured, span)):
            return None
        ordered = self._amount(said, "ordered", span) if operation is None and "ordered" in said else None
        coats = self.count(said, "coats", span) or 1
        return JobRow(
            " ".join(said["job"].split()), name, operation is not None, about, measured, spent, Fraction(coats), ordered, span,
            self.day(said, "finished", span), said.get("leave_out", ""),
        )  # fmt: skip

    def _thing(self, said: Said, span: Span, operation: Operation | None) -> tuple[str, Scope]:
        """What the row is of, and what is said of it; no name where that cannot be told."""
        more = {key: cell for key, cell in said.items() if key not in OWN}
        if operation is not None:
            strange = [key for key in more if key not in operation.by or key == "height"]
            if strange:
                self.say(
                    self.cell(span, strange[0]), f"{operation.name} is not told apart by {strange[0].replace('_', ' ')}",
                    f"It is told apart by: {', '.join(key for key in operation.by if key != 'height')}. What only explains stands under note.",
                )  # fmt: skip
                return "", Scope()
            return operation.name, Scope(more)
        goods = self.meanings.goods(said["product"])
        if not goods.product or goods.strange or goods.sizes:
            near = nearest(said["product"], self.operations)
            self.say(
                self.cell(span, "product"), f"{shown(said['product'])} is neither goods of ours nor an operation",
                (f"Did you mean {near}? " if near else "")
                + "Name goods as the order list does, and work as the production rates do; what tells them apart stands in columns of its own.",
            )  # fmt: skip
            return "", Scope()
        words = {key: value for key, (sort, value) in goods.named.items() if sort == "word"}
        return goods.product, Scope(words | more)

    def _amount(self, said: Said, key: str, span: Span) -> Amount | None:
        """A quantity above zero: with its unit, or so many packages where the row has a package."""
        if key not in said:
            self.say(
                span,
                f"{shown(said['product'])} of {shown(said['job'])}: how much was {key} is not said",
                "Write 590 lb.",
            )
            return None
        text = said[key]
        number = value_of(text.replace(",", ""))
        package = (
            self.package(said, span, "a count")
            if number is not None and key != "measured" and "package" in said
            else None
        )
        amount: Amount | None = None
        if number is not None and package is not None and package.content is not None:
            amount = package.content * number * package.many
        elif number is None or key == "measured":
            try:
                amount = Amount.read(text)
            except UnitError:
                amount = None
        if amount is None or amount.value <= 0:
            why = "is no quantity above zero"
            help_ = (
                'Write it with its unit: 590 lb, 4,200 sq ft; or count packages, and write "64 lb pail" under package.'
            )
            self.say(self.cell(span, key), f"{key} is {shown(text)}, which {why}", help_, code="history-row")
            return None
        return amount

    def _hours(self, said: Said, span: Span) -> Amount | None:
        text = said.get("hours", "")
        value = value_of(text.replace(",", "")) if text else None
        if value is None or value <= 0:
            message = (
                f"hours are {shown(text)}, which is no number above zero"
                if text
                else f"{shown(said['product'])} has no hours"
            )
            self.say(self.cell(span, "hours"), message, "Write the hours of all who worked on it: 63.5.")
            return None
        return Amount.of(value, HOUR)

    def _fits(self, operation: Operation, measured: Amount, span: Span) -> bool:
        if measured.unit.dimension in operation.per:
            return True
        self.say(
            self.cell(span, "measured"),
            f"{operation.name} is not measured in {measured.unit.name or 'pieces'}",
            "Write 4,200 sq ft.",
        )
        return False


def by_job(rows: Sequence[JobRow]) -> dict[str, list[JobRow]]:
    """Rows of one thing by their job, in the order of the files."""
    found: dict[str, list[JobRow]] = {}
    for row in rows:
        found.setdefault(row.job.casefold(), []).append(row)
    return found
