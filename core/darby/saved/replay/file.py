"""Saved estimates worked out again by the file: each alone, so that one that is bad costs itself only."""

from __future__ import annotations

import errno
import hashlib
from functools import lru_cache
from pathlib import Path

from attrs import field, frozen

from darby.plugin_host.loader import load_plugins
from darby.reading.cache import code_mark
from darby.saved.comparison import moved
from darby.saved.model import Choices, Saved
from darby.saved.reader import decoded, reopen
from darby.saved.replay.one import Office, Worked
from darby.saved.replay_outcome import Replayed
from darby.text.bounded_json import MOST_BYTES
from darby.text.diagnostics import Diagnostic, Severity
from darby.text.spans import Source

_SENTENCE = 400


@frozen
class Setup:
    """Under what files are worked out again. `house` takes the place of the house lines of each; None leaves them theirs.

    `plugin_files` are run besides the installed plugins. `reread` has every text read again, whatever is known of it.
    """

    house: tuple[tuple[str, str], ...] | None = None
    plugin_files: tuple[str, ...] = ()
    without: tuple[str, ...] = ()
    only: tuple[str, ...] | None = None
    reread: bool = False
    today: str = field(default="", eq=True)
    """What `today_of` gave where the run began: results under other code are none."""

    @property
    def house_sources(self) -> list[Source] | None:
        """The house files of today, if they are given."""
        return None if self.house is None else [_source(name, text) for name, text in self.house]


@lru_cache(64)
def _source(name: str, text: str) -> Source:
    return Source(name, text)


@lru_cache(8)
def _office(plugin_files: tuple[str, ...], without: tuple[str, ...], only: tuple[str, ...] | None) -> Office:
    files = tuple(map(Path, plugin_files))
    chosen = None if only is None else (*only, *(f.stem for f in files))
    return Office.of(load_plugins(without=without, only=chosen, files=files))


def office_for(setup: Setup, choices: Choices) -> Office:
    """The office under which an estimate with these choices is worked out: its own, and what the setup leaves out or wants."""
    without = tuple(sorted({*setup.without, *choices.without}))
    return _office(setup.plugin_files, without, setup.only if setup.only is not None else choices.only)


def today_of(setup: Setup) -> str:
    """A name for all that results depend on besides the files: code, words, default lines, house lines and choices."""
    office = office_for(setup, Choices())
    code = code_mark(p.trade.line_items.__module__ for p in office.plugins.trades)
    lines = [(p.trade.name, units, s.text) for p in office.plugins.trades for units, s in p.trade.defaults.items()]
    said = (office.mark, code, lines, office.plugins.names, setup.house, setup.without, setup.only, setup.reread)
    return hashlib.sha256(repr(said).encode("utf-8", "replace")).hexdigest()[:32] if office.mark and code else ""


def replay(file: str, data: bytes, setup: Setup) -> Replayed:
    """One file worked out again. Whatever is wrong with it is told in the result; nothing raises."""
    digest = hashlib.sha256(data).hexdigest()[:16]
    try:
        saved, told = opened(file, data, setup)
        if saved is None:
            return Replayed(file, "failed", digest, problem=_said(told))
        worked = again(saved, setup, briefly=True)
        away = _not_run(saved, setup)
        if worked.saved is None or worked.estimate is None:
            return Replayed(file, "failed", digest, saved.name, problem=f"{_said(worked.problems)} {away}".rstrip())
        found = moved(saved, worked.saved)
        theirs = {trade for trade, plugin, _ in saved.trades if plugin in dict(_away(saved, setup))}
        if any(one.after is None and one.line.trade in theirs for one in found):
            return Replayed(file, "incomplete", digest, saved.name, found, f"{away} Its lines are missing.")
        if worked.saved.missing and worked.saved.missing != saved.missing:
            problem = f"{', '.join(worked.saved.missing)} failed, and its lines are missing."
            return Replayed(file, "incomplete", digest, saved.name, found, problem)
        return Replayed(file, "moved" if found else "same", digest, saved.name, found)
    except Exception as error:  # our own mistake, or a plugin's that no one caught: it costs this file
        return Replayed(file, "failed", digest, problem=f"{file}: something went wrong ({type(error).__name__}).")


def _away(saved: Saved, setup: Setup) -> tuple[tuple[str, str], ...]:
    """Name and version of plugins that an estimate was made with, which are not here today and were not left out on purpose."""
    if setup.only is not None:
        return ()
    here = dict(office_for(setup, saved.choices).plugins.names)
    return tuple((name, version) for name, version in saved.plugins if name not in here and name not in setup.without)


def _not_run(saved: Saved, setup: Setup) -> str:
    """The same in a sentence, or nothing."""
    away = [f"{name} {version}".rstrip() for name, version in _away(saved, setup)]
    if not away:
        return ""
    many = len(away) > 1
    return f"The plugin{'s' * many} {' and '.join(away)}, which it was made with, {'were' if many else 'was'} not run."


def opened(file: str, data: bytes, setup: Setup) -> tuple[Saved | None, tuple[Diagnostic, ...]]:
    """The saved estimate in some bytes."""
    source, told = decoded(data, file)
    if source is None:
        return None, told
    return reopen(source, office_for(setup, Choices()).language.kinds)


def again(saved: Saved, setup: Setup, *, briefly: bool = False) -> Worked:
    """A saved estimate worked out again under a setup; `briefly` without its questions."""
    office = office_for(setup, saved.choices)
    return office.again(saved, setup.house_sources, reread=setup.reread, briefly=briefly)


def read_bytes(path: Path) -> bytes:
    """The bytes of a file, one more than any estimate has where it has more. Raises OSError, also for what is no file: a pipe would wait for ever."""
    if not path.is_file() and path.exists():
        raise OSError(errno.EINVAL, "it is no file")
    with path.open("rb") as file:
        return file.read(MOST_BYTES + 1)


def _said(problems: tuple[Diagnostic, ...]) -> str:
    """The first error as one sentence with its place."""
    worst = min(problems, key=lambda d: d.severity is not Severity.ERROR, default=None)
    if worst is None:
        return "It cannot be worked out."
    where = f" ({worst.span})" if worst.span is not None else ""
    text = " ".join(worst.message.split()).rstrip(".")
    return f"{text[:_SENTENCE]}{where}."
