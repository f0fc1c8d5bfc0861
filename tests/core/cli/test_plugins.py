"""What is plugged in, and why one of it does not work."""

from __future__ import annotations

import json
from pathlib import Path

from commands import darby

WORKS = """from darby.api import Amount, LineItem, Trade, hookimpl
DARBY_API = 1
def line_items(job, book):
    yield LineItem("hook", Amount.of(2))
@hookimpl
def darby_trades():
    return [Trade("hooks", "Hooks", line_items)]
"""


def test_plugins_tells_of_each_its_version_source_hooks_and_state(tmp_path: Path) -> None:
    (tmp_path / "hooks.py").write_text(WORKS, encoding="utf-8")
    (tmp_path / "broken.py").write_text("\n1 / 0\n", encoding="utf-8")
    files = (str(tmp_path / "hooks.py"), str(tmp_path / "broken.py"))
    done = darby("plugins", *files, "--without", "joints", "--format", "json")
    assert done.returncode == 3, done.stderr
    data = json.loads(done.stdout)
    rows = {row["name"]: row for row in data["plugins"]}
    assert rows["board"]["brings"]["trades"] == ["board"]
    assert rows["board"]["source"] == "the installed darby"
    assert rows["hooks"]["brings"] == {"trades": ["hooks"]}
    assert rows["hooks"]["source"] == "the file hooks.py"
    assert {name: rows[name]["state"] for name in ("board", "hooks", "broken", "joints")} == {
        "board": "works", "hooks": "works", "broken": "failed", "joints": "left out"
    }  # fmt: skip
    assert any("ZeroDivisionError" in d["message"] and "broken.py, line 2" in d["message"] for d in data["diagnostics"])


def test_plugins_shows_them_one_below_the_other() -> None:
    done = darby("plugins", "--only", "board")
    assert done.returncode == 0, done.stderr
    assert "trades: board" in done.stdout
    assert "left out, from the installed darby" in done.stdout
