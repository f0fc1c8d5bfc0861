"""A bid is begun in the browser: fields are written as they are left, keep the focus, and survive what changes beside them."""

from __future__ import annotations

import signal
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from desk_runs import Held, Run, counted, opened
from desks import loft

if TYPE_CHECKING:
    from playwright.sync_api import Browser


@pytest.fixture
def run(tmp_path: Path) -> Iterator[Run]:
    running = Run(loft(tmp_path))
    yield running
    running.end(signal.SIGKILL)


def test_prices_are_typed_one_after_another_while_the_order_changes_beside_them(browser: Browser, run: Run) -> None:
    page = opened(browser, run)
    page.set_default_timeout(25_000)
    page.click("#begin-bid > summary")
    page.fill("#bid-overhead", "10")
    page.click("#begin-bid button")
    page.wait_for_selector("#bp-1")
    page.focus("#bp-1")
    page.keyboard.type("18.40")
    page.keyboard.press("Tab")
    counted(page, "Written into the bid: prices")
    page.wait_for_function("() => !document.querySelector('#bid .more.old')")
    assert page.evaluate("() => document.activeElement.id") == "bp-2"
    page.keyboard.type("31")  # not left yet
    page.evaluate("() => { window.before = document.querySelector('.items'); }")
    job = (run.folder / "job.toml").read_text(encoding="utf-8")
    (run.folder / "job.toml").write_text(job.replace('"10 ft"', '"30 ft"'), encoding="utf-8")
    page.wait_for_function("() => document.querySelector('.items') !== window.before")  # the order goes on beside it
    page.wait_for_function("() => !document.querySelector('#bid .more.old')")
    assert page.input_value("#bp-1") == "18.40"
    assert page.input_value("#bp-2") == "31"
    assert page.evaluate("() => document.activeElement.id") == "bp-2"
    page.keyboard.press("Enter")
    page.wait_for_function(
        "() => document.querySelector('#bid h3').innerText.includes('USD') && !document.querySelector('#bid .more.old')"
    )
    counted(page, "Written into the bid: prices")
    for _ in range(100):
        if ",31\n" in (run.folder / "own-prices.csv").read_text(encoding="utf-8"):
            break
        page.wait_for_timeout(100)
    assert (run.folder / "own-prices.csv").read_text(encoding="utf-8").count("\n") == 3
    assert run.job()["bid"]["markups"] == ["Overhead: 10 % of everything above."]
    page.fill("#bp-3", "dear")
    page.keyboard.press("Tab")
    counted(page, "is no sum of money")
    assert page.input_value("#bp-3") == "dear"
    page.context.close()


def test_a_price_typed_while_the_bid_is_made_anew_is_written_as_it_is_left(browser: Browser, run: Run) -> None:
    page = opened(browser, run)
    page.click("#begin-bid > summary")
    page.fill("#bid-overhead", "10")
    page.click("#begin-bid button")
    page.wait_for_selector("#bp-1")
    page.wait_for_function("() => !document.querySelector('#bid .more.old')")
    held = Held(page, "/bid")
    page.focus("#bp-1")
    page.keyboard.type("18.40")
    page.keyboard.press("Tab")
    held.wait()
    page.keyboard.type("31")
    page.evaluate("() => { window.before = document.querySelector('#bp-2'); }")
    held.give()
    page.wait_for_function("() => document.querySelector('#bp-2') !== window.before")  # another field stands there now
    assert page.evaluate("() => document.activeElement.id") == "bp-2"
    assert page.input_value("#bp-2") == "31"
    with page.expect_response("**/do/bid-write"):
        page.keyboard.press("Tab")
    assert ",31\n" in (run.folder / "own-prices.csv").read_text(encoding="utf-8")
    page.context.close()
