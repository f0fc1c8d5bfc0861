"""The words the reader knows, and the tagger that finds them and every number in a text."""

from __future__ import annotations

from attrs import frozen

from darby.text import Source


@frozen(eq=False)
class Vocabulary:
    """Words that one plugin adds, as a TOML text; `name` is the plugin's, for saying who claimed a word."""

    name: str
    source: Source
