"""Units that plugins bring: exact, the same for everybody who brings the same, and never another unit's."""

from __future__ import annotations

from fractions import Fraction

import pytest

from darby.documents.changes import measure, packages
from darby.quantities.amounts import Amount
from darby.quantities.own_units import adopt, among, as_told, told
from darby.quantities.units import AREA, CONTAINERS, UNITS, UnitError, _the, combine, unit_named
from darby.saved.model import Measure


def test_a_unit_is_worth_so_many_of_a_known_one() -> None:
    square = adopt("testing square", "100 sq ft", ("testing square", "testing squares"))
    assert Amount.of(3, square).to("sq ft").exact() == "300 sq ft"
    assert UNITS["testing square"] is square
    assert adopt("testing square", "100 sq ft", ("testing square", "testing squares")) is square
    assert unit_named("testing square") is None  # a job file and other trades do not know it


def test_goods_may_come_in_a_container_of_its_own() -> None:
    crate = adopt("testing crate", "container", ("testing crate", "testing crates"))
    assert "testing crate" in CONTAINERS
    pails = frozenset({UNITS["pail"].dimension})
    assert among(crate.dimension, pails)
    assert not among(crate.dimension, frozenset({AREA}))
    assert among(AREA, frozenset({AREA}))


@pytest.mark.parametrize(
    ("name", "worth", "spellings", "said"),
    [
        ("ft", "3 m", (), "cannot be the name"),
        ("Testing", "3 m", (), "cannot be the name"),
        ("testing a", "3 m", ("foot",), "'foot' is another unit already, ft"),
        ("testing b", "soon", (), "no amount"),
        ("testing c", "0 m", (), "no amount of a known unit"),
        ("testing d", "", (), "an amount is wanted"),
        ("testing e", "3 m", ("(",), "no word"),
    ],
)
def test_what_cannot_be_one_is_refused(name: str, worth: str, spellings: tuple[str, ...], said: str) -> None:
    with pytest.raises(UnitError, match=said.replace("(", r"\(")):
        adopt(name, worth, spellings)
    assert name not in UNITS or name == "ft"


def test_two_that_differ_under_one_name_are_refused() -> None:
    adopt("testing twin", "2 ft")
    with pytest.raises(UnitError, match="not the same"):
        adopt("testing twin", "3 ft")


def test_a_unit_that_came_from_another_process_first_is_the_own_one_once_it_is_known() -> None:
    told = UNITS["ft"]
    how = (told.dimension, told.factor * 10, "us", (), (), ())
    early = _the("testhank", *how)
    own = adopt("testhank", "10 ft")
    assert _the("testhank", *how) is own is not early


def test_several_of_one_are_called_as_it_is_spelled() -> None:
    adopt("testing reckon", "100 sq ft", ("testing reckon", "testing reckons"))
    adopt("testing hatch", "container", ("testing hatch", "testing hatches"))
    adopt("testing skein", "container")
    adopt("testing measure", "8 ft")
    said = [str(Amount.of(2, name)) for name in ("testing reckon", "testing hatch", "testing skein", "testing measure")]
    assert said == ["2 testing reckons", "2 testing hatches", "2 testing skeins", "2 testing measure"]
    assert str(Amount.of(1, "testing hatch")) == "1 testing hatch"
    assert packages(3, "testing hatch") == "3 testing hatches"
    assert packages(3, "crate") == "3 crates"


def test_what_is_told_of_units_makes_them_again() -> None:
    square = adopt("testing told square", "100 sq ft", ("testing told square", "testing told squares"))
    reel = adopt("testing told reel", "container", ("testing told reel",))
    dozen = adopt("testing told dozen", "12 each")
    third = adopt("testing told third", "1/3 m")
    pair = adopt("testing told pair", "2 sheets")
    said = told([combine(square, reel, -1), dozen, third, pair, UNITS["sq ft"]])
    assert said == {
        "testing told dozen": ("12 each",),
        "testing told pair": ("2 sheet",),
        "testing told reel": ("container", "testing told reel"),
        "testing told square": ("100 sq ft", "testing told square", "testing told squares"),
        "testing told third": ("1/3 m",),
    }
    for unit in (square, reel, dozen, third, pair):
        worth, *spellings = said[unit.name]
        assert as_told(unit.name, worth, tuple(spellings)) is unit


def test_a_unit_whose_plugin_is_not_here_or_has_another_of_its_name_is_nobody_elses() -> None:
    away = as_told("testing away", "90 sq ft", ("testing away", "testing aways"))
    assert "testing away" not in UNITS
    assert Amount.of(2, away).to("sq ft").exact() == "180 sq ft"
    assert away is as_told("testing away", "90 sq ft", ("testing away", "testing aways"))
    now = adopt("testing away", "100 sq ft")
    assert as_told("testing away", "90 sq ft", ()).factor == away.factor != now.factor
    for wrong in (("lb", "2 kg"), ("Testing", "2 kg"), ("testing worse", "soon")):
        with pytest.raises(UnitError):
            as_told(*wrong, ())


def test_several_of_one_are_called_as_it_is_spelled_in_a_comparison() -> None:
    adopt("testing held square", "100 sq ft", ("testing held square", "testing held squares"))
    assert measure(Measure(Fraction(2), "testing held square")) == "2 testing held squares"
    assert measure(Measure(Fraction(1), "testing held square")) == "1 testing held square"
    assert measure(Measure(Fraction(64), "lb")) == "64 lb"
    assert measure(Measure(Fraction(3), "each")) == "3"
    assert measure(Measure(Fraction(2), "of a plugin that is away")) == "2 of a plugin that is away"
