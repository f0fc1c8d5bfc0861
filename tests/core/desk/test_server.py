"""The desk as a new user has it: the command, a real browser, files in a folder. From nothing to an order and a letter."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from desk_runs import DARBY, Run, counted, opened, tab_to
from desks import JOB, SPEC, loft

if TYPE_CHECKING:
    from playwright.sync_api import Browser
SCHEDULE = """ROOM FINISH SCHEDULE
Room        Walls        Ceiling
Kiln room   PT-1         PT-2
Glaze store PT-1         PT-2

PT-1: one coat primer, two coats eggshell.
PT-2: one coat primer, two coats flat.
"""


@pytest.fixture
def run(tmp_path: Path) -> Iterator[Run]:
    running = Run(tmp_path)
    yield running
    running.end(signal.SIGKILL)


def test_from_an_empty_folder_to_an_order_and_a_letter_by_mouse(browser: Browser, run: Run) -> None:
    page = opened(browser, run)
    page.fill("input[name=name]", "Kiln shop")
    page.click("text=Begin")
    page.fill("#paste", SCHEDULE)
    page.click("text=Add it >> nth=0")
    page.wait_for_selector("#reading .m")
    assert page.locator("#add[open]").count() == 0
    for name, length in (("Kiln room", "12'-6\""), ("Glaze store", "8 ft")):
        page.fill("#new-name", name)
        page.fill("#new-length", length)
        page.fill("#new-width", "10 ft")
        page.fill("#new-height", "9 ft")
        page.click("tr.new + tr button")
        page.wait_for_function(
            "name => [...document.querySelectorAll('.grid tr:not(.new) input')].some(i => i.value === name)", arg=name
        )
    page.wait_for_selector("text=eggshell")
    walls = page.inner_text("#p-measures")
    assert "wall 405 sq ft" in walls  # (12 1/2 + 10) x 2 x 9
    page.fill("#r-rooms-1-length", "18 ft")
    counted(page, "Glaze store was written")
    assert page.locator("li.moved").count() > 0
    assert run.job()["rooms"][1]["length"] == "18 ft"
    page.click("#p-order .items summary >> nth=0")
    page.wait_for_selector("#p-order .steps >> text=order")
    assert "job.toml 7" in page.inner_text("#p-order .steps")
    assert str(run.folder) not in page.content()
    page.fill("#own-l", "Kiln room walls: three coats eggshell.")
    page.wait_for_selector("text=Reads: finish paint")
    page.click("form:has(#own-l) button")
    page.wait_for_selector("ul.own >> text=Kiln room walls: three coats eggshell.")
    page.click("text=Undo")
    page.wait_for_selector("ul.own >> text=Kiln room", state="detached")
    assert "rules" not in run.job()
    page.click("#reading .m.used >> nth=0")
    page.fill("#card-y", "the owner paints it")
    page.click("text=Exclude it")
    counted(page, "exclusions of the scope note")
    assert "not ours, because the owner paints it [specification.txt " in run.job()["scope"]["excluded"][0]
    page.goto(page.url.partition("?")[0] + "papers")
    page.fill("#letter-to", "Quay architects")
    page.click("section:has(#letter-to) button")
    page.wait_for_selector("text=was written into the job")
    assert run.job()["letter"] == {"to": "Quay architects"}
    page.goto(page.url.replace("/papers", "/paper/letter.html"))
    assert "Quay architects" in page.inner_text("body")
    assert page.locator("dt", has_text="Reply by").count() == 1
    assert not page.failed, page.failed  # type: ignore[attr-defined]
    page.context.close()
    assert run.end() == 0


def test_a_click_lands_though_the_order_is_worked_out_while_it_is_pressed(browser: Browser, run: Run) -> None:
    loft(run.folder)
    page = opened(browser, run)
    page.fill("#r-rooms-0-length", "31 ft")
    summary = page.locator("#p-order .items summary").first
    summary.hover()
    with page.expect_response("**/do/row"):
        page.mouse.down()  # leaves the field: what was typed is sent, and the order comes back as it is now
    page.wait_for_timeout(300)
    page.mouse.up()
    page.wait_for_selector("#p-order .steps")
    page.wait_for_function("() => document.querySelectorAll('li.moved').length > 0")
    page.context.close()


def test_a_mark_in_question_leads_to_its_open_point(browser: Browser, run: Run) -> None:
    loft(run.folder)
    (run.folder / "finishes.txt").write_text(
        "Walls: two coats eggshell finish paint.\n\nWalls: three coats eggshell finish paint.\n", encoding="utf-8"
    )
    page = opened(browser, run)
    page.click("#reading .m.asked >> nth=0")
    page.click(".card-point")
    near = "() => document.activeElement.closest('li').innerText"
    assert "three coats" in page.evaluate(near)
    page.click("#p-points button >> text=This holds >> nth=1")
    counted(page, "Your line was written")
    assert len(run.job()["rules"]) == 2
    page.click("#reading .m >> nth=0")
    assert not page.is_visible(".card-point")
    page.context.close()


def test_a_mark_and_a_line_that_was_not_read_are_asked_about_in_the_letter(browser: Browser, run: Run) -> None:
    loft(run.folder)
    (run.folder / "finishes.txt").write_text(f"{SPEC}C. Frames stay as they come from the works.\n", encoding="utf-8")
    page = opened(browser, run)
    page.click("#reading .l >> text=Frames stay")
    page.wait_for_function("() => document.getElementById('card-c').textContent.includes('Frames stay')")
    assert "Nothing was read" in page.inner_text(".card-said")
    page.fill("#card-q", "Who washes them?")
    page.keyboard.press("Enter")
    counted(page, "the letter asks it")
    page.click("#reading .m.used >> text=two coats")
    page.wait_for_function("() => document.getElementById('card-qa').value.includes('line 4')")
    assert page.input_value("#card-q") == ""
    page.fill("#card-q", "On the stairs too?")
    page.click("form:has(#card-q) button")
    page.wait_for_selector("#p-points >> text=On the stairs too?")
    assert run.job()["letter"]["questions"] == [
        "Who washes them? [finishes.txt, line 6: “Frames stay as they come from the works”]",
        "On the stairs too? [finishes.txt, line 4: “Walls: one coat primer, two coats eggshell”]",
    ]
    page.click("button[aria-label='Take back: Who washes them?']")
    counted(page, "was taken back")
    assert len(run.job()["letter"]["questions"]) == 1
    assert not page.failed, page.failed  # type: ignore[attr-defined]
    page.context.close()


def test_a_line_without_a_mark_is_chosen_by_the_keyboard_alone(browser: Browser, run: Run) -> None:
    loft(run.folder)
    (run.folder / "finishes.txt").write_text(f"{SPEC}\nC. Frames stay as they come from the works.\n", encoding="utf-8")
    page = opened(browser, run)
    tab_to(page, "#reading", most=60)
    now = "() => document.querySelector('.l.now').dataset.n"
    page.keyboard.press("ArrowUp")
    assert page.evaluate(now) == "7"  # from the end; the blank line is none
    page.keyboard.press("ArrowUp")
    assert page.evaluate(now) == "5"
    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowDown")
    assert page.evaluate(now) == "7"
    assert "Frames stay" in page.inner_text("#said")
    page.keyboard.press("Enter")
    page.wait_for_function("() => document.getElementById('card-c').textContent.includes('Frames stay')")
    page.keyboard.press("Escape")
    assert not page.is_visible("#card")
    assert page.evaluate("() => document.activeElement.id") == "reading"
    page.keyboard.press("Enter")
    tab_to(page, "#card-q", most=10)
    page.keyboard.type("Who washes them?")
    page.keyboard.press("Enter")
    counted(page, "the letter asks it")
    assert run.job()["letter"]["questions"][0].startswith("Who washes them? [finishes.txt, line 7")
    assert not page.failed, page.failed  # type: ignore[attr-defined]
    page.context.close()


@pytest.mark.parametrize("size", [(1280, 800), (390, 844)])
def test_what_a_card_speaks_of_stays_in_sight_beside_it(browser: Browser, run: Run, size: tuple[int, int]) -> None:
    loft(run.folder)
    lines = "".join(f"{n}. Wipe bay {n} with a dry cloth.\n" for n in range(1, 80))
    (run.folder / "finishes.txt").write_text(f"{SPEC}{lines}Ceilings: three coats flat.\n", encoding="utf-8")
    page = opened(browser, run, viewport={"width": size[0], "height": size[1]})
    if size[0] < 700:
        page.click(".jump a[data-part=documents]")
    for mark in (page.locator("#reading .m >> text=two coats"), page.locator("#reading .m >> text=three coats")):
        mark.click()
        page.wait_for_function("() => document.getElementById('card-c').textContent.includes('coats')")
        at, card = mark.bounding_box(), page.locator("#card").bounding_box()
        assert at is not None
        assert card is not None
        assert at["y"] > 0
        assert at["y"] + at["height"] <= card["y"], (at, card)
        page.keyboard.press("Escape")
    page.context.close()


def test_steps_reach_what_was_set_aside_and_may_be_to_order_first(browser: Browser, run: Run) -> None:
    loft(run.folder)
    text = "A. Walls: two coats eggshell.\nB. Walls: three coats eggshell.\nC. Send 12 samples in 21 days.\nD. Send 3 copies.\n"
    (run.folder / "finishes.txt").write_text(text, encoding="utf-8")
    page = opened(browser, run)
    assert page.locator(".rail i.perhaps").count() == page.locator("#reading .perhaps[id]").count() == 2
    now = "() => document.activeElement.closest('.l').dataset.n + ' ' + document.activeElement.innerText"
    page.keyboard.press("n")
    assert page.evaluate(now) == "3 12"
    page.keyboard.press("n")
    assert page.evaluate(now) == "4 3"
    page.keyboard.press("n")
    assert page.evaluate(now).startswith("1 ")
    page.keyboard.press("p")
    page.keyboard.press("Enter")
    assert "Set aside" in page.inner_text(".card-said")
    assert not page.is_visible(".card-point")
    page.click("#p-top >> text=set aside, perhaps to order")
    page.click("#aside summary")
    page.click("#aside a >> nth=0")
    assert page.evaluate(now) == "3 12"
    assert not page.failed, page.failed  # type: ignore[attr-defined]
    page.context.close()


def test_a_file_that_is_dropped_on_the_documents_goes_the_way_of_one_that_is_chosen(browser: Browser, run: Run) -> None:
    loft(run.folder)
    page = opened(browser, run)
    drop = """([where, names]) => {
        const data = new DataTransfer();
        for (const name of names) data.items.add(new File(["Doors: two coats gloss.\\n"], name, { type: "text/plain" }));
        const place = document.querySelector(where);
        const at = (kind) => { const event = new DragEvent(kind, { bubbles: true, cancelable: true, dataTransfer: data }); place.dispatchEvent(event); return event.defaultPrevented; };
        return [at("dragover"), document.getElementById("p-documents").classList.contains("dropping"), at("drop")];
    }"""
    chosen = "() => [...document.getElementById('file').files].map((one) => one.name)"
    assert page.evaluate(drop, ["#p-order h2", ["beside.txt"]]) == [True, False, True]  # and the desk stays open
    assert page.evaluate(chosen) == []
    assert page.evaluate(drop, ["#reading", ["doors.txt", "other.txt"]]) == [True, True, True]
    assert page.evaluate(chosen) == ["doors.txt"]
    assert not page.evaluate("() => document.getElementById('p-documents').classList.contains('dropping')")
    assert "doors.txt is chosen" in page.inner_text("#said")
    (run.folder / "job.toml").write_text(JOB.replace('"10 ft"', '"11 ft"'), encoding="utf-8")
    page.wait_for_function("() => document.getElementById('r-rooms-0-length').value === '11 ft'")
    assert page.evaluate(chosen) == ["doors.txt"]  # another program's change takes nothing away
    page.select_option("form:has(#file) select", "addenda")
    page.focus("#r-rooms-0-length")
    page.keyboard.press("Control+A")
    page.keyboard.type("12 ft")
    page.evaluate(
        "() => document.querySelector('form:has(#file) button').click()"
    )  # at once, and nothing is left behind
    page.wait_for_selector("#p-documents .tabs >> text=doors.txt")
    assert run.job()["documents"]["addenda"] == ["doors.txt"]
    assert run.job()["rooms"][0]["length"] == "12 ft"
    assert not page.failed, page.failed  # type: ignore[attr-defined]
    page.context.close()


def test_the_same_by_keyboard_alone(browser: Browser, run: Run) -> None:
    page = opened(browser, run)

    to = partial(tab_to, page, most=150)

    to("input[name=name]")
    page.keyboard.type("Kiln shop")
    page.keyboard.press("Enter")
    page.wait_for_selector("#paste")
    to("#paste")
    page.keyboard.insert_text("Walls: one coat primer, two coats eggshell.\nProvide 3 hoops per bay.\n")
    to("form:has(#paste) button")
    page.keyboard.press("Enter")
    page.wait_for_selector("#reading .m")
    to("#new-name")
    for key, said in (
        ("name", "Kiln room"),
        ("length", "12 ft"),
        ("width", "10 ft"),
        ("height", "9 ft"),
        ("number", "1"),
    ):
        to(f"#new-{key}")
        page.keyboard.type(said)
    page.keyboard.press("Enter")
    page.wait_for_selector("#r-rooms-0-name")
    page.wait_for_selector("#p-order >> text=eggshell")
    page.evaluate("() => document.activeElement.blur()")
    page.keyboard.press("n")
    assert page.evaluate("() => document.activeElement.closest('#reading') !== null")
    page.keyboard.press("Enter")
    assert page.evaluate("() => document.activeElement.id") == "card-l"
    page.keyboard.type("Walls: three coats satin.")
    page.keyboard.press("Enter")
    page.wait_for_selector("ul.own >> text=Walls: three coats satin.")
    assert not page.failed, page.failed  # type: ignore[attr-defined]
    page.context.close()


def test_without_a_script_everything_is_done_by_forms(browser: Browser, run: Run) -> None:
    page = opened(browser, run, java_script_enabled=False)
    page.fill("input[name=name]", "Kiln shop")
    page.click("text=Begin")
    page.fill("#paste", "Walls: one coat primer, two coats eggshell.")
    page.click("form:has(#paste) button")
    page.fill("#new-name", "Kiln room")
    for key in ("length", "width", "height"):
        page.fill(f"#new-{key}", "10 ft")
    page.click("tr.new + tr button")
    page.fill("#r-rooms-0-height", "12 ft")
    page.click("#r-rooms-0 button")
    page.fill("#own-l", "Walls: nonsense.")
    page.click("form:has(#own-l) button")
    assert page.input_value("#own-l") == "Walls: nonsense."
    assert "was not written" in page.inner_text("#p-top")
    assert run.job()["rooms"] == [{"name": "Kiln room", "length": "10 ft", "width": "10 ft", "height": "12 ft"}]
    page.context.close()


@pytest.mark.parametrize(
    ("size", "scheme"),
    [((1400, 900), "light"), ((390, 844), "dark"), pytest.param((820, 1180), "light", marks=pytest.mark.slow)],
)
def test_every_view_is_accessible_and_fits_its_width(
    browser: Browser, run: Run, size: tuple[int, int], scheme: str
) -> None:
    from axe_playwright_python.sync_playwright import Axe

    loft(run.folder)
    (run.folder / "job.toml").write_text(
        f'{JOB}\n[letter]\nquestions = ["Who primes? [“Walls: one coat”]"]\n[bid]\ncurrency = "USD"\n', encoding="utf-8"
    )
    (run.folder / "finishes.txt").write_text(f"{SPEC}C. Send 3 copies.\n", encoding="utf-8")
    page = opened(browser, run, viewport={"width": size[0], "height": size[1]}, color_scheme=scheme, bypass_csp=True)
    for where in ("", "?document=finishes.txt&table=walls", "?document=job.toml&table=holds", "papers"):
        page.goto(run.address.partition("?")[0] + where)
        if where != "papers":
            page.wait_for_selector("#bid-lines", state="attached")
        for one in page.query_selector_all("details:not([open]) > summary"):
            one.evaluate("one => one.parentElement.open = true")
        for part in ("documents", "measures", "order", "points") if where != "papers" and size[0] < 700 else ("",):
            if part:
                page.click(f".jump a[data-part={part}]")
                assert page.is_visible(f"#p-{part}")
            found = Axe().run(page, options={"resultTypes": ["violations"]})  # whatever is sound need not be listed
            assert found.violations_count == 0, found.generate_report()
        assert page.evaluate("() => document.documentElement.scrollWidth") <= size[0]
    page.context.close()


def test_two_windows_see_each_other_and_neither_writes_over_the_other(browser: Browser, run: Run) -> None:
    loft(run.folder)
    page = opened(browser, run)
    other = page.context.new_page()
    other.set_default_timeout(120_000)
    other.goto(page.url)
    page.fill("#r-rooms-0-length", "21 ft")
    other.wait_for_function("() => document.getElementById('r-rooms-0-length').value === '21 ft'")
    other.fill("#r-rooms-0-width", "13 ft")
    page.wait_for_function("() => document.getElementById('r-rooms-0-width').value === '13 ft'")
    assert run.job()["rooms"][0] == {"name": "Stove room", "length": "21 ft", "width": "13 ft", "height": "8 ft"}
    (run.folder / "finishes.txt").write_text(SPEC.replace("two coats", "nine coats"), encoding="utf-8")
    page.wait_for_function("() => document.getElementById('reading').innerText.includes('nine coats')")
    page.context.close()


def test_a_hostile_document_runs_nothing_and_reaches_nothing(browser: Browser, run: Run) -> None:
    loft(run.folder)
    hostile = '<script>document.title="in"</script><img src="http://127.0.0.1:1/x" onerror="document.title=\'in\'">'
    (run.folder / "finishes.txt").write_text(f"{hostile}\nWalls: two coats eggshell.\n", encoding="utf-8")
    page = opened(browser, run)
    asked: list[str] = []
    page.on("request", lambda r: asked.append(r.url))
    for where in ("?document=finishes.txt", "paper/html", "paper/letter.html"):
        page.goto(run.address.partition("?")[0] + where)
        assert page.title() != "in"
    assert all(url.startswith(run.address.partition("?")[0]) for url in asked), asked
    page.context.close()


@pytest.mark.slow
def test_a_thousand_rooms_are_shown_and_changed(browser: Browser, run: Run) -> None:
    rooms = "".join(
        f'[[rooms]]\nname = "Room {n}"\nlength = "12 ft"\nwidth = "10 ft"\nheight = "9 ft"\n\n' for n in range(1000)
    )
    loft(run.folder)
    (run.folder / "job.toml").write_text(
        f'name = "x"\nunits = "us"\n[documents]\nspecification = ["finishes.txt"]\n{rooms}', encoding="utf-8"
    )
    page = opened(browser, run)
    took = page.evaluate("() => performance.timing.domContentLoadedEventEnd - performance.timing.navigationStart")
    page.fill("#find", "Room 500")
    page.press("#find", "Enter")
    page.wait_for_selector("#r-rooms-500-length")
    start = page.evaluate("() => performance.now()")
    page.fill("#r-rooms-500-length", "40 ft")
    page.wait_for_selector("li.moved")
    print(f"1,000 rooms: first view {took} ms, a change {page.evaluate('() => performance.now()') - start:.0f} ms")
    page.context.close()


@pytest.mark.parametrize("tries", [3, pytest.param(20, marks=pytest.mark.slow)])
def test_killed_at_any_moment_it_leaves_a_whole_job_with_every_change_that_was_answered(
    tmp_path: Path, tries: int
) -> None:
    import http.client
    from random import Random
    from threading import Timer
    from urllib.parse import urlencode

    random = Random(7)
    loft(tmp_path)
    text = (tmp_path / "job.toml").read_text(encoding="utf-8")
    for _ in range(tries):
        run = Run(tmp_path)
        home, _, query = run.address.partition("/?")
        host = home.removeprefix("http://")
        web = http.client.HTTPConnection(host, timeout=120)
        web.request("GET", f"/?{query}")
        first = web.getresponse()
        first.read()
        cookie = first.headers["set-cookie"].partition(";")[0]
        web.request("GET", "/", headers={"cookie": cookie})
        key = re.search(r'data-key="([^"]+)"', web.getresponse().read().decode())
        assert key is not None
        heads = {"cookie": cookie, "origin": home, "content-type": "application/x-www-form-urlencoded", "x-panes": "1"}
        timer = Timer(random.uniform(0.05, 1.2), run.process.kill)
        timer.start()
        answered = 0
        try:
            for number in range(1000):
                fields = {"key": key[1], "table": "doors", "name": f"door {number}", "width": "3 ft", "height": "7 ft"}
                web.request("POST", "/do/row-new", urlencode(fields), {**heads, "sec-fetch-site": "same-origin"})
                answer = web.getresponse()
                assert answer.status == 200
                answer.read()
                answered = number + 1
        except (OSError, http.client.HTTPException):
            pass
        finally:
            web.close()
        timer.join()
        run.end(signal.SIGKILL)
        there = tomllib.loads((tmp_path / "job.toml").read_text(encoding="utf-8")).get("doors", [])
        assert [row["name"] for row in there] == [f"door {n}" for n in range(len(there))]
        assert answered <= len(there) <= answered + 1
        (tmp_path / "job.toml").write_text(text, encoding="utf-8")
    left = [name for name in os.listdir(tmp_path) if name not in ("job.toml", "finishes.txt")]
    assert all(name.endswith(".part") for name in left), left


def test_what_cannot_be_a_desk_is_said(tmp_path: Path) -> None:
    for name in ("nowhere", "nowhere/job.toml", "spec.txt"):
        done = subprocess.run(
            [sys.executable, str(DARBY), "desk", str(tmp_path / name), "--no-browser"],
            capture_output=True,
            text=True,
            check=False,
        )
        assert done.returncode == 2
        assert "no folder and no job file" in done.stderr
