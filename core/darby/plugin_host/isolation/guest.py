"""In Darby: a plugin that lives in a child, and stand-ins for what it registered. Each stand-in asks the child and checks what comes back.

What comes back is plain data, and is built here anew: nothing of a plugin runs in Darby, and nothing of Darby can be changed from a child.
"""

from __future__ import annotations

import base64
import binascii
import json
import time
from collections.abc import Callable, Mapping, Sequence
from functools import partial
from typing import Any

from attrs import evolve, frozen

from darby.estimate.document_format import Document
from darby.estimate.model import Estimate
from darby.estimate.trade import Trade
from darby.job.model import Job
from darby.labor.task import Task
from darby.plugin_host.isolation.asked_again import AskedAgain, Lines
from darby.plugin_host.isolation.bounds import allowance
from darby.plugin_host.isolation.child import Child
from darby.plugin_host.isolation.failures import BrokenError, NonsenseError
from darby.plugin_host.isolation.inside import Inside, Registered
from darby.plugin_host.isolation.plain import from_plain
from darby.plugin_host.isolation.sending import Outbox
from darby.plugin_host.isolation.workings import Reader as LineReader
from darby.plugin_host.isolation.workings import numbered
from darby.reading.parsing.fact_parser import Fact, Reader
from darby.reading.parsing.tagging.tag import Tag
from darby.reading.parsing.vocabulary import Vocabulary
from darby.rules.answer import Answer
from darby.rules.cascade import RuleBook
from darby.rules.consultation import Consultation
from darby.rules.rule import Kind, Rule
from darby.text.spans import Source

MOST_LETTERS = 400_000
"""Characters of the words, or the default lines, of one plugin."""
MOST_LINES = 1_000
"""Default lines of a trade for one system of units."""
LONGEST_LINE = 1_000
"""Characters of a default line."""

_CLAUSE = 0.001
"""Seconds that asking about a clause takes anyway."""

Told = tuple[str, str, str, str]


class Guest:
    """A plugin in a child of its own. `load` runs in the child."""

    def __init__(self, load: Callable[[], Registered]) -> None:
        self._load = load
        self._child = Child(Inside(load))
        self._box = Outbox()
        self._texts: list[Source] = []
        self._first: object = None  # what it registered
        self._reading = 0.0  # seconds that its readers have taken since its trades were last called
        self._again: AskedAgain | None = None  # what the child is busy with

    def wake(self) -> None:
        """Start the plugin anew where its child has ended, as for another estimate; what stands for it stays good.

        Where that fails it stays as it is, and says why to whoever asks it next.
        """
        if not self._child.failure:
            return
        self._child, self._box, self._reading, self._again = Child(Inside(self._load)), Outbox(), 0.0, None
        try:
            same = self._asked("register") == self._first
        except BrokenError:
            self._child.fail("cannot be started anew once it had ended")
            return
        if not same:
            self._child.fail("registers something else when it is started anew")
            return
        for source in self._texts:
            self._box.adopt(source)

    def registered(self) -> tuple[dict[str, tuple[Any, ...]], list[Told]]:
        """What the plugin gives by each hook, and what is to be said of it. Raises BrokenError."""
        given = self._first = self._asked("register")
        try:
            told = list(from_plain(given["told"], list[Told], {}))
            trades = tuple(self._trade(n, one) for n, one in enumerate(_list(given["trades"])))
            readers = tuple(
                StandIn(name, kinds, guest=self, number=n)
                for n, (name, kinds) in enumerate(from_plain(given["readers"], list[tuple[str, tuple[Kind, ...]]], {}))
            )
            words = tuple(self._words(*one) for one in _list(given["words"]))
            documents = tuple(
                Document(name, about, partial(self._document, n))
                for n, (name, about) in enumerate(from_plain(given["documents"], list[tuple[str, str]], {}))
            )
        except (NonsenseError, KeyError, TypeError, ValueError) as error:
            raise BrokenError(
                str(error) if isinstance(error, NonsenseError) else "registers what cannot be read"
            ) from None
        things = {
            "darby_trades": trades, "darby_readers": readers, "darby_vocabulary": words, "darby_documents": documents
        }  # fmt: skip
        return things, told

    def close(self) -> None:
        """End its child."""
        self._child.close()

    def _asked(self, name: str, *arguments: object, seconds: int | None = None) -> Any:
        """What the child gives. Raises BrokenError."""
        if self._again is not None:
            again, self._again = self._again, None
            again.hear()
        return _given(self._child.ask(self._box.request(name, *arguments), seconds))

    def _trade(self, number: int, data: object) -> Trade:
        trade: Trade = from_plain(data, Trade, {Source: self._source})
        for source in trade.defaults.values():
            lines = source.text.splitlines()
            if len(lines) > MOST_LINES or any(len(line) > LONGEST_LINE for line in lines):
                raise NonsenseError(f"brings default lines ({source.name}) that are too many or too long to be read")
        labor = None if trade.labor is None else partial(self._labor, number)
        return evolve(trade, line_items=partial(self._lines, number), labor=labor)

    def _source(self, data: object) -> Source:
        number, name, text = from_plain(data, tuple[int, str, str], {})
        if len(text) > MOST_LETTERS:
            raise NonsenseError(f"brings a text ({name}) that is too long to be read")
        if number == len(self._box.sources):
            self._texts.append(Source(name, text))
            self._box.adopt(self._texts[-1])
        source: Source = numbered(self._box.sources, "text")(number)
        return source

    def _words(self, name: str, source: object, made: str) -> Vocabulary:
        if type(name) is not str or type(made) is not str or len(made) > 2 * MOST_LETTERS:
            raise NonsenseError("brings words that cannot be read")
        return Vocabulary(name, self._source(source), made.encode())

    def _lines(self, number: int, job: Job, book: Consultation) -> Lines:
        given = self._called("lines", number, job, book)
        # it is asked the same again there, while what came is read here and other trades are called
        self._child.begin(self._box.request("same"))
        self._again = again = AskedAgain(lambda: _given(self._child.end()))
        return Lines(self._read(given, book).items(given["items"]), again)

    def _labor(self, number: int, job: Job, book: Consultation) -> list[Task]:
        given = self._called("labor", number, job, book)
        return self._read(given, book).tasks(given["tasks"])

    def _called(self, name: str, number: int, job: Job, book: Consultation) -> Any:
        """What a function of a trade gives, as it came."""
        self._reading = 0.0
        rules = book.book.rules
        lent = (book.book.own, tuple(book.book.rooms.names.values()), book.book.named)
        held = self._box.held(job, rules)
        try:
            return self._asked(name, number, held, lent, dict(book.orders))
        except RecursionError:
            raise BrokenError("cannot be sent a job like this") from None

    def _read(self, given: Any, book: Consultation) -> LineReader:
        """A reader of what came; what the function asked is asked here once more, so that it becomes known as used."""
        rule = numbered(self._box.rules, "rule")
        try:
            for how, kind, subject, about, take, at in map(_heard, _list(given["heard"])):
                if how == "missed":
                    book.miss(kind, subject, about)
                    continue
                chosen = rule(at)
                keys = take if how in ("ask", "all") else tuple(chosen.scope)
                book.use(_answer(book.book, how, (kind, subject, about), keys, chosen))
            return LineReader(given["rows"], rule, numbered(self._box.sources, "text"))
        except (NonsenseError, KeyError, TypeError) as error:
            raise BrokenError(str(error) if isinstance(error, NonsenseError) else "gave what cannot be read") from None

    def facts(self, number: int, tags: Sequence[Tag], text: str) -> list[Fact]:
        """What a reader of the plugin makes of a clause. Raises BrokenError."""
        begun = time.monotonic()
        given = self._asked("facts", number, list(tags), text)
        self._reading += max(0.0, time.monotonic() - begun - _CLAUSE)
        if self._reading > allowance():
            self._child.give_up(f"did not stop within {allowance()} seconds")
        try:
            return [_placed(fact, tags) for fact in from_plain(given, list[Fact], {})]
        except NonsenseError as nonsense:
            raise BrokenError(str(nonsense)) from None

    def begins(self, number: int) -> frozenset[str]:
        """Terminals with which a fact of a reader can begin. Raises BrokenError."""
        try:
            return frozenset(from_plain(self._asked("begins", number), list[str], {}))
        except NonsenseError as nonsense:
            raise BrokenError(str(nonsense)) from None

    def _document(self, number: int, made: Estimate) -> str | bytes:
        given = self._asked("document", number, made)
        try:
            if "text" in given:
                return str(from_plain(given["text"], str, {}))
            return base64.b64decode(given["bytes"], validate=True)
        except (NonsenseError, KeyError, TypeError, binascii.Error):
            raise BrokenError("gave what cannot be read") from None


def _given(reply: bytes) -> Any:
    """What stands in a reply. Raises BrokenError where it says why nothing does."""
    try:
        answer = json.loads(reply)
        failed = answer.get("failed")
        if failed is None:
            return answer["given"]
    except (ValueError, KeyError, AttributeError, RecursionError):
        raise BrokenError("answered with what cannot be read") from None
    raise BrokenError(str(failed)[:2000])


def _answer(
    book: RuleBook, how: str, asked: tuple[str, str, Mapping[str, str]], take: Sequence[str], rule: Rule
) -> Answer:
    """The answer of a book that names a rule: as it was asked for first, the other way where that gives another."""
    for way in ("ask", "all") if how == "ask" else ("all", "ask"):
        found = book.all(*asked, take=take) if way == "all" else (book.ask(*asked, take=take),)
        for answer in found:
            if answer is not None and answer.rule is rule:
                return answer
    raise NonsenseError("says that it was answered what the rules do not say")


_Heard = tuple[str, str, str, Mapping[str, str], tuple[str, ...], int]


def _heard(one: object) -> _Heard:
    """One thing that was asked, as it is written of a large job for each of its surfaces."""
    if type(one) is list and len(one) == 6:
        how, kind, subject, about, take, at = one
        if type(about) is dict and type(take) is list and type(at) is int:
            words = (how, kind, subject, *about, *about.values(), *take)
            if all(type(word) is str for word in words):
                return how, kind, subject, about, tuple(take), at
    raise NonsenseError("gave what was not asked")


@frozen(eq=False, slots=False)
class StandIn(Reader):
    """A reader whose grammar and meaning are in a child."""

    guest: Guest = None  # type: ignore[assignment]
    number: int = 0

    @property
    def begins(self) -> frozenset[str]:
        """As of any reader; asked once."""
        if "begins" not in self.__dict__:
            self.__dict__["begins"] = self.guest.begins(self.number)
        found: frozenset[str] = self.__dict__["begins"]
        return found

    def facts(self, tags: Sequence[Tag], text: str) -> Any:
        """As of any reader; a clause in which nothing can begin is not asked about."""
        begins = self.begins
        if any(tag.name.upper() in begins for tag in tags):
            yield from self.guest.facts(self.number, tags, text)


def _placed(fact: Fact, tags: Sequence[Tag]) -> Fact:
    """A fact at the tags that it says it was read from."""
    if not 0 <= fact.start < fact.end <= len(tags):
        raise NonsenseError("gave a fact that was read from nothing")
    return evolve(fact, place=tags[fact.start].start, over=tags[fact.end - 1].end)


def _list(data: object) -> list[Any]:
    if type(data) is not list:
        raise NonsenseError("registers what cannot be read")
    return data
