"""The layers of a side, one by one from the innermost out: what holds one of them goes through all that lie below it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from attrs import frozen

from darby.api import Amount
from darby_fasteners.counting import BASE, FACE


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
