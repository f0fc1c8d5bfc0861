"""A real cluster of this machine: the same results, workers that go, workers with other code."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from attrs import evolve

from checkout import ROOT
from commands import darby
from darby.saved.replay.file import today_of
from darby.saved.replay.journal import NAME, Journal
from darby.saved.replay.workers import Here, Round
from sheds import DARBY, DEARER, command, ended, noted, setup, sheds, started, wait_for


def test_a_cluster_finds_the_same_though_one_of_two_workers_is_killed_on_the_way(tmp_path: Path, cluster: Any) -> None:
    address, workers = cluster
    sheds(tmp_path / "jobs", 60)
    (tmp_path / "jobs" / "shed-020.json").write_text("{}")
    (tmp_path / "house.txt").write_text(DEARER)
    journal = tmp_path / "jobs" / NAME
    options = ("replay", "jobs", "--house", "house.txt", "--format", "json")
    local = darby(*options, "--processes", "1", cwd=tmp_path)
    far = subprocess.Popen(
        (sys.executable, str(DARBY), *options, "--cluster", address),
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, cwd=tmp_path,
    )  # fmt: skip
    wait_for(lambda: journal.exists() and journal.read_bytes().count(b"\n") > 16)
    workers[0].kill()
    out, err = far.communicate(timeout=300)
    assert far.returncode == local.returncode == 2, err
    assert out == local.stdout
    assert len(json.loads(out)["files"]) == 60


def test_a_cluster_that_is_not_there_is_told_in_a_sentence(tmp_path: Path) -> None:
    pytest.importorskip("distributed")
    from darby.saved.replay.cluster import Cluster, ClusterError

    with pytest.raises(ClusterError, match=r"There is no scheduler at tcp://127\.0\.0\.1:9"):
        Cluster.at("tcp://127.0.0.1:9", seconds=1)


def test_without_the_extra_the_way_to_it_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from darby.saved.replay.cluster import Cluster, ClusterError

    monkeypatch.setitem(sys.modules, "distributed", None)
    with pytest.raises(ClusterError, match=r"pip install 'darby\[cluster\]'"):
        Cluster.at("tcp://127.0.0.1:9")


@pytest.fixture
def stranger(tmp_path: Path) -> Path:
    """A copy of Darby with one default line that is otherwise."""
    copy = tmp_path / "other"
    for root in ("core/darby", "grammars/darby_grammars", *(f"plugins/darby_{n}" for n in ("board", "joints", "fasteners", "coatings"))):  # fmt: skip
        shutil.copytree(ROOT / root, copy / Path(root).name, ignore=shutil.ignore_patterns("__pycache__"))
    lines = copy / "darby_joints" / "defaults.us.txt"
    lines.write_text(lines.read_text("utf-8").replace("14 lb per 100", "17 lb per 100"), encoding="utf-8")
    return copy


def joined(address: str, folder: Path, code: Path) -> subprocess.Popen[bytes]:
    """One more worker, that runs the code in a folder."""
    options = ("--nthreads", "1", "--no-nanny", "--no-dashboard", "--local-directory", str(folder))
    return subprocess.Popen(
        (sys.executable, "-m", "dask", "worker", address, *options), cwd=folder, stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL, env={**os.environ, "PYTHONPATH": str(code)},
    )  # fmt: skip


def test_workers_of_a_cluster_with_other_code_or_none_are_refused(
    tmp_path: Path, jobs: Path, stranger: Path, cluster: Any
) -> None:
    import distributed

    address, _ = cluster
    (tmp_path / "empty" / "darby").mkdir(parents=True)
    (tmp_path / "empty" / "darby" / "__init__.py").touch()
    run = command("--cluster", address)
    with distributed.Client(address, set_as_default=False) as client:
        for code, said in ((stranger, "has other plugins, words or another Darby than this machine, so that"),
                           (tmp_path / "empty", "has no Darby of this version. Install the same there")):  # fmt: skip
            client.wait_for_workers(2, timeout=300)
            worker = joined(address, tmp_path, code)
            try:
                wait_for(lambda: len(client.scheduler_info()["workers"]) == 3)
                done = subprocess.run(run, capture_output=True, text=True, cwd=jobs, check=False, timeout=300)
            finally:
                worker.kill()
                worker.wait()
            wait_for(lambda: len(client.scheduler_info()["workers"]) == 2)
            assert (done.returncode, done.stdout) == (2, "")
            assert re.fullmatch(rf"The worker on tcp://\S+ {said}.*\n", done.stderr), done.stderr
            assert not (jobs / "jobs" / NAME).exists()


def test_a_worker_that_joins_later_with_other_code_is_refused_and_its_results_are_in_no_journal(
    tmp_path: Path, cluster: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    from darby.saved.replay.cluster import Cluster, ClusterError

    address, _ = cluster
    files = sheds(tmp_path / "jobs", 40)
    made = setup()
    made = evolve(made, today=today_of(made))
    workers = Cluster.at(address)
    try:
        nowhere = Journal(None, "")
        assert Round(files, made, workers, nowhere).run() == Round(files, made, Here(), nowhere).run()
        monkeypatch.setattr(Cluster, "_ask", lambda *_: None)  # all were asked, and then one joined
        other = evolve(made, today="of another day")
        one = Round(files, other, workers, Journal(tmp_path / "noted", other.today).open())
        with pytest.raises(ClusterError, match="has other plugins, words or another Darby"):
            one.run()
        assert not one.results
        with pytest.raises(ClusterError, match="cannot be looked at"):
            Round(files, setup(), workers, nowhere).run()
    finally:
        workers.close()


@pytest.mark.slow
def test_a_cluster_that_is_lost_on_the_way_is_told_and_the_run_goes_on_at_home(
    tmp_path: Path, own_cluster: Any
) -> None:
    address, workers = own_cluster.address, own_cluster.workers
    sheds(tmp_path / "jobs", 120)
    (tmp_path / "house.txt").write_text(DEARER)
    run = started(tmp_path, "--cluster", address, "--format", "json")
    wait_for(lambda: noted(tmp_path) >= 16)
    for worker in workers:
        worker.kill()
    own_cluster.scheduler.kill()
    code, out, err = ended(run)
    kept = noted(tmp_path)
    assert (code, out) == (2, "")
    assert err == (
        f"The scheduler at {address} no longer answers.\n{kept} of 120 are done. The same command goes on from there.\n"
    )
    code, out, err = ended(started(tmp_path, "--format", "json"))
    assert code == 1
    assert f"{kept} done already" in err
    assert len(json.loads(out)["files"]) == 120


@pytest.mark.slow
def test_when_all_workers_are_gone_for_long_it_is_told(tmp_path: Path, cluster: Any) -> None:
    from darby.saved.replay.cluster import Cluster, ClusterError

    address, workers = cluster
    files = sheds(tmp_path / "jobs", 200)
    made = setup()
    found = Cluster.at(address)
    found.patience = 1
    try:
        one = Round(files, evolve(made, today=today_of(made)), found, Journal(None, ""),
                    lambda _: [worker.kill() for worker in workers])  # fmt: skip
        with pytest.raises(ClusterError, match="has no workers any more"):
            one.run()
        assert one.results
    finally:
        found.close()


@pytest.mark.parametrize("address", ["nonsense", "", "tcp://127.0.0.1", "tcp://127.0.0.1:abc", "a b:1", "tcp://:1"])
def test_what_is_no_address_is_told_at_once(address: str) -> None:
    pytest.importorskip("distributed")
    from darby.saved.replay.cluster import Cluster, ClusterError

    with pytest.raises(ClusterError, match="is no address of a scheduler"):
        Cluster.at(address)
