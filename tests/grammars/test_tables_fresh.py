"""The tables that ship beside the grammar are of this grammar: made anew by `python -m darby_grammars`."""

from __future__ import annotations

import os
import subprocess
import sys
import tomllib
from functools import cache
from importlib import resources

import pytest

from darby.reading.parsing.fact_parser import Reader, tables_of
from darby.reading.parsing.vocabulary import Vocabulary
from darby.text.spans import Source
from darby_grammars import darby_readers, darby_vocabulary

WORDS = resources.files("darby_grammars").joinpath("lexicon.toml").read_text(encoding="utf-8")
MADE = resources.files("darby_grammars").joinpath("lexicon.tables").read_bytes()
GRAMMAR = resources.files("darby_grammars").joinpath("facts.lark").read_text(encoding="utf-8")
TABLES = resources.files("darby_grammars").joinpath("facts.tables").read_bytes()


@cache
def made() -> bytes:
    """The tables made anew."""
    return tables_of(GRAMMAR)


def stamp(tables: bytes) -> tuple[bytes, ...]:
    """What the first line says: lark, its version, and the sum of the grammar."""
    return tuple(tables.split(b"\n", 1)[0].split())


def test_the_tables_are_of_this_grammar() -> None:
    fresh = stamp(made())
    assert (stamp(TABLES)[0], stamp(TABLES)[2]) == (fresh[0], fresh[2])


def test_the_same_grammar_makes_the_same_tables_however_the_process_hashes() -> None:
    script = "import sys; from darby.reading.parsing.fact_parser import tables_of; sys.stdout.buffer.write(tables_of(sys.stdin.read()))"
    environment = {**os.environ, "PYTHONHASHSEED": "7"}
    given = GRAMMAR.encode()
    other = subprocess.run(
        (sys.executable, "-c", script), input=given, capture_output=True, env=environment, check=True
    )
    assert other.stdout == made()
    if stamp(TABLES) == stamp(other.stdout):
        assert other.stdout == TABLES, "run `python -m darby_grammars`"


def test_the_tables_of_the_words_say_what_the_words_say(monkeypatch: pytest.MonkeyPatch) -> None:
    wanted = tomllib.loads(WORDS)
    [vocabulary] = darby_vocabulary()

    def loads(text: str) -> None:
        raise AssertionError("the words were parsed although their tables are here")

    monkeypatch.setattr(tomllib, "loads", loads)
    assert vocabulary.tables == wanted


def test_tables_of_other_words_are_left_unused() -> None:
    assert Vocabulary("small", Source("small", '[word]\n"x" = ["kelp"]\n'), MADE).tables == {"word": {"x": ["kelp"]}}


def test_the_tables_are_used_where_they_are_of_this_lark(monkeypatch: pytest.MonkeyPatch) -> None:
    import darby.reading.parsing.fact_parser as parser

    if stamp(TABLES) != stamp(made()):
        pytest.skip("another version of lark is installed than made the tables")

    def built(grammar: str) -> None:
        raise AssertionError("the grammar was compiled although its tables are here")

    monkeypatch.setattr(parser, "_built", built)
    assert "NUMBER" in darby_readers()[0].begins


def test_tables_of_another_grammar_are_left_unused() -> None:
    small = "start: A\n%declare A\n"
    assert "A" in Reader("small", (), small, None, TABLES).begins
