"""The journal of a run, line by line: what is written, what counts, and what begins anew."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from darby.saved.replay.journal import NAME, Journal, NoJournalError
from darby.saved.replay_outcome import Replayed

ONE, TWO = Replayed("a.json", "same", "d1"), Replayed("b.json", "failed", "d2", problem="odd")


def test_what_was_done_is_there_when_a_run_goes_on_and_gone_when_it_has_ended(tmp_path: Path) -> None:
    path = tmp_path / NAME
    first = Journal(path, "today").open()
    first.add([ONE])
    first.add([TWO])
    again = Journal(path, "today").open()
    assert again.done == {"a.json": ONE, "b.json": TWO}
    assert again.still_holds("a.json", "d1") == ONE
    assert again.still_holds("a.json", "d9") is None
    assert again.still_holds("c.json", "d1") is None
    again.end()
    assert not path.exists()
    again.end()  # nothing there is no mistake


def test_a_journal_begins_with_what_results_depend_on_and_has_a_line_a_file(tmp_path: Path) -> None:
    path = tmp_path / NAME
    Journal(path, "today").open().add([ONE, TWO])
    head, *lines = path.read_text().splitlines()
    assert json.loads(head) == {"schema": "darby.replay-journal/2", "today": "today"}
    assert [json.loads(line)["done"]["file"] for line in lines] == ["a.json", "b.json"]


@pytest.mark.parametrize("today", ["tomorrow", ""])
def test_a_journal_of_other_code_or_of_code_that_cannot_be_known_is_begun_anew(tmp_path: Path, today: str) -> None:
    path = tmp_path / NAME
    Journal(path, "" if not today else "today").open().add([ONE])
    assert Journal(path, today).open().done == {}
    assert path.read_bytes().count(b"\n") == 1


def test_without_a_path_nothing_is_written_and_nothing_is_known() -> None:
    one = Journal(None, "today").open()
    one.add([ONE])
    one.end()
    assert one.done == {}
    assert one.still_holds("a.json", "d1") is None


@pytest.mark.parametrize(
    ("name", "text", "refused"),
    [
        ("notes.txt", "hello\n", True),
        ("notes.txt", "  \n", False),
        ("notes.txt", '{"schema": "darby.replay-journal/0"}\n', False),
        ("notes.txt", '{"sum": "x", "done": {}}\n', False),
        ("notes.txt", '{"schema": "darby.saved/1"}\n', True),
        (NAME, "hello\n", False),
    ],
)
def test_what_is_something_else_is_written_over_under_the_journal_s_own_name_alone(
    tmp_path: Path, name: str, text: str, refused: bool
) -> None:
    path = tmp_path / name
    path.write_text(text)
    if refused:
        with pytest.raises(NoJournalError):
            Journal(path, "today").open()
        assert path.read_text() == text
    else:
        assert Journal(path, "today").open().done == {}
        assert path.read_text().startswith('{"schema": "darby.replay-journal/2", "today": "today"}\n')


def test_a_line_without_its_end_does_not_count_and_the_next_takes_its_place(tmp_path: Path) -> None:
    path = tmp_path / NAME
    Journal(path, "today").open().add([ONE, TWO])
    path.write_bytes(path.read_bytes()[:-1])
    again = Journal(path, "today").open()
    assert set(again.done) == {"a.json"}
    again.add([TWO])
    assert Journal(path, "today").open().done == {"a.json": ONE, "b.json": TWO}


def test_a_journal_that_came_with_the_files_says_nothing(tmp_path: Path) -> None:
    """Who can write to the folder has no key: neither a sum nor a whole journal of their own is believed."""
    mine, theirs = tmp_path / "mine", tmp_path / "theirs"
    for folder in (mine, theirs):
        folder.mkdir()
    Journal(theirs / NAME, "today").open().add([ONE, TWO])
    (mine / NAME).write_bytes((theirs / NAME).read_bytes())  # signed, by the key of another run
    assert Journal(mine / NAME, "today").open().done == {}
    Journal(mine / NAME, "today").open().add([ONE])  # and beside a run of one's own that was stopped
    with (mine / NAME).open("ab") as file:
        file.write((theirs / NAME).read_bytes().splitlines(keepends=True)[-1])
    assert Journal(mine / NAME, "today").open().done == {"a.json": ONE}


def test_a_fresh_run_takes_nothing_over(tmp_path: Path) -> None:
    path = tmp_path / NAME
    Journal(path, "today").open().add([ONE])
    kept = path.read_bytes()
    assert Journal(path, "today", fresh=True).open().done == {}
    path.write_bytes(kept)  # the key of the run before counts no more
    assert Journal(path, "today").open().done == {}


def test_what_an_ended_run_signed_counts_no_more(tmp_path: Path) -> None:
    path = tmp_path / NAME
    first = Journal(path, "today").open()
    first.add([ONE])
    kept = path.read_bytes()
    first.end()
    path.write_bytes(kept)
    assert Journal(path, "today").open().done == {}


def test_where_no_key_can_be_kept_a_run_works_and_says_that_none_goes_on_from_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "file").write_text("")
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "file"))
    one = Journal(tmp_path / NAME, "today").open()
    one.add([ONE])
    assert not one.lasts
    assert Journal(tmp_path / NAME, "today").open().done == {}


def test_what_cannot_be_noted_is_no_reason_to_stop_and_is_told(tmp_path: Path) -> None:
    (tmp_path / "a").mkdir()
    one = Journal(tmp_path / "a" / NAME, "today").open()
    one.add([ONE])
    assert one.unwritten == ""
    (tmp_path / "a" / NAME).unlink()
    (tmp_path / "a").rmdir()
    one.add([TWO])
    assert one.unwritten == "no such file or directory"
    one.add([ONE])
    one.end()
