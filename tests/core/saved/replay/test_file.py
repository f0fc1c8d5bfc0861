"""Many saved estimates worked out again: the same wherever they run, nothing lost when stopped, one bad file its own."""

from __future__ import annotations

import hashlib
import json
import os
import re
import signal
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from commands import darby
from darby.plugin_host.loader import load_plugins
from darby.saved.model import Choices
from darby.saved.replay.acceptance import accept
from darby.saved.replay.file import Setup, replay, today_of
from darby.saved.replay.journal import NAME, Journal
from darby.saved.replay.one import Office
from darby.saved.replay.workers import Chunk, Here, Pool, Round, files_in
from darby.saved.replay_outcome import Replayed, as_json, of_json
from darby.saved.writer import text_of
from darby.text.spans import Source
from guide import write_gasket
from sheds import DARBY, DEARER, JOB, LINES, ran, setup, shed, sheds, wait_for

# one file


def test_under_the_same_rules_nothing_moves() -> None:
    assert replay("shed.json", shed(100).encode(), Setup()).became == "same"
    assert replay("shed.json", shed(100).encode(), setup(LINES)).became == "same"


def test_todays_house_lines_take_the_place_of_those_it_was_saved_with() -> None:
    one = replay("shed.json", shed(100).encode(), setup())
    assert (one.became, one.name) == ("moved", "Shed 100")
    (moved,) = one.moved
    assert moved.before is not None
    assert moved.after is not None
    # walls 2 x 900 and ceiling 2,000 sq ft: 3,800 at 13 lb per 100 is 494 lb, 8 pails; at 26 lb 988, 16
    assert (moved.before.count, moved.after.count, moved.packages) == (8, 16, 8)


def test_house_lines_that_are_not_understood_fail_with_their_place() -> None:
    one = replay("shed.json", shed(100).encode(), setup("Joint compound: 13 wheelbarrows per 100 sq ft.\n"))
    assert one.became == "failed"
    assert "house.txt:1:" in one.problem


def test_lines_of_a_plugin_that_was_not_run_are_missing_and_not_gone(tmp_path: Path) -> None:
    folder = write_gasket(tmp_path)
    plugins = load_plugins(files=[folder / "our_gasket.py"])
    (named,) = ((name, version) for name, version in plugins.names if name == "our_gasket")
    worked = Office.of(plugins).work(Source("job.toml", JOB.format(n=90)), [])
    assert worked.saved is not None
    data = text_of(worked.saved).encode()
    one = replay("shed.json", data, Setup())
    said = f"The plugin our_gasket {named[1]}, which it was made with, was not run. Its lines are missing."
    assert (one.became, one.problem) == ("incomplete", said)
    assert replay("shed.json", data, Setup(plugin_files=(str(folder / "our_gasket.py"),))).became == "same"


def test_the_choices_an_estimate_was_saved_with_hold_again() -> None:
    plugins = load_plugins(without=["coatings"])
    worked = Office.of(plugins).work(Source("job.toml", JOB.format(n=90)), [], Choices("metric", ("coatings",)))
    assert worked.saved is not None
    one = replay("shed.json", text_of(worked.saved).encode(), Setup())
    assert one.became == "same"
    assert not any(line.trade == "coatings" for line in worked.saved.items)


def test_a_trade_that_is_no_longer_there_takes_its_lines_along() -> None:
    one = replay("shed.json", shed(100).encode(), Setup(without=("coatings",)))
    assert one.became == "failed" or {m.line.trade for m in one.moved if m.after is None} == {"coatings"}


def test_our_own_mistake_costs_its_file_only(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr("darby.saved.replay.file.moved", broken)
    one = replay("shed.json", shed(100).encode(), Setup())
    assert (one.became, one.problem) == ("failed", "shed.json: something went wrong (ZeroDivisionError).")


def test_a_result_noted_and_read_back_is_the_same() -> None:
    for one in (
        replay("a", shed(100).encode(), setup()),
        replay("b", b"{", setup()),
        replay("c", shed(101).encode(), Setup()),
    ):
        assert of_json(json.loads(json.dumps(as_json(one)))) == one


# many


def test_files_are_found_below_folders_sorted_and_hidden_ones_are_not(tmp_path: Path) -> None:
    for name in ("b.json", "a/c.json", ".hidden/d.json", ".e.json", "f.txt"):
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text("{}")
    found, missing = files_in([str(tmp_path), str(tmp_path / "f.txt"), "nowhere"])
    assert [Path(f).name for f in found] == ["c.json", "b.json", "f.txt"]
    assert missing == ["nowhere"]


def test_a_bad_file_among_good_ones_costs_itself(tmp_path: Path) -> None:
    files = sheds(tmp_path, 3)
    Path(files[1]).write_text(shed(101)[:-300])
    files.insert(1, str(tmp_path / "gone.json"))
    found = ran(sorted(files), setup())
    assert [f.became for f in found.files] == ["failed", "moved", "failed", "moved"]
    assert "cannot be opened: no such file or directory" in found.files[0].problem
    assert found.counts == {"moved": 2, "failed": 2}


def test_totals_add_up_what_all_order_more(tmp_path: Path) -> None:
    found = ran(sheds(tmp_path, 4), setup())
    (total,) = found.totals
    each = [moved.packages for _, moved in found.moves]
    assert None not in each
    assert (total.product, total.container, total.packages, total.jobs) == (
        "joint compound",
        "pail",
        sum(map(int, each)),
        4,
    )  # type: ignore[arg-type]
    assert [m.size for _, m in found.moves] == sorted((m.size for _, m in found.moves), reverse=True)


def test_two_processes_find_what_one_finds(tmp_path: Path) -> None:
    files = sheds(tmp_path, 40)
    Path(files[7]).write_text("[]")
    assert ran(files, setup(), Pool(2)) == ran(files, setup())


def deadly(chunk: Chunk, made: Setup) -> list[Replayed]:
    """A worker that dies of one file."""
    if any(file.endswith("shed-011.json") for file, _ in chunk):
        os._exit(9)
    return [replay(file, data, made) for file, data in chunk]


def test_a_file_that_takes_its_process_down_costs_itself(tmp_path: Path) -> None:
    files = sheds(tmp_path, 20)
    found = ran(files, setup(), Pool(2, deadly))
    assert [f.file for f in found.files] == files
    (lost,) = found.unsound
    assert lost.file.endswith("shed-011.json")
    assert "ended without a word" in lost.problem


def test_nothing_is_done_twice_when_a_run_goes_on(tmp_path: Path) -> None:
    files = sheds(tmp_path / "jobs", 6)
    journal = tmp_path / "journal"
    made = setup()
    noted = Journal(journal, today_of(made)).open()
    first = Round(files[:4], made, Here(), noted).run()
    with journal.open("ab") as file:
        file.write(b'{"file": "half')  # as a run leaves it that is killed while it writes

    class Counting(Here):
        seen: list[str] = []  # noqa: RUF012

        def run(self, chunks: Any, made: Setup) -> Any:
            for chunk in chunks:
                self.seen += [file for file, _ in chunk]
                yield from Here().run(iter([chunk]), made)

    again = Journal(journal, today_of(made)).open()
    assert set(again.done) == set(files[:4])
    found = Round(files, made, Counting(), again).run()
    assert Counting.seen == files[4:]
    assert found.files[:4] == first.files
    again.end()
    assert not journal.exists()


def test_a_journal_of_other_rules_or_of_another_file_does_not_count(tmp_path: Path) -> None:
    files = sheds(tmp_path / "jobs", 2)
    journal = tmp_path / "journal"
    ran(files, setup(), path=journal)
    assert not Journal(journal, today_of(setup(LINES))).open().done
    ran(files, setup(), path=journal)
    Path(files[0]).write_text(shed(300))
    assert ran(files, setup(), path=journal) == ran(files, setup())


# accepting


def test_an_accepted_result_moves_no_more(tmp_path: Path) -> None:
    files = sheds(tmp_path, 1)
    (one,) = ran(files, setup()).files
    assert accept(one, setup()) == ""
    assert ran(files, Setup()).files[0].became == "same"
    assert ran(files, setup(LINES)).files[0].moved[0].packages == -8


def test_a_file_that_changed_meanwhile_is_not_written_over(tmp_path: Path) -> None:
    files = sheds(tmp_path, 1)
    (one,) = ran(files, setup()).files
    Path(files[0]).write_text(shed(77))
    assert "changed meanwhile" in accept(one, setup())
    assert Path(files[0]).read_text() == shed(77)


# killed

KILLER = """\
import os, random, signal, sys, time
from functools import lru_cache
from pathlib import Path
from darby.saved.replay.journal import Journal
from darby.saved.replay.acceptance import accept
from darby.saved.replay.workers import Here, Round, files_in
from darby.saved.replay.file import Setup, replay, today_of
import darby.saved.replay.workers
darby.saved.replay.workers.CHUNK = 1
folder, journal, house = Path(sys.argv[1]), Path(sys.argv[2]), sys.argv[3]
files, _ = files_in([str(folder)])
setup = Setup((("house.txt", house),))
today = today_of(setup)
whole = {f: Path(f).read_bytes() for f in files}
replay(files[0], whole[files[0]], setup)  # what is read once is ready in every child

def turn():
    noted = Journal(journal, today).open()
    found = Round(files, setup, Here(), noted).run()
    for one in found.files:
        if one.became == "moved":
            accept(one, setup)
    noted.end()

@lru_cache(None)
def state(f, data):
    return replay(f, data, Setup()).became

chance = random.Random(6)
kills = 0
while kills < 50:
    child = os.fork()
    if not child:
        turn()
        os._exit(0)
    time.sleep(chance.random() * float(sys.argv[4]))
    os.kill(child, signal.SIGKILL)
    _, status = os.waitpid(child, 0)
    for f in files:
        data = Path(f).read_bytes()
        assert state(f, data) == "same", f  # the old estimate or the new one, whole
    if os.WIFSIGNALED(status):
        kills += 1
    else:  # all done before it could be killed: begin again
        for f in files:
            Path(f).write_bytes(whole[f])
turn()
print("kills", kills, "left", sorted(p.name for p in folder.iterdir() if p.suffix == ".json") == [Path(f).name for f in files])
"""


@pytest.mark.skipif(not hasattr(os, "fork"), reason="the killing is done by fork")
def test_a_replay_killed_fifty_times_loses_nothing_and_leaves_nothing_half_written(tmp_path: Path) -> None:
    files = sheds(tmp_path / "jobs", 3)
    script = (sys.executable, "-c", KILLER, str(tmp_path / "jobs"), str(tmp_path / "journal"), DEARER, "0.1")
    done = subprocess.run(script, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    assert done.stdout.split() == ["kills", "50", "left", "True"]
    accepted = {f: Path(f).read_text() for f in files}
    sheds(tmp_path / "jobs", 3)
    for one in ran(files, setup()).files:
        accept(one, setup())
    assert accepted == {f: Path(f).read_text() for f in files}


# the command


def test_the_command_shows_what_moved_and_leaves_with_a_code_for_ci(tmp_path: Path) -> None:
    sheds(tmp_path / "jobs", 3)
    (tmp_path / "house.txt").write_text(DEARER)
    same = darby("replay", "jobs", cwd=tmp_path)
    assert (same.returncode, same.stderr) == (0, "")
    assert same.stdout.strip() == "3 estimates worked out again: 3 the same."
    moved = darby("replay", "jobs", "--house", "house.txt", cwd=tmp_path)
    assert moved.returncode == 1
    assert "joint compound: +24 pails of 64 lb, in 3 estimates" in moved.stdout
    assert [p.name for p in (tmp_path / "jobs").iterdir() if p.name == NAME] == []
    accepted = darby("replay", "jobs", "--house", "house.txt", "--accept", "ask", cwd=tmp_path, given="n\na\n")
    assert accepted.returncode == 1
    assert "consumption of joint compound 13 to 26 lb per 100 sq ft, house.txt, line 1 (+8 pails)" in " ".join(
        accepted.stdout.split()
    )
    assert accepted.stderr.strip().endswith("Accepted 2 of 3.")
    again = json.loads(darby("replay", "jobs", "--house", "house.txt", "--format", "json", cwd=tmp_path).stdout)
    assert [f["became"] for f in again["files"]] == ["moved", "same", "same"]
    assert darby("replay", "jobs", "--house", "house.txt", "--accept", "all", cwd=tmp_path).returncode == 0
    assert darby("replay", "nowhere", cwd=tmp_path).returncode == 2


@pytest.mark.skipif(os.name != "posix", reason="interrupts as a terminal sends them")
def test_a_run_that_is_interrupted_goes_on_where_it_was(tmp_path: Path) -> None:
    sheds(tmp_path / "jobs", 64)
    (tmp_path / "house.txt").write_text(DEARER)
    journal = tmp_path / "jobs" / NAME
    command = (
        sys.executable,
        str(DARBY),
        "replay",
        "jobs",
        "--house",
        "house.txt",
        "--processes",
        "1",
        "--format",
        "json",
    )
    run = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, cwd=tmp_path)
    wait_for(lambda: journal.exists() and journal.read_bytes().count(b"\n") > 10)
    run.send_signal(signal.SIGINT)
    out, err = run.communicate()
    assert run.returncode == 130, err
    done = len(json.loads(out)["files"])
    assert 0 < done < 64
    assert f"Stopped with {64 - done} left." in err
    rest = darby("replay", "jobs", "--house", "house.txt", "--format", "json", cwd=tmp_path)
    assert re.search(r"Going on with a run that was stopped: \d+ done already", rest.stderr)
    assert len(json.loads(rest.stdout)["files"]) == 64
    assert not journal.exists()


def test_what_a_run_finds_of_an_earlier_one_is_taken_over_but_not_in_ci_nor_where_it_is_to_be_fresh(
    tmp_path: Path,
) -> None:
    sheds(tmp_path / "jobs", 2)

    def said(*more: str, **environment: str) -> tuple[int, str]:
        journal = Journal(tmp_path / "jobs" / NAME, today_of(Setup())).open()
        (first, _) = sorted((tmp_path / "jobs").glob("*.json"))
        digest = hashlib.sha256(first.read_bytes()).hexdigest()[:16]
        journal.add([Replayed("jobs/" + first.name, "failed", digest, problem="as it was noted")])
        done = darby("replay", "jobs", *more, cwd=tmp_path, **environment)
        return done.returncode, done.stdout

    code, shown = said()
    assert (code, "as it was noted" in shown) == (2, True)
    for more, environment, taken in (
        ((), {"CI": "true"}, False),
        (("--fresh",), {}, False),
        (("--resume",), {"CI": "true"}, True),
    ):
        code, shown = said(*more, **environment)
        assert (code, "as it was noted" in shown) == ((2, True) if taken else (0, False)), more


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="pipes that lie in folders")
def test_a_pipe_among_saved_estimates_costs_itself_and_nobody_waits_for_it(tmp_path: Path) -> None:
    sheds(tmp_path / "jobs", 1)
    os.mkfifo(tmp_path / "jobs" / "pipe.json")
    done = darby("replay", "jobs", "--format", "json", cwd=tmp_path)
    assert done.returncode == 2
    assert {f["file"]: f["became"] for f in json.loads(done.stdout)["files"]} == {
        "jobs/pipe.json": "failed",
        "jobs/shed-000.json": "same",
    }
    assert "jobs/pipe.json cannot be opened: it is no file." in done.stdout
