"""What plugins give, looked over before it is used, and what to say of an error of theirs."""

from __future__ import annotations

import traceback
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from attrs import evolve

from darby.diagnostics import Diagnostic, Severity, problem
from darby.documents import Document
from darby.lexicon import Vocabulary
from darby.readers import Reader
from darby.reading import Language, Reading, read
from darby.rules import Kind, Layer
from darby.text import Source
from darby.trades import Caution, Trade

HOOKS: dict[str, type] = {
    "darby_trades": Trade,
    "darby_readers": Reader,
    "darby_vocabulary": Vocabulary,
    "darby_documents": Document,
}
"""What each hook gives a list of."""

_CORE = str(Path(__file__).parent / "_")[:-1]  # with the separator: the trades live beside it, as darby_x


def raised(error: BaseException) -> str:
    """What was raised and where in the plugin: `ValueError: no width (darby_x/trade.py, line 12)`."""
    try:
        said = f"{type(error).__name__}: {error}".rstrip(": ")
    except Exception:  # an error may fail to say what it is
        said = type(error).__name__
    frames = [f for f in traceback.extract_tb(error.__traceback__) if not f.filename.startswith((_CORE, "<"))]
    if isinstance(error, SyntaxError) or not frames:
        return said
    path = Path(frames[-1].filename)
    return f"{said} ({path.parent.name}/{path.name}, line {frames[-1].lineno})"


def unsound(things: tuple[object, ...] | None, given: object, kind: type) -> str:
    """What is wrong with what a hook returned, or nothing."""
    wanted = f"a list of {kind.__name__} is wanted"
    if things is None or isinstance(given, str):
        return f"returned {'nothing' if given is None else 'a ' + type(given).__name__}; {wanted}"
    for thing in things:
        if not isinstance(thing, kind):
            return f"returned a {type(thing).__name__} in its list; {wanted}"
        if not isinstance(getattr(thing, "name", None), str) or not thing.name:  # type: ignore[attr-defined]
            return f"returned a {kind.__name__} without a name"
        if isinstance(thing, Trade) and (wrong := _unsound_trade(thing)):
            return f"returned the trade {thing.name}, whose {wrong}"
        if isinstance(thing, Vocabulary) and not isinstance(thing.source, Source):
            return f"returned the vocabulary {thing.name}, whose source is no source"
        if isinstance(thing, Reader) and not _holds(thing.kinds, Kind):
            return f"returned the reader {thing.name}, whose kinds is no tuple of kinds"
        if isinstance(thing, Document) and not callable(thing.make):
            return f"returned the document {thing.name}, whose make is no function"
    return ""


def _unsound_trade(trade: Trade) -> str:
    checks: tuple[tuple[str, bool, str], ...] = (
        ("line_items", callable(trade.line_items), "no function"),
        ("defaults", _maps(trade.defaults, Source), "no mapping of us and metric to sources"),
        ("marks", _maps(trade.marks, str), "no mapping of words to subjects"),
        ("cautions", _holds(trade.cautions, Caution), "no tuple of cautions"),
        ("replaces", isinstance(trade.replaces, str), "no name"),
    )
    return next((f"{name} is {wrong}" for name, right, wrong in checks if not right), "")


def _maps(value: object, kind: type) -> bool:
    return isinstance(value, Mapping) and all(isinstance(k, str) and isinstance(v, kind) for k, v in value.items())


def _holds(value: object, kind: type) -> bool:
    return isinstance(value, tuple | list) and all(isinstance(v, kind) for v in value)


class Careful:
    """Reads with a language made of plugins, and leaves out of it what raises: words that are no TOML, a faulty grammar.

    `told` says what was left out, `missing` names it. An error that the plugins have no part in is ours, and is raised.
    """

    def __init__(self, language: Language, reader: Callable[..., Reading] = read) -> None:
        self.language = language
        self.told: list[Diagnostic] = []
        self.missing: list[str] = []
        self._reader = reader

    def __call__(self, source: Source, layer: Layer, **how: Any) -> Reading:
        """As `darby.reading.read` with the language in its place."""
        try:
            return self._reader(source, layer, self.language, **how)
        except (Exception, SystemExit):  # anything may come out of a plugin's code
            self._leave_out(lambda language: self._reader(source, layer, language, **how))
            return self._reader(source, layer, self.language, **how)

    def _leave_out(self, attempt: Callable[[Language], Reading]) -> None:
        """Put the language together again piece by piece, without the pieces that raise."""
        sound = Language.of((), ())
        attempt(sound)
        for words in self.language.vocabularies:
            sound = self._with(sound, evolve(sound, vocabularies=(*sound.vocabularies, words)), attempt, words)
        for one in self.language.readers:
            sound = self._with(sound, evolve(sound, readers=(*sound.readers, one)), attempt, one)
        self.language = sound

    def _with(
        self, sound: Language, more: Language, attempt: Callable[[Language], Reading], piece: Vocabulary | Reader
    ) -> Language:
        try:
            attempt(more)
        except (Exception, SystemExit) as error:
            what = "vocabulary" if isinstance(piece, Vocabulary) else "reader"
            message = f"The {what} {piece.name} cannot be used and is left out: {raised(error)}."
            way_out = "Tell the author of the plugin that brings it, or run without that plugin."
            self.told.append(problem("plugin-broken", message, severity=Severity.WARNING, help=way_out))
            self.missing.append(f"{piece.name} ({what})")
            return sound
        return more
