"""What Darby sends a child: its own values, pickled. Texts, rules and the job go over once and are kept on both sides.

It goes one way only: nothing that comes back is ever unpickled.
"""

from __future__ import annotations

import io
import json
import pickle
from collections.abc import Iterable, Sequence
from typing import Any

from darby.estimate.line_item import LineItem
from darby.job.model import Job
from darby.plugin_host.isolation.workings import Reader, Writer, numbered
from darby.rules.rule import Rule
from darby.text.spans import Source


class Outbox:
    """In Darby: makes requests, and knows what the child holds."""

    def __init__(self) -> None:
        self.sources: list[Source] = []
        self.rules: list[Rule] = []
        self._source_at: dict[int, int] = {}
        self._rule_at: dict[int, int] = {}
        self._job: Job | None = None

    def request(self, name: str, *arguments: object) -> bytes:
        """A request as bytes."""
        written = io.BytesIO()
        _Pickler(written, self).dump((name, arguments))
        return written.getvalue()

    def held(self, job: Job, rules: Sequence[Rule]) -> tuple[object, ...]:
        """Arguments that stand for a job and the rules: what the child does not hold yet, and which of all it holds are meant."""
        fresh = job is not self._job
        if fresh:
            self.rules, self._rule_at, self._job = [], {}, job
        new = [rule for rule in rules if id(rule) not in self._rule_at]
        for rule in new:
            self._rule_at[id(rule)] = len(self.rules)
            self.rules.append(rule)
        return (job if fresh else None, new, [self._rule_at[id(rule)] for rule in rules])

    def source(self, source: Source) -> tuple[int, tuple[str, str, str] | None]:
        """The number of a source, and what is in it where the child does not hold it yet."""
        at = self._source_at.get(id(source))
        if at is not None:
            return at, None
        self._source_at[id(source)] = len(self.sources)
        self.sources.append(source)
        return len(self.sources) - 1, (source.name, source.text, source.unit)

    def adopt(self, source: Source) -> None:
        """Take down a source that the child made itself, as it did."""
        self.source(source)


class Inbox:
    """In the child: reads requests, and knows what Darby holds."""

    def __init__(self) -> None:
        self.sources: list[Source] = []
        self.rules: list[Rule] = []
        self.job: Job | None = None
        self._source_at: dict[int, int] = {}
        self._rule_at: dict[int, int] = {}

    def read(self, request: bytes) -> tuple[str, tuple[Any, ...]]:
        """The name of a request, and its arguments."""
        name, arguments = _Unpickler(io.BytesIO(request), self).load()
        return name, arguments

    def held(self, job: Job | None, new: Iterable[Rule], meant: Iterable[int]) -> tuple[Job, list[Rule]]:
        """The job and the rules that are meant."""
        if job is not None:
            self.job, self.rules, self._rule_at = job, [], {}
        for rule in new:
            self._rule_at[id(rule)] = len(self.rules)
            self.rules.append(rule)
        assert self.job is not None
        return self.job, [self.rules[n] for n in meant]

    def adopt(self, source: Source) -> int:
        """Take a source down; its number."""
        at = self._source_at.setdefault(id(source), len(self.sources))
        if at == len(self.sources):
            self.sources.append(source)
        return at

    def rule(self, rule: Rule) -> int:
        """The number of a rule. Raises ValueError for one of the plugin's own making."""
        at = self._rule_at.get(id(rule))
        if at is None:
            raise ValueError(f"{rule.kind.name} of {rule.subject} is no rule of the book that it was given")
        return at

    def source(self, source: Source) -> int:
        """The number of a source. Raises ValueError for one of the plugin's own making."""
        at = self._source_at.get(id(source))
        if at is None:
            raise ValueError(f"{source.name} is no text of the job")
        return at


class _Pickler(pickle.Pickler):
    def __init__(self, written: io.BytesIO, box: Outbox) -> None:
        super().__init__(written, 5)
        self._box = box

    def reducer_override(self, one: Any) -> Any:
        """A text goes by its number. A line goes row by row: its working may be deep, and what makes its tables may be no value."""
        if type(one) is Source:
            return _held, self._box.source(one)
        if type(one) is not LineItem:
            return NotImplemented
        rules: list[Rule] = []
        sources: list[Source] = []
        writer = Writer(lambda rule: _at(rules, rule), lambda source: _at(sources, source))
        written = writer.items([one])
        return _line, (json.dumps([writer.rows, written]), tuple(rules), tuple(sources))


class _Unpickler(pickle.Unpickler):
    def __init__(self, request: io.BytesIO, box: Inbox) -> None:
        super().__init__(request)
        self._box = box

    def find_class(self, module: str, name: str) -> Any:
        """As any class or function, but for the one that stands for the texts held here."""
        return self._text if (module, name) == (__name__, _held.__name__) else super().find_class(module, name)

    def _text(self, at: int, new: tuple[str, str, str] | None) -> Source:
        if new is not None:
            assert self._box.adopt(Source(*new)) == at
        source: Source = self._box.sources[at]
        return source


def _held(at: int, new: tuple[str, str, str] | None) -> Source:
    """Stands for `_Unpickler._text` in a request."""
    raise NotImplementedError


def _at(some: list[Any], one: object) -> int:
    """The place of a thing in a short list, to which it is added where it is not in it yet."""
    for n, other in enumerate(some):
        if other is one:
            return n
    some.append(one)
    return len(some) - 1


def _line(written: str, rules: Sequence[Rule], sources: Sequence[Source]) -> LineItem:
    rows, items = json.loads(written)
    return Reader(rows, numbered(rules, "rule"), numbered(sources, "text")).items(items)[0]
