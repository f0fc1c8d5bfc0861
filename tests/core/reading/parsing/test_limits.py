"""Work that stops at what comes underneath: what goes over it is left out there, and nowhere else."""

from __future__ import annotations

import pytest

from reads import asked, said

WALL, CEILING = (
    "replaced of finish paint (room {0}, surface wall): {1}",
    "replaced of finish paint (room {0}, surface ceiling): {1}",
)


def left_out(text: str) -> list[str]:
    return [rule for rule in said(text) if rule.startswith("replaced")]


@pytest.mark.parametrize(
    ("text", "room", "by"),
    [
        ("Plant room: primer only.", "plant room", "primer only"),
        ("Store: one coat primer only.", "store", "one coat primer only"),
        ("Hall: mist coat only; no finish coats.", "hall", "mist coat only"),
        ("Plant room: primed, no finish.", "plant room", "no finish"),
        ("Garage: prime coat, finish by others.", "garage", "finish by others"),
        ("In closets apply primer only.", "closet", "primer only"),
        ("Attic: prime and leave.", "attic", "prime and leave"),
        ("Only one coat of primer in the attic.", "attic", "only one coat of primer"),
        ("Kitchen: nothing but primer.", "kitchen", "nothing but primer"),
        ("Closets: primed, ready for decoration by the tenant.", "closet", "decoration by the tenant"),
        ("Walls and ceilings: two coats finish paint. The laundry receives primer only.", "laundry", "primer only"),
        ("Walls and ceilings: prime only, no finish coats, in the garage.", "garage", "prime only"),
    ],
)
def test_the_finish_is_left_out_of_a_room(text: str, room: str, by: str) -> None:
    assert left_out(text) == [WALL.format(room, by), CEILING.format(room, by)]


@pytest.mark.parametrize(
    ("text", "rule"),
    [
        ("Storage room walls primed only.", "replaced of finish paint (room storage room, surface wall): primed only"),
        ("Walls: one coat primer only. Finish paint is by the tenant.", "replaced of finish paint (surface wall): one coat primer only"),
        ("Garage ceilings: just one coat of primer.", "replaced of finish paint (room garage, surface ceiling): just one coat of primer"),
        ("Attic walls: sealer only", "replaced of finish paint (room attic, surface wall): sealer only"),
    ],
)  # fmt: skip
def test_or_of_one_surface(text: str, rule: str) -> None:
    assert left_out(text) == [rule]


def test_of_the_cells_of_a_schedule_and_of_a_system() -> None:
    cells = "ROOM    WALLS    CEILING\nKitchen    Flat    Flat\nServer room    Primer only    Primer only"
    assert left_out(cells) == [WALL.format("server room", "primer only"), CEILING.format("server room", "primer only")]
    assert "system of finish paint (room laundry, surface wall): P5" in said("P5: primer only.\nLaundry walls: P5")


def test_it_is_told_what_is_left_out_and_where() -> None:
    told = "“primer only” leaves out finish paint: none of it is ordered for the wall and ceiling of attic."
    assert told in asked("Attic: primer only.")


@pytest.mark.parametrize(
    "text",
    [
        "Walls: one coat primer only and two coats eggshell.",
        "Two coats finish paint over one coat primer only.",
        "Walls: one coat primer only where behind tile.",
        "Apply primer only after the dust is off.",
        "Prime the garage walls; finish them with two coats.",
    ],
)
def test_a_count_and_a_condition_leave_nothing_out(text: str) -> None:
    assert not left_out(text)
    assert not [q for q in asked(text) if "left out" in q]


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("Primer only.", "where the work stops there is not said"),
        ("Walls in tenant premises: primer only.", "nothing is left out"),
        ("Prime only in the laundry.", "or it goes nowhere else"),
        ("Where walls get wallcovering, prime only.", "a condition that is not understood"),
        ("Den: one coat primer only. Two coats semi-gloss over it.", "which holds there is not said"),
        ("Den: drywall primer only, no PVA; two coats eggshell.", "which holds there is not said"),
        ("Den: new walls primer only; existing walls primer and two coats flat.", "which holds there is not said"),
    ],
)
def test_where_it_is_not_sure_it_is_asked(text: str, why: str) -> None:
    assert not left_out(text)
    assert [q for q in asked(text) if why in q]


def test_doors_that_come_primed_take_no_primer_and_whether_paint_goes_over_it_is_asked() -> None:
    assert left_out("Doors: factory primed only.") == ["replaced of primer (surface door): factory primed"]
    assert [q for q in asked("Doors: factory primed only.") if "put on elsewhere" in q]
