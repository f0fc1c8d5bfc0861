"""In the child: the plugin loaded, its functions called, what they give looked over and written down as plain data.

Whatever is raised becomes a sentence that names the author's own line; with `DARBY_DEBUG=1` its traceback is printed too.
"""

from __future__ import annotations

import base64
import json
import os
import traceback
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager, redirect_stdout
from itertools import islice
from typing import Any

from attrs import frozen

from darby.estimate.line_item import LineItem
from darby.job.model import Job
from darby.labor.task import Task
from darby.plugin_host.isolation.failures import NonsenseError, place_of, why
from darby.plugin_host.isolation.item_checks import MOST_ITEMS, checked, handed_over, inexact_in
from darby.plugin_host.isolation.plain import to_plain
from darby.plugin_host.isolation.sending import Inbox
from darby.plugin_host.isolation.workings import Writer
from darby.quantities.gc_pause import in_bulk
from darby.reading.parsing.vocabulary import made_of
from darby.rules.answer import Answer, Asked
from darby.rules.cascade import RuleBook
from darby.rules.consultation import Consultation
from darby.rules.rule import Rule
from darby.text.spans import Source


@frozen
class Registered:
    """What a plugin registered by its hooks, and what is to be said of them: code, message, what is missing, and a way out."""

    things: Mapping[str, Sequence[Any]]
    told: Sequence[tuple[str, str, str, str]] = ()


class Inside:
    """Answers the requests of Darby in the child. `load` loads the plugin."""

    def __init__(self, load: Callable[[], Registered]) -> None:
        self._load = load
        self._things: Mapping[str, Sequence[Any]] = {}
        self._box = Inbox()
        self._given: tuple[object, Any, Callable[[], object]]

    @in_bulk()
    def __call__(self, request: bytes) -> bytes:
        """The answer to a request: what was asked for, or why it cannot be given."""
        try:
            name, arguments = self._box.read(request)
            return json.dumps({"given": getattr(self, f"_{name}")(*arguments)}).encode()
        except BaseException as error:  # even what is no Exception must not pass
            if os.environ.get("DARBY_DEBUG"):
                traceback.print_exc()
            return json.dumps({"failed": why(error)[:2000]}).encode()

    def _register(self) -> object:
        """Everything that the plugin registered, without its functions."""
        done = self._load()
        self._things = done.things
        trades = [to_plain(one, {Source: self._text}) for one in done.things.get("darby_trades", ())]
        vocabularies = []
        for words in done.things.get("darby_vocabulary", ()):
            try:
                made = made_of(words.source.text).decode()
            except Exception:  # no TOML: whoever reads with it says so
                made = ""
            vocabularies.append([words.name, self._text(words.source), made])
        return {
            "told": [list(one) for one in done.told],
            "trades": trades,
            "readers": [[r.name, to_plain(r.kinds, {})] for r in done.things.get("darby_readers", ())],
            "words": vocabularies,
            "documents": [[d.name, d.about] for d in done.things.get("darby_documents", ())],
        }

    def _text(self, source: Source) -> list[object]:
        return [self._box.adopt(source), source.name, source.text]

    def _begins(self, number: int) -> object:
        return sorted(self._things["darby_readers"][number].begins)

    def _facts(self, number: int, tags: Sequence[Any], text: str) -> object:
        return [to_plain(fact, {}) for fact in self._things["darby_readers"][number].facts(tags, text)]

    def _lines(self, number: int, held: Any, book: Any, orders: Mapping[str, Sequence[LineItem]]) -> object:
        trade = self._things["darby_trades"][number]
        job, rules = self._box.held(*held)
        made = _book(rules, book)
        first = self._told_lines(trade, job, Recording(made, orders))
        self._given = first, trade, lambda: self._told_lines(trade, job, Recording(made, orders))
        return first

    def _same(self) -> object:
        """Whether a trade gives the lines that it gave last when it is asked the same again."""
        first, trade, asked_again = self._given
        with open(os.devnull, "w", encoding="utf-8") as nowhere, redirect_stdout(nowhere):  # it has said it once
            again = asked_again()
        if again != first:
            raise NonsenseError(f"gave other lines when it was asked the same again{place_of(trade.line_items)}")
        return True

    def _told_lines(self, trade: Any, job: Job, consultation: Recording) -> object:
        given: list[tuple[LineItem, str]] = []
        lines = _stepwise(trade.line_items(job, consultation), trade.line_items)
        for item, place in islice(lines, MOST_ITEMS + 1):
            with _at(place):
                one = handed_over(checked(item, trade.name))
                for inexact in inexact_in(one):
                    raise NonsenseError(f"gave {one.product} with {inexact!r} in its working, which is not exact")
                given.append((one, place))
        if len(given) > MOST_ITEMS:
            raise NonsenseError(f"gave more than {MOST_ITEMS} line items")
        writer = Writer(self._box.rule, self._box.source, self._box.rules)
        items = []
        for item, place in given:
            with _at(place):
                items += writer.items([item])
        return {"rows": writer.rows, "items": items, "heard": self._heard(consultation)}

    def _labor(self, number: int, held: Any, book: Any, orders: Mapping[str, Sequence[LineItem]]) -> object:
        trade = self._things["darby_trades"][number]
        job, rules = self._box.held(*held)
        consultation = Recording(_book(rules, book), orders)
        tasks = list(islice(trade.labor(job, consultation), MOST_ITEMS + 1))
        writer = Writer(self._box.rule, self._box.source, self._box.rules)
        if wrong := next((one for one in tasks if not isinstance(one, Task)), None):
            raise NonsenseError(f"gave a {type(wrong).__name__} where a Task is wanted{place_of(trade.labor)}")
        return {"rows": writer.rows, "tasks": writer.tasks(tasks), "heard": self._heard(consultation)}

    def _heard(self, consultation: Recording) -> list[object]:
        """What was asked, in order, for Darby to ask the same of its own book: the rule that was chosen is named by its number."""
        return [
            [
                how,
                asked.kind,
                asked.subject,
                dict(asked.about),
                list(take),
                -1 if rule is None else self._box.rule(rule),
            ]
            for how, asked, take, rule in consultation.record
        ]

    def _document(self, number: int, made: Any) -> object:
        document = self._things["darby_documents"][number].make(made)
        if isinstance(document, bytes):
            return {"bytes": base64.b64encode(document).decode()}
        if not isinstance(document, str):
            raise NonsenseError(f"gave a {type(document).__name__} where a text or the bytes of a file are wanted")
        return {"text": document}


class _Book(RuleBook):
    """A rule book that knows under which keys each answer was taken."""

    def __init__(self, rules: Iterable[Rule], own: Source | None, rooms: Iterable[Any], named: Any) -> None:
        super().__init__(rules, own, rooms, named)
        self.taken: dict[int, tuple[Answer, str, tuple[str, ...]]] = {}

    def ask(self, kind: str, subject: str, about: Any = None, *, take: Iterable[str] = ()) -> Answer | None:
        answer = super().ask(kind, subject, about, take=(keys := tuple(take)))
        if answer is not None:
            self.taken[id(answer)] = answer, "ask", keys
        return answer

    def all(self, kind: str, subject: str, about: Any = None, *, take: Iterable[str] = ()) -> tuple[Answer, ...]:
        answers = super().all(kind, subject, about, take=(keys := tuple(take)))
        self.taken.update((id(answer), (answer, "all", keys)) for answer in answers)
        return answers


class Recording(Consultation):
    """A consultation that writes down what it was asked."""

    def __init__(self, book: _Book, orders: Mapping[str, Sequence[LineItem]]) -> None:
        super().__init__(book, orders)
        self.record: list[tuple[str, Asked, tuple[str, ...], Rule | None]] = []
        self._keys = book.taken

    def _note(self, answer: Answer) -> None:
        known = len(self.answers)
        super()._note(answer)
        if len(self.answers) > known:
            _, how, take = self._keys.get(id(answer), (answer, "made", ()))
            self.record.append((how, answer.asked, take, answer.rule))

    def _silence(self, asked: Asked) -> None:
        known = len(self.unanswered)
        super()._silence(asked)
        if len(self.unanswered) > known:
            self.record.append(("missed", asked, (), None))


def _book(rules: Sequence[Rule], lent: Any) -> _Book:
    """The rules of an estimate as a book, with what else Darby lends of its own."""
    own, rooms, named = lent
    return _Book(rules, own, rooms, named)


@contextmanager
def _at(place: str) -> Iterator[None]:
    """What is nonsense is said to stand at a place."""
    try:
        yield
    except NonsenseError as nonsense:
        raise NonsenseError(f"{nonsense}{place}") from None


def _stepwise(given: Any, function: object) -> Iterator[tuple[object, str]]:
    """What a function gives one by one, each with the place in its code that gave it."""
    for one in given:
        frame = getattr(given, "gi_frame", None)
        yield one, place_of(function, frame.f_lineno if frame is not None else 0)
