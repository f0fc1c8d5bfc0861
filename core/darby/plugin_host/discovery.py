"""Which plugins there are: entry points of what is installed and single files, before any of them is loaded."""

from __future__ import annotations

import os
import stat
import sys
from collections.abc import Callable, Iterable, Sequence
from functools import partial
from hashlib import sha256
from importlib.util import module_from_spec, spec_from_file_location
from pathlib import Path
from typing import Any, Protocol

from attrs import frozen

from darby.text.diagnostics import Diagnostic, Severity, problem
from darby.text.files import missing_file, nearest

GROUP = "darby"
FOLDER = "DARBY_PLUGIN_FOLDER"
"""The variable of the environment that names a firm's own folder of plugin files, whole; without it there is none."""
_MOST_KNOWN = 256


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
class Found:
    """A plugin before it is loaded. `load` may do anything."""

    own: bool
    """Whether it came with Darby itself."""
    name: str
    version: str
    load: Callable[[], Any]
    file: str = ""
    """Name of the single file that it is, or nothing."""
    shelf: str = ""
    """The firm's folder that the file lies in, or nothing."""
    home: str = ""
    """Name of the distribution that it was installed with, or nothing."""

    @property
    def who(self) -> str:
        """Its name and version."""
        return f"{self.name} {self.version}".rstrip()

    @property
    def origin(self) -> str:
        """Where it came from, in words."""
        if self.file:
            return f"the file {self.file}" + (f" of the firm's folder {self.shelf}" if self.shelf else "")
        return f"the installed {self.home}" if self.home else "what is installed"


def find(
    entries: Iterable[Entry] | None, files: Iterable[Path], without: Sequence[str], only: Sequence[str] | None
) -> tuple[list[Found], list[Found], list[Diagnostic]]:
    """The plugins that are wanted, Darby's own first and each kind by name; those left out; what was asked wrongly.

    Where no `entries` are given, the files of the firm's folder are among them.
    """
    told: list[Diagnostic] = []
    found = [_entry(entry) for entry in (installed() if entries is None else entries)]
    named = list(files)
    if entries is None:
        known = {path.resolve() for path in named}
        for path in _of_the_firm(told):
            if path.resolve() not in known:
                shelf = str(path.parent)
                found.append(Found(False, path.stem, _digest(path), partial(_from_file, path), path.name, shelf))
    for path in named:
        if path.is_file():
            found.append(Found(False, path.stem, _digest(path), partial(_from_file, path), path.name))
        else:
            told.append(missing_file(path, str(path)))
    found.sort(key=lambda f: (not f.own, f.name, f.version))
    names = _chosen([f.name for f in found], without, only, told)
    return [f for f in found if f.name in names], [f for f in found if f.name not in names], told


def _of_the_firm(told: list[Diagnostic]) -> list[Path]:
    """The plugin files of the firm's own folder, by name; what is wrong with the folder is told, and nothing of it is run then."""
    said = os.environ.get(FOLDER, "").strip()
    folder = Path(said)
    if not said:
        return []
    if not folder.is_absolute():  # of a job's folder, whatever lies there would be run
        return _no_folder(told, f"{FOLDER} names {said}, which is no whole path", "Name the folder from its root.")
    try:
        if os.name == "posix" and folder.stat().st_mode & stat.S_IWOTH:
            why = f"Everybody may write into {said}, so that nobody knows whose programs lie there"
            return _no_folder(told, why, f"Take that right away: chmod o-w {said}")
        return sorted(p for p in folder.iterdir() if p.suffix == ".py" and not p.name.startswith("_") and p.is_file())
    except OSError as error:
        why = f"{FOLDER} names {said}, which cannot be read: {(error.strerror or str(error)).lower()}"
        return _no_folder(told, why, "Name a folder that is there, or unset it.")


def _no_folder(told: list[Diagnostic], why: str, way_out: str) -> list[Path]:
    message = f"{why}; no plugin of the firm's folder is run."
    told.append(problem("plugin-folder", message, severity=Severity.ERROR, help=way_out))
    return []


def _entry(entry: Entry) -> Found:
    home, version = _origin(getattr(entry, "dist", None))
    return Found(home == __name__.partition(".")[0], entry.name, version, entry.load, home=home)


_origins: dict[int, tuple[object, tuple[str, str]]] = {}


def _origin(dist: object) -> tuple[str, str]:
    """Name and version of a distribution, looked up once: each look parses all that it says of itself."""
    known = _origins.get(id(dist))
    if known is None or known[0] is not dist:
        name, version = (str(getattr(dist, key, "") or "") for key in ("name", "version"))
        if len(_origins) >= _MOST_KNOWN:
            _origins.clear()
        known = _origins[id(dist)] = (dist, (name, version))
    return known[1]


def _digest(path: Path) -> str:
    """What stands for the version of a single file: the start of its SHA-256, which changes whenever it does."""
    try:
        return sha256(path.read_bytes()).hexdigest()[:8]
    except OSError:  # loading it will say so
        return ""


def installed() -> list[Entry]:
    """The entry points of the group, each once, sorted."""
    from importlib.metadata import entry_points  # noqa: PLC0415 - dear, and not wanted for --help

    seen: dict[tuple[str, str, str], Entry] = {}
    for entry in entry_points(group=GROUP):  # one installation can be found twice on the path
        seen.setdefault((entry.name, entry.value, _origin(entry.dist)[0]), entry)
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
