"""Whose word is whose: the vocabularies of all plugins settled, so that none takes a word or a product from another.

Darby's own words come first, then those of other plugins by name; a plugin that replaces a trade comes before the plugin
whose trade it replaces. A word stays with whoever comes first. One exception: a word that only says why a number is no
order of ours gives way to a plugin that knows what to make of it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from attrs import field, frozen

from darby.quantities.units import STANDARD
from darby.reading.parsing.fact_parser import Reader
from darby.reading.parsing.vocabulary import NO_WORDS, Vocabulary
from darby.text.diagnostics import Diagnostic, Severity, problem

_BY_SUBJECT = frozenset({"kinds", "measures", "holds"})
_BY_KIND = frozenset({"known", "implies", "implied_where", "bands"})
_SHELVES = {"after_number": "number", "aside_after": "number", "aside_unit": "unit"}
"""Tables whose phrases count only right behind a number or a unit; all others share one shelf."""


def _sets_aside(table: str) -> bool:
    return table.startswith("aside")


@frozen(eq=False)
class Guest:
    """What a plugin that is not Darby's own brings to the reading of text."""

    plugin: str
    version: str = ""
    readers: tuple[Reader, ...] = ()
    vocabularies: tuple[Vocabulary, ...] = ()
    replaces: tuple[str, ...] = ()
    """Plugins whose trades it takes the place of."""

    @property
    def who(self) -> str:
        """Its name and version."""
        return f"{self.plugin} {self.version}".rstrip()


@frozen(eq=False)
class _Settled(Vocabulary):
    """A vocabulary without what others claimed before."""

    kept: Mapping[str, Mapping[str, object]] = field(factory=dict, repr=False)

    @property
    def tables(self) -> Mapping[str, Mapping[str, object]]:
        return self.kept


Owned = tuple[str, Vocabulary]
"""A plugin's name and a vocabulary of it."""


def settle(own: Sequence[Owned], guests: Iterable[Guest]) -> tuple[tuple[Vocabulary, ...], tuple[Diagnostic, ...]]:
    """All vocabularies in their order, each without what is another's, and what is to be told of that.

    A vocabulary that is no TOML stays as it is; whoever reads with it finds out.
    """
    guests = sorted(guests, key=lambda g: g.plugin)
    ordered: list[Owned] = list(own)
    for guest in guests:
        at = next((n for n, (plugin, _) in enumerate(ordered) if plugin in guest.replaces), len(ordered))
        ordered[at:at] = [(guest.plugin, v) for v in guest.vocabularies]
    strangers = {guest.plugin for guest in guests if guest.vocabularies}
    if not strangers:
        return tuple(v for _, v in ordered), ()
    ledger = _Ledger(strangers, {w for p, v in ordered if p in strangers for w in _meant(v)})
    return tuple(ledger.settled(plugin, v) for plugin, v in ordered), tuple(ledger.told)


def products(vocabularies: Iterable[Vocabulary]) -> frozenset[str]:
    """The things that some vocabularies name."""
    rows = (row for v in vocabularies for table, row in _tables(v) if "subject" in table.split())
    return frozenset(value.split(" / ")[0] for row in rows for value in row)


def meaning(phrase: str, vocabularies: Iterable[Vocabulary]) -> tuple[str, str] | None:
    """To whom a phrase means something, and what, words that only set a number aside apart; None where to nobody."""
    for vocabulary in vocabularies:
        for table, rows in _tables(vocabulary):
            if not (_sets_aside(table) or table in NO_WORDS):
                for value, said in rows.items():
                    if phrase in (p.lower() for p in _texts(said)):
                        return vocabulary.name, _shown(table, value)
    return None


class _Ledger:
    """Who claimed what, in the order in which the vocabularies come by."""

    def __init__(self, strangers: set[str], meant: set[str]) -> None:
        self.told: list[Diagnostic] = []
        self._strangers = strangers
        self._meant = meant
        """Words that strangers make something of."""
        self._phrases: dict[tuple[str, str], tuple[str, tuple[str, str]]] = {
            ("number", spelling): ("units", ("unit", unit.name)) for unit in STANDARD for spelling in unit.spellings
        }
        self._owners: dict[tuple[str, str], str] = {}

    def settled(self, plugin: str, vocabulary: Vocabulary) -> Vocabulary:
        """The vocabulary without what somebody before it claimed."""
        tables = dict(_tables(vocabulary))
        for subject in products([vocabulary]):
            self._owners.setdefault(("subject", subject), plugin)
        kept = {table: dict(self._rows(plugin, table, rows)) for table, rows in tables.items()}
        return vocabulary if kept == tables else _Settled(vocabulary.name, vocabulary.source, kept=kept)

    def _rows(self, plugin: str, table: str, rows: Mapping[str, Any]) -> Iterator[tuple[str, Any]]:
        for value, said in rows.items():
            if table in _BY_SUBJECT or table in _BY_KIND:
                of = ("subject", value) if table in _BY_SUBJECT else (table, value)
                owner = self._owners.setdefault(of, plugin)
                if self._rivals(owner, plugin):
                    self._tell(f"{plugin} says in [{table}] what {value} is; that is for {owner} to say.", plugin)
                else:
                    yield value, said
            elif table == "ranges" and isinstance(said, dict):
                yield value, dict(self._ranges(plugin, value, said))
            elif table in NO_WORDS:
                yield value, said
            else:
                yield value, [p for p in _texts(said) if self._claim(plugin, table, value, p)]

    def _ranges(self, plugin: str, kind: str, said: Mapping[str, Any]) -> Iterator[tuple[str, Any]]:
        """What is usual of goods of its own; what is of another's is for that one to say."""
        for name, ends in said.items():
            subject = name.partition(" / ")[0]
            owner = self._owners.get(("subject", subject), plugin)
            if self._rivals(owner, plugin):
                self._tell(
                    f"{plugin} says in [ranges.{kind}] what is usual of {subject}; that is for {owner} to say.", plugin
                )
            else:
                yield name, ends

    def _claim(self, plugin: str, table: str, value: str, phrase: str) -> bool:
        phrase = phrase.lower()
        if _sets_aside(table) and plugin not in self._strangers and phrase in self._meant:
            return False
        owner, meaning = self._phrases.setdefault((_SHELVES.get(table, "word"), phrase), (plugin, (table, value)))
        if meaning == (table, value) or not self._rivals(owner, plugin):
            return True
        self._tell(
            f"{owner} and {plugin} both claim the word “{phrase}”; it stays {_shown(*meaning)}, as {owner} says.",
            plugin,
        )
        return False

    def _rivals(self, owner: str, plugin: str) -> bool:
        """Darby's own plugins share words among themselves."""
        return owner != plugin and bool({owner, plugin} & self._strangers)

    def _tell(self, message: str, plugin: str) -> None:
        way_out = f"The author of {plugin} can choose a longer phrase, or let its trade replace the other."
        self.told.append(problem("word-twice", message, severity=Severity.WARNING, help=way_out))


def _shown(table: str, value: str) -> str:
    return value if table not in ("words", "after_number") else f"the {table.replace('_', ' ')} {value}"


def _meant(vocabulary: Vocabulary) -> Iterator[str]:
    """The phrases of a vocabulary that do more than set a number aside."""
    for table, rows in _tables(vocabulary):
        if not (_sets_aside(table) or table in NO_WORDS):
            for said in rows.values():
                yield from (p.lower() for p in _texts(said))


def _texts(said: object) -> list[str]:
    return (
        [said] if isinstance(said, str) else [p for p in said if isinstance(p, str)] if isinstance(said, list) else []
    )


def _tables(vocabulary: Vocabulary) -> Iterator[tuple[str, Mapping[str, Any]]]:
    """The tables of a vocabulary; none where it cannot be parsed."""
    try:
        tables = vocabulary.tables
    except Exception:  # no TOML: the reading tells it
        return
    yield from ((table, rows) for table, rows in tables.items() if isinstance(rows, dict))
