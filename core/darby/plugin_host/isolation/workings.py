"""Amounts with their working, line items and tasks as plain data, and back: row by row, so that no working is too deep or too wide.

Rules and sources are not written: both sides hold them, and a number says which.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import partial
from typing import Any

from attrs import frozen

from darby.estimate.attachments import Attachment, Drawing, Table
from darby.estimate.line_item import Aside, LineItem
from darby.labor.task import Task
from darby.plugin_host.isolation.failures import NonsenseError
from darby.plugin_host.isolation.plain import Read, Write, from_plain, number, to_plain, unit
from darby.quantities.amounts import HERE, Amount, Origin, Step, walk
from darby.rules.rule import Rule, Scope
from darby.text.spans import Source, Span

STEPS = frozenset({"given", "to", "+", "-", "*", "/", "sum", "round up"})
"""What a step of a working may be."""


SAID = ("rate", "amount", "per", "upper", "by")
"""What a rule says in amounts."""


@frozen(eq=False)
class Handed:
    """Tables and drawings that were made beforehand."""

    made: tuple[Attachment, ...] = ()

    def __call__(self) -> tuple[Attachment, ...]:
        """All of them."""
        return self.made


class Writer:
    """Writes lines and work; `rule` and `source` give the numbers of what both sides hold. Raises NonsenseError."""

    def __init__(
        self, rule: Callable[[Rule], int], source: Callable[[Source], int], rules: Iterable[Rule] = ()
    ) -> None:
        # what a rule says is the very amount of the rule on the other side too, by which its place in a working is known
        self._said = {
            id(amount.step): [rule(one), key]
            for one in rules
            for key in SAID
            if key != "rate" or "rate" in vars(one)
            if (amount := getattr(one, key)) is not None
        }
        self.rows: list[object] = []
        self._at: dict[int, int] = {}
        self._kept: list[Step] = []  # alive, so that nothing else comes to have their id
        self._rule, self._source = rule, source
        self.special: Mapping[type, Write] = {
            Amount: lambda amount: {"row": self.amount(amount)},
            Rule: rule,
            Aside: _aside,
            Span: self._span,
        }

    def amount(self, amount: Amount) -> int:
        """The row of an amount, written behind those that it is made of."""
        for one in walk(amount):
            if id(one.step) in self._said and id(one.step) not in self._at:
                self._at[id(one.step)] = len(self.rows)
                self.rows.append(self._said[id(one.step)])
            elif id(one.step) not in self._at:
                step, origin = one.step, one.step.origin
                place = None if origin.place is None else self._span(origin.place)
                said = [origin.key, origin.text, place, origin.note]
                of = [self._at[id(part.step)] for part in step.of]
                parts = [to_plain(one.value, {}), to_plain(one.unit, {}), step.op, of, step.label, said]
                self._at[id(step)] = len(self.rows)
                self._kept.append(step)
                self.rows.append(parts)
        return self._at[id(amount.step)]

    def _span(self, span: Span) -> list[int]:
        return [self._source(span.source), span.start, span.end]

    def items(self, items: Iterable[LineItem]) -> list[object]:
        """Line items, their tables and drawings made."""
        return [
            [
                item.product, self.amount(item.need), dict(item.pool),
                None if item.package is None else self.amount(item.package), item.trade,
                [self._rule(rule) for rule in item.rules], [to_plain(note, self.special) for note in item.notes],
                [to_plain(one, self.special) for one in item.attachments()],
            ]
            for item in items
        ]  # fmt: skip

    def tasks(self, tasks: Iterable[Task]) -> list[object]:
        """Pieces of work."""
        return [to_plain(task, self.special) for task in tasks]


class Reader:
    """Reads what a Writer wrote, given its rows. Raises NonsenseError."""

    def __init__(self, rows: object, rule: Callable[[object], Rule], source: Callable[[object], Source]) -> None:
        self._rule, self._source = rule, source
        self._amounts: list[Amount] = []
        self.special: Mapping[Any, Read] = {Amount: self._cell, Rule: rule, Span: self._span}
        for row in from_plain(rows, list[_Same], _AS_IT_IS):
            self._amounts.append(self._of_rule(row) if type(row) is list and len(row) == 2 else self._made(row))

    def _of_rule(self, row: object) -> Amount:
        number, key = from_plain(row, tuple[_Same, str], _AS_IT_IS)
        amount = getattr(self._rule(number), key) if key in SAID else None
        if not isinstance(amount, Amount):
            raise NonsenseError("gave what a rule does not say")
        return amount

    def _made(self, row: object) -> Amount:
        if type(row) is not list or len(row) != 6:
            raise NonsenseError("gave a working that is none")
        value, parts, op, of, label, said = row
        if not (type(op) is type(label) is str and op in STEPS and type(of) is list and (op == "given") == (not of)):
            raise NonsenseError("gave a working that is none")
        return Amount(number(value), unit(parts), Step(op, tuple(map(self.amount, of)), label, self._origin(said)))

    def _origin(self, said: object) -> Origin:
        if type(said) is not list or len(said) != 4:
            raise NonsenseError("gave a number that nobody said")
        key, text, place, note = said
        if not type(key) is type(text) is type(note) is str:
            raise NonsenseError("gave a number that nobody said")
        origin = Origin(key, text, None if place is None else self._span(place), note)
        return HERE if origin == HERE else origin

    def _cell(self, data: object) -> Amount:
        """An amount where a number could stand as well."""
        if type(data) is not dict:
            raise NonsenseError("gave something else where an amount is wanted")
        return self.amount(data.get("row"))

    def amount(self, data: object) -> Amount:
        """The amount of a row."""
        if type(data) is not int or not 0 <= data < len(self._amounts):
            raise NonsenseError("gave an amount that is not there")
        return self._amounts[data]

    def _span(self, data: object) -> Span:
        if type(data) is not list or len(data) != 3 or not all(type(at) is int for at in data):
            raise NonsenseError("gave a place that is none")
        number, start, end = data
        source = self._source(number)
        if not 0 <= start <= end <= len(source.text):
            raise NonsenseError("gave a place outside of its text")
        return Span(source, start, end)

    def items(self, data: object) -> list[LineItem]:
        """Line items."""
        return [self._item(*one) for one in from_plain(data, list[_Item], _AS_IT_IS)]

    def _item(
        self, product: str, need: object, pool: Mapping[str, str], package: object, trade: str, rules: Iterable[object],
        notes: Iterable[object], shown: Iterable[object],
    ) -> LineItem:  # fmt: skip
        return LineItem(
            product, self.amount(need), Scope(pool), None if package is None else self.amount(package), trade,
            tuple(map(self._rule, rules)), tuple(map(_note, notes)),
            Handed(tuple(from_plain(one, Table | Drawing, self.special) for one in shown)),
        )  # fmt: skip

    def tasks(self, data: object) -> list[Task]:
        """Pieces of work."""
        return list(from_plain(data, list[Task], self.special))


class _Same:
    """Stands for what is looked at later."""


_AS_IT_IS: Mapping[Any, Read] = {_Same: lambda data: data}
_Some = tuple[_Same, ...]
_Item = tuple[str, int, Mapping[str, str], int | None, str, _Some, _Some, _Some]


def _aside(note: Aside) -> object:
    return {"is": "Aside", "word": str(note.word), "text": note.removeprefix(f"{note.word}: ")}


def _note(data: object) -> str:
    if isinstance(data, dict):
        return Aside(*(from_plain(data.get(key), str, {}) for key in ("word", "text")))
    return str(from_plain(data, str, {}))


def numbered(of: Sequence[Any], what: str) -> Callable[[object], Any]:
    """Gives the one of a number. Raises NonsenseError."""
    return partial(_numbered, of, what)


def _numbered(of: Sequence[Any], what: str, data: object) -> Any:
    if type(data) is not int or not 0 <= data < len(of):
        raise NonsenseError(f"gave a {what} that is not there")
    return of[data]
