"""A saved estimate holds all that is needed, is the same for the same input, and is never half written or half believed."""

from __future__ import annotations

import json
import os
import random
import subprocess
import sys
import time
import tracemalloc
from fractions import Fraction
from importlib.resources import files
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from damage import damaged
from darby.rules.rule import HOUSE
from darby.saved import reader
from darby.saved.builder import Builder
from darby.saved.model import Saved
from darby.saved.reader import open_saved, reopen
from darby.saved.writer import checksums, parts_of, text_of, with_longhand, write
from darby.text.bounded_json import MOST_BYTES
from darby.text.spans import Source
from lofts import HOUSE_LINES, JOB, SPEC, kept, net_loft, office


def back(text: str) -> Saved:
    saved, told = reopen(Source("net-loft.json", text), office().language.kinds)
    assert saved is not None, told
    return saved


def refusal(text: str) -> tuple[str, int]:
    """What is said of a text that is no sound saved estimate, and the line it points at."""
    saved, told = reopen(Source("net-loft.json", text), office().language.kinds)
    assert saved is None
    (one,) = told
    assert one.span is not None
    return one.message, one.span.line


def test_the_same_input_gives_the_same_text() -> None:
    assert kept()[1] == kept()[1] == net_loft()


def test_a_saved_text_is_what_its_schema_says() -> None:
    schema = json.loads((files("darby") / "schemas" / "saved.schema.json").read_text("utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.Draft202012Validator(schema).validate(json.loads(net_loft()))


def test_a_saved_text_read_back_is_the_same_text() -> None:
    assert text_of(back(net_loft())) == net_loft()


def test_what_is_read_back_orders_the_same_again_without_reading_a_word() -> None:
    read = office().again(back(net_loft()))
    assert read.estimate is not None
    assert read.saved is not None
    assert text_of(with_longhand(read.saved, read.estimate)) == net_loft()


def test_reading_again_and_remembering_give_the_same() -> None:
    anew = office().again(back(net_loft()), reread=True)
    assert anew.estimate is not None
    assert anew.saved is not None
    assert text_of(with_longhand(anew.saved, anew.estimate)) == net_loft()


def test_a_reading_is_forgotten_when_what_reads_has_changed() -> None:
    text = net_loft().replace("250 sq ft per gallon", "200 sq ft per gallon")  # texts and rules no longer agree
    data = json.loads(text)
    for language, coverage in ((office().mark, 250), ("another", 200)):
        data["language"] = language
        saved = Builder(data, office().language.kinds).saved()
        worked = office().again(saved)
        assert worked.saved is not None
        found = [
            r.amount.value for r in worked.saved.rules if r.kind.name == "coverage" and r.span.source.name == "spec.txt"
        ]
        assert found == [coverage]


def test_everything_that_went_in_and_came_out_is_there() -> None:
    data = json.loads(net_loft())
    assert {t["as"]: t["text"] for t in data["texts"] if t["as"] != "default"} == {
        "job": JOB, "house": HOUSE_LINES, "specification": SPEC
    }  # fmt: skip
    assert {t["trade"] for t in data["texts"] if t["as"] == "default"} == {"board", "coatings", "fasteners", "joints"}
    assert {p["name"] for p in data["plugins"]} >= {"board", "grammars"}
    assert all(p["version"] for p in data["plugins"])
    (compound,) = (i for i in data["items"] if i["product"] == "joint compound")
    # walls of the room 2 x 12 x 8 + 2 x 10 x 8 = 352, its ceiling 120, sea wall 36 1/3 x 9 = 327: 799 sq ft at 13 lb per 100
    assert Fraction(compound["need"]["value"]) == Fraction(799 * 13, 100)
    assert (compound["order"]["count"], compound["order"]["container"]) == (2, "pail")
    assert any("13 lb per 100 sq ft" in line["text"] for line in compound["working"])
    behind = [data["rules"][n] for n in compound["rules"]]
    assert {"house.txt:1:17", "house.txt:2:25"} <= {r["at"] for r in behind}
    assert data["questions"]


def test_a_place_of_a_rule_is_where_its_words_stand() -> None:
    for rule in back(net_loft()).rules:
        assert rule.span.text.strip()
        assert any(c.isdigit() or c.isalpha() for c in rule.span.text)
    (cited,) = (r for r in back(net_loft()).rules if r.layer == HOUSE and r.kind.name == "consumption")
    assert cited.cited == "our last eleven jobs"
    assert cited.span.text.startswith("13 lb")


def test_a_newer_version_is_refused_with_the_way_out() -> None:
    saved, (told,) = reopen(Source("x.json", net_loft().replace("darby.saved/1", "darby.saved/2", 1)))
    assert saved is None
    assert told.code == "saved-newer"
    assert "newer Darby" in told.message
    assert "Update Darby" in told.help


def test_an_older_version_loads_through_its_migration(monkeypatch: pytest.MonkeyPatch) -> None:
    old = net_loft().replace("darby.saved/1", "darby.saved/0", 1).replace('"missing": [],\n', "")

    def one(data: dict[str, Any]) -> dict[str, Any]:
        return {**data, "missing": []}

    monkeypatch.setitem(reader.MIGRATIONS, 0, one)
    data = json.loads(old)
    sums = checksums(old)
    sound = old[: old.index('"checks"')] + f'"checks": {json.dumps(sums)}\n}}\n'
    assert data.get("missing") is None
    assert back(sound).missing == ()
    monkeypatch.delitem(reader.MIGRATIONS, 0)
    assert "cannot be brought up to date" in refusal(sound)[0]


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('"kind": "coverage"', '"kind": 3', "rules["),
        ('"need": {"value": "', '"need": {"value": "x', "need.value is not written as such a value is"),
        ('"need": {"value": "', '"need": {"worth": "', "has no value"),
        ('"bound": "exact"', '"bound": "nearly"', "is not exact or at least or at most or about"),
        ('"source": 1', '"source": 99', "a text that is not there"),
        ('"span": [', '"span": [9', "a place lies outside its text"),
        ('"count": 2', '"count": 3', "was changed after it was written: its items"),
        ('"name": "Net loft"', '"name": "Net left"', "was changed after it was written: its name, line 3"),
        ("36'-4", "46'-4", "was changed after it was written: its texts"),
    ],
)
def test_a_changed_file_names_what_is_wrong_and_where(old: str, new: str, said: str) -> None:
    text = net_loft().replace(old, new, 1)
    assert text != net_loft()
    message, line = refusal(text)
    assert said in message
    at = next(n for n, (a, b) in enumerate(zip(text.split("\n"), net_loft().split("\n"), strict=True), 1) if a != b)
    part = [name for name, first, last in parts_of(text) if first <= at <= last]
    assert line == at or any(first == line for name, first, _ in parts_of(text) if name in part)


def test_a_cut_file_breaks_off_at_its_end() -> None:
    text = net_loft()[:2000]
    message, line = refusal(text)
    assert "breaks off before its end" in message
    assert line >= text.count("\n")


def test_windows_line_ends_do_no_harm() -> None:
    assert back(net_loft().replace("\n", "\r\n")).items == back(net_loft()).items


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "is empty"),
        ("[]", "no saved estimate"),
        ('{"schema": "darby.estimate/1"}', "no saved estimate"),
        ("[" * 100_000, "nested deeper"),
        ('{"schema": "darby.saved/1", "items": NaN}', "has NaN where a number belongs"),
        ('{"schema": "darby.saved/1", "items": ' + "9" * 10_000 + "}", "thousands of digits"),
        ('{"schema": "darby.saved/1"}', "has no"),
        ('{"schema": "darby.saved/1"} x', "goes on behind its end"),
        ("[" + "[]," * 3_100_000 + "[]]", "more values than any estimate"),
    ],
    ids=["empty", "list", "other", "deep", "nan", "long", "bare", "more", "many"],
)
def test_what_is_no_estimate_is_refused_in_a_sentence(text: str, said: str) -> None:
    begun = time.process_time()
    assert said in refusal(text)[0]
    assert (
        time.process_time() - begun < 60
    )  # of its own work; where each value is looked at by every other it takes hours


def test_a_file_that_is_too_large_is_not_read(tmp_path: Path) -> None:
    path = tmp_path / "large.json"
    with path.open("wb") as file:
        file.truncate(MOST_BYTES + 1)
    saved, (told,) = open_saved(path)
    assert saved is None
    assert "larger than 64 MB" in told.message


def test_bytes_that_are_no_text_have_their_place(tmp_path: Path) -> None:
    path = tmp_path / "x.json"
    path.write_bytes(net_loft().encode().replace(b"Office", b"Of\xffice", 1))
    saved, (told,) = open_saved(path)
    assert saved is None
    assert told.span is not None
    assert told.span.line == net_loft()[: net_loft().index("Office")].count("\n") + 1


def test_a_missing_file_names_the_nearest(tmp_path: Path) -> None:
    (tmp_path / "net-loft.json").write_text("{}")
    _, (told,) = open_saved(tmp_path / "net-lost.json", name="net-lost.json")
    assert told.code == "file-missing"
    assert "net-loft.json" in told.help


def test_a_thousand_damaged_files_are_each_refused_in_a_clear_sentence_or_sound() -> None:
    chance = random.Random(6)
    dearest = 0.0
    refused = 0
    for _ in range(1000):
        text = damaged(net_loft(), chance)
        begun = time.process_time()
        saved, told = reopen(Source("net-loft.json", text), office().language.kinds)
        dearest = max(dearest, time.process_time() - begun)
        if saved is not None:  # another text or number where any may stand, under checks that hold
            assert back(text_of(saved)).items == saved.items
            continue
        refused += 1
        (one,) = told
        assert one.message.startswith("net-loft.json ")
        assert one.message.endswith(".")
        assert len(one.message) < 300
        assert one.span is not None
        assert one.help
    assert refused > 800
    assert dearest < 60  # of its own work


def test_damaged_files_take_memory_in_proportion_to_their_size() -> None:
    """Not more than the file in memory a few dozen times over, whatever is written in it."""
    chance = random.Random(8)
    kinds = office().language.kinds
    head = '{"schema": "darby.saved/1", "items": '
    hostile = [
        *(damaged(net_loft(), chance) for _ in range(120)),
        *(head + end for end in ("1e999999999}", '"' + "x" * 3_000_000, "[" * 900_000, "9" * 1_000_000 + "}")),
        head + "[" + '{"value": "1e999999"},' * 30_000 + "1]}",
        net_loft().replace('"need": {"value": "', '"need": {"value": "1e99999999'),
        net_loft().replace('"span": [', '"span": [9999999999999999'),
    ]
    reopen(Source("x.json", net_loft()), kinds)
    tracemalloc.start()
    try:
        for text in hostile:
            before = tracemalloc.get_traced_memory()[0]
            tracemalloc.reset_peak()
            reopen(Source("x.json", text), kinds)
            peak = tracemalloc.get_traced_memory()[1] - before
            assert peak < 40 * len(text) + 4_000_000, (peak, len(text), text[:60])
    finally:
        tracemalloc.stop()


def test_no_flipped_bit_goes_unseen() -> None:
    chance = random.Random(7)
    whole = net_loft().encode()
    for _ in range(300):
        data = bytearray(whole)
        data[chance.randrange(len(data))] ^= 1 << chance.randrange(8)
        refusal(data.decode("utf-8", "replace"))


SAVER = """\
import os, random, signal, sys, time
from pathlib import Path
from darby.saved.writer import write
target, one = Path(sys.argv[1]), Path(sys.argv[2]).read_text(encoding="utf-8")
other = one.replace("Net loft", "Oar loft")
chance = random.Random(60)
for _ in range(50):
    child = os.fork()
    if not child:
        while True:
            write(target, other)
            write(target, one)
    time.sleep(chance.random() / 50)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    print({one: "one", other: "other"}.get(target.read_text(encoding="utf-8"), "harmed"))
"""


@pytest.mark.skipif(not hasattr(os, "fork"), reason="the killing is done by fork")
def test_a_save_killed_fifty_times_at_any_moment_leaves_a_whole_file(tmp_path: Path) -> None:
    target, whole = tmp_path / "job.json", tmp_path / "whole.json"
    whole.write_text(net_loft(), encoding="utf-8")
    write(target, net_loft())
    done = subprocess.run(
        (sys.executable, "-c", SAVER, str(target), str(whole)), capture_output=True, text=True, check=True
    )
    seen = done.stdout.split()
    assert len(seen) == 50
    assert set(seen) == {"one", "other"}


def test_a_save_that_fails_leaves_the_old_file_and_no_litter(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    target = tmp_path / "job.json"
    write(target, "old\n")

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space"):
        write(target, "new\n")
    assert target.read_text() == "old\n"
    assert [p.name for p in tmp_path.iterdir()] == ["job.json"]


def test_a_save_keeps_the_rights_of_the_file_and_follows_a_link(tmp_path: Path) -> None:
    target, link = tmp_path / "job.json", tmp_path / "link.json"
    target.write_text("old\n")
    target.chmod(0o640)
    link.symlink_to(target)
    write(link, "new\n")
    assert link.is_symlink()
    assert target.read_text() == "new\n"
    assert target.stat().st_mode & 0o777 == 0o640
