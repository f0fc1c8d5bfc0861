"""What holds of every built-in trade, whatever is ruled: rooms add up, rules of a room stay in it, all that counts is shown."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from fractions import Fraction
from typing import Any

import pytest
from attrs import evolve

from darby.estimate.trade import Trade
from darby.job.model import Job, Surface
from darby.quantities.amounts import Amount, leaves
from darby.rules.rule import Rule
from darby_board.trade import TRADE as BOARDS
from darby_coatings.trade import TRADE as COATINGS
from darby_fasteners.trade import TRADE as FASTENERS
from darby_joints.trade import TRADE as JOINTS
from jobs import corner, job, opening, room, run
from kit import rule

BOARD, SCREW, CLIP, GLUE = "gypsum board", "screw", "drywall clip", "adhesive"
COMPOUND, TAPE, BEAD = "joint compound", "joint tape", "corner bead"
PRIMER, PAINT = "primer", "finish paint"
TRADES = {"board": BOARDS, "coatings": COATINGS, "fasteners": FASTENERS, "joints": JOINTS}

BASE: list[dict[str, Any]] = [
    {"kind": "layers", "subject": BOARD, "amount": "1"},
    {"kind": "thickness", "subject": BOARD, "amount": "1/2 in"},
    {"kind": "sheet", "subject": BOARD, "amount": "4 ft", "by": "8 ft"},
    {"kind": "waste", "subject": BOARD, "amount": "5 %"},
    {"kind": "framing", "subject": BOARD, "amount": "16 in"},
    {"kind": "finish level", "subject": BOARD, "amount": "4"},
    {"kind": "consumption", "subject": SCREW, "amount": "1000", "per": "1000 sq ft"},
    {"kind": "spacing", "subject": CLIP, "amount": "16 in"},
    {"kind": "consumption", "subject": COMPOUND, "amount": "14 lb", "per": "100 sq ft"},
    {"kind": "consumption", "subject": TAPE, "amount": "35 ft", "per": "100 sq ft"},
    {"kind": "package", "subject": BEAD, "amount": "8 ft", "per": "1 stick"},
    {"kind": "coats", "subject": PRIMER, "amount": "1"},
    {"kind": "coats", "subject": PAINT, "amount": "2"},
    {"kind": "coverage", "subject": PRIMER, "amount": "250 sq ft", "per": "1 gal"},
    {"kind": "coverage", "subject": PAINT, "amount": "400 sq ft", "per": "1 gal"},
]
"""A house in which everything is ruled."""

OTHERWISE: list[dict[str, Any]] = [
    {"kind": "layers", "subject": BOARD, "amount": "2"},
    {"kind": "layers", "subject": BOARD, "amount": "0"},
    {"kind": "thickness", "subject": BOARD, "amount": "5/8 in"},
    {"kind": "thickness", "subject": BOARD, "amount": "1/2 in", "type": "type X"},
    {"kind": "sheet", "subject": BOARD, "amount": "4 ft", "by": "12 ft"},
    {"kind": "waste", "subject": BOARD, "amount": "12 %"},
    {"kind": "finish level", "subject": BOARD, "amount": "0"},
    {"kind": "consumption", "subject": COMPOUND, "amount": "7 lb", "per": "100 sq ft", "coat": "skim"},
    {"kind": "deduct openings over", "subject": BOARD, "amount": "10 sq ft"},
    {"kind": "deduct openings over", "subject": PAINT, "amount": "25 sq ft"},
    {"kind": "deduct openings over", "subject": BOARD, "amount": "50 %"},
    {"kind": "consumption", "subject": SCREW, "amount": "900", "per": "500 sq ft"},
    {"kind": "consumption", "subject": SCREW, "amount": "5 lb", "per": "1000 sq ft"},
    {"kind": "spacing", "subject": SCREW, "amount": "6 in"},
    {"kind": "waste", "subject": SCREW, "amount": "10 %"},
    {"kind": "spacing", "subject": CLIP, "amount": "2 ft"},
    {"kind": "consumption", "subject": GLUE, "amount": "2 lb", "per": "100 sq ft"},
    {"kind": "consumption", "subject": GLUE, "amount": "1 tube", "per": "38 ft"},
    {"kind": "consumption", "subject": COMPOUND, "amount": "20 lb", "per": "100 sq ft"},
    {"kind": "consumption", "subject": COMPOUND, "amount": "1 gal", "per": "100 sq ft"},
    {"kind": "waste", "subject": COMPOUND, "amount": "20 %"},
    {"kind": "waste", "subject": TAPE, "amount": "20 %"},
    {"kind": "consumption", "subject": "texture", "amount": "10 lb", "per": "100 sq ft"},
    {"kind": "coats", "subject": PAINT, "amount": "3"},
    {"kind": "coats", "subject": PAINT, "amount": "2", "sheen": "satin"},
    {"kind": "coats", "subject": PAINT, "amount": "1", "coat": "intermediate"},
    {"kind": "coverage", "subject": PAINT, "amount": "300 sq ft", "per": "1 gal"},
    {"kind": "coverage", "subject": PAINT, "amount": "10 m2", "per": "1 L"},
    {"kind": "consumption", "subject": PRIMER, "amount": "1 gal", "per": "150 sq ft"},
    {"kind": "film", "subject": PAINT, "amount": "4 mil", "film": "wet"},
    {"kind": "waste", "subject": PRIMER, "amount": "15 %"},
]
"""What may be ruled otherwise in one of its rooms."""


def ruled(*said: dict[str, Any], **more: str) -> list[Rule]:
    amounts = {"1 tube": Amount.read("1 tube")}
    found = []
    for one in said:
        given = {key: value for key, value in one.items() if key not in ("kind", "subject", "amount", "per")}
        amount = amounts.get(one["amount"], one["amount"])
        found.append(rule(one["kind"], one["subject"], amount, one.get("per", ""), **given, **more))
    return found


def house(*names: str) -> Job:
    surfaces: list[Surface] = []
    corners = []
    for number, name in enumerate(names):
        door, window = (
            opening("3 ft", "7 ft"),
            evolve(opening("5 ft", "6 ft", name="window"), reveal=Amount.read("6 in"), sill=True),
        )
        surfaces += room(f"{12 + 3 * number} ft", "10 ft", "8 ft", name=name, openings=[door, window])
        corners += [corner(4, "8 ft", room=name), corner(1, "8 ft", kind="outside", room=name)]
    return job(*surfaces, corners=corners)


def needs(trade: Trade, work: Job, rules: Iterable[Rule]) -> dict[object, Fraction]:
    """What is needed of each product in each kind of measure, whatever pools it is bought in."""
    found: Counter[object] = Counter()
    for item in run(trade, work, rules)[0]:
        found[item.product, item.need.unit.dimension] += item.need.size
    return {key: size for key, size in found.items() if size}


def added(*parts: dict[object, Fraction]) -> dict[object, Fraction]:
    return {key: sum((p.get(key, Fraction(0)) for p in parts), Fraction(0)) for key in {k for p in parts for k in p}}


def told(one: dict[str, Any]) -> str:
    return " ".join(one.values())


@pytest.mark.parametrize("trade", TRADES.values(), ids=TRADES)
@pytest.mark.parametrize("one", OTHERWISE, ids=told)
def test_a_rule_of_one_room_makes_that_room_what_it_would_be_alone_under_it_and_leaves_the_others(
    trade: Trade, one: dict[str, Any]
) -> None:
    vault, hall, both = house("Vault"), house("Vault", "Hall"), house("Vault", "Hall")
    hall = evolve(
        hall,
        surfaces=tuple(s for s in hall.surfaces if s.room == "Hall"),
        corners=tuple(c for c in hall.corners if c.room == "Hall"),
    )
    everywhere = ruled(*BASE)
    narrow = [r for r in BASE if (r["kind"], r["subject"]) != (one["kind"], one["subject"]) or "coat" in one]
    if one["kind"] in ("film",):
        narrow = [r for r in narrow if (r["kind"], r["subject"]) != ("coverage", PAINT)]
        everywhere = ruled(*narrow)
    together = needs(trade, both, [*everywhere, *ruled(one, room="vault")])
    assert together == added(needs(trade, vault, ruled(*narrow, one)), needs(trade, hall, everywhere))


@pytest.mark.parametrize("trade", TRADES.values(), ids=TRADES)
@pytest.mark.parametrize("one", [{}, *OTHERWISE], ids=told)
def test_an_item_names_every_rule_of_its_working_and_was_told_every_rule_it_names(
    trade: Trade, one: dict[str, Any]
) -> None:
    rules = ruled(*BASE) + (ruled(one, room="vault") if one else [])
    by_origin = {id(part.step.origin): r for r in rules for part in (r.amount, r.per, r.by) if part is not None}
    items, asked = run(trade, house("Vault", "Hall"), rules)
    heard = set(asked.heard)
    assert len({item.id for item in items}) == len(items)
    for item in items:
        amounts = [item.need, *([item.package] if item.package is not None else [])]
        worked = {
            by_origin[id(leaf.step.origin)] for a in amounts for leaf in leaves(a) if id(leaf.step.origin) in by_origin
        }
        assert worked <= heard, item.product
        assert set(item.rules) <= heard, item.product
        assert {r for r in worked if r.kind.name not in ("waste", "package")} <= set(item.rules), item.product


@pytest.mark.parametrize("trade", TRADES.values(), ids=TRADES)
def test_surfaces_in_another_order_need_the_same(trade: Trade) -> None:
    work = house("Vault", "Hall", "Tower")
    rules = ruled(*BASE) + [r for one in OTHERWISE[::3] for r in ruled(one, room="hall")]
    back = evolve(work, surfaces=work.surfaces[::-1], corners=work.corners[::-1])
    assert needs(trade, work, rules) == needs(trade, back, rules[::-1])


@pytest.mark.parametrize("trade", TRADES.values(), ids=TRADES)
def test_a_house_twice_needs_all_twice(trade: Trade) -> None:
    once, twice = house("Vault", "Hall"), house("Vault", "Hall")
    again = [evolve(s, name=f"{s.name} again", room=s.room) for s in twice.surfaces]
    twice = evolve(twice, surfaces=(*twice.surfaces, *again), corners=(*twice.corners, *twice.corners))
    rules = ruled(*BASE)
    assert needs(trade, twice, rules) == added(*2 * [needs(trade, once, rules)])


def test_the_house_needs_something_of_every_product() -> None:
    found = {product for trade in TRADES.values() for product, _ in needs(trade, house("Vault"), ruled(*BASE))}  # type: ignore[misc]
    assert found == {BOARD, SCREW, CLIP, COMPOUND, TAPE, BEAD, PRIMER, PAINT}
