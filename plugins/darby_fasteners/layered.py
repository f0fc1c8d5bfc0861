"""The layers of a side, one by one from the innermost out: what holds one of them goes through all that lie below it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from attrs import frozen

from darby.api import Amount, Answer, Consultation, Course, Side, chosen
from darby_fasteners.counting import BASE, BOARD, FACE


@frozen(eq=False)
class Layered:
    """One layer of a side."""

    depth: Amount
    """How many layers its fasteners go through, itself among them."""
    one: Amount
    """The layer itself, as a factor."""
    about: Mapping[str, str]
    """What is asked of it beside its place: its `layer`, where it is not the only one."""


def layers_of(many: Amount) -> Iterator[Layered]:
    """So many layers, the face last. Of more than anybody hangs all below the face are one, fastened through as many."""
    if many.value <= 1:
        yield Layered(many, many, {})
        return
    face = Amount.of(1, label="face layer")
    below = (many - face).named("layers below the face")
    if many.value > _MOST or many.value.denominator != 1:
        yield Layered(below, below, {"layer": BASE})
    else:
        for depth in range(1, int(many.value)):
            yield Layered(Amount.of(depth), Amount.of(1, label="base layer"), {"layer": BASE})
    yield Layered(many, face, {"layer": FACE})


_MOST = 8
"""Layers on one side of anything that is built: common practice, with room to spare."""


def course_of(side: Side, layer: Layered) -> Course:
    """The course that a layer is one of."""
    left = layer.depth
    for course in side.courses:
        if left <= course.many:
            return course
        left = left - course.many
    return side.courses[-1]


def board_of(course: Course, book: Consultation) -> tuple[str, Answer | None]:
    """The type of the board of a course, by which a list of boards tells its sheet, and what says how thick it is.

    As the board itself is told: by what chooses its type, else by what its layers are of. Where nothing but a default says how thick that
    type is, it is as thick as any board there.
    """
    about, named = dict(course.about), course.said["type"]
    plain = book.book.ask("thickness", BOARD, about, take=("type",))
    typed = book.book.ask("thickness", BOARD, about | {"type": named}) if named else None
    listed = typed is not None and typed["type"] == named
    if listed and plain is not None and not book.book.outranks(course.said.rule, plain.rule, about):
        listed = False
    sort, choice = chosen("type", BOARD, (typed if listed else plain, course.said), about, book)
    own = book.book.ask("thickness", BOARD, about | {"type": sort}) if sort else None
    first = own is not None and (plain is None or own.layer >= plain.layer)
    return sort, own if own is not None and (listed or (choice is not None and first)) else plain
