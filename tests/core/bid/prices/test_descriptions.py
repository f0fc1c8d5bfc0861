"""What the words of a description say, read once for all that differ in their numbers alone."""

from __future__ import annotations

import random

import pytest

from bids import lexicon, meanings
from darby.bid.prices.descriptions import form_of
from darby.bid.prices.meaning import Goods, Meanings
from darby.bid.prices.shapes import FREE, Shapes
from darby.reading.parsing.lexicon import Lexicon

GOODS = (
    "drywall", "gypsum board", "plasterboard", "sheetrock", "joint compound", "joint tape", "primer", "PVA primer", "latex paint", "finish paint",
    "drywall screws", "corner bead", "Ceiling paint", "acrylic", "primer and gypsum board", "door hinge", "drywal", "prmer", "100% acrylic",
)  # fmt: skip
SAID = (
    "type X", "Type C", "moisture resistant", "satin", "semi-gloss", "eggshell", "fog white", "white", "oil", "sheet", "64 lb pail", "box of 1,000",
    "each", "Acmebrand", "lo-voc", "thick", "long", "or longer", "for walls", "2 coats", "level 5", "P-12", "DW-1034", "#20", "ASTM C1396", "S-12",
)  # fmt: skip
SIZES = (
    "{n}/16 in.", '{n} {m}/8"', "4x{n}", "4' x {n}'", "{n} x {m} ft", "4x8x{n}/8", "{n} mm", "{n}.{m} mm", "{n}00x{m}00x12.5", "{n} mil", "no. {n}{m}",
    "{n} gal", "{n} ft {m} in", "{n}'-{m}\"", "{n},000", "{n}th", "{n} or more", "{n}in", "x{n}", "A{n}{m}", "{n}-{m}", "{n} in {m}", "{n}/{n} in {m}",
)  # fmt: skip


def drawn(draw: random.Random) -> list[str]:
    """Descriptions that differ in their numbers: goods, sizes and what else is said, in any order and in capitals or not."""
    words = [draw.choice(GOODS), *draw.sample(SAID, draw.randint(0, 2))]
    words += draw.sample(SIZES, draw.randint(1, 2))
    draw.shuffle(words)
    text = draw.choice((" ", " ", ", ", " - ")).join(words)
    cased = draw.choice((str, str, str.upper, str.title))
    return [cased(text.format(n=draw.randint(0, 24), m=draw.randint(0, 99))) for _ in range(20)]


@pytest.mark.parametrize("units", ["us", "metric"])
def test_a_description_says_the_same_alone_and_among_others(units: str, monkeypatch: pytest.MonkeyPatch) -> None:
    draw = random.Random(15)
    texts = [text for _ in range(200) for text in drawn(draw)]
    taken: list[str] = []
    plain = Lexicon.tags
    monkeypatch.setattr(Lexicon, "tags", lambda self, text: taken.append(text) or plain(self, text))  # type: ignore[func-returns-value]
    together = list(map(Meanings(lexicon(), units).goods, texts))
    once = len(taken)
    monkeypatch.setattr(Shapes, "of", lambda self, text: text)
    alone = list(map(Meanings(lexicon(), units).goods, texts))
    assert [list(goods.named.items()) for goods in together] == [list(goods.named.items()) for goods in alone]
    assert together == alone
    assert 3 * once < 2 * (len(taken) - once)


def test_descriptions_that_differ_in_their_numbers_are_taken_apart_once(monkeypatch: pytest.MonkeyPatch) -> None:
    taken: list[str] = []
    plain = Lexicon.tags
    monkeypatch.setattr(Lexicon, "tags", lambda self, text: taken.append(text) or plain(self, text))  # type: ignore[func-returns-value]
    fresh = Meanings(lexicon(), "us")
    said = [fresh.goods(f"{n}/64 in. drywall 4x{n}") for n in range(20, 60)]
    assert [goods.sizes for goods in said] == [(fresh.of(f"{n}/64 in."), fresh.of(f"4x{n}")) for n in range(20, 60)]
    assert len(taken) == 1


def test_a_code_is_that_of_each_description() -> None:
    form, shared = form_of("primer P-45", "primer P-\0\0", lexicon())
    assert shared
    assert form.read("primer P-67", lambda _: ())[1] == {"mark": ("word", "p-67")}


def test_a_word_with_a_free_number_in_it_is_shared_by_none() -> None:
    assert not form_of("type S-12 screw", "type S-\0\0 screw", lexicon())[1]


def test_runs_that_measure_nothing_are_strange() -> None:
    form, _ = form_of("drywall 4x8x9x10", "drywall 4x8x9x10", lexicon())
    assert form.read("drywall 4x8x9x10", lambda _: ())[3] == ("4", "x", "8", "x", "9", "x", "10")
    assert form.read("drywall 4x8x9x10", lambda _: (("size", ""),))[3] == ()


def test_a_text_with_the_sign_that_stands_for_digits_is_read_for_itself() -> None:
    assert meanings().goods("drywall 4x57") != meanings().goods(f"drywall 4x{FREE}{FREE}")
    assert isinstance(meanings().goods(f"primer {FREE}"), Goods)
