"""The door of the desk: nobody comes in but the browser that was opened with the address the command printed.

Sources: RFC 6265bis (cookies), the Fetch standard (`Sec-Fetch-Site`, `Origin`), Content Security Policy level 3.
"""

from __future__ import annotations

import hmac
import secrets
import threading
from collections.abc import Awaitable, Callable, MutableMapping
from http.cookies import CookieError, SimpleCookie
from typing import Any
from urllib.parse import parse_qs

from attrs import define, field

from darby.desk.files.folder import LARGEST

Scope = MutableMapping[str, Any]
Message = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[Message]]
Send = Callable[[Message], Awaitable[None]]
App = Callable[[Scope, Receive, Send], Awaitable[None]]

POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; form-action 'self'; "
    "frame-ancestors 'none'; base-uri 'none'"
)
_HEADERS = (
    (b"content-security-policy", POLICY.encode()),
    (b"x-content-type-options", b"nosniff"),
    (b"referrer-policy", b"same-origin"),
    (b"cache-control", b"no-store"),
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cross-origin-resource-policy", b"same-origin"),
)
_BODY = LARGEST + 100_000

NOT_LET_IN = (
    "This desk opens only in the browser that was started with it. Go to the address that the command printed; it holds "
    "once. To open it anew, end the command with Ctrl-C and start it again.\n"
)


@define(eq=False)
class Keys:
    """The secrets of one run: `once` stands in the address, `session` in the cookie, `form` in every form."""

    once: str = field(factory=lambda: secrets.token_urlsafe(24))
    session: str = field(factory=lambda: secrets.token_urlsafe(24))
    form: str = field(factory=lambda: secrets.token_urlsafe(24))
    _spent: bool = field(default=False, init=False)
    _lock: threading.Lock = field(factory=threading.Lock, init=False)

    def spend(self, said: str) -> bool:
        """Whether this is the word of the address, said for the first time."""
        with self._lock:
            good = not self._spent and hmac.compare_digest(said.encode(), self.once.encode())
            self._spent = self._spent or good
            return good


@define(eq=False)
class Guard:
    """Lets a request through to `app`, or answers it with 403; puts the policy of the desk on every answer."""

    app: App
    keys: Keys
    port: int
    refused: int = field(default=0, init=False)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request."""
        if scope["type"] != "http":
            if scope["type"] == "lifespan":
                await self.app(scope, receive, send)
            return None  # no web sockets
        heads = _heads(scope)
        if not self._local(heads) or scope["method"] not in ("GET", "HEAD", "POST"):
            return await self._refuse(send)
        said = parse_qs(scope.get("query_string", b"").decode("latin-1")).get("t", [""])[0]
        inside = self._has_cookie(heads)
        if scope["path"] == "/" and said and scope["method"] == "GET":
            if inside or self.keys.spend(said):
                return await self._welcome(send)
            return await self._refuse(send)
        if not inside:
            return await self._refuse(send)
        if scope["method"] == "POST" and not self._same_origin(heads):
            return await self._refuse(send)
        length = heads.get("content-length", "0")
        if not length.isdigit() or int(length) > _BODY:
            return await self._answer(send, 413, f"That is larger than {LARGEST // 1_000_000} MB, and was not taken.\n")
        await self.app(scope, _bounded(receive), _guarded(send))
        return None

    def _hosts(self) -> tuple[str, str]:
        return f"127.0.0.1:{self.port}", f"localhost:{self.port}"

    def _local(self, heads: dict[str, str]) -> bool:
        """Whether it was asked for by a name of this machine: another name may have been made to point here."""
        return heads.get("host", "") in self._hosts()

    def _same_origin(self, heads: dict[str, str]) -> bool:
        """Whether a page of the desk itself sends this."""
        site, origin = heads.get("sec-fetch-site", ""), heads.get("origin", "")
        if site and site != "same-origin":
            return False
        if origin:
            return origin == f"http://{heads['host']}"
        return bool(site)

    def _has_cookie(self, heads: dict[str, str]) -> bool:
        jar: SimpleCookie = SimpleCookie()
        try:
            jar.load(heads.get("cookie", ""))
        except CookieError:
            return False
        found = jar.get(f"desk-{self.port}")
        return found is not None and hmac.compare_digest(found.value.encode(), self.keys.session.encode())

    async def _welcome(self, send: Send) -> None:
        cookie = f"desk-{self.port}={self.keys.session}; HttpOnly; SameSite=Strict; Path=/"
        await self._answer(send, 303, "", ((b"location", b"/"), (b"set-cookie", cookie.encode())))

    async def _refuse(self, send: Send) -> None:
        self.refused += 1
        await self._answer(send, 403, NOT_LET_IN)

    @staticmethod
    async def _answer(send: Send, status: int, text: str, more: tuple[tuple[bytes, bytes], ...] = ()) -> None:
        body = text.encode()
        heads = [*_HEADERS, (b"content-type", b"text/plain; charset=utf-8"), (b"content-length", b"%d" % len(body))]
        await send({"type": "http.response.start", "status": status, "headers": [*heads, *more]})
        await send({"type": "http.response.body", "body": body})


def _heads(scope: Scope) -> dict[str, str]:
    """The heads of a request; one that comes twice is no head of a browser, and counts as neither."""
    found: dict[str, str] = {}
    for name, value in scope["headers"]:
        key = name.decode("latin-1").lower()
        found[key] = "" if key in found and key != "cookie" else value.decode("latin-1")
    return found


def _bounded(receive: Receive) -> Receive:
    """A request whose body ends when it grows too long, whatever length it said."""
    left = _BODY

    async def received() -> Message:
        nonlocal left
        message = await receive()
        left -= len(message.get("body", b""))
        if left < 0:
            return {"type": "http.disconnect"}
        return message

    return received


def _guarded(send: Send) -> Send:
    """Answers with the policy of the desk on them; one that brings a policy of its own, as a paper does, keeps it."""

    async def sent(message: Message) -> None:
        if message["type"] == "http.response.start":
            there = {name.lower() for name, _ in message["headers"]}
            message = {**message, "headers": [*message["headers"], *((n, v) for n, v in _HEADERS if n not in there)]}
        await send(message)

    return sent
