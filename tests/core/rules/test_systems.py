"""Systems, choices and places of documents joined to the rooms of a job: orders worked out beside Darby by plain arithmetic.

Rooms are 20 x 10 ft and 10 ft high unless said: walls 2 x (20 + 10) x 10 = 600 sq ft, ceiling 200 sq ft. Paint covers 400 sq ft a gallon.
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from attrs import evolve

from darby.estimate.model import Estimate
from darby.job.loader import load
from darby.pipeline import estimate
from darby.plugin_host.loader import load_plugins
from darby.rules.rule import SPECIFICATION, Layer, Rule, addendum
from darby.rules.systems import join_systems
from darby.text.spans import Source
from darby_grammars.kinds import KINDS
from kit import rule
from reads import read_text

ROOM = '[[rooms]]\nname = "{}"\nlength = "20 ft"\nwidth = "10 ft"\nheight = "10 ft"\n'
RATES = "Finish paint: 400 sq ft per gallon.\nPrimer: 400 sq ft per gallon.\n"


def estimated(document: str, *rooms: str, more: str = "") -> Estimate:
    text = 'name = "t"\nunits = "us"\n' + "".join(ROOM.format(name) for name in rooms) + more
    job, _ = load(Source("job.toml", text))
    assert job is not None
    return estimate(job, [(Source("spec.txt", RATES + document), SPECIFICATION)], load_plugins())


def _rules(text: str) -> tuple[Rule, ...]:
    return tuple(read_text(text).rules)


def paint(outcome: Estimate) -> dict[tuple[str, str], Fraction]:
    """Gallons of finish paint by sheen and surface."""
    return {
        (i.pool.get("sheen", ""), i.pool.get("surface", "")): i.need.value
        for i in outcome.items
        if i.product == "finish paint"
    }


LEGEND = """
PAINT LEGEND
PT-1: One coat primer, two coats eggshell.
PT-2: One coat primer, two coats semi-gloss.
PT-3: One coat primer, one coat flat.
"""
SCHEDULE = """
ROOM FINISH SCHEDULE

NO.   ROOM          WALLS    CEILING
101   Reception     PT-1     PT-3
102   Archive       PT-2     PT-3
"""


def test_a_legend_and_a_schedule_give_each_room_its_paint() -> None:
    got = paint(estimated(SCHEDULE + LEGEND, "Reception", "Archive"))
    # 600 x 2 / 400 = 3 gal on the walls of each; 2 x 200 x 1 / 400 = 1 gal on the ceilings
    assert got == {("eggshell", "wall"): 3, ("semi-gloss", "wall"): 3, ("flat", "ceiling"): 1}


def test_a_sentence_gives_a_system_as_a_schedule_does() -> None:
    said = "Reception walls: PT-1.\nArchive walls: PT-2.\nCeilings: PT-3.\n" + LEGEND
    assert paint(estimated(said, "Reception", "Archive")) == paint(estimated(SCHEDULE + LEGEND, "Reception", "Archive"))


def test_a_mark_that_is_given_and_not_defined_is_asked_about() -> None:
    outcome = estimated(SCHEDULE.replace("PT-2 ", "PT-7 ") + LEGEND, "Reception", "Archive")
    assert any("PT-7" in d.message and "mark" in d.message for d in outcome.diagnostics)


@pytest.mark.parametrize(
    ("further", "asked"),
    [
        ("PT-2: One coat primer, two coats satin.\n", True),
        ("PT-2: One coat primer, two coats semi-gloss.\n", False),
        ("PT-4: Walls two coats satin, ceilings two coats flat.\n", False),
    ],
)
def test_a_mark_that_two_clauses_define_otherwise_is_asked_about(further: str, asked: bool) -> None:
    outcome = estimated(SCHEDULE + LEGEND + further, "Reception", "Archive")
    told = [d for d in outcome.diagnostics if d.code == "system-defined-twice"]
    assert [d.message for d in told] == (["PT-2 is defined twice, and not alike."] if asked else [])


def test_a_place_that_the_job_does_not_have_changes_no_order() -> None:
    said = "Walls: two coats eggshell.\nCeilings: one coat flat.\n"
    plain = paint(estimated(said, "Office"))
    strange = paint(estimated(said + "Ensuite: three coats gloss paint.\nSluice walls: four coats satin.\n", "Office"))
    assert plain == strange == {("eggshell", "wall"): 3, ("flat", "ceiling"): Fraction(1, 2)}


@pytest.mark.parametrize("name", ["Ensuite", "Archive", "Pharmacy", "Sluice", "Nurse station"])
def test_a_place_that_no_list_knows_limits_its_rule(name: str) -> None:
    said = f"Walls: two coats eggshell.\nCeilings: two coats eggshell.\n{name} walls: three coats gloss paint.\n"
    got = paint(estimated(said, name, "Office"))
    # 600 x 3 / 400 = 4.5 gal in the place itself; (600 + 200 + 200) x 2 / 400 = 5 gal elsewhere
    assert got[("gloss", "wall")] == Fraction(9, 2)
    assert sum(amount for (sheen, _), amount in got.items() if sheen == "eggshell") == 5


def test_sheens_chosen_by_place_without_a_number_part_the_cans() -> None:
    said = "Finish paint: two coats.\nPaint: eggshell in offices, semi-gloss in restrooms, flat on all ceilings.\n"
    got = paint(estimated(said, "Office 1", "Restroom"))
    assert got == {("eggshell", "wall"): 3, ("semi-gloss", "wall"): 3, ("flat", "ceiling"): 2}


def test_a_room_of_that_very_name_is_meant_where_the_job_has_it() -> None:
    said = "Walls: one coat eggshell.\nCeilings: one coat eggshell.\nLobby walls: three coats gloss.\n"
    assert paint(estimated(said, "Lobby", "Stair lobby"))[("gloss", "wall")] == Fraction(9, 2)
    assert paint(estimated(said, "Stair lobby", "Office"))[("gloss", "wall")] == Fraction(9, 2)


def test_what_is_said_of_existing_work_is_not_done_on_new() -> None:
    said = "New walls: two coats eggshell.\nExisting walls: one coat satin.\nCeilings: one coat flat.\n"
    assert paint(estimated(said, "Office")) == {("eggshell", "wall"): 3, ("flat", "ceiling"): Fraction(1, 2)}


def test_soffits_and_columns_hear_what_is_said_of_them_alone() -> None:
    said = "Walls: two coats eggshell.\nCeilings: one coat flat.\nColumns: two coats gloss paint.\n"
    more = '[[columns]]\nname = "posts"\nwidth = "1 ft"\ndepth = "1 ft"\nheight = "10 ft"\ncount = 5\n'
    # five columns of 4 x 1 x 10 = 40 sq ft: 200 x 2 / 400 = 1 gal
    assert paint(estimated(said, "Office", more=more))[("gloss", "wall")] == 1


def test_a_system_that_is_said_of_one_surface_is_not_given_to_another() -> None:
    rules = [
        rule("coats", "finish paint", "2", surface="wall", mark="P-3"),
        rule("coats", "finish paint", "1", surface="ceiling", mark="P-3"),
    ]
    given = rule("system", "finish paint", "1", surface="ceiling", room="lobby")
    joined = join_systems([*rules, evolve(given, choice="P 3")]).rules
    assert [(r.amount.value, dict(r.scope)) for r in joined] == [
        (1, {"room": "lobby", "surface": "ceiling", "system": "P 3"})
    ]


@pytest.mark.parametrize(
    ("defined", "given", "stands"),
    [
        (SPECIFICATION, addendum(1), addendum(1)),
        (addendum(2), SPECIFICATION, addendum(2)),
        (addendum(1), addendum(2), addendum(2)),
        (SPECIFICATION, SPECIFICATION, SPECIFICATION),
    ],
)
def test_what_a_system_says_of_a_place_stands_as_high_as_the_later_of_its_two_clauses(
    defined: Layer, given: Layer, stands: Layer
) -> None:
    coats = rule("coats", "finish paint", "2", layer=defined, mark="PT-1")
    to = evolve(rule("coats", "finish paint", "1", layer=given, room="hall"), kind=KINDS["system"], choice="PT-1")
    (made,) = join_systems([coats, to]).rules
    assert (made.layer, made.scope) == (stands, {"room": "hall", "system": "PT-1"})


BETWEEN = """
[[walls]]
name = "partition"
length = "10 ft"
height = "10 ft"
type = "W1"
between = ["Hall", "Bath"]
"""
ONE_EACH = "PARTITION TYPES\nW1: one layer 5/8 in. gypsum board each side"


def boards(outcome: Estimate) -> dict[tuple[str, str], Fraction]:
    """Square feet of board by thickness and type, without waste."""
    return {
        (i.pool.get("thickness", ""), i.pool.get("type", "")): i.need.value
        for i in outcome.items
        if i.product == "gypsum board"
    }


def of_partition(document: str) -> dict[tuple[str, str], Fraction]:
    """Board of one partition of 100 sq ft between a hall and a bath, the rooms' own walls aside, with no waste."""
    text = 'name = "t"\nunits = "us"\n' + BETWEEN
    for name in ("Hall", "Bath"):
        text += f'[[rooms]]\nname = "{name}"\nfloor = "1"\n'
    job, problems = load(Source("job.toml", text))
    assert job is not None, problems
    spec = "Gypsum board waste: 0 %.\n\n" + document
    return boards(estimate(job, [(Source("spec.txt", spec), SPECIFICATION)], load_plugins()))


@pytest.mark.parametrize(
    "words",
    ["on the side of the bath", "on the bath side", "on the side facing the bath", "to the side of the bath"],
)
def test_a_board_of_one_side_goes_on_the_face_of_that_room_alone(words: str) -> None:
    got = of_partition(f"{ONE_EACH}, moisture resistant {words}.")
    # one face of 10 x 10 ft each
    assert sorted(got.values()) == [100, 100]
    assert {kind for _, kind in got} == {"", "moisture resistant"}


@pytest.mark.parametrize("words", ["on the bath side", "on the side of the bath"])
def test_layers_of_one_side_are_those_of_the_face_of_that_room(words: str) -> None:
    got = of_partition(f"{ONE_EACH}.\n\nPartition type W1: provide two layers of 5/8 in. gypsum board {words}.")
    # one layer on the hall's face, two on the bath's: 100 + 200 sq ft
    assert sum(got.values()) == 300


LIST = """Gypsum board waste: 0 %.

MATERIALS
Standard board: gypsum board, 1/2 in. thick.
Type X board: 5/8 in. thick, Type X.
Moisture resistant board: 1/2 in. thick.

"""


@pytest.mark.parametrize(
    "said",
    [
        "Walls: standard board, one layer.\nArchive walls: Type X board, one layer.",
        "Walls: one layer of standard board.\nArchive walls: one layer of Type X board.",
        "One layer of standard board on walls. One layer of Type X board on Archive walls.",
        "Archive walls: Type X board, single layer.\nWalls: standard board, single layer.",
    ],
)
def test_a_board_that_is_listed_by_its_type_is_chosen_by_that_type(said: str) -> None:
    got = boards(estimated(f"{LIST}SCHEDULE\n{said}\nCeilings: standard board, one layer.", "Reception", "Archive"))
    walls = {(thickness, kind): need for (thickness, kind), need in got.items() if kind in ("type X", "regular", "")}
    assert walls["5/8 in", "type X"] == 600  # the walls of one room
    assert {thickness for thickness, kind in walls if kind != "type X"} == {"1/2 in"}


def test_a_thickness_that_the_place_has_itself_beats_the_list() -> None:
    said = "Archive walls: 3/4 in. gypsum board.\nWalls: Type X board, one layer.\nCeilings: standard board, one layer."
    got = boards(estimated(LIST + "SCHEDULE\n" + said, "Archive"))
    assert "3/4 in" in {thickness for thickness, _ in got}


@pytest.mark.parametrize("label", ["D-1: doors:", "**D-1**: Doors:", "D-1 Doors:"])
def test_a_system_whose_own_label_is_a_surface_that_no_other_has_goes_there(label: str) -> None:
    legend = f"- W-1: walls: two coats eggshell.\n- {label} two coats gloss.\n"
    outcome = estimated(legend, "Office", more='[[doors]]\nname = "d"\nwidth = "3 ft"\nheight = "7 ft"\n')
    assert {i.pool.get("sheen") for i in outcome.items if i.pool.get("surface") == "door"} == {"gloss"}


DOORS = '[[doors]]\nname = "doors"\nwidth = "4 ft"\nheight = "5 ft"\ncount = 10\n'


@pytest.mark.parametrize(
    "system",
    [
        "PT-9, doors: two coats gloss.",
        "PT-9   Doors: two coats gloss. Color: Ink.",
        "PT-9 - Doors: two coats gloss.",
        "PT-9 DOORS\nTwo coats gloss.",
        "Mark | Use | System\nPT-8 | Base | one coat satin\nPT-9 | Doors | two coats gloss",
        "COLORS\nPT-1 Bone. PT-9 Ink.\n\nSYSTEMS\nPT-9, doors: two coats gloss.",
    ],
)
def test_a_system_whose_own_label_names_doors_goes_on_the_doors_that_no_schedule_has(system: str) -> None:
    got = paint(estimated(f"{SCHEDULE}{LEGEND}\n{system}\n", "Reception", more=DOORS))
    # ten doors of 20 sq ft, both sides: 400 x 2 / 400 = 2 gal
    assert sum(need for (sheen, _), need in got.items() if sheen == "gloss") == 2
    assert sum(got.values()) == 2 + 3 + Fraction(1, 2)


@pytest.mark.parametrize(
    "more",
    [
        "PT-8, doors: two coats satin.",
        "Doors: PT-8.\nPT-8: two coats satin.",
        "Store doors: PT-9.",
    ],
)
def test_nor_where_another_is_for_doors_or_it_is_given_somewhere(more: str) -> None:
    joined = join_systems(_rules(f"PT-9   Doors: two coats gloss.\n{more}\n"))
    general = [r for r in joined.rules if r.scope.get("system") == "PT-9" and "room" not in r.scope]
    assert not general


def test_nor_by_a_label_of_a_chapter() -> None:
    doors = rule("coats", "finish paint", "2", mark="PT-9", surface="door")
    chapter, own = (evolve(doors, bound_by=(("surface", f"heading: {text}"),)) for text in ("DOORS", "PT-9 DOORS"))
    assert not join_systems([chapter]).rules
    assert [r.scope["surface"] for r in join_systems([own]).rules] == ["door"]
    assert not join_systems([evolve(own, scope={**own.scope, "condition": "old"})]).rules


def test_what_a_system_says_again_of_its_own_surface_does_not_keep_it_from_there() -> None:
    text = (
        "SYSTEM 6 - BOARD CEILINGS, FLAT\nFIRST COAT\nAcrylic sealer, 400 sq ft per gallon\nSECOND COAT\nCeiling flat\n"
    )
    made = join_systems(_rules(text)).rules
    assert {(r.kind.name, r.subject) for r in made if r.scope.get("surface") == "ceiling"} >= {
        ("coverage", "primer"),
        ("coats", "finish paint"),
    }
    doors = evolve(
        rule("coats", "finish paint", "2", mark="PT-9", surface="door"), bound_by=(("surface", "heading: PT-9 DOORS"),)
    )
    assert not join_systems([doors, evolve(doors, scope={**doors.scope, "room": "store"})]).rules
    assert not join_systems([doors, evolve(doors, scope={**doors.scope, "surface": "trim"}, bound_by=())]).rules


TYPES = "PARTITION TYPES\nW1   One layer of type X gypsum board on each side.\n"
FACED = '\n[[walls]]\nname = "{0} to {1}"\nlength = "10 ft"\nheight = "10 ft"\ntype = "{2}"\nbetween = ["{0}", "{1}"]\n'


def by_type(outcome: Estimate) -> dict[str, Fraction]:
    """Square feet of board by type."""
    return {i.pool.get("type", ""): i.need.value for i in outcome.items if i.product == "gypsum board"}


@pytest.mark.parametrize(
    ("further", "needed"),
    [
        ("", 400),
        ("W1 at Store 12: two layers on each side.\n", 600),
        ("W1 at Store 12: two layers on the store side.\n", 500),
        ("W1   At the vault three layers on each side.\n", 400),
    ],
)
def test_a_system_differs_in_a_room_that_its_definition_names_and_nowhere_else(further: str, needed: int) -> None:
    # two walls of two faces, 100 sq ft each; each side of a wall of the store is both of its faces, and the store's side one of them
    walls = FACED.format("Hall", "Store 12", "W1") + FACED.format("Hall", "Office", "W1")
    rooms = "".join(f'\n[[rooms]]\nname = "{name}"\nfloor = "Level 1"\n' for name in ("Hall", "Store 12", "Office"))
    outcome = estimated(TYPES + further, more=rooms + walls)
    assert by_type(outcome) == {"type X": needed}


def test_a_room_that_is_said_of_all_of_a_system_only_describes_it() -> None:
    text = "PAINT LEGEND\nPT-1: one coat primer and two coats eggshell in offices.\nPT-2: one coat primer.\nLobby walls: PT-1.\n"
    made = join_systems(_rules(text)).rules
    assert [(r.kind.name, r.scope["room"]) for r in made if r.subject == "finish paint"] == [("coats", "lobby")]


def test_the_face_that_is_called_after_no_room_is_that_of_any_other() -> None:
    types = (
        "PARTITION TYPES\nW2   Corridor side: one layer type X gypsum board. Room side: one layer moisture resistant gypsum board.\n"
        "W3   Pump room side: two layers type X gypsum board. Opposite side: one layer moisture resistant gypsum board.\n"
    )
    walls = FACED.format("Corridor", "Office", "W2") + FACED.format("Pump Room", "Office", "W3")
    rooms = "".join(
        f'\n[[rooms]]\nname = "{name}"\nfloor = "Level 1"\n' for name in ("Corridor", "Pump Room", "Office")
    )
    assert by_type(estimated(types, more=rooms + walls)) == {"type X": 100 + 200, "moisture resistant": 100 + 100}


def test_what_a_remark_leaves_out_is_left_out_though_the_schedule_gives_the_system() -> None:
    # two rooms of 600 sq ft of walls; in the archive the remark leaves the primer alone
    schedule = (
        "ROOM FINISH SCHEDULE\n\nNO.   ROOM          WALLS    REMARKS\n101   Reception     PT-1\n102   Archive       PT-1     c\n\n"
        "REMARKS\nc.  Walls: primer only, no finish coats.\n"
    )
    outcome = estimated(
        f"PAINT LEGEND\nPT-1: One coat primer, two coats eggshell.\n\n{schedule}", "Reception", "Archive"
    )
    assert paint(outcome)["eggshell", "wall"] == Fraction(600 * 2, 400)
