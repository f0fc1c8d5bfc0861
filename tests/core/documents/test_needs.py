"""One need stays one line of the order, in however many sizes of package it is bought."""

from __future__ import annotations

import made
from darby.documents.needs import needs, numbers
from darby.estimate.line_item import LineItem
from darby.quantities.amounts import Amount


def bought(gallons: str, package: str, sheen: str = "satin") -> LineItem:
    size = Amount.read(package.rpartition(" ")[0]) / Amount.of(1, package.rpartition(" ")[2])
    pool = {"package": package, "sheen": sheen, "surface": "wall"}
    return LineItem("varnish", Amount.read(gallons), pool, size, "coatings", notes=("Stir it.",))


MIX = (bought("1/2 gal", "1 gal can"), bought("25 gal", "5 gal pail"))
OTHER = LineItem(
    "varnish", Amount.read("3 gal"), {"sheen": "flat"}, Amount.read("1 gal") / Amount.of(1, "can"), "coatings"
)


def test_two_sizes_of_one_paint_are_one_need() -> None:
    mix, other = needs(made.estimate(items=(*MIX, OTHER)))
    assert (mix.number, other.number) == (1, 2)
    assert mix.name == "varnish, satin, wall"
    assert mix.needed("us") == "25.5 gal"
    assert mix.order() == "5 pails of 5 gal + 1 can of 1 gal"
    assert mix.notes == ("Stir it.",)
    assert other.order() == "3 cans of 1 gal"


def test_the_working_of_a_mix_is_that_of_the_size_that_takes_the_rest() -> None:
    (mix,) = needs(made.estimate(items=MIX))
    assert mix.worked is MIX[0]
    assert mix.first is MIX[1]


def test_paints_that_differ_are_never_one_need() -> None:
    found = needs(made.estimate(items=(*MIX, bought("5 gal", "5 gal pail", "flat"))))
    assert [need.name for need in found] == ["varnish, satin, wall", "varnish, 5 gal pail, flat, wall"]


def test_every_item_knows_the_number_of_its_need() -> None:
    assert list(numbers(made.estimate(items=(*MIX, OTHER))).values()) == [1, 1, 2]


def test_pieces_are_told_whole() -> None:
    (clip,) = needs(made.estimate(items=(LineItem("clip", Amount.of(8449) + Amount.of(1) / Amount.of(3)),)))
    assert clip.needed("us") == "8,450"
