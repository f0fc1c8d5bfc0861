"""A gallery of broken plugins: whatever each does, the other trades' lines must not move by a byte."""

from __future__ import annotations

import builtins
import contextlib
import os
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from fractions import Fraction
from types import ModuleType
from typing import Any

from attrs import evolve, frozen

import darby.estimate.packing
from darby.estimate.document_format import Document
from darby.estimate.line_item import LineItem
from darby.estimate.trade import Caution, Trade
from darby.job.model import Job
from darby.plugin_host.hooks import hookimpl
from darby.quantities.amounts import Amount, Origin, Step
from darby.quantities.units import UNITS, VOLUME, Unit
from darby.reading.parsing.fact_parser import Fact, Reader
from darby.reading.parsing.vocabulary import Vocabulary
from darby.rules.answer import Asked
from darby.rules.consultation import Consultation
from darby.rules.rule import Kind, Scope
from darby.text.spans import Source


@frozen
class Release:
    """Where an entry point comes from."""

    version: str = "0.9"
    name: str = "rogues"


@frozen
class Entry:
    """An entry point that needs no installation."""

    name: str
    load: Callable[[], Any]
    dist: Release = Release()


def plugin(name: str, api: object = 1, **hooks: Callable[[], Any]) -> Entry:
    """A plugin made of hooks."""

    def load() -> ModuleType:
        made = ModuleType(name)
        made.DARBY_API = api  # type: ignore[attr-defined]
        for hook, function in hooks.items():
            setattr(made, hook, hookimpl(function))
        return made

    return Entry(name, load)


def trade(line_items: Callable[[Job, Consultation], Any], name: str = "rogue", **more: Any) -> Callable[[], Any]:
    """A hook that gives one trade."""
    return lambda: [Trade(name, name.title(), line_items, **more)]


def lines(line_items: Callable[[Job, Consultation], Any], name: str = "rogue", **more: Any) -> Entry:
    """A plugin of one trade."""
    return plugin(name, darby_trades=trade(line_items, name, **more))


def words(text: str, name: str = "rogue") -> Callable[[], Any]:
    """A hook that gives one vocabulary."""
    return lambda: [Vocabulary(name, Source(f"{name}/words.toml", text))]


def one(job: Job, book: Consultation) -> Iterator[LineItem]:
    """A sound line."""
    yield LineItem("hook", Amount.of(len(job.surfaces)))


def raises(error: BaseException) -> Callable[..., Any]:
    def run(*_: Any) -> Any:
        raise error

    return run


def forever(*_: Any) -> Any:
    while True:
        time.sleep(0)


def stubborn(*_: Any) -> Any:
    while True:
        try:
            time.sleep(3600)
        except BaseException:
            continue


def leaves(*_: Any) -> Any:
    os._exit(0)


def crashes(*_: Any) -> Any:
    import ctypes

    ctypes.string_at(0)


def hungry(*_: Any) -> Any:
    held = []
    while True:
        held.append(bytearray(1 << 31))


def gives(things: object) -> Callable[..., Any]:
    return lambda *_: things


def need(amount: object) -> Callable[..., Any]:
    return gives([LineItem("hook", amount)])  # type: ignore[arg-type]


def shrinks_the_job(job: Job, book: Consultation) -> Iterator[LineItem]:
    object.__setattr__(job, "surfaces", ())
    return iter(())


def thickens_a_rule(job: Job, book: Consultation) -> Iterator[LineItem]:
    for rule in book.book.rules:
        object.__setattr__(rule, "amount", rule.amount * 2)
    return one(job, book)


def rewrites_a_mark(job: Job, book: Consultation) -> Iterator[LineItem]:
    for surface in job.surfaces:
        surface.marks["board"] = "three layers"  # type: ignore[index]
    return one(job, book)


def rewires_darby(*_: Any) -> Any:
    darby.estimate.packing.with_waste = lambda need, *_: need * 2
    return []


def doubles_amounts(job: Job, book: Consultation) -> Iterator[LineItem]:
    Amount.round_up = lambda self: self * 2  # type: ignore[method-assign]
    return one(job, book)


def shortens_the_gallon(*_: Any) -> Any:
    UNITS["gal"] = UNITS["L"]
    return []


def moves_away(job: Job, book: Consultation) -> Iterator[LineItem]:
    os.chdir("/")
    return one(job, book)


def talks(job: Job, book: Consultation) -> Iterator[LineItem]:
    print("hello")
    sys.stdout.write("{")
    return one(job, book)


def lingers(job: Job, book: Consultation) -> Iterator[LineItem]:
    threading.Thread(target=forever, daemon=False).start()
    return one(job, book)


def differs(job: Job, book: Consultation) -> Iterator[LineItem]:
    yield LineItem("hook", Amount.of(time.monotonic_ns()))


def spoils_the_questions(job: Job, book: Consultation) -> Iterator[LineItem]:
    book.unanswered.append(Asked(7, None, Scope()))  # type: ignore[arg-type]
    book.answers.append("forty-two")  # type: ignore[arg-type]
    return one(job, book)


def cannot_be_told(job: Job, book: Consultation) -> Iterator[LineItem]:
    strange = Step("given", (), 7, Origin(3, {}, "place"))  # type: ignore[arg-type]
    yield LineItem("hook", evolve(Amount.of(2), step=strange))


def endless(job: Job, book: Consultation) -> Iterator[LineItem]:
    number = 0
    while True:
        number += 1
        yield LineItem("hook", Amount.of(1), {"number": str(number)})


class Greedy:
    """Takes every number for its own."""

    def whole(self, _: list[Any]) -> Fact:
        """A number and whatever stands behind it."""
        return Fact("", None, why="mine")


class Raising:
    """Raises whatever it meets."""

    def whole(self, _: list[Any]) -> Fact:
        """A number."""
        raise ValueError("no idea")


class Endless:
    """Thinks for ever."""

    def whole(self, _: list[Any]) -> Fact:
        """A number."""
        return forever()  # type: ignore[no-any-return]


class Slow:
    """Takes its time over every clause."""

    def whole(self, _: list[Any]) -> Fact:
        """A number."""
        time.sleep(1.2)
        return Fact("", None, why="mine")


def starts(*command: str) -> Callable[..., Any]:
    """A trade that runs another program."""

    def run(job: Job, book: Consultation) -> Iterator[LineItem]:
        subprocess.run(command, check=False)
        return one(job, book)

    return run


def forks(job: Job, book: Consultation) -> Iterator[LineItem]:
    if not os.fork():
        print("{" * 1000, flush=True)
        forever()
    return one(job, book)


def escapes(job: Job, book: Consultation) -> Iterator[LineItem]:
    """Forks below Python, leaves its session, and holds every pipe open."""
    import ctypes

    libc = ctypes.CDLL(None)
    if not libc.fork():
        libc.setsid()
        if not libc.fork():
            os.write(1, b"{" * 100)
            while True:
                libc.sleep(3600)
        os._exit(0)
    return one(job, book)


def writes_below(job: Job, book: Consultation) -> Iterator[LineItem]:
    os.write(1, b"{" * 100)
    os.write(2, b"}" * 100)
    return one(job, book)


def answers_by_itself(*_: Any) -> Any:
    os.write(4, (3).to_bytes(8, "big") + b"{}}")
    forever()


def answers_without_end(*_: Any) -> Any:
    os.write(4, (1 << 60).to_bytes(8, "big") + b"x" * 1000)
    forever()


def kills(job: Job, book: Consultation) -> Iterator[LineItem]:
    os.kill(os.getppid(), 9)
    return one(job, book)


def shouts(*_: Any) -> Any:
    while True:
        print("x" * 100_000)


def rewires_python(job: Job, book: Consultation) -> Iterator[LineItem]:
    builtins.sum = lambda *_: 7  # type: ignore[assignment]
    with contextlib.suppress(RecursionError):  # where so many calls are open already
        sys.setrecursionlimit(200)
    object.__setattr__(Fraction(1, 2), "_numerator", 3)
    return iter(())


def swaps_a_trade(job: Job, book: Consultation) -> Iterator[LineItem]:
    import darby_board.trade as board

    object.__setattr__(board.TRADE, "line_items", gives([]))
    Amount.round_up.__code__ = (lambda self: self).__code__
    return one(job, book)


def makes_a_rule(job: Job, book: Consultation) -> Iterator[LineItem]:
    rule = evolve(book.book.rules[0], subject="hook")
    yield LineItem("hook", Amount.of(2), rules=(rule,))


def makes_a_unit(job: Job, book: Consultation) -> Iterator[LineItem]:
    yield LineItem("hook", Amount.of(2, Unit("cubit", (("length", 1),), Fraction(1))))


def makes_a_step(job: Job, book: Consultation) -> Iterator[LineItem]:
    yield LineItem("hook", Amount(Fraction(2), UNITS["each"], Step("conjure", (Amount.of(1),))))


def misplaces(job: Job, book: Consultation) -> Iterator[LineItem]:
    yield LineItem("hook", Amount.of(2, "each", Origin("x", "y", Source("its own", "text").span(0, 2))))


def deep(job: Job, book: Consultation) -> Iterator[LineItem]:
    yield from deep(job, book)


class Unpickled(str):
    """Would run when it is unpickled."""

    def __reduce__(self) -> Any:
        return os._exit, (0,)


def smuggles(job: Job, book: Consultation) -> Iterator[LineItem]:
    yield LineItem(Unpickled("hook"), Amount.of(2), notes=(Unpickled("A note."),))


ONE_NUMBER = (
    "start: whole\nwhole: NUMBER AREA_UNIT PER VOLUME_UNIT STOP\n%declare NUMBER AREA_UNIT PER VOLUME_UNIT STOP\n"
)


def reader(meaning: object, grammar: str = ONE_NUMBER, kinds: tuple[Kind, ...] = ()) -> Entry:
    return plugin("rogue", darby_readers=lambda: [Reader("aaa", kinds, grammar, meaning)])


HUGE_GRAMMAR = f"start: whole\nwhole: {' '.join(['[NUMBER]'] * 40)} STOP\n%declare NUMBER STOP\n"
"""Two to the fortieth ways to write it."""
LESS = Kind("coverage", frozenset({VOLUME}), frozenset(), "larger", wanted="nothing")
GRAB = '[aside_all]\n"mine" = ["two coats", "coats of", "of the", "finish paint, "]\n'
SHADOW = '[subject]\nhook = ["gypsum board", "primer", "finish paint", "joint compound", "per", "coats"]\n'
MEDDLE = """
[known]
thickness = ["250 in"]
[measures]
"gypsum board" = { length = "spacing" }
"joint tape" = { length = "thickness", area = "waste" }
[kinds]
primer = ["thickness"]
[implies]
coats = "hook"
thickness = "hook"
[implied_where]
joint = "hook"
"""
DEFAULTS = "Primer: 150 sq ft per gal.\nFinish paint: 4 coats.\nPrimer waste: 90 %.\nJoint compound waste: 50 %.\n"

TRADES: dict[str, tuple[Entry, str]] = {
    "raises": (lines(raises(ValueError("no width"))), "raised ValueError: no width"),
    "exits": (lines(raises(SystemExit(0))), "raised SystemExit: 0"),
    "interrupts": (lines(raises(KeyboardInterrupt())), "raised KeyboardInterrupt"),
    "loops": (lines(forever), "did not stop within"),
    "loops and catches everything": (lines(stubborn), "did not stop within"),
    "leaves the program": (lines(leaves), "ended the program"),
    "crashes": (lines(crashes), "ended the program"),
    "eats the memory": (lines(hungry), "MemoryError"),
    "gives numbers": (lines(gives([3, 4])), "gave a int where a LineItem is wanted"),
    "gives nothing": (lines(gives(None)), "raised TypeError"),
    "needs NaN": (lines(need(evolve(Amount.of(1), value=float("nan")))), "no exact quantity"),
    "needs a float": (lines(need(evolve(Amount.of(1), value=2.5))), "no exact quantity"),
    "needs less than nothing": (lines(need(Amount.of(-3))), "no exact quantity of zero or more"),
    "needs text": (lines(need("3 lb")), "no exact quantity"),
    "gives one line twice": (lines(lambda job, book: [*one(job, book), *one(job, book)]), "two line items called"),
    "gives endless lines": (lines(endless), "more than 10000 line items"),
    "gives 10 MB of text": (lines(gives([LineItem("hook", Amount.of(1), notes=("x" * 10**7,))])),
                            "characters of text"),
    "runs another program": (lines(starts("echo", "{{{{")), "starts no other program"),
    "runs a shell": (lines(lambda *_: os.system("echo {{{{")), "starts no other program"),
    "forks": (lines(forks), "starts no other program"),
    "kills its parent": (lines(kills), "ends no other program"),
    "answers by itself": (lines(answers_by_itself), "answered with what cannot be read"),
    "answers without end": (lines(answers_without_end), "gave more than can be looked at"),
    "shouts and loops": (lines(shouts), "did not stop within"),
    "digs deep": (lines(deep), "raised RecursionError"),
    "makes a rule": (lines(makes_a_rule), "is no rule of the book"),
    "makes a unit": (lines(makes_a_unit), "measures in cubit"),
    "makes a step": (lines(makes_a_step), "a working that is none"),
    "misplaces a number": (lines(misplaces), "is no text of the job"),
    "differs each time": (lines(differs), "gave other lines when it was asked the same again"),
    "cannot be told": (lines(cannot_be_told), "raised AttributeError"),
}  # fmt: skip
"""Trades that fail when they are called, and what is said of them."""

PLUGINS: dict[str, tuple[Entry, str]] = {
    "does not import": (Entry("rogue", raises(ImportError("No module named 'nowhere'"))), "cannot be loaded: ImportError"),
    "exits on import": (Entry("rogue", raises(SystemExit(1))), "cannot be loaded: SystemExit"),
    "interrupts on import": (Entry("rogue", raises(KeyboardInterrupt())), "raised KeyboardInterrupt"),
    "loops on import": (Entry("rogue", forever), "did not stop within"),
    "leaves on import": (Entry("rogue", leaves), "ended the program"),
    "eats the memory on import": (Entry("rogue", hungry), "MemoryError"),
    "rewires Darby on import": (Entry("rogue", rewires_darby), "does not say which version"),
    "shortens the gallon": (Entry("rogue", shortens_the_gallon), "does not say which version"),
    "has the wrong API": (plugin("rogue", 99, darby_trades=trade(one)), "for version 99 of the hooks"),
    "misspells a hook": (plugin("rogue", darby_trade=trade(one)), "there is no such hook"),
    "raises in darby_trades": (plugin("rogue", darby_trades=raises(ValueError("x"))), "darby_trades raised"),
    "raises in darby_readers": (plugin("rogue", darby_readers=raises(ValueError("x"))), "darby_readers raised"),
    "raises in darby_vocabulary": (plugin("rogue", darby_vocabulary=raises(ValueError("x"))), "darby_vocabulary raised"),
    "raises in darby_documents": (plugin("rogue", darby_documents=raises(ValueError("x"))), "darby_documents raised"),
    "loops in a hook": (plugin("rogue", darby_trades=forever), "did not stop within"),
    "returns text": (plugin("rogue", darby_trades=lambda: "trades"), "returned a str"),
    "returns the wrong things": (plugin("rogue", darby_readers=lambda: [Trade("x", "X", one)]), "returned a Trade"),
    "takes a plugin's name": (Entry("board", lambda: ModuleType("board")), "Two plugins are called board"),
    "takes a trade's name": (plugin("rogue", darby_trades=trade(one, "coatings")), "both bring a trade called coatings"),
    "takes a reader's name": (plugin("aaa", darby_readers=lambda: [Reader("facts", (), ONE_NUMBER, Greedy())]),
                              "both bring a reader called facts"),
    "cautions with numbers": (lines(one, cautions=(Caution("x", 7),)), "cautions is no tuple of cautions"),  # type: ignore[arg-type]
    "words are no TOML": (plugin("rogue", darby_vocabulary=words("[[[")), "cannot take part in reading"),
    "a grammar is none": (reader(Greedy(), "start: (("), "cannot take part in reading"),
    "a meaning raises": (reader(Raising()), "cannot take part in reading"),
    "a meaning loops": (reader(Endless()), "did not stop within"),
    "a meaning loops a little, each time": (reader(Slow()), "did not stop within"),
    "a grammar loops, nearly": (reader(Greedy(), HUGE_GRAMMAR), "cannot take part in reading"),
    "default lines without end": (lines(one, defaults={"us": Source("r.txt", "Primer: 150 sq ft per gal.\n" * 8000)}),
                                  "too many or too long"),
    "words without end": (plugin("rogue", darby_vocabulary=words("# x\n" * 200_000)), "too long to be read"),
    "a reader takes all": (reader(Greedy()), "contradicts coverage of"),
    "words unsay": (plugin("rogue", darby_vocabulary=words(GRAB)), "contradicts"),
}  # fmt: skip
"""Plugins that break before any trade is called, and what is said of them."""

MEDDLERS: dict[str, tuple[Entry, str]] = {
    "claims words of others": (plugin("aaa", darby_vocabulary=words(SHADOW)), "both claim the word “gypsum board”"),
    "meddles with products of others": (plugin("aaa", darby_vocabulary=words(MEDDLE)), "that is for board to say"),
    "redefines a kind": (reader(Greedy(), "start: whole\nwhole: MINE\n%declare MINE\n", (LESS,)), "define the kind coverage"),
    "has defaults about products of others": (lines(one, defaults={"us": Source("rogue.txt", DEFAULTS)}), ""),
    "reads a key of others": (lines(one, marks={"board": "primer"}), "both read the key board"),
    "brings a document of another's name": (plugin("rogue", darby_documents=lambda: [Document("json", "", str)]), ""),
    "prints": (lines(talks), ""),
    "shrinks the job": (lines(shrinks_the_job), ""),
    "thickens a rule": (lines(thickens_a_rule), ""),
    "rewrites a mark": (lines(rewrites_a_mark), ""),
    "doubles every rounding": (lines(doubles_amounts), ""),
    "rewires Darby": (lines(rewires_darby), ""),
    "rewires Python": (lines(rewires_python), ""),
    "swaps a trade of Darby's": (lines(swaps_a_trade), ""),
    "moves away": (lines(moves_away), ""),
    "lingers": (lines(lingers), ""),
    "spoils the questions": (lines(spoils_the_questions), ""),
    "writes below Python": (lines(writes_below), ""),
    "escapes": (lines(escapes), ""),
    "smuggles": (lines(smuggles), ""),
}  # fmt: skip
"""Plugins that work, and reach for what is another's."""
