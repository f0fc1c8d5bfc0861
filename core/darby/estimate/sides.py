"""What a surface is built up of: its sides, and on each side courses of layers, from the innermost out.

`one layer one side, two layers other side` makes two sides of a wall that differ; what is said of a base and of a face layer makes two
courses, each with goods of its own. What was there before takes no layers, unless somebody says that it does.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from attrs import evolve, frozen

from darby.estimate.areas import ACROSS, EACH, Place
from darby.job.model import Surface
from darby.quantities.amounts import Amount
from darby.rules.answer import Answer
from darby.rules.consultation import Consultation
from darby.rules.rule import HOUSE, Rule

ONE, OTHER = "one side", "other side"
"""Values of the scope key `where` that say of which side of a wall something is said."""
BASE, FACE = "base", "face"
"""Values of the scope key `layer`: what lies below, and what is seen."""


@frozen(eq=False)
class Course:
    """Layers of one sort on one side of a place."""

    about: Mapping[str, str]
    """What is asked about its goods: that of its place, its side and, where courses differ, its `layer`."""
    many: Amount
    """How many layers it has."""
    said: Answer
    """What says so."""


@frozen(eq=False)
class Side:
    """One side of a place, or all of it where its sides are alike, with its courses from the innermost out."""

    place: Place
    """The place, with the surfaces and faces that are on this side."""
    about: Mapping[str, str]
    """What is asked about it: that of the place and, where sides differ, `where`."""
    layers: Answer
    """What says how many layers it has."""
    courses: tuple[Course, ...]
    """From the innermost out."""
    notes: tuple[str, ...] = ()
    """What whoever checks it should know of it."""


def sides_on(place: Place, subject: str, book: Consultation) -> tuple[Side, ...]:
    """The sides of a place that take layers of a subject; none where it takes none. A silence becomes a question.

    Where sides differ and a wall is measured on one face alone, nobody knows which side it is: the one with more layers counts, and a
    note says so.
    """
    whole = _layers(place, subject, book, EACH)
    if in_place_of(subject, place, whole, book):
        return ()
    one, other = (_layers(place, subject, book, where) for where in (ONE, OTHER))
    if not (_own(one, ONE, whole) or _own(other, OTHER, whole)):
        return tuple(_side(place, place.surfaces, subject, book, EACH, whole, ()))
    given = {ONE: one if _own(one, ONE, whole) else whole, OTHER: other if _own(other, OTHER, whole) else whole}
    more, less = sorted(given, key=lambda where: _count(given[where]), reverse=True)
    both = [s for s in place.surfaces if s.faces.value > 1]
    single = [s for s in place.surfaces if s.faces.value <= 1 and s.side == 1]
    twins = [s for s in place.surfaces if s.side > 1]
    names = ", ".join(s.name for s in single)
    note = f"The sides of {names} differ and one face is measured: the side with more layers is counted. Which is it?"
    found = (
        *((where, _faces(both, where), ()) for where in (ONE, OTHER)),
        (more, single, (note,)),
        (less, twins, ()),
    )
    return tuple(
        side
        for where, surfaces, notes in found
        for side in _side(place, surfaces, subject, book, where, given[where], notes)
    )


def chosen(
    key: str, subject: str, described: Iterable[Answer | None], about: Mapping[str, str], book: Consultation,
    take: Iterable[str] = (),
) -> tuple[str, Answer | None]:  # fmt: skip
    """A property that documents choose with a word (`eggshell in offices`), with the answer that does; else the one by which answers
    of the subject are described (`two coats satin`), whichever is said later or of a narrower place.
    """
    said = next((answer for answer in described if answer is not None and answer[key]), None)
    choice = book.book.ask(key, subject, about, take=take)
    if choice is None or (said is not None and not book.book.outranks(choice.rule, said.rule, about)):
        return (said[key], None) if said is not None else ("", None)
    return choice.rule.choice, book.use(choice)


def in_place_of(subject: str, place: Place, said: Answer | None, book: Consultation, under: str = "") -> bool:
    """Whether documents put other goods in the place of a subject, and nothing that is said of the subject there outweighs that.

    `under` are goods that the subject goes on. A clause that puts others in the place of both is not about a place that has these by a
    narrower rule: `Den: one layer of ours. All others: theirs.` is such a clause. What a later document says of all such surfaces, and not of
    this place, puts ours on none that has others: `two coats on ceilings instead of one` is said of those that are coated.
    """
    other = book.book.ask("replaced", subject, place.about)
    if other is None or (said is not None and not _outweighs(other.rule, said.rule, place, book)):
        return False
    if under and _all_the_same(under, place, other, book):
        return False
    book.use(other)
    return True


def _outweighs(other: Rule, said: Rule, place: Place, book: Consultation) -> bool:
    if book.book.outranks(other, said, place.about):
        return True
    if _says_further(other, said) and not book.book.outranks(said, other, place.about):
        return True
    return not said.layer.estimators and book.book.narrower(other, said, place.about)


def _says_further(other: Rule, said: Rule) -> bool:
    """Whether a clause further on speaks of the very place that another gives a system to, as a remark that its row cites."""
    given = said.assigned
    if given is None or other.assigned is not None or other.span.source is not given.source:
        return False
    return other.span.start > given.end and other.span.line != given.line


def _all_the_same(under: str, place: Place, other: Answer, book: Consultation) -> bool:
    """Whether a place has goods that the same clause puts others in the place of."""
    both, built = (
        book.book.ask("replaced", under, place.about),
        book.book.ask("layers", under, place.about, take=("type",)),
    )
    if both is None or built is None or both.rule.span != other.rule.span:
        return False
    return bool(built.amount) and book.book.outranks(built.rule, both.rule, place.about)


def takes_new(place: Place, answer: Answer) -> bool:
    """Whether an answer holds on a place: on what was there before only where it is said of such places, or of this one surface."""
    return not place.existing or bool(answer["condition"] or answer["name"])


def _layers(place: Place, subject: str, book: Consultation, where: str) -> Answer | None:
    """How many layers; `at the store, two layers on each side` is said of the other face of its walls too, whatever room that is in."""
    about = {**place.about, "where": where}
    own = book.book.ask("layers", subject, about, take=("type",))
    if where != EACH or not (across := place.about.get(ACROSS)):
        return own
    there = book.book.ask("layers", subject, about | {"room": across}, take=("type",))
    if there is None or there["where"] != EACH or not there["room"]:
        return own
    return there if own is None or _further(there, own) else own


def _further(there: Answer, own: Answer) -> bool:
    """Whether what is said at the room across outweighs what holds on this face: said later, or here of no room."""
    if there.layer != own.layer:
        return there.layer > own.layer
    return "room" not in own.rule.scope


def _own(answer: Answer | None, where: str, whole: Answer | None) -> bool:
    """Whether one side has an answer of its own that what is said of both does not outweigh."""
    return answer is not None and answer["where"] == where and (whole is None or answer.layer >= whole.layer)


def _count(answer: Answer | None) -> Amount:
    return answer.amount if answer is not None else Amount.of(0)


def _faces(surfaces: Iterable[Surface], where: str) -> list[Surface]:
    return [evolve(s, name=f"{s.name}, {where}", faces=Amount.of(1, label=where)) for s in surfaces]


def _side(
    place: Place, surfaces: Sequence[Surface], subject: str, book: Consultation, where: str, layers: Answer | None,
    notes: tuple[str, ...],
) -> Iterator[Side]:  # fmt: skip
    about = {**place.about, "where": where} if where != EACH else dict(place.about)
    if not surfaces:
        return
    if layers is None:
        book.miss("layers", subject, {**about, "where": where})
        return
    if not takes_new(place, layers):
        return
    book.use(layers)
    if layers.amount:
        courses = tuple(_courses(about, subject, book, layers))
        yield Side(evolve(place, surfaces=tuple(surfaces)), about, layers, courses, notes)


def _courses(about: Mapping[str, str], subject: str, book: Consultation, layers: Answer) -> Iterator[Course]:
    """One course; or two where something is said of the base or of the face, and there are layers for both."""
    apart = [layer for layer in (BASE, FACE) if _said_of(layer, about, subject, book)]
    assumed = layers.layer <= HOUSE and len(apart) > 1
    if not apart or (layers.amount.value <= 1 and not assumed):
        yield Course(about, layers.amount, layers)
        return
    face = Amount.of(1, label="face layer")
    below = Amount.of(1, label="base layer") if assumed else (layers.amount - face).named("layers below the face")
    yield Course({**about, "layer": BASE}, below, layers)
    yield Course({**about, "layer": FACE}, face, layers)


def _said_of(layer: str, about: Mapping[str, str], subject: str, book: Consultation) -> bool:
    """Whether goods are said of one layer alone."""
    asked = {**about, "layer": layer}
    found = (book.book.ask(kind, subject, asked, take=("type",)) for kind in ("thickness", "type"))
    return any(answer is not None and answer["layer"] == layer for answer in found)
