"""A vocabulary: the words that one plugin adds, as a TOML text.

Its tables say what a phrase is: `[words]` give a terminal of the grammar to phrases,
`[after_number]` do so only right behind a number or a "per" (where `in` is an inch and no preposition), `[aside]` give
the reason why a number next to the phrase is no quantity. Every other table names a scope key (`surface`, `sheen`), or
`subject`, and gives the phrases of each of its values; `["subject surface"]` gives two at once. A `["subject weak"]` is no
more than a material: where a label names another product, it is that one's. A phrase that ends in a subject in braces stands
only right before that subject: `plain {varnish}`. `[kinds]` says which kinds of fact a subject can have, and
`[measures]` which kind a bare measure of it is. `[heads]` says what the column of a table holds that has such a head.
`[short_sorts]` has letters that tell a sort (`type`) only beside goods or another sort. `[by_label]` lists, for a key that chooses (`type`), those of its values that choose, behind the label of their goods everywhere: `Grout: type B`. `[marks]` lists marks of systems that are given somewhere outside the documents. `[alternates]` lists words by which one only takes away. `[replaced]` says what takes the place of a
subject on a surface: `codes` by their letters, `words` of a cell or of what a code stands for. `[stops_at]` says which goods work may
stop at (`oil only`), and what is left out then; see `limits`.
`[doubted_change]` has the `words` beside a change in an addendum that deny, condition or limit it, and phrases in which they are `harmless`.
`[units]` lists units of its own, each with what it is worth and then its spellings: `square = ["100 sq ft", "square", "squares"]`;
worth `container` is what goods come in. `[settings]` names trades whose settings stand in plain lines, which nobody reads for goods.
`[nothing]` has words of a cell that say that there is nothing, `[undone]` those `before` and `behind` places where nothing is done.
`[taken_over]` has the words that take over what another item says, and what stands before its number.
`[sections]` says which sections of a project manual are its own, by `numbers` and words in `titles`, and by which words a clause
is its own wherever it stands (`outright`); see `ownership`.
"""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from zlib import crc32

from attrs import field, frozen

from darby.quantities.own_units import adopt
from darby.quantities.units import Unit
from darby.text.spans import Source

NO_WORDS = frozenset(
    (
        "alternates",
        "bands",
        "by_label",
        "carrying",
        "choices",
        "common",
        "condition_letters",
        "confirm",
        "defining",
        "doubted_change",
        "general",
        "heads",
        "holds",
        "hues",
        "implied_where",
        "implies",
        "instead",
        "kinds",
        "known",
        "label_only",
        "layer_words",
        "marks",
        "measures",
        "mock_up",
        "no_place",
        "not_pointing",
        "nothing",
        "left_out",
        "loads",
        "numbered_place",
        "numbered_sides",
        "of_all",
        "only_for",
        "other_goods",
        "part_of_height",
        "place_nouns",
        "parties",
        "plain",
        "pointing",
        "ranges",
        "records",
        "replaced",
        "sections",
        "settings",
        "short_levels",
        "short_rooms",
        "short_sorts",
        "sided",
        "no_side",
        "coat_letters",
        "stops_at",
        "surfaces",
        "taken_over",
        "telling",
        "undone",
        "units",
        "where_surface",
        "which_one",
        "sorts",
    )
)
"""Tables that give no phrases a meaning."""


@frozen(eq=False)
class Vocabulary:
    """Words that one plugin adds, as a TOML text; `name` is the plugin's, for saying who claimed a word."""

    name: str
    source: Source
    made: bytes = field(repr=False, default=b"")
    """The text's tables made beforehand by `made_of`; only a saving of time, and left unused where they are not of this text."""

    @cached_property
    def tables(self) -> Mapping[str, Mapping[str, object]]:
        """The parsed tables. Raises tomllib.TOMLDecodeError."""
        stamp = _stamp(self.source.text)
        if self.made.startswith(stamp):
            return json.loads(self.made[len(stamp) :])  # type: ignore[no-any-return]
        return tomllib.loads(self.source.text)

    @property
    def units(self) -> Iterator[Unit]:
        """The units of its own, taken in where they were not yet. Raises UnitError where one cannot be."""
        for name, said in self.tables.get("units", {}).items():
            worth, *spellings = strings(said) or ("",)
            yield adopt(name, worth, tuple(spellings) or (name,))

    def words(self, *tables: str) -> Iterator[str]:
        """The words of all lists of some tables."""
        for table in tables:
            for some in self.tables.get(table, {}).values():
                yield from strings(some)


def strings(value: object) -> Sequence[str]:
    """The strings of a value that is one, or a list of them."""
    return [value] if isinstance(value, str) else [str(v) for v in value] if isinstance(value, list) else []


def made_of(text: str) -> bytes:
    """A vocabulary's text made into tables, for shipping beside it: a line that names the text, then JSON."""
    return _stamp(text) + json.dumps(tomllib.loads(text), ensure_ascii=False, separators=(",", ":")).encode()


def _stamp(text: str) -> bytes:
    return f"{crc32(text.encode()):08x}\n".encode()
