"""Long runs: what one sees of them, stopping and going on, workers that are not of this code."""

from __future__ import annotations

import json
import os
import random
import re
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from attrs import evolve
from click.testing import CliRunner

from commands import darby
from damage import damaged
from darby.cli import cli
from darby.reading import cache as recall
from darby.saved.replay.file import Setup, replay, today_of
from darby.saved.replay.journal import NAME, Journal, NoJournalError
from darby.saved.replay.workers import Here, Pool, Round, WorkersError
from darby.saved.replay_outcome import Replayed
from sheds import DEARER, LINES, command, ended, noted, setup, sheds, started, wait_for

posix = pytest.mark.skipif(os.name != "posix", reason="terminals and signals as posix has them")


# the bar


def on_terminal(folder: Path, *more: str, interrupt_after: int = 0) -> tuple[int, str, str]:
    """The command with a terminal for its standard error: exit code, standard output, and all that the terminal got."""
    import pty
    import threading

    ours, theirs = pty.openpty()
    seen: list[bytes] = []

    def listen() -> None:
        while True:
            try:
                data = os.read(ours, 4096)
            except OSError:
                return
            if not data:
                return
            seen.append(data)

    listener = threading.Thread(target=listen)
    listener.start()
    run = started(folder, *more, stderr=theirs)
    os.close(theirs)
    if interrupt_after:
        wait_for(lambda: noted(folder) >= interrupt_after)
        os.killpg(run.pid, signal.SIGINT)
    out, _ = run.communicate(timeout=300)
    listener.join(300)
    os.close(ours)
    return run.returncode, out, b"".join(seen).decode()


def left_on_screen(text: str) -> str:
    """What a terminal that got this text still shows: of each line that was drawn over or erased only the last."""
    rows, at, column = [""], 0, 0
    for piece in re.findall(r"\x1b\[[0-9;?]*[A-Za-z]|\r|\n|[^\x1b\r\n]+", text):
        if piece == "\r":
            column = 0
        elif piece == "\n":
            at, column = at + 1, 0
            rows += [""] * (at + 1 - len(rows))
        elif piece.startswith("\x1b["):
            number = int(re.sub(r"\D", "", piece) or 0)
            if piece.endswith("A"):
                at = max(0, at - max(1, number))
            elif piece.endswith("K"):
                rows[at] = "" if number == 2 else rows[at][:column]
        else:
            rows[at] = rows[at][:column].ljust(column) + piece + rows[at][column + len(piece) :]
            column += len(piece)
    return "\n".join(rows)


@posix
def test_a_long_run_on_a_terminal_shows_how_far_it_is_and_leaves_nothing_behind(jobs: Path) -> None:
    code, out, seen = on_terminal(jobs, "--processes", "1", "--format", "json")
    assert code == 1
    steps = [int(n) for n in re.findall(r"(\d+)/60", seen)]
    assert "Working out again" in seen
    assert steps == sorted(steps)
    assert steps[-1] == 60
    assert left_on_screen(seen).strip() == ""
    assert seen.count("\x1b[?25l") == seen.count("\x1b[?25h") > 0  # the cursor is there again
    assert len(json.loads(out)["files"]) == 60


@posix
@pytest.mark.parametrize("processes", ["1", "2"])
def test_an_interrupted_run_leaves_its_bar_and_says_how_to_go_on(jobs: Path, processes: str) -> None:
    many = 400  # so that the interrupt comes while it runs, however fast the machine is
    for number in range(60, many):
        shutil.copy(jobs / "jobs" / "shed-000.json", jobs / "jobs" / f"copy-{number}.json")
    code, out, seen = on_terminal(jobs, "--processes", processes, "--format", "json", interrupt_after=5)
    done = len(json.loads(out)["files"])
    assert code == 130
    assert 5 <= done < many
    left = left_on_screen(seen).strip()
    assert left.replace("^C", "") == f"Stopped with {many - done} left. The same command goes on from there."
    assert seen.count("\x1b[?25l") == seen.count("\x1b[?25h") > 0


@posix
def test_a_short_run_and_one_that_nobody_looks_at_have_no_bar(jobs: Path) -> None:
    code, _, err = ended(started(jobs, "--processes", "1"))
    assert (code, err) == (1, "")
    for path in sorted((jobs / "jobs").glob("*.json"))[49:]:
        path.unlink()
    code, _, seen = on_terminal(jobs, "--processes", "1")
    assert (code, seen) == (1, "")


# stopping


def children(of: int) -> set[int]:
    """Processes started by a process, with theirs."""
    found: set[int] = set()
    for path in Path("/proc").glob("[0-9]*/stat"):
        try:
            parent = int(path.read_text().rpartition(")")[2].split()[1])
        except (OSError, IndexError):
            continue
        if parent == of:
            found |= {int(path.parent.name), *children(int(path.parent.name))}
    return found


def running(process: int) -> bool:
    try:
        return Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()[0] != "Z"
    except OSError:
        return False


@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="looks processes up in /proc")
@pytest.mark.parametrize("way", ["interrupt", "kill"])
def test_a_stopped_run_takes_its_workers_along_and_goes_on_where_it_was(jobs: Path, way: str) -> None:
    sheds(jobs / "jobs", 64)
    run = started(jobs, "--processes", "2", "--format", "json")
    wait_for(lambda: noted(jobs) >= 16)
    workers = children(run.pid)
    assert len(workers) >= 2
    if way == "interrupt":
        os.killpg(run.pid, signal.SIGINT)  # as a terminal does it: to all of them
    else:
        run.kill()
    code, out, err = ended(run)
    wait_for(lambda: not any(map(running, workers)))
    if way == "interrupt":
        assert code == 130
        assert err.count("\n") == 1, err
        assert err.startswith("Stopped with ")
        assert json.loads(out)["stopped"]
    kept = noted(jobs)
    assert 16 <= kept < 64
    code, out, err = ended(started(jobs, "--processes", "2", "--format", "json"))
    assert (code, err) == (1, f"Going on with a run that was stopped: {kept} done already.\n")
    assert out == darby(*command("--processes", "1", "--format", "json")[2:], cwd=jobs).stdout


def test_a_run_over_files_alone_says_that_nothing_notes_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (file,) = sheds(tmp_path, 1)

    def stopped(*_: Any) -> Iterator[Any]:
        raise KeyboardInterrupt
        yield

    monkeypatch.setattr(Here, "run", stopped)
    done = CliRunner().invoke(cli, ["replay", file], standalone_mode=False)
    assert done.return_value == 130
    assert "Stopped with 1 left. Nothing notes what is done" in done.stderr


@posix
@pytest.mark.slow
def test_the_command_killed_fifty_times_at_any_moment_loses_nothing(jobs: Path) -> None:
    """Killed while it accepts, too: every file is the old estimate or the new one, and in the end all are new."""
    chance = random.Random(60)
    old = {p.name: p.read_text() for p in (jobs / "jobs").glob("*.json")}
    kills = 0
    new: dict[str, str] = {}
    while kills < 50:
        run = started(jobs, "--processes", "2", "--accept", "all", stderr=subprocess.DEVNULL)
        try:
            run.communicate(timeout=0.5 + chance.random() * 3)
        except subprocess.TimeoutExpired:
            run.kill()
            run.communicate()
            kills += 1
        texts = {p.name: p.read_text() for p in (jobs / "jobs").glob("*.json") if not p.name.startswith(".")}
        assert texts.keys() == old.keys()
        for name, text in texts.items():
            if text != old[name]:
                assert replay(name, text.encode(), Setup()).became == "same"
                orders = re.sub(r'"language": "\w*"', "", text).partition('"checks"')[0]
                assert new.setdefault(name, orders) == orders
        if len(new) == len(old) and kills < 50:
            sheds(jobs / "jobs", 60)
    assert ended(started(jobs, "--accept", "all"))[0] == 0
    assert ended(started(jobs))[0] == 0


# taking results


def accepted(folder: Path, given: str, how: str = "ask") -> Any:
    options = ["replay", str(folder / "jobs"), "--house", str(folder / "house.txt"), "--accept", how]
    return CliRunner().invoke(cli, options, input=given, standalone_mode=False)


def test_taking_results_one_by_one_can_be_ended_and_what_was_taken_is_told(tmp_path: Path) -> None:
    sheds(tmp_path / "jobs", 4)
    (tmp_path / "house.txt").write_text(DEARER)
    done = accepted(tmp_path, "y\nq\n")
    assert done.return_value == 1
    assert "shed-000.json? yes, no, all that are left, quit (y, n, a, q):" in done.stderr
    assert done.stderr.rstrip().endswith("Accepted 1 of 4.")
    assert accepted(tmp_path, "").stderr.rstrip().endswith("Accepted 0 of 3.")  # nobody answers
    last = accepted(tmp_path, "n\nn\ny\n")
    assert "shed-003.json? yes, no (y, n):" in last.stderr
    assert last.return_value == 1
    assert accepted(tmp_path, "", "all").return_value == 0
    done = accepted(tmp_path, "", "all")
    assert (done.return_value, done.stderr, done.stdout) == (0, "", "4 estimates worked out again: 4 the same.\n")


def test_a_folder_without_saved_estimates_is_no_success(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)  # a name short enough for a line
    (tmp_path / "job.toml").write_text("")
    done = CliRunner().invoke(cli, ["replay", "."], standalone_mode=False)
    assert (done.return_value, done.stdout) == (
        2, "There is no saved estimate to work out: no file in there ends in .json.\n"
    )  # fmt: skip
    (tmp_path / "job.toml").write_text("name = 1\n")
    done = CliRunner().invoke(cli, ["replay", "job.toml"], standalone_mode=False)
    assert "job.toml does not begin as a saved estimate does, with { (" in " ".join(done.stdout.split())


# damage

REPLAYED = """\
import json, resource, sys
from click.testing import CliRunner
from darby.cli import cli
done = CliRunner().invoke(cli, ["replay", "jobs", "--format", "json", "--processes", "1"], standalone_mode=False)
print(done.return_value, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024)
print(done.stderr + done.stdout)
"""


@posix
@pytest.mark.slow
def test_a_thousand_damaged_files_among_sound_ones_cost_themselves(tmp_path: Path) -> None:
    files = sheds(tmp_path / "jobs", 10)
    chance = random.Random(61)
    sound = Path(files[0]).read_text("utf-8")
    for n in range(1000):
        text = damaged(sound, chance)
        (tmp_path / "jobs" / f"bad-{n:04}.json").write_text(text, encoding="utf-8")
    script = (sys.executable, "-c", REPLAYED)
    done = subprocess.run(script, capture_output=True, text=True, cwd=tmp_path, check=True, timeout=300)
    numbers, _, text = done.stdout.partition("\n")
    code, megabytes = map(int, numbers.split())
    assert code == 2
    assert megabytes < 300
    assert done.stderr == ""
    found = json.loads(text)["files"]
    assert len(found) == 1010
    assert [f["became"] for f in found[1000:]] == ["same"] * 10
    bad = [f for f in found[:1000] if f["became"] == "failed"]
    assert len(bad) > 800
    for one in bad:
        assert one["problem"].startswith(f"{one['file']} "), one
        assert re.fullmatch(r".{20,500}\.", one["problem"])
        assert "something went wrong" not in one["problem"]


# the journal


def journal_of(tmp_path: Path, many: int = 4) -> tuple[list[str], Path]:
    files = sheds(tmp_path / "jobs", many)
    path = tmp_path / "noted.jsonl"
    made = setup()
    Round(files, made, Here(), Journal(path, today_of(made)).open()).run()
    return files, path


def damages(line: bytes) -> Iterator[bytes]:
    chance = random.Random(line)
    yield from (
        b"",
        b"{}",
        b"[]",
        b"null",
        b"7",
        b"\xff\xfe",
        b"[" * 100_000,
        line[:-1],
        line[1:],
        line + b"}",
        line * 2,
    )
    yield line.replace(b'"became": "moved"', b'"became": "same"')
    yield line.replace(b'"16"', b'"17"') if b'"16"' in line else line.replace(b", 16,", b", 17,")
    for _ in range(200):
        data = bytearray(line)
        data[chance.randrange(len(data))] ^= 1 << chance.randrange(8)
        yield bytes(data).replace(b"\n", b" ")


def test_a_damaged_line_of_a_journal_costs_itself_alone(tmp_path: Path) -> None:
    files, path = journal_of(tmp_path)
    today = today_of(setup())
    head, *lines, end = path.read_bytes().split(b"\n")
    assert end == b""
    whole = Journal(path, today).open().done
    for damage in damages(lines[1]):
        assert damage != lines[1]
        path.write_bytes(b"\n".join((head, lines[0], damage, *lines[2:], b"")))
        assert Journal(path, today).open().done == {f: whole[f] for f in files if f != files[1]}, damage


def test_a_line_that_was_cut_off_is_written_over_by_the_next(tmp_path: Path) -> None:
    files, path = journal_of(tmp_path)
    today = today_of(setup())
    text = path.read_bytes()
    for cut in range(1, len(text.split(b"\n")[-2]) + 1, 37):
        path.write_bytes(text[:-cut])
        again = Journal(path, today).open()
        assert set(again.done) == set(files[:-1])
        again.add([Replayed("x", "same")])
        assert set(Journal(path, today).open().done) == {*files[:-1], "x"}


def test_a_journal_of_other_house_lines_plugins_choices_or_code_is_begun_anew(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    _, path = journal_of(tmp_path)
    text = path.read_bytes()
    (tmp_path / "more.py").write_text("DARBY_API = 1\n")

    def kept(today: str) -> int:
        path.write_bytes(text)
        return len(Journal(path, today).open().done)

    assert kept(today_of(setup())) == 4
    others = (Setup(), setup(LINES), setup(without=("fasteners",)), setup(reread=True), setup(only=("grammars", "joints")),
              setup(plugin_files=(str(tmp_path / "more.py"),)), evolve(setup(), house=(("rates.txt", DEARER),)))  # fmt: skip
    assert [kept(today_of(other)) for other in others] == [0] * len(others)
    assert kept("") == 0  # code that cannot be looked at is never the same
    monkeypatch.setattr("darby.saved.replay.file.code_mark", lambda _: "other code")
    assert kept(today_of(setup())) == 0


def test_what_is_no_journal_is_not_written_over(tmp_path: Path) -> None:
    sheds(tmp_path / "jobs", 1)
    mine = tmp_path / "house.txt"
    mine.write_text(LINES)
    done = CliRunner().invoke(cli, ["replay", str(tmp_path / "jobs"), "--journal", str(mine)], standalone_mode=False)
    assert done.return_value == 2
    assert f"{mine} is there already and is no journal of a replay; it stays as it is." in done.stderr
    assert mine.read_text() == LINES
    with pytest.raises(NoJournalError):
        Journal(mine, "today").open()
    mine.write_text("")
    assert Journal(mine, "today").open().path == mine


# workers of another code


def test_processes_of_another_code_are_refused_and_what_was_done_before_holds(tmp_path: Path) -> None:
    files = sheds(tmp_path / "jobs", 3)
    made = evolve(setup(), today="of another day")
    one = Round(files, made, Pool(2), Journal(tmp_path / "noted", made.today).open())
    with pytest.raises(WorkersError, match="was changed while this ran"):
        one.run()
    assert one.results == {}
    assert not Journal(tmp_path / "noted", made.today).open().done


def test_the_command_tells_it_in_a_sentence(jobs: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("darby.saved.replay.file.today_of", lambda _: "of another day")
    options = ["replay", str(jobs / "jobs"), "--processes", "2"]
    done = CliRunner().invoke(cli, options, standalone_mode=False)
    assert done.return_value == 2
    assert done.stdout == ""
    assert done.stderr.strip() == (
        "Darby or one of its plugins was changed while this ran, so that results of both would be mixed."
    )
    assert not (jobs / "jobs" / NAME).exists()


def test_code_counts_as_it_was_when_this_process_began(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What is installed over a program that runs is not what it runs."""
    package = tmp_path / "firm_rates"
    package.mkdir()
    (package / "__init__.py").write_text("RATE = 13\n")
    (package / "rates.toml").write_text("")
    monkeypatch.syspath_prepend(str(tmp_path))
    import firm_rates  # type: ignore[import-not-found]

    first = recall.code_mark(["firm_rates"])
    (package / "__init__.py").write_text("RATE = 15\n")
    assert recall.code_mark(["firm_rates"]) == first
    monkeypatch.delitem(sys.modules, "firm_rates")
    sys.modules["firm_rates"] = type(firm_rates)("firm_rates")
    sys.modules["firm_rates"].__file__ = firm_rates.__file__
    fresh = recall.code_mark(["firm_rates"])
    assert fresh != first
    (package / "rates.toml").write_text("# ours\n")
    sys.modules["firm_rates"] = firm_rates
    assert recall.code_mark(["firm_rates"]) != fresh
