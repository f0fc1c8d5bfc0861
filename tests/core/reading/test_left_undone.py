"""Sentences that leave work undone somewhere, and those that say more than that."""

from __future__ import annotations

import pytest

from darby.rules.rule import Rule
from reads import read_text

PAINT = {"finish paint", "primer"}


def left_out(text: str) -> dict[str, set[str]]:
    """The places that goods are left out of, each with the goods."""
    found: dict[str, set[str]] = {}
    for rule in _omitting(text):
        where = " ".join(rule.scope[key] for key in ("room", "surface") if key in rule.scope)
        found.setdefault(where, set()).add(rule.subject)
    return found


def _omitting(text: str) -> list[Rule]:
    return [rule for rule in read_text(text).rules if (rule.kind.name, rule.choice) == ("replaced", "omitted")]


@pytest.mark.parametrize(
    ("text", "where"),
    [
        ("Do not paint the boiler room.", {"boiler room"}),
        ("Nothing in the boiler room gets painted.", {"boiler room"}),
        ("The boiler room will not be painted.", {"boiler room"}),
        ("Walls in the store are left unpainted.", {"store wall"}),
        ("Paint no ceilings in the garage.", {"garage ceiling"}),
        ("Omit painting in the boiler room and plant room.", {"boiler room", "plant room"}),
        ("Walls: two coats flat. No paint in the garage. Level 4 throughout.", {"garage"}),
        ("Do not paint bath ceilings and closet walls.", {"bath ceiling", "closet wall"}),
        ("Not painted: garage and store.", {"garage", "store"}),
        ("Painting in the store is omitted.", {"store"}),
        ("Garage ceilings, store walls: not painted.", {"garage ceiling", "store wall"}),
    ],
)
def test_what_a_sentence_leaves_unpainted(text: str, where: set[str]) -> None:
    assert left_out(text) == dict.fromkeys(where, PAINT)
    assert not [rule.confirm for rule in _omitting(text) if rule.confirm]


def test_goods_by_their_own_name() -> None:
    assert left_out("No primer in offices.") == {"office": {"primer"}}
    assert left_out("No drywall in the boiler room.") == {"boiler room": {"gypsum board"}}


def test_it_is_told_and_not_asked_besides() -> None:
    said = read_text("Walls: two coats flat. Do not paint the boiler room.").diagnostics
    assert [d.message for d in said] == [
        "“Do not paint the boiler room” leaves out finish paint, primer: none of it is ordered for boiler room."
    ]


def test_without_a_room_it_waits_to_be_confirmed() -> None:
    assert left_out("Ceilings are not painted.") == {"ceiling": PAINT}
    assert {rule.confirm for rule in _omitting("Ceilings are not painted.")} == {"it leaves this out on the whole job"}


@pytest.mark.parametrize(
    "text",
    [
        "Not all ceilings in offices are painted.",
        "Not every wall in offices is painted.",
        "Paint not only walls but ceilings in offices.",
        "No painting in occupied rooms before 6 pm.",
        "No paint on walls behind cabinets in the kitchen.",
        "Do not paint sprinkler heads in the garage.",
        "Do not paint walls in the garage without approval.",
        "Do not paint the garage except its doors.",
        "No paint runs on walls in the lobby.",
        "No painting.",
        "Is the garage not painted?",
        "No wall in the garage is left unpainted.",
        "Nothing in the garage stays unpainted.",
        "There will be no unpainted walls in the garage.",
        "Do not omit paint in the garage.",
        "No painting is omitted in the garage.",
        "Paint the lobby; nothing in the garage.",
        "Paint the garage and no paint in the store.",
        "Paint walls in the lobby, and do not paint ceilings in the garage.",
        "Lobby walls are painted, garage walls are not painted.",
        "Painted walls in the lobby; unpainted walls in the garage.",
        "Paint the walls of the lobby and the ceiling is left unpainted.",
        "No walls in the lobby, paint in the garage.",
        "Do not paint all walls in the garage.",
        "Do not omit painting in the office.",
        "Painting of the office shall not be deleted.",
        "No walls in the garage are to be left unpainted.",
        "Nothing in the garage is to be left unpainted.",
        "No unpainted walls in the office.",
        "Do not paint garage ceilings, paint office walls.",
        "Paint the office and do not paint the store.",
        "Do not paint the store; paint the office.",
        "Office painted, store not painted.",
        "Store not painted, office painted.",
        "The office will be painted and the store will not be painted.",
        "No oil paint in the office.",
        "No latex in the office.",
        "No paint left in the office.",
        "Do not store paint in the garage.",
        "Do not paint wet walls in the garage.",
        "Do not paint the west wall of the office.",
        "No paint on end walls in the office.",
        "Do not paint the ceiling bulkhead in the office.",
        "Do not paint baseboards in the office.",
    ],
)
def test_a_sentence_that_says_more_leaves_nothing_out(text: str) -> None:
    assert left_out(text) == {}
