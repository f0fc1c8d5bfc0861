"""The README's pictures: each is there, shows what the program shows, and asks for nothing from outside."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest

import handed
import pictures
from checkout import ROOT
from darby.documents.words import packages

README = (ROOT / "README.md").read_text(encoding="utf-8")


def words(name: str) -> str:
    root = ElementTree.fromstring((pictures.FOLDER / name).read_text(encoding="utf-8"))
    return " ".join("".join(root.itertext()).replace("\u00a0", " ").split())


def test_every_picture_is_claimed_and_the_readme_shows_some() -> None:
    assert {p.name for p in pictures.FOLDER.iterdir()} == {*pictures.TERMINAL, pictures.PAGE, *pictures.DESK}
    shown = re.findall(r"fixtures/pictures/([\w.-]+)", README)
    assert (
        {"demo-80.svg", "explain-80.svg", "compare-80.svg", "page.png"}
        <= set(shown)
        <= {*pictures.TERMINAL, pictures.PAGE, *pictures.DESK}
    )


@pytest.mark.parametrize("name", pictures.TERMINAL)
def test_a_picture_is_sound_and_names_no_address(name: str) -> None:
    text = (pictures.FOLDER / name).read_text(encoding="utf-8")
    assert not re.search(r"https?://(?!www\.w3\.org/2000/svg)|@font-face|@import|<script|<image", text)
    width, command, _ = pictures.TERMINAL[name]
    assert f"$ darby {' '.join(command)}" in words(name)
    assert f"-{width}." in name


@pytest.mark.parametrize("width", [60, 80, 120])
def test_the_demo_s_picture_orders_what_the_demo_orders(width: int) -> None:
    text = words(f"demo-{width}.svg")
    for item in handed.demo().items:
        assert item.product.split()[0] in text
        assert packages(item, item.count or 0) in text


@pytest.mark.parametrize("width", [60, 80, 120])
def test_explain_s_picture_ends_in_the_order_and_compare_s_says_what_moved(width: int) -> None:
    assert "rounded up" in words(f"explain-{width}.svg")
    assert "primer" in words(f"compare-{width}.svg")


@pytest.mark.parametrize("name", [pictures.PAGE, *pictures.DESK])
def test_a_picture_from_the_browser_is_one_of_its_width(name: str) -> None:
    data = (pictures.FOLDER / name).read_bytes()
    assert data.startswith(b"\x89PNG")
    assert int.from_bytes(data[16:20]) == pictures.DESK.get(name, (1280, ""))[0]
