"""Levels of finish as coats over joints, angles and fastener heads: GA-214 / ASTM C840, the joints of level 3 from memory."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from attrs import frozen

from darby.api import DEFAULT, Amount, Answer, Consultation

BOARD, COMPOUND = "gypsum board", "joint compound"
USUAL = 4
"""The level whose coats are in a rate of the defaults."""


@frozen
class Coats:
    """Coats of compound at a level; the coat that holds the tape counts as one."""

    joints: int
    angles: int
    heads: int
    skim: bool = False


LEVELS: Mapping[int, Coats] = {
    0: Coats(0, 0, 0),
    1: Coats(1, 1, 0),
    2: Coats(1, 1, 1),
    3: Coats(2, 2, 2),
    4: Coats(3, 2, 3),
    5: Coats(3, 2, 3, skim=True),
}


@frozen(eq=False)
class Finish:
    """How the joints of a place are finished, and the answers that say so."""

    level: Answer | None
    coats: Answer | None
    """Coats over flat joints that are stated with no less weight than the level."""

    @property
    def answers(self) -> tuple[Answer, ...]:
        """The answers that say so."""
        return tuple(a for a in (self.level, self.coats) if a)

    @property
    def at(self) -> str:
        """The level, as documents number it; the usual one where nobody says."""
        return self.level.amount.exact() if self.level else str(USUAL)

    @property
    def none(self) -> bool:
        """Whether the joints are left as they are."""
        return self.level is not None and not self.level.amount

    @property
    def skim(self) -> bool:
        """Whether the whole face gets a skim coat."""
        return self._table.skim

    @property
    def _table(self) -> Coats:
        at = int(self.level.amount.value) if self.level else USUAL
        return LEVELS.get(at, LEVELS[USUAL])

    @property
    def joints(self) -> Fraction:
        """Coats over flat joints."""
        return self.coats.amount.value if self.coats else Fraction(self._table.joints)

    def share(self, use: Answer) -> Amount | None:
        """What part of a default rate this finish takes, each coat counted alike; None where it takes all of it.

        A rate that somebody stated is followed as it is: whoever states it knows the level.
        """
        usual = LEVELS[USUAL].joints
        if use.layer != DEFAULT or self.joints == usual:
            return None
        return Amount.of(self.joints / usual, label=f"coats over joints, of the {usual} in the rate")

    def told(self) -> str:
        """The coats in a sentence, without the skim coat."""
        table, level = self._table, self.level.amount.exact() if self.level else str(USUAL)
        joints = f"{_few(int(self.joints), 'coat')} over flat joints, the tape coat among them"
        if self.coats:
            return f"The documents ask for {joints}."
        return f"Level {level} is {joints}, {_few(table.angles, '')} over angles, {_few(table.heads, '')} over fastener heads."


def finish(about: Mapping[str, str], book: Consultation) -> Finish:
    """The finish of a place. Joints are finished for paint; a level for what is hidden or patched speaks of other board."""
    level = book.peek("finish level", BOARD, {**about, "where": "to be painted"})
    coats = book.book.ask("coats", COMPOUND, {**about, "where": "joint"})
    if coats is None or "where" not in coats.rule.scope or (level is not None and coats.layer < level.layer):
        return Finish(level, None)
    return Finish(level, book.use(coats))


def _few(number: int, noun: str) -> str:
    text = ("none", "one", "two", "three", "four", "five")[number] if number <= 5 else str(number)
    return f"{text} {noun}{'s' if noun and number != 1 else ''}".strip()
