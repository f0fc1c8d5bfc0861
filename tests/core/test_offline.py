"""Nothing is fetched and nothing sent: no command but the desk and a cluster that is named has to do with the network."""

from __future__ import annotations

import ast
import socket
from pathlib import Path
from typing import NoReturn

import pytest

from checkout import ROOT, tree_of
from commands import darby

NETWORK = frozenset(
    "socket ssl http urllib ftplib smtplib asyncio xmlrpc requests httpx aiohttp uvicorn starlette distributed".split()
)
ALLOWED = {
    "desk/server.py",
    "desk/app.py",
    "desk/parts.py",
    "desk/guard.py",
    "desk/files/uploads.py",
    "saved/replay/cluster.py",
}
"""The desk, which hears this machine alone, and a cluster that somebody names. `urllib.parse` takes addresses apart and reaches for none."""


def reached(path: Path) -> set[str]:
    """What a module imports of the network, anywhere in it."""
    found: set[str] = set()
    for node in ast.walk(tree_of(path)):
        names = (
            [alias.name for alias in node.names] if isinstance(node, ast.Import)
            else [node.module or ""] if isinstance(node, ast.ImportFrom) and not node.level else []
        )  # fmt: skip
        found |= {name for name in names if name.partition(".")[0] in NETWORK and name != "urllib.parse"}
    return found


def test_no_module_but_the_desk_and_the_cluster_imports_what_reaches_out() -> None:
    core = ROOT / "core" / "darby"
    roots = (core, ROOT / "grammars", *(ROOT / "plugins").glob("darby_*"))
    reaching = {path for root in roots for path in root.rglob("*.py") if "tests" not in path.parts and reached(path)}
    assert {str(path.relative_to(core)) for path in reaching} <= ALLOWED
    assert core / "desk" / "server.py" in reaching  # what is looked for is found


@pytest.mark.parametrize(
    "command",
    [
        ("demo", "--out", "order.html"),
        ("demo", "--format", "json"),
        ("estimate", "ferry/job.toml", "--save", "kept/ferry.json"),
        ("bid", "ferry/job.toml"),
        ("rooms", "ferry/job.toml"),
        ("read", "ferry/addendum-1.txt"),
        ("replay", "kept"),
        ("trades",),
    ],
    ids=" ".join,
)
def test_no_command_reaches_for_the_network(
    command: tuple[str, ...], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert darby("demo", "--to", "ferry", cwd=tmp_path).returncode == 0
    (tmp_path / "kept").mkdir()
    asked: list[object] = []

    def refuse(*address: object, **_: object) -> NoReturn:
        asked.append(address)
        raise OSError("there is no network here")

    for name in ("connect", "connect_ex", "sendto", "bind"):
        monkeypatch.setattr(socket.socket, name, refuse)
    for name in ("create_connection", "getaddrinfo", "gethostbyname"):
        monkeypatch.setattr(socket, name, refuse)
    if command[0] == "replay":
        assert darby("estimate", "ferry/job.toml", "--save", "kept/ferry.json", cwd=tmp_path).returncode == 0
    done = darby(*command, cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    assert asked == []
