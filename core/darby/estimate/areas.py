"""From measured surfaces to areas: surfaces that the rules do not tell apart, and openings taken out as a rule says."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from fractions import Fraction

from attrs import frozen

from darby.estimate.line_item import Aside
from darby.job.model import Opening, Surface
from darby.job.where import other_rooms
from darby.quantities.amounts import Amount, total
from darby.quantities.units import NUMBER_ONLY, times
from darby.rules.answer import Answer
from darby.rules.consultation import Consultation
from darby.rules.systems import GIVEN, asked_of

KIND = "deduct openings over"


@frozen(eq=False)
class Place:
    """Surfaces about which the rule book cannot answer differently, and what it is asked about them."""

    about: Mapping[str, str]
    """Scope keys and their values: `surface`, `room` and `name`, empty where no rule tells by them."""
    surfaces: tuple[Surface, ...]
    """One or more, all of one kind, in the order of the job."""

    @property
    def kind(self) -> str:
        """Kind of all of its surfaces."""
        return self.surfaces[0].kind

    @property
    def existing(self) -> bool:
        """Whether its surfaces were there before the work."""
        return _state(self.first) == _EXISTING

    @property
    def first(self) -> Surface:
        """The first surface, in whose words the place is told."""
        return self.surfaces[0]


def places(surfaces: Iterable[Surface], book: Consultation, kinds: Collection[str] = ()) -> tuple[Place, ...]:
    """Surfaces (of some kinds only, where given) put together where no rule tells them apart, in order of the job.

    A room counts where a rule speaks of it, and so does the name of a wall that is in none; a surface by its name where a rule is of it alone; marks tell places apart too. So a book is
    asked once for a thousand rooms that are all alike. What is asked about a place: `surface`, `room`, `name`, `condition` (`new` or `existing`) and
    `facing` (a word of its own name that rules tell walls by: `south`); and of a wall whose other face is in a room of which something is said
    for each side, that room as `across`.
    """
    met = _rooms_met(book)
    surfaces = tuple(surfaces)
    states = any("condition" in rule.scope for rule in book.book.rules) or any(_state(s) == _EXISTING for s in surfaces)
    parts = {rule.scope["surface"] for rule in book.book.rules if "surface" in rule.scope}
    alone = {_plain(rule.scope["name"]) for rule in book.book.rules if "name" in rule.scope}
    facing = {one for rule in book.book.rules for one in rule.scope.get("facing", "").split(" or ") if one}
    said = {rule.scope["room"] for rule in book.book.rules if rule.scope.get("where") == EACH and "room" in rule.scope}
    across = other_rooms(surfaces) if said else {}
    reached = {room for room in set(across.values()) if any(book.book.speaks_of(one, room) for one in said)}
    found: dict[tuple[object, ...], tuple[dict[str, str], list[Surface]]] = {}
    for surface in surfaces:
        if kinds and surface.kind not in kinds:
            continue
        rooms = met(surface.place)
        part, state = surface.part if surface.part in parts else "", _state(surface)
        name = surface.name if alone and _plain(surface.name) in alone else ""
        faces = " ".join(word for word in _plain(surface.name).split() if word in facing) if facing else ""
        other = across.get(id(surface), "") if across else ""
        if other not in reached:
            other = ""
        given = asked_of(*surface.systems) if surface.systems else None
        marks = tuple(sorted(surface.marks.items())) if surface.marks else ()
        key = (surface.kind, rooms, name, part, state, faces, other, given, marks)
        if key in found:
            found[key][1].append(surface)
            continue
        about = {"name": name, "surface": surface.kind, "room": surface.place if rooms else ""}
        told = {"part": part or None, "condition": state if states else None, GIVEN: given, "facing": faces or None}
        told[ACROSS] = other or None
        found[key] = ({**about, **{key: said for key, said in told.items() if said is not None}}, [surface])
    return tuple(Place(about, tuple(members)) for about, members in found.values())


ACROSS = "across"
"""The room that the other face of a wall is in, where something is said for each side of the walls of that room."""
EACH = "each side"


def rooms_told_apart(book: Consultation) -> Callable[[str], str]:
    """A function from a room to itself, or to the first room met that no rule tells from it; to nothing for a room that no
    rule speaks of.
    """
    met = _rooms_met(book)
    first: dict[tuple[str, ...], str] = {(): ""}
    return lambda room: first.setdefault(met(room), room)


def _rooms_met(book: Consultation) -> Callable[[str], tuple[str, ...]]:
    """A function from a room to what rules call it."""
    return book.book.said.met_by


_EXISTING = "existing"


def _state(surface: Surface) -> str:
    """Whether a surface is new work or was there before; new where the job does not say."""
    return _EXISTING if surface.marks.get("condition", "") == _EXISTING else "new"


def _plain(name: str) -> str:
    return " ".join(name.casefold().split())


@frozen(eq=False)
class Steps:
    """Openings ruled in steps: over `one` they come out of one face only, over `both` out of every face.

    Where the two faces are surfaces of their own, half of what comes out of one face comes out of either: nobody says that their reveals
    differ (IS 1200, Part 13, 3.2.1).
    """

    one: Answer
    both: Answer


Deduct = Answer | Steps | None
"""What the rule book says of `deduct openings over`; None where nothing is said and nothing comes out."""


def deduction(book: Consultation, subjects: Sequence[str], about: Mapping[str, str]) -> Deduct:
    """From what size openings come out: as said of the first subject, or with more weight of one after it.

    `Deduct openings over 0.5 m2.` beside `Deduct openings over 3 m2 on both faces.` makes steps: what is larger than the
    first comes out of one face only, what is larger than the second out of both, and then its reveals are added. A
    silence is asked of the last subject.
    """

    def strongest(about: Mapping[str, str]) -> Answer | None:
        found = [a for a in (book.book.ask(KIND, subject, about) for subject in subjects) if a]
        return max(found, key=lambda a: a.layer) if found else None

    one, both = strongest(about), strongest({**about, "where": "each side"})
    if one is None and both is None:
        return book.ask(KIND, subjects[-1], about)
    for answer in dict.fromkeys(a for a in (one, both) if a):
        book.use(answer)
    if one is None or both is None or one.rule is both.rule:
        return both or one
    return Steps(one, both)


def ruled_by(deduct: Deduct) -> tuple[Answer, ...]:
    """The answers behind a deduction, none to two of them."""
    if isinstance(deduct, Steps):
        return (deduct.one, deduct.both)
    return (deduct,) if deduct else ()


def net_area(surface: Surface, deduct: Deduct) -> Amount:
    """Area of all faces of a surface, less the openings that come out, with the reveals of those; never below zero.

    An area in `deduct` means that each opening larger than it, taken singly, comes out in full, through all faces. A
    share (0 % is "do not deduct openings") means that this share of every opening comes out. An opening that stays in
    stands for its own reveals, so they are added only where it comes out of every face.
    """
    out = openings_out(surface, deduct)
    if out is None:
        return surface.gross
    gross = surface.gross.named(f"{surface.name} with its openings")
    if out > gross:
        out = gross.named("its openings, which take up all of it")
    added = reveals_added(surface, deduct)
    if added is None:
        return (gross - out).named(surface.name)
    net = (gross - out).named(f"{surface.name} without its openings")
    return (net + added).named(surface.name)


def openings_out(surface: Surface, deduct: Deduct) -> Amount | None:
    """Area of the openings that come out, over all faces, in the unit of the surface; None where none does."""
    if deduct is None or not surface.openings:
        return None
    if isinstance(deduct, Steps):
        return _out_in_steps(surface, deduct)
    limit = deduct.amount
    taken = [o for o in surface.openings if _over(o, limit)]
    if not taken:
        return None
    holes = total((_hole(o, surface, surface.faces) for o in taken), _told(limit, surface))
    if limit.unit.dimension != NUMBER_ONLY:
        return holes
    return (holes.named(f"openings in {surface.name}") * limit).named(_told(limit, surface))


def comes_out(opening: Opening, deduct: Deduct, *, face: int = 1) -> bool:
    """Whether an opening comes out of one face of its surface, which has the side 1 or 2."""
    if isinstance(deduct, Steps):
        return _over(opening, deduct.both.amount) or (face == 1 and _over(opening, deduct.one.amount))
    return deduct is not None and _over(opening, deduct.amount)


def _out_in_steps(surface: Surface, deduct: Steps) -> Amount | None:
    one, both = deduct.one.amount, deduct.both.amount
    holes = []
    for opening in surface.openings:
        if _over(opening, both):
            holes.append(_hole(opening, surface, surface.faces))
        elif _over(opening, one) and surface.faced:
            half = Amount.of(Fraction(1, 2), label="of it out of either face, whose reveals are alike")
            holes.append(_hole(opening, surface, half))
        elif _over(opening, one) and surface.side == 1:
            holes.append(_hole(opening, surface, Amount.of(1, label="face only")))
    return total(holes, f"openings in {surface.name} that come out") if holes else None


def reveals_added(surface: Surface, deduct: Deduct) -> Amount | None:
    """Area of the reveals of the openings that come out of every face; None where there are none."""
    if surface.side != 1:
        return None
    limit = deduct.both.amount if isinstance(deduct, Steps) else deduct.amount if deduct else None
    shown = [
        (length * opening.reveal * opening.count)
        .to(surface.area.unit)
        .named(f"reveals of {opening.name} in {surface.name}")
        for opening in surface.openings
        if limit is not None and _over(opening, limit)
        if (length := opening.edges) is not None and opening.reveal is not None
    ]
    return total(shown, f"reveals in {surface.name}") if shown else None


REVEALS = Aside("Reveals", "Openings that are not deducted make up for their reveals, which are not added.")
"""What to say where `reveals_left`."""


def reveals_left(surfaces: Iterable[Surface], deduct: Deduct) -> bool:
    """Whether some opening with a reveal stays in and stands for it."""
    limit = deduct.both.amount if isinstance(deduct, Steps) else deduct.amount if deduct else None
    return any(
        o.reveal is not None and (limit is None or not _over(o, limit)) for s in surfaces for o in s.openings
    )  # fmt: skip


def _over(opening: Opening, limit: Amount) -> bool:
    """Whether an opening comes out: it is larger than an area, or any share of it does."""
    return limit.value > 0 if limit.unit.dimension == NUMBER_ONLY else opening.each > limit


def _hole(opening: Opening, surface: Surface, faces: Amount) -> Amount:
    area = opening.width * opening.height * opening.count * faces
    return area.to(surface.area.unit).named(f"{opening.name} in {surface.name}")


def _told(limit: Amount, surface: Surface) -> str:
    if limit.unit.dimension == NUMBER_ONLY:
        return f"openings in {surface.name} that come out"
    return f"openings {f'over {limit.exact()}' if limit else 'of any size'} in {surface.name}"


def pooled(
    surfaces: Iterable[Surface],
    deduct: Deduct | Callable[[Surface], Deduct] = None,
    label: str = "",
    *,
    units: str = "",
) -> Amount:
    """Net area of one or more surfaces together, in the usual area of `units` (`us` or `metric`).

    Where `units` is left out the first surface's own unit is used; surfaces measured otherwise are converted, each as a
    step of the working. `deduct` may be a function of the surface, since walls and ceilings may be ruled differently.
    Raises UnitError where there is no surface.
    """
    areas = (net_area(s, deduct(s) if callable(deduct) else deduct) for s in surfaces)
    return total((a.in_system(units) if units else a for a in areas), label)


def pieces(length: Amount, by: Amount) -> int:
    """How many pieces of the length `by` it takes to reach along a length, the last one cut. A count, not an order.

    Raises UnitError where the two are of different dimensions, ZeroDivisionError where `by` is nothing.
    """
    scale, one, other = times(length.unit, by.unit), length.value, by.value
    over = one.numerator * scale.numerator * other.denominator
    return -(-over // (one.denominator * scale.denominator * other.numerator))
