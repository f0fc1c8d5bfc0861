"""The door of the desk: strangers, other pages, other names of this machine, and what is too long."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from starlette.requests import ClientDisconnect

from darby.desk.files.folder import LARGEST
from darby.desk.guard import POLICY
from desks import HOME, PORT, Visitor, apart, loft

OURS = {"origin": HOME, "sec-fetch-site": "same-origin"}


@pytest.fixture
def visitor(tmp_path: Path) -> Visitor:
    return Visitor(loft(tmp_path))


def test_the_address_holds_once_and_the_browser_that_used_it_stays_in(visitor: Visitor) -> None:
    assert visitor.get("/").status_code == 200
    assert visitor.get(f"/?t={visitor.keys.once}").status_code == 303
    visitor.cookies.clear()
    assert visitor.get(f"/?t={visitor.keys.once}").status_code == 403
    assert visitor.get("/").status_code == 403


def test_the_cookie_is_for_this_site_alone_and_out_of_reach_of_scripts(tmp_path: Path) -> None:
    visitor = Visitor(loft(tmp_path), let_in=False)
    said = visitor.get(f"/?t={visitor.keys.once}").headers["set-cookie"]
    assert "HttpOnly" in said
    assert "SameSite=Strict" in said


@pytest.mark.parametrize("path", ["/", "/state", "/papers", "/paper/json", "/static/desk.js", "/nowhere"])
def test_without_the_cookie_nothing_is_shown(tmp_path: Path, path: str) -> None:
    stranger = Visitor(loft(tmp_path), let_in=False)
    answer = stranger.get(path)
    assert answer.status_code == 403
    assert "Net loft" not in answer.text


@pytest.mark.parametrize("word", ["", "x", "ä", "%00", "a" * 10_000])
def test_a_wrong_word_opens_nothing(tmp_path: Path, word: str) -> None:
    assert Visitor(loft(tmp_path), let_in=False).get(f"/?t={word}").status_code == 403


@pytest.mark.parametrize(
    "host", ["evil.example", f"evil.example:{PORT}", "127.0.0.1", "127.0.0.1:1", f"127.0.0.1.evil.example:{PORT}", ""]
)
def test_another_name_for_this_machine_is_refused(visitor: Visitor, host: str) -> None:
    assert visitor.get("/", headers={"host": host}).status_code == 403


@pytest.mark.parametrize(
    "heads",
    [
        {"origin": "http://evil.example"},
        {"origin": "null"},
        {"origin": "http://127.0.0.1:1", "sec-fetch-site": "same-site"},
        {"sec-fetch-site": "cross-site"},
        {"origin": HOME, "sec-fetch-site": "cross-site"},
        {"origin": HOME, "sec-fetch-site": "none"},
        {},
    ],
)
def test_a_form_from_another_page_changes_nothing(visitor: Visitor, heads: dict[str, str]) -> None:
    before = visitor.bench.stamp()
    answer = visitor.ask("POST", "/do/name", data={"key": visitor.keys.form, "name": "Mine"}, headers=heads)
    assert answer.status_code == 403
    assert visitor.bench.stamp() == before


def test_a_form_without_the_key_of_this_run_changes_nothing(visitor: Visitor) -> None:
    before = visitor.bench.stamp()
    for deed in ("name", "undo", "paste"):
        assert visitor.ask("POST", f"/do/{deed}", data={"key": "x", "name": "Mine"}, headers=OURS).status_code == 403
    assert (
        visitor.ask("POST", "/upload", data={"key": "x"}, files={"file": ("a.txt", b"a")}, headers=OURS).status_code
        == 403
    )
    assert visitor.ask("POST", "/check", data={"line": "Walls: two coats."}, headers=OURS).status_code == 403
    assert visitor.bench.stamp() == before


@pytest.mark.parametrize("method", ["PUT", "DELETE", "PATCH", "OPTIONS", "TRACE"])
def test_other_ways_to_ask_are_refused(visitor: Visitor, method: str) -> None:
    assert visitor.ask(method, "/", headers=OURS).status_code == 403


def test_asking_for_a_page_changes_nothing(visitor: Visitor) -> None:
    before = visitor.bench.stamp()
    for deed in ("undo", "name", "row-remove", "text"):
        assert visitor.get(f"/do/{deed}?key={visitor.keys.form}&name=Mine").status_code == 405
    assert visitor.bench.stamp() == before


def test_every_answer_brings_the_policy(visitor: Visitor) -> None:
    for path in ("/", "/state", "/papers", "/static/desk.css", "/nowhere"):
        heads = visitor.get(path).headers
        assert heads["content-security-policy"] == POLICY
        assert heads["x-content-type-options"] == "nosniff"
        assert heads["cache-control"] == "no-store"
    assert "unsafe" not in POLICY
    alone = visitor.get("/paper/html").headers.get_list("content-security-policy")
    assert len(alone) == 1
    assert alone[0].startswith("sandbox")
    assert "allow-same-origin" not in alone[0]


def test_what_is_too_long_is_refused_by_what_it_says_and_by_what_comes(visitor: Visitor) -> None:
    assert (
        visitor.ask("POST", "/do/paste", content=b"x", headers={**OURS, "content-length": str(2 * LARGEST)}).status_code
        == 413
    )

    async def endless() -> list[Any]:
        sent: list[Any] = []
        received = 0

        async def receive() -> dict[str, Any]:
            nonlocal received
            received += 1
            assert received < 100, "read on without end"
            return {"type": "http.request", "body": b"key=x&text=" + b"x" * 1_000_000, "more_body": True}

        async def send(message: Any) -> None:
            sent.append(message)

        cookie = f"desk-{PORT}={visitor.keys.session}"
        heads = {
            "host": f"127.0.0.1:{PORT}",
            "cookie": cookie,
            "content-type": "application/x-www-form-urlencoded",
            **OURS,
        }
        scope = {
            "type": "http", "method": "POST", "path": "/do/paste", "raw_path": b"/do/paste", "query_string": b"",
            "headers": [(k.encode(), v.encode()) for k, v in heads.items()], "http_version": "1.1", "scheme": "http",
            "server": ("127.0.0.1", PORT), "client": ("127.0.0.1", 1), "root_path": "",
        }  # fmt: skip
        with pytest.raises(ClientDisconnect):  # the server drops the connection
            await visitor.app(scope, receive, send)
        return sent

    before = visitor.bench.stamp()
    assert not [m for m in apart(endless()) if m.get("status") in (200, 303)]
    assert visitor.bench.stamp() == before
