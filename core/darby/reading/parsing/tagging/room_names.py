"""Rooms as texts name them: by a word before `room`, in the plural, with or without a word that leads to them."""

from __future__ import annotations

import re

_NO_ROOM = (
    r"(?:each|every|all|the|this|any|other|these|both|for|per|such|same|and|with|from|into|two|three|four|five|six|"
    r"one|which|that|where|when|some|its|next|new|old|more|most|of|in|at|to|following|"
    r"listed|named|remaining|exclude|omit|only)\s"
)
ROOM = re.compile(
    rf"(?!{_NO_ROOM})[A-Za-z'-]{{3,20}}\s(?:rooms?|rms?|offices?)(?![A-Za-z])|(?!mush|head|leg|elbow)[A-Za-z]{{3,14}}rooms?(?![A-Za-z-])",
    re.IGNORECASE,
)
"""A room whose name no list has: `music room`."""

_LED = re.compile(
    r"(?:\A|[.,;:&+/()\[|@–—-]|\b(?:in|at|of|for|on|to|within|inside|throughout|and|or|except))\s*"
    r"(?:(?:the|all|each|every|both|any|other)\s+){0,2}(?:[a-z'-]{2,12}\s+)?\Z"
)
_REACH = 24


def is_led(low: str, start: int) -> bool:
    """Whether words just before a room say that something is in it: `in the baths`, `walls of kitchens`."""
    return _LED.search(low, max(0, start - _REACH), start) is not None


_SHORT = re.compile(r"(?<=\w\s)rms?$")


def singular(room: str) -> str:
    """A room as its rule names it: `bathrooms` and `bathroom` are one, `exam rm` is an exam room."""
    room = _SHORT.sub("room", " ".join(room.split()))
    if room.endswith("ies"):
        return room[:-3] + "y"
    if room.endswith(("sses", "ches", "shes", "xes")):
        return room[:-2]
    return room[:-1] if room.endswith("s") and not room.endswith(("ss", "sis", "us")) else room
