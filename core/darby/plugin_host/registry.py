"""What the plugins brought, side by side: whose a name is where two bring one, and which trade takes the place of which."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any, TypeVar

from attrs import evolve

from darby.estimate.document_format import Document
from darby.job.rows.declared import JobTable
from darby.plugin_host.discovery import Found
from darby.plugin_host.model import Failed, Plugins, Provided, Taken
from darby.plugin_host.validation import HOOKS, SURFACES, sound_claims
from darby.plugin_host.word_ownership import Guest, products, settle
from darby.reading.parsing.fact_parser import Reader
from darby.reading.parsing.vocabulary import Vocabulary
from darby.rules.rule import Kind
from darby.text.diagnostics import Diagnostic, Severity, problem
from darby.text.files import nearest
from darby.text.spans import Source

_T = TypeVar("_T", Reader, Document)


class Registry:
    """Takes what plugins bring, one by one; what it has learned is frozen by `result`."""

    def __init__(self, told: list[Diagnostic]) -> None:
        self._told = told
        self._failed: list[Failed] = []
        self._names: dict[str, str] = {}
        self._own: set[str] = set()
        self._found: dict[str, list[tuple[str, Any]]] = {hook: [] for hook in HOOKS}

    def enter(self, found: Found) -> bool:
        """Takes the name of a plugin down; False where another one has it."""
        if found.name in self._names:
            return False
        self._names[found.name] = found.version
        if found.own:
            self._own.add(found.name)
        return True

    def take(self, name: str, hook: str, things: Iterable[Any]) -> None:
        """What a plugin gave by one of its hooks."""
        self._found[hook].extend((name, thing) for thing in things)

    def met(self, found: Found, seconds: float) -> Taken:
        """What became of a plugin that was loaded."""
        brings = {
            hook.removeprefix("darby_"): tuple(thing.name for plugin, thing in things if plugin == found.name)
            for hook, things in self._found.items()
        }
        given = {hook: names for hook, names in brings.items() if names}
        failed = any(failed.plugin == found.name for failed in self._failed)
        asks = [thing for plugin, thing in self._found["darby_trades"] if plugin == found.name]
        tables = tuple(table.told for trade in asks for table in trade.tables)
        tables += tuple(f"[settings.{trade.name}] {key.told}" for trade in asks for key in trade.settings)
        state = "works" if not failed else "works in part" if given else "failed"
        return Taken(found.name, found.version, found.origin, state, given, round(seconds * 1000), tables)

    def note(self, told: Diagnostic) -> None:
        """What is to be said of a plugin that works."""
        self._told.append(told)

    def tell(self, code: str, message: str, name: str, missing: str, *, help: str = "") -> None:
        """What is wrong with a plugin, and what of it is missing for that."""
        way_out = help or f"Tell its author, or run without it: --without {name}."
        self._told.append(problem(code, message, severity=Severity.WARNING, help=way_out))
        self._failed.append(Failed(name, missing))

    def result(self) -> Plugins:
        """All that the plugins bring, sorted by name, and what is to be said of them."""
        trades, replacing = self._trades()
        readers = self._readers()
        words = [(plugin, thing) for plugin, thing in self._found["darby_vocabulary"]]
        trades = self._sound(trades, [r for _, r in readers], [w for _, w in words])
        words += [(p.plugin, _settings_of(p)) for p in trades if p.trade.settings]
        own = tuple((plugin, thing) for plugin, thing in words if plugin in self._own)
        guests = tuple(
            Guest(
                name, self._names[name], tuple(r for p, r in readers if p == name), tuple(w for p, w in words if p == name),
                tuple(replacing.get(name, ())),
            )
            for name in sorted(self._names.keys() - self._own)
        )  # fmt: skip
        return Plugins(
            trades,
            tuple(thing for _, thing in readers),
            settle(own, guests)[0],
            tuple(sorted((d for _, d in self._unique("darby_documents", Document)), key=lambda d: d.name)),
            tuple(self._told),
            tuple(dict.fromkeys(self._failed)),
            tuple(sorted(self._names.items())),
            tuple(g for g in guests if g.readers or g.vocabularies),
            words=own,
        )

    def _sound(
        self, trades: Iterable[Provided], readers: Iterable[Reader], words: Iterable[Vocabulary]
    ) -> tuple[Provided, ...]:
        """The trades, without claims of which a word is known to nobody; each of these is told."""
        found = tuple(trades)
        if not any(one.trade.claims for one in found):
            return found
        kinds = {kind.name for reader in readers for kind in reader.kinds}
        goods, tables = products(words), {table.kind for one in found for table in one.trade.tables}
        out = []
        for one in found:
            sound, wrong = sound_claims(one, kinds, goods, SURFACES | tables) if kinds else (one, [])
            for message, way_out in wrong:
                self.tell("claim-unknown", message, one.plugin, f"claim of {one.trade.name}", help=way_out)
            out.append(sound)
        return tuple(out)

    def _unique(self, hook: str, kind: type[_T]) -> list[tuple[str, _T]]:
        """What the plugins gave by one hook, those of one name left out but the first."""
        kept: dict[str, tuple[str, _T]] = {}
        for plugin, thing in self._found[hook]:
            if thing.name in kept:
                message = f"{kept[thing.name][0]} and {plugin} both bring a {kind.__name__.lower()} called {thing.name}; the first is used."
                self.tell("name-twice", message, plugin, f"{kind.__name__.lower()} {thing.name}")
            else:
                kept[thing.name] = (plugin, thing)
        return list(kept.values())

    def _readers(self) -> list[tuple[str, Reader]]:
        """Darby's own first, and each kind defined once."""
        defined: dict[str, tuple[str, Kind]] = {}
        out: list[tuple[str, Reader]] = []
        for plugin, reader in self._unique("darby_readers", Reader):
            for kind in reader.kinds:
                first, known = defined.setdefault(kind.name, (plugin, kind))
                if known != kind:
                    message = f"{first} and {plugin} both define the kind {kind.name}; it stays what {first} says."
                    self._told.append(problem("kind-twice", message, severity=Severity.WARNING))
            kinds, outside = tuple(k for k in reader.kinds if defined[k.name][1] is k), plugin not in self._own
            same = kinds == reader.kinds and outside == reader.outside
            out.append((plugin, reader if same else evolve(reader, kinds=kinds, outside=outside)))
        return out

    def _trades(self) -> tuple[tuple[Provided, ...], dict[str, list[str]]]:
        """The trades, sorted by name, those that are replaced left out; the same whatever order they came in.

        With them, for each plugin that replaces a trade, the plugins whose trades it replaces.
        """
        offered = sorted(
            (
                Provided(trade, plugin, self._names[plugin], plugin in self._own)
                for plugin, trade in self._found["darby_trades"]
            ),
            key=lambda p: (p.trade.name, not p.own, p.plugin),
        )
        replacing: dict[str, list[str]] = {}
        gone: dict[int, Provided] = {}
        for new in offered:
            if not new.trade.replaces or id(new) in gone:
                continue
            old = [p for p in offered if p.trade.name == new.trade.replaces and p is not new]
            rivals = [gone[id(p)] for p in old if id(p) in gone]
            if rivals:
                message = (
                    f"{rivals[0].plugin} and {new.plugin} both replace the trade {new.trade.replaces}; the first does."
                )
                self.tell("trade-twice", message, new.plugin, new.trade.name)
                gone[id(new)] = rivals[0]
            elif old:
                gone.update((id(p), new) for p in old)
                replacing.setdefault(new.plugin, []).extend(p.plugin for p in old)
                message = f"The trade {new.trade.replaces} of {old[0].plugin} is replaced by {new.trade.name} of {new.plugin}."
                self._told.append(problem("trade-replaced", message, severity=Severity.NOTE))
            else:
                close = nearest(new.trade.replaces, (p.trade.name for p in offered if p is not new))
                message = f"The trade {new.trade.name} of {new.plugin} replaces {new.trade.replaces}, and there is no such trade."
                way_out = f"Did you mean {close}?" if close else ""
                self._told.append(problem("replaces-nothing", message, severity=Severity.WARNING, help=way_out))
        kept: dict[str, Provided] = {}
        for one in offered:
            if id(one) in gone:
                continue
            if one.trade.name in kept:
                first = kept[one.trade.name].plugin
                message = (
                    f"{first} and {one.plugin} both bring a trade called {one.trade.name}; that of {first} is used."
                )
                way_out = f'Run without one of them, or let one say replaces = "{one.trade.name}".'
                self.tell("trade-twice", message, one.plugin, one.trade.name, help=way_out)
            else:
                kept[one.trade.name] = one
        return tuple(self._with_tables(kept.values())), replacing

    def _with_tables(self, trades: Iterable[Provided]) -> Iterator[Provided]:
        """The trades, each without the tables of a job that another brings too: Darby's own come first, then by plugin."""
        owners: dict[str, str] = {}
        taken: dict[str, list[JobTable]] = {}
        for one in sorted(trades, key=lambda p: (not p.own, p.plugin, p.trade.name)):
            for table in one.trade.tables:
                owner = next((owners[word] for word in (table.name, table.kind) if word in owners), None)
                if owner is None:
                    owners |= dict.fromkeys((table.name, table.kind), one.plugin)
                    taken.setdefault(one.trade.name, []).append(table)
                    continue
                message = f"{owner} and {one.plugin} both bring the table {table.name} of a job; it stays with {owner}."
                self.tell("table-twice", message, one.plugin, f"table {table.name}")
        for one in trades:
            tables = tuple(taken.get(one.trade.name, ()))
            yield one if tables == one.trade.tables else evolve(one, trade=evolve(one.trade, tables=tables))


def _settings_of(provided: Provided) -> Vocabulary:
    """What tells a reader which lines set something of a trade."""
    keys = ", ".join(f'"{key.name}"' for key in provided.trade.settings)
    return Vocabulary(
        provided.plugin, Source(f"settings of {provided.plugin}", f"[settings]\n{provided.trade.name} = [{keys}]\n")
    )
