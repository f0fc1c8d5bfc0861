"""What comes late, twice, never or out of order at the desk: each order of events is forced, and nothing of hers is lost or written unseen."""

from __future__ import annotations

import signal
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from desk_runs import Held, Run, opened
from desks import JOB, SPEC, loft

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

TWO = JOB + '\n[[rooms]]\nname = "Net store"\nlength = "12 ft"\nwidth = "9 ft"\nheight = "8 ft"\n'
FIRST = JOB[JOB.index("# ground floor") : JOB.index("[[walls]]")]
LENGTH, WIDTH = "#r-rooms-0-length", "#r-rooms-0-width"


@pytest.fixture
def run(tmp_path: Path) -> Iterator[Run]:
    running = Run(loft(tmp_path))
    yield running
    running.end(signal.SIGKILL)


def write(run: Run, name: str, text: str) -> None:
    """Another program saves a file of the job."""
    (run.folder / name).write_text(text, encoding="utf-8")


def told(page: Page, words: str) -> None:
    page.wait_for_function("words => document.getElementById('said').textContent.includes(words)", arg=words)


def sound(page: Page) -> None:
    assert not page.failed, page.failed  # type: ignore[attr-defined]


def focus(page: Page) -> Any:
    return page.evaluate("() => document.activeElement.id || document.activeElement.tagName")


def test_a_page_that_was_looked_at_before_a_deed_and_comes_after_it_is_not_shown(browser: Browser, run: Run) -> None:
    page = opened(browser, run)
    old = Held(page, r"/\?")
    write(run, "finishes.txt", SPEC.replace("two coats", "nine coats"))
    old.wait()
    page.fill(LENGTH, "31 ft")
    page.evaluate("() => document.activeElement.blur()")
    told(page, "was written")
    page.route("**/state", lambda route: None)  # nothing mends it afterwards
    old.give()
    page.wait_for_timeout(300)
    assert page.input_value(LENGTH) == "31 ft"
    assert "was written" in page.inner_text("#said")
    assert "nine coats" in page.inner_text("#reading")
    sound(page)


def test_what_is_typed_into_a_row_goes_with_its_row_when_the_one_above_is_taken_out(browser: Browser, run: Run) -> None:
    write(run, "job.toml", TWO)
    page = opened(browser, run)
    late = Held(page, "/do/row-remove")
    page.click("button[aria-label='Take Stove room out']")
    late.wait()
    page.fill("#r-rooms-1-width", "13 ft")
    page.wait_for_timeout(500)  # sent, and behind what is not answered yet
    late.give()
    told(page, "Net store was written")
    assert run.job()["rooms"] == [{"name": "Net store", "length": "12 ft", "width": "13 ft", "height": "8 ft"}]
    assert page.input_value(WIDTH) == "13 ft"
    assert focus(page) == "r-rooms-0-width"
    sound(page)


def test_a_row_that_is_stood_in_keeps_the_focus_when_another_program_takes_the_one_above_out(
    browser: Browser, run: Run
) -> None:
    write(run, "job.toml", TWO)
    page = opened(browser, run)
    page.focus("#r-rooms-1-width")
    page.keyboard.press("End")
    page.keyboard.press("ArrowLeft")
    write(run, "job.toml", TWO.replace(FIRST, ""))
    page.wait_for_function("() => document.querySelectorAll('form[data-live=row]').length === 1")
    assert focus(page) == "r-rooms-0-width"
    page.wait_for_function("() => document.activeElement.selectionStart === 3")
    page.keyboard.press("ArrowLeft")
    page.keyboard.press("ArrowLeft")
    page.keyboard.type("1")
    told(page, "Net store was written")
    assert run.job()["rooms"] == [{"name": "Net store", "length": "12 ft", "width": "91 ft", "height": "8 ft"}]
    sound(page)


@pytest.mark.parametrize("hers", [True, False])
def test_two_who_type_into_one_cell_are_told_and_she_chooses(browser: Browser, run: Run, hers: bool) -> None:
    page = opened(browser, run)
    page.route("**/do/row", lambda route: (write(run, "job.toml", JOB.replace('"8 ft"\nh', '"15 ft"\nh')), route.continue_()), times=1)  # fmt: skip
    page.fill(WIDTH, "13 ft")
    page.wait_for_selector("text=Changed elsewhere meanwhile: width 15 ft.")
    assert run.job()["rooms"][0]["width"] == "15 ft"
    assert page.input_value(WIDTH) == "13 ft"
    page.focus(LENGTH)
    page.wait_for_timeout(700)  # leaving the field writes nothing
    assert run.job()["rooms"][0]["width"] == "15 ft"
    page.focus(WIDTH)
    page.keyboard.press("Enter" if hers else "Escape")
    if hers:
        told(page, "Stove room was written")
    assert run.job()["rooms"][0]["width"] == ("13 ft" if hers else "15 ft")
    assert page.input_value(WIDTH) == ("13 ft" if hers else "15 ft")
    with page.expect_response("**/do/row"):
        page.fill(LENGTH, "21 ft")
    page.wait_for_function("() => !document.querySelector('[aria-invalid]')")
    assert run.job()["rooms"][0]["length"] == "21 ft"
    sound(page)


def test_a_text_that_is_typed_on_is_not_written_over_what_another_program_saved(browser: Browser, run: Run) -> None:
    page = opened(browser, run)
    page.click("#edit > summary")
    page.fill("#text", SPEC.replace("eggshell", "satin"))
    theirs = SPEC.replace("two coats", "nine coats")
    write(run, "finishes.txt", theirs)
    told(page, "A file of the job has changed")
    page.click("form:has(#text) button")
    told(page, "has been changed since")
    assert (run.folder / "finishes.txt").read_text(encoding="utf-8") == theirs
    assert "satin" in page.input_value("#text")
    sound(page)


def test_a_text_that_is_only_looked_at_is_shown_as_it_is_now(browser: Browser, run: Run) -> None:
    page = opened(browser, run)
    page.click("#edit > summary")
    page.focus("#text")
    theirs = SPEC.replace("two coats", "nine coats")
    write(run, "finishes.txt", theirs)
    page.wait_for_function("() => document.getElementById('text').value.includes('nine coats')")
    page.keyboard.press("Control+End")
    page.keyboard.type("C. Doors: two coats gloss.\n")
    page.click("form:has(#text) button")
    told(page, "finishes.txt was written")
    assert (run.folder / "finishes.txt").read_text(encoding="utf-8") == f"{theirs}C. Doors: two coats gloss.\n"
    sound(page)


def test_a_text_is_typed_on_and_written_again_before_the_first_was_answered(browser: Browser, run: Run) -> None:
    page = opened(browser, run)
    page.click("#edit > summary")
    late = Held(page, "/do/text")
    page.fill("#text", SPEC + "C. Doors: two coats gloss.\n")
    page.click("form:has(#text) button")
    late.wait()
    page.focus("#text")
    page.keyboard.press("Control+End")
    page.keyboard.type("D. Trim: two coats gloss.\n")
    page.click("form:has(#text) button")
    late.give()
    page.wait_for_function("() => document.getElementById('reading').innerText.includes('Trim')")
    text = (run.folder / "finishes.txt").read_text(encoding="utf-8")
    assert text == SPEC + "C. Doors: two coats gloss.\nD. Trim: two coats gloss.\n"
    told(page, "finishes.txt was written")
    sound(page)


def test_a_button_pressed_twice_does_its_deed_once(browser: Browser, run: Run) -> None:
    page = opened(browser, run)
    late = Held(page, "/do/paste")
    page.click("#add > summary")
    page.fill("#paste", "Leave 1 gallon of each color with the owner.")
    page.dblclick("form:has(#paste) button")
    late.give()
    told(page, "was put beside the job")
    page.wait_for_timeout(500)
    assert run.job()["documents"] == {"specification": ["finishes.txt", "specification.txt"]}
    sound(page)


def test_undo_pressed_twice_takes_two_changes_back(browser: Browser, run: Run) -> None:
    page = opened(browser, run)
    for length in ("21 ft", "22 ft"):
        page.fill(LENGTH, length)
        page.wait_for_function("() => !document.body.classList.contains('working')")
        page.wait_for_timeout(600)
    assert run.job()["rooms"][0]["length"] == "22 ft"
    late = Held(page, "/do/undo")
    page.dblclick("text=Undo")
    late.give()
    page.wait_for_function("() => document.getElementById('r-rooms-0-length').value === '10 ft'")
    assert run.job()["rooms"][0]["length"] == "10 ft"
    sound(page)


def test_the_next_row_is_typed_while_the_last_is_not_answered(browser: Browser, run: Run) -> None:
    page = opened(browser, run)
    late = Held(page, "/do/row-new")
    for key, said in (("name", "Oil store"), ("length", "9 ft"), ("width", "8 ft"), ("height", "7 ft")):
        page.fill(f"#new-{key}", said)
    page.keyboard.press("Enter")
    page.keyboard.press("Enter")
    late.wait()
    page.fill("#new-name", "Sail loft")
    page.fill("#new-length", "30 ft")
    late.give()
    told(page, "Oil store was put into rooms")
    page.keyboard.press("End")
    page.keyboard.type(" 6 in")
    assert focus(page) == "new-length"
    assert page.input_value("#new-name") == "Sail loft"
    assert page.input_value("#new-length") == "30 ft 6 in"
    assert page.input_value("#new-height") == ""
    assert [room["name"] for room in run.job()["rooms"]] == ["Stove room", "Oil store"]
    sound(page)


def test_a_line_is_told_as_it_stands_and_not_as_it_stood(browser: Browser, run: Run) -> None:
    page = opened(browser, run)
    late = Held(page, "/check")
    page.fill("#own-l", "Walls: two coats eggshell.")
    late.wait()
    page.fill("#own-l", "Walls: four coats eggshell.")
    page.wait_for_function("() => document.getElementById('own-h').textContent.includes('4 coats')")
    late.give()
    page.wait_for_timeout(300)
    assert "4 coats" in page.inner_text("#own-h")
    sound(page)


def test_two_lines_typed_one_after_the_other_are_both_told(browser: Browser, run: Run) -> None:
    page = opened(browser, run)
    other = page.locator("#p-points input[data-check]").first
    other.fill("Walls: two coats eggshell.")
    page.fill("#own-l", "Walls: four coats eggshell.")
    page.wait_for_function("() => document.getElementById('own-h').textContent.includes('4 coats')")
    heard = page.locator(f"[id='{other.get_attribute('aria-describedby')}']")
    assert "2 coats" in heard.inner_text()
    sound(page)


def test_a_line_that_waited_behind_another_leaves_its_field_when_it_is_written(browser: Browser, run: Run) -> None:
    page = opened(browser, run)
    late = Held(page, "/do/line-remove")
    page.click("ul.own button")
    late.wait()
    page.fill("#own-l", "Walls: three coats eggshell.")
    page.keyboard.press("Enter")
    late.give()
    page.wait_for_selector("ul.own >> text=Walls: three coats eggshell.")
    assert page.input_value("#own-l") == ""
    sound(page)


def test_a_working_that_was_not_answered_is_asked_for_again(browser: Browser, run: Run) -> None:
    page = opened(browser, run)
    page.route("**/working?*", lambda route: route.abort(), times=2)
    page.click("#p-order .items summary >> nth=0")
    page.wait_for_selector("#p-order .steps >> text=order")


def test_a_working_is_never_shown_under_another_state_of_its_line(browser: Browser, run: Run) -> None:
    page = opened(browser, run)
    late = Held(page, "/state")
    write(run, "job.toml", JOB.replace('"10 ft"', '"60 ft"'))
    before = page.inner_text("#p-order .items .count >> nth=0")
    late.wait()
    worked = Held(page, r"/working\?")
    page.click("#p-order .items summary >> nth=0")
    worked.give()
    page.wait_for_timeout(300)
    assert page.inner_text("#p-order .items .count >> nth=0") == before
    assert page.locator("#p-order .steps").count() == 0
    late.give()
    page.wait_for_selector("#p-order .steps >> text=60 ft")
    assert page.inner_text("#p-order .items .count >> nth=0") != before
    sound(page)


def test_a_line_that_is_unfolded_stays_so_and_no_other_when_lines_come_before_it(browser: Browser, run: Run) -> None:
    page = opened(browser, run)
    lines = page.locator("#p-order .items > li")
    last = lines.count() - 1
    name = lines.nth(last).locator(".what").inner_text()
    lines.nth(last).locator("summary").click()
    page.wait_for_selector("#p-order .steps")
    write(run, "finishes.txt", f"{SPEC}C. Leave 1 gallon of eggshell finish paint with the owner.\n")
    page.wait_for_function("n => document.querySelectorAll('#p-order .items > li').length > n", arg=last + 1)
    page.wait_for_selector("#p-order .steps")
    unfolded = page.locator("#p-order .items > li:has(> details[open]) .what").all_inner_texts()
    assert unfolded == [name]
    sound(page)


@pytest.mark.parametrize("button", ["Take Stove room out", "Undo"])
def test_a_button_that_is_gone_leaves_the_focus_in_its_pane(browser: Browser, run: Run, button: str) -> None:
    write(run, "job.toml", TWO)
    page = opened(browser, run)
    page.fill(LENGTH, "11 ft")
    told(page, "was written")
    one = page.get_by_role("button", name=button, exact=True)
    where = one.evaluate("one => one.closest('[data-pane]').dataset.pane")
    one.focus()
    page.keyboard.press("Enter")
    told(page, "taken out" if button != "Undo" else "Taken back")
    assert page.evaluate("() => document.activeElement.closest('[data-pane]').dataset.pane") == where
    sound(page)


def test_a_press_whose_release_is_never_told_holds_nothing_up(browser: Browser, run: Run) -> None:
    page = opened(browser, run)
    page.hover("#p-order h2")
    page.mouse.down(button="right")
    page.focus(LENGTH)
    page.keyboard.type("1")
    told(page, "was written")
    page.mouse.up(button="right")
    page.evaluate("() => dispatchEvent(new PointerEvent('pointerdown', { button: 0, buttons: 1 }))")  # on a scroll bar
    page.keyboard.type("2")
    page.wait_for_function("() => document.querySelectorAll('li.moved').length > 0")
    sound(page)


def test_what_was_typed_is_written_before_another_page_is_opened(browser: Browser, run: Run) -> None:
    page = opened(browser, run)
    asked: list[str] = []
    page.on("dialog", lambda dialog: (asked.append(dialog.type), dialog.accept()))
    late = Held(page, "/do/row")
    page.focus(LENGTH)
    page.keyboard.press("Control+A")
    page.keyboard.type("31 ft")
    page.click("#p-measures .tabs a >> text=Walls")
    late.give()
    page.wait_for_selector("#r-walls-0-length")
    assert run.job()["rooms"][0]["length"] == "31 ft"
    assert not asked
    sound(page)


def test_a_desk_that_did_not_answer_for_a_while_gets_what_was_typed_meanwhile(browser: Browser, run: Run) -> None:
    page = opened(browser, run)
    page.route("**/state", lambda route: route.abort())
    page.wait_for_selector("#lost >> text=does not answer")
    page.route("**/do/row", lambda route: route.abort())
    page.fill(LENGTH, "31 ft")
    page.wait_for_timeout(700)
    assert run.job()["rooms"][0]["length"] == "10 ft"
    page.unroute("**/do/row")
    page.unroute("**/state")
    told(page, "Stove room was written")
    assert run.job()["rooms"][0]["length"] == "31 ft"
    assert page.locator("#lost").count() == 0


def test_a_card_shows_the_clause_of_its_own_mark_and_stays_while_other_files_change(browser: Browser, run: Run) -> None:
    page = opened(browser, run)
    late = Held(page, r"/clause\?")
    marks = page.locator("#reading .m.used")
    marks.filter(has_text="two coats").first.click()
    late.wait()
    marks.filter(has_text="1/2 in").first.click()
    page.wait_for_function("() => document.getElementById('card-c').textContent.includes('Gypsum board')")
    late.give()
    page.wait_for_timeout(300)
    assert "Gypsum board" in page.input_value("#card-w")
    assert "coats" not in page.inner_text("#card-c")
    write(run, "job.toml", JOB.replace('"10 ft"', '"60 ft"'))
    told(page, "A file of the job has changed")
    page.wait_for_function("() => document.getElementById('card-c').textContent.includes('Gypsum board')")
    assert page.is_visible("#card")
    sound(page)


def test_a_bid_is_of_the_order_beside_it_and_stays_unfolded(browser: Browser, run: Run) -> None:
    terms = '\n[bid]\ncurrency = "USD"\nprices = ["prices.csv"]\n'
    write(
        run,
        "prices.csv",
        'product,package,price,supplier\n"gypsum board, 1/2 in, 4 ft x 8 ft",sheet,13.00,Quay supply\n',
    )
    write(run, "job.toml", JOB + terms)
    page = opened(browser, run)
    page.click("#bid-lines summary")
    price = "() => document.querySelector('#bid .money').textContent"
    first = page.evaluate(price)
    late = Held(page, r"/bid\?")
    page.fill(LENGTH, "20 ft")
    late.wait()
    assert page.locator("#bid .money").count() == 0  # never the price of another order
    page.fill(LENGTH, "40 ft")
    told(page, "was written")
    page.wait_for_function(
        "first => { const one = document.querySelector('#bid .money'); return one && one.textContent !== first; }",
        arg=first,
    )
    page.wait_for_function("() => document.querySelectorAll('li.moved').length > 0")
    late.give()
    page.wait_for_timeout(300)
    assert page.locator("#bid-lines[open]").count() == 1
    sheets = page.inner_text("#bid-lines tr:has-text('gypsum board')").split()
    ordered = page.inner_text("#p-order .items li:has-text('gypsum board') .count").split()
    assert ordered[0] in sheets
    assert run.job()["rooms"][0]["length"] == "40 ft"
    sound(page)


def test_a_list_is_looked_at_as_it_stands_and_not_as_it_stood(browser: Browser, run: Run) -> None:
    page = opened(browser, run)
    page.click("#add-list > summary")
    late = Held(page, "/preview")
    page.fill("#list", "Rm\tL\tW\tClg ht\nOil store\t12 ft\t9 ft\t8 ft\n")
    late.wait()
    page.fill("#list", "Rm\tL\tW\tClg ht\nOil store\t12 ft\t9 ft\t8 ft\nSail loft\t12 ft\t9 ft\t8 ft\n")
    page.wait_for_selector("#list-as >> text=Taken for 2 rooms.")
    late.give()
    page.wait_for_timeout(300)
    assert "Taken for 2 rooms." in page.inner_text("#list-as")
    write(run, "job.toml", TWO)
    page.wait_for_selector("#r-rooms-1-name", state="attached")
    page.wait_for_selector("#list-as >> text=Taken for 2 rooms.")
    assert "schedules" not in run.job()
    page.click("form:has(#list) button:has-text('Add it')")
    told(page, "2 rows")
    assert [row["name"] for row in run.job()["rooms"]][-2:] == ["Oil store", "Sail loft"]
    assert page.input_value("#list") == ""
    assert not page.inner_text("#list-as")
    sound(page)


def test_a_line_is_completed_from_the_words_and_the_rooms_as_they_are_now(browser: Browser, run: Run) -> None:
    page = opened(browser, run)
    late = Held(page, "/words")
    options = "() => [...document.querySelectorAll('#words option')].map((one) => one.value)"
    page.focus("#own-l")
    page.keyboard.type("Ceil")
    late.wait()
    page.keyboard.type("ings: two coats of fini")
    late.give()
    page.wait_for_function("() => document.querySelectorAll('#words option').length > 0")
    assert "Ceilings: two coats of finish paint" in page.evaluate(options)
    assert all(one.startswith("Ceilings: two coats of fini") for one in page.evaluate(options))
    write(run, "job.toml", TWO)
    told(page, "A file of the job has changed")
    page.fill("#own-l", "net st")
    page.wait_for_function(
        "() => [...document.querySelectorAll('#words option')].some((one) => one.value === 'net store')"
    )
    page.fill("#own-l", "Walls: three coats egg")
    page.wait_for_function(
        "() => [...document.querySelectorAll('#words option')].some((one) => one.value === 'Walls: three coats eggshell')"
    )
    page.keyboard.type("shell.")
    page.wait_for_selector("text=Reads: finish paint, eggshell, wall: 3 coats")
    assert page.evaluate(options) == []
    sound(page)
