"""Names of rooms: by name, number, floor, phase and what else documents call them; whole words, the exact name first."""

from __future__ import annotations

import time

import pytest

from darby.rules.room_names import OWN, WIDER, RoomNames, Rooms, SaidPlaces, place_in, said_of_all, said_of_faces
from kit import rule

HOUSE = Rooms.of(
    [
        RoomNames("Office", "204", ("wet area",), "Level 2", "Phase 1"),
        RoomNames("Office 3", "205", (), "Level 2", "Phase 2"),
        RoomNames("Stair lobby", "", ("wet area",), "1", ""),
        RoomNames("Lobby", "B12", (), "Ground floor", "Phase 2"),
        "Kitchenette",
    ]
)


@pytest.mark.parametrize(
    ("said", "rooms"),
    [
        ("room 204", {"Office": OWN}),
        ("204", {"Office": OWN}),
        ("office 204", {"Office": OWN}),
        ("20", {}),
        ("2", {"Office": 0}),
        ("office", {"Office": OWN}),
        ("offices 3", {"Office 3": OWN}),
        ("wet areas", {"Office": OWN, "Stair lobby": OWN}),
        ("lobby", {"Lobby": OWN}),
        ("lobbies", {"Lobby": OWN}),
        ("stair lobbies", {"Stair lobby": OWN}),
        ("b12", {"Lobby": OWN}),
        ("b1", {}),
        ("level 2", {"Office": WIDER, "Office 3": WIDER}),
        ("level 1", {"Stair lobby": WIDER}),
        ("level 22", {}),
        ("level", {}),
        ("ground floor", {"Lobby": WIDER}),
        ("phase 2", {"Office 3": WIDER, "Lobby": WIDER}),
        ("level 2 offices", {"Office": OWN, "Office 3": OWN}),
        ("phase 2 offices", {"Office 3": OWN}),
        ("level 1 offices", {}),
        ("kitchen", {}),
        ("sauna", {}),
        ("", {}),
    ],
)
def test_what_a_name_means(said: str, rooms: dict[str, int]) -> None:
    assert {room: meant for room in HOUSE.names if (meant := HOUSE.meant(said, room))} == {
        r: n for r, n in rooms.items() if n
    }


def test_the_number_of_a_door_is_no_part_of_a_name_that_has_a_number() -> None:
    ward = Rooms.of([RoomNames("Ward 2", "4")])
    assert not ward.meant("ward 4", "Ward 2")
    assert ward.meant("ward 2", "Ward 2") == ward.meant("room 4", "Ward 2") == OWN


def test_a_room_meets_what_is_said_of_it_however_it_is_looked_up() -> None:
    said = ["room 204", "wet areas", "level 2", "lobby", "office", "kitchen", "phase 2 offices", "offices 3"]
    places = SaidPlaces.of(HOUSE, said)
    for room in HOUSE.names:
        assert list(places.met_by(room)) == sorted(s for s in said if HOUSE.meant(s, room))
    assert places.met_by("") == ()


def test_five_thousand_rooms_each_with_a_rule_are_five_thousand_look_ups() -> None:
    def seconds(many: int) -> float:
        names = [f"Office {n}" for n in range(many)]
        start = time.process_time()
        places = SaidPlaces.of(Rooms.of(names), names)
        assert all(places.met_by(name) == (name,) for name in names)
        return time.process_time() - start

    small = min(seconds(1_250) for _ in range(3))
    assert min(seconds(5_000) for _ in range(3)) < 8 * small


@pytest.mark.parametrize("floor", ["2", "Level 2", "2nd floor", "second floor", "Floor 2", "Second"])
@pytest.mark.parametrize(
    "said", ["level 2", "2nd floor", "second floor", "floor 2", "second floor hall", "2nd floor hall"]
)
def test_a_numbered_floor_is_the_same_however_it_is_called(floor: str, said: str) -> None:
    house = Rooms.of([RoomNames("Hall", floor=floor), RoomNames("Den", floor="3rd floor")])
    assert house.meant(said, "Hall")
    assert not house.meant(said, "Den")


@pytest.mark.parametrize(("floor", "said"), [("11", "11th floor"), ("21", "21st floor"), ("13", "13th floor")])
def test_floors_beyond_the_tenth_have_their_endings(floor: str, said: str) -> None:
    assert Rooms.of([RoomNames("Hall", floor=floor)]).meant(said, "Hall")


def test_a_block_that_a_room_also_goes_by_is_met_with_its_name() -> None:
    house = Rooms.of([RoomNames("Kitchen", also=("Block C",)), RoomNames("Kitchen 2", also=("Block D",))])
    assert house.meant("block c kitchen", "Kitchen")
    assert not house.meant("block c kitchen", "Kitchen 2")


@pytest.mark.parametrize(
    ("said", "met"),
    [
        ("floor 3 to 12", {"Gallery", "Lab"}),
        ("floor 3 to 12 gallery", {"Gallery"}),
        ("2nd to 4th floor", {"Gallery", "Stair"}),
        ("phase a to c", {"Hall"}),
        ("phase c to d", set()),
        ("Bays 12-14", {"Bays 12-14"}),
        ("bay 12 to 14", {"Bay 13", "Bays 12-14"}),
    ],
)
def test_the_name_of_a_range_is_of_each_place_in_it_and_a_room_of_that_name_is_itself(said: str, met: set[str]) -> None:
    rooms = Rooms.of(
        [
            RoomNames("Gallery", floor="3"), RoomNames("Stair", floor="Level 2"), RoomNames("Lab", floor="5th floor"),
            RoomNames("Bays 12-14"), RoomNames("Bay 13"), RoomNames("Hall", phase="B"),
        ]
    )  # fmt: skip
    assert {name for name in rooms.names if rooms.meant(said, name)} == met
    assert {name for name in rooms.names if SaidPlaces.of(rooms, [said]).met_by(name)} == met


@pytest.mark.parametrize(
    ("said", "job", "rooms", "left"),
    [
        ("ward 3", "Cottage hospital, ward 3", ["Bedroom"], ""),
        ("cottage hospital", "Cottage hospital, ward 3", ["Bedroom"], ""),
        ("ward 4", "Cottage hospital, ward 3", ["Bedroom"], "ward 4"),
        ("ward", "Cottage hospital, ward 3", ["Bedroom"], "ward"),
        ("lobby", "Smith house, lobby", ["Lobby", "Study"], "lobby"),
        ("lobby", "Smith house, lobby", ["Lift lobby", "Study"], "lobby"),
        ("", "Lobby", ["Study"], ""),
    ],
)
def test_what_is_said_of_the_place_that_the_whole_job_is_holds_in_all_of_it(
    said: str, job: str, rooms: list[str], left: str
) -> None:
    one = rule("coats", "primer", "1", **({"room": said} if said else {}), surface="wall")
    (made,) = said_of_all([one], job, [RoomNames(name) for name in rooms])
    assert made.scope.get("room", "") == left
    assert made.scope["surface"] == "wall"


@pytest.mark.parametrize(
    ("where", "faced", "room", "confirmed"),
    [
        ("kitchen side", True, "kitchen", False),
        ("toilet side", True, "toilet", False),
        ("kitchen side", False, "kitchen", True),
        ("corridor side", True, "", False),  # the job has no such room
        ("each side", True, "", False),
        ("room side", True, "", False),
        ("edge", True, "", False),
    ],
)
def test_a_side_called_after_a_room_is_what_faces_that_room(
    where: str, faced: bool, room: str, confirmed: bool
) -> None:
    places = [RoomNames("Kitchen 2"), RoomNames("Toilets")]
    stated = rule("layers", "gypsum board", "2 each", surface="wall", where=where)
    (found,) = said_of_faces([stated], places, {"Kitchen 2", "Toilets"} if faced else set())
    assert (found.scope.get("room", ""), bool(found.confirm)) == (room, confirmed)
    assert found.scope.get("where", "") == ("" if room else where)


@pytest.mark.parametrize(
    ("name", "place"),
    [
        ("attic party wall 1 to 2", "attic party wall"),
        ("loft ceiling", "loft ceiling"),
        ("W12", ""),
        ("wall 3.1", "wall"),
        ("Office to Store", ""),
        ("kitchen/garage wall", ""),
        ("porch wall 2", "porch wall"),
    ],
)
def test_what_of_a_surface_s_name_may_name_its_place(name: str, place: str) -> None:
    assert place_in(name) == place
