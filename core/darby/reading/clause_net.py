"""A net below each clause: where reading one goes wrong, by a fault of Darby's own, that clause is told and the others keep their rules."""

from __future__ import annotations

import os
import traceback
from collections.abc import Mapping, Sequence
from typing import Any

from attrs import define, evolve, field

from darby.reading.account.ledger import Ledger, Number
from darby.reading.layout.clause import Clause
from darby.rules.rule import Rule
from darby.text.diagnostics import Diagnostic, Severity, problem
from darby.text.spans import Span

UNREAD = "its clause could not be read, by a fault of Darby's"
_HELP = (
    "Read it yourself, and write what it says as a plain line under rules in the job file. Please report it: DARBY_DEBUG=1 in "
    "front of the command shows the details."
)
_HELP_STRICT = "Write it in other words. Please report it: DARBY_DEBUG=1 in front of the command shows the details."
_BELOW = "It stands below a clause that could not be read, which may say where or whether it holds."
_QUOTED = 160


@define(eq=False)
class Net:
    """Takes back what a clause that failed had left behind, and tells the clause. What it holds grows while clauses are read."""

    strict: bool
    rules: list[Rule]
    diagnostics: list[Diagnostic]
    numbers: list[Number]
    words: list[Span]
    excepted: list[Any]
    torn: set[int] = field(factory=set)
    """The `id` of each clause that failed."""
    _before: tuple[int, ...] = ()

    @property
    def _held(self) -> tuple[list[Any], ...]:
        return self.rules, self.diagnostics, self.numbers, self.words, self.excepted

    def hold(self) -> None:
        """Remember what there is, before a clause is read."""
        self._before = tuple(map(len, self._held))

    def catch(self, error: Exception, clause: Clause) -> tuple[()]:
        """Take back all since `hold`, tell the clause as unread, and account for each of its numbers; what was found in it: nothing.

        In a text that must be understood whole it is an error.
        """
        if os.environ.get("DARBY_DEBUG"):
            traceback.print_exception(error)
        for some, before in zip(self._held, self._before, strict=True):
            del some[before:]
        whole = clause.view.whole
        said = " ".join(whole.text[: 2 * _QUOTED].split())
        shown = f"{said[:_QUOTED]}…" if len(said) > _QUOTED else said
        self.diagnostics.append(
            problem(
                "clause-failed",
                f"“{shown}” could not be read, by a fault of Darby's ({type(error).__name__}): it made no rule.",
                whole,
                severity=Severity.ERROR if self.strict else Severity.WARNING,
                help=_HELP_STRICT if self.strict else _HELP,
            )
        )
        Ledger(self.numbers).give_up(whole, UNREAD)
        self.torn.add(id(clause))
        return ()

    def doubt(self, clauses: Sequence[Clause], made: Mapping[int, Sequence[int]]) -> None:
        """Let rules wait to be confirmed whose clause stands below one that failed. `made` has which rules each clause made."""
        for clause in clauses if self.torn else ():
            if any(id(parent) in self.torn for parent in clause.parents):
                for at in made.get(id(clause), ()):
                    rule = self.rules[at]
                    self.rules[at] = rule if rule.confirm else evolve(rule, confirm=_BELOW)
