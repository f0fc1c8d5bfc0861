"""The commands from outside: what they print where, and with which code they end."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from fractions import Fraction
from importlib.resources import files
from pathlib import Path
from typing import Any

import jsonschema
import pytest

DARBY = Path(sys.executable).with_name("darby")

JOB = """\
name = "Lamp Street studio"
units = "us"

[documents]
specification = ["section.txt"]

[[walls]]
name = "north wall"
length = "24 ft"
height = "8 ft"
faces = 1
"""
SECTION = """\
2.01 MATERIALS
A. Primer: 200 sq ft per gallon.
3.01 APPLICATION
A. Walls: one coat primer.
"""


def darby(
    *arguments: str, given: str | bytes = "", cwd: Path | None = None, **environment: str
) -> subprocess.CompletedProcess[str]:
    plain = {k: v for k, v in os.environ.items() if not k.startswith(("DARBY_", "FORCE_COLOR", "NO_COLOR", "COLUMNS"))}
    done = subprocess.run(
        (sys.executable, str(DARBY), *arguments),
        input=given.encode() if isinstance(given, str) else given,
        capture_output=True,
        cwd=cwd,
        env=plain | environment,
        check=False,
    )
    return subprocess.CompletedProcess(
        done.args, done.returncode, done.stdout.decode("utf-8"), done.stderr.decode("utf-8")
    )


def checked(name: str, text: str) -> dict[str, Any]:
    data = json.loads(text)
    schema = json.loads((files("darby") / "schemas" / f"{name}.schema.json").read_text("utf-8"))
    jsonschema.Draft202012Validator(schema).validate(data)
    return data


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "job.toml").write_text(JOB, encoding="utf-8")
    (tmp_path / "section.txt").write_text(SECTION, encoding="utf-8")
    return tmp_path


# --- estimate


def test_an_estimate_orders_what_the_longhand_says(folder: Path) -> None:
    done = darby("estimate", str(folder / "job.toml"), "--format", "json")
    assert done.returncode == 0, done.stderr
    (primer,) = (i for i in checked("estimate", done.stdout)["items"] if i["product"] == "primer")
    assert Fraction(primer["need"]["value"]) == Fraction(24 * 8, 200)  # one coat, 192 sq ft at 200 sq ft per gal
    assert primer["order"]["count"] == 1


def test_the_same_job_gives_the_same_bytes(folder: Path) -> None:
    one, other = (darby("estimate", "job.toml", "--format", "json", cwd=folder).stdout for _ in range(2))
    assert one == other != ""


def test_a_job_may_come_from_standard_input(folder: Path) -> None:
    done = darby("estimate", "-", "--format", "json", given=JOB, cwd=folder)
    assert done.returncode == 0, done.stderr
    assert checked("estimate", done.stdout)["job"]["file"] == "standard input"


def test_a_folder_that_holds_a_job_file_will_do(folder: Path) -> None:
    assert darby("estimate", str(folder)).returncode == 0


def test_strict_ends_with_1_where_something_is_left_to_ask(folder: Path) -> None:
    done = darby("estimate", "job.toml", "--strict", cwd=folder)
    assert done.returncode == 1
    assert "For the specifier" in done.stdout


def test_every_mistake_of_a_job_is_told_with_its_place(folder: Path) -> None:
    wrong = JOB.replace("height", "heigth").replace("faces = 1", "faces = 3").replace('"us"', '"imperial"')
    (folder / "job.toml").write_text(wrong, encoding="utf-8")
    done = darby("estimate", "job.toml", cwd=folder)
    assert (done.returncode, done.stdout) == (2, "")
    for place in ("job.toml:2:", "job.toml:10:", "job.toml:11:"):
        assert place in done.stderr
    assert "^^^" in done.stderr
    assert "darby why: job-units, job-unknown-key, job-faces" in done.stderr


def test_errors_are_json_where_json_is_wanted(folder: Path) -> None:
    (folder / "section.txt").unlink()
    done = darby("estimate", "job.toml", "--format", "json", cwd=folder)
    assert (done.returncode, done.stderr) == (2, "")
    data = checked("estimate", done.stdout)
    assert [(d["code"], d["line"]) for d in data["diagnostics"]] == [("file-missing", 5)]
    assert data["items"] == []


def test_units_of_the_command_line_beat_those_of_the_job(folder: Path) -> None:
    done = darby("estimate", "job.toml", "--format", "json", "--units", "metric", cwd=folder)
    assert checked("estimate", done.stdout)["job"]["units"] == "metric"


def test_an_unknown_format_names_those_there_are(folder: Path) -> None:
    done = darby("estimate", "job.toml", "--format", "jsno", cwd=folder)
    assert done.returncode == 2
    assert "json" in done.stderr


def test_a_trade_can_be_left_out(folder: Path) -> None:
    done = darby("estimate", "job.toml", "--format", "json", "--without", "coatings", cwd=folder)
    assert "coatings" not in {i["trade"] for i in checked("estimate", done.stdout)["items"]}


@pytest.mark.parametrize(
    ("options", "environment"), [(("--only", "coatings"), {}), ((), {"DARBY_PLUGINS": " coatings ,"})]
)
def test_only_one_trade_can_be_used_and_reading_goes_on(
    folder: Path, options: tuple[str, ...], environment: dict[str, str]
) -> None:
    done = darby("estimate", "job.toml", "--format", "json", *options, cwd=folder, **environment)
    data = checked("estimate", done.stdout)
    assert {i["trade"] for i in data["items"]} == {"coatings"}
    assert any(r["layer"] == "specification" for i in data["items"] for r in i["rules"])


PLUGIN = """\
from darby.plugin_host.hooks import hookimpl
from darby.estimate.trade import Trade

DARBY_API = 1


def line_items(job, book):
    raise RuntimeError("no such luck")


@hookimpl
def darby_trades():
    return [Trade("hopeless", "Hopeless", line_items)]
"""


def test_a_job_s_own_plugin_is_run_only_when_allowed_and_its_failure_leaves_the_rest(folder: Path) -> None:
    (folder / "hopeless.py").write_text(PLUGIN, encoding="utf-8")
    (folder / "job.toml").write_text(JOB + '\n[plugins]\nfiles = ["hopeless.py"]\n', encoding="utf-8")
    refused = darby("estimate", "job.toml", cwd=folder)
    assert refused.returncode == 2
    assert "--run-plugins" in refused.stderr
    done = darby("estimate", "job.toml", "--run-plugins", "--format", "json", cwd=folder)
    data = checked("estimate", done.stdout)
    assert (done.returncode, data["complete"], data["missing"]) == (3, False, ["hopeless"])
    assert {"board", "coatings"} <= {i["trade"] for i in data["items"]}
    seen = darby("estimate", "job.toml", "--run-plugins", cwd=folder)
    assert "Incomplete" in seen.stdout
    assert "Traceback" not in seen.stdout + seen.stderr


def test_a_document_without_a_word_for_the_trades_is_said_to_be_one(folder: Path) -> None:
    (folder / "section.txt").write_text("The lift shall carry eight persons.\n", encoding="utf-8")
    done = darby("estimate", "job.toml", cwd=folder)
    assert done.returncode == 0
    assert "section.txt says nothing" in " ".join(done.stdout.split())


DOCUMENTS = """\
from darby.estimate.document_format import Document
from darby.plugin_host.hooks import hookimpl

DARBY_API = 1


def broken(estimate):
    return estimate.no_such_thing


@hookimpl
def darby_documents():
    return [
        Document("count", "how many lines", lambda estimate: f"{len(estimate.items)} lines\\n"),
        Document("bytes", "raw", lambda estimate: bytes([0, 255])),
        Document("broken", "fails", broken),
        Document("nothing", "gives none", lambda estimate: None),
    ]
"""


@pytest.fixture
def with_documents(folder: Path) -> Path:
    (folder / "extra.py").write_text(DOCUMENTS, encoding="utf-8")
    (folder / "job.toml").write_text(JOB + '\n[plugins]\nfiles = ["extra.py"]\n', encoding="utf-8")
    return folder


def test_a_format_that_a_plugin_brings_is_written_as_it_is(with_documents: Path) -> None:
    count = darby("estimate", "job.toml", "--run-plugins", "--format", "count", cwd=with_documents)
    assert count.returncode == 0, count.stderr
    assert count.stdout.endswith(" lines\n")
    raw = subprocess.run(
        (sys.executable, str(DARBY), "estimate", "job.toml", "--run-plugins", "--format", "bytes"),
        capture_output=True, cwd=with_documents, check=True,
    )  # fmt: skip
    assert raw.stdout == bytes([0, 255])


@pytest.mark.parametrize("form", ["broken", "nothing"])
def test_a_format_that_fails_is_told_and_ends_with_3(with_documents: Path, form: str) -> None:
    done = darby("estimate", "job.toml", "--run-plugins", "--format", form, cwd=with_documents)
    assert (done.returncode, done.stdout) == (3, "")
    assert "document-failed" in done.stderr
    assert "Traceback" not in done.stderr


# --- explain


def test_explain_shows_the_clause_and_the_measured_rows(folder: Path) -> None:
    done = darby("explain", "job.toml", "primer", cwd=folder)
    assert done.returncode == 0, done.stderr
    assert "24 ft × 8 ft" in done.stdout
    assert "section.txt:2" in done.stdout
    assert "job.toml:9, 10" in done.stdout


def test_explain_takes_a_number_a_product_and_a_part_of_an_id(folder: Path) -> None:
    items = checked("estimate", darby("estimate", "job.toml", "--format", "json", cwd=folder).stdout)["items"]
    at = next(n for n, i in enumerate(items, 1) if i["product"] == "primer")
    shown = [darby("explain", "job.toml", name, cwd=folder).stdout for name in (str(at), "Primer", items[at - 1]["id"])]
    assert shown[0] == shown[1] == shown[2] != ""


def test_explain_gives_the_line_as_json(folder: Path) -> None:
    done = darby("explain", "job.toml", "primer", "--format", "json", cwd=folder)
    assert json.loads(done.stdout)["item"]["working"][-1]["unit"] == "can"


@pytest.mark.parametrize("name", ["priner", "999", "a"])
def test_explain_names_the_lines_that_may_be_meant(folder: Path, name: str) -> None:
    done = darby("explain", "job.toml", name, cwd=folder)
    assert done.returncode == 2
    assert "coatings:primer" in done.stderr


# --- read


def test_a_pasted_section_is_read_from_standard_input() -> None:
    done = darby("read", "-", "--format", "json", given=SECTION)
    assert done.returncode == 0, done.stderr
    data = checked("reading", done.stdout)
    assert {(r["kind"], r["subject"]) for r in data["rules"]} == {("coverage", "primer"), ("coats", "primer")}
    assert {n["file"] for n in data["numbers"]} == {"standard input"}
    assert darby("read", "--format", "json", given=SECTION).stdout == done.stdout


def test_several_files_give_one_object(folder: Path) -> None:
    (folder / "more.txt").write_text("Finish paint: 350 sq ft per gal.\n", encoding="utf-8")
    done = darby("read", "section.txt", "more.txt", "--format", "json", cwd=folder)
    assert {r["source"]["file"] for r in checked("reading", done.stdout)["rules"]} == {"section.txt", "more.txt"}


def test_read_marks_the_text_and_tells_the_tally(folder: Path) -> None:
    done = darby("read", "section.txt", cwd=folder)
    assert done.returncode == 0
    assert "2 │ A. Primer: 200 sq ft per gallon." in done.stdout
    assert "primer coverage: 200 sq ft per gal" in done.stdout
    assert done.stdout.splitlines()[-1].endswith("2 rules, 0 questions.")


def test_read_strict_ends_with_1_where_a_number_is_unread() -> None:
    assert darby("read", "-", "--strict", given=SECTION).returncode == 0
    done = darby("read", "-", "--strict", given="Primer: apply 840 of it.\n")
    assert done.returncode == 1
    assert "840" in done.stdout.partition("Not read")[2]


@pytest.mark.parametrize(
    ("given", "code"),
    [(b"", "file-empty"), (b"\x00\x01\x02" * 50, "file-binary"), (b"%PDF-1.7 ...", "file-no-text")],
)
def test_what_is_no_text_is_said_to_be_none(given: bytes, code: str) -> None:
    done = darby("read", "-", given=given)
    assert done.returncode == 2
    assert code in done.stderr
    as_json = darby("read", "-", "--format", "json", given=given)
    assert (as_json.returncode, [d["code"] for d in checked("reading", as_json.stdout)["diagnostics"]]) == (2, [code])


def test_a_missing_file_suggests_the_nearest(folder: Path) -> None:
    done = darby("read", "secton.txt", cwd=folder)
    assert done.returncode == 2
    assert "Did you mean section.txt?" in done.stderr


def test_escapes_in_a_text_do_not_reach_the_terminal() -> None:
    done = darby("read", "-", given="Primer \x1b[31m: 200 sq ft per gallon \x1b]0;x\x07 \u202egnihtyna 840.\n")
    assert not {"\x1b", "\x07", "\u202e"} & set(done.stdout + done.stderr)


# --- demo, why, trades


def test_the_demo_runs_from_anywhere_and_shows_its_order_list(tmp_path: Path) -> None:
    done = darby("demo", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    assert "To order" in done.stdout
    assert not list(tmp_path.iterdir())


def test_the_demo_copied_out_gives_the_demo_s_order(tmp_path: Path) -> None:
    assert darby("demo", "--to", "mine", cwd=tmp_path).returncode == 0
    mine = darby("estimate", "mine/job.toml", "--format", "json", cwd=tmp_path)
    shipped = darby("demo", "--format", "json", cwd=tmp_path)
    assert [(i["id"], i["order"]) for i in json.loads(mine.stdout)["items"]] == [
        (i["id"], i["order"]) for i in checked("estimate", shipped.stdout)["items"]
    ]


def test_the_demo_is_not_copied_over_files_that_are_there(tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text("mine", encoding="utf-8")
    done = darby("demo", "--to", str(tmp_path))
    assert done.returncode == 2
    assert "job.toml" in done.stderr
    assert [f.name for f in tmp_path.iterdir()] == ["job.toml"]


def test_the_demo_can_be_explained_without_copying_it(tmp_path: Path) -> None:
    assert darby("explain", "demo", "1", cwd=tmp_path).returncode == 0


def test_longhand_follows_each_line_when_asked(tmp_path: Path) -> None:
    done = darby("demo", "--longhand", cwd=tmp_path)
    assert done.stdout.count("rounded up =") >= 5


def test_why_shows_a_page_and_lists_them_all() -> None:
    assert "one face or two" in darby("why", "job-faces").stdout
    assert len(darby("why").stdout.splitlines()) > 20


def test_why_names_the_nearest_of_an_unknown_code() -> None:
    done = darby("why", "job-face\x1b[2J")
    assert done.returncode == 2
    assert "job-faces" in done.stderr
    assert "\x1b" not in done.stderr


def test_trades_lists_the_default_lines_with_their_sources() -> None:
    done = darby("trades")
    assert done.returncode == 0, done.stderr
    assert "coatings" in done.stdout
    assert "Primer: one coat." in done.stdout
    assert "common practice" in done.stdout


def test_trades_as_json_give_each_default_line_its_place() -> None:
    data = json.loads(darby("trades", "--format", "json").stdout)
    coatings = next(t for t in data["trades"] if t["name"] == "coatings")
    assert coatings["defaults"]["us"][0]["line"] == 1


# --- leaving


def test_help_imports_click_and_no_engine() -> None:
    code = "import sys, darby.cli; print([m for m in sys.modules if m.split('.')[0] in ('attrs','attr','rich','lark','pluggy')])"
    done = subprocess.run((sys.executable, "-c", code), capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_our_own_mistake_ends_with_70_and_a_calm_sentence() -> None:
    code = (
        "import darby.text.explanation, darby.cli\n"
        "class Broken(dict):\n    def get(self, *a): raise ZeroDivisionError('x')\n"
        "darby.text.explanation.PAGES = Broken(a=1)\n"
        "darby.cli.main(['why', 'x'])\n"
    )
    run = (sys.executable, "-c", code)
    done = subprocess.run(run, capture_output=True, text=True, check=False, env={**os.environ, "DARBY_DEBUG": ""})
    assert done.returncode == 70
    assert "our fault" in done.stderr
    assert "Traceback" not in done.stderr
    loud = subprocess.run(run, capture_output=True, text=True, check=False, env={**os.environ, "DARBY_DEBUG": "1"})
    assert loud.returncode == 70
    assert "ZeroDivisionError: x" in loud.stderr


def test_whoever_interrupts_gets_no_reproach() -> None:
    code = (
        "import darby.text.explanation, darby.cli\n"
        "class Stopped(dict):\n    def get(self, *a): raise KeyboardInterrupt\n"
        "darby.text.explanation.PAGES = Stopped(a=1)\n"
        "darby.cli.main(['why', 'x'])\n"
    )
    done = subprocess.run((sys.executable, "-c", code), capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout, done.stderr) == (130, "", "")


@pytest.mark.skipif(sys.platform == "win32", reason="no pipes of that kind")
def test_a_reader_that_goes_away_is_met_with_silence() -> None:
    command = f'"{sys.executable}" "{DARBY}" why | head -c 1'
    done = subprocess.run(("bash", "-c", command), capture_output=True, text=True, check=False)
    assert done.stderr == ""


def test_a_terminal_that_knows_only_ascii_gets_plainer_signs(folder: Path) -> None:
    done = darby("explain", "job.toml", "primer", cwd=folder, PYTHONIOENCODING="ascii")
    assert done.returncode == 0, done.stderr
    assert "24 ft x 8 ft" in done.stdout


@pytest.mark.parametrize("arguments", [("estmate",), ("estimate",), ("read", "--nope")])
def test_a_slip_on_the_command_line_ends_with_2(arguments: tuple[str, ...]) -> None:
    done = darby(*arguments)
    assert done.returncode == 2
    assert "Traceback" not in done.stderr
    assert "darby" in done.stderr
