"""A saved estimate read back: within bounds, checked part by part, older versions brought up to date.

What is wrong with a file is a diagnostic at its place. Building the values is the check; only where that fails is the
schema asked which value it was, since that takes several times as long as all the rest.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Mapping
from fractions import Fraction
from functools import lru_cache
from importlib.resources import files
from pathlib import Path
from typing import Any

from darby.quantities.amounts import Amount, Origin
from darby.quantities.gc_pause import in_bulk
from darby.quantities.units import UNITS, Unit, combine
from darby.reading.ledger import Number
from darby.reading.read import Reading
from darby.rules.rule import DEFAULT, HOUSE, OVERRIDE, SPECIFICATION, Kind, Layer, Rule, addendum
from darby.saved.model import VERSION, Choices, Line, Measure, Open, Paper, Saved
from darby.saved.writer import checksums, parts_of
from darby.text.bounded_json import MOST_BYTES, locate, parse
from darby.text.diagnostics import Diagnostic, Label, Severity, problem
from darby.text.files import missing_file
from darby.text.spans import Source, Span

Json = Mapping[str, Any]

MIGRATIONS: dict[int, Callable[[dict[str, Any]], dict[str, Any]]] = {}
"""For each older version, what makes the next one of its data. Version 1 is the first, so there is none yet."""

_VALUE = re.compile(r"(-?[0-9]{1,4000})(?:/([0-9]{1,4000}))?")
_ADDENDUM = re.compile(r"addendum ([1-9][0-9]{0,5})")
_LAYERS = {layer.name: layer for layer in (DEFAULT, HOUSE, SPECIFICATION, OVERRIDE)}
_WAY_OUT = "Take it from a copy or from version control, or make it again: darby estimate JOB.toml --save FILE."
_PROCESSED = (KeyError, TypeError, ValueError, IndexError, AttributeError, ArithmeticError, RecursionError)

Reopened = tuple[Saved | None, tuple[Diagnostic, ...]]


def open_saved(path: Path, kinds: Mapping[str, Kind] | None = None, name: str = "") -> Reopened:
    """The saved estimate in a file, or None and what is wrong with it. Nothing raises, however damaged the file."""
    source, told = read_saved(path, name)
    return (None, told) if source is None else reopen(source, kinds)


def read_saved(path: Path, name: str = "") -> tuple[Source | None, tuple[Diagnostic, ...]]:
    """The text of a saved file, or None and the reason; a file too large for an estimate is not read at all."""
    name = name or str(path)
    try:
        if not path.is_file():
            if path.exists():
                return None, (problem("saved-damaged", f"{name} is no file.", file=name),)
            return None, (missing_file(path, name),)
        with path.open("rb") as file:
            data = file.read(MOST_BYTES + 1)
    except (OSError, ValueError) as error:
        why = (getattr(error, "strerror", None) or str(error)).lower()
        return None, (problem("file-unreadable", f"{name} cannot be opened: {why}.", file=name),)
    return decoded(data, name)


def decoded(data: bytes, name: str) -> tuple[Source | None, tuple[Diagnostic, ...]]:
    """The text in some bytes, or None and the reason."""
    if len(data) > MOST_BYTES:
        message = f"{name} is larger than {MOST_BYTES // 1_000_000} MB, and no saved estimate is."
        return None, (problem("saved-damaged", message, file=name),)
    try:
        return Source(name, data.decode("utf-8")), ()
    except UnicodeDecodeError as error:
        source = Source(name, data.decode("utf-8", "replace"))
        at = len(data[: error.start].decode("utf-8", "replace"))
        return None, (_damaged(source, source.span(at, at + 1), "holds bytes that are no text"),)


@in_bulk()
def reopen(source: Source, kinds: Mapping[str, Kind] | None = None) -> Reopened:
    """The saved estimate in a text, or None and what is wrong with it. `kinds` are the kinds of rule known today."""
    data, mistake = parse(source)
    if mistake is not None:
        return None, (_damaged(source, mistake.span, mistake.message),)
    version = _version(data)
    if version is None:
        span = locate(source, ("schema",)) if isinstance(data, dict) and "schema" in data else source.span(0, 1)
        message = f"{source.name} is no saved estimate: it does not begin with the schema darby.saved/{VERSION}."
        return None, (problem("saved-damaged", message, span, help=_WAY_OUT),)
    if version > VERSION:
        message = f"{source.name} was saved by a newer Darby (darby.saved/{version}); this one reads up to {VERSION}."
        way_out = "Update Darby, or make the file again with this version."
        return None, (problem("saved-newer", message, locate(source, ("schema",)), help=way_out),)
    whole = version == VERSION
    try:
        while version < VERSION:
            data, version = MIGRATIONS[version](data), version + 1
        saved = _Builder(data, kinds or {}).saved()
    except _PROCESSED as error:
        return None, (_explained(source, data, error) if whole else _too_old(source, version),)
    changed = _changed(source.text, data.get("checks"))
    return (None, (_damaged(source, *changed(source)),)) if changed else (saved, ())


def _version(data: object) -> int | None:
    said = data.get("schema") if isinstance(data, dict) else None
    found = re.fullmatch(r"darby\.saved/([0-9]{1,6})", said) if isinstance(said, str) else None
    return int(found[1]) if found else None


def _damaged(source: Source, span: Span, message: str) -> Diagnostic:
    return problem("saved-damaged", f"{source.name} {message}.", span, help=_WAY_OUT)


def _too_old(source: Source, version: int) -> Diagnostic:
    message = f"is a saved estimate of version {version} that cannot be brought up to date"
    return _damaged(source, locate(source, ("schema",)), message)


def _changed(text: str, checks: object) -> Callable[[Source], tuple[Span, str]] | None:
    """Which part is not as it was written, if any."""
    sums = checksums(text)
    if not sums:
        return lambda source: (
            source.span(0, 1),
            "is not laid out as Darby writes it, so that its checks cannot be held",
        )
    if not isinstance(checks, dict) or sums == checks:
        return None if sums == checks else lambda source: (source.span(0, 1), "has lost its checks")
    wrong = next((n for n in (*sums, *checks) if sums.get(n) != checks.get(n)), "checks")
    found = {name: (first, last) for name, first, last in parts_of(text)}.get(str(wrong))

    def told(source: Source) -> tuple[Span, str]:
        if found is None:
            return source.span(0, 1), f"has lost its part {str(wrong)[:40]}"
        start = source.line_starts[found[0] - 1]
        lines = f"line {found[0]}" if found[0] == found[1] else f"lines {found[0]} to {found[1]}"
        return source.span(start, start + 1), f"was changed after it was written: its {wrong}, {lines}"

    return told


def _explained(source: Source, data: Any, error: Exception) -> Diagnostic:
    """The first value that is not what the schema says, in words, at its place."""
    from jsonschema import Draft202012Validator  # noqa: PLC0415 - dear, and wanted for damaged files only

    schema = json.loads((files("darby") / "schemas" / "saved.schema.json").read_text("utf-8"))
    try:
        wrong = next(iter(Draft202012Validator(schema).iter_errors(data)), None)
    except _PROCESSED:
        wrong = None
    if wrong is None:
        what = (
            error.args[0] if isinstance(error, _OddError) else f"its parts do not fit together ({type(error).__name__})"
        )
        path = error.path if isinstance(error, _OddError) else ()
        return _damaged(source, locate(source, path), f"cannot be used: {what}")
    path = tuple(wrong.absolute_path)
    name = "".join(f"[{p}]" if isinstance(p, int) else f".{p}" for p in path).lstrip(".") or "the whole"
    return _damaged(source, locate(source, path), f"has something wrong in it: {name} {_wants(wrong)}")


def _wants(wrong: Any) -> str:
    """What the schema wants of a value, in a few words."""
    rule, wanted = wrong.validator, wrong.validator_value
    if rule == "required":
        lacking = next((key for key in wanted if key not in wrong.instance), "")
        return f"has no {lacking}"
    if rule == "additionalProperties":
        extra = next((k for k in wrong.instance if k not in wrong.schema.get("properties", {})), "")
        return f"has {str(extra)[:40]!r}, which has no place there"
    if rule == "type":
        names = [wanted] if isinstance(wanted, str) else wanted
        return f"is not of the type {' or '.join(names)}"
    if rule == "pattern":
        return "is not written as such a value is"
    if rule in ("const", "enum"):
        return f"is not {wanted if rule == 'const' else ' or '.join(map(str, wanted))}"
    return "is not what it should be"


class _OddError(ValueError):
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


def _unit(name: str) -> Unit:
    """A unit by its canonical name, plain or made of others: `lb`, `sq ft/gal`."""
    unit = UNITS.get(name)
    if unit is not None:
        return unit
    over, _, under = name.partition("/")
    made = UNITS["each"]
    for part, sign in ((over, 1), (under, -1)):
        for word in part.split("·") if part and part != "1" else ():
            made = combine(made, UNITS[word], sign)
    return made


def _layer(name: str) -> Layer:
    found = _ADDENDUM.fullmatch(_is(str, name))
    return addendum(int(found[1])) if found else _LAYERS[name]


class _Builder:
    """Makes the values of plain data. Raises whatever comes of data that is not as it should be."""

    def __init__(self, data: dict[str, Any], kinds: Mapping[str, Kind]) -> None:
        self.data = data
        self.kinds = dict(kinds)
        self.texts = [self._text(t) for t in _is(list, data["texts"])]

    @staticmethod
    def _text(data: Json) -> Source:
        return Source(_is(str, data["name"]), _is(str, data["text"]), _is(str, data["unit"]))

    def saved(self) -> Saved:
        data = self.data
        rules = [self._rule(n, r) for n, r in enumerate(_is(list, data["rules"]))]
        of_text: dict[int, list[Rule]] = {}
        for rule in rules:
            of_text.setdefault(id(rule.span.source), []).append(rule)
        texts = list(zip(data["texts"], self.texts, strict=True))
        if [t["as"] for t, _ in texts].count("job") != 1 or texts[0][0]["as"] != "job":
            raise _OddError("its first text is the job file, and no other is", "texts")
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
        )  # fmt: skip

    def _span(self, source: Source, start: object, end: object, *path: str | int) -> Span:
        if type(start) is not int or type(end) is not int or not 0 <= start <= end <= len(source.text):
            raise _OddError("a place lies outside its text", *path)
        return Span(source, start, end)

    def _rule(self, number: int, data: Json) -> Rule:
        at = data["source"]
        if type(at) is not int or not 0 <= at < len(self.texts):
            raise _OddError("a rule stands in a text that is not there", "rules", number, "source")
        source = self.texts[at]
        start, end = _is(list, data["span"])
        span = self._span(source, start, end, "rules", number, "span")
        said = data["origin"]
        origin = Origin(_is(str, said["key"]), _is(str, said["text"]), span, _is(str, said["note"]))
        name = _is(str, data["kind"])
        parts = {key: self._amount(data[key], origin) for key in ("upper", "by", "per") if key in data}
        if "per" in parts and not parts["per"]:
            raise _OddError("a rule is for none of something", "rules", number, "per")
        if data["bound"] not in ("exact", "at least", "at most", "about"):
            raise ValueError(data["bound"])
        return Rule(
            self.kinds.get(name) or self.kinds.setdefault(name, Kind(name, frozenset())),
            _is(str, data["subject"]), dict(_pairs(data["scope"])), self._amount(data["amount"], origin),
            _layer(data["layer"]), span, bound=data["bound"], cited=_is(str, data["cited"]),
            bound_by=tuple((_is(str, what), _is(str, how)) for what, how in _is(list, data["bound_by"])), **parts,
        )  # fmt: skip

    @staticmethod
    def _amount(data: Json, origin: Origin) -> Amount:
        measure = _measure(data)
        return Amount.of(measure.value, _unit(measure.unit), origin)

    def _paper(self, data: Json, source: Source, own: list[Rule]) -> Paper:
        layer = _layer(data["as"])
        numbers = []
        for n, (start, end, became, why) in enumerate(_is(list, data["numbers"])):
            if became not in ("set aside", "unread"):
                raise ValueError(became)
            numbers.append(Number(self._span(source, start, end, "texts", n), became, _is(str, why)))
        told = tuple(self._told(d, source) for d in _is(list, data["told"]))
        return Paper(source, layer, Reading(source, layer, tuple(own), tuple(numbers), told))

    def _told(self, data: Json, source: Source) -> Diagnostic:
        labels = tuple(Label(self._span(source, a, b, "texts"), _is(str, text)) for a, b, text in _is(list, data["at"]))
        said = [_is(str, data[key]) for key in ("code", "message", "help")]
        return Diagnostic(said[0], Severity(data["severity"]), said[1], labels, said[2])

    def _items(self, most: int) -> tuple[Line, ...]:
        lines = tuple(self._line(n, item, most) for n, item in enumerate(_is(list, self.data["items"])))
        ids: set[str] = set()
        for number, line in enumerate(lines):
            if line.id in ids:
                raise _OddError(f"two lines are called {line.id[:60]}", "items", number, "id")
            ids.add(line.id)
        return lines

    @staticmethod
    def _line(number: int, data: Json, most: int) -> Line:
        order = data["order"]
        count = None if order is None else _is(int, order["count"])
        if any(type(r) is not int or not 0 <= r < most for r in _is(list, data["rules"])):
            raise _OddError("a line names a rule that is not there", "items", number, "rules")
        if any(type(one) is not dict for one in _is(list, data["working"])):
            raise TypeError("working")
        return Line(
            _is(str, data["id"]), _is(str, data["trade"]), _is(str, data["product"]), _pairs(data["pool"]),
            _measure(data["need"]), count, None if order is None else _measure(order["package"]),
            "" if order is None else _is(str, order["container"]),
            tuple(data["rules"]), tuple(data["working"]), _texts(data["notes"]),
        )  # fmt: skip
