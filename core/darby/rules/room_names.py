"""What documents may call the rooms of a job, and which of these a name that a rule has for a place means.

A room goes by its name, its number and whatever else the job says that documents call it; it lies in larger places, its floor and its
phase. A name that is exactly one of these is of those rooms alone; only where it is none does it mean rooms that have its words.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Collection, Iterable, Sequence

from attrs import define, evolve, field, frozen

from darby.quantities.numerals import ORDINALS
from darby.rules.name_matching import in_room, stems, words_of
from darby.rules.rule import Rule

_STOREYS = ("floor", "level", "storey", "story")
"""What a bare number of a floor is called: `Level 2` is the floor "2"."""
_PHASES = ("phase", "stage")

_COUNTED = 2
"""Letters and digits of a number that may only count rooms of one sort."""

OWN, WIDER = 2, 1
"""A rule speaks of a room by a name of its own, or of a larger place that it lies in."""


@frozen
class RoomNames:
    """All that documents may call one room."""

    name: str
    number: str = ""
    also: tuple[str, ...] = ()
    floor: str = ""
    phase: str = ""

    @property
    def own(self) -> tuple[str, ...]:
        """The names of this room, apart from the places it lies in."""
        # of `Ward 3`, number 4, and `Ward 4`, number 3, the two together would be one name
        apart = not _numbered(self.name) or len(self.number) > _COUNTED
        both = [f"{self.name} {self.number}"] if self.number and apart else []
        return tuple(n for n in (self.name, self.number, *both, *self.also) if n)

    @property
    def wider(self) -> tuple[str, ...]:
        """The places it lies in, as they are written and as a document may write them."""
        said = [n for n in (self.floor, self.phase) if n]
        for one, words in ((self.floor, _STOREYS), (self.phase, _PHASES)):
            said += [f"{word} {one}" for word in words] if one and len(stems(one)) == 1 and len(one) < _BARE else []
        said += _storeys(self.floor)
        return tuple(dict.fromkeys(said))


def said_of_all(rules: Sequence[Rule], job: str, rooms: Sequence[RoomNames]) -> list[Rule]:
    """Rules with those that are said of the whole job, by a part of its name, said of no place: of `Cottage hospital, ward 3` the ward.

    A name that may mean one of its rooms means that.
    """
    parts = {frozenset(stems(part)) for part in _PARTS.split(job)} - {frozenset()}
    all_ = {
        said
        for said in {rule.scope["room"] for rule in rules if "room" in rule.scope}
        if frozenset(stems(said)) in parts
        and not any(in_room(said, name) for room in rooms for name in (*room.own, *room.wider))
    }
    return [
        evolve(rule, scope={key: value for key, value in rule.scope.items() if key != "room"})
        if rule.scope.get("room") in all_
        else rule
        for rule in rules
    ]


def said_of_faces(rules: Sequence[Rule], rooms: Sequence[RoomNames], faced: Collection[str]) -> list[Rule]:
    """Rules with those that are said of a side called after a room of the job, `to the kitchen side of partitions`, said of what faces that room.

    `faced` are the rooms with walls of which the job knows the other side; in any other the whole room is meant, which waits to be confirmed.
    """
    found = []
    for rule in rules:
        said = looks_to(rule.scope.get("where", ""))
        met = [r for r in rooms if said and any(in_room(said, name) for name in r.own)]
        if not met or "room" in rule.scope or "mark" in rule.scope:
            found.append(rule)
            continue
        scope = {key: value for key, value in rule.scope.items() if key != "where"} | {"room": said}
        sure = any(r.name in faced for r in met)
        found.append(evolve(rule, scope=scope, confirm=rule.confirm or ("" if sure else _WHOLE_ROOM)))
    return found


_WHOLE_ROOM = "it is said of one side, and the job does not know which walls have that side: all of the room are taken"


def place_in(name: str) -> str:
    """What of the name of a surface may name its place: all but the numbers that count such surfaces (`1 to 2`, `W12`); nothing where it
    stands between two places.
    """
    said = " ".join(_COUNTING.sub(" ", name).split())
    return "" if _TWO_PLACES.search(said) else said


_COUNTING = re.compile(r"[^\W\d_]?\d[\w./-]*(?:\s(?:to|and)\s[^\W\d_]?\d[\w./-]*)?")
_TWO_PLACES = re.compile(r"\b(?:to|and|between|from)\s|[/&]")


def looks_to(where: str) -> str:
    """The room that a side of a wall is called after: `corridor side`; nothing where it is called after none."""
    room = where.removesuffix(" side")
    return room if room != where and room not in _SIDES else ""


_SIDES = frozenset(("one", "other", "each", "room"))


_PARTS = re.compile(r"[,;:()–—]|\s-\s")


def _storeys(floor: str) -> list[str]:
    """All that a numbered floor may be called: `2`, `Level 2` and `second floor` are one."""
    match = _NUMBERED_FLOOR.fullmatch(floor.strip().casefold())
    if match is None:
        return []
    word = match["ordinal"]
    number = ORDINALS.index(word) + 1 if word in ORDINALS else int(match["behind"] or match["digits"])
    called = [f"{number}{_ending(number)}", *ORDINALS[number - 1 : number]]
    return [f"{word} {number}" for word in _STOREYS] + [f"{one} {word}" for one in called for word in _STOREYS]


_NUMBERED_FLOOR = re.compile(
    rf"(?:floor|level|storey|story)?\s?(?P<behind>[1-9][0-9]?)|(?:(?P<digits>[1-9][0-9]?)\s?(?:st|nd|rd|th)|(?P<ordinal>{'|'.join(ORDINALS)}))"
    r"(?:\s(?:floor|level|storey|story))?"
)
_ENDINGS = {1: "st", 2: "nd", 3: "rd"}
_TEENS = (11, 12, 13)


def each_of(said: str) -> tuple[str, ...]:
    """The places that the name of a range stands for: `floor 3 to 12`, `2nd to 4th floor`, `block a to c`."""
    match = _RANGE.search(said)
    if match is None:
        return (said,)
    if match["first"]:
        members = [chr(c) for c in range(ord(match["first"].lower()), ord(match["last"].lower()) + 1)]
    else:
        low, high = int(match["low"]), int(match["high"] or match["nth"])
        numbers = range(low, min(high, low + _MOST_FLOORS) + 1)
        members = [f"{n}{_ending(n) if match['nth'] else ''}" for n in numbers]
    return tuple(f"{said[: match.start()]}{one}{said[match.end() :]}" for one in members) or (said,)


_RANGE = re.compile(
    r"(?<![0-9-])(?P<low>[0-9]{1,3})(?:\sto\s(?P<high>[0-9]{1,3})|(?:st|nd|rd|th)(?:\s(?:to|thru|through)\s|\s?[–-]\s?)(?P<nth>[0-9]{1,3})(?:st|nd|rd|th))"
    r"(?![0-9A-Za-z-])|(?<= )(?P<first>[a-z])\sto\s(?P<last>[a-z])(?![a-z])",
    re.IGNORECASE,
)
_MOST_FLOORS = 100


def _ending(number: int) -> str:
    """What makes a number an ordinal: `2nd`, `12th`."""
    return _ENDINGS.get(number % 10, "th") if number % 100 not in _TEENS else "th"


_BARE = 4
"""Letters that a floor or a phase which is a bare number or letter has less than."""


@define(eq=False)
class Rooms:
    """The rooms of a job by all their names; asked about a place that a rule names."""

    names: dict[str, RoomNames]
    _exact: dict[frozenset[str], dict[str, int]] = field(factory=dict, init=False, repr=False)
    """By the words of a name, the rooms that have exactly this name, and whether it is their own."""
    _known: dict[tuple[str, str], int] = field(factory=dict, init=False, repr=False)

    @classmethod
    def of(cls, rooms: Iterable[str | RoomNames]) -> Rooms:
        """The rooms of some names, or of all that is known of each."""
        made = cls({})
        for room in rooms:
            one = RoomNames(room) if isinstance(room, str) else room
            if isinstance(room, RoomNames) or room not in made.names:
                made.names[one.name] = one
        for one in made.names.values():
            for names, weight in ((one.wider, WIDER), (one.own, OWN)):
                for name in names:
                    made._exact.setdefault(frozenset(stems(name)), {})[one.name] = weight
        return made

    def meant(self, said: str, room: str) -> int:
        """Whether a place that a rule names is this room (`OWN`), a larger place that it lies in (`WIDER`), or neither (0)."""
        key = (said, room)
        if key not in self._known:
            whole = frozenset(stems(said)) in self._exact  # `Room 12 to 14` may be one room
            self._known[key] = max(self._meant(one, room) for one in ((said,) if whole else each_of(said)))
        return self._known[key]

    def _meant(self, said: str, room: str) -> int:
        exact = self._exact.get(frozenset(stems(said)))
        if exact is not None and stems(said):
            return exact.get(room, 0)
        one = self.names.get(room) or RoomNames(room)
        if any(in_room(said, name) for name in one.own):
            return OWN
        rest = list(stems(said))
        for wide in sorted(
            (*one.wider, *one.also), key=len, reverse=True
        ):  # `Level 2 offices`: what is left besides the floor is the room
            words = stems(wide)
            if words and set(words) <= set(rest):
                rest = [w for w in rest if w not in words]
        if len(rest) == len(stems(said)):
            return 0
        left = " ".join(rest)
        return OWN if any(in_room(left, name) for name in one.own) else 0

    def words(self, room: str) -> frozenset[str]:
        """Every word by which a place that is meant might be looked up."""
        one = self.names.get(room) or RoomNames(room)
        return frozenset(w for name in (*one.own, *one.wider) for w in (*stems(name), *words_of(name)))


@define(eq=False)
class SaidPlaces:
    """The places that rules name, each to be found by its rarest word: a thousand rooms with a rule each are a thousand look-ups."""

    rooms: Rooms
    _by_word: dict[str, list[str]] = field(factory=dict, init=False, repr=False)
    _met: dict[str, tuple[str, ...]] = field(factory=dict, init=False, repr=False)

    @classmethod
    def of(cls, rooms: Rooms, said: Iterable[str]) -> SaidPlaces:
        """The places that some rules name, to be met by the rooms of a job."""
        made = cls(rooms)
        all_said = sorted(set(said))
        often = Counter(word for one in all_said for word in set(stems(one)))
        for one in all_said:
            for name in {one, *each_of(one)}:
                if words := stems(name):
                    made._by_word.setdefault(min(words, key=lambda w: (often[w], w)), []).append(one)
        return made

    def met_by(self, room: str) -> tuple[str, ...]:
        """What rules call a room, in order of the alphabet; nothing where there is no room."""
        if not room:
            return ()
        if room not in self._met:
            near = {one for word in self.rooms.words(room) for one in self._by_word.get(word, ())}
            self._met[room] = tuple(sorted(one for one in near if self.rooms.meant(one, room)))
        return self._met[room]


def _numbered(name: str) -> bool:
    """Whether a name has a number of its own, so that the number of its door is none of it."""
    return any(c.isdigit() for c in name)
