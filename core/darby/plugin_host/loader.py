"""Plugins: found, sorted, loaded one by one, checked. What one breaks is told, and costs its own contribution only."""

from __future__ import annotations

import inspect
import os
import time
import traceback
from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from attrs import evolve

from darby.plugin_host.discovery import GROUP, Entry, Found, find
from darby.plugin_host.isolation.bounds import quiet
from darby.plugin_host.isolation.failures import BrokenError, raised
from darby.plugin_host.model import Plugins, Taken
from darby.plugin_host.registry import Registry
from darby.plugin_host.validation import HOOKS, unsound
from darby.text.diagnostics import Diagnostic, Severity, problem
from darby.text.files import nearest

if TYPE_CHECKING:
    import pluggy

    from darby.plugin_host.isolation.inside import Registered

API = 1
"""The version of the hooks that plugins are written for."""

GOING: Mapping[str, Mapping[str, str]] = {}
"""By hook the arguments that leave with the next version, each with a sentence on what takes its place; a plugin that takes one is told."""


def load_plugins(
    *,
    without: Iterable[str] = (),
    only: Iterable[str] | None = None,
    files: Iterable[Path] = (),
    entries: Iterable[Entry] | None = None,
    here: bool = False,
) -> Plugins:
    """Load the installed plugins and those in `files` (one Python file each, named by its stem).

    `without` blocks plugins by name, `only` blocks all but those it names (readers are plugins too, so a list without
    them reads nothing). `entries` stands for the entry points of the group `darby`. A plugin that does not import,
    raises, hangs or returns what it should not is a warning that names it; it never raises here. Darby's own plugins
    come first, so that what they bring stays theirs; each of the others lives in a child process of its own, and what is loaded
    of it stands for it. With `here` they are loaded into this process, as their author's own tests do.
    """
    wanted, left_out, told = find(entries, files, tuple(without), None if only is None else tuple(only))
    registry = Registry(told)
    loader = _Loader(registry)
    waking: list[Callable[[], None]] = []
    taken = [Taken(one.name, one.version, one.origin, "left out", {}, 0) for one in left_out]
    with quiet():
        for one in wanted:
            begun = time.monotonic()
            if not registry.enter(one):
                message = f"Two plugins are called {one.name}; {one.who} is left out."
                way_out = "Uninstall one of them, or ask its author for another name."
                registry.tell("plugin-twice", message, one.name, "everything", help=way_out)
                continue
            if one.own or here or not hasattr(os, "fork"):
                loader.load(one)
            else:
                waking += _take_in(one, registry)
            taken.append(registry.met(one, time.monotonic() - begun))
    done = registry.result()
    away = (*(one.name for one in left_out), *dict.fromkeys(f.plugin for f in done.failed))
    return evolve(done, waking=tuple(waking), away=away, taken=tuple(sorted(taken, key=lambda one: one.name)))


def _take_in(found: Found, registry: Registry) -> list[Callable[[], None]]:
    """Load a plugin in a child of its own, and take stand-ins for what it registers there; what starts it anew, where it could be."""
    from darby.plugin_host.isolation.guest import Guest  # noqa: PLC0415 - not wanted where all plugins are Darby's own

    guest = Guest(partial(_registered, found))
    try:
        things, told = guest.registered()
        for hook, some in things.items():
            if wrong := unsound(some, some, HOOKS[hook]):
                raise BrokenError(wrong)
    except BrokenError as error:
        registry.tell("plugin-broken", f"The plugin {found.who} {error}; it is left out.", found.name, "everything")
        return []
    for code, message, missing, help in told:
        if missing:
            registry.tell(code, message, found.name, missing, help=help)
        else:
            registry.note(problem(code, message, severity=Severity.NOTE, help=help))
    for hook, some in things.items():
        registry.take(found.name, hook, some)
    return [guest.wake]


def _registered(found: Found) -> Registered:
    """In the child: what the plugin registers, and what is to be said of it."""
    from darby.plugin_host.isolation.inside import Registered  # noqa: PLC0415 - not wanted where all plugins are Darby's own

    noted = _Noted()
    _Loader(noted).load(found)
    return Registered(noted.things, noted.told)


class _Noted:
    """In the child: takes down what a registry would be given."""

    def __init__(self) -> None:
        self.things: dict[str, list[Any]] = {}
        self.told: list[tuple[str, str, str, str]] = []

    def take(self, name: str, hook: str, things: Iterable[Any]) -> None:  # noqa: ARG002 - there is but one plugin here
        self.things.setdefault(hook, []).extend(things)

    def note(self, told: Diagnostic) -> None:
        self.told.append((told.code, told.message, "", told.help))

    def tell(self, code: str, message: str, name: str, missing: str, *, help: str = "") -> None:  # noqa: ARG002
        self.told.append((code, message, missing, help))


class _Loader:
    """Loads plugins one by one into a registry."""

    def __init__(self, registry: Registry | _Noted) -> None:
        import pluggy  # noqa: PLC0415 - not wanted for --help

        from darby.plugin_host import hooks  # noqa: PLC0415 - it imports pluggy

        self._manager: pluggy.PluginManager = pluggy.PluginManager(GROUP)
        self._manager.add_hookspecs(hooks)
        self._registry = registry

    def load(self, found: Found) -> None:
        """Load one plugin."""
        name, who = found.name, found.who
        try:
            plugin = found.load()
        except (Exception, SystemExit) as error:
            _trace()
            self._registry.tell(
                "plugin-broken", f"The plugin {who} cannot be loaded: {raised(error)}.", name, "everything"
            )
            return
        if found.file:
            message = f"The plugin file {found.file} was run for this job."
            self._registry.note(
                problem("plugin-file-run", message, severity=Severity.NOTE, help=f"It is known by {who}.")
            )
        try:
            api = plugin.DARBY_API
        except Exception:  # an object may raise whatever it likes when looked at
            api = None
        if wrong := _unfit(who, api):
            way_out = f"A plugin states DARBY_API = {API}, or the first and the last that it works with: DARBY_API = ({API}, {API + 1})."
            self._registry.tell("plugin-api", wrong, name, "everything", help=way_out)
        else:
            self._use(name, who, plugin)

    def _use(self, name: str, who: str, plugin: object) -> None:
        try:
            self._check_spelling(name, who, plugin)
            self._manager.register(plugin, name=name)
        except (Exception, SystemExit) as error:
            self._registry.tell(
                "plugin-broken", f"The plugin {who} cannot be used: {raised(error)}.", name, "everything"
            )
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
                self._registry.tell(
                    "plugin-hook",
                    message,
                    name,
                    _gives(said),
                    help="Put @hookimpl from darby.api above it.",
                )
            elif said not in HOOKS:
                message = f"The plugin {who} has a function {said}, and there is no such hook."
                way_out = f"Did you mean {close}?" if close else f"The hooks are: {', '.join(HOOKS)}."
                self._registry.tell("plugin-hook", message, name, _gives(close) if close else said, help=way_out)

    def _call(self, name: str, who: str, hook: str) -> None:
        caller = getattr(self._manager.hook, hook)
        own = [i for i in caller.get_hookimpls() if i.plugin_name == name]
        for implementation in own:
            for argument in implementation.argnames:
                if said := GOING.get(hook, {}).get(argument):
                    message = f"The plugin {who}: {hook} takes {argument}, which is going: {said}"
                    self._registry.note(problem("plugin-going", message, severity=Severity.NOTE, help=_UPDATE))
            try:
                given = implementation.function()
                things = tuple(given) if isinstance(given, Sequence) else None
                wrong = unsound(things, given, HOOKS[hook])
            except (Exception, SystemExit) as error:
                _trace()
                things, wrong = None, f"raised {raised(error)}"
            if things is None or wrong:
                self._registry.tell("plugin-broken", f"The plugin {who}: {hook} {wrong}.", name, _gives(hook))
            else:
                self._registry.take(name, hook, things)


def _unfit(who: str, api: object) -> str:
    """Why a plugin that states these versions of the hooks does not fit, or nothing."""
    if api is None:
        return f"The plugin {who} does not say which version of the hooks it is written for."
    first, last = api if isinstance(api, tuple | list) and len(api) == 2 else (api, api)
    if type(first) is int and type(last) is int and first <= API <= last:
        return ""
    versions = f"version {first!r}" if first == last else f"versions {first!r} to {last!r}"
    return f"The plugin {who} is written for {versions} of the hooks; this is version {API}."


_UPDATE = "Nothing to do for now; its author brings it up to date before the next version of the hooks."


def _trace() -> None:
    if os.environ.get("DARBY_DEBUG"):
        traceback.print_exc()


def _gives(hook: str) -> str:
    return hook.removeprefix("darby_")
