"""One change told in many ways, of a room, of goods and of a mark: what holds in the end is what the specification edited by hand says."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

import reads
from darby.reading.addenda.addenda import amend
from darby.reading.read import Reading, read
from darby.rules.cascade import RuleBook
from darby.rules.rule import addendum
from darby.rules.systems import join_systems
from darby.text.diagnostics import Diagnostic, Severity
from darby.text.spans import Source

SPEC = """\
Finishes at Tarn Bank

LOBBY
Walls: two coats eggshell.
Ceiling: one coat flat.

OFFICE
Walls: two coats eggshell.
Ceiling: one coat flat.

STORE
Walls: one coat satin.

GENERAL
Board on walls is 1/2 in. thick. Board on ceilings is 5/8 in. thick.
Screws: 16 in. on walls, 12 in. on ceilings.

PT-1: two coats gloss, color Slate.
PT-2: two coats gloss, color Fog.

ROOM  NAME     WALLS
204   Archive  PT-1
205   Annex    PT-2
"""
CHANGES: dict[str, tuple[str, str, str, str, str]] = {
    # what is spoken of, where behind a value, the old value, the new one, the line it stands in
    "coats": ("lobby walls", " on the lobby walls", "two coats", "three coats", "LOBBY\nWalls: two coats"),
    "sheen": ("office walls", " on the office walls", "eggshell", "satin", "OFFICE\nWalls: two coats eggshell"),
    "board": ("board on ceilings", " on ceilings", "5/8 in", "1/2 in", "ceilings is 5/8 in"),
    "spacing": ("screws on walls", " on walls", "16 in", "12 in", "Screws: 16 in"),
    "mark": ("annex walls", " on the annex walls", "PT-2", "PT-1", "Annex    PT-2"),
    "color": ("PT-2", " of PT-2", "Fog", "Heron", "color Fog"),
}
WAYS = [
    "Change {topic} from {old} to {new}.",
    "Revise {topic} from {old} to {new}.",
    "{Topic}: change {old} to {new}.",
    '{Topic}: change "{old}" to "{new}".',
    "{New}{where} in lieu of {old}.",
    "In lieu of {old}{where}, provide {new}.",
    "Provide {new}{where} instead of {old}.",
    "Replace {old}{where} with {new}.",
    "Where the specification calls for {old}{where}, provide {new}.",
    "{Topic} shall be {new}, not {old}.",
    "{Topic}: for {old} read {new}.",
    "{Topic}: read {old} as {new}.",
    "{Topic}: {old} becomes {new}.",
    "{Topic}: {old} superseded by {new}.",
    "{Topic}: was {old}, now {new}.",
    "{Topic}: now {new} (was {old}).",
    "{Topic}: {new} (previously {old}).",
    "{Topic}: omit {old}, substitute {new}.",
    "{Topic}: {old} -> {new}",
    "{Topic} to be {new} in lieu of {old} as specified.",
    "We confirm that {topic} are to have {new} instead of the {old} specified.",
    "Substitute {new} for {old}{where}.",
    "Item 1: {Topic}. Revise from {old} to {new}.",
    "{Topic}: {old} is changed to {new}.",
    "{Topic}: omit {old}; add {new}.",
    "As agreed, allow for {new}{where} and not {old} as shown in the specification.",
]
ASKED = (
    ("coats", "finish paint", "wall"), ("coats", "finish paint", "ceiling"), ("thickness", "gypsum board", "wall"),
    ("thickness", "gypsum board", "ceiling"), ("spacing", "screw", "wall"), ("spacing", "screw", "ceiling"),
)  # fmt: skip
TAKEN = ("sheen", "color", "mark", "system")


def amended(*addenda: str, spec: str = SPEC) -> tuple[list[Reading], list[Diagnostic]]:
    papers = [(Source(f"add-{n}.txt", f"ADDENDUM {n}\n\n{text}\n"), addendum(n)) for n, text in enumerate(addenda, 1)]
    return amend([reads.paper(spec), *(read(s, layer, reads.language()) for s, layer in papers)], reads.language())


def holds(readings: list[Reading]) -> Mapping[tuple[str, ...], object]:
    """What holds in each room in the end."""
    rooms = ("Lobby", "Office", "Store", "Archive", "Annex")
    rules = [rule for reading in readings for rule in reading.rules]
    book = RuleBook((*rules, *join_systems(rules).rules), rooms=rooms)
    out: dict[tuple[str, ...], object] = {}
    for room in rooms:
        for kind, subject, surface in ASKED:
            answer = book.ask(kind, subject, {"room": room, "surface": surface}, take=TAKEN)
            if answer is not None:
                looks = {key: answer.rule.scope.get(key) for key in ("sheen", "color")}
                out[room, kind, surface] = (answer.rule.says(), looks, answer.conflict is None)
    return out


def edited(old: str, new: str, line: str) -> Mapping[tuple[str, ...], object]:
    assert SPEC.count(line) == 1
    return holds([reads.paper(SPEC.replace(line, line.replace(old, new)))])


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("change", CHANGES)
def test_the_order_is_that_of_the_specification_edited_by_hand(change: str, way: str) -> None:
    topic, where, old, new, line = CHANGES[change]
    text = way.format(
        topic=topic, Topic=topic[:1].upper() + topic[1:], where=where, old=old, new=new, New=new[:1].upper() + new[1:]
    )
    readings, told = amended(text)
    assert holds(readings) == edited(old, new, line), text
    assert not [d for d in told if d.severity is Severity.QUESTION], text


@pytest.mark.parametrize("heads", ["Item | Was | Now", "Reference | Existing text | Revised text", "Where | From | To"])
@pytest.mark.parametrize("change", CHANGES)
def test_two_columns_tell_what_stood_there_and_what_stands_there_now(change: str, heads: str) -> None:
    topic, _, old, new, line = CHANGES[change]
    readings, told = amended(f"{heads}\n{topic[:1].upper()}{topic[1:]} | {old} | {new}")
    assert holds(readings) == edited(old, new, line)
    assert not [d for d in told if d.severity is Severity.QUESTION]


@pytest.mark.parametrize(
    "text",
    [
        "Lobby walls to be three coats.",
        "Please amend the lobby walls to three coats.",
        "Provide 3 coats on the lobby walls.",
        "Q: The specification says two coats on the lobby walls. Should this be three?\nA: Yes, three coats.",
        "Q1: Are two coats on the lobby walls correct?\nA1: No. Provide three coats on the lobby walls.",
    ],
)
def test_a_number_without_goods_has_those_of_the_same_place_and_waits_to_be_confirmed(text: str) -> None:
    readings, _ = amended(text)
    assert holds(readings) == edited("two", "three", CHANGES["coats"][-1])
    (rule,) = (r for r in readings[-1].rules if r.kind.name == "coats")
    assert rule.confirm
    assert (rule.scope["sheen"], rule.layer) == ("eggshell", addendum(1))


@pytest.mark.parametrize("text", ["Walls to be three coats.", "Columns to be three coats.", "Three coats, as agreed."])
def test_a_number_without_goods_that_may_be_of_several_stays_unread(text: str) -> None:
    readings, _ = amended(text)
    assert holds(readings) == holds([reads.paper(SPEC)])
    assert [n.span.text.lower() for n in readings[-1].numbers if n.became == "unread"] == ["three"]


@pytest.mark.parametrize(
    "text",
    [
        "Change walls from two coats to three coats.",  # of two rooms
        "Change snug walls from two coats to three coats.",  # a room that is not there
        "Change two coats to three coats.",
        "Change the lobby walls from two coats to three coats if requested.",
        "Change the lobby walls from two coats to three coats, except behind the desk.",
    ],
)
def test_what_is_not_plain_changes_nothing_and_is_asked_about(text: str) -> None:
    readings, told = amended(text)
    assert holds(readings) == holds([reads.paper(SPEC)])
    asked = [d.message for d in told if d.severity is Severity.QUESTION]
    unread = [n for n in readings[-1].numbers if n.became == "unread"]
    assert asked or unread


def test_of_several_rooms_in_one_clause_the_one_that_is_named_changes() -> None:
    spec = "Office, store and hall walls: two coats satin.\n"
    readings, told = amended("Change the store walls from two coats to three coats.", spec=spec)
    rules = [rule for reading in readings for rule in reading.rules]
    book = RuleBook(rules, rooms=("Office", "Store", "Hall"))
    answers = [
        book.ask("coats", "finish paint", {"room": r, "surface": "wall"}, take=TAKEN)
        for r in ("Office", "Store", "Hall")
    ]
    assert [answer.rule.says() for answer in answers if answer is not None] == ["2", "3", "2"]
    assert [d.code for d in told] == ["amended"]


def test_one_room_of_all_gets_a_rule_of_its_own() -> None:
    readings, _ = amended("Change office walls from two coats to three coats.", spec="All walls: two coats satin.\n")
    rules = [rule for reading in readings for rule in reading.rules]
    book = RuleBook(rules, rooms=("Office", "Hall"))
    answers = [
        book.ask("coats", "finish paint", {"room": r, "surface": "wall"}, take=TAKEN) for r in ("Office", "Hall")
    ]
    assert [(a.rule.says(), a.rule.scope.get("sheen")) for a in answers if a is not None] == [
        ("3", "satin"),
        ("2", "satin"),
    ]


def test_a_later_addendum_changes_what_an_earlier_one_changed() -> None:
    readings, told = amended(
        "Change lobby walls from two coats to four coats.", "Change lobby walls from four coats to three coats."
    )
    assert holds(readings) == edited("two", "three", CHANGES["coats"][-1])
    assert [d.code for d in told] == ["amended"] * 2


ITEMS = """\
1  BOARD
1.1  Walls: 12.5 mm plasterboard, one layer.
1.2  Ceilings: 12.5 mm plasterboard, one layer.
1.3  Ceilings: one coat primer, one coat flat.
"""


def test_a_value_behind_the_number_of_a_paragraph_is_of_what_stands_there() -> None:
    readings, _ = amended("Item 1.1: two layers.", spec=ITEMS)
    (layers,) = (r for r in readings[-1].rules if r.kind.name == "layers")
    assert (layers.says(), dict(layers.scope)) == ("2", {"surface": "wall"})


def test_of_several_numbers_the_one_that_differs_changes() -> None:
    old, new = "one coat primer, one coat flat", "one coat primer, two coats flat"
    readings, told = amended(f'Item 1.3: delete "{old}" and insert "{new}".', spec=ITEMS)
    coats = {r.subject: r.says() for reading in readings for r in reading.rules if r.kind.name == "coats"}
    assert coats == {"primer": "1", "finish paint": "2"}
    assert [d.code for d in told] == ["amended"]
