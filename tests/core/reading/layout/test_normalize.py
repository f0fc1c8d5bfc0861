"""Damage is undone for reading, and every character still points at what the user gave."""

from __future__ import annotations

import pytest

from darby.reading.layout.normalize import mend
from darby.text.spans import Source, View
from reads import language

KNOWN = {
    "ceilings",
    "walls",
    "gypsum",
    "board",
    "primer",
    "first",
    "corner",
    "bead",
    "fill",
    "wall",
    "inch",
    "in",
    "lb",
    "fix",
}


def mended(text: str) -> View:
    return mend(Source("s.txt", text), KNOWN.__contains__)


@pytest.mark.parametrize(
    ("given", "meant"),
    [
        ("5/8” board", '5/8" board'),
        ("the owner’s wall", "the owner's wall"),
        ("5⁄8 in.", "5/8 in."),
        ("4 × 8", "4 x 8"),
        ("50 µm", "50 um"),
        ("50 ºF", "50 °F"),
        ("12\u00a0in.", "12 in."),
        ("ﬁrst ﬂoor", "first floor"),
        ("gyp\u00adsum", "gypsum"),
        ("\ufeffprimer", "primer"),
        ("a\r\nb\rc", "a \nb\nc"),
        ("2\tcoats", "2 coats"),
        ("one page\x0cnext", "one page\nnext"),
    ],
)
def test_an_odd_mark_is_read_as_the_plain_one(given: str, meant: str) -> None:
    assert mended(given).text == meant


@pytest.mark.parametrize(
    ("given", "meant"),
    [
        ("<b>2</b> coats", "2 coats"),
        ("1&frac12;&quot; long<br/>", '1½" long\n'),
        ("<li>walls</li>", "\n- walls\n"),
        ("walls<!-- 12 in. o.c. --><br>", "walls\n"),
        ("<del>12 in.</del> 9 in.", " 9 in."),
        ("~~two~~ three", " three"),
        ("<script>var coats = 2;</script><p>walls</p>", "\nwalls\n"),
    ],
)
def test_markup_becomes_the_layout_it_stands_for(given: str, meant: str) -> None:
    assert mended(given).text == meant


def test_signs_that_only_look_like_markup_stay() -> None:
    text = "walls < 8 ft and > 4 ft; A&B"
    assert mended(text).text == text


@pytest.mark.parametrize(
    ("given", "meant"), [("w0rd wa1ls", "w0rd walls"), ("ceiIings", "ceilings"), ("P rimer", "Primer")]
)
def test_a_scanned_word_is_mended_where_exactly_a_known_word_results(given: str, meant: str) -> None:
    assert mended(given).text == meant


def test_a_number_is_never_mended_here() -> None:
    for text in ("250 sq ft", "25O sq ft", "5I8 in.", "l/2 in."):
        assert mended(text).text == text


def test_every_character_knows_its_place_in_what_was_given() -> None:
    text = "<p>Walls:&nbsp;<b>1&frac12;</b>” ﬁrst\r\nceiIings</p>"
    view = mended(text)
    for word, given in (("Walls", "Walls"), ("½", "&frac12;"), ('"', "”"), ("first", "ﬁrst"), ("ceilings", "ceiIings")):
        at = view.text.index(word)
        assert view.span(at, at + len(word)).text == given


def test_a_sound_text_is_left_as_it_is() -> None:
    text = "Walls: 5/8 in. gypsum board.\n\nCeilings: two coats.\n"
    view = mend(Source("s.txt", text), language().known)
    assert view.text == text
    assert len(view.pieces) == 1


MENDED = {"primer", "walls", "ceilings", "warm", "corner"}


@pytest.mark.parametrize(
    ("given", "meant"),
    [
        # one word that only a scanner writes, and with it others in which it took one letter for another
        ("wa1ls prirner", "walls primer"),
        ("wa1ls waiis ceiiings", "walls waiis ceilings"),
        ("wa1ls corner", "walls corner"),
        ("wa1ls turn", "walls turn"),
        ("wa1ls Prirner", "walls Primer"),
        ("walls prirner", "walls prirner"),
        ("w0rd prirner", "w0rd prirner"),
    ],
)
def test_where_a_scanner_took_one_letter_for_another_it_did_so_more_than_once(given: str, meant: str) -> None:
    assert mend(Source("s.txt", given), MENDED.__contains__).text == meant
