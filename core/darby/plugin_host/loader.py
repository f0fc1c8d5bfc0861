"""Plugins: found, sorted, loaded one by one, checked. What one breaks is told, and costs its own contribution only."""

from __future__ import annotations

import inspect
from collections.abc import Iterable, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from attrs import evolve

from darby.plugin_host.discovery import GROUP, Entry, Found, find
from darby.plugin_host.model import Plugins
from darby.plugin_host.registry import Registry
from darby.plugin_host.sandbox import Verdict, quiet, rehearse
from darby.plugin_host.validation import HOOKS, raised, unsound
from darby.text.diagnostics import Severity, problem
from darby.text.files import nearest

if TYPE_CHECKING:
    import pluggy

API = 1
"""The version of the hooks that plugins are written for."""


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
    registry = Registry(told)
    loader = _Loader(registry)
    strangers = [f for f in wanted if not f.own]
    verdicts = dict(zip(strangers, rehearse([partial(_rehearsed, f) for f in strangers], raised), strict=True))
    with quiet():
        for one in wanted:
            loader.load(one, verdicts.get(one, Verdict()).failure)
    done = registry.result()
    return evolve(done, away=(*left_out, *dict.fromkeys(f.plugin for f in done.failed)))


def _rehearsed(found: Found) -> Verdict:
    """In the rehearsal: load it as will be done here. What it gets wrong is told then; that it gets done is what counts."""
    _Loader(Registry([])).load(found)
    return Verdict()


class _Loader:
    """Loads plugins one by one into a registry."""

    def __init__(self, registry: Registry) -> None:
        import pluggy  # noqa: PLC0415 - not wanted for --help

        from darby.plugin_host import hooks  # noqa: PLC0415 - it imports pluggy

        self._manager: pluggy.PluginManager = pluggy.PluginManager(GROUP)
        self._manager.add_hookspecs(hooks)
        self._registry = registry

    def load(self, found: Found, failure: str = "") -> None:
        """Load one plugin, unless its rehearsal failed."""
        name, who = found.name, found.who
        if not self._registry.enter(found):
            self._registry.tell("plugin-twice", f"Two plugins are called {name}; {who} is left out.", name, "everything",
                       help="Uninstall one of them, or ask its author for another name.")  # fmt: skip
            return
        if failure:
            self._registry.tell("plugin-broken", f"The plugin {who} {failure}; it is left out.", name, "everything")
            return
        try:
            plugin = found.load()
        except MemoryError:  # in the rehearsal, which then ends here; only the child is short of it
            raise
        except (Exception, SystemExit) as error:
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
        if api is None:
            message = f"The plugin {who} does not say which version of the hooks it is written for."
            self._registry.tell("plugin-api", message, name, "everything", help=f"A plugin states DARBY_API = {API}.")
        elif api != API:
            message = f"The plugin {who} is written for version {api!r} of the hooks; this is version {API}."
            self._registry.tell("plugin-api", message, name, "everything", help=f"A plugin states DARBY_API = {API}.")
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
            try:
                given = implementation.function()
                things = tuple(given) if isinstance(given, Sequence) else None
                wrong = unsound(things, given, HOOKS[hook])
            except MemoryError:
                raise
            except (Exception, SystemExit) as error:
                things, wrong = None, f"raised {raised(error)}"
            if things is None or wrong:
                self._registry.tell("plugin-broken", f"The plugin {who}: {hook} {wrong}.", name, _gives(hook))
            else:
                self._registry.take(name, hook, things)


def _gives(hook: str) -> str:
    return hook.removeprefix("darby_")
