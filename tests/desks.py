"""A desk for tests: over a folder, spoken to as a browser would, without a network."""

from __future__ import annotations

import asyncio
import re
from collections.abc import Coroutine
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any, TypeVar

import httpx
from attrs import evolve

from darby.cli.shared.jobs import Wanted, estimate_of
from darby.cli.shared.keeping import Kept
from darby.cli.shared.priced import Priced
from darby.desk.app import app
from darby.desk.bench import Bench
from darby.desk.files.folder import Folder
from darby.desk.guard import Guard, Keys
from darby.desk.panes.own_line import Looked, listener, words_for
from darby.plugin_host.loader import load_plugins
from darby.reading.read import Reading, read

_Result = TypeVar("_Result")


def apart(asked: Coroutine[Any, Any, _Result]) -> _Result:
    """What comes of something asynchronous, run in a thread of its own: a browser of the tests holds the loop of this one."""
    with ThreadPoolExecutor(1) as thread:
        return thread.submit(asyncio.run, asked).result()


PORT = 5417
HOME = f"http://127.0.0.1:{PORT}"

JOB = """name = "Net loft"  # as the client calls it
units = "us"
rules = ["Gypsum board waste: 8 %."]

[documents]
specification = ["finishes.txt"]

# ground floor
[[rooms]]
name = "Stove room"
length = "10 ft"   # to the breast
width = "8 ft"
height = "8 ft"

[[walls]]
name = "sea wall"
length = "36 ft 4 in"
height = "9'-6\\""
faces = 1
"""
SPEC = """GYPSUM BOARD
A. Gypsum board: 1/2 in. thick, 4 ft by 8 ft sheets.
PAINTING
A. Walls: one coat primer, two coats eggshell.
B. Ceilings: one coat primer, flat to cover.
"""

_look: list[Looked] = []


def look() -> Looked:
    """How lines are looked at, with the plugins that are installed."""
    if not _look:
        _look.append(listener(load_plugins))
    return _look[0]


def bench(folder: Path, doubted: str = "") -> Bench:
    """The bench of a folder; what is read of the words `doubted` is on weak evidence."""

    def reader(*args: Any, **how: Any) -> Reading:
        made = read(*args, **how)
        doubts = [bool(doubted) and rule.span.text == doubted and not how.get("strict") for rule in made.rules]
        rules = [
            evolve(rule, confirm="of weak evidence") if doubt else rule
            for rule, doubt in zip(made.rules, doubts, strict=True)
        ]
        return evolve(made, rules=tuple(rules))

    memory: Any = reader
    priced = Priced(folder, load_plugins())
    return Bench(
        Folder(folder), lambda: estimate_of(Wanted(str(folder / "job.toml"), memory=memory)), priced, priced.bid,
        priced.otherwise, lambda: priced.plugins.marks, lambda: words_for(priced.plugins), priced.paper,
    )  # fmt: skip


def loft(folder: Path) -> Path:
    """A job with a specification, laid into a folder."""
    (folder / "job.toml").write_text(JOB, encoding="utf-8")
    (folder / "finishes.txt").write_text(SPEC, encoding="utf-8")
    return folder


class Visitor:
    """A browser at a desk."""

    def __init__(self, folder: Path, *, let_in: bool = True, doubted: str = "") -> None:
        self.bench = bench(folder, doubted)
        self.keys = Keys()
        keeping = Kept(Wanted(str(folder / "job.toml")), load_plugins())
        self.app: Guard = app(self.bench, look(), self.keys, PORT, keeping)
        self.cookies = httpx.Cookies()
        if let_in:
            assert self.get(f"/?t={self.keys.once}").status_code == 303

    def get(self, path: str, **how: Any) -> httpx.Response:
        """A page asked for."""
        return self.ask("GET", path, **how)

    def do(
        self, deed: str, *, script: bool = True, heads: dict[str, str] | None = None, **fields: str
    ) -> httpx.Response:
        """A form sent, by the script or as a browser without one does."""
        all_heads = {
            "origin": HOME,
            "sec-fetch-site": "same-origin",
            **({"x-panes": "1"} if script else {}),
            **(heads or {}),
        }
        return self.ask("POST", f"/do/{deed}", data={"key": self.keys.form, **fields}, headers=all_heads)

    def ask(self, method: str, path: str, **how: Any) -> httpx.Response:
        """A request as it is given."""

        async def asked() -> httpx.Response:
            transport = httpx.ASGITransport(app=self.app)  # type: ignore[arg-type]
            async with httpx.AsyncClient(transport=transport, base_url=HOME, cookies=self.cookies) as client:
                answer = await client.request(method, path, **how)
                self.cookies = client.cookies
                return answer

        return apart(asked())

    def was(self, table: str, row: int) -> str:
        """The mark of a row, as the page shows it."""
        html = self.get(f"/?table={table}").text
        found = re.search(rf'id="r-{table}-{row}-was" value="(\w+)"', html)
        assert found is not None
        return found[1]
