"""Places that are known by their siblings: a heading, a label or the key of a row that no list knows, among others that are rooms.

A column of keys or a list of headings is decided as a whole, never one by one: `Dining` between `Kitchen` and `Hall` is a room, and
so is `Servery` as the key of a row whose other cells are marks under the names of surfaces.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator, Sequence

from attrs import evolve, frozen

from darby.reading.document.blocks.listed_places import all_beside, listed_places
from darby.reading.document.rows.key_columns import key_column
from darby.reading.layout.clause import Clause
from darby.reading.layout.tables.heads import HOLDERS
from darby.reading.parsing.naming.names import Names
from darby.reading.parsing.tagging.room_names import singular
from darby.reading.parsing.tagging.tag import Tag
from darby.text.spans import View

Tags = Sequence[Tag]
_WORDS = re.compile(r"[^\W\d_][\w'’.-]*")
_LONGEST = 4
_SHORTEST = 2
_LABEL = re.compile(r"\s*(?P<name>[^:;.|]{2,60}?)\s*(?::|\s[–—-]\s)")
_CODED = ("mark", "sheen", "CODE", "type", "color")
_ROOM_NUMBER = re.compile(r"[0-9]{2,4}[A-Z]?\s{1,4}(?=[A-Za-z][A-Za-z'’&/. -]{2,40}$)")
_STOREY = re.compile(rf"{HOLDERS}\s[A-Z0-9]{{1,2}}", re.IGNORECASE)
_BESIDE_PLACES = ("room", "COMMA", "AND", "PER", "SIGN", "condition", "ROOM_HEAD")
_GIVEN = frozenset(("mark", "surface", "AND", "COMMA", "COLON", "ALL", "SIGN", "DASH", "SEMICOLON", "STOP", "room"))
_MARKED = ("mark", "COMMA", "AND", "PER", "SIGN", "SEMICOLON", "STOP")
_JOINS = ("PER", "AND", "SIGN", "COMMA")
_NEAR = 4
_MANY = 4
"""Of so many lines under a name one at least speaks of a surface of the place, where it is one."""
_SAID = ("subject", "sheen", "type", "color", "mark")


@frozen(eq=False)
class Siblings:
    """What the siblings of a text make of it."""

    named: dict[int, tuple[View, tuple[Tag, ...]]]
    """The places that a view names, by its `id`; the view is kept so that its `id` stays its own."""
    keys: dict[int, int]
    """Which cell of a row is its key where it is not the first, by the `id` of the clause."""

    def tagged(self, tags: Tags, view: View) -> Tags:
        """The tags of a view with the places that it names."""
        found = self.named.get(id(view))
        if found is None:
            return tags
        places = found[1]
        kept = [t for t in tags if all(t.end <= p.start or t.start >= p.end for p in places)]
        return sorted([*kept, *places], key=lambda t: t.start)


def siblings_of(clauses: Sequence[Clause], tags: Callable[[View], Tags], names: Names) -> Siblings:
    """Decide headings, labels and keys by the company they keep."""
    named: dict[int, tuple[View, list[Tag]]] = {}
    keys: dict[int, int] = {}
    lines = Counter(id(c.parents[0]) for c in clauses if c.parents)
    surfaced = Counter(id(c.parents[0]) for c in clauses if c.parents and _surfaced(c, tags))
    over = {key for key, often in surfaced.items() if _MANY * often >= lines[key]}
    for group in _groups(clauses):
        if group[0].cells:
            _rows(group, tags, names, named, keys)
        elif group[0].heading:
            _lines(group, tags, names, named, _title, least=1)
            _lines([c for c in group if id(c) in over], tags, names, named, _title, least=0)
        else:
            _lines(group, tags, names, named, _label, least=2)
            _lines(
                [c for c in group if c.leads_in and (id(c) in over or _IN.match(c.view.text))],
                tags,
                names,
                named,
                _led,
                least=0,
            )
            bare = [c for c in group if id(c) in lines and c.label[-1:].isalnum() and not c.text.endswith((".", ":"))]
            _lines(bare, tags, names, named, _title, least=2)  # `G.03 Sluice` over its lines
    for clause in clauses:
        _assigned(clause, tags, names, named)
    return Siblings({key: (view, tuple(found)) for key, (view, found) in named.items()}, keys)


def _assigned(
    clause: Clause, tags: Callable[[View], Tags], names: Names, named: dict[int, tuple[View, list[Tag]]]
) -> None:  # fmt: skip
    """`Plant: walls C2`, `Training, Huddle .... walls C1`: what is given a system by surface is a place, by whatever name."""
    own = [c for c in clause.cells if not c.again]
    if len(own) > 1:
        view, end, given = own[0].view, len(own[0].view.text), tags(own[1].view)
    else:
        view = clause.view
        said = tags(view)
        colon = next((n for n, t in enumerate(said) if t.name in ("COLON", "DASH") and t.value != "-"), None)
        if colon is None:
            return
        end, given = said[colon].start, said[colon + 1 :]
    label = [t for t in tags(view) if t.start < end]
    mere = len(own) > 1 and any(t.name == "mark" for t in given) and all(t.name in _MARKED for t in given)
    if id(view) in named or not (mere or _assigns(given)) or not all(t.name in _BESIDE_PLACES for t in label):
        return
    for start, name in _pieces(view.text[:end], label):
        words = [w.lower() for w in _WORDS.findall(name)]
        if words and len(words) <= _LONGEST and name[0].isupper() and not any(w in names.labels for w in words):
            place = Tag(start, start + len(name), "room", singular(" ".join(name.lower().split())))
            named.setdefault(id(view), (view, []))[1].append(place)


def _assigns(given: Tags) -> bool:
    """Whether words give a system to surfaces: `walls C1`, `C1 on walls`, and no amount of anything before it."""
    at = next((n for n, t in enumerate(given) if t.name == "mark"), None)
    beside = {t.name for t in given[: (at or 0) + 2]}
    return at is not None and at < _NEAR and "surface" in beside and beside <= _GIVEN


def _pieces(text: str, tags: Tags) -> Iterator[tuple[int, str]]:
    """The stretches of a label that its tags leave over, and where they begin."""
    at = 0
    for start, end in [*((t.start, t.end) for t in tags), (len(text), len(text))]:
        piece = text[at:start]
        if piece.strip():
            yield at + len(piece) - len(piece.lstrip()), piece.strip(" .&")
        at = end


def _groups(clauses: Sequence[Clause]) -> Iterator[list[Clause]]:
    """Clauses of one sort under the same heading."""
    found: dict[tuple[object, ...], list[Clause]] = {}
    for clause in clauses:
        sort = len(clause.cells) > 1, clause.heading
        heads = tuple(id(h.source) + h.span(0, 1).start for h in clause.cells[-1].heads) if clause.cells else ()
        found.setdefault((sort, heads, *map(id, clause.parents)), []).append(clause)
    yield from found.values()


def _title(clause: Clause) -> tuple[int, str]:
    """What a heading names; of one that opens a record, `RDS 08 | SLUICE | Room 1.17`, the first part that is but words."""
    text = clause.view.text
    if " | " not in text:
        return 0, text.rstrip(" :.")
    at = 0
    for part in text.split(" | "):
        if not any(c.isdigit() for c in part) and len(part) > _SHORTEST:
            return at, part
        at += len(part) + 3
    return 0, ""


def _led(clause: Clause) -> tuple[int, str]:
    """What a line names that leads in what is said of surfaces below it: `In the potting shed:`."""
    match = _LED.fullmatch(clause.view.text)
    return (match.start("name"), match["name"]) if match else (0, "")


_IN = re.compile(r"(?:in|at|within|throughout)\s+the\s", re.IGNORECASE)
"""What leads to a place, whatever stands below it."""
_LED = re.compile(
    r"(?:(?:in|at|for|to|within|throughout)\s+)?(?:the\s+)?(?P<name>[A-Za-z][^:.;|]{2,50}?)\s*:", re.IGNORECASE
)


def _label(clause: Clause) -> tuple[int, str]:
    match = _LABEL.match(clause.view.text)
    return (match.start("name"), match["name"]) if match else (0, "")


def _surfaced(clause: Clause, tags: Callable[[View], Tags]) -> bool:
    """Whether a line opens with a label that is surfaces and nothing else, as those below the name of a room do: `Walls: ..`."""
    said = [] if clause.heading or clause.cells else tags(clause.view)
    end = next((n for n, t in enumerate(said) if t.name in ("COLON", "DASH")), 0)
    label = said[:end]
    return any(t.name == "surface" for t in label) and all_beside(label, clause.view.text[: said[end].start])


def _lines(
    group: Sequence[Clause], tags: Callable[[View], Tags], names: Names, named: dict[int, tuple[View, list[Tag]]],
    name_of: Callable[[Clause], tuple[int, str]], *, least: int,
) -> None:  # fmt: skip
    told, open_ = 0, []
    for clause in group:
        start, name = name_of(clause)
        if clause.heading and _STOREY.fullmatch(name):
            named[id(clause.view)] = clause.view, [Tag(start, start + len(name), "room", name.lower())]
        if not name or len(name.split()) > _LONGEST + 1:
            continue
        own = [t for t in tags(clause.view) if start <= t.start < start + len(name)]
        if clause.heading and own and own[-1].name == "NUMBER" and own[-1].end == start + len(name):
            own.pop()  # `SURGERY 2`
        if any(t.name == "room" for t in own) or (
            own and all(t.name in ("surface", "AND", "COMMA") for t in own) and least > 1
        ):
            told += 1
        elif all(t.name in _JOINS and (clause.heading or name_of is _led) for t in own) and (
            places := _all_nameable(
                name, [evolve(t, start=t.start - start, end=t.end - start) for t in own], names, clause
            )
        ):
            open_.append((clause, start, name, places))
            told += start > 0  # a record that has a number is one of several, each of its place
        elif _called_room(own, start, name, names):  # `Tui Room: ..`
            open_.append((clause, start, name, [Tag(0, len(name), "room", singular(" ".join(name.lower().split())))]))
            told += 1
    if told < least or (least and told * 3 < len(open_)):
        return
    for clause, start, name, places in open_:
        rest = [t for t in tags(clause.view) if t.start >= start + len(name)]
        if name_of in (_title, _led) or any(t.name in _SAID for t in rest):
            named[id(clause.view)] = clause.view, [evolve(p, start=p.start + start, end=p.end + start) for p in places]


def _called_room(own: Tags, start: int, name: str, names: Names) -> bool:
    """Whether a name is words that nobody knows before the word for a room."""
    if [t.name for t in own] != ["ROOM_HEAD"] or own[0].end != start + len(name):
        return False
    return _nameable(name[: own[0].start - start].strip(), names, heading=True)


def _all_nameable(name: str, joins: Tags, names: Names, clause: Clause) -> list[Tag]:
    """The places of a name, of which signs between them make several (`Living / Dining`); none where one can be none."""
    pieces = list(_pieces(name, joins))
    if not all(_nameable(piece, names, heading=clause.heading) for _, piece in pieces):
        return []
    return [Tag(at, at + len(piece), "room", singular(" ".join(piece.lower().split()))) for at, piece in pieces]


_PAIR = 2
"""Cells of a row of which the second says only where the first goes: `W2 | Hall`."""


def _below_places(row: Clause, at: int) -> bool:
    """Whether a row ends with its place below a head of places: `4 | Hall` below `Level | Location`."""
    return len(row.cells) == at + 1 and bool(row.cells[at].heads)


def _rows(
    group: Sequence[Clause], tags: Callable[[View], Tags], names: Names, named: dict[int, tuple[View, list[Tag]]],
    keys: dict[int, int],
) -> None:  # fmt: skip
    at = key_column(group, tags)
    cells = [(c, c.cells[at]) for c in group if len(c.cells) > max(at, _PAIR * (at > 0)) or _below_places(c, at)]
    told = coded = 0
    for clause, key in cells:
        own = tags(key.view)
        told += any(t.name == "room" for t in own)
        coded += any(t.name in _CODED for c in clause.cells[at + 1 :] for t in tags(c.view)) and not any(
            t.name in ("mark", "CODE", "subject", "sheen", "surface", "type", "hint", "COAT", "ORDINAL") for t in own
        )
        if at:
            keys[id(clause)] = at
    headed = any(
        t.name == "ROOM_HEAD" or (t.name == "room" and t.value == "room")
        for _, c in cells[:1]
        for h in c.heads
        for t in tags(h)
    )
    if not (headed or 2 * told >= len(cells) or (2 * coded >= len(cells) and len(cells) > 1)):
        return
    for _, key in cells:
        text = key.view.text
        own = [t for t in tags(key.view) if t.name not in ("ROOM_HEAD", *_JOINS)]
        bare = re.sub(r"\s*(?:\([a-z0-9]\)|\*+)\s*$", "", text)
        if own and own[0].name == "NUMBER" and (numbered := _ROOM_NUMBER.match(bare)) is not None:
            own = own[1:]  # `202 MEETING`
            if not own:
                name = singular(" ".join(bare[numbered.end() :].lower().split()))
                named[id(key.view)] = key.view, [Tag(numbered.end(), len(bare), "room", name)]
                continue
        if not own and re.search(r"[A-Za-z]{2}", bare) and len(bare.split()) <= _LONGEST:
            listed = listed_places((), bare, len(bare), names, sure=True)
            named[id(key.view)] = (
                key.view,
                list(listed) or [Tag(0, len(bare), "room", singular(" ".join(bare.lower().split())))],
            )
            continue
        if not any(t.name in ("room", "surface") for t in own):
            continue
        said = listed_places(tags(key.view), bare, len(bare), names, sure=True)
        if rooms := [t for t in said if t.name == "room"]:
            named[id(key.view)] = key.view, rooms


def _nameable(name: str, names: Names, *, heading: bool) -> bool:
    words = [w.lower() for w in _WORDS.findall(name)]
    if any(w in names.labels for w in words):
        return False
    titled = heading and (name.isupper() or name.istitle())  # `DINING` among `KITCHEN` and `HALL`
    return bool(words) and all(names.can_name(w, titled=titled) or w in ("of", "the", "and") for w in words)
