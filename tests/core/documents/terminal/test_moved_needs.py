"""A paint that is bought in a mix of sizes moved as one need, with one change of its share."""

from __future__ import annotations

from fractions import Fraction

from attrs import evolve

from darby.documents.terminal.moved_needs import moved_needs
from darby.saved.comparison import Comparison, moved
from darby.saved.model import Line, Measure, Saved
from ropes import made

GALLON = "gal"


def size(need: str, count: int, content: int, container: str, *, alone: bool = False) -> Line:
    pool = (("sheen", "satin"),) if alone else (("package", f"{content} gal {container}"), ("sheen", "satin"))
    name = ":".join(("coatings", "varnish", *(v.replace(" ", "-") for _, v in pool)))
    package = Measure(Fraction(content), GALLON)
    return Line(name, "coatings", "varnish", pool, Measure(Fraction(need), GALLON), count, package, container)


def held(before: tuple[Line, ...], after: tuple[Line, ...]) -> Comparison:
    sides: list[Saved] = [evolve(made(), items=items) for items in (before, after)]
    return Comparison(sides[0], sides[1], moved(*sides), (), (), None, ())


MIX = (size("10", 2, 5, "pail"), size("1/2", 1, 1, "can"))


def test_a_mix_is_one_need_even_where_one_of_its_sizes_stays() -> None:
    (need,) = moved_needs(held(MIX, (MIX[0], size("2", 2, 1, "can"))))
    assert need.name == "varnish, satin"
    assert (need.was, need.now) == ("2 pails of 5 gal + 1 can of 1 gal", "2 pails of 5 gal + 2 cans of 1 gal")
    assert need.change() == "+1 can"
    assert need.share == Fraction(12, 1) / Fraction(21, 2) - 1


def test_one_size_that_becomes_a_mix_is_no_new_line() -> None:
    (need,) = moved_needs(held((size("10", 2, 5, "pail", alone=True),), MIX))
    assert need.was == "2 pails of 5 gal"
    assert need.now == "2 pails of 5 gal + 1 can of 1 gal"
    assert need.share == Fraction(1, 20)


def test_lines_of_one_size_are_told_each_for_itself() -> None:
    one, other = size("3", 3, 1, "can", alone=True), size("5", 5, 1, "can", alone=True)
    (need,) = moved_needs(held((one,), (other,)))
    assert (need.was, need.now, need.change()) == ("3 cans of 1 gal", "5 cans of 1 gal", "+2 cans")
    (gone,) = moved_needs(held((one,), ()))
    assert (gone.now, gone.change()) == ("nothing", "gone")
