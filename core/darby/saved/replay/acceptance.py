"""Taking the new result of a replay: looked at in full first, then written in one step over the old file."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from pathlib import Path

from darby.saved.comparison import Cause, Comparison, compare
from darby.saved.model import Saved
from darby.saved.replay.causes import causes
from darby.saved.replay.file import Setup, again, office_for, opened, read_bytes
from darby.saved.replay_outcome import Replayed
from darby.saved.writer import text_of, with_longhand, write


def moved_in(one: Replayed, setup: Setup) -> tuple[Comparison, Mapping[str, tuple[Cause, ...]]] | None:
    """What moved in one file, and which rule or measure moved each line; None where it could not be worked out again."""
    old = _opened(one, setup)
    new = again(old, setup).saved if isinstance(old, Saved) else None
    if not isinstance(old, Saved) or new is None:
        return None
    comparison = compare(old, new)
    return comparison, causes(comparison, office_for(setup, old.choices).plugins)


def accept(one: Replayed, setup: Setup) -> str:
    """Write the new result over the file; what was in the way is said, and the old file stands."""
    old = _opened(one, setup)
    if isinstance(old, str):
        return old
    worked = again(old, setup)
    if worked.estimate is None or worked.saved is None or worked.saved.missing:
        return f"{one.file} could not be worked out this time; it stays as it is."
    text = text_of(with_longhand(worked.saved, worked.estimate))
    try:
        write(Path(one.file), text)
    except OSError as error:
        return f"{one.file} cannot be written: {(error.strerror or str(error)).lower()}. It stays as it is."
    return ""


def _opened(one: Replayed, setup: Setup) -> Saved | str:
    """The file as it was when it was worked out, or why it is not to be had."""
    try:
        data = read_bytes(Path(one.file))
    except OSError as error:
        return f"{one.file} cannot be opened: {(error.strerror or str(error)).lower()}."
    if hashlib.sha256(data).hexdigest()[:16] != one.digest:
        return f"{one.file} was changed meanwhile; it stays as it is."
    saved, _ = opened(one.file, data, setup)
    return saved if saved is not None else f"{one.file} cannot be read; it stays as it is."
