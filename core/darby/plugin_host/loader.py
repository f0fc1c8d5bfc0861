"""Plugins: found, sorted, loaded one by one, checked. What one breaks is told, and costs its own contribution only."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

from attrs import evolve, frozen

from darby.estimate.document_format import Document
from darby.estimate.model import Estimate
from darby.estimate.trade import Trade
from darby.plugin_host.discovery import GROUP, Entry, Found, find
from darby.plugin_host.sandbox import Verdict, quiet, rehearse
from darby.plugin_host.validation import HOOKS, raised, unsound
from darby.plugin_host.word_ownership import Guest, Owned, settle
from darby.reading.parsing.fact_parser import Reader
from darby.reading.parsing.lexicon import Vocabulary
from darby.rules.rule import Kind
from darby.text.diagnostics import Diagnostic, Severity, problem
from darby.text.files import nearest

if TYPE_CHECKING:
    import pluggy

API = 1

_T = TypeVar("_T", Reader, Document)


@frozen(eq=False)
class Provided:
    """A trade and the plugin that brought it."""

    trade: Trade
    plugin: str
    version: str
    own: bool = False
    """Whether it came with Darby itself; what did not is rehearsed before it runs."""


@frozen
class Failed:
    """A plugin that broke, and what of it is missing: `everything`, or the things one of its hooks gives."""

    plugin: str
    missing: str

    def __str__(self) -> str:
        return self.plugin if self.missing == "everything" else f"{self.plugin} ({self.missing})"


@frozen(eq=False)
class Plugins:
    """All that the plugins bring, sorted by name, and what is to be said of them."""

    trades: tuple[Provided, ...] = ()
    readers: tuple[Reader, ...] = ()
    vocabularies: tuple[Vocabulary, ...] = ()
    documents: tuple[Document, ...] = ()
    diagnostics: tuple[Diagnostic, ...] = ()
    failed: tuple[Failed, ...] = ()
    names: tuple[tuple[str, str], ...] = ()
    """Name and version of every plugin that was loaded."""
    guests: tuple[Guest, ...] = ()
    """What plugins that are not Darby's own bring to the reading of text; it is among readers and vocabularies too."""
    away: tuple[str, ...] = ()
    """Plugins that were left out or failed: a line that nobody understands may be theirs."""
    words: tuple[Owned, ...] = ()
    """Darby's own vocabularies as they are, each with its plugin; in `vocabularies` some words may have changed hands."""


def load_plugins(
    *,
    without: Iterable[str] = (),
    only: Iterable[str] | None = None,
    files: Iterable[Path] = (),
    entries: Iterable[Entry] | None = None,
) -> Plugins:
    """Load the installed plugins and those in `files` (one Python file each, named by its stem).

    `without` blocks plugins by name, `only` blocks all but those it names (readers are plugins too, so a list without
    them reads nothing). `entries` stands for the entry points of the group `darby`. A plugin that does not import,
    raises, hangs or returns what it should not is a warning that names it; it never raises here. Darby's own plugins
    come first, so that what they bring stays theirs; all others are rehearsed in a child process before they are loaded.
    """
    wanted, left_out, told = find(entries, files, tuple(without), None if only is None else tuple(only))
    collector = _Collector(told)
    strangers = [f for f in wanted if not f.own]
    verdicts = dict(zip(strangers, rehearse([partial(_rehearsed, f) for f in strangers], raised), strict=True))
    with quiet():
        for one in wanted:
            collector.load(one, verdicts.get(one, Verdict()).failure)
    done = collector.result()
    return evolve(done, away=(*left_out, *dict.fromkeys(f.plugin for f in done.failed)))


def _rehearsed(found: Found) -> Verdict:
    """In the rehearsal: load it as will be done here. What it gets wrong is told then; that it gets done is what counts."""
    _Collector([]).load(found)
    return Verdict()


class RefusedError(Exception):
    """Code of a plugin that failed its rehearsal and was not run; the text says why."""


def _make(make: Callable[[Estimate], str | bytes], made: Estimate) -> str | bytes:
    """A document of a plugin from outside, made once its rehearsal has gone well. Raises RefusedError."""

    def rehearsed() -> Verdict:
        try:
            make(made)
        except MemoryError:
            raise
        except Exception:  # it is raised here, too
            return Verdict()
        return Verdict()

    (verdict,) = rehearse([rehearsed], raised)
    if verdict.failure:
        raise RefusedError(verdict.failure)
    with quiet():
        return make(made)


class _Collector:
    """Takes plugins one by one; what it has learned is frozen by `result`."""

    def __init__(self, told: list[Diagnostic]) -> None:
        import pluggy  # noqa: PLC0415 - not wanted for --help

        from darby.plugin_host import hooks  # noqa: PLC0415 - it imports pluggy

        self._manager: pluggy.PluginManager = pluggy.PluginManager(GROUP)
        self._manager.add_hookspecs(hooks)
        self._told = told
        self._failed: list[Failed] = []
        self._names: dict[str, str] = {}
        self._own: set[str] = set()
        self._found: dict[str, list[tuple[str, Any]]] = {hook: [] for hook in HOOKS}

    def load(self, found: Found, failure: str = "") -> None:
        """Load one plugin, unless its rehearsal failed."""
        name, who = found.name, found.who
        if name in self._names:
            self._tell("plugin-twice", f"Two plugins are called {name}; {who} is left out.", name, "everything",
                       help="Uninstall one of them, or ask its author for another name.")  # fmt: skip
            return
        self._names[name] = found.version
        if found.own:
            self._own.add(name)
        if failure:
            self._tell("plugin-broken", f"The plugin {who} {failure}; it is left out.", name, "everything")
            return
        try:
            plugin = found.load()
        except MemoryError:  # in the rehearsal, which then ends here; only the child is short of it
            raise
        except (Exception, SystemExit) as error:
            self._tell("plugin-broken", f"The plugin {who} cannot be loaded: {raised(error)}.", name, "everything")
            return
        if found.file:
            message = f"The plugin file {found.file} was run for this job."
            self._told.append(
                problem("plugin-file-run", message, severity=Severity.NOTE, help=f"It is known by {who}.")
            )
        try:
            api = plugin.DARBY_API
        except Exception:  # an object may raise whatever it likes when looked at
            api = None
        if api is None:
            message = f"The plugin {who} does not say which version of the hooks it is written for."
            self._tell("plugin-api", message, name, "everything", help=f"A plugin states DARBY_API = {API}.")
        elif api != API:
            message = f"The plugin {who} is written for version {api!r} of the hooks; this is version {API}."
            self._tell("plugin-api", message, name, "everything", help=f"A plugin states DARBY_API = {API}.")
        else:
            self._use(name, who, plugin)

    def _use(self, name: str, who: str, plugin: object) -> None:
        try:
            self._check_spelling(name, who, plugin)
            self._manager.register(plugin, name=name)
        except (Exception, SystemExit) as error:
            self._tell("plugin-broken", f"The plugin {who} cannot be used: {raised(error)}.", name, "everything")
            return
        for hook in HOOKS:
            self._call(name, who, hook)

    def _check_spelling(self, name: str, who: str, plugin: object) -> None:
        for said, thing in inspect.getmembers_static(plugin):
            if not said.startswith("darby_") or not inspect.isroutine(thing):
                continue
            close = nearest(said, HOOKS)
            if said in HOOKS and not hasattr(thing, "darby_impl"):
                message = f"The plugin {who} has a function {said} that is not marked as a hook."
                self._tell(
                    "plugin-hook",
                    message,
                    name,
                    _gives(said),
                    help="Put @hookimpl from darby.plugin_host.hooks above it.",
                )
            elif said not in HOOKS:
                message = f"The plugin {who} has a function {said}, and there is no such hook."
                way_out = f"Did you mean {close}?" if close else f"The hooks are: {', '.join(HOOKS)}."
                self._tell("plugin-hook", message, name, _gives(close) if close else said, help=way_out)

    def _call(self, name: str, who: str, hook: str) -> None:
        caller = getattr(self._manager.hook, hook)
        own = [i for i in caller.get_hookimpls() if i.plugin_name == name]
        for implementation in own:
            try:
                given = implementation.function()
                things = tuple(given) if isinstance(given, Sequence) else None
                wrong = unsound(things, given, HOOKS[hook])
            except MemoryError:
                raise
            except (Exception, SystemExit) as error:
                things, wrong = None, f"raised {raised(error)}"
            if things is None or wrong:
                self._tell("plugin-broken", f"The plugin {who}: {hook} {wrong}.", name, _gives(hook))
            else:
                self._found[hook].extend((name, thing) for thing in things)

    def _tell(self, code: str, message: str, name: str, missing: str, *, help: str = "") -> None:
        way_out = help or f"Tell its author, or run without it: --without {name}."
        self._told.append(problem(code, message, severity=Severity.WARNING, help=way_out))
        self._failed.append(Failed(name, missing))

    def result(self) -> Plugins:
        trades, replacing = self._trades()
        readers = self._readers()
        words = [(plugin, thing) for plugin, thing in self._found["darby_vocabulary"]]
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
            tuple(sorted(self._documents(), key=lambda d: d.name)),
            tuple(self._told),
            tuple(dict.fromkeys(self._failed)),
            tuple(sorted(self._names.items())),
            tuple(g for g in guests if g.readers or g.vocabularies),
            words=own,
        )

    def _documents(self) -> Iterator[Document]:
        for plugin, document in self._unique("darby_documents", Document):
            yield document if plugin in self._own else evolve(document, make=partial(_make, document.make))

    def _unique(self, hook: str, kind: type[_T]) -> list[tuple[str, _T]]:
        """What the plugins gave by one hook, those of one name left out but the first."""
        kept: dict[str, tuple[str, _T]] = {}
        for plugin, thing in self._found[hook]:
            if thing.name in kept:
                message = f"{kept[thing.name][0]} and {plugin} both bring a {kind.__name__.lower()} called {thing.name}; the first is used."
                self._tell("name-twice", message, plugin, f"{kind.__name__.lower()} {thing.name}")
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
            kinds = tuple(k for k in reader.kinds if defined[k.name][1] is k)
            out.append((plugin, reader if kinds == reader.kinds else evolve(reader, kinds=kinds)))
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
                self._tell("trade-twice", message, new.plugin, new.trade.name)
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
                self._tell("trade-twice", message, one.plugin, one.trade.name, help=way_out)
            else:
                kept[one.trade.name] = one
        return tuple(kept.values()), replacing


def _gives(hook: str) -> str:
    return hook.removeprefix("darby_")
