"""The page, opened in a real browser: complete, linked both ways, usable by keyboard, accessible, the same on paper."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

import desk
import handed
from darby.documents.words import harmless
from darby.estimate.working import working
from darby.rules.rule import SPECIFICATION

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page
SIZES = {"desktop": (1400, 900), "tablet": (820, 1180), "phone": (390, 844)}


@pytest.fixture
def open_page(browser: Browser, tmp_path: Path) -> Iterator[Any]:
    """Opens a page from a file of its own, and holds that it asked for nothing else and that no script failed."""
    pages: list[Page] = []
    asked: list[str] = []
    failed: list[str] = []

    def opened(html: str, size: str = "desktop", **how: Any) -> Page:
        file = tmp_path / f"page{len(pages)}.html"
        file.write_text(html, encoding="utf-8")
        width, height = SIZES[size]
        page = browser.new_page(viewport={"width": width, "height": height}, reduced_motion="reduce", **how)
        page.set_default_timeout(300_000)
        page.on("request", lambda r: asked.append(r.url))
        page.on("pageerror", lambda e: failed.append(str(e)))
        page.on("console", lambda m: failed.append(m.text))
        page.goto(file.as_uri())
        pages.append(page)
        return page

    yield opened
    for page in pages:
        page.close()
    assert not [u for u in asked if not u.startswith("file:")]
    assert len(asked) == len(pages)
    assert not failed


class Outline(HTMLParser):
    """Every tag of a page with its attributes."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))


def tags_of(html: str) -> list[tuple[str, dict[str, str | None]]]:
    outline = Outline()
    outline.feed(html)
    return outline.tags


def words(text: str) -> str:
    return " ".join(text.split())


def test_the_page_is_one_file_that_names_no_other() -> None:
    tags = tags_of(handed.text("html"))
    assert not [t for t in tags if t[0] in {"link", "img", "iframe", "object", "embed", "base", "form"}]
    assert not [t for t in tags if "src" in t[1] or not (t[1].get("href") or "#").startswith("#")]
    assert not re.search(r"https?:|url\(|@import", handed.text("html"))


def test_its_policy_lets_in_nothing_but_its_own_style_and_script() -> None:
    (policy,) = (
        a["content"] for t, a in tags_of(handed.text("html")) if a.get("http-equiv") == "Content-Security-Policy"
    )
    assert policy is not None
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    assert not [t for t in tags_of(handed.text("html")) if "style" in t[1] or any(k.startswith("on") for k in t[1])]


def test_every_link_leads_somewhere_and_every_name_is_given_once() -> None:
    tags = tags_of(handed.text("html"))
    names = [a["id"] for _, a in tags if "id" in a]
    assert len(names) == len(set(names))
    targets = {a["href"][1:] for _, a in tags if a.get("href")}  # type: ignore[index]
    assert targets <= set(names)
    assert {n for _, a in tags for n in (a.get("data-at") or "").split()} <= set(names)


def test_equal_estimates_give_equal_pages() -> None:
    assert handed.text("html") == handed.text("html")


def test_the_order_list_on_the_screen_is_that_of_the_json(open_page: Any) -> None:
    page = open_page(handed.text("html"))
    shown = [words(s) for s in page.locator(".items summary").all_inner_texts()]
    items = handed.demo_json()["items"]
    assert len(shown) == len(items)
    for text, item in zip(shown, items, strict=True):
        assert item["product"] in text
        assert f"{item['order']['count']:,} {item['order']['container']}" in text


@pytest.mark.parametrize("size", SIZES)
def test_how_many_pails_and_why_is_on_the_screen_within_two_actions(open_page: Any, size: str) -> None:
    page = open_page(handed.text("html"), size)
    (compound,) = (i for i in handed.demo_json()["items"] if i["product"] == "joint compound")
    line = page.locator(".items > li:has(.what b:text-is('joint compound'))")
    line.locator("summary").click()
    why = line.locator("tr.last")
    why.scroll_into_view_if_needed()
    assert why.is_visible()
    assert f"{compound['order']['count']} pails" in words(why.inner_text())
    assert [words(t) for t in line.locator("tbody td:nth-child(2)").all_inner_texts()][-1] in words(
        compound["working"][-1]["text"]
    )
    assert "13 lb per 100 sq ft" in words(line.inner_text())


def from_the_specification() -> tuple[int, str, str]:
    """A line of the demo, a number in it that a clause of the specification gives, and the words of that clause."""
    for number, item in enumerate(handed.demo().items, 1):
        for line in working(item, handed.demo().rules):
            if line.rule is not None and line.rule.layer == SPECIFICATION and line.rule.per is not None:
                return number, line.made, words(line.rule.span.text)
    raise AssertionError("the demo has no rate of the specification")


def test_hovering_a_number_shows_its_clause_and_the_clause_its_numbers(open_page: Any) -> None:
    number, made_of, clause = from_the_specification()
    page = open_page(handed.text("html"))
    line = page.locator(f"#i{number}")
    line.locator("summary").click()
    line.locator("a.num", has_text=made_of).first.hover()
    mark = page.locator("#papers .m.lit").first
    assert clause in words(mark.inner_text())
    box, panel = mark.bounding_box(), page.locator("#papers").bounding_box()
    assert panel["y"] <= box["y"] <= panel["y"] + panel["height"] - box["height"]
    assert made_of in page.locator(".tip").inner_text()
    page.mouse.move(2, 2)
    assert page.locator(".lit").count() == 0
    mark = page.locator("#papers .m", has_text=clause).first
    mark.hover()
    assert line.locator("tr.lit", has_text=made_of).count() >= 1
    assert handed.demo().items[number - 1].product in page.locator(".tip").inner_text()


def test_the_keyboard_alone_opens_a_line_and_follows_a_number_there_and_back(open_page: Any) -> None:
    page = open_page(handed.text("html"))
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.className") == "skip"
    for _ in range(20):  # past the links of what is open, and the field that filters
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.tagName") == "SUMMARY":
            break
    page.keyboard.press("Enter")
    assert page.locator("#i1 details").get_attribute("open") is not None
    for _ in range(60):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.className") == "num":
            break
    came_from = page.evaluate("document.activeElement.closest('tr').id")
    assert page.locator(".lit").count() >= 2
    page.keyboard.press("Enter")
    page.locator("#papers [data-mark]:focus").wait_for(state="attached")
    page.keyboard.press("Enter")
    page.locator("main tr:focus").wait_for(state="attached")
    assert page.evaluate("document.activeElement.id").startswith("i")
    assert came_from.startswith("i1-")


def test_a_link_opens_a_closed_document_and_line(open_page: Any) -> None:
    page = open_page(handed.text("html"), "phone")
    assert not page.locator("#i2 .steps").is_visible()
    page.evaluate("location.hash = document.querySelector('#i2 tbody tr').id")
    page.locator("#i2 details[open]").first.wait_for(state="attached")
    assert page.locator("#i2 .steps").is_visible()


@pytest.mark.parametrize("size", SIZES)
def test_nothing_sticks_out_sideways(open_page: Any, size: str) -> None:
    page = open_page(handed.text("html"), size)
    page.get_by_role("button", name="Open all working").click()
    assert page.evaluate("document.documentElement.scrollWidth") <= SIZES[size][0]


@pytest.mark.parametrize(
    ("name", "size", "scheme"),
    [
        ("html", "desktop", "light"),
        ("html", "phone", "dark"),
        ("letter.html", "desktop", "dark"),
        ("order.html", "phone", "light"),
        ("scope.html", "desktop", "light"),
    ],
)
def test_axe_finds_nothing_to_mend(open_page: Any, name: str, size: str, scheme: str) -> None:
    import axe_playwright_python

    rules = (Path(axe_playwright_python.__file__).parent / "axe.min.js").read_text(encoding="utf-8")
    page = open_page(handed.text(name), size, color_scheme=scheme, bypass_csp=True)
    page.evaluate("for (const one of document.querySelectorAll('details')) one.open = true")
    page.evaluate(rules)
    found = page.evaluate(
        "axe.run({ resultTypes: ['violations'] }).then(r => r.violations.map(v => [v.id, v.nodes.map(n => n.failureSummary + n.html)]))"
    )
    assert found == [], json.dumps(found, indent=1)[:4000]


def test_what_is_not_read_and_what_is_asked_can_be_told_without_colour(open_page: Any) -> None:
    page = open_page(handed.text("html"))
    style = (
        "e => { const s = getComputedStyle(e, null); return [s.outlineStyle, getComputedStyle(e, '::after').content] }"
    )
    assert page.locator(".text .m.unread").first.evaluate(style)[0] == "dashed"
    assert page.locator(".text .m.asked").first.evaluate(style)[1] == '"?"'


def test_dark_and_light_differ_and_paper_is_white(open_page: Any) -> None:
    colour = "getComputedStyle(document.body).backgroundColor"
    light, dark = (open_page(handed.text("html"), color_scheme=s).evaluate(colour) for s in ("light", "dark"))
    page = open_page(handed.text("html"), color_scheme="dark")
    page.emulate_media(media="print", color_scheme="dark")
    assert len({light, dark}) == 2
    assert page.evaluate(colour) == "rgb(255, 255, 255)"


def test_on_paper_what_is_open_and_the_order_fill_few_pages(open_page: Any) -> None:
    page = open_page(handed.text("html"))
    page.locator("#i2 summary").click()
    page.emulate_media(media="print")
    assert page.locator(".onpaper").is_visible()
    assert page.locator(".steps:visible").count() == 1  # the lines that are open, and no other
    assert not page.locator("#papers").is_visible()
    page.set_viewport_size({"width": 460, "height": 700})  # a number of two digits stays on one line
    lines = "cell => { const all = document.createRange(); all.selectNodeContents(cell); return all.getClientRects().length }"
    assert page.locator(".onpaper tr:last-child td:first-child").last.evaluate(lines) == 1
    printed = page.pdf(format="Letter")
    assert 1 <= len(re.findall(rb"/Type\s*/Page[^s]", printed)) <= 6


def test_what_is_open_stands_above_the_order_with_its_count(open_page: Any) -> None:
    page = open_page(handed.text("html"))
    assert page.locator(".open").inner_text() == "Open: 1 number not read, 1 conflict, 1 question."
    tops = [
        page.locator(name).bounding_box()["y"]
        for name in (".open", "#h-unread", "#h-order", "#h-two", "#h-open", "#h-care")
    ]
    assert tops == sorted(tops)
    assert "checksum" in page.locator(".inputs").inner_text()


def test_keys_go_from_one_open_point_to_the_next_and_back(open_page: Any) -> None:
    page = open_page(handed.text("html"))
    many = page.locator(".point").count()
    assert many == 3
    seen = []
    for key in "nnnnp":
        page.keyboard.press(key)
        seen.append(page.evaluate("[...document.querySelectorAll('.point')].indexOf(document.activeElement)"))
    assert seen == [0, 1, 2, 0, 2]


def test_typed_words_leave_only_the_lines_that_hold_them(open_page: Any) -> None:
    page = open_page(handed.text("html"))
    lines = page.locator(".items > li:visible")
    every = lines.count()
    page.locator(".filter").fill("corner bead")
    assert lines.count() == 1
    assert "corner bead" in lines.first.inner_text()
    page.keyboard.press("n")  # typed into the field, no key of the page
    assert page.locator(".filter").input_value().endswith("n")
    page.locator(".filter").fill("")
    assert lines.count() == every


def test_the_rows_of_a_room_are_folded_below_their_sum_where_there_are_many(open_page: Any) -> None:
    room = "[[rooms]]\nname = 'Room {n}'\nlength = '10 ft'\nwidth = '10 ft'\nheight = '8 ft'\n"
    many = desk.estimated("\n".join(room.format(n=n) for n in range(20)), "Walls: one coat primer.\n", "us")
    page = open_page(handed.text("html", many))
    page.locator(".items summary", has_text="primer").click()
    first = page.locator("details[open] tbody.room", has_text="Room 3").first
    assert "4 rows = 320 sq ft" in first.inner_text()
    wall = page.locator("details[open] tbody.rows th", has_text="Room 3 wall 2")
    assert not wall.is_visible()
    first.locator("button").press("Enter")
    assert wall.is_visible()
    assert first.locator("button").get_attribute("aria-expanded") == "true"


def test_very_many_rooms_are_laid_out_when_they_are_opened_and_lead_to_their_measures(open_page: Any) -> None:
    room = "[[rooms]]\nname = 'Room {n}'\nlength = '{n} ft'\nwidth = '10 ft'\nheight = '8 ft'\n"
    many = desk.estimated("\n".join(room.format(n=n + 7) for n in range(200)), "Walls: one coat primer.\n", "us")
    page = open_page(handed.text("html", many))
    page.locator(".items summary", has_text="primer").click()
    page.locator("details[open] .all-rooms button").first.press("Enter")
    shown = page.locator("details[open] tbody.room", has_text="Room 33").first
    assert "4 rows = 688 sq ft" in shown.inner_text()
    shown.locator("button").press("Enter")
    wall = page.locator("details[open] tr", has_text="Room 33 wall 2").first
    assert "80 sq ft" in wall.inner_text()
    wall.locator("a.to").first.press("Enter")
    page.wait_for_selector(".paper[open] .m.lit, .paper[open] .m:focus")
    assert page.evaluate("document.activeElement.dataset.mark")
    page.locator("details[open] .all-rooms button").first.press("Enter")
    assert not shown.is_visible()


def many_rooms() -> str:
    room = "[[rooms]]\nname = 'Room {n}'\nlength = '{n} ft'\nwidth = '10 ft'\nheight = '8 ft'\n"
    spec = "Walls: one coat primer.\nCeilings: two coats flat finish paint.\n"
    return handed.text("html", desk.estimated("\n".join(room.format(n=n + 7) for n in range(200)), spec, "us"))


def test_words_are_found_in_rows_that_are_not_laid_out(open_page: Any) -> None:
    page = open_page(many_rooms())
    page.locator("input.filter").fill("room 133 wall")
    page.wait_for_selector(".items > li.gone", state="attached")
    assert page.locator(".items > li:not(.gone)", has_text="primer").count() == 1
    page.locator("input.filter").fill("room 133 lighthouse")
    page.locator(".items > li:not(.gone)").first.wait_for(state="detached")
    page.locator("input.filter").fill("")
    page.locator(".items > li.gone").first.wait_for(state="detached")


def test_without_script_a_page_of_very_many_rooms_says_what_unfolds_them(open_page: Any) -> None:
    page = open_page(many_rooms(), java_script_enabled=False)
    page.locator(".items summary", has_text="primer").click()
    assert "allow it to run" in page.locator(".items details[open] .all-rooms").first.inner_text()


def test_without_script_the_page_still_shows_and_links_everything(open_page: Any) -> None:
    page = open_page(handed.text("html"), java_script_enabled=False)
    page.locator("#i1 summary").click()
    assert page.locator("#i1 .steps").is_visible()
    page.locator("#i1 a.num").first.click()
    assert ":~:" not in page.url
    assert "#d" in page.url


PAGES = ("html", "order.html", "letter.html", "scope.html")


@pytest.mark.parametrize("name", PAGES)
def test_no_hostile_text_becomes_markup(name: str) -> None:
    """Holds without a browser: the tags of a hostile page are the tags of the same page with harmless text."""
    calm = [t for t, _ in tags_of(handed.text(name, handed.hostile("calm")))]
    for nasty in (" ".join(n.split()) for n in handed.NASTY):  # a line more would be a line more
        assert [t for t, _ in tags_of(handed.text(name, handed.hostile(nasty)))] == calm, nasty


@pytest.mark.parametrize("name", PAGES)
def test_hostile_text_is_shown_as_text_and_runs_nothing(open_page: Any, name: str) -> None:
    page = open_page(handed.text(name, handed.hostile(" ".join(handed.NASTY))))
    assert page.title() != "owned"
    assert page.evaluate("document.querySelectorAll('script, img, svg, iframe, b[onload]').length") == (name == "html")
    shown = "".join(page.evaluate("document.body.textContent").split())
    for nasty in handed.NASTY:
        assert "".join(harmless(nasty.replace("\r", "\n")).split()) in shown
    assert not [
        c for c in page.content() if (ord(c) < 32 and c not in "\n\t") or 127 <= ord(c) < 160 or c in "\u202e\u2066"
    ]


def test_a_script_that_gets_in_would_not_run(browser: Browser, tmp_path: Path) -> None:
    """The policy is the second lock: markup written into the page by hand shows, and its scripts do not run."""
    (tmp_path / "p.html").write_text(
        handed.text("html").replace(
            "</main>", "<script>document.title = 'owned'</script><b onclick='document.title = 1'>press</b></main>"
        ),
        encoding="utf-8",
    )
    page = browser.new_page()
    page.goto((tmp_path / "p.html").as_uri())
    page.get_by_text("press", exact=True).click()
    assert page.title() == handed.demo().job.name
    page.close()
