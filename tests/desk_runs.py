"""A desk as the command runs it over a folder, looked at in a real browser, and answers of it that are held back for a while."""

from __future__ import annotations

import re
import signal
import subprocess
import sys
import tomllib
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from playwright.sync_api import APIResponse, Browser, Page, Route

DARBY = Path(sys.executable).with_name("darby")


class Run:
    """The command, running over a folder."""

    def __init__(self, folder: Path, *more: str) -> None:
        self.folder = folder
        self.process = subprocess.Popen(
            [sys.executable, str(DARBY), "desk", str(folder), "--no-browser", *more],
            stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True,
        )  # fmt: skip
        assert self.process.stdout is not None
        found = re.search(r"http://\S+", self.process.stdout.readline())
        assert found is not None
        self.address = found[0]

    def end(self, how: int = signal.SIGINT) -> int:
        """End it, as Ctrl-C would."""
        if self.process.poll() is None:
            self.process.send_signal(how)
        code = self.process.wait(120)
        assert self.process.stdout is not None
        self.process.stdout.close()
        return code

    def job(self) -> dict[str, Any]:
        """The job file as it lies there."""
        return tomllib.loads((self.folder / "job.toml").read_text(encoding="utf-8"))


def opened(browser: Browser, run: Run, **how: Any) -> Page:
    how = {"viewport": {"width": 1400, "height": 900}, "reduced_motion": "reduce", **how}
    page = browser.new_context(**how).new_page()
    page.set_default_timeout(60_000)
    failed: list[str] = []
    page.on("pageerror", lambda e: failed.append(str(e)))
    page.on("console", lambda m: failed.append(m.text))
    page.goto(run.address)
    page.failed = failed  # type: ignore[attr-defined]
    return page


def counted(page: Page, words: str) -> None:
    page.wait_for_function("words => document.getElementById('p-top').innerText.includes(words)", arg=words)


class Held:
    """The first answers to what a page asks for, made by the desk at once and given to the page when a test says so."""

    def __init__(self, page: Page, path: str, many: int = 1) -> None:
        self.page, self.path = page, re.compile(rf"http://[^/]+{path}")
        self._many = many
        self._made: list[tuple[Route, APIResponse]] = []
        page.route(self.path, self._came)

    def _came(self, route: Route) -> None:
        if self._many == 0:
            route.continue_()
            return
        self._many -= 1
        self._made.append((route, route.fetch()))

    def wait(self) -> None:
        """Wait until the desk has made the answer."""
        for _ in range(1200):
            if self._made:
                return
            self.page.wait_for_timeout(50)
        raise AssertionError(f"nothing asked for {self.path.pattern}")

    def give(self) -> None:
        """The first answer that is held, given to the page."""
        self.wait()
        route, answer = self._made.pop(0)
        route.fulfill(response=answer)


def tab_to(page: Page, selector: str, *, most: int) -> None:
    """Go to a field or a button by the keyboard alone, in so many steps at most."""
    for _ in range(most):
        if page.evaluate("selector => document.activeElement.matches(selector)", selector):
            return
        page.keyboard.press("Tab")
    raise AssertionError(selector)
