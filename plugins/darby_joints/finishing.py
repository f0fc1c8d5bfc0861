"""The work of finishing joints and setting bead, as production rates name it and as it is measured."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Protocol

from darby.api import LENGTH, Amount, Deduct, Job, Operation, Piece, Place, Rule, Task, net_area, tasks_on, total
from darby_joints.levels import Finish

JOINTS = Operation(
    "finish joints",
    ("surface", "level", "height", "condition"),
    about="Taping, coating and sanding joints, angles and heads, over the net area of the face, whatever the level.",
)
BEADS = Operation("set corner bead", (), (LENGTH,), "Cutting and fastening bead, along the corners and not the sticks.")


class Face(Protocol):
    """Boarded surfaces whose joints are finished alike."""

    @property
    def place(self) -> Place:
        """Where they are."""
        ...

    @property
    def deduct(self) -> Deduct:
        """Which openings come out."""
        ...

    @property
    def finish(self) -> Finish:
        """How their joints are finished."""
        ...

    @property
    def rules(self) -> tuple[Rule, ...]:
        """The rules behind it."""
        ...


def finishing(faces: Iterable[Face], job: Job) -> Iterator[Task]:
    """Joints to be finished: the net area of every face, by its level."""
    pieces = []
    for face in faces:
        condition = face.place.about.get("condition", "")
        for surface in face.place.surfaces:
            about = {
                "surface": surface.kind,
                "level": face.finish.at,
                **({"condition": condition} if condition else {}),
            }
            pieces.append(Piece(surface, (net_area(surface, face.deduct),), about, face.rules))
    yield from tasks_on(JOINTS.name, pieces, job)


def beading(runs: Sequence[tuple[Amount, Amount, str]], units: str) -> Iterator[Task]:
    """Bead to be set: along the edges, each a length and how many of it."""
    if runs:
        lengths = ((length * count).named(label).in_system(units) for length, count, label in runs)
        yield Task(BEADS.name, (total(lengths, "edges with bead"),))
