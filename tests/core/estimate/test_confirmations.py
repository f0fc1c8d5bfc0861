"""Readings to confirm and what the order is without each: worked out beside Darby by plain arithmetic.

The room is 20 x 10 ft and 10 ft high: walls 600 sq ft, ceiling 200 sq ft. Paint covers 400 sq ft a gallon and comes in cans of 1 gal.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

import pytest
from attrs import evolve
from jsonschema import Draft202012Validator

from checkout import ROOT
from darby.documents.exact_json.estimate import estimate_json
from darby.estimate import confirmations as module
from darby.estimate.line_item import LineItem
from darby.estimate.model import Confirmation, Estimate
from darby.job.loader import load
from darby.pipeline import estimate
from darby.plugin_host.loader import load_plugins
from darby.quantities.amounts import Amount
from darby.reading.read import Reading, read
from darby.rules.rule import SPECIFICATION, addendum
from darby.text.spans import Source

ROOM = '[[rooms]]\nname = "{}"\nlength = "20 ft"\nwidth = "10 ft"\nheight = "10 ft"\n'
RATES = "Finish paint: 400 sq ft per gallon.\nFinish paint: 1 gal cans.\n"
WHY = "what it is said of stands far from it"


def estimated(
    document: str, *doubted: str, rooms: Sequence[str] = ("Office",), own: Sequence[str] = (), late: str = "", asking: bool = True
) -> Estimate:  # fmt: skip
    """The estimate of a document in which the readings of some stretches are on weak evidence."""

    def reader(*args: Any, **how: Any) -> Reading:
        made = read(*args, **how)
        rules = [evolve(r, confirm=WHY) if r.span.text in doubted and not how.get("strict") else r for r in made.rules]
        return evolve(made, rules=tuple(rules))

    lines = f"rules = {json.dumps(list(own))}\n"
    text = 'name = "t"\nunits = "us"\n' + lines + "".join(ROOM.format(name) for name in rooms)
    job, _ = load(Source("job.toml", text))
    assert job is not None
    papers = [(Source("spec.txt", RATES + document), SPECIFICATION)]
    papers += [(Source("addendum-1.txt", late), addendum(1))] if late else []
    return estimate(job, papers, load_plugins(only=["coatings", "grammars"]), reader=reader, asking=asking)


def cans(one: Confirmation) -> list[tuple[int | None, int | None]]:
    """The cans of finish paint of each line that moves, now and without the reading."""
    assert one.without is not None
    return [
        (s.now.count if s.now else None, s.then.count if s.then else None)
        for s in one.without
        if (s.now or s.then).product == "finish paint"  # type: ignore[union-attr]
    ]


WALLS = "Walls: three coats eggshell finish paint.\nCeilings: one coat eggshell finish paint.\n"


def test_a_reading_in_doubt_says_what_hangs_on_it_and_what_the_order_is_without_it() -> None:
    done = estimated("Finish paint: one coat satin.\nWalls: three coats satin finish paint.\n", "three coats")
    (one,) = done.confirmations
    assert (one.why, one.place.text, str(one.place)) == (WHY, "three coats", "spec.txt:4:8")
    # now (600 x 3 + 200 x 1) / 400 = 5 cans; without it (600 + 200) / 400 = 2 cans
    assert cans(one) == [(5, 2)]
    (item,) = (i for i in done.items if i.product == "finish paint")
    assert one.items == (item.id,)
    assert one.lines == ("Walls: 3 coats satin finish paint.",)


def test_a_line_that_is_otherwise_without_the_reading_is_gone_and_another_stands_for_it() -> None:
    (one,) = estimated(WALLS, "three coats").confirmations
    # now 600 x 3 / 400 = 4.5 and 200 / 400 = 0.5 are 5 cans of eggshell together; without it the default, two coats of no sheen,
    # 600 x 2 / 400 = 3 cans, and 1 can of eggshell for the ceiling
    assert sorted(cans(one), key=str) == sorted([(5, None), (None, 1), (None, 3)], key=str)


def test_where_nothing_is_in_doubt_nothing_is_to_confirm() -> None:
    assert estimated(WALLS).confirmations == ()


def test_a_line_of_ones_own_that_beats_the_reading_settles_it() -> None:
    doubtful = "Finish paint: one coat satin.\nWalls: three coats satin finish paint.\n"
    (one,) = estimated(doubtful, "three coats").confirmations
    for own in (*one.lines, "Walls: two coats finish paint."):
        assert estimated(doubtful, "three coats", own=[own]).confirmations == ()
    confirmed = estimated(doubtful, "three coats", own=one.lines)
    assert [i.count for i in confirmed.items if i.product == "finish paint"] == [5]


def test_no_line_is_offered_that_would_beat_what_is_said_of_a_narrower_place() -> None:
    doubtful = "Walls: two coats satin finish paint.\nStore walls: three coats satin finish paint.\n"
    (one,) = estimated(doubtful, "two coats", rooms=("Office", "Store")).confirmations
    assert one.lines == ()
    (one,) = estimated(doubtful, "two coats", rooms=("Office",)).confirmations
    assert one.lines == ("Walls: 2 coats satin finish paint.",)


def test_a_reading_that_an_addendum_beats_is_not_listed() -> None:
    doubtful = "Walls: three coats satin finish paint.\n"
    assert estimated(doubtful, "three coats").confirmations
    assert estimated(doubtful, "three coats", late="Walls: two coats satin finish paint.\n").confirmations == ()


def test_a_reading_that_no_trade_uses_is_not_listed() -> None:
    assert (
        estimated(
            "Kitchen walls: three coats satin finish paint.\n" + "Walls: two coats satin.\n", "three coats"
        ).confirmations
        == ()
    )


def test_rules_of_one_clause_are_one_reading() -> None:
    (one,) = estimated("Walls and ceilings: three coats satin finish paint.\n", "three coats").confirmations
    assert {r.scope["surface"] for r in one.rules} == {"wall", "ceiling"}
    # now 800 x 3 / 400 = 6 cans; without it 800 x 2 / 400 = 4 cans of no sheen
    assert sorted(cans(one), key=str) == sorted([(6, None), (None, 4)], key=str)
    assert one.lines == ("Walls: 3 coats satin finish paint.", "Ceilings: 3 coats satin finish paint.")


LEGEND = "PAINT LEGEND\nPT-1: Three coats eggshell.\n\n"
GIVEN = "Office walls: PT-1.\nStore walls: PT-1.\nCeilings: one coat flat.\n"


def test_a_doubtful_definition_of_a_system_is_one_reading_wherever_it_is_given() -> None:
    done = estimated(GIVEN + LEGEND, "Three coats", rooms=("Office", "Store"))
    (one,) = done.confirmations
    assert one.place.text == "Three coats"
    assert {r.scope["room"] for r in one.rules} == {"office", "store"}
    # now 2 x 600 x 3 / 400 = 9 cans of eggshell; without it two coats of no sheen
    assert (9, None) in cans(one)


def test_a_system_doubtfully_given_to_a_place_is_looked_at_where_it_is_given() -> None:
    done = estimated(GIVEN + LEGEND, "PT-1", rooms=("Office", "Store"))
    places = [one.place.text for one in done.confirmations]
    assert places == ["PT-1", "PT-1"]
    first = done.confirmations[0]
    assert {r.scope["room"] for r in first.rules} == {"office"}
    # one room of two: 9 cans of eggshell become 600 x 3 / 400 = 4.5, 5 cans
    assert (9, 5) in cans(first)


def test_more_readings_than_the_limit_are_listed_and_not_worked_out() -> None:
    rooms = [f"Room {n}" for n in range(1, 25)]
    document = "".join(f"{name} walls: three coats satin finish paint.\n" for name in rooms)
    done = estimated(document, "three coats", rooms=rooms)
    assert len(done.confirmations) == 24
    assert [one.without is not None for one in done.confirmations] == [True] * 20 + [False] * 4
    assert [bool(one.lines) for one in done.confirmations] == [True] * 20 + [False] * 4
    assert all(one.items for one in done.confirmations)


def test_a_large_job_is_worked_out_for_fewer(monkeypatch: Any) -> None:
    monkeypatch.setattr(module, "_WORK", 1)
    (one,) = estimated("Walls: three coats satin finish paint.\n", "three coats").confirmations
    assert one.without is None


def test_the_items_alone_confirm_nothing() -> None:
    assert estimated(WALLS, "three coats", asking=False).confirmations == ()


def test_the_json_keeps_to_its_schema_and_names_both_orders() -> None:
    done = estimated("Finish paint: one coat satin.\nWalls: three coats satin finish paint.\n", "three coats")
    data = estimate_json(done)
    schema = json.loads((ROOT / "core/darby/schemas/estimate.schema.json").read_text(encoding="utf-8"))
    Draft202012Validator(schema).validate(data)
    (one,) = data["confirmations"]
    (moved,) = one["without"]
    assert (moved["now"]["order"]["count"], moved["then"]["order"]["count"]) == (5, 2)
    assert (one["file"], one["line"], one["column"]) == ("spec.txt", 4, 8)
    assert [rule["confirm"] for rule in one["rules"]] == [WHY]
    assert one["items"] == [moved["item"]]


POUNDS = Amount.read("18 lb")


def packed(size: str, container: str = "pail") -> Amount:
    return Amount.read(size) / Amount.of(1, container)


def line(need: Amount = POUNDS, package: Amount | None = None) -> LineItem:
    return LineItem("filler", need, package=package)


@pytest.mark.parametrize(
    ("one", "other", "moved"),
    [
        # 18 lb and 19 lb are both one pail of 20 lb; 21 lb are two
        (line(package=packed("20 lb")), line(Amount.read("19 lb"), packed("20 lb")), False),
        (line(package=packed("20 lb")), line(Amount.read("21 lb"), packed("20 lb")), True),
        (line(package=packed("20 lb")), line(package=packed("25 lb")), True),
        (line(package=packed("20 lb")), line(package=packed("20 lb", "bag")), True),
        (line(package=packed("20 lb")), line(), True),
        (line(), line(), False),
        (line(), line(Amount.read("19 lb")), True),
        (line(), None, True),
        (None, None, False),
    ],
)
def test_a_line_has_moved_where_it_orders_something_else(
    one: LineItem | None, other: LineItem | None, moved: bool
) -> None:
    assert module._moved(one, other) is moved
    assert module._moved(other, one) is moved
