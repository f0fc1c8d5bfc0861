"""A job of eight rooms with a finish schedule, from an empty folder to the letter and the order, by mouse and by keyboard alone; and a
specification of 100 kB that is pasted at once.
"""

from __future__ import annotations

import signal
from collections.abc import Iterator
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from desk_runs import Run, counted, opened, tab_to

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

SCHEDULE = """SECTION 09 91 23 INTERIOR PAINTING
PART 3 - EXECUTION
3.01 SCHEDULE
ROOM FINISH SCHEDULE
Room          Walls    Ceiling
Kiln room     PT-1     PT-2
Glaze store   PT-1     PT-2
Wheel room    PT-1     PT-2
Clay store    PT-1     PT-2
Shop          PT-3     PT-2
Office        PT-1     PT-2
Wash room     PT-3     PT-4
Lobby         PT-1     PT-2

PT-1: one coat primer, two coats eggshell.
PT-2: one coat primer, two coats flat.
PT-3: one coat primer, two coats semi-gloss.
PT-4: one coat primer, two coats satin.
Send 3 copies of the color chart.
"""
ROOMS = (
    ("Kiln room", "12'-6\"", "10 ft", "9 ft"),
    ("Glaze store", "8 ft", "10 ft", "9 ft"),
    ("Wheel room", "20 ft", "14 ft", "10 ft"),
    ("Clay store", "11 ft", "9 ft", "9 ft"),
    ("Shop", "24 ft", "16 ft", "10 ft"),
    ("Office", "12 ft", "11 ft", "9 ft"),
    ("Wash room", "8 ft", "6 ft", "8 ft"),
    ("Lobby", "15 ft", "12 ft", "10 ft"),
)
KEYS = ("name", "length", "width", "height")
RATE = "Finish paint: 350 sq ft per gal."
ASKED = "Which chart do you mean?"
# By hand, two coats at 350 sq ft to the gallon, cans of a gallon: semi-gloss (24 + 16) x 2 x 10 + (8 + 6) x 2 x 8 = 1,024 sq ft, 5.9 gal;
# satin 8 x 6 = 48 sq ft, 0.3 gal; flat 125 + 80 + 280 + 99 + 384 + 132 + 180 = 1,280 sq ft, 7.3 gal; eggshell
# 405 + 324 + 680 + 360 + 414 + 540 = 2,723 sq ft, 15.6 gal.
CANS = {
    "semi-gloss": "6 cans of 1 gal",
    "satin": "1 can of 1 gal",
    "flat": "8 cans of 1 gal",
    "eggshell": "16 cans of 1 gal",
}


@pytest.fixture
def run(tmp_path: Path) -> Iterator[Run]:
    running = Run(tmp_path)
    yield running
    running.end(signal.SIGKILL)


def ordered(page: Page) -> dict[str, str]:
    """The cans of each look, as the order shows them."""
    lines = page.locator("#p-order .items > li").evaluate_all(
        "lines => lines.map((one) => [one.querySelector('.what').innerText, one.querySelector('.count b').innerText])"
    )
    return {look: count for what, count in lines for look in CANS if f" {look}" in what.replace(",", " ")}


def sent(page: Page, run: Run) -> None:
    """The letter and the order list say what was done."""
    home = page.url.partition("/p")[0].partition("/?")[0].rstrip("/")
    page.goto(f"{home}/paper/letter.html")
    letter = " ".join(page.inner_text("body").split())
    assert "Quay architects" in letter
    assert ASKED in letter
    assert "“Send 3 copies of the color chart" in letter
    page.goto(f"{home}/paper/order.html")
    order = " ".join(page.inner_text("body").split())
    for look in CANS:
        assert look in order
    assert "eggshell, for walls" in order
    job = run.job()
    assert job["letter"]["to"] == "Quay architects"
    assert not page.failed, page.failed  # type: ignore[attr-defined]


def test_eight_rooms_from_an_empty_folder_to_letter_and_order_by_mouse(browser: Browser, run: Run) -> None:
    page = opened(browser, run)
    page.click("input[name=name]")
    page.keyboard.type("Kiln shop")
    page.click("text=Begin")
    page.click("#paste")
    page.keyboard.insert_text(SCHEDULE)
    page.click("form:has(#paste) button")
    page.wait_for_selector("#reading .m")
    for room in ROOMS[:2]:
        for key, said in zip(KEYS, room, strict=True):
            page.click(f"#new-{key}")
            page.keyboard.type(said)
        page.click("tr.new + tr button")
        counted(page, f"{room[0]} was put into rooms")
    page.click("#add-list > summary")
    page.click("#list")
    page.keyboard.insert_text("\n".join("\t".join(row) for row in (("Room", "Length", "Width", "Height"), *ROOMS[2:])))
    page.wait_for_selector("#list-as >> text=Taken for 6 rooms.")
    page.click("form:has(#list) button:has-text('Add it')")
    counted(page, "6 rows")
    page.click("#own-l")
    page.keyboard.type(RATE)
    page.click("form:has(#own-l) button")
    page.wait_for_function("cans => document.getElementById('p-order').innerText.includes(cans)", arg=CANS["eggshell"])
    assert ordered(page) == CANS
    page.click("#reading .perhaps >> nth=0")
    page.wait_for_function("() => document.getElementById('card-qa').value.includes('line 19')")
    page.click("#card-q")
    page.keyboard.type(ASKED)
    page.click("form:has(#card-q) button")
    counted(page, "the letter asks it")
    page.click("#p-top >> text=Papers")
    page.click("#letter-to")
    page.keyboard.type("Quay architects")
    page.click("section:has(#letter-to) button")
    page.wait_for_selector("text=was written into the job")
    sent(page, run)
    page.context.close()
    assert run.end() == 0


@pytest.mark.slow
def test_eight_rooms_from_an_empty_folder_to_letter_and_order_by_keyboard_alone(browser: Browser, run: Run) -> None:
    page = opened(browser, run)

    to = partial(tab_to, page, most=400)

    to("input[name=name]")
    page.keyboard.type("Kiln shop")
    page.keyboard.press("Enter")
    page.wait_for_selector("#paste")
    to("#paste")
    page.keyboard.insert_text(SCHEDULE)
    to("form:has(#paste) button")
    page.keyboard.press("Enter")
    page.wait_for_selector("#reading .m")
    for room in ROOMS:
        for key, said in zip(KEYS, room, strict=True):
            to(f"#new-{key}")
            page.keyboard.type(said)
        page.keyboard.press("Enter")
        counted(page, f"{room[0]} was put into rooms")
        page.wait_for_function("() => document.activeElement.id === 'new-name'")  # where the next one begins
    to("#own-l")
    page.keyboard.type(RATE)
    page.keyboard.press("Enter")
    page.wait_for_function("cans => document.getElementById('p-order').innerText.includes(cans)", arg=CANS["eggshell"])
    assert ordered(page) == CANS
    page.keyboard.press("Escape")
    to("#reading")
    page.keyboard.press("n")
    assert page.evaluate("() => document.activeElement.matches('.perhaps')")
    page.keyboard.press("Enter")
    page.wait_for_function("() => document.getElementById('card-qa').value.includes('line 19')")
    to("#card-q")
    page.keyboard.type(ASKED)
    page.keyboard.press("Enter")
    counted(page, "the letter asks it")
    to("a[href='/papers']")
    page.keyboard.press("Enter")
    page.wait_for_selector("#letter-to")
    to("#letter-to")
    page.keyboard.type("Quay architects")
    page.keyboard.press("Enter")
    page.wait_for_selector("text=was written into the job")
    to("a[href='/paper/letter.html']")
    page.keyboard.press("Enter")
    page.wait_for_url("**/paper/letter.html")
    sent(page, run)
    page.context.close()


@pytest.mark.slow
def test_a_specification_of_a_hundred_kilobytes_is_pasted_read_and_stepped_through(browser: Browser, run: Run) -> None:
    clauses = "".join(
        f"{n}. Wipe bay {n} with a dry cloth, and let the wood stand for 24 hours before work begins there again.\n"
        for n in range(1, 960)
    )
    text = f"{SCHEDULE}\n3.02 CLEANING\n{clauses}Walls of the Shop: three coats semi-gloss.\n"
    assert 100_000 <= len(text) <= 110_000
    page = opened(browser, run)
    page.fill("input[name=name]", "Kiln shop")
    page.click("text=Begin")
    page.click("#paste")
    page.keyboard.insert_text(text)
    page.click("form:has(#paste) button")
    page.wait_for_selector("#reading .m")
    assert (run.folder / "specification.txt").read_text(encoding="utf-8") == text
    assert page.locator("#reading .l").count() == text.count("\n")
    assert page.locator("#reading .m >> text=three coats").count() == 1  # the last line was read as the first
    page.keyboard.press("n")
    assert page.evaluate("() => document.activeElement.closest('#reading') !== null")
    page.click("#edit > summary")
    page.fill("#text", text.replace("three coats", "four coats"))
    page.click("form:has(#text) button")
    page.wait_for_selector("#reading .m >> text=four coats")
    assert not page.failed, page.failed  # type: ignore[attr-defined]
    page.context.close()
