"""The key of a run, which its journal is signed with: kept apart from the journal, so that nobody who can write there can forge one."""

from __future__ import annotations

import contextlib
import hashlib
import hmac
import os
import secrets
from pathlib import Path

_BYTES = 32


def state_folder() -> Path:
    """Where this user's programs keep their state. Source: the XDG base directory specification; on Windows its own place."""
    said = os.environ.get("XDG_STATE_HOME") or os.environ.get("LOCALAPPDATA", "")
    return (Path(said) if Path(said).is_absolute() else Path.home() / ".local" / "state") / "darby"


def known_key(journal: Path) -> bytes:
    """The key of the run that a journal was begun by on this machine, by this user; empty where there is none."""
    with contextlib.suppress(OSError, RuntimeError):  # RuntimeError: nobody knows where this user is at home
        with _place(journal).open("rb") as file:
            key = file.read(_BYTES + 1)
        return key if len(key) == _BYTES else b""
    return b""


def new_key(journal: Path) -> tuple[bytes, bool]:
    """A key for a run that begins, and whether it is kept: without that nothing can go on from its journal."""
    key = secrets.token_bytes(_BYTES)
    try:
        place = _place(journal)
        place.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        place.unlink(missing_ok=True)
        with open(os.open(place, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as file:
            file.write(key)
    except (OSError, RuntimeError):
        return key, False
    return key, True


def forget(journal: Path) -> None:
    """The run came to its end: what is signed with its key counts no more."""
    with contextlib.suppress(OSError, RuntimeError):
        _place(journal).unlink(missing_ok=True)


def signed(data: bytes, key: bytes) -> str:
    """What shows that some bytes were written by whoever has the key."""
    return hmac.new(key, data, hashlib.sha256).hexdigest()[:32]


def _place(journal: Path) -> Path:
    name = hashlib.sha256(os.fsencode(journal.resolve())).hexdigest()[:32]
    return state_folder() / "replay-keys" / name
