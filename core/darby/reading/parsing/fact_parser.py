"""Readers: a grammar over tags and what its trees mean. The only module that imports lark, inside functions."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from functools import cached_property
from typing import TYPE_CHECKING, Any

from attrs import field, frozen

from darby.quantities.units import Unit
from darby.reading.parsing.tagging.tag import Tag
from darby.rules.rule import Bound, Kind

if TYPE_CHECKING:
    from lark import Lark, Token
    from lark.parsers.lalr_interactive_parser import InteractiveParser

_LONGEST = 24
"""Tags in one attempt: no fact is longer, and a cap keeps hostile text linear."""


@frozen
class Quantity:
    """A number, or a range, and its unit, as said in the tags from `start` up to `end` of a clause."""

    low: Fraction
    unit: Unit
    high: Fraction | None = None

    @property
    def size(self) -> Fraction:
        """Size of the lower end in base units."""
        return self.low * self.unit.factor


@frozen
class Fact:
    """What one stretch of a clause says, before it is known of what: the meaning of a tree.

    `kind` names a kind of rule, or is empty where only a bare measure stands there and the words around it must tell.
    A `why` makes it no rule: it is set aside for that reason, or with `doubt` asked about.
    """

    kind: str
    amount: Quantity | None = None
    per: Quantity | None = None
    by: Quantity | None = None
    bound: Bound = "exact"
    scope: tuple[tuple[str, str], ...] = ()
    twin: tuple[Quantity, Quantity | None] | None = None
    """The same said in the other unit system: amount and per."""
    subject: str = ""
    """A subject that stands inside the fact itself."""
    why: str = ""
    doubt: str = ""
    start: int = 0
    end: int = 0
    """Tags of the clause that it was read from."""
    place: int = 0
    """Where its first tag begins in the clause's text."""
    over: int = 0
    """Where its last tag ends."""
    choice: str = ""
    """What it chooses in words, where it states no number: `by weight`."""
    taker: str = ""
    """The noun right beside it that no list knows, and that takes its number: `24 x 36 in. whiteboards`."""


class Refused(Exception):  # noqa: N818 - it is no error: the words are looked at again, a shorter run of them
    """Raised by what a part of a fact means, where the words fit the grammar and make no sense."""


@frozen(eq=False, slots=False)
class Reader:
    """A grammar (lark, LALR, rule `start`, terminals declared and fed from tags) and what its trees mean.

    `meaning` has a method for each rule or alias that is to mean something; it is called with the list of what the parts
    mean (a tag for each terminal) and returns a `Fact` for the whole, or None to refuse what was matched; a method for a
    part of it raises `Refused`. What says two things at once (`2 x 12.5 mm`) gives a list of facts, each with the tags
    `start` up to `end` of the run that it was read from, counted from the first or (below nought) from behind the last.
    """

    name: str
    kinds: tuple[Kind, ...]
    grammar: str = field(repr=False, default="")
    meaning: Any = field(repr=False, default=None)
    tables: bytes = field(repr=False, default=b"")
    """The grammar made into tables beforehand by `tables_of`; only a saving of time, and left unused where they are not
    of this grammar and this lark."""
    outside: bool = False
    """Whether it is a plugin's that is not Darby's own, which is set where it is taken in: what goes wrong in it is then the
    plugin's failure, and no clause's."""

    @cached_property
    def _fresh(self) -> InteractiveParser:
        return _parser(self.grammar, self.tables).parse_interactive()

    @cached_property
    def begins(self) -> frozenset[str]:
        """Terminals with which a fact can begin."""
        return frozenset(_choices(self._fresh))

    def facts(self, tags: Sequence[Tag], text: str) -> Iterator[Fact]:
        """The longest fact at each place of a clause where one can begin, without overlap, in order."""
        tokens = [self._token(tag) for tag in tags]
        apart = _gaps(tags, text)
        begins, at = self.begins, 0
        while at < len(tokens):
            if tokens[at].type not in begins:
                at += 1
                continue
            found, end = self._longest(tokens, apart, at)
            yield from found
            at = end

    def _token(self, tag: Tag) -> Token:
        from lark import Token  # noqa: PLC0415

        token = Token(tag.name.upper(), "")
        token.value = tag
        return token

    def _longest(self, tokens: Sequence[Token], apart: frozenset[int], at: int) -> tuple[list[Fact], int]:
        """What the longest run of tags says that means something, and where to go on."""
        from lark.exceptions import UnexpectedInput  # noqa: PLC0415

        parser = _copy(self._fresh)
        stops: list[int] = []
        end = at
        while end < len(tokens) and end - at < _LONGEST and not (end > at and end in apart):
            if tokens[end].type not in _choices(parser):
                break
            try:
                parser.feed_token(tokens[end])
            except UnexpectedInput:
                break
            end += 1
            if "$END" in _choices(parser):
                stops.append(end)
        for stop in reversed(stops):
            if stop != end:
                parser = _copy(self._fresh)
                try:
                    for token in tokens[at:stop]:
                        parser.feed_token(token)
                except UnexpectedInput:
                    continue
            try:
                tree = _finish(parser)
            except UnexpectedInput:
                end = -1
                continue
            end = -1
            try:
                meant = _meaning(tree, self.meaning)
            except Refused:
                continue
            facts = meant if isinstance(meant, list) else [meant]
            if facts and all(isinstance(fact, Fact) for fact in facts):
                return [_placed(fact, tokens, at, stop) for fact in facts], stop
        return [], at + 1


def _placed(fact: Fact, tokens: Sequence[Token], at: int, stop: int) -> Fact:
    """A fact with the tags it was read from: all of them, or those that its meaning counts from either end."""
    from attrs import evolve  # noqa: PLC0415

    start = fact.start + (at if fact.start >= 0 else stop)
    end = fact.end + (at if fact.end > 0 else stop)
    return evolve(fact, start=start, end=end, place=tokens[start].value.start, over=tokens[end - 1].value.end)


def _choices(parser: InteractiveParser) -> Any:
    return parser.choices()  # type: ignore[no-untyped-call]


def _copy(parser: InteractiveParser) -> InteractiveParser:
    return parser.copy(deepcopy_values=False)  # type: ignore[no-untyped-call, no-any-return]


def _finish(parser: InteractiveParser) -> Any:
    return parser.feed_eof()  # type: ignore[no-untyped-call]


def _gaps(tags: Sequence[Tag], text: str) -> frozenset[int]:
    """Tags before which words stand that nobody knows: no fact reaches over them."""
    return frozenset(n for n in range(1, len(tags)) if _WORD.search(text, tags[n - 1].end, tags[n].start))


_WORD = re.compile(r"(?!(?:the|an?)\b)\b[^\W_]", re.IGNORECASE)
"""A word other than an article, which stands in nobody's way."""


def tables_of(grammar: str) -> bytes:
    """A grammar made into tables, for shipping beside it: a line that names lark's version and the grammar, then lark's own.

    The same grammar and lark give the same bytes.
    """
    import io  # noqa: PLC0415
    import pickle  # noqa: PLC0415

    made = io.BytesIO()
    _built(grammar).save(made)
    tables = pickle.loads(made.getvalue())
    parser = tables["data"]["parser"]
    parser["parser"] = _in_order(parser["parser"])
    return _stamp(grammar) + pickle.dumps(_interned(tables), protocol=pickle.HIGHEST_PROTOCOL)


def _in_order(table: Mapping[str, Any]) -> dict[str, Any]:
    """A parse table with its states and terminals numbered as they are met from the start: lark numbers them as sets hash."""
    name, states = table["tokens"], table["states"]
    tokens = {old: new for new, old in enumerate(sorted(name, key=name.__getitem__))}
    steps: dict[int, dict[int, tuple[int, Any]]] = {state: {} for state in table["start_states"].values()}
    queue = list(steps)
    for state in queue:
        steps[state] = {tokens[t]: states[state][t] for t in sorted(states[state], key=tokens.__getitem__)}
        further = dict.fromkeys(to for reduce, to in steps[state].values() if not reduce and to not in steps)
        steps |= {to: {} for to in further}
        queue += further
    number = {state: n for n, state in enumerate(queue)}
    return {
        "tokens": {tokens[t]: name[t] for t in sorted(tokens, key=tokens.__getitem__)},
        "states": {
            number[s]: {t: (reduce, to if reduce else number[to]) for t, (reduce, to) in steps[s].items()}
            for s in queue
        },
        "start_states": {start: number[s] for start, s in table["start_states"].items()},
        "end_states": {start: number[s] for start, s in table["end_states"].items()},
    }


def _interned(value: Any) -> Any:
    """The same with one object for equal strings, since what is pickled hangs on which are one."""
    if isinstance(value, str):
        return sys.intern(value)
    if isinstance(value, dict):
        return {_interned(key): _interned(held) for key, held in value.items()}
    return type(value)(map(_interned, value)) if isinstance(value, list | tuple) else value


def _parser(grammar: str, tables: bytes) -> Lark:
    """The grammar's parser, from its tables where they are of this grammar and this lark."""
    stamp = _stamp(grammar)
    if not tables.startswith(stamp):
        return _built(grammar)
    import io  # noqa: PLC0415

    from lark import Lark  # noqa: PLC0415 - lark is dear and only needed when there is text

    return Lark.load(io.BytesIO(tables[len(stamp) :]))


def _built(grammar: str) -> Lark:
    from lark import Lark  # noqa: PLC0415

    return Lark(grammar, parser="lalr", lexer="basic", maybe_placeholders=False)


def _stamp(grammar: str) -> bytes:
    from zlib import crc32  # noqa: PLC0415

    from lark import __version__  # noqa: PLC0415

    return f"lark {__version__} {crc32(grammar.encode()):08x}\n".encode()


def _meaning(tree: Any, meaning: Any) -> Any:
    """What a tree means: its rule's method called with what its parts mean, a tag for each terminal; else the parts."""
    if not hasattr(tree, "children"):
        return tree.value
    parts = [_meaning(child, meaning) for child in tree.children]
    if tree.data == "start":
        return parts[0]
    method = getattr(meaning, tree.data, None)
    return parts if method is None else method(parts)
