"""Sides, heights and openings held against what such things ordinarily are; the figures are data, in `ordinary.toml`."""

from __future__ import annotations

import tomllib
from collections.abc import Collection, Iterable, Iterator, Mapping
from functools import cache
from heapq import nlargest
from importlib.resources import files

from attrs import frozen

from darby.job.checks.check import Check, check, counted, several
from darby.job.model import Job, Room, Surface
from darby.job.openings import folded
from darby.quantities.amounts import Amount, leaves
from darby.text.spans import Span


@frozen(eq=False)
class Range:
    """What a measure ordinarily is."""

    of: str
    key: str
    least: int
    """In whole base units, as the most."""
    most: int
    told: Mapping[str, tuple[str, str]]
    """The same as it is written, by system of units."""


@cache
def _data() -> dict[str, object]:
    return tomllib.loads((files("darby.job.checks") / "ordinary.toml").read_text("utf-8"))


@cache
def ranges() -> Mapping[tuple[str, str], Range]:
    """What is ordinary, by what is measured and the key of its row."""
    found: dict[tuple[str, str], Range] = {}
    rows = _data()["ordinary"]
    assert isinstance(rows, list)
    for row in rows:
        told = {units: (row[units][0], row[units][1]) for units in ("us", "metric")}
        ends = [[_size(Amount.read(text)) for text in pair] for pair in told.values()]
        least, most = min(pair[0] for pair in ends), max(pair[1] for pair in ends)
        for key in row["keys"]:
            found[row["of"], key] = Range(row["of"], key, least, most, told)
    return found


@cache
def far_larger() -> int:
    """How many times the next largest of its kind a surface may be."""
    times = _data()["far_larger"]
    assert isinstance(times, int)
    return times


def unusual(job: Job, settled: Collection[str] = ()) -> Iterator[Check]:
    """Measures outside of what is ordinary, those that are alike together; not those of rows that are settled."""
    known = ranges()
    outside: dict[tuple[str, str, bool], list[tuple[Amount, str, Span]]] = {}
    for of, amount, name, span in _measured(job):
        usual = known.get((of, amount.label))
        if usual is None or usual.least <= (size := _size(amount)) <= usual.most:
            continue
        if folded(name) in settled:
            continue
        outside.setdefault((of, amount.label, size < usual.least), []).append((amount, name, span))
    for (of, key, small), found in outside.items():
        usual = known[of, key]
        amount, name, span = found[0]
        least, most = usual.told[job.units]
        what = f"{amount.step.origin.key} is {_as_written(amount)}"
        what += (
            f", and so {'is' if len(found) == 2 else 'are'} {counted(len(found) - 1, 'more', 'more')}"
            if len(found) > 1
            else ""
        )
        way_out = "Look for a wrong unit or a lost point." if small else "Look for a wrong unit or a digit too many."
        yield check(
            "measure-unusual", dict.fromkeys(n for _, n, _ in found),
            f"{what}: {key.replace('_', ' ')} of {'an' if of[0] in 'aeiou' else 'a'} {of} is ordinarily {least} to {most}",
            span, way_out, several(s for _, _, s in found[1:]),
        )  # fmt: skip


def far_apart(job: Job) -> Iterator[Check]:
    """One surface that is far larger than all others of its kind."""
    for kind in ("wall", "ceiling"):
        rows: dict[tuple[int, int], tuple[int, Surface]] = {}
        for surface in job.of_kind(kind):
            row, size = (id(surface.span.source), surface.span.start), _size(surface.area)
            if row not in rows or size > rows[row][0]:
                rows[row] = (size, surface)
        if len(rows) <= _FEW:
            continue
        (most, largest), (less, next_one) = nlargest(2, rows.values(), key=lambda one: one[0])
        if most > less * far_larger():
            yield check(
                "measure-far-larger", (largest.name, largest.room),
                f"{largest.name} is {largest.area}, more than {far_larger()} times the next largest {kind} ({next_one.name}, {next_one.area})",
                largest.span, "Look for a digit too many, or a total among the rows.", several([next_one.span]),
            )  # fmt: skip


_FEW = 3
"""Rows of a kind below which none stands out."""


def _size(amount: Amount) -> int:
    """An amount in whole base units, billionths of a metre: near enough, and quick where there are many."""
    value, factor = amount.value, amount.unit.factor
    return value.numerator * factor.numerator // (value.denominator * factor.denominator)


def _measured(job: Job) -> Iterator[tuple[str, Amount, str, Span]]:
    """Every measured number of the job once: what it is of, the number, the name of its row, and its place."""
    described = {room.name: room for room in job.rooms}
    seen: set[int] = set()
    for surface in job.surfaces:
        for amount in _sides(surface):
            if id(amount.step) not in seen:
                seen.add(id(amount.step))
                room = described.get(surface.room)
                yield _of(surface, room), amount, _row_name(surface, room), amount.step.origin.place or surface.span
        for opening in surface.openings:
            for amount in filter(None, (opening.width, opening.height, opening.reveal)):
                if id(amount.step) not in seen:
                    seen.add(id(amount.step))
                    yield "opening", amount, opening.name, amount.step.origin.place or opening.span
    for corner in job.corners:
        if id(corner.height.step) not in seen:
            seen.add(id(corner.height.step))
            yield "corner", corner.height, corner.room, corner.height.step.origin.place or corner.span


def _sides(surface: Surface) -> Iterable[Amount]:
    if surface.level and surface.length is not None and surface.height is not None and not surface.part:
        return (surface.length, surface.height)
    return leaves(surface.area)


def _of(surface: Surface, room: Room | None) -> str:
    """What a surface is a part of: the row of a room, a soffit, a column, or itself."""
    if room is not None and room.span == surface.span:
        return "room"
    return surface.part or surface.kind


def _row_name(surface: Surface, room: Room | None) -> str:
    return room.name if room is not None and room.span == surface.span else surface.name


def _as_written(amount: Amount) -> str:
    return amount.step.origin.text or amount.exact()
