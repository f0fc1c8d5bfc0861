"""Spread, film and solids held against published tables: a volume over a thickness is an area, by the units alone."""

from __future__ import annotations

from fractions import Fraction

import pytest

from darby.quantities.amounts import Amount

GALLON, LITRE = Amount.read("1 gal"), Amount.read("1 L")


def spread(solids: str, film: str, volume: Amount = GALLON) -> Amount:
    """Area that a volume covers with a dry film."""
    return volume * Amount.read(solids) / Amount.read(film)


def test_a_gallon_a_mil_thick_covers_1604_sq_ft() -> None:
    """UFC 3-190-06 2.1.5 (rounded to 1600 there); exactly 9625/6 by NIST Handbook 44: a gallon is 231 cubic inches."""
    assert spread("100 %", "1 mil") == Amount.of(Fraction(9625, 6), "sq ft")


def test_a_litre_a_micrometre_thick_covers_1000_m2() -> None:
    """Spreading-rate guide sheet."""
    assert spread("100 %", "1 um", LITRE) == Amount.read("1000 m2")


@pytest.mark.parametrize(("film", "area"), [("1 mil", 1600), ("2 mil", 800), ("4 mil", 400)])
def test_the_rounded_figures_of_the_ufc(film: str, area: int) -> None:
    """UFC 3-190-06 2.1.5: 1600, 800 and 400 sq ft/gal at 1, 2 and 4 mil, within 0.3 %."""
    assert abs(spread("100 %", film).to("sq ft").value / area - 1) <= Fraction(3, 1000)


def test_65_percent_solids_in_both_systems() -> None:
    """Spreading-rate guide sheet: 65 % at 125 um is 5.2 m2/L; 65 % at 5.0 mil is 208.5 sq ft/gal."""
    assert spread("65 %", "125 um", LITRE) == Amount.read("5.2 m2")
    assert abs(spread("65 %", "5 mil").to("sq ft").value - Fraction("208.5")) <= Fraction(1, 20)


@pytest.mark.parametrize(("solids", "area"), [("46 %", 294), ("56 %", 358)])
def test_the_trade_magazine_example(solids: str, area: int) -> None:
    """Trade-magazine worked example, 2005, at 2.5 mil; it truncates, so within 0.5 %."""
    assert abs(spread(solids, "2.5 mil").to("sq ft").value / area - 1) <= Fraction(5, 1000)


FILMS = (1, 2, 3, 4, 5, 6, 8, 10)
TABLE = {
    "30 %": (481, 241, 160, 120, 96, 80, 60, 48),
    "50 %": (802, 401, 267, 201, 160, 134, 100, 80),
    "65 %": (1043, 521, 348, 261, 209, 174, 130, 104),
    "100 %": (1604, 802, 535, 401, 321, 267, 201, 160),
}


@pytest.mark.parametrize("solids", TABLE)
def test_the_spreading_table(solids: str) -> None:
    """Published 24 x 8 spreading table: four of its rows, sq ft/gal, each within 1."""
    for film, area in zip(FILMS, TABLE[solids], strict=True):
        assert abs(spread(solids, f"{film} mil").to("sq ft").value - area) <= 1


def test_thinner_thickens_the_wet_film_that_leaves_the_dry_one() -> None:
    """Estimating guide sheet: wet film = dry film x (1 + thinner) / solids. 2 mil dry at 50 %, a quarter thinner: 5 mil."""
    dry, solids, thinner = Amount.read("2 mil"), Amount.read("50 %"), Amount.read("25 %")
    assert dry * (Amount.of(1) + thinner) / solids == Amount.read("5 mil")


def test_a_spread_and_a_film_of_one_paint_agree() -> None:
    """UFC 3-190-06 2.1.5: dry film = wet film x solids; the same gallon gives the wet film its spread."""
    wet = GALLON / Amount.read("400 sq ft")
    assert wet.to("mil") == Amount.of(Fraction(9625, 2400), "mil")
    assert wet * Amount.read("40 %") == Amount.of(Fraction(9625, 6000), "mil")
