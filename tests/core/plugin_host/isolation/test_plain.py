"""Values as plain data and back; what does not fit is refused."""

from __future__ import annotations

import json
from fractions import Fraction
from typing import Any

import pytest
from attrs import evolve

from darby.estimate.trade import Caution, RoomColumn
from darby.labor.task import Operation
from darby.plugin_host.isolation.failures import NonsenseError
from darby.plugin_host.isolation.plain import from_plain, number, to_plain, unit
from darby.quantities.units import AREA, LENGTH, UNITS, combine
from darby.reading.parsing.fact_parser import Fact, Quantity
from darby.rules.rule import Kind
from darby_grammars.kinds import KINDS

VALUES: list[Any] = [
    *KINDS.values(),
    Caution("Dust", "Sweep. Then rest.", "our practice"),
    RoomColumn("Floor", (("coats", "floor"),), about={"part": "floor"}),
    Operation("lay floor", ("surface", "room"), (AREA, LENGTH), "All of it."),
    Fact(
        "width",
        Quantity(Fraction(7, 3), UNITS["sq ft"]),
        scope=(("surface", "wall"),),
        start=1,
        end=3,
        bound="at least",
    ),
]


@pytest.mark.parametrize("value", VALUES, ids=lambda v: getattr(v, "name", type(v).__name__))
def test_a_value_comes_back_as_it_was(value: Any) -> None:
    assert from_plain(json.loads(json.dumps(to_plain(value, {}))), type(value), {}) == value


def test_units_come_back_by_the_names_of_their_parts() -> None:
    for made in (
        UNITS["lb"],
        UNITS["each"],
        combine(UNITS["sq ft"], UNITS["gal"], -1),
        combine(UNITS["lb"], UNITS["pail"], -1),
    ):
        assert unit(to_plain(made, {})) is made
    with pytest.raises(NonsenseError, match="cubit"):
        unit([["cubit"], []])


@pytest.mark.parametrize("said", [3, "3.5", "1/0", "nan", "1e9", "", "1" * 4001, None, 2.5])
def test_what_is_no_exact_number_is_refused(said: object) -> None:
    with pytest.raises(NonsenseError):
        number(said)


def test_what_does_not_fit_its_annotation_is_refused() -> None:
    plain: Any = to_plain(VALUES[-1], {})
    for wrong in (
        {"kind": 7},
        {"bound": "perhaps"},
        {"scope": [["a"]]},
        {"start": True},
        {"amount": {"is": "Kind"}},
        {"is": "Rule"},
    ):
        with pytest.raises(NonsenseError):
            from_plain(plain | wrong, Fact, {})
    with pytest.raises(NonsenseError):
        from_plain({"is": "Kind"}, Kind, {})
    assert from_plain(plain | {"why": "so"}, Fact, {}) == evolve(VALUES[-1], why="so")
