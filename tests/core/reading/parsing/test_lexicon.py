"""The words of all vocabularies joined: the first one's meaning stays, and what each subject can have is what any of them says."""

from __future__ import annotations

from fractions import Fraction

import pytest

from darby.quantities.units import UNITS
from darby.reading.parsing.fact_parser import Quantity
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.parsing.vocabulary import Vocabulary
from darby.text.spans import Source
from reads import language

FIRST = """
[subject]
felt = ["felt", "roofing felt"]
[kinds]
felt = ["package"]
[holds]
felt = ["roll"]
[bands]
layers = ["1", "4"]
[known]
thickness = ["1/2 in", "12.5 mm"]
[plain]
words = ["provide"]
"""
SECOND = """
[subject]
cloth = ["cloth", "felt"]
[kinds]
felt = ["coats"]
cloth = ["layers"]
[bands]
layers = ["2", "9"]
[implies]
layers = "cloth"
"""


def joined(*texts: str) -> Lexicon:
    return Lexicon.of(Vocabulary(f"v{n}", Source(f"v{n}.toml", text)) for n, text in enumerate(texts))


def test_of_two_meanings_the_first_stays_and_the_clash_is_told() -> None:
    lexicon = joined(FIRST, SECOND)
    assert [(t.name, t.value) for t in lexicon.tags("roofing felt")] == [("subject", "felt")]
    assert lexicon.stock.phrases["felt"] == ("subject", "felt")
    assert lexicon.stock.claims == {"felt": ["v0", "v1"]}
    assert joined(FIRST, FIRST).stock.claims == {}


def test_what_a_subject_can_have_is_what_any_vocabulary_says() -> None:
    lexicon = joined(FIRST, SECOND)
    assert lexicon.kinds["felt"] == {"package", "coats"}
    assert lexicon.holds == {"felt": frozenset({"roll"})}
    assert lexicon.implies == {"layers": "cloth"}


def test_the_first_band_stays_and_both_of_its_ends_are_in_it() -> None:
    lexicon = joined(FIRST, SECOND)
    assert [lexicon.in_band("layers", Fraction(n)) for n in (0, 1, 4, 5)] == [False, True, True, False]
    assert lexicon.in_band("coats", Fraction(99))


def test_the_sizes_of_a_kind_are_in_base_units() -> None:
    lexicon = joined(FIRST)
    assert lexicon.sizes("thickness") == {Fraction(1, 2) * UNITS["in"].factor, Fraction(25, 2) * UNITS["mm"].factor}
    assert lexicon.sizes("layers") == frozenset()


@pytest.mark.parametrize(("text", "unit"), [("5 in of", "in"), ("in halls", None), ("5 gallons", "gal"), ("gallons", "gal")])  # fmt: skip
def test_a_short_unit_is_one_only_behind_a_number(text: str, unit: str | None) -> None:
    units = [t.unit.name for t in language().lexicon.tags(text) if t.unit is not None]
    assert units == ([unit] if unit else [])


def test_words_of_no_list_are_strangers_with_their_places() -> None:
    assert language().lexicon.strangers([], "two coats of grobbles") == [(13, "grobbles")]
    tags = language().lexicon.tags("two coats of primer on grobbles")
    assert [w for _, w in language().lexicon.strangers(tags, "two coats of primer on grobbles")] == ["grobbles"]


def test_what_is_out_of_the_ordinary_is_told_with_what_is_usual() -> None:
    lexicon = language().lexicon
    many, few = (Quantity(Fraction(n), UNITS["each"]) for n in (9, 2))
    assert "usual is 1 to 4" in lexicon.unusual("coats", "finish paint", many)
    assert lexicon.unusual("coats", "finish paint", few) == ""
