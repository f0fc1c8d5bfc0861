"""A text read as a document of the job, with everything that is installed."""

from __future__ import annotations

import os
from functools import cache, lru_cache
from typing import Any

from darby.plugin_host.loader import load_plugins
from darby.reading.read import Language, Reading, read
from darby.rules.found_by import code_of
from darby.rules.rule import SPECIFICATION, Layer
from darby.testing.cases import rule_said
from darby.text.spans import Source


@cache
def language() -> Language:
    """The language of all readers and words that are installed."""
    plugins = load_plugins()
    return Language.of(plugins.readers, plugins.vocabularies)


def read_text(text: str, layer: Layer = SPECIFICATION, **how: Any) -> Reading:
    """The reading of a text: frozen, so that tests that ask of one text one after another share it."""
    return read_anew(text, layer, **how) if how else _read_text(text, layer)


def read_anew(text: str, layer: Layer = SPECIFICATION, **how: Any) -> Reading:
    """The reading of a text, made here and now, for tests of the reading itself."""
    return read(Source("spec.txt", text), layer, language(), **how)


_KEPT = 0 if os.environ.get("DARBY_TESTS_APART") else 500
"""Readings that are kept. Whoever listens to what each test runs has none kept."""
_read_text = lru_cache(_KEPT)(read_anew)


@cache
def paper(text: str, name: str = "spec.txt") -> Reading:
    """The reading of a specification that many tests amend or hold others against: it is frozen, and made once."""
    return read(Source(name, text), SPECIFICATION, language())


def said(text: str) -> list[str]:
    """All rules of a text, as cases write them."""
    return [rule_said(rule) for rule in read_text(text).rules]


def left(text: str) -> dict[str, str]:
    """The numbers of a text of which no rule was made, each with the reason; the numbers of paragraphs aside."""
    numbers = (n for n in read_text(text).numbers if n.became != "read" and "paragraph" not in n.why)
    return {n.span.text: n.why for n in numbers}


def found(text: str, part: str) -> list[str]:
    """By which rule of binding each rule's part (`subject`, `surface`) was found."""
    return [code_of(how) for rule in read_text(text).rules for key, how in rule.bound_by if key == part]


def asked(text: str) -> list[str]:
    """What a text is asked about."""
    return [d.message for d in read_text(text).diagnostics]
