"""Plugins: found, sorted, loaded one by one, checked. What one breaks is told, and costs its own contribution only."""

from __future__ import annotations

import inspect
import sys
from collections.abc import Callable, Iterable, Sequence
from importlib.util import module_from_spec, spec_from_file_location
from pathlib import Path
from typing import TYPE_CHECKING, Any, Protocol, TypeVar

from attrs import frozen

from darby.diagnostics import Diagnostic, Severity, problem
from darby.documents import Document
from darby.lexicon import Vocabulary
from darby.opening import missing_file, nearest
from darby.readers import Reader
from darby.trades import Trade
from darby.vetting import HOOKS, raised, unsound

if TYPE_CHECKING:
    import pluggy

API = 1
GROUP = "darby"

_T = TypeVar("_T", Reader, Document)


class Entry(Protocol):
    """What is asked of an entry point; `importlib.metadata.EntryPoint` is one. It may have a `dist` with a version."""

    @property
    def name(self) -> str:
        """The plugin's name."""
        ...

    def load(self) -> Any:
        """The plugin itself. May raise anything."""
        ...


@frozen(eq=False)
class Provided:
    """A trade and the plugin that brought it."""

    trade: Trade
    plugin: str
    version: str


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
    raises or returns what it should not is a warning that names it; it never raises here.
    """
    told: list[Diagnostic] = []
    found: list[tuple[str, str, Callable[[], Any]]] = [
        (entry.name, str(getattr(getattr(entry, "dist", None), "version", "") or ""), entry.load)
        for entry in (_installed() if entries is None else entries)
    ]
    for path in files:
        if path.is_file():
            found.append((path.stem, "", lambda path=path: _from_file(path)))  # type: ignore[misc]
        else:
            told.append(missing_file(path, str(path)))
    found.sort(key=lambda f: f[:2])
    wanted = _chosen([name for name, _, _ in found], tuple(without), None if only is None else tuple(only), told)
    collector = _Collector(told)
    for name, version, load in found:
        if name in wanted:
            collector.load(name, version, load)
    return collector.result()


def _installed() -> Iterable[Entry]:
    from importlib.metadata import entry_points  # noqa: PLC0415 - dear, and not wanted for --help

    seen: dict[tuple[str, str, str], Entry] = {}
    for entry in entry_points(group=GROUP):  # one installation can be found twice on the path
        seen.setdefault((entry.name, entry.value, entry.dist.name if entry.dist else ""), entry)
    return [seen[key] for key in sorted(seen)]


def _from_file(path: Path) -> Any:
    spec = spec_from_file_location(f"darby_file_{path.stem}", path)
    if spec is None or spec.loader is None:
        raise ImportError(f"{path.name} is no Python file: its name has to end in .py")
    module = module_from_spec(spec)
    sys.modules[spec.name] = module  # classes of the module look themselves up there
    spec.loader.exec_module(module)
    return module


def _chosen(
    names: Sequence[str], without: Sequence[str], only: Sequence[str] | None, told: list[Diagnostic]
) -> frozenset[str]:
    for name in sorted({*without, *(only or ())} - set(names)):
        close = nearest(name, names)
        told.append(
            problem(
                "plugin-unknown",
                f"There is no plugin called {name}.",
                help=f"Did you mean {close}?" if close else f"The plugins are: {', '.join(names) or 'none'}.",
            )
        )
    return frozenset(n for n in names if n not in without and (only is None or n in only))


class _Collector:
    """Takes plugins one by one; what it has learned is frozen by `result`."""

    def __init__(self, told: list[Diagnostic]) -> None:
        import pluggy  # noqa: PLC0415 - not wanted for --help

        from darby import hooks  # noqa: PLC0415 - it imports pluggy

        self._manager: pluggy.PluginManager = pluggy.PluginManager(GROUP)
        self._manager.add_hookspecs(hooks)
        self._told = told
        self._failed: list[Failed] = []
        self._names: dict[str, str] = {}
        self._found: dict[str, list[tuple[str, Any]]] = {hook: [] for hook in HOOKS}

    def load(self, name: str, version: str, load: Callable[[], Any]) -> None:
        who = f"{name} {version}".rstrip()
        if name in self._names:
            self._tell("plugin-twice", f"Two plugins are called {name}; {who} is left out.", name, "everything",
                       help="Uninstall one of them, or ask its author for another name.")  # fmt: skip
            return
        self._names[name] = version
        try:
            plugin = load()
        except (Exception, SystemExit) as error:
            self._tell("plugin-broken", f"The plugin {who} cannot be loaded: {raised(error)}.", name, "everything")
            return
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
                self._tell("plugin-hook", message, name, _gives(said), help="Put @hookimpl from darby.hooks above it.")
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
        return Plugins(
            self._trades(),
            self._unique("darby_readers", Reader),
            tuple(thing for _, thing in self._found["darby_vocabulary"]),
            self._unique("darby_documents", Document),
            tuple(self._told),
            tuple(dict.fromkeys(self._failed)),
            tuple(sorted(self._names.items())),
        )

    def _unique(self, hook: str, kind: type[_T]) -> tuple[_T, ...]:
        kept: dict[str, tuple[str, _T]] = {}
        for plugin, thing in self._found[hook]:
            if thing.name in kept:
                message = f"{kept[thing.name][0]} and {plugin} both bring a {kind.__name__.lower()} called {thing.name}; the first is used."
                self._tell("name-twice", message, plugin, f"{kind.__name__.lower()} {thing.name}")
            else:
                kept[thing.name] = (plugin, thing)
        return tuple(kept[name][1] for name in sorted(kept))

    def _trades(self) -> tuple[Provided, ...]:
        """The trades, sorted by name, those that are replaced left out; the same whatever order they came in."""
        offered = sorted(
            (Provided(trade, plugin, self._names[plugin]) for plugin, trade in self._found["darby_trades"]),
            key=lambda p: (p.trade.name, p.plugin),
        )
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
        return tuple(kept.values())


def _gives(hook: str) -> str:
    return hook.removeprefix("darby_")
