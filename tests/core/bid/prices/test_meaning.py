"""What the cells of price lists mean, whatever their spelling."""

from __future__ import annotations

import pytest

from bids import lexicon, meanings
from darby.bid.prices.meaning import Meanings, contained
from darby.quantities.amounts import Amount
from darby.reading.parsing.lexicon import Lexicon


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ('5/8"', "0.625 in"), ("4x8", "4 ft x 8 ft"), ("4' x 12'", "4 x 12 ft"), ("Semigloss", "semi-gloss"), ("TYPE X", "type X"),
        ("1 1/4 in", '1-1/4"'), ("Fog  White", "fog white"), ("25.4 mm", "1 in"),
    ],
)  # fmt: skip
def test_spellings_of_one_property_are_one(one: str, other: str) -> None:
    assert meanings().of(one) == meanings().of(other)


@pytest.mark.parametrize(
    ("one", "other"), [("1/2 in", "5/8 in"), ("4x8", "4x12"), ("satin", "flat"), ("type X", "type C")]
)
def test_properties_that_differ_stay_apart(one: str, other: str) -> None:
    assert meanings().of(one) != meanings().of(other)


def test_a_bare_size_is_in_millimetres_where_the_job_is_metric() -> None:
    assert meanings("metric").of("1200 x 2400") == meanings().of("1200 mm x 2400 mm")


def test_a_description_is_goods_and_properties() -> None:
    said = meanings().goods("5/8 in. Type X drywall 4x12")
    assert (said.product, said.strange) == ("gypsum board", ())
    assert said.named == {"type": meanings().of("type X")}
    assert said.sizes == (meanings().of("5/8 in"), meanings().of("4 ft x 12 ft"))


@pytest.mark.parametrize(
    ("text", "units"),
    [
        ("drywall 4x8x1/2", "us"), ("drywall 4x8x1/2 in.", "us"), ("1/2 x 4 x 8 drywall", "us"), ('drywall 4 x 8 1/2"', "us"),
        ("drywall 4' x 8' x 1/2\"", "us"), ("1/2 in. drywall, 4 ft by 8 ft", "us"), ("plasterboard 1200x2400x12.5", "metric"),
        ("plasterboard 12.5 x 1200 x 2400 mm", "metric"), ("plasterboard 12.5 mm, 1200 x 2400", "metric"),
    ],
)  # fmt: skip
def test_sides_and_how_thick_as_merchants_write_them(text: str, units: str) -> None:
    thick, size = ("1/2 in", "4 ft x 8 ft") if units == "us" else ("12.5 mm", "1200 mm x 2400 mm")
    said = meanings(units).goods(text)
    assert (said.product, said.strange) == ("gypsum board", ())
    assert said.sizes == (meanings().of(thick), meanings().of(size))


def test_more_sides_than_a_sheet_has_are_strange() -> None:
    assert meanings().goods("drywall 4x8x9x10").strange


def test_a_word_that_carries_two_things_gives_both() -> None:
    assert meanings().goods("PVA primer").named == {"class": ("word", "pva")}


@pytest.mark.parametrize("text", ["", "door hinge", "primer and gypsum board"])
def test_what_names_no_goods_or_two_has_no_product(text: str) -> None:
    assert not meanings().goods(text).product


def test_strange_words_are_told() -> None:
    assert meanings().goods("Acmebrand drywall").strange == ("Acmebrand",)


@pytest.mark.parametrize(
    ("text", "content", "container", "per"),
    [
        ("64 lb pail", "64 lb", "pail", False), ("box of 1,000", "1000", "box", False), ("sheet", None, "sheet", False),
        ("5 gal", "5 gal", "", False), ("per 1,000 sq ft", "1000 sq ft", "", True), ("per sq ft", "1 sq ft", "", True),
        ("250 ft roll", "250 ft", "roll", False),
    ],
)  # fmt: skip
def test_packages(text: str, content: str | None, container: str, per: bool) -> None:
    found = meanings().package(text)
    assert found is not None
    assert (found.content.exact() if found.content is not None else None, found.container, found.per) == (
        content,
        container,
        per,
    )


def test_one_by_one() -> None:
    found = meanings().package("each")
    assert found is not None
    assert found.singly


@pytest.mark.parametrize(
    ("text", "many", "one"),
    [
        ("pallet of 60 sheets", 60, "sheet"), ("Skid of 1,200 sheets", 1200, "sheet"), ("case of 12 x tubes", 0, ""), ("case of 12 tubes", 12, "tube"),
        ("pallet of 48 64 lb pails", 48, "64 lb pail"), ("pallet of 40 boxes of 1,000", 40, "box of 1,000"),
    ],
)  # fmt: skip
def test_packages_that_are_sold_together(text: str, many: int, one: str) -> None:
    found = meanings().package(text)
    assert (found is not None) == bool(many)
    if found is not None:
        alone = meanings().package(one)
        assert alone is not None
        assert (found.many, found.content, found.container) == (many, alone.content, alone.container)
        assert found.key != alone.key
        assert str(found) == f"{text.split(maxsplit=1)[0].lower()} of {many} × {alone}"


@pytest.mark.parametrize(
    "text",
    [
        "pallet", "pallet of 60", "pallet of sheets", "sheets, 60 per pallet", "60 sheets per case", "pallet of 0 sheets", "pallet of 4 pallets of 2 sheets",
        "pallet of 12 each", "pallet of 10 per sq ft", "case of 5 gal pails", "pallet of 2 5 gal",
    ],
)  # fmt: skip
def test_packages_that_are_sold_together_without_saying_how_many_of_what(text: str) -> None:
    assert meanings().package(text) is None


@pytest.mark.parametrize("text", ["large bin", "12 ft 6 ft", "2 pails of boxes", "gal", "5 gal satin"])
def test_what_is_no_package(text: str) -> None:
    assert meanings().package(text) is None


def test_what_a_package_of_an_order_holds() -> None:
    assert contained(Amount.read("64 lb") / Amount.of(1, "pail")) == (Amount.read("64 lb"), "pail")
    assert contained(Amount.of(1000) / Amount.of(1, "box")) == (Amount.of(1000), "box")
    assert contained(Amount.of(1)) == (Amount.of(1), "")


def test_goods_of_others_are_not_taken_apart(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of a catalogue of 100,000 rows most are hinges and ladders: their words are looked up and no more."""
    taken: list[str] = []
    plain = Lexicon.tags
    monkeypatch.setattr(Lexicon, "tags", lambda self, text: taken.append(text) or plain(self, text))  # type: ignore[func-returns-value]
    fresh = Meanings(lexicon(), "us")
    assert not any(fresh.goods(f"door hinge no. {n}, brass").product for n in range(50))
    assert taken == []
    assert fresh.goods("JT.  COMPOUND no. 7").product == "joint compound"
    assert fresh.goods("100% Acrylic").product == "finish paint"
