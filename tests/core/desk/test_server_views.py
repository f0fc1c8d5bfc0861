"""Every view of the desk, for everyone: light and dark, from 390 to 1920 px, at twice the size, and without motion; axe finds nothing."""

from __future__ import annotations

import signal
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from desk_runs import Run, opened
from desks import JOB, SPEC, loft

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

MORE = """
[letter]
questions = ["Who primes? [“Walls: one coat”]"]
asked = ["What spreading rate? [May 4, 2026]"]

[scope]
excluded = ["“Doors”: not ours, because the owner paints them [finishes.txt 5]"]

[bid]
currency = "USD"
markups = ["Overhead: 10 % of everything above."]
"""
VIEWS = (
    "", "?table=walls", "?table=ceilings", "?table=openings", "?table=doors", "?table=holds", "?document=job.toml&table=rooms",
    "papers", "working?of=i1", "since?of=all", "asks", "bid", "otherwise",
)  # fmt: skip
"""Every page of a job that can be worked out, by its address."""
SIZES = {"1920": (1920, 1080), "1280": (1280, 800), "390": (390, 844)}


@pytest.fixture
def run(tmp_path: Path) -> Iterator[Run]:
    loft(tmp_path)
    (tmp_path / "job.toml").write_text(f"{JOB}{MORE}", encoding="utf-8")
    text = f"{SPEC}C. Send 3 copies.\nD. Walls: three coats eggshell.\nE. Attic: two coats satin.\nF. Alternate 1: paint the doors, two coats gloss.\n"
    (tmp_path / "finishes.txt").write_text(text, encoding="utf-8")
    running = Run(tmp_path)
    yield running
    running.end(signal.SIGKILL)


def sound(page: Page, where: str) -> None:
    """Nothing that axe knows is wrong with a page, all of it unfolded, and nothing of it lies beside the screen."""
    from axe_playwright_python.sync_playwright import Axe

    for one in page.query_selector_all("details:not([open]) > summary"):
        one.evaluate("one => one.parentElement.open = true")
    if page.locator("[data-soon]").count():
        page.wait_for_selector("#bid-form", state="attached")
    page.wait_for_function("() => !document.querySelector('details[open][data-more] > .more > p > a')")
    parts = page.locator(".jump a[data-part]").evaluate_all("some => some.map((one) => one.dataset.part)")
    narrow = page.is_visible(".jump") if parts else False
    for part in parts if narrow and page.evaluate("() => innerWidth") < 768 else ("",):
        if part:
            page.click(f".jump a[data-part={part}]")
        found = Axe().run(page, options={"resultTypes": ["violations"]})
        assert found.violations_count == 0, (where, part, found.generate_report())
    assert page.evaluate("() => document.documentElement.scrollWidth - innerWidth") <= 0, where


def shown(page: Page, run: Run, where: str) -> None:
    page.goto(run.address.partition("?")[0] + where)
    sound(page, where)


@pytest.mark.slow
@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", SIZES)
def test_every_view_at_every_width_light_and_dark(browser: Browser, run: Run, size: str, scheme: str) -> None:
    width, height = SIZES[size]
    page = opened(browser, run, viewport={"width": width, "height": height}, color_scheme=scheme, bypass_csp=True)
    page.click("text=Keep to compare")
    page.wait_for_selector("text=Kept to compare")
    for where in VIEWS:
        shown(page, run, where)
    assert not page.failed, page.failed  # type: ignore[attr-defined]
    page.context.close()


@pytest.mark.parametrize("where", [pytest.param("papers", marks=pytest.mark.slow), ""])
def test_a_wide_screen_in_the_dark_shows_three_columns(browser: Browser, run: Run, where: str) -> None:
    page = opened(browser, run, viewport={"width": 1920, "height": 1080}, color_scheme="dark", bypass_csp=True)
    shown(page, run, where)
    if not where:
        tops = page.evaluate(
            "() => ['documents', 'measures', 'order'].map((one) => document.getElementById(`p-${one}`).getBoundingClientRect())"
        )
        assert tops[0]["right"] <= tops[1]["left"]
        assert tops[1]["right"] <= tops[2]["left"]
    page.context.close()


@pytest.mark.parametrize("scheme", ["light", pytest.param("dark", marks=pytest.mark.slow)])
def test_at_twice_the_size_everything_is_there_and_nothing_lies_beside_the_screen(
    browser: Browser, run: Run, scheme: str
) -> None:
    """A browser at 200 % lays a window of 1280 px out in 640 of twice the size; or letters alone grow (WCAG 2.1, 1.4.4 and 1.4.10)."""
    page = opened(
        browser,
        run,
        viewport={"width": 640, "height": 400},
        device_scale_factor=2,
        color_scheme=scheme,
        bypass_csp=True,
    )
    for where in ("", "papers"):
        shown(page, run, where)
    page.context.close()


def test_letters_of_twice_the_size_cover_nothing_and_are_not_cut_off(browser: Browser, run: Run) -> None:
    page = opened(browser, run, bypass_csp=True, viewport={"width": 1280, "height": 800})
    page.wait_for_selector("#bid-form", state="attached")
    page.evaluate("() => { document.documentElement.style.fontSize = '200%'; }")
    assert page.evaluate("() => document.documentElement.scrollWidth - innerWidth") <= 0
    cut = page.evaluate(
        "() => [...document.querySelectorAll('button, .tabs a, summary, h1, h2, h3, label')].filter((one) => one.offsetParent && !one.matches('.unseen') && "
        "getComputedStyle(one).overflow === 'hidden' && one.scrollWidth > one.clientWidth + 1).map((one) => one.textContent)"
    )
    assert cut == []
    split = page.evaluate(
        "() => [...document.querySelectorAll('.what b, .count b, .tabs b, h2, h3')].filter((one) => one.offsetParent && "
        "one.getClientRects().length > one.textContent.split(/[ -]/).length).map((one) => one.textContent)"
    )
    assert split == []  # no word is broken into its letters
    page.context.close()


def test_nothing_moves_for_whoever_wants_no_motion(browser: Browser, run: Run) -> None:
    moving = (
        "() => [...document.querySelectorAll('*')].filter((one) => { const look = getComputedStyle(one); "
        "return look.animationName !== 'none' || look.scrollBehavior === 'smooth' || look.transitionDuration.split(', ').some((each) => parseFloat(each) > 0); "
        "}).map((one) => one.tagName + '.' + one.className)"
    )
    page = opened(browser, run, reduced_motion="reduce")
    home = run.address.partition("?")[0]
    for where in ("", "?table=holds", "papers", "paper/html"):
        page.goto(home + where)
        assert page.evaluate(moving) == [], where
    page.emulate_media(reduced_motion="no-preference")
    page.goto(home)
    assert page.evaluate(moving)  # else this finds nothing anywhere
    page.context.close()


@pytest.mark.parametrize("scheme", ["light", pytest.param("dark", marks=pytest.mark.slow)])
def test_an_empty_folder_a_chosen_mark_and_a_job_that_cannot_be_worked_out(
    browser: Browser, tmp_path: Path, scheme: str
) -> None:
    run = Run(tmp_path)
    try:
        page = opened(browser, run, color_scheme=scheme, bypass_csp=True)
        sound(page, "an empty folder")
        page.fill("input[name=name]", "Kiln shop")
        page.click("text=Begin")
        page.wait_for_selector("#paste")
        sound(page, "a job that was just begun")
        page.fill(
            "#paste",
            "Walls: one coat primer, two coats eggshell.\nProvide 3 hoops per bay.\nKiln room: three coats satin.\n",
        )
        page.click("form:has(#paste) button")
        page.click("#reading .m.read >> nth=0")
        page.wait_for_function("() => document.getElementById('card-c').textContent.includes('two coats')")
        sound(page, "a chosen mark")
        page.keyboard.press("Escape")
        page.click("a[data-name='Kiln room']")
        assert page.evaluate("() => document.activeElement.id") == "new-length"
        page.keyboard.press("Enter")
        page.wait_for_selector(".banner >> text=Still to be typed")
        sound(page, "a job that cannot be worked out")
        page.fill("#list", "Office 12' x 10' x 9'\n")
        page.wait_for_selector("#list-as >> text=Taken for 1 room.")
        sound(page, "a list that is looked at")
        assert not page.failed, page.failed  # type: ignore[attr-defined]
        page.context.close()
    finally:
        run.end(signal.SIGKILL)
