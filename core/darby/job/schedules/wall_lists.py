"""Lists of walls alone, which name no room's width: what each row is called, how many faces it has, and between which rooms it stands."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Mapping
from difflib import get_close_matches
from typing import Any

from attrs import define, evolve, field

from darby.job.rows.sheet import Sheet, shown
from darby.job.schedules.heads import SIDES, Head, head_of, is_mark_or_type, no_room
from darby.text.spans import Span

Column = tuple[int, Head, Span]
"""Number, head and place."""

_NEAR = 3 / 4
"""How much of a head has to be that of a key for it to be a slip of it."""
_LONGEST = 40
_SIDED = {"length", "height"}
_OTHERS = {"width", "perimeter", "what", "rise", "drop", "depth", "kind"}
"""Keys of rows that are no walls, or may be none."""
_PARTINGS = (r";", r"\|", r"\s[/\\]\s", r"\s[-–—]\s", r"\s(?:and|&)\s")
"""What parts the two rooms of one cell, the surest first: a name may hold what comes later."""
_PARTED = [re.compile(parting) for parting in _PARTINGS]


def lists_walls(keys: Collection[str]) -> bool:
    """Whether a schedule with columns of these keys can hold nothing but walls; a head may be a slip of a key of other rows."""
    if not (set(keys) >= _SIDED or {"area", "faces"} <= set(keys)):
        return False
    return not any(key in _OTHERS or get_close_matches(key[:_LONGEST], _OTHERS, 1, _NEAR) for key in keys)


def heads_of_walls(found: Iterable[Column], known: Collection[str]) -> list[Column]:
    """The heads of a list of walls alone: a running number is the name where nothing else is, and else orders nothing."""
    heads = [(n, head_of(head.said, known, walls=True), span) for n, head, span in found]
    keys = {head.key for _, head, _ in heads}
    named = "name" in keys
    if not named and "type" in keys and (marks := [n for n, head, _ in heads if is_mark_or_type(head.said)]):
        heads = [(n, evolve(head, key="name") if n == marks[0] else head, span) for n, head, span in heads]
        named = True
    told = keys & {"faces", "between", *SIDES}
    if "room" in keys and len(one := SIDES.keys() - keys) == 1:  # Room, Adjoining room
        heads = [(n, evolve(head, key=min(one)) if head.key == "room" else head, span) for n, head, span in heads]
    for at, (number, head, span) in enumerate(heads):
        if head.key == "number":
            heads[at] = (number, evolve(head, aside=True) if named else evolve(head, key="name"), span)
        elif head.key == "room" and not named and not told:
            heads[at] = (number, evolve(head, key="name"), span)
    return heads


def tell_marks(heads: Iterable[tuple[Head, Span]], columns: Mapping[str, int], sheet: Sheet) -> None:
    """Tells of a column that may have the names of the walls or their types, where no other has the types."""
    for head, span in heads:
        if is_mark_or_type(head.said) and "type" not in columns:
            sheet.say(
                "job-schedule", span, f"“{shown(head.said)}” may be the name of each wall or its type",
                "Write Name over it, or Type: the mark that a document or [[types]] defines.",
            )  # fmt: skip


@define(eq=False)
class WallList:
    """One such list, row by row."""

    columns: Mapping[str, int]
    by_room: bool = False
    """Whether each wall is called by its room too, since two rooms have walls of one name."""
    outside: int = 0
    """Walls with a face that is in no room."""
    example: str = ""
    """What the first wall is called, where its name was made."""
    _numbers: dict[str, int] = field(factory=dict, init=False)

    @classmethod
    def of(cls, columns: Mapping[str, int], rows: Iterable[tuple[str, str]]) -> WallList:
        """From the names and rooms of all rows; either may be empty."""
        seen: set[str] = set()
        if {"name", "room"} <= columns.keys():
            for name, _ in rows:
                if name and name.casefold() in seen:
                    return cls(columns, by_room=True)
                seen.add(name.casefold())
        return cls(columns)

    def settle(self, data: dict[str, Any], sheet: Sheet, path: tuple[int]) -> None:
        """Makes the cells of a row what the job file would say of the wall; what cannot be is told."""
        sides = [data.pop(key, "") for key in SIDES]
        between = data.get("between")
        if isinstance(between, str) and len(parted := two_of(between)) == 2:
            sides = parted
            del data["between"]
        said = [side for side in sides if side]
        rooms = [side for side in said if not no_room(side)]
        self._name(data, rooms)
        if len(rooms) == 2:
            data["between"] = rooms
        elif said:
            if rooms and "room" in data:
                data["between"] = [data["room"], *rooms]  # which it cannot be, and that is told
            elif rooms:
                data["room"] = rooms[0]
            self.outside += len(said) == 2
            self._tell_faces(data, sheet, path, known=len(said) == 2)

    def _name(self, data: dict[str, Any], rooms: list[str]) -> None:
        """A name where the list has no column of names, by the room or the type; and the room before it where names alone are not enough."""
        if "name" not in self.columns:
            base = next((str(b) for b in (data.get("room"), *rooms, data.get("type")) if b), "")
            number = self._numbers[base] = self._numbers.get(base, 0) + 1
            data["name"] = f"{base} wall {number}".strip()
        elif self.by_room and data.get("name") and data.get("room"):
            data["name"] = f"{data['room']} {data['name']}"
        else:
            return
        self.example = self.example or data["name"]

    def _tell_faces(self, data: Mapping[str, Any], sheet: Sheet, path: tuple[int], *, known: bool) -> None:
        """Of a wall with one room: whether its other face counts has to be said, and cannot be where that is in no room."""
        called = f'wall "{shown(str(data.get("name") or path[0] + 1))}"'
        if data.get("faces") == 2:
            sheet.say(
                "job-between", sheet.places.at((*path, "faces")).value, f"{called} has two finished faces, and only one of them is in a room",
                "Fill in the room on its other side, or write that one face is finished.",
            )  # fmt: skip
        elif not known and "faces" not in data:
            sheet.say(
                "job-missing-key", sheet.places.at(path).value, f"{called} has no faces",
                'The room on one of its sides is empty: fill it in, write "outside" there, or write in a column Faces that one is finished.',
            )  # fmt: skip


def two_of(cell: str) -> list[str]:
    """The two rooms that a cell names: `Lobby / Office 2`; the cell as it is where nothing parts it into two."""
    for parting in _PARTED:
        parts = [part.strip() for part in parting.split(cell)]
        if len(parts) > 1:
            return parts if len(parts) == 2 and all(parts) else [cell]
    return [cell]
