"""Two lists held side by side: what of the one is what of the other, and all of both in one order."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Sequence
from typing import Generic, TypeVar

from attrs import frozen

T = TypeVar("T")


@frozen(eq=False)
class Slot(Generic[T]):
    """A place in the order of both lists; None on the side that has nothing there.

    `change` counts the changes from 0, and is None where both sides are the same.
    """

    before: T | None
    after: T | None
    change: int | None = None


def aligned(
    before: Iterable[T], after: Iterable[T], keys: Iterable[Callable[[T], Hashable]], same: Callable[[T, T], bool]
) -> tuple[Slot[T], ...]:
    """Both lists as one, in the order of `after`, with what is gone behind what it stood behind.

    Each of `keys` in turn pairs what has no partner yet and has one key, first with first; what has the key None waits for
    the next. Takes time in proportion to the length of the lists.
    """
    old, new = list(before), list(after)
    partner: dict[int, int] = {}
    taken: set[int] = set()
    for key in keys:
        _pair(old, new, key, partner, taken)
    of_old = {n: o for o, n in partner.items()}
    behind: dict[int | None, list[int]] = {}
    last: int | None = None
    for number in range(len(old)):
        if number in partner:
            last = partner[number]
        else:
            behind.setdefault(last, []).append(number)
    slots: list[Slot[T]] = []
    changes = 0

    def add(one: T | None, other: T | None) -> None:
        nonlocal changes
        if one is not None and other is not None and same(one, other):
            slots.append(Slot(one, other))
        else:
            slots.append(Slot(one, other, changes))
            changes += 1

    for gone in behind.get(None, ()):
        add(old[gone], None)
    for number, one in enumerate(new):
        add(old[of_old[number]] if number in of_old else None, one)
        for gone in behind.get(number, ()):
            add(old[gone], None)
    return tuple(slots)


def _pair(
    old: Sequence[T], new: Sequence[T], key: Callable[[T], Hashable], partner: dict[int, int], taken: set[int]
) -> None:
    """Pair what has one key, in order, of what has no partner yet."""
    waiting: dict[Hashable, list[int]] = {}
    for number in reversed(range(len(new))):
        if number not in taken and (found := key(new[number])) is not None:
            waiting.setdefault(found, []).append(number)
    if not waiting:
        return
    for number, one in enumerate(old):
        if number not in partner and (partners := waiting.get(key(one))):
            partner[number] = partners.pop()
            taken.add(partner[number])
