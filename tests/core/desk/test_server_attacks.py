"""What a stranger may try against the running desk: each is refused or bounded, and the desk goes on."""

from __future__ import annotations

import http.client
import os
import re
import signal
import socket
import time
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import quote, urlencode

import pytest

from darby.desk.files.folder import LARGEST
from desk_runs import Run
from desks import HOME, Visitor, loft

WAYS_OUT = (
    "../secret.txt", "..\\secret.txt", "/etc/passwd", "a/../../secret.txt", "C:\\secret.txt", "%2e%2e/secret.txt", "link.txt",
    "folder-link/secret.txt", ".hidden", "secret.txt\x00", "file:///etc/passwd", "job.toml:stream",
)  # fmt: skip


class Web:
    """The command over a job, spoken to over a connection as a program would."""

    def __init__(self, folder: Path) -> None:
        self.run = Run(folder)
        self.home, _, query = self.run.address.partition("/?")
        self.host = self.home.removeprefix("http://")
        self.cookie = ""
        answer = self.ask("GET", f"/?{query}")
        self.cookie = answer[1]["set-cookie"].partition(";")[0]
        found = re.search(r'data-key="([^"]+)"', self.ask("GET", "/")[2].decode())
        assert found is not None
        self.key = found[1]

    def ask(
        self, method: str, path: str, body: str | None = None, heads: dict[str, str] | None = None
    ) -> tuple[int, http.client.HTTPMessage, bytes]:
        web = http.client.HTTPConnection(self.host, timeout=120)
        try:
            web.request(method, path, body, {"cookie": self.cookie, **(heads or {})})
            answer = web.getresponse()
            return answer.status, answer.headers, answer.read()
        finally:
            web.close()

    def ours(self) -> dict[str, str]:
        return {
            "origin": self.home, "sec-fetch-site": "same-origin", "x-panes": "1",
            "content-type": "application/x-www-form-urlencoded",
        }  # fmt: skip


@pytest.fixture
def web(tmp_path: Path) -> Iterator[Web]:
    folder = tmp_path / "job"
    folder.mkdir()
    (tmp_path / "secret.txt").write_text("Walls: two coats of the secret.\n", encoding="utf-8")
    there = Web(loft(folder))
    yield there
    there.run.end(signal.SIGKILL)


def test_no_deed_and_no_address_reaches_a_file_outside_the_folder(tmp_path: Path) -> None:
    folder = tmp_path / "job"
    folder.mkdir()
    secret = tmp_path / "secret.txt"
    secret.write_text("Walls: two coats of the secret.\n", encoding="utf-8")
    visitor = Visitor(loft(folder))
    (folder / "link.txt").symlink_to(secret)
    (folder / "folder-link").symlink_to(tmp_path)
    before = sorted(os.listdir(tmp_path)), visitor.bench.stamp()
    for name in WAYS_OUT:
        for deed, fields in (
            ("document-add", {"role": "house", "name": name}),
            ("document-remove", {"role": "house", "name": name}),
            ("text", {"name": name, "text": "mine", "stamp": ""}),
        ):
            answer = visitor.do(deed, **fields).json()
            assert answer["refused"], (deed, name)
            assert "the secret" not in "".join(answer["panes"].values())
        for path in (
            f"/?document={quote(name)}",
            f"/paper/{quote(name)}",
            f"/static/{quote(name)}",
            f"/clause?document={quote(name)}&mark=line-1",
        ):
            assert "the secret" not in visitor.get(path).text, path
    assert (sorted(os.listdir(tmp_path)), visitor.bench.stamp()) == before
    assert secret.read_text(encoding="utf-8") == "Walls: two coats of the secret.\n"


@pytest.mark.parametrize("name", [name for name in WAYS_OUT if "\x00" not in name])
def test_what_is_pasted_or_taken_in_under_such_a_name_lands_in_the_folder(tmp_path: Path, name: str) -> None:
    folder = tmp_path / "job"
    folder.mkdir()
    visitor = Visitor(loft(folder))
    visitor.do("paste", role="house", name=name, text="Walls: one coat primer.")
    heads = {"origin": HOME, "sec-fetch-site": "same-origin"}
    visitor.ask("POST", "/upload", data={"key": visitor.keys.form, "role": "house"}, files={"file": (name, b"Doors: two coats.")}, headers=heads)  # fmt: skip
    assert os.listdir(tmp_path) == ["job"]
    for one in folder.rglob("*"):
        assert one.resolve().is_relative_to(folder.resolve())
        assert not one.name.startswith(".")


def test_a_foreign_host_and_a_foreign_page_change_nothing_over_the_wire(web: Web) -> None:
    form = urlencode({"key": web.key, "name": "Mine"})
    tries = (
        {"host": "desk.example"}, {"host": f"desk.example:{web.host.rpartition(':')[2]}"}, {"origin": "http://desk.example"},
        {"origin": "null"}, {"sec-fetch-site": "cross-site"}, {"cookie": ""},
    )  # fmt: skip
    for heads in tries:
        assert web.ask("POST", "/do/name", form, {**web.ours(), **heads})[0] == 403, heads
    assert web.ask("POST", "/do/name", urlencode({"key": "x", "name": "Mine"}), web.ours())[0] == 403
    assert web.run.job()["name"] == "Net loft"


def test_an_upload_that_never_ends_is_cut_off_and_the_desk_goes_on(web: Web) -> None:
    host, _, port = web.host.partition(":")
    head = (
        f"POST /upload HTTP/1.1\r\nHost: {web.host}\r\nCookie: {web.cookie}\r\nOrigin: {web.home}\r\nSec-Fetch-Site: same-origin\r\n"
        "Content-Type: multipart/form-data; boundary=b\r\nTransfer-Encoding: chunked\r\n\r\n"
    )
    part = b'--b\r\nContent-Disposition: form-data; name="file"; filename="a.txt"\r\n\r\n'
    sent = 0
    with socket.create_connection((host, int(port)), timeout=60) as line:
        line.sendall(head.encode() + b"%x\r\n%s\r\n" % (len(part), part))
        block = b"10000\r\n" + b"x" * 0x10000 + b"\r\n"
        try:
            while sent < 4 * LARGEST:
                line.sendall(block)
                sent += 0x10000
            answer = line.recv(100)
        except OSError:  # it was cut off
            answer = b""
    assert b" 200 " not in answer
    assert b" 303 " not in answer
    assert sorted(os.listdir(web.run.folder)) == ["finishes.txt", "job.toml"]
    assert web.ask("GET", "/state")[0] == 200


def test_a_request_that_says_nothing_holds_nobody_up(web: Web) -> None:
    host, _, port = web.host.partition(":")
    silent = [socket.create_connection((host, int(port)), timeout=60) for _ in range(40)]
    try:
        for one in silent:
            one.sendall(b"POST /do/name HTTP/1.1\r\nHost: ")
        assert web.ask("GET", "/state")[0] == 200
    finally:
        for one in silent:
            one.close()


@pytest.mark.slow
def test_ten_thousand_requests_leave_it_as_it_was(web: Web) -> None:
    def memory() -> int:
        status = Path(f"/proc/{web.run.process.pid}/status").read_text(encoding="utf-8")
        return int(re.search(r"VmRSS:\s+(\d+)", status)[1])  # type: ignore[index]

    connection = http.client.HTTPConnection(web.host, timeout=120)

    def many(count: int, heads: dict[str, str], path: str = "/state") -> set[int]:
        met = set()
        for _ in range(count):
            connection.request("GET", path, headers=heads)
            answer = connection.getresponse()
            answer.read()
            met.add(answer.status)
        return met

    ours = {"cookie": web.cookie}
    many(500, ours)
    before, begun = memory(), time.perf_counter()
    assert many(8_000, ours) == {200}
    assert many(1_900, {"cookie": "desk=guess"}, "/?t=guess") == {403}
    assert many(100, ours, "/") == {200}
    print(f"10,000 requests in {time.perf_counter() - begun:.1f} s; memory {before} to {memory()} kB")
    assert memory() < 2 * before
    assert web.run.job()["name"] == "Net loft"
    connection.close()
