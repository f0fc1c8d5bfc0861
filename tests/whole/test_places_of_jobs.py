"""What the job says of where: properties that hold for any job, each held for jobs drawn at random and against hand arithmetic."""

from __future__ import annotations

import time
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from darby.estimate.model import Estimate
from darby.job.loader import load
from darby.pipeline import estimate
from darby.plugin_host.loader import load_plugins
from darby.rules.rule import SPECIFICATION, addendum
from darby.saved.replay.one import Office
from darby.text.diagnostics import is_error
from darby.text.spans import Source

PLUGINS = load_plugins()
LEGEND = """PART 2 - PRODUCTS
A. PT-1: one coat primer, two coats flat.
B. PT-2: one coat primer, two coats eggshell.
C. PT-3: one coat primer, three coats satin.
D. W3: 5/8 in. thick type X gypsum board, two layers.
"""
SIZE = 'length = "12 ft"\nwidth = "10 ft"\nheight = "9 ft"\n'


def made(rows: str, text: str = LEGEND, *addenda: str) -> Estimate:
    job, found = load(Source("job.toml", f'name = "j"\nunits = "us"\n{rows}'), PLUGINS.marks)
    assert job is not None, found
    papers = [(Source("spec.txt", text), SPECIFICATION)]
    papers += [(Source(f"{n}.txt", one), addendum(n)) for n, one in enumerate(addenda, 1)]
    out = estimate(job, papers, PLUGINS)
    assert not is_error(out.diagnostics), out.diagnostics
    return out


def order(made: Estimate) -> dict[str, tuple[Fraction, int | None]]:
    return {item.id: (item.need.value, item.count) for item in made.items}


def paint(made: Estimate) -> dict[str, Fraction]:
    return {item.pool.get("sheen", ""): item.need.value for item in made.items if item.product == "finish paint"}


def room(name: str, more: str = "") -> str:
    return f'[[rooms]]\nname = "{name}"\n{SIZE}{more}'


WALLS, CEILING = Fraction(2 * (12 + 10) * 9), Fraction(12 * 10)
"""Of one room, in sq ft; the trades' own rate of finish paint is 400 sq ft per gal."""


@settings(max_examples=15, deadline=None)
@given(
    count=st.integers(1, 5),
    rooms=st.lists(st.sampled_from(["Vault", "Bindery", "Map store"]), min_size=1, max_size=3, unique=True),
)
def test_a_count_orders_like_as_many_rows(count: int, rooms: list[str]) -> None:
    text = LEGEND + "Vault: PT-1 on walls.\nBindery walls: PT-2.\n"
    hole = '[[openings]]\nwall = "{}"\nwidth = "3 ft"\nheight = "7 ft"\ncount = 2\n'
    counted = "".join(room(n, f'count = {count}\nceiling = "PT-3"\n') for n in rooms) + "".join(map(hole.format, rooms))
    alike = [f"{name} {n}" for name in rooms for n in range(1, count + 1)]
    listed = "".join(room(n, 'ceiling = "PT-3"\n') for n in alike) + "".join(map(hole.format, alike))
    assert order(made(counted, text)) == order(made(listed, text))


@settings(max_examples=15, deadline=None)
@given(name=st.from_regex(r"[B-Z][aeiou][b-z]{3,8}(?: [B-Z][aeiou][b-z]{3,8})?", fullmatch=True))
def test_a_room_that_is_called_otherwise_everywhere_orders_the_same(name: str) -> None:
    text = LEGEND + "| Room | Walls | Ceiling |\n| {} | PT-2 | PT-1 |\n| Bindery | PT-1 | PT-3 |\n"
    rows = room("{}") + room("Bindery")
    before, after = (order(made(rows.replace("{}", n), text.replace("{}", n))) for n in ("Vault", name))
    assert before == after


@pytest.mark.parametrize("place", ["Sauna", "Level 9", "Phase 7", "Room 907", "Vault annex"])
def test_a_place_that_is_not_in_the_job_changes_no_order(place: str) -> None:
    rows = room("Vault", 'number = "101"\nfloor = "Level 1"\nphase = "Phase 1"\n') + room("Bindery")
    text = LEGEND + "| Room | Walls | Ceiling |\n| Vault | PT-2 | PT-1 |\n| Bindery | PT-1 | PT-3 |\n"
    assert order(made(rows, text + f"| {place} | PT-3 | PT-3 |\n")) == order(made(rows, text))


@pytest.mark.parametrize("said", ["Room 204", "Office 204", "Level 2", "Phase 1", "Strong room", "Level 2 offices"])
def test_a_limit_is_met_by_each_name_of_a_room(said: str) -> None:
    where = 'number = 204\nfloor = "Level 2"\nphase = "Phase 1"\nalso = ["strong room"]\n'
    rows = room("Office", where) + room("Bindery", 'floor = "Level 22"\nnumber = 20\n')
    found = paint(made(rows, LEGEND + f"| Room | Walls |\n| {said} | PT-3 |\n| Bindery | PT-1 |\n"))
    assert found["satin"] == WALLS * 3 / 400
    assert found["flat"] == WALLS * 2 / 400


def test_a_system_given_by_hand_holds_before_what_the_documents_give() -> None:
    text = LEGEND + "| Room | Walls | Ceiling |\n| Vault | PT-1 | PT-1 |\n"
    made_by_hand = made(room("Vault", 'walls = "PT-3"\n'), text)
    assert paint(made_by_hand) == {"satin": WALLS * 3 / 400, "flat": CEILING * 2 / 400}
    assert paint(made(room("Vault", 'walls = "pt 3"\n'), text, "PT-3: four coats satin.\n"))["satin"] == WALLS * 4 / 400
    own = 'rules = ["Walls: five coats satin finish paint."]\n' + room("Bindery")
    assert paint(made(own, text))["satin"] == WALLS * 5 / 400


def test_a_type_of_the_job_is_a_system_like_any_other() -> None:
    rows = room("Vault") + '[[walls]]\nname = "p"\nlength = "10 ft"\nheight = "8 ft"\nfaces = 2\ntype = "W9"\n'
    types = '[[types]]\nname = "W9"\nlines = ["Gypsum board 3/4 in. thick, three layers."]\n'
    (thick,) = (i for i in made(rows + types).items if i.pool.get("thickness") == "3/4 in")
    assert thick.need.value == 10 * 8 * 2 * 3
    given_by_words = made(
        room("Vault") + types.replace("W9", "PT-9").replace("3/4 in. thick, three", "1 in. thick, two"), LEGEND
    )
    assert all(i.pool.get("thickness") != "1 in" for i in given_by_words.items)  # defined, and given to no place


def test_a_partition_takes_what_each_of_its_rooms_is_given() -> None:
    rows = room("Vault", 'walls = "PT-3"\n') + room("Bindery", 'walls = "PT-2"\n')
    wall = '[[walls]]\nname = "p"\nlength = "10 ft"\nheight = "9 ft"\ntype = "W3"\nbetween = ["Vault", "Bindery"]\n'
    found = made(rows + wall)
    assert paint(found)["satin"] == (WALLS + 90) * 3 / 400
    assert paint(found)["eggshell"] == (WALLS + 90) * 2 / 400
    (board,) = (i for i in found.items if i.pool.get("type") == "type X")
    assert board.need.value == 90 * 2 * 2


def test_a_mark_that_nobody_defines_is_asked_about_with_the_nearest_that_is() -> None:
    found = made(room("Vault", 'walls = "PT-33"\n'))
    (asked,) = (d for d in found.diagnostics if d.code == "system-undefined")
    assert asked.span is not None
    assert asked.span.text == "PT-33"
    assert asked.message == "PT-33 is given to Vault wall 1, and no document says what PT-33 is."
    assert asked.help.startswith("Did you mean PT-3?")


def test_a_type_with_a_slip_makes_no_other_type_that_of_every_wall() -> None:
    wall = '[[walls]]\nname = "p"\nlength = "10 ft"\nheight = "9 ft"\ntype = "W4"\nfaces = 2\n'
    found = made(room("Vault") + wall)
    assert not [i for i in found.items if i.pool.get("type")]
    assert [d.message for d in found.diagnostics if d.code == "system-undefined"] == [
        "W4 is given to p, and no document says what W4 is."
    ]
    assert not [d for d in found.diagnostics if d.code == "rule-unused" and "W4" in d.message]


def test_an_existing_room_takes_what_is_said_of_existing_work() -> None:
    rows = room("Vault", 'condition = "existing"\n') + room("Bindery")
    found = paint(
        made(rows, "Existing walls: three coats satin finish paint.\nNew walls: two coats flat finish paint.\n")
    )
    assert (found["satin"], found["flat"]) == (WALLS * 3 / 400, WALLS * 2 / 400)


def test_a_condition_that_no_rule_knows_is_told() -> None:
    found = made(room("Vault", 'condition = "derelict"\n'))
    (told,) = (d for d in found.diagnostics if d.code == "condition-unused")
    assert told.span is not None
    assert told.span.text == "derelict"


def test_an_estimate_with_places_is_saved_and_works_out_the_same_again() -> None:
    office = Office.of(PLUGINS)
    rows = (
        room("Vault", 'number = 7\ncount = 2\nwalls = "PT-3"\n')
        + '[[types]]\nname = "PT-3"\nlines = ["Three coats satin finish paint."]\n'
    )
    job = Source("job.toml", f'name = "j"\nunits = "us"\n{rows}')
    first = office.work(job, [(Source("spec.txt", LEGEND), SPECIFICATION)])
    assert first.saved is not None
    assert first.estimate is not None
    again = office.again(first.saved)
    assert again.estimate is not None
    assert order(again.estimate) == order(first.estimate)


@pytest.mark.slow
def test_five_thousand_rooms_with_a_row_each_take_time_that_grows_with_them() -> None:
    def seconds(many: int) -> float:
        rows = "".join(room(f"Office {n}", f"number = {n}\n") for n in range(many))
        text = (
            LEGEND
            + "| Room | Walls | Ceiling |\n"
            + "".join(f"| Office {n} | PT-{n % 3 + 1} | PT-1 |\n" for n in range(many))
        )
        start = time.process_time()
        made(rows, text)
        return time.process_time() - start

    assert seconds(5_000) < 6 * seconds(1_250)
