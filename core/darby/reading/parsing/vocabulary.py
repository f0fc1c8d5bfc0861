"""A vocabulary: the words that one plugin adds, as a TOML text.

Its tables say what a phrase is: `[words]` give a terminal of the grammar to phrases,
`[after_number]` do so only right behind a number or a "per" (where `in` is an inch and no preposition), `[aside]` give
the reason why a number next to the phrase is no quantity. Every other table names a scope key (`surface`, `sheen`), or
`subject`, and gives the phrases of each of its values; `["subject surface"]` gives two at once. A `["subject weak"]` is no
more than a material: where a label names another product, it is that one's. A phrase that ends in a subject in braces stands
only right before that subject: `standard {varnish}`. `[kinds]` says which kinds of fact a subject can have, and
`[measures]` which kind a bare measure of it is. `[heads]` says what the column of a table holds that has such a head.
`[sections]` says which sections of a project manual are its own, by `numbers` and words in `titles`, and by which words a clause
is its own wherever it stands (`outright`); see `ownership`.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from functools import cached_property

from attrs import frozen

from darby.text.spans import Source

OWN_TABLES = {
    "words",
    "after_number",
    "aside",
    "aside_all",
    "aside_next",
    "aside_after",
    "aside_unit",
    "ask",
    "holds",
    "surfaces",
    "only_for",
    "plain",
    "kinds",
    "measures",
    "implies",
    "implied_where",
    "known",
    "bands",
    "heads",
    "confirm",
    "general",
    "hues",
    "no_place",
    "numbered_place",
    "choices",
    "common",
    "telling",
    "sections",
}
"""Tables that name no scope key."""


@frozen(eq=False)
class Vocabulary:
    """Words that one plugin adds, as a TOML text; `name` is the plugin's, for saying who claimed a word."""

    name: str
    source: Source

    @cached_property
    def tables(self) -> Mapping[str, Mapping[str, object]]:
        """The parsed tables. Raises tomllib.TOMLDecodeError."""
        return tomllib.loads(self.source.text)


def strings(value: object) -> Sequence[str]:
    """The phrases that a table gives: one, or a list of them; none where it gives something else."""
    return [value] if isinstance(value, str) else [str(v) for v in value] if isinstance(value, list) else []
