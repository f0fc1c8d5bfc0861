"""The values of a saved estimate, made of plain data. Building them is the check: whatever does not fit raises.

Nothing is filled in and nothing converted: a text is a text, a number a whole one, a place lies inside its text.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from functools import lru_cache
from typing import Any

from darby.quantities.amounts import Amount, Origin
from darby.quantities.own_units import as_told
from darby.quantities.units import UNITS, Unit, combine
from darby.reading.account.ledger import Number
from darby.reading.read import Reading
from darby.rules.rule import (
    CLARIFICATION,
    DEFAULT,
    HOUSE,
    OVERRIDE,
    REVISION,
    SPECIFICATION,
    Kind,
    Layer,
    Rule,
    addendum,
    alternate,
)
from darby.saved.model import Choices, Line, Measure, Open, Paper, Saved
from darby.text.diagnostics import Diagnostic, Label, Severity
from darby.text.spans import Source, Span

Json = Mapping[str, Any]

FAILURES = (KeyError, TypeError, ValueError, IndexError, AttributeError, ArithmeticError, RecursionError)
"""What comes of building from data that is not as it should be."""

_VALUE = re.compile(r"(-?[0-9]{1,4000})(?:/([0-9]{1,4000}))?")
_ADDENDUM = re.compile(r"addendum ([1-9][0-9]{0,5})")
_ALTERNATE = re.compile(r"alternate ([0-9]{1,3}[A-Z]?|[A-Z])")
_LAYERS = {layer.name: layer for layer in (DEFAULT, HOUSE, SPECIFICATION, REVISION, CLARIFICATION, OVERRIDE)}


class OddError(ValueError):
    """Something well formed that cannot be; `path` leads to it."""

    def __init__(self, what: str, *path: str | int) -> None:
        super().__init__(what)
        self.path = path


def _is(kind: type, value: Any) -> Any:
    if type(value) is not kind:
        raise TypeError(kind.__name__)
    return value


def _texts(values: Any) -> tuple[str, ...]:
    return tuple([_is(str, v) for v in _is(list, values)])


def _pairs(values: Any) -> tuple[tuple[str, str], ...]:
    return tuple([(_is(str, k), _is(str, v)) for k, v in _is(dict, values).items()])


def _measure(data: Json) -> Measure:
    return _measured(_is(str, data["value"]), _is(str, data["unit"]))


@lru_cache(4096)
def _measured(value: str, unit: str) -> Measure:
    found = _VALUE.fullmatch(value)
    if not found:
        raise ValueError(value)
    return Measure(Fraction(int(found[1]), int(found[2] or 1)), unit)


def _layer(name: str) -> Layer:
    if found := _ADDENDUM.fullmatch(_is(str, name)):
        return addendum(int(found[1]))
    return alternate(found[1]) if (found := _ALTERNATE.fullmatch(name)) else _LAYERS[name]


class Builder:
    """Makes the values of plain data. Raises whatever comes of data that is not as it should be."""

    def __init__(self, data: dict[str, Any], kinds: Mapping[str, Kind]) -> None:
        self.data = data
        self.kinds = dict(kinds)
        self.own_units = {name: _texts(told) for name, told in _is(dict, data.get("own_units", {})).items()}
        self._units = {name: as_told(_is(str, name), told[0], told[1:]) for name, told in self.own_units.items()}
        self.texts = [self._text(t) for t in _is(list, data["texts"])]

    @staticmethod
    def _text(data: Json) -> Source:
        return Source(_is(str, data["name"]), _is(str, data["text"]), _is(str, data["unit"]))

    def saved(self) -> Saved:
        """All of it."""
        data = self.data
        rules = [self._rule(n, r) for n, r in enumerate(_is(list, data["rules"]))]
        of_text: dict[int, list[Rule]] = {}
        for rule in rules:
            of_text.setdefault(id(rule.span.source), []).append(rule)
        texts = list(zip(data["texts"], self.texts, strict=True))
        if [t["as"] for t, _ in texts].count("job") != 1 or texts[0][0]["as"] != "job":
            raise OddError("its first text is the job file, and no other is", "texts")
        choices = data["choices"]
        if data["units"] not in ("us", "metric") or choices["units"] not in ("us", "metric", None):
            raise ValueError(data["units"])
        return Saved(
            name=_is(str, data["name"]),
            job=self.texts[0],
            units=data["units"],
            choices=Choices(
                choices["units"] or "", _texts(choices["without"]),
                None if choices["only"] is None else _texts(choices["only"]),
            ),
            plugins=tuple((_is(str, p["name"]), _is(str, p["version"])) for p in _is(list, data["plugins"])),
            trades=tuple(
                (_is(str, t["name"]), _is(str, t["plugin"]), _is(str, t["version"])) for t in _is(list, data["trades"])
            ),
            language=_is(str, data["language"]),
            papers=tuple(
                self._paper(t, source, of_text.get(id(source), [])) for t, source in texts if t["as"] not in ("job", "schedule", DEFAULT.name)
            ),
            defaults=tuple((_is(str, t["trade"]), source) for t, source in texts if t["as"] == DEFAULT.name),
            rules=tuple(rules),
            items=self._items(len(rules)),
            questions=tuple(
                Open(_is(str, q["text"]), _is(str, q["to"]), _texts(q["items"])) for q in _is(list, data["questions"])
            ),
            missing=_texts(data["missing"]),
            schedules=tuple(source for t, source in texts if t["as"] == "schedule"),
            own_units=tuple(self.own_units.items()),
        )  # fmt: skip

    def _span(self, source: Source, start: object, end: object, *path: str | int) -> Span:
        if type(start) is not int or type(end) is not int or not 0 <= start <= end <= len(source.text):
            raise OddError("a place lies outside its text", *path)
        return Span(source, start, end)

    def _rule(self, number: int, data: Json) -> Rule:
        at = data["source"]
        if type(at) is not int or not 0 <= at < len(self.texts):
            raise OddError("a rule stands in a text that is not there", "rules", number, "source")
        source = self.texts[at]
        start, end = _is(list, data["span"])
        span = self._span(source, start, end, "rules", number, "span")
        said = data["origin"]
        origin = Origin(_is(str, said["key"]), _is(str, said["text"]), span, _is(str, said["note"]))
        name = _is(str, data["kind"])
        parts = {key: self._amount(data[key], origin) for key in ("upper", "by", "per") if key in data}
        words = {key: _is(str, data.get(key, "")) for key in ("choice", "confirm")}
        if "per" in parts and not parts["per"]:
            raise OddError("a rule is for none of something", "rules", number, "per")
        if data["bound"] not in ("exact", "at least", "at most", "about"):
            raise ValueError(data["bound"])
        return Rule(
            self.kinds.get(name) or self.kinds.setdefault(name, Kind(name, frozenset())),
            _is(str, data["subject"]), dict(_pairs(data["scope"])), self._amount(data["amount"], origin),
            _layer(data["layer"]), span, bound=data["bound"], cited=_is(str, data["cited"]),
            bound_by=tuple((_is(str, what), _is(str, how)) for what, how in _is(list, data["bound_by"])),
            upper=parts.get("upper"), by=parts.get("by"), per=parts.get("per"), choice=words["choice"], confirm=words["confirm"],
        )  # fmt: skip

    def _amount(self, data: Json, origin: Origin) -> Amount:
        measure = _measure(data)
        return Amount.of(measure.value, self._unit(measure.unit), origin)

    def _unit(self, name: str) -> Unit:
        """A unit by its canonical name, plain or made of others: `lb`, `sq ft/gal`."""
        unit = self._units.get(name) or UNITS.get(name)
        if unit is None:
            over, _, under = name.partition("/")
            unit = UNITS["each"]
            for part, sign in ((over, 1), (under, -1)):
                for word in part.split("·") if part and part != "1" else ():
                    unit = combine(unit, self._plain(word), sign)
            self._units[name] = unit
        return unit

    def _plain(self, name: str) -> Unit:
        unit = self._units.get(name) or UNITS.get(name)
        if unit is None:
            raise OddError(f"it measures in {name[:40]}, a unit of a plugin that is not here", "plugins")
        return unit

    def _paper(self, data: Json, source: Source, own: list[Rule]) -> Paper:
        layer = _layer(data["as"])
        numbers = []
        for n, (start, end, became, why) in enumerate(_is(list, data["numbers"])):
            if became not in ("set aside", "unread"):
                raise ValueError(became)
            numbers.append(Number(self._span(source, start, end, "texts", n), became, _is(str, why)))
        told = tuple(self._told(d, source) for d in _is(list, data["told"]))
        named = {
            _is(str, goods): self._span(source, start, end, "texts")
            for goods, start, end in _is(list, data.get("named", []))
        }
        return Paper(source, layer, Reading(source, layer, tuple(own), tuple(numbers), told, named=named))

    def _told(self, data: Json, source: Source) -> Diagnostic:
        labels = tuple(Label(self._span(source, a, b, "texts"), _is(str, text)) for a, b, text in _is(list, data["at"]))
        said = [_is(str, data[key]) for key in ("code", "message", "help")]
        return Diagnostic(said[0], Severity(data["severity"]), said[1], labels, said[2])

    def _items(self, most: int) -> tuple[Line, ...]:
        lines = tuple(self._line(n, item, most) for n, item in enumerate(_is(list, self.data["items"])))
        ids: set[str] = set()
        for number, line in enumerate(lines):
            if line.id in ids:
                raise OddError(f"two lines are called {line.id[:60]}", "items", number, "id")
            ids.add(line.id)
        return lines

    @staticmethod
    def _line(number: int, data: Json, most: int) -> Line:
        order = data["order"]
        count = None if order is None else _is(int, order["count"])
        if any(type(r) is not int or not 0 <= r < most for r in _is(list, data["rules"])):
            raise OddError("a line names a rule that is not there", "items", number, "rules")
        if any(type(one) is not dict for one in _is(list, data["working"])):
            raise TypeError("working")
        return Line(
            _is(str, data["id"]), _is(str, data["trade"]), _is(str, data["product"]), _pairs(data["pool"]),
            _measure(data["need"]), count, None if order is None else _measure(order["package"]),
            "" if order is None else _is(str, order["container"]),
            tuple(data["rules"]), tuple(data["working"]), _texts(data["notes"]),
        )  # fmt: skip
