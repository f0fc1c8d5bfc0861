"""A text read as a document of the job, with everything that is installed."""

from __future__ import annotations

from functools import cache
from typing import Any

from darby.plugin_host.loader import load_plugins
from darby.reading.read import Language, Reading, read
from darby.rules.rule import SPECIFICATION, Layer
from darby.text.spans import Source


@cache
def language() -> Language:
    """The language of all readers and words that are installed."""
    plugins = load_plugins()
    return Language.of(plugins.readers, plugins.vocabularies)


def read_text(text: str, layer: Layer = SPECIFICATION, **how: Any) -> Reading:
    """The reading of a text."""
    return read(Source("spec.txt", text), layer, language(), **how)
