"""The readers of ordinary finishes specifications: lexicon, grammar, kinds."""

from __future__ import annotations

from functools import cache
from importlib import resources

from darby.api import Reader, Source, Vocabulary, hookimpl

DARBY_API = 1


@hookimpl
def darby_readers() -> list[Reader]:
    """The reader of facts."""
    return [_facts()]


@hookimpl
def darby_vocabulary() -> list[Vocabulary]:
    """Words that belong to no trade: units, places, signs, and what numbers measure that no trade orders."""
    return [_words()]


@cache  # the same as long as a program runs, since its tables are dear to load
def _facts() -> Reader:
    from darby_grammars.facts import Facts  # noqa: PLC0415 - only where text is read
    from darby_grammars.kinds import KINDS  # noqa: PLC0415

    grammar = Source.shipped(__name__, "facts.lark").text
    return Reader("facts", tuple(KINDS.values()), grammar, Facts(), _made("facts.tables"))


@cache
def _words() -> Vocabulary:
    return Vocabulary("grammars", Source.shipped(__name__, "lexicon.toml"), _made("lexicon.tables"))


def _made(name: str) -> bytes:
    """Tables that were made beforehand, where they are shipped."""
    tables = resources.files("darby_grammars").joinpath(name)
    return tables.read_bytes() if tables.is_file() else b""
