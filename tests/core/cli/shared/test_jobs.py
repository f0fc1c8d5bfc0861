"""Jobs from files, folders and standard input, and the demo wherever one stands."""

from __future__ import annotations

import json
from pathlib import Path

from commands import JOB, SECTION, checked, darby
from darby.cli.shared.jobs import Wanted, estimate_of


def test_a_job_may_come_from_standard_input(folder: Path) -> None:
    done = darby("estimate", "-", "--format", "json", given=JOB, cwd=folder)
    assert done.returncode == 0, done.stderr
    assert checked("estimate", done.stdout)["job"]["file"] == "standard input"


def test_a_folder_that_holds_a_job_file_will_do(folder: Path) -> None:
    assert darby("estimate", str(folder)).returncode == 0


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
    (folder / "section.txt").write_text(f"{SECTION}GYPSUM BOARD\n", encoding="utf-8")
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


def answered(folder: Path, answer: str) -> None:
    """The log of the job, with an answer in its last column, named by the job."""
    assert (
        darby("estimate", "job.toml", "--out", "log.csv", "--format", "clarifications.csv", cwd=folder).returncode == 0
    )
    head, first, *rest = (folder / "log.csv").read_text(encoding="utf-8-sig").splitlines()
    assert head.endswith(",answered,by,answer")
    assert first.endswith(",,,")
    told = first.removesuffix(",,,") + f",May 3,M. Osier,{answer}"
    (folder / "log.csv").write_text("\n".join([head, told, *rest]), encoding="utf-8-sig")
    named = JOB.replace("[documents]", '[documents]\nanswers = ["log.csv"]')
    assert named != JOB
    (folder / "job.toml").write_text(named, encoding="utf-8")


def test_an_answer_in_the_clarification_log_overrides_the_documents(folder: Path) -> None:
    answered(folder, "Primer: 100 sq ft per gallon.")
    done = darby("estimate", "job.toml", "--format", "json", cwd=folder)
    assert done.returncode == 0, done.stderr
    data = checked("estimate", done.stdout)
    (primer,) = [i for i in data["items"] if i["product"] == "primer"]
    (rule,) = [r for r in primer["rules"] if r["layer"] == "clarification"]
    assert (rule["kind"], rule["amount"]["value"], rule["source"]["file"]) == ("coverage", "100", "log.csv")
    assert any("100 sq ft per gal" in step["text"] for step in primer["working"])


def test_nothing_else_of_the_log_is_read(folder: Path) -> None:
    answered(folder, "")
    data = checked("estimate", darby("estimate", "job.toml", "--format", "json", cwd=folder).stdout)
    assert not [r for i in data["items"] for r in i["rules"] if r["source"]["file"] == "log.csv"]
    text = darby("estimate", "job.toml", cwd=folder).stdout
    assert "log.csv" not in text


def test_a_job_with_answers_is_saved_and_replayed(folder: Path) -> None:
    answered(folder, "Primer: 100 sq ft per gallon.")
    assert darby("estimate", "job.toml", "--save", "kept.json", cwd=folder).returncode == 0
    done = darby("compare", "kept.json", "job.toml", cwd=folder)
    assert "Nothing moved" in done.stdout, done.stdout + done.stderr


def test_a_log_is_never_written_over_while_the_job_reads_it(folder: Path) -> None:
    answered(folder, "Primer: 100 sq ft per gallon.")
    done = darby("estimate", "job.toml", "--out", "log.csv", "--format", "clarifications.csv", cwd=folder)
    assert done.returncode == 2
    assert "M. Osier" in (folder / "log.csv").read_text(encoding="utf-8-sig")


def test_the_tables_of_the_papers_are_texts(folder: Path) -> None:
    tables = '\n[order]\ndeliver_to = "Pier 4"\n\n[letter]\nreply_by = 4\n\n[scope]\nvalid_till = "June"\n'
    (folder / "job.toml").write_text(JOB + tables, encoding="utf-8")
    done = darby("estimate", "job.toml", cwd=folder)
    assert done.returncode == 2
    assert "reply_by" in done.stderr
    assert "valid_until" in done.stderr


DECKS = """
from darby.api import JobTable, Key, Source, Trade, hookimpl

DARBY_API = 1
TABLE = JobTable("decks", "deck", "flat", keys=(Key("side", "SAYS", least="4 in"),))


@hookimpl
def darby_trades():
    return (Trade("felt", "Felt", lambda job, book: (), {"us": Source("felt defaults", "LINE")},
                  tables=(TABLE,), settings=(Key("side", "length", most="5 ft"),)),)
"""
DECK = '[plugins]\nfiles = ["ours.py"]\n[settings.felt]\nside = "2 ft"\n[[decks]]\nname = "roof"\nlength = "9 ft"\nwidth = "9 ft"\n'


def told_of(folder: Path, plugin: str, wanted: str = DECK) -> tuple[bool, dict[str, list[str]]]:
    """Whether a job with such a plugin has an estimate, and what is told by its severity."""
    (folder / "ours.py").write_text(plugin, encoding="utf-8")
    (folder / "job.toml").write_text(f'name = "x"\nunits = "us"\n{wanted}', encoding="utf-8")
    outcome = estimate_of(Wanted(str(folder / "job.toml"), run_plugins=True))
    told = outcome.problems or (outcome.estimate.diagnostics if outcome.estimate is not None else ())
    found: dict[str, list[str]] = {}
    for one in told:
        found.setdefault(one.severity.value, []).append(one.message)
    return outcome.estimate is not None, found


def test_tables_and_settings_of_a_plugin_that_broke_are_warnings_and_the_reason_is_told(tmp_path: Path) -> None:
    made, told = told_of(tmp_path, DECKS.replace("SAYS", "lenght").replace("LINE", "Felt: side = 1 ft."))
    assert made
    assert "error" not in told
    text = " ".join(told["warning"])
    assert '"decks" has no place in the job file' in text
    assert '[settings] has no key "felt"' in text
    assert "is no lenght" in text


def test_why_a_plugin_broke_is_told_beside_what_keeps_the_job_from_being_worked_out(tmp_path: Path) -> None:
    plugin = DECKS.replace("SAYS", "lenght").replace("LINE", "Felt: side = 1 ft.")
    made, told = told_of(
        tmp_path, plugin, f'colour = "red"\n{DECK}[[walls]]\nname = "a"\nlength = "9"\nheight = "9 ft"\nfaces = 1\n'
    )
    assert not made
    assert "is no lenght" in " ".join(told["warning"])


def test_a_default_line_that_sets_what_cannot_be_is_the_plugins_fault_and_stops_nobody(tmp_path: Path) -> None:
    made, told = told_of(tmp_path, DECKS.replace("SAYS", "length").replace("LINE", "Felt: side = 20 ft."))
    assert made
    assert any("side of the trade felt is 20 ft" in one for one in told["warning"])
