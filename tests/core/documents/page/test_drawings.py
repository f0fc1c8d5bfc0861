"""What trades hand over, on the page: to one scale, in words besides, bounded, and never markup."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from attrs import evolve

import handed
from darby.documents.page.drawings import MOST_DRAWINGS, MOST_ROWS, attached
from darby.estimate.attachments import CUT, WHOLE, Area, Attachment, Drawing, Table
from darby.estimate.model import Estimate
from darby.quantities.amounts import Amount

if TYPE_CHECKING:
    from playwright.sync_api import Browser


def area(x: int, y: int, wide: int, high: int, look: str = WHOLE, text: str = "", more: str = "") -> Area:
    return Area(*map(Fraction, (x, y, wide, high)), look, text, more)


def drawing(*areas: Area, wide: str = "20 ft", high: str = "8 ft", title: str = "wall", group: str = "") -> Drawing:
    return Drawing(title, Amount.read(wide), Amount.read(high), areas, group=group, note="One note.")


def with_attached(*some: Attachment) -> Estimate:
    made = handed.demo()
    first, *others = made.items
    return evolve(made, items=(evolve(first, attachments=lambda: some), *others))


def test_areas_lie_where_they_are_measured_the_foot_at_the_bottom() -> None:
    (one,) = attached([drawing(area(0, 0, 8, 4), area(8, 4, 12, 4, CUT))])["groups"][0]["drawings"]
    lower, upper = one["areas"]
    assert (one["width"], one["height"]) == (280, 112)
    assert [lower[key] for key in ("x", "y", "width", "height")] == [0, 56, 112, 56]
    assert [upper[key] for key in ("x", "y", "width", "height")] == [112, 0, 168, 56]


def test_a_metre_is_as_long_as_in_feet() -> None:
    (metric,) = attached([drawing(wide="3.048 m", high="3.048 m")])["groups"][0]["drawings"]
    (feet,) = attached([drawing(wide="10 ft", high="10 ft")])["groups"][0]["drawings"]
    assert (metric["width"], metric["height"]) == (feet["width"], feet["height"]) == (140, 140)


def test_what_is_too_wide_is_drawn_smaller_and_to_scale() -> None:
    (one,) = attached([drawing(wide="100 ft", high="10 ft")])["groups"][0]["drawings"]
    assert (one["width"], one["height"]) == (640, 64)


@pytest.mark.parametrize(
    ("sides", "text", "upward"),
    [((8, 4), "1234: 8 ft", False), ((3, 3), "1234", False), ((1, 6), "1234: 8 ft", True), ((1, 1), "", False)],
)
def test_a_text_that_has_no_room_is_shortened_turned_or_left_out(
    sides: tuple[int, int], text: str, upward: bool
) -> None:
    shown = drawing(area(0, 0, *sides, text="1234", more="8 ft"))
    (one,) = attached([shown])["groups"][0]["drawings"][0]["areas"]
    assert one["said"] == "1234: 8 ft"
    assert (one["text"], one["upward"]) == (text, upward)


def test_drawings_of_one_group_stand_together_and_a_note_once() -> None:
    seen = attached([drawing(group="A"), drawing(group="A"), drawing(group="B")])
    assert [(g["name"], len(g["drawings"])) for g in seen["groups"]] == [("A", 2), ("B", 1)]
    assert seen["notes"] == ["One note."]


def test_what_is_beyond_measure_is_cut_off_and_told() -> None:
    table = Table("t", ("n",), tuple((n,) for n in range(MOST_ROWS + 5)))
    seen = attached([table, *[drawing()] * (MOST_DRAWINGS + 3)])
    assert (seen["count"], seen["left"]) == (MOST_DRAWINGS, 3)
    assert (len(seen["tables"][0]["rows"]), seen["tables"][0]["left"]) == (MOST_ROWS, 5)
    html = handed.text("html", with_attached(table, *[drawing()] * (MOST_DRAWINGS + 3)))
    assert "3 more are in the workbook" in html
    assert "5 more rows are in the workbook" in html


def test_nothing_handed_over_leaves_the_page_without_it() -> None:
    assert "<svg" not in handed.text("html")


@pytest.mark.parametrize("nasty", handed.NASTY)
def test_texts_of_a_trade_are_texts(nasty: str) -> None:
    some = (drawing(area(0, 0, 20, 8, text=nasty), title=nasty, group=nasty), Table(nasty, (nasty,), ((nasty,),)))
    html = handed.text("html", with_attached(*some))
    for tag in ("<script>document", "<img", "<svg onload", "</style></script>"):
        assert tag not in html


@pytest.mark.parametrize("width", [1280, 390])
def test_it_fits_the_screen_and_breaks_no_rule_of_the_page(browser: Browser, width: int, tmp_path: Path) -> None:
    from axe_playwright_python.sync_playwright import Axe

    shown = drawing(*(area(x, 0, 4, 8, CUT, str(x), "4 ft") for x in range(0, 100, 4)), wide="100 ft")
    table = Table("Pieces", tuple(f"head number {n}" for n in range(9)), ((*["something long"] * 9,),))
    file = tmp_path / "page.html"
    file.write_text(handed.text("html", with_attached(shown, table)), encoding="utf-8")
    page = browser.new_page(viewport={"width": width, "height": 800})
    page.set_default_timeout(300_000)
    said: list[str] = []
    page.on("console", lambda message: said.append(message.text))
    page.goto(file.as_uri())
    page.evaluate("document.querySelectorAll('#i1 details').forEach(d => d.open = true)")
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    svg = page.locator("#i1 svg").first.bounding_box()
    assert svg is not None
    assert abs(svg["width"] / svg["height"] - 642 / 53) < 0.2  # to scale, a pixel of margin around it
    found = Axe().run(page).response["violations"]
    assert not [v["id"] for v in found]
    assert not said
    page.close()
