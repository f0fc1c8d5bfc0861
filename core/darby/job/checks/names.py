"""Names that are one letter off another of the same job: most likely one place, color or floor under two spellings."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator

from attrs import frozen

from darby.job.checks.check import Check, check
from darby.job.model import Job
from darby.text.diagnostics import Label
from darby.text.spans import Span

_DIGITS = re.compile(r"[0-9]+")
_LONGEST = 40
_MOST = 20_000
_SHORTEST = 4
"""Letters of a word in which one may be a slip; a letter that was exchanged takes one more."""


@frozen(eq=False)
class _Used:
    """A name in use: how often, and where first."""

    name: str
    often: int
    span: Span


def misspelled(job: Job) -> Iterator[Check]:
    """Rooms that no row describes and that are a letter off one that is described or oftener named; colors, floors and the like."""
    described = {room.name: room.span for room in job.rooms}
    rooms = Counter(s.room for s in job.surfaces if s.room)
    rooms.update(c.room for c in job.corners if c.room)
    at: dict[str, Span] = dict(described)
    for room, span in (*((s.room, s.span) for s in job.surfaces), *((c.room, c.span) for c in job.corners)):
        at.setdefault(room, span)
    for odd, right in _slips([_Used(n, _weight(n, rooms[n], described), at[n]) for n in {**rooms, **described}]):
        if odd.name not in described:
            yield _told("room", odd, right)
    values: dict[str, Counter[str]] = {}
    where: dict[tuple[str, str], Span] = {}
    for surface in job.surfaces:
        for key, text in surface.marks.items():
            values.setdefault(key, Counter())[text] += 1
            where.setdefault((key, text), surface.mark_places.get(key, surface.span))
    for one in job.rooms:
        for key, text in (("floor", one.called.floor), ("phase", one.called.phase)):
            if text:
                values.setdefault(key, Counter())[text] += 1
                where.setdefault((key, text), one.span)
    for key, found in values.items():
        for odd, right in _slips([_Used(text, often, where[key, text]) for text, often in found.items()]):
            yield _told(key, odd, right)


def _weight(name: str, often: int, described: Iterable[str]) -> int:
    """A name that a row describes outweighs any that none does."""
    return often + (1_000_000_000 if name in described else 0)


def _told(what: str, odd: _Used, right: _Used) -> Check:
    return check(
        "measure-name", (odd.name,), f"the {what} “{odd.name}” is one letter off “{right.name}”, and counts as another",
        odd.span, f"If they are one, write {right.name} in both places.", [Label(right.span, right.name)],
    )  # fmt: skip


def _slips(names: list[_Used]) -> Iterator[tuple[_Used, _Used]]:
    """Pairs of names a letter apart, the rarer one first. Digits have to be the same: Office 1 is not Office 2."""
    groups: dict[str, list[_Used]] = {}
    for one in names:
        groups.setdefault(_DIGITS.sub("#", " ".join(one.name.casefold().split())), []).append(one)
    near: dict[str, list[str]] = {}
    for pattern in list(groups)[:_MOST]:
        if len(pattern) <= _LONGEST:
            for key in {pattern, *(pattern[:at] + pattern[at + 1 :] for at in range(len(pattern)))}:
                near.setdefault(key, []).append(pattern)
    pairs = {
        (one, other) if one < other else (other, one)
        for found in near.values()
        for one in found[:_FEW]
        for other in found[:_FEW]
        if one != other
    }
    for first, second in sorted(pairs):
        if not one_letter_off(first, second):
            continue
        digits = {tuple(_DIGITS.findall(used.name)): used for used in groups[first]}
        for used in groups[second]:
            twin = digits.get(tuple(_DIGITS.findall(used.name)))
            if twin is not None and twin.often != used.often:
                odd, right = sorted((twin, used), key=lambda u: u.often)
                yield odd, right


_FEW = 8


def one_letter_off(one: str, other: str) -> bool:
    """Whether two names differ in one letter of one word that is long enough: one too many, another, or two exchanged."""
    words, others = one.split(), other.split()
    if len(words) != len(others):
        return False
    differ = [(a, b) for a, b in zip(words, others, strict=True) if a != b]
    if len(differ) != 1:
        return False
    a, b = sorted(differ[0], key=len)
    if len(a) < _SHORTEST or not (a + b).isalpha():
        return False
    at = next((n for n, (x, y) in enumerate(zip(a, b, strict=False)) if x != y), len(a))
    if len(a) == len(b):
        exchanged = a[at : at + 2] == b[at : at + 2][::-1] and a[at + 2 :] == b[at + 2 :]
        return exchanged or (len(a) > _SHORTEST and at > 0 and a[at + 1 :] == b[at + 1 :])
    return b[at + 1 :] == a[at:] and b != a + "s"
