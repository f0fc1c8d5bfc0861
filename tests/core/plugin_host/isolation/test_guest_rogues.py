"""Whatever a plugin does, the other trades' lines are the same as without it, byte for byte, and it is named."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Iterable
from functools import cache
from importlib.metadata import entry_points
from pathlib import Path
from typing import Any

import pytest

from commands import darby
from darby.documents.exact_json.estimate import estimate_json
from darby.estimate.document_format import Document
from darby.estimate.model import Estimate
from darby.job.loader import load
from darby.pipeline import estimate
from darby.plugin_host.isolation.failures import BrokenError
from darby.plugin_host.loader import load_plugins
from darby.reading.read import Language
from darby.rules.rule import HOUSE, SPECIFICATION
from darby.text.spans import Source
from rogues import MEDDLERS, PLUGINS, TRADES, Entry, lines, one, plugin

JOB = """
name = "Net loft"
units = "us"
rules = ["Gypsum board waste: 8 %."]
[[rooms]]
name = "store"
length = "12 ft 6 in"
width = "10 ft"
height = "8 ft"
[[walls]]
name = "sea wall"
length = "36 ft"
height = "9 ft"
faces = 1
board = "two layers, 5/8 in. thick"
"""
SPEC = """
Primer: one coat, 250 sq ft per gallon. Finish paint: two coats of eggshell on walls, 380 sq ft per gallon.
Gypsum board: 1/2 in. thick on walls, 5/8 in. thick on ceilings.
Screws: 12 in. o.c. on ceilings, 16 in. o.c. on walls.
"""
HOUSE_LINES = "Joint compound: 15 lb per 100 sq ft.\n"


@pytest.fixture(autouse=True)
def allowance(monkeypatch: pytest.MonkeyPatch, request: pytest.FixtureRequest) -> None:
    """What loops is stopped soon, whatever the machine; what ends by itself has time to, however busy the machine is."""
    monkeypatch.setenv("DARBY_ALLOWANCE", "1" if "loops" in request.node.name else "600")


def own() -> list[Any]:
    return [e for e in entry_points(group="darby") if e.dist and e.dist.name == "darby"]


@cache
def plain() -> Language:
    """The language of Darby's own plugins, made once for all jobs in which nobody else brings a word or a reader."""
    plugins = load_plugins(entries=own())
    return Language.of(plugins.readers, plugins.vocabularies)


def made_with(*rogues: Entry) -> Estimate:
    plugins = load_plugins(entries=[*rogues, *own()])
    work, found = load(Source("job.toml", JOB), {m for p in plugins.trades for m in p.trade.marks})
    assert work is not None, found
    papers = [(Source("house.txt", HOUSE_LINES), HOUSE), (Source("spec.txt", SPEC), SPECIFICATION)]
    names = [part.name for part in (*plugins.readers, *plugins.vocabularies)]
    same = names == [part.name for part in (*plain().readers, *plain().vocabularies)]
    return estimate(work, papers, plugins, plain() if same else None)


@cache
def alone() -> dict[str, str]:
    return told(made_with(), "board coatings fasteners joints".split())


def told(made: Estimate, trades: Iterable[str]) -> dict[str, str]:
    """The lines, cautions and conflicts as the JSON document tells them, those of the named trades only."""
    data = estimate_json(made)
    items = [i for i in data["items"] if i["trade"] in trades]
    return {
        "items": json.dumps(items),
        "cautions": json.dumps([c for c in data["cautions"] if c["topic"] != "Hook"]),
        "conflicts": json.dumps(data["conflicts"]),
        "assumptions": json.dumps(data["assumptions"]),
        "questions": json.dumps([q for q in data["questions"] if any(":" in i and i.split(":")[0] in trades for i in q["items"])]),
    }  # fmt: skip


def test_the_job_without_rogues_uses_every_trade_and_misses_nothing() -> None:
    made = made_with()
    assert {i.trade for i in made.items} == {"board", "coatings", "fasteners", "joints"}
    assert made.complete
    assert not [d.code for d in made.diagnostics if d.code.startswith(("plugin", "trade", "word"))]


@pytest.mark.parametrize("name", [*TRADES, *PLUGINS])
def test_a_broken_plugin_costs_its_own_lines_only_and_is_named_with_its_version(name: str) -> None:
    rogue, said = (TRADES | PLUGINS)[name]
    made = made_with(rogue)
    assert told(made, ("board", "coatings", "fasteners", "joints")) == alone()
    assert not [i for i in made.items if i.trade not in ("board", "coatings", "fasteners", "joints")]
    messages = [d.message for d in made.diagnostics]
    assert any(said in m for m in messages), messages
    assert any(f"{rogue.name} 0.9" in m for m in messages) or "both" in said, messages
    assert not made.complete or "documents" in name
    assert any(m.startswith(rogue.name) for m in made.missing) or "documents" in name


@pytest.mark.parametrize("name", MEDDLERS)
def test_a_plugin_that_reaches_for_what_is_anothers_gets_none_of_it(name: str) -> None:
    rogue, said = MEDDLERS[name]
    made = made_with(rogue)
    assert told(made, ("board", "coatings", "fasteners", "joints")) == alone()
    assert any(said in d.message for d in made.diagnostics) or not said
    assert made.complete


def test_a_whole_gallery_at_once_costs_its_own_lines_only() -> None:
    rogues = [rogue for rogue, _ in [*TRADES.values(), *MEDDLERS.values()]]
    named = [Entry(f"r{n:02}", rogue.load) for n, rogue in enumerate(rogues) if "loops" not in str(rogue)]
    quick = [e for e, (name, _) in zip(named, [*TRADES.items(), *MEDDLERS.items()], strict=True) if "loop" not in name]
    made = made_with(lines(one, "sound"), *quick)
    assert told(made, ("board", "coatings", "fasteners", "joints")) == alone()
    assert [i.id for i in made.items if i.trade == "sound"] == ["sound:hook"]


def test_what_a_plugin_prints_stays_out_of_the_document(tmp_path: Path) -> None:
    (tmp_path / "talker.py").write_text(
        "print('on import')\n"
        "from darby.quantities.amounts import Amount\nfrom darby.plugin_host.hooks import hookimpl\nfrom darby.estimate.line_item import LineItem\n"
        "from darby.estimate.trade import Trade\nDARBY_API = 1\n"
        "def line_items(job, book):\n    print('in the call')\n    yield LineItem('hook', Amount.of(2))\n"
        "@hookimpl\ndef darby_trades():\n    print('in the hook')\n    return [Trade('talker', 'Talker', line_items)]\n",
        encoding="utf-8",
    )
    (tmp_path / "job.toml").write_text(JOB + '\n[plugins]\nfiles = ["talker.py"]\n', encoding="utf-8")
    command = (sys.executable, "-m", "darby", "estimate", "job.toml", "--run-plugins", "--format", "json")
    done = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    assert "talker:hook" in [i["id"] for i in json.loads(done.stdout)["items"]]
    assert done.stderr.split() == "on import in the hook in the call".split()


def test_the_commands_work_whatever_a_plugin_does(tmp_path: Path) -> None:
    (tmp_path / "hopeless.py").write_text("import os\nos._exit(0)\n", encoding="utf-8")
    (tmp_path / "job.toml").write_text(JOB + '\n[plugins]\nfiles = ["hopeless.py"]\n', encoding="utf-8")
    command = (sys.executable, "-m", "darby", "estimate", "job.toml", "--run-plugins")
    done = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, check=False)
    assert done.returncode == 3, done.stderr
    assert "hopeless" in done.stdout + done.stderr
    assert "ended the program" in done.stdout + done.stderr


def test_a_document_that_loops_is_stopped_and_one_that_works_is_made(monkeypatch: pytest.MonkeyPatch) -> None:
    def endless(made: Estimate) -> str:
        while True:
            pass

    def brief(made: Estimate) -> str:
        return f"{len(made.items)} lines"

    found = [Document("brief", "", brief), Document("endless", "", endless)]
    rogue = plugin("rogue", darby_documents=lambda: found)
    monkeypatch.setenv("DARBY_ALLOWANCE", "600")
    documents = {d.name: d for d in load_plugins(entries=[rogue, *own()]).documents}
    made = made_with()
    assert documents["brief"].make(made) == f"{len(made.items)} lines"
    monkeypatch.setenv("DARBY_ALLOWANCE", "1")
    with pytest.raises(BrokenError, match="did not stop within 1 seconds"):
        documents["endless"].make(made)


INSTALLED = {
    "loops": "while True: pass",
    "leaves": "import os\nos._exit(0)",
    "exits": "raise SystemExit(0)",
    "breaks": "import nowhere_to_be_found",
    "shouts": "print('{' * 100)\nDARBY_API = 99",
}
"""Modules of plugins that are installed beside Darby, by what they do on import."""


@pytest.fixture(scope="module")
def beside(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder of installed distributions, each of one broken plugin."""
    folder = tmp_path_factory.mktemp("beside")
    for name, code in INSTALLED.items():
        (folder / f"rogue_{name}.py").write_text(code, encoding="utf-8")
        data = folder / f"rogue_{name}-0.9.dist-info"
        data.mkdir()
        (data / "METADATA").write_text(f"Metadata-Version: 2.1\nName: rogue-{name}\nVersion: 0.9\n", encoding="utf-8")
        (data / "entry_points.txt").write_text(f"[darby]\nrogue-{name} = rogue_{name}\n", encoding="utf-8")
    (folder / "job.toml").write_text(JOB, encoding="utf-8")
    (folder / "s.txt").write_text(SPEC, encoding="utf-8")
    return folder


@pytest.mark.parametrize(
    ("command", "code"),
    [
        (("--help",), 0),
        (("--version",), 0),
        (("why", "plugin-broken"), 0),
        (("trades", "--format", "json"), 3),
        (("read", "s.txt", "--format", "json"), 3),
        (("estimate", "job.toml", "--format", "json"), 3),
        (("estimate", "job.toml", "--format", "json", *(o for n in INSTALLED for o in ("--without", f"rogue-{n}"))), 0),
        (("trades", "--only", "board"), 0),
    ],
    ids=lambda v: " ".join(v)[:40] if isinstance(v, tuple) else str(v),
)
def test_every_command_works_whatever_is_installed_beside_it(
    command: tuple[str, ...], code: int, beside: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.syspath_prepend(beside)
    done = darby(*command, cwd=beside, DARBY_ALLOWANCE="1", NO_COLOR="1")
    assert done.returncode == code, done.stdout + done.stderr
    if "json" in command:
        told = json.dumps(json.loads(done.stdout)["diagnostics"])
        named = [name for name in INSTALLED if f"rogue-{name} 0.9" in told]
        assert named == (sorted(INSTALLED, key=list(INSTALLED).index) if code else [])
    else:
        assert "Traceback" not in done.stderr


def test_plugins_are_chosen_by_the_environment_too(beside: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.syspath_prepend(beside)
    done = darby("estimate", "job.toml", "--format", "json", cwd=beside, DARBY_PLUGINS="board, joints")
    assert done.returncode == 0, done.stderr
    assert {i["trade"] for i in json.loads(done.stdout)["items"]} == {"board", "joints"}


def test_in_a_process_of_its_own_as_well(beside: Path) -> None:
    path = os.pathsep.join(filter(None, (str(beside), os.environ.get("PYTHONPATH", ""))))
    command = (sys.executable, "-m", "darby", "estimate", "job.toml", "--format", "json")
    environment = {**os.environ, "PYTHONPATH": path, "DARBY_ALLOWANCE": "1"}
    done = subprocess.run(command, cwd=beside, env=environment, capture_output=True, text=True, check=False)
    assert done.returncode == 3, done.stderr
    told = json.dumps(json.loads(done.stdout)["diagnostics"])
    assert [name for name in INSTALLED if f"rogue-{name} 0.9" in told] == list(INSTALLED)


def test_lines_and_keys_for_a_plugin_that_is_away_are_told_and_cost_nobody_elses_lines(
    beside: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (beside / "house.txt").write_text("Sky hooks: 7 per 3 sq ft of sky. [ours]\n" + HOUSE_LINES, encoding="utf-8")
    more = '[documents]\nhouse = ["house.txt"]\n[[walls]]\nname = "hooked"\narea = "90 sq ft"\nfaces = 1\nhooks = "seven"\n'
    (beside / "hooked.toml").write_text(JOB + more, encoding="utf-8")

    def run(*options: str) -> tuple[int, dict[str, Any]]:
        done = darby("estimate", str(beside / "hooked.toml"), "--format", "json", *options, cwd=beside.parent)
        return done.returncode, json.loads(done.stdout)

    code, refused = run()
    assert (code, {d["code"] for d in refused["diagnostics"]}) == (2, {"job-unknown-key"})
    monkeypatch.syspath_prepend(beside)
    code, made = run("--without", "rogue-shouts", "--without", "rogue-loops")
    assert code == 3
    assert {i["trade"] for i in made["items"]} == {"board", "coatings", "fasteners", "joints"}
    told = {d["code"]: d for d in made["diagnostics"]}
    for each in ("job-unknown-key", "line-not-understood"):
        assert told[each]["severity"] == "warning"
        assert "rogue-shouts" in told[each]["help"]
